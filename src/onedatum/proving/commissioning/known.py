"""Known levels: a dip and what was read at it; what makes them of no use."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from onedatum.foundation.errors import Fault
from onedatum.foundation.units import SYSTEMS, show
from onedatum.study.result import Study

MOST = 2
MET_M = 1e-9
"""Two levels nearer than this are one."""


@dataclass(frozen=True)
class Known:
    """One known level and what was read at it, in SI; a digit is that to which it was read."""

    text: str
    dip_m: float
    dip_digit_m: float
    shown_m: float
    """The level that range or scale of the case make of the reading."""
    current_A: float | None = None
    digit_A: float = 0.0
    capacitance_F: float | None = None
    digit_m: float = 0.0
    """Digit of a reading of the sensor itself, as a level."""
    digital_m: float | None = None
    """The level that the instrument tells digitally, where it was read too."""
    digital_digit_m: float = 0.0


@dataclass(frozen=True)
class Within:
    """How well dip and meter are known: half-widths, none where they are not stated."""

    dip_m: float | None = None
    meter_A: float | None = None


def faults_of(found: Study, known: Sequence[Known], said_as: str = "--known") -> tuple[Fault, ...]:
    """What makes known levels of no use: too many, the same, not measurable, of two kinds, readings that agree."""
    if not 1 <= len(known) <= MOST:
        why = "more points make a calibration, with errors and repeats at each"
        return (Fault(said_as, "given once or twice", f"{len(known)} known levels", why),)
    faults = [*_not_measurable(found, known, said_as), *_beyond_signal(found, known, said_as)]
    if len(known) == MOST and not faults:
        faults += _pair(found, known[0], known[1], said_as)
    return tuple(faults)


def _shown(found: Study, level_m: float) -> str:
    """A level in the unit that the case is printed in."""
    return show(level_m, SYSTEMS.get(found.statement.case.print_units.word, {}).get("mm", "mm"))


def _not_measurable(found: Study, known: Sequence[Known], said_as: str) -> Iterator[Fault]:
    reach = found.measuring.levels
    if reach is None:
        return
    low, high = reach.now_lowest, reach.now_highest
    for each in known:
        below = low.value is not None and each.dip_m < low.value - MET_M
        above = high.value is not None and each.dip_m > high.value + MET_M
        if below or above:
            allowed = f"a level that can be measured, from {low.text} to {high.text}"
            yield Fault(said_as, allowed, f"a dip of {_shown(found, each.dip_m)}", "what is read beyond proves nothing")


def _beyond_signal(found: Study, known: Sequence[Known], said_as: str) -> Iterator[Fault]:
    """Levels at which the range of the case lets the current stand still."""
    ends = [found.sheet.entries.get(f"range.level_at_saturation_{end}") for end in ("low", "high")]
    entries = sorted(
        (each for each in ends if each is not None and each.value is not None), key=lambda e: e.value or 0.0
    )
    if len(entries) < len(ends):
        return
    low, high = entries
    for each in known:
        if each.current_A is not None and not (low.value or 0.0) <= each.dip_m <= (high.value or 0.0):
            allowed = f"a level that the current can tell, from {low.text} to {high.text}"
            yield Fault(said_as, allowed, f"a dip of {_shown(found, each.dip_m)}", "beyond, the current stands still")


def _pair(found: Study, first: Known, second: Known, said_as: str) -> Iterator[Fault]:
    if abs(first.dip_m - second.dip_m) <= MET_M:
        yield Fault(
            said_as,
            "two different levels",
            f"{_shown(found, first.dip_m)} twice",
            "the same level twice tells no slope",
            remedy="Fill or empty the vessel between the two dips, or give one of them",
        )
    elif (first.current_A is None) != (second.current_A is None):
        why = "the output and the sensor itself are two measurements"
        yield Fault(said_as, "two readings of one kind", f'"{first.text}" and "{second.text}"', why)
    elif abs(first.shown_m - second.shown_m) <= MET_M:
        yield Fault(
            said_as,
            "two readings that differ",
            f"the same reading at {_shown(found, first.dip_m)} and {_shown(found, second.dip_m)}",
            "the level moved and the signal did not",
            remedy="Look whether the output is held in a loop test, whether the float sticks, or a valve is shut",
        )
