"""The levels at the quarters of the signal, for whatever tells them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from onedatum.foundation.working import Entry
from onedatum.physics.loop import level_at_current_m
from onedatum.study.desk import Desk

CURRENTS_A = (0.004, 0.008, 0.012, 0.016, 0.020)


@dataclass(frozen=True)
class SignalMark:
    """One quarter of the signal."""

    name: str
    """The current in milliamperes, as entries and papers call it."""
    current: Entry
    level: Entry
    """Above the datum."""


def signal_marks(desk: Desk, part: str, level_name: str, lower: Entry, upper: Entry) -> Iterator[SignalMark]:
    """The marks between the two ends of a range; their entries are named after the part that asks."""
    for amperes in CURRENTS_A:
        at = f"{amperes * 1e3:g} mA"
        current = desk.constant(f"{part}.current[{at}]", amperes, "A", f"current, {at}", shown="mA", source="derived")
        level = desk.calc(
            f"{part}.{level_name}[{at}]",
            level_at_current_m,
            shown="mm",
            meaning=f"level at {at}",
            current_A=current,
            lower_range_value_m=lower,
            upper_range_value_m=upper,
        )
        yield SignalMark(at, current, level)
