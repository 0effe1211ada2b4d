"""Chapter overfill: where the high-high alarm must stand, and whether it can come at all.

Three tests: the alarm lies within what can be measured, below the critical high level, and within what the loop
carries.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from onedatum.foundation.working import Entry
from onedatum.physics.loop import current_margin_A
from onedatum.physics.overfill import alarm_volume_m3, high_high_by_constant_area_m, high_high_level_m
from onedatum.study.desk import Desk, Sense, descending
from onedatum.study.loop import LoopChapter
from onedatum.study.signal import SignalChapter
from onedatum.study.stem import StemChapter
from onedatum.study.vessel import VesselChapter

ALARM_CARRIED = "alarm-carried"
CARRIES_ALARM = "the loop carries the high-high alarm", "HH can never come"
NOT_ABOVE = "HH is not above what can be measured", "HH lies above what can be measured"
NOT_BELOW = "HH is not below what can be measured", "HH lies below what can be measured"
CRITICAL_INSIDE = "CH lies inside the vessel", "CH lies above the inside top"
BELOW_END = "HH lies below the upper end of the measurement information", "HH lies above the measurement information"
ABOVE_END = "HH lies above the lower end of the measurement information", "HH lies below the measurement information"


@dataclass(frozen=True)
class OverfillChapter:
    """What the findings need of the alarm."""

    critical: Entry
    critical_current: Entry
    high_high: Entry
    high_high_current: Entry
    critical_below_end: bool | None
    """Whether the current of critical high lies below the end of what the loop and the information carry."""
    critical_above_end: bool | None
    """The same at the low end of the information, for a reverse acting range."""


def overfill_chapter(
    desk: Desk, vessel: VesselChapter, stem: StemChapter, signal: SignalChapter, loop: LoopChapter, level_u: Entry
) -> OverfillChapter:
    """Work the high-high alarm."""
    critical = desk.take(desk.case.overfill.CH, "mm")
    by_volume = _level_by_volume(desk, vessel, critical)
    high_high = desk.calc(
        "overfill.high_high",
        high_high_level_m,
        shown="mm",
        level_by_volume_m=by_volume,
        critical_high_m=critical,
        least_gap_m=desk.take(desk.case.overfill.least_gap, "mm"),
        allowance_m=desk.take(desk.case.overfill.level_allowance, "mm", none=0.0),
        level_uncertainty_m=level_u,
        foam_m=desk.take(desk.case.overfill.foam, "mm", none=0.0),
    )
    _by_constant_area(desk, vessel, critical)
    current = signal.current(desk, "overfill.high_high_current", high_high, "current at the high-high alarm")
    critical_current = signal.current(desk, "overfill.critical_current", critical, "current at the critical high level")
    below, above = _visible(desk, signal, loop, critical_current)
    _within_vessel(desk, vessel, stem, critical, high_high)
    _carried(desk, signal, loop, current)
    return OverfillChapter(critical, critical_current, high_high, current, below, above)


def _visible(desk: Desk, signal: SignalChapter, loop: LoopChapter, current: Entry) -> tuple[bool | None, bool | None]:
    """Whether the current of critical high lies below the upper end and above the lower end."""
    upper = signal.saturation_high
    if loop.last_level is not None and loop.last_current is not None:
        upper = loop.last_current
    meaning = "the current of the critical high level lies {}"
    below = desk.sheet.decide(
        "overfill.critical_below_end",
        "I_CH <= I_high",
        meaning.format("below the upper end"),
        I_CH=current,
        I_high=upper,
    )
    above = desk.sheet.decide(
        "overfill.critical_above_end",
        "I_CH >= I_low",
        meaning.format("above the lower end"),
        I_CH=current,
        I_low=signal.saturation_low,
    )
    return below, above


def _level_by_volume(desk: Desk, vessel: VesselChapter, critical: Entry) -> Entry:
    volume = vessel.volume(desk, "overfill.critical_volume", critical, "volume at the critical high level")
    alarm = desk.calc(
        "overfill.alarm_volume",
        alarm_volume_m3,
        shown="m3",
        meaning="volume at which the high-high alarm must come",
        critical_volume_m3=volume,
        **_filling(desk),
    )
    meaning = "level from which the filling just reaches the critical high level"
    return vessel.level(desk, "overfill.level_by_volume", alarm, meaning)


def _filling(desk: Desk) -> Mapping[str, Entry]:
    case = desk.case
    return {
        "fill_rate_m3_per_s": desk.take(case.overfill.fill_rate_max, "m3/h"),
        "response_time_s": desk.take(case.overfill.response, "min"),
        "damping_time_s": desk.take(case.instrument.damping_tau, "s", none=0.0),
        "scan_time_s": desk.take(case.instrument.scan, "s", none=0.0),
    }


def _by_constant_area(desk: Desk, vessel: VesselChapter, critical: Entry) -> None:
    area = vessel.shell_area
    if area is None:
        area = vessel.surface(desk, "overfill.critical_surface", critical, "surface at the critical high level")
    desk.calc(
        "comparison.high_high_by_constant_area",
        high_high_by_constant_area_m,
        shown="mm",
        meaning="high-high alarm as a sheet with one area for all heights would place it",
        critical_high_m=critical,
        area_m2=area,
        allowance_m=desk.take(desk.case.overfill.level_allowance, "mm", none=0.0),
        **_filling(desk),
    )


def _within_vessel(desk: Desk, vessel: VesselChapter, stem: StemChapter, critical: Entry, high_high: Entry) -> None:
    name, meaning = "overfill.margin_to_measurable", "from the alarm to the highest measurable level"
    desk.compare_heights("alarm-measurable", NOT_ABOVE, high_high, "at most", stem.highest, name, meaning, safety=True)
    name, meaning = "overfill.margin_above_measurable", "from the lowest measurable level to the alarm"
    desk.compare_heights("alarm-not-too-low", NOT_BELOW, high_high, "at least", stem.lowest, name, meaning, safety=True)
    name, meaning, top = "overfill.critical_to_inside_top", "from critical high to the inside top", vessel.inside_height
    desk.compare_heights("critical-inside", CRITICAL_INSIDE, critical, "at most", top, name, meaning, safety=True)


def _carried(desk: Desk, signal: SignalChapter, loop: LoopChapter, current: Entry) -> None:
    """The alarm's current against both ends of the measurement information, and against what the loop carries."""
    ends: tuple[tuple[str, tuple[str, str], Entry, Sense], ...] = (
        ("saturation_high", BELOW_END, signal.saturation_high, "at most"),
        ("saturation_low", ABOVE_END, signal.saturation_low, "at least"),
    )
    for end, words, edge, sense in ends:
        upper, lower = descending(current, sense, edge)
        margin = desk.calc(
            f"overfill.current_to_{end}",
            current_margin_A,
            shown="mA",
            meaning=f"current of the alarm, {sense} the end of the measurement information",
            limit_A=upper,
            value_A=lower,
        )
        desk.compare(f"alarm-{end}", words, current, sense, edge, margin, safety=True)
    loop.compare(desk, ALARM_CARRIED, CARRIES_ALARM, current, "high_high", "at the high-high alarm", safety=True)
