"""A watch of the stand-in for a plant, by the watch file that the stand-in itself writes."""

from __future__ import annotations

import asyncio
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from onedatum.jobs.standin import HART, MODBUS, OPC_UA
from onedatum.jobs.standin.links import LinkFault
from onedatum.jobs.standin.plan import Plan
from onedatum.jobs.standin.run import Standin
from onedatum.jobs.standin.tanks import Tank
from onedatum.jobs.standin.told import watch_file, write_watch_file
from onedatum.jobs.watch.kept import line_of
from onedatum.jobs.watch.made import followed, links, ports
from onedatum.logs.live.clock import OwnClock
from onedatum.logs.live.follower import CONFIRMED, Row, View
from onedatum.logs.live.plan_reader import read_plan
from onedatum.logs.live.sample import Reading, Sample
from onedatum.simulate import Held, Leg, Profile, Running
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
                (own,) = links(plan, ports(plan), OwnClock())
                for reading in range(CONFIRMED):  # the first and the second after a gap are not believed yet
                    now_s[0] = BEGIN_s + second + reading
                    await standin.step()
                    row = follower.take(await own.sample())
                await own.close()
                rows.append(row)
            return rows
        finally:
            await standin.stop()

    first, later, rubbish, after = asyncio.run(whole())
    for row, second in ((first, 0.0), (later, 100.0), (after, 200.0)):
        now_m = 0.5 + RISE_m_per_s * (second + CONFIRMED - 1)
        close(row.amount.level_m, now_m, 1e-6, "a current as a single float: 1e-7 of 2.7 m")
    assert rubbish.amount.level_m is None and (rubbish.doubt or rubbish.amount.state != "measuring")


@pytest.mark.parametrize("way", [MODBUS, OPC_UA, HART])
def test_a_current_held_at_its_failure_ends_the_level_at_once_over_every_way(tmp_path: Path, way: str) -> None:
    """NE 43: 3.6 mA and below is failure information. A level may be 10 min old, and this is no matter of age."""
    path, own, now_s = tmp_path / "watch.yaml", tank(), [BEGIN_s]
    own.running.faults.append(Held(0.0036, 10.0))

    async def whole() -> tuple[View, View, Row]:
        standin = Standin((own,), {way: 0}, clock=lambda: now_s[0])
        await standin.start()
        try:
            write_watch_file(standin, path)
            plan = read_plan(path)
            tag = replace(followed(plan).followers["LT-201"], stale_after_s=600.0)
            (link,) = links(plan, ports(plan), OwnClock())
            views = []
            for second in (0.0, 1.0, 2.0, 11.0):
                now_s[0] = BEGIN_s + second
                await standin.step()
                row = tag.take(await link.sample())
                views.append(tag.view(row.sample.time_us))
            await link.close()
            return views[2], views[3], row
        finally:
            await standin.stop()

    sound, failed, row = asyncio.run(whole())
    assert sound.standing == "good" and sound.amount is not None and sound.amount.level_m is not None
    assert failed.standing == ("no level" if way == OPC_UA else "no measurement"), "what is Bad comes without a value"
    assert failed.amount is not None and failed.amount.level_m is None and failed.last is not None
    assert not any(failed.amount.quantities.values()), "no quantity as of now"
    assert ("BadSensorFailure" in failed.remark) is (way == OPC_UA) and ("fault in itself" in row.doubt) is (
        way == HART
    )
    if way != OPC_UA:
        close(failed.amount.current_A, 0.0036, 1e-9, "a current as a single float")
        kept = line_of(row)
        assert kept["level_m"] is None and kept["value"] == pytest.approx(3.6, abs=1e-6)


# ---------------------------------------------------------------- what its watch file lets be believed


def judged(path: Path, running: Running, seconds: range, spoilt: dict[int, float] | None = None) -> list[str]:
    """What is doubted, reading by reading, by a watch of this tank as its watch file states it."""
    standin = Standin((Tank("LT-201", CASE, running),), {MODBUS: 15020})
    path.write_text(watch_file(standin, path), encoding="utf-8")
    follower = followed(read_plan(path)).followers["LT-201"]
    told_mA = [float(np.float32(1000.0 * running.at(each).current_A)) for each in seconds]
    for at, value_mA in (spoilt or {}).items():
        told_mA[at] = value_mA
    samples = [Sample("LT-201", each * 1_000_000, Reading(mA)) for each, mA in zip(seconds, told_mA, strict=True)]
    return [follower.take(sample).doubt for sample in samples]


def course(*legs: tuple[float, float], noise_m: float = 0.0005, repeats: bool = True) -> Running:
    profile = Profile(0.5, tuple(Leg(*leg) for leg in legs), repeats)
    return Running(instrument(FLOAT), profile, studied(FLOAT).safe.bands, seed=1, noise_m=noise_m)


@pytest.mark.parametrize("noise_m", [0.0, 0.005])
def test_a_sound_tank_is_believed_from_the_third_reading_on(tmp_path: Path, noise_m: float) -> None:
    """Fill, rest, draw, rest, over two courses: nothing is wrong, so nothing may be doubted."""
    tank = course((12.0, 2.4), (14.0, 2.4), (8.0, 0.5), (14.0, 0.5), noise_m=noise_m)
    doubts = judged(tmp_path / "watch.yaml", tank, range(100))
    assert [bool(each) for each in doubts] == [True, True] + [False] * 98


def test_what_this_tank_cannot_do_is_doubted(tmp_path: Path) -> None:
    """A number of the other end for one reading; a source that tells one value on and on; by hand: 1.9 m in 8 s."""
    path, tank = tmp_path / "watch.yaml", course((12.0, 2.4), (14.0, 2.4), (8.0, 0.5), (14.0, 0.5))
    doubts = judged(path, tank, range(60), {20: 4.5, **dict.fromkeys(range(40, 60), 12.0)})
    assert [at for at in range(2, 40) if doubts[at]] == [20, 21, 22] and "too fast" in doubts[20]
    assert "after a gap" in doubts[21] and "frozen" in doubts[55]
    text = path.read_text(encoding="utf-8")
    assert f"# The level goes at {1900 / 8:.3g} mm/s at most" in text
    (fastest,) = [float(line.split()[1]) for line in text.splitlines() if "fastest:" in line]
    assert 2 * 1900 / 8 < fastest < 4 * 1900 / 8


@pytest.mark.parametrize(
    ("tank", "said", "not_said"),
    [
        (course((60.0, 2.4), repeats=False, noise_m=0.0), "No frozen_after is stated", "frozen_after:"),
        (course((60.0, 2.4), repeats=False), "frozen_after: 10 s", "No frozen_after"),
        (
            Running(instrument(FLOAT), Profile(0.5, (Leg(9.0, 2.4),), True), studied(FLOAT).safe.bands),
            "No fastest is stated",
            "fastest:",
        ),
    ],
    ids=["rests at last without waves", "rests at last with waves", "goes back at once"],
)
def test_what_is_not_known_is_not_stated(tmp_path: Path, tank: Running, said: str, not_said: str) -> None:
    path = tmp_path / "watch.yaml"
    judged(path, tank, range(1))
    text = path.read_text(encoding="utf-8")
    assert said in text and not_said not in text
