"""Working a sheet again in a great many trials: what takes long to work is read from tables built once.

A step that is no plain equation, such as a level to a volume or a strength to a mass fraction, and that follows one
varied number only, is tabled over the span of that number in a first set of trials, with room on both sides; one that
follows two is fitted by a short polynomial over their field. How far either is off is measured, and kept, so that it
can be told beside the result. A step that cannot be met well enough, and every block with a number beyond, is worked as
it stands.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

import numpy as np

from onedatum.foundation.numerics import EvenTable, Real, Reals, Surface
from onedatum.foundation.working.formula import apply
from onedatum.foundation.working.replay import Workings
from onedatum.foundation.working.sheet import Entry, Sheet

ROOM = 0.35
"""Of the span of the first trials, on each side: a normal variate of 1e7 trials stays within that of two thousand."""
OFF = 1e-4
"""Of the standard deviation of the step: what is further off is not used."""

Stand = EvenTable | Surface
"""What stands in for a step."""


class Trials(Workings):
    """Workings with tables, built for the spread of a first set of trials."""

    def __init__(self, sheet: Sheet, targets: Sequence[str], first: Mapping[str, Reals]) -> None:
        super().__init__(sheet, targets)
        self.tables: dict[str, Stand] = {}
        """What stands in for a step, by the name of its entry."""
        worked = self.worked(first)
        self.plain: dict[str, Reals] = {name: worked[name] for name in targets}
        """The targets of the first set of trials, worked without tables."""
        tables = ((entry, _stand_in(entry, worked)) for entry in self._entries if entry.name not in first)
        self.tables = {entry.name: table for entry, table in tables if table is not None}

    def step(self, entry: Entry, below: Mapping[str, Any]) -> Real:
        """One entry from what lies beneath it, by its table where that reaches."""
        table = self.tables.get(entry.name)
        if table is not None:
            numbers = [below[key] for key in _varied(below)]
            if table.holds(*numbers):
                return table(*numbers)
        return super().step(entry, below)

    def off(self, name: str) -> float:
        """The largest distance of the table of a step from the step itself, in its unit."""
        return self.tables[name].off


def _varied(below: Mapping[str, Any]) -> list[str]:
    return [key for key, value in below.items() if np.ndim(value)]


def _stand_in(entry: Entry, worked: Mapping[str, Any]) -> Stand | None:
    """The table of a step, where it takes long, follows one or two varied numbers, and can be met well."""
    if entry.function is None or entry.tag is None or entry.tag.kind == "explicit" or entry.tag.result.whole:
        return None
    below = {key: worked[other.name] for key, other in entry.inputs.items()}
    keys = _varied(below)
    if not 1 <= len(keys) <= 2 or not all(isinstance(below[key], np.ndarray) for key in keys):
        return None
    ranges = [_with_room(below[key]) for key in keys]
    if any(low >= high for low, high in ranges):
        return None
    within = OFF * float(np.std(worked[entry.name]))
    again = _again(entry.function, below, keys)
    if len(keys) == 2:
        return Surface.of(again, ranges[0], ranges[1], within)
    table = EvenTable.of(again, *ranges[0])
    return table if table is not None and table.off <= within else None


def _again(function: Callable[..., Any], below: Mapping[str, Any], keys: Sequence[str]) -> Callable[..., Any]:
    """The step as a function of its varied numbers alone."""
    return lambda *numbers: apply(function, {**below, **dict(zip(keys, numbers, strict=True))}).value


def _with_room(numbers: Reals) -> tuple[float, float]:
    low, high = float(np.min(numbers)), float(np.max(numbers))
    room = ROOM * (high - low)
    return low - room, high + room
