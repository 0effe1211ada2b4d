"""A tank that is filled and emptied, its gauge, dips and movements as a log would hold them, with one fault put in.

Drawn from a seed. The level follows from the movements by the tank table of the case; the fault is added after that, to
the level or to what is written of it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pyarrow as pa
from scipy.signal import lfilter

from onedatum.case.reading import read_case
from onedatum.foundation.numerics import Reals
from onedatum.jobs.review import tank_of
from onedatum.logs.converter import Converter
from onedatum.logs.kernel import convert
from onedatum.logs.mapping import LogMapping
from onedatum.logs.review.bench import Bench, asked_times, cuts_of
from onedatum.logs.review.beside import Dip, Movement
from onedatum.logs.review.finding import Judged
from onedatum.logs.review.judge import judge
from onedatum.logs.review.limits import setting
from onedatum.logs.review.seen import Pass
from onedatum.study.study import study

CASE = Path(__file__).resolve().parent.parent / "examples" / "spirit_receiver.yaml"
START_s = 1_772_323_200
DAY_s = 86_400
NOISE_m, CORRELATION, GRAIN_m, WAVE_m = 5e-4, 0.3, 1e-4, 1e-3
LOW_m, HIGH_m = 0.55, 2.0
BATCH = 131_072


@dataclass(frozen=True)
class Drawn:
    """A log before it is written: arrays by row, and what stands beside it."""

    time_s: Reals
    true_m: Reals
    noise_m: Reals
    value_mA: Reals | None = None
    emptied: Reals = field(default_factory=lambda: np.zeros(0))
    shown_m: Reals = field(default_factory=lambda: np.zeros(0))
    dips: tuple[Dip, ...] = ()
    movements: tuple[Movement, ...] = ()

    def told(self, **changed: Any) -> Drawn:
        """The same with something else."""
        return replace(self, **changed)


Fault = Callable[[Drawn, float, np.random.Generator], Drawn]


@cache
def made() -> tuple[Any, Converter]:
    """The case, and the converter for seconds and levels or currents."""
    found = study(read_case(CASE))
    mapping = LogMapping(time="t", form="seconds since 1970", zone="", value="v", unit_column="u")
    return found, Converter.of([found], mapping)


def drawn(seed: int, days: float, interval_s: int = 60) -> Drawn:
    """A sound log of so many days."""
    random = np.random.default_rng(seed)
    found, converter = made()
    tank = tank_of(found, converter)
    time_s = np.arange(0.0, days * DAY_s, interval_s)
    flow = np.zeros(len(time_s))
    volume = float(tank.volume_m3(random.uniform(0.9, 1.6)))
    low, high = float(tank.volume_m3(LOW_m)), float(tank.volume_m3(HIGH_m))
    movements, emptied, is_out = [], np.zeros(len(time_s)), 0.0
    stock = volume
    for day in range(int(np.ceil(days))):
        for hour, usual in ((random.uniform(6, 9), 1.0), (random.uniform(14, 17), -1.0)):
            amount = usual * random.uniform(0.12, 0.30) * (high - low)
            amount = float(np.clip(stock + amount, low, high) - stock)
            if abs(amount) < 0.05:
                continue
            begin, last = day * DAY_s + hour * 3600.0, random.uniform(1800.0, 5400.0)
            within = np.clip((time_s - begin) / last, 0.0, 1.0)
            flow += amount * within
            is_out = float(amount < 0.0)
            emptied[time_s >= begin] = is_out
            counted = amount * (1.0 + random.uniform(-0.003, 0.003))
            begin_us, end_us = (round((START_s + at) * 1e6) for at in (begin, begin + last))
            if begin + last < days * DAY_s:
                movements.append(Movement(begin_us, end_us, counted, 0.003 * abs(amount)))
            stock += amount
    true = tank.level_m(volume + flow) + WAVE_m * np.sin(2.0 * np.pi * time_s / DAY_s)
    white = random.standard_normal(len(time_s)) * NOISE_m * np.sqrt(1.0 - CORRELATION**2)
    noise = lfilter([1.0], [1.0, -CORRELATION], white)
    dips = _dips(random, days, time_s, true)
    return Drawn(time_s, true, noise, None, emptied, true + noise, dips, tuple(movements))


def _dips(random: np.random.Generator, days: float, time_s: Reals, true_m: Reals) -> tuple[Dip, ...]:
    """One a day, half of them before noon and half in the evening, while the level rests."""
    found = []
    for day in range(int(days)):
        hour = random.uniform(11.0, 13.5) if random.random() < 0.5 else random.uniform(19.0, 23.0)
        at = day * DAY_s + hour * 3600.0
        if at < time_s[-1]:
            level = float(np.interp(at, time_s, true_m)) + random.uniform(-0.002, 0.002)
            found.append(Dip(round((START_s + at) * 1e6), round(level, 3), 0.002))
    return tuple(found)


def reviewed(log: Drawn) -> tuple[Judged, Bench]:
    """The review of a log, without files."""
    found, converter = made()
    seeing = Pass(converter.mapping, asked_times(log.dips, log.movements), setting("spike_limit"))
    after: dict[str, int] = {}
    shown = np.round(np.round(log.shown_m / GRAIN_m) * GRAIN_m * 1e3, 6)
    is_current = np.zeros(len(shown), dtype=bool) if log.value_mA is None else np.isfinite(log.value_mA)
    values = shown if log.value_mA is None else np.where(is_current, log.value_mA, shown)
    for start in range(0, len(shown), BATCH):
        part = slice(start, start + BATCH)
        batch = pa.RecordBatch.from_pydict(
            {
                "t": pa.array(np.round(log.time_s[part] + START_s).astype(np.int64)),
                "v": pa.array(values[part]),
                "u": pa.array(np.where(is_current[part], "mA", "mm").tolist(), pa.string()),
            }
        )
        converted, rejected = convert(batch, converter, converter.mapping, after)
        if converted.num_rows:
            after[converted.column("tag")[0].as_py()] = int(converted.column("time")[converted.num_rows - 1].value)
        seeing.add(converted, rejected)
    bench = Bench(
        seeing.done(),
        tank_of(found, converter),
        log.dips,
        log.movements,
        tuple(cuts_of(log.movements)),
        bool(log.dips),
        bool(log.movements),
    )
    return judge(bench), bench
