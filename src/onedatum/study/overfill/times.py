"""How long there is: from every level of concern to critical high at the highest rate, and from now at the rate now."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from onedatum.case.clock import is_clock
from onedatum.foundation.working import Entry
from onedatum.physics.overfill import time_to_level_s
from onedatum.study.desk import Desk
from onedatum.study.vessel import VesselChapter

MINUTE_S, HOUR_MIN, DAY_MIN = 60.0, 60, 1440


@dataclass(frozen=True)
class Passing:
    """A level, and how long the filling takes from it to critical high at the highest rate."""

    name: str
    level: Entry
    time: Entry


@dataclass(frozen=True)
class Forecast:
    """A level, how long the filling takes from the level now at the rate now, and the time of day by then."""

    name: str
    level: Entry
    time: Entry
    clock: str
    """Hours and minutes, with the days in between; "" where no time of day is stated or the level is passed."""


def times_to_critical(
    desk: Desk, vessel: VesselChapter, critical: Entry, levels: Sequence[tuple[str, Entry]]
) -> tuple[Passing, ...]:
    """How long each level leaves to critical high at the highest filling rate."""
    rate, full = desk.take(desk.case.overfill.fill_rate_max, "m3/h"), desk.sheet["overfill.critical_volume"]
    found = []
    for name, level in levels:
        volume = vessel.volume(desk, f"overfill.volume_at[{name}]", level, f"volume at {name}")
        time = desk.calc(
            f"overfill.time_to_critical[{name}]",
            time_to_level_s,
            shown="min",
            meaning=f"time from {name} to critical high at the highest filling rate",
            volume_to_m3=full,
            volume_from_m3=volume,
            fill_rate_m3_per_s=rate,
        )
        found.append(Passing(name, level, time))
    return tuple(found)


def forecast(
    desk: Desk, vessel: VesselChapter, now: Entry, levels: Sequence[tuple[str, Entry]]
) -> tuple[Forecast, ...]:
    """When the filling reaches each level at the rate now; empty where no rate now is stated."""
    stated, clock = desk.case.overfill.fill_rate_now, desk.case.overfill.clock
    desk.read.add(clock.path)
    if not stated.known or not now.known:
        return ()
    rate = desk.take(stated, "m3/h")
    begin = vessel.volume(desk, "overfill.volume_now", now, "volume at the level now")
    found = []
    for name, level in levels:
        end = vessel.volume(desk, f"overfill.forecast_volume[{name}]", level, f"volume at {name}")
        time = desk.calc(
            f"overfill.forecast[{name}]",
            time_to_level_s,
            shown="min",
            meaning=f"time from now to {name} at the filling rate now",
            volume_to_m3=end,
            volume_from_m3=begin,
            fill_rate_m3_per_s=rate,
        )
        found.append(Forecast(name, level, time, _clock(clock.text if clock.known else "", time.value)))
    return tuple(found)


def _clock(start: str, after_s: float | None) -> str:
    """The time of day some seconds after a start as hh:mm; down to the minute, so it never promises too much time."""
    hours, _, minutes = start.partition(":")
    if not is_clock(start) or after_s is None or after_s < 0.0:
        return ""
    total = int(hours) * HOUR_MIN + int(minutes) + int(after_s // MINUTE_S)
    days, rest = divmod(total, DAY_MIN)
    shown = f"{rest // HOUR_MIN:02d}:{rest % HOUR_MIN:02d}"
    return shown if days == 0 else f"{shown}, {days} day{'s' if days > 1 else ''} later"
