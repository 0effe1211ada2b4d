"""Working a sheet again in a great many trials: what takes long to work is read from tables built once.

A step that is no plain equation, such as a level to a volume or a strength to a mass fraction, and that follows one
varied number only, is tabled over the span of that number in a first set of trials, with room on both sides. How far
the table is off is measured, and kept, so that it can be told beside the result. A step that cannot be tabled well
enough, and every block with a number beyond its table, is worked as it stands.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from onedatum.foundation.numerics import EvenTable, Real, Reals
from onedatum.foundation.working.formula import apply
from onedatum.foundation.working.replay import Replay, Workings
from onedatum.foundation.working.sheet import Entry, Sheet

ROOM = 0.35
"""Of the span of the first trials, on each side: a normal variate of 1e7 trials stays within that of 1e4."""
OFF = 1e-4
"""Of the standard deviation of the step: a table that is further off is not used."""


class Trials(Workings):
    """Workings with tables, built for the spread of a first set of trials."""

    def __init__(self, sheet: Sheet, targets: Sequence[str], first: Mapping[str, Reals]) -> None:
        super().__init__(sheet, targets)
        self.tables: dict[str, EvenTable] = {}
        """The tables that stand in for a step, by the name of its entry."""
        worked = self.worked(first)
        tables = ((entry, _table_of(entry, worked)) for entry in self._entries if entry.name not in first)
        self.tables = {entry.name: table for entry, table in tables if table is not None}

    def step(self, entry: Entry, below: Mapping[str, Any]) -> Real:
        """One entry from what lies beneath it, by its table where that reaches."""
        table = self.tables.get(entry.name)
        if table is not None:
            x = below[_varied(below)[0]]
            if table.holds(x):
                return table(x)
        return super().step(entry, below)

    def plainly(self, values: Mapping[str, Reals]) -> Replay:
        """The targets without tables."""
        return Workings(self.sheet, self.targets).again(values)

    def off(self, name: str) -> float:
        """The largest distance of the table of a step from the step itself, in its unit."""
        return self.tables[name].off


def _varied(below: Mapping[str, Any]) -> list[str]:
    return [key for key, value in below.items() if np.ndim(value)]


def _table_of(entry: Entry, worked: Mapping[str, Any]) -> EvenTable | None:
    """The table of a step, where it takes long, follows one varied number, and can be tabled well."""
    if entry.function is None or entry.tag is None or entry.tag.kind == "explicit" or entry.tag.result.whole:
        return None
    below = {key: worked[other.name] for key, other in entry.inputs.items()}
    varied = _varied(below)
    if len(varied) != 1 or not isinstance(below[varied[0]], np.ndarray):
        return None
    (key,), function = varied, entry.function
    low, high = float(np.min(below[key])), float(np.max(below[key]))
    room = ROOM * (high - low)
    if not room > 0.0:
        return None
    table = EvenTable.of(lambda x: apply(function, below | {key: x}).value, low - room, high + room)
    return table if table is not None and table.off <= OFF * float(np.std(worked[entry.name])) else None
