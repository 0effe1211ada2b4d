"""A watch of the stand-in for a plant, by the watch file that the stand-in itself writes."""

from __future__ import annotations

import asyncio
from pathlib import Path

import pytest

from onedatum.jobs.standin import HART, MODBUS
from onedatum.jobs.standin.links import LinkFault
from onedatum.jobs.standin.plan import Plan
from onedatum.jobs.standin.run import Standin
from onedatum.jobs.standin.tanks import Tank
from onedatum.jobs.standin.told import write_watch_file
from onedatum.jobs.watch.made import followed, links, ports
from onedatum.logs.live.clock import OwnClock
from onedatum.logs.live.follower import Row
from onedatum.logs.live.plan_reader import read_plan
from onedatum.simulate import Leg, Profile, Running
from tests.closeness import close
from tests.house.tree import ROOT
from tests.simulate.instruments import FLOAT, instrument, studied

CASE = ROOT / "examples" / f"{FLOAT}.yaml"
BEGIN_s, RISE_m_per_s = 1000.0, 0.001


def tank() -> Tank:
    """From 0.5 m on a millimetre a second."""
    return Tank(
        "LT-201", CASE, Running(instrument(FLOAT), Profile(0.5, (Leg(1900.0, 2.4),)), studied(FLOAT).safe.bands)
    )


@pytest.mark.parametrize("way", [MODBUS, HART])
def test_levels_follow_the_simulated_tank_and_rubbish_is_unknown(tmp_path: Path, way: str) -> None:
    path = tmp_path / "watch.yaml"
    now_s = [BEGIN_s]
    garbage = Plan((LinkFault("garbage", 150.0, 10.0, way),))

    async def whole() -> list[Row]:
        standin = Standin((tank(),), {way: 0}, garbage, 1.0, seed=3, clock=lambda: now_s[0])
        await standin.start()
        try:
            write_watch_file(standin, path)
            plan = read_plan(path)
            follower = followed(plan).followers["LT-201"]
            rows = []
            for second in (0.0, 100.0, 155.0, 200.0):
                now_s[0] = BEGIN_s + second
                await standin.step()
                (own,) = links(plan, ports(plan), OwnClock())
                rows.append(follower.take(await own.sample()))
                await own.close()
            return rows
        finally:
            await standin.stop()

    first, later, rubbish, after = asyncio.run(whole())
    for row, second in ((first, 0.0), (later, 100.0), (after, 200.0)):
        close(row.amount.level_m, 0.5 + RISE_m_per_s * second, 1e-6, "a current as a single float: 1e-7 of 2.7 m")
    assert rubbish.amount.level_m is None and (rubbish.doubt or rubbish.amount.state != "measuring")
