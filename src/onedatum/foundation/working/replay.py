"""Working a sheet again with other numbers put in: for sensitivities and Monte Carlo, never for a changed case.

The entries beneath the result are worked in their order with arrays in place of the inputs that are varied. A branch
that would have gone the other way is counted, not followed; elements outside a validity become NaN and are counted.
What a procedure over the sheet gave, such as an uncertainty, keeps its value: it is not worked again.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import reduce
from typing import Any, cast

import numpy as np
from numpy.typing import NDArray

from onedatum.foundation.errors import SheetError
from onedatum.foundation.numerics import Real, Reals, is_scalar
from onedatum.foundation.working.formula import apply
from onedatum.foundation.working.sheet import Entry, Sheet, beneath
from onedatum.foundation.working.whole import Whole


@dataclass(frozen=True)
class Replay:
    """What came out: the results by name, and how far they can be trusted."""

    results: Mapping[str, Reals]
    branched: NDArray[np.bool_]
    """Of each trial, whether a recorded branch would have gone the other way."""
    left: NDArray[np.bool_]
    """Of each trial, whether a value lay outside the validity of a formula; its results are NaN."""

    @property
    def branched_otherwise(self) -> float:
        """Share of the trials in which a recorded branch would have gone the other way."""
        return float(self.branched.mean())

    @property
    def outside(self) -> float:
        """Share of the trials in which a value lay outside the validity of a formula."""
        return float(self.left.mean())

    def part(self, trials: slice) -> Replay:
        """Some of the trials, as if they had been worked alone."""
        results = {name: result[trials] for name, result in self.results.items()}
        return Replay(results, self.branched[trials], self.left[trials])


def replay(sheet: Sheet, targets: Sequence[str], values: Mapping[str, Reals]) -> Replay:
    """Work `targets` again with arrays, all of one length, in place of the entries named in `values`."""
    return Workings(sheet, targets).again(values)


class Workings:
    """What targets rest on, in the order of the sheet, to be worked again and again."""

    def __init__(self, sheet: Sheet, targets: Sequence[str]) -> None:
        self.sheet = sheet
        self.targets = tuple(targets)
        self._entries = _needed(sheet, targets)

    def again(self, values: Mapping[str, Reals]) -> Replay:
        """The targets with arrays, all of one length, in place of the entries named in `values`."""
        shape = _shape_of(values)
        worked = self.worked(values)
        outside = np.zeros(shape, dtype=bool)
        for name in self.targets:
            outside |= _missing(worked[name])
        otherwise = np.zeros(shape, dtype=bool)
        for entry in self._entries:
            if entry.relation is not None:
                otherwise |= worked[entry.name] != entry.value
        results = {name: np.broadcast_to(worked[name], shape) for name in self.targets}
        return Replay(results, otherwise, outside)

    def worked(self, values: Mapping[str, Reals]) -> dict[str, Any]:
        """Every entry that is needed, worked with `values` in place of those named."""
        worked: dict[str, Any] = {
            self.sheet[name].name: np.asarray(value, dtype=float) for name, value in values.items()
        }
        moved = set(worked)
        for entry in self._entries:
            if entry.name not in worked:
                if not moved.isdisjoint([e.name for e in entry.inputs.values()]):
                    moved.add(entry.name)
                    worked[entry.name] = self.step(entry, {key: worked[e.name] for key, e in entry.inputs.items()})
                else:
                    worked[entry.name] = self.kept(entry)
        return worked

    @staticmethod
    def kept(entry: Entry) -> Any:
        """An entry that nothing beneath it moves."""
        if entry.content is None:
            raise SheetError(f"{entry.name} is unknown and cannot be worked again")
        return entry.content if entry.relation is None else np.asarray(entry.content, dtype=float)

    def step(self, entry: Entry, below: Mapping[str, Any]) -> Real:
        """One entry from what lies beneath it."""
        if entry.function is not None:
            kept = all(map(is_scalar, below.values()))
            return cast(Real, entry.content if kept else apply(entry.function, below).value)
        if entry.relation is not None:
            return np.asarray(entry.relation.evaluate(below), dtype=float)
        if entry.selects:
            pick = np.minimum if entry.selects == "least" else np.maximum
            return cast(Reals, reduce(pick, below.values()))
        return cast(Real, self.kept(entry))


def _shape_of(values: Mapping[str, Reals]) -> tuple[int, ...]:
    shapes = {np.shape(value) for value in values.values()}
    if len(shapes) != 1:
        raise SheetError(f"replay takes arrays of one length; got shapes {sorted(shapes)}")
    return shapes.pop()


def _missing(value: Any) -> Any:
    """Where there is no number; a whole says so itself."""
    return value.missing() if isinstance(value, Whole) else np.isnan(value)


def _needed(sheet: Sheet, targets: Sequence[str]) -> list[Entry]:
    """The targets and all beneath them, and every branch whose comparison rests on nothing else, in sheet order."""
    names = {entry.name for entry in beneath(sheet[name] for name in targets)}
    return [
        entry
        for entry in sheet.entries.values()
        if entry.name in names
        or (entry.relation is not None and entry.known and all(e.name in names for e in entry.inputs.values()))
    ]
