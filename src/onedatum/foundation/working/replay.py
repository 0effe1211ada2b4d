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

from onedatum.foundation.errors import SheetError
from onedatum.foundation.numerics import Real, Reals
from onedatum.foundation.working.formula import apply
from onedatum.foundation.working.sheet import Entry, Sheet
from onedatum.foundation.working.whole import Whole


@dataclass(frozen=True)
class Replay:
    """What came out: the results by name, and how far they can be trusted."""

    results: Mapping[str, Reals]
    branched_otherwise: float
    """Share of the trials in which a recorded branch would have gone the other way."""
    outside: float
    """Share of the trials in which a value lay outside the validity of a formula; their results are NaN."""


def replay(sheet: Sheet, targets: Sequence[str], values: Mapping[str, Reals]) -> Replay:
    """Work `targets` again with arrays, all of one length, in place of the entries named in `values`."""
    lengths = {np.shape(value) for value in values.values()}
    if len(lengths) != 1:
        raise SheetError(f"replay takes arrays of one length; got shapes {sorted(lengths)}")
    (shape,) = lengths
    worked: dict[str, Any] = {sheet[name].name: np.asarray(value, dtype=float) for name, value in values.items()}
    otherwise = np.zeros(shape, dtype=bool)
    outside = np.zeros(shape, dtype=bool)
    for entry in _needed(sheet, targets):
        if entry.name in worked:
            continue
        if not entry.known:
            raise SheetError(f"{entry.name} is unknown and cannot be worked again")
        worked[entry.name] = _again(entry, worked)
        if entry.relation is not None:
            otherwise |= np.broadcast_to(worked[entry.name] != entry.value, shape)
        elif entry.function is not None:
            outside |= np.broadcast_to(_missing(worked[entry.name]), shape)
    return Replay(
        {name: np.broadcast_to(worked[name], shape) for name in targets}, float(otherwise.mean()), float(outside.mean())
    )


def _missing(value: Any) -> Any:
    return value.missing() if isinstance(value, Whole) else np.isnan(value)


def _again(entry: Entry, worked: Mapping[str, Any]) -> Real:
    below = {key: worked[other.name] for key, other in entry.inputs.items()}
    if entry.function is not None:
        return cast(Real, apply(entry.function, below).value if _varied(below) else entry.content)
    if entry.relation is not None:
        return np.asarray(entry.relation.evaluate(below), dtype=float)
    if entry.selects:
        pick = np.minimum if entry.selects == "least" else np.maximum
        return cast(Reals, reduce(pick, below.values()))
    if entry.content is None:
        raise SheetError(f"{entry.name} is unknown and cannot be worked again")
    return cast(Real, entry.content)


def _varied(values: Mapping[str, Any]) -> bool:
    return any(np.ndim(value) for value in values.values())


def _needed(sheet: Sheet, targets: Sequence[str]) -> list[Entry]:
    """The targets and all beneath them, and every branch whose comparison rests on nothing else, in sheet order."""
    names: set[str] = set()
    waiting = [sheet[name] for name in targets]
    while waiting:
        entry = waiting.pop()
        if entry.name not in names:
            names.add(entry.name)
            waiting.extend(entry.inputs.values())
    return [
        entry
        for entry in sheet.entries.values()
        if entry.name in names
        or (entry.relation is not None and entry.known and all(e.name in names for e in entry.inputs.values()))
    ]
