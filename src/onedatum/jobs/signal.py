"""The signal to expect when the level is known.

Beyond the levels that the instrument can tell, its reading stops: a float rests, a probe ends, a tap is passed. There
the signal is that of the end (`at_rest`), and the level is a bound.
"""

from __future__ import annotations

from typing import Any

from onedatum.case.change import with_clock, with_level, with_rate
from onedatum.case.reading import Statement
from onedatum.foundation.constants import VERSION
from onedatum.foundation.errors import Fault, QuantityError
from onedatum.foundation.units import read_quantity
from onedatum.foundation.working import Entry
from onedatum.jobs.cut import cut
from onedatum.physics.loop import signal_state, state_meanings
from onedatum.study.cautions import CAUTIONS
from onedatum.study.form import entry_json, fault_json, forecasts_json
from onedatum.study.legs import level_of
from onedatum.study.result import Study
from onedatum.study.study import study
from onedatum.verdicts import Verdict

EXPECTED = (
    "level_now",
    "signal.current_shown",
    "signal.test_voltage",
    "signal.span_share",
    "quantity.table_volume",
    "quantity.mass",
    "quantity.pure_alcohol",
    "quantity.gross_standard_volume",
)
SENT = ("signal.current_shown", "signal.test_voltage", "signal.span_share")
"""What leaves the instrument."""


def expected(found: Study) -> tuple[str, ...]:
    """The entries that a signal tells, with what chamber and legs then hold."""
    chamber, legs = found.measuring.chamber, found.measuring.legs
    beside = [each.name for each in ((chamber.in_chamber if chamber else None), (legs.now if legs else None)) if each]
    return tuple(name for name in (*EXPECTED[:1], *beside, *EXPECTED[1:]) if name in found.sheet)


def signal_of_difference(statement: Statement, pressure: str) -> Study | Fault:
    """The study of a case whose legs feel a difference of pressures: its level put in for the level now."""
    legs, said = study(statement).measuring.legs, "--pressure"
    if legs is None:
        return Fault(said, "left away for a case without legs", pressure, "state what fills them under legs")
    try:
        felt = read_quantity(pressure, "pressure difference")
    except QuantityError as error:
        return Fault(said, error.allowed, error.got, error.why, remedy=error.remedy)
    level = level_of(legs, felt)
    if level is None:
        return Fault(said, "read by legs of which everything is known", pressure, "see the questions of the case")
    return study(with_level(statement, f"{1e3 * level:.2f} mm", said))


def signal_at(statement: Statement, level: str, rate: str | None = None, clock: str | None = None) -> Study:
    """The study of a case with another level put in for the level now, and a filling rate and time of day with it."""
    statement = with_level(statement, level, "--level")
    if rate is not None:
        statement = with_rate(statement, rate, "--rate")
    if clock is not None:
        statement = with_clock(statement, clock, "--at")
    return study(statement)


def at_rest(found: Study) -> Study | None:
    """The study of the level at which the reading stops; None where the level now is one that it can tell."""
    level, reach = found.sheet["level_now"].value, found.measuring.levels
    if level is None or reach is None:
        return None
    low, high = reach.now_lowest.value, reach.now_highest.value
    if low is None or high is None or not low < high or low <= level <= high:
        return None
    return study(with_level(found.statement, f"{1e3 * min(max(level, low), high):.4f} mm", "--level"))


def entry_of(found: Study, rest: Study | None, name: str) -> Entry:
    """A number of the expected signal: what is felt and sent is that of the level at which the reading stops."""
    if rest is None:
        return found.sheet[name]
    legs = rest.measuring.legs
    felt = (*SENT, *((legs.now.name,) if legs is not None and legs.now is not None else ()))
    return (rest if name in felt and name in rest.sheet else found).sheet[name]


def signal_json(found: Study, rest: Study | None = None) -> dict[str, Any]:
    """The expected signal in its JSON form."""
    return {
        "tool_version": VERSION,
        "tag": found.statement.case.tag.text,
        "numbers": [entry_json(entry_of(found, rest, name)) for name in expected(found)],
        "state": signal_word(rest or found),
        "forecast": forecasts_json(found),
        "remarks": signal_remarks(found, rest),
        "reliable": is_reliable(rest or found),
        "faults": [fault_json(fault) for fault in found.faults],
        "cautions": list(CAUTIONS),
    }


def signal_word(found: Study) -> str:
    """What the current tells by the bands of the receiver: measuring, or what it is instead."""
    current = found.sheet["signal.current_shown"].value
    if current is None:
        return "unknown"
    return state_meanings()[signal_state(current, found.safe.bands)].meaning


def forecast_lines(found: Study) -> list[str]:
    """At this rate, when each level is reached."""
    return [
        f"at this rate {each.name} at {each.clock or 'an unknown time'} ({cut(each.time, 'min', 1)} from now)"
        if each.time.value is not None and each.time.value >= 0.0
        else f"{each.name} is passed already"
        for each in (found.safe.overfill.forecasts if found.safe.overfill is not None else ())
        if each.time.known
    ]


def is_reliable(found: Study) -> bool:
    """Whether the loop carries the current of this level."""
    checks = (check for check in found.checks if check.key == "carries-level")
    return all(check.verdict is not Verdict.DOES_NOT_SUIT for check in checks)


def signal_text(found: Study, name: str, rest: Study | None = None) -> str:
    """A number of the expected signal in words; no current is promised beyond the end of the loop."""
    if not is_reliable(rest or found) and name in ("signal.current_shown", "signal.test_voltage"):
        return "no reliable signal"
    return entry_of(found, rest, name).text


def signal_remarks(found: Study, rest: Study | None = None) -> list[str]:
    """What must be said beside the signal: where it is not to be trusted."""
    sheet = (rest or found).sheet
    current, shown = sheet["signal.current"], sheet["signal.current_shown"]
    remarks = []
    if current.known and current.value != shown.value:
        remarks.append(f"the current stays at {shown.text}: the level lies beyond the measurement information")
    last = sheet.entries.get("loop.last_good_current")
    if last is not None and last.value is not None and shown.value is not None and shown.value > last.value:
        remarks.append(f"no reliable signal above {last.text}: the loop leaves the transmitter too little voltage")
    remarks += [finding.title for finding in found.findings if finding.key == "level-passed"]
    return remarks + _beyond_reach(found) + _resting(found, rest)


def _resting(found: Study, rest: Study | None) -> list[str]:
    """Where the reading has stopped, and what its signal then says of the level."""
    level, reach = found.sheet["level_now"].value, found.measuring.levels
    if rest is None or level is None or reach is None or reach.now_lowest.value is None:
        return []
    is_low = level < reach.now_lowest.value
    end, side = (reach.now_lowest, "at or below") if is_low else (reach.now_highest, "at or above")
    bound = _bound(found, end, is_low)
    if bound is end:
        return [f"the reading stops at {end.text}: this is the signal of that level, and tells a level {side} it"]
    return [f"the reading stops at {end.text}, its current before that: it tells a level {side} {bound.text}"]


def _bound(found: Study, end: Entry, is_low: bool) -> Entry:
    """The nearest of the levels from which on the signal is the same: where the reading stops, or the current does."""
    lower, upper = found.value("range.4 mA"), found.value("range.20 mA")
    if lower is None or upper is None:
        return end
    high = ("range.level_at_saturation_high", "loop.last_good_level")
    names = ("range.level_at_saturation_low",) if (lower < upper) is is_low else high
    known = {each.value: each for each in (end, *(found.sheet.entries.get(name) for name in names)) if each is not None}
    levels = [each for each in known if each is not None]
    return known[max(levels) if is_low else min(levels)] if levels else end


def _beyond_reach(found: Study) -> list[str]:
    """Whether the level can be measured; that no instrument is chosen, where none is."""
    level, reach = found.sheet["level_now"].value, found.measuring.levels
    if reach is None:
        return ["no instrument is chosen: this is the straight line of the range; whether it can be measured is open"]
    low, high = reach.lowest.value, reach.highest.value
    if level is None or low is None or high is None or low <= level <= high:
        return []
    who = "it cannot be measured" if found.detail is None else "the float cannot follow"
    return [f"{who} there: levels are measurable from {reach.lowest.text} to {reach.highest.text}"]
