"""Whether an alarm can come where it stands: within what can be measured, below critical high, carried by the loop."""

from __future__ import annotations

from onedatum.foundation.working import Entry
from onedatum.study.apart import CURRENTS
from onedatum.study.desk import Desk, Sense
from onedatum.study.loop import LoopChapter
from onedatum.study.overfill.levels import Ceiling
from onedatum.study.reach import Reach
from onedatum.study.signal import SignalChapter
from onedatum.study.vessel import VesselChapter

ALARM_CARRIED = "alarm-carried"
CARRIES_ALARM = "the loop carries the high-high alarm", "HH can never come"
NOT_ABOVE = "HH is not above what can be measured", "HH lies above what can be measured"
NOT_BELOW = "HH is not below what can be measured", "HH lies below what can be measured"
CRITICAL_INSIDE = "CH lies inside the vessel", "CH lies above the inside top"
BELOW_END = "HH lies below the upper end of the measurement information", "HH lies above the measurement information"
ABOVE_END = "HH lies above the lower end of the measurement information", "HH lies below the measurement information"
IN_TIME = "{0} as set leaves the time to stop the filling", "{0} is set too high to stop the filling in time"


def in_time(desk: Desk, ceiling: Ceiling, key: str) -> None:
    """Whether a set-point as it is set stands no higher than it may."""
    if ceiling.as_set is None:
        return
    holds, fails = (words.format(ceiling.name) for words in IN_TIME)
    meaning = f"height of {ceiling.name} as set below the highest place for it"
    name = f"overfill.set_points.{ceiling.name}.margin"
    desk.compare_apart(key, (holds, fails), ceiling.as_set, "at most", ceiling.highest, name, meaning, safety=True)


def in_order(desk: Desk, alarm: Ceiling, stop: Ceiling | None) -> None:
    """Whether H, HH and the automatic stop stand above one another where they stand, as set or as worked."""
    high = desk.case.overfill.set_points.H
    pairs = [("H", desk.take(high, "mm"), "HH", alarm.stands)] if high.known else []
    if stop is not None:
        pairs.append(("HH", alarm.stands, "AOPS", stop.stands))
    for below, low, above, top in pairs:
        words = f"{below} stands below {above}", f"{below} stands above {above}"
        name, meaning = f"overfill.{below}_below_{above}", f"height of {above} above {below}"
        desk.compare_apart(f"alarm-order-{below}", words, low, "at most", top, name, meaning, safety=True)


def within_reach(desk: Desk, reach: Reach, alarm: Entry) -> None:
    """The alarm within what can be measured."""
    name, meaning = "overfill.margin_to_measurable", "from the alarm to the highest measurable level"
    desk.compare_apart("alarm-measurable", NOT_ABOVE, alarm, "at most", reach.highest, name, meaning, safety=True)
    name, meaning = "overfill.margin_above_measurable", "from the lowest measurable level to the alarm"
    desk.compare_apart("alarm-not-too-low", NOT_BELOW, alarm, "at least", reach.lowest, name, meaning, safety=True)


def within_vessel(desk: Desk, vessel: VesselChapter, critical: Entry) -> None:
    """Critical high within the vessel."""
    name, meaning, top = "overfill.critical_to_inside_top", "from critical high to the inside top", vessel.inside_height
    desk.compare_apart("critical-inside", CRITICAL_INSIDE, critical, "at most", top, name, meaning, safety=True)


def carried(desk: Desk, signal: SignalChapter, loop: LoopChapter, current: Entry) -> None:
    """The alarm's current against both ends of the measurement information, and against what the loop carries."""
    ends: tuple[tuple[str, tuple[str, str], Entry, Sense], ...] = (
        ("saturation_high", BELOW_END, signal.saturation_high, "at most"),
        ("saturation_low", ABOVE_END, signal.saturation_low, "at least"),
    )
    for end, words, edge, sense in ends:
        name, meaning = (
            f"overfill.current_to_{end}",
            f"current of the alarm, {sense} the end of the measurement information",
        )
        desk.compare_apart(f"alarm-{end}", words, current, sense, edge, name, meaning, by=CURRENTS, safety=True)
    loop.compare(desk, ALARM_CARRIED, CARRIES_ALARM, current, "high_high", "at the high-high alarm", safety=True)


def visible(desk: Desk, signal: SignalChapter, loop: LoopChapter, current: Entry) -> tuple[bool | None, bool | None]:
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
