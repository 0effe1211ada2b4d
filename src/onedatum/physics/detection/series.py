"""A series as every function of this room takes it: numbers in the order of time, without a gap."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Reals
from onedatum.foundation.wording import counted

LARGEST = 1e100
"""Beyond it squares are no numbers any more."""
MOST_FOR_PAIRS = 3000
"""Samples of which all pairs are formed: 4.5 million, some tens of megabytes."""


def series_of(values: ArrayLike, function: str, parameter: str, least: int = 1) -> Reals:
    """The values as an array of one axis; raises ValidityError where they are too few or not all numbers."""
    formula = f"detection.{function}"
    kept = numbers_of(values, function, parameter)
    if kept.ndim != 1:
        raise ValidityError(formula, parameter, "numbers in one row", f"{kept.ndim} axes", "a series has one axis")
    if len(kept) < least:
        many = f"{counted(least, 'value')} or more"
        raise ValidityError(formula, parameter, many, f"{len(kept)}", "fewer tell nothing")
    if wrong := int(np.count_nonzero(~(np.abs(kept) <= LARGEST))):
        allowed = f"finite numbers throughout, of size {LARGEST:g} at most"
        raise ValidityError(formula, parameter, allowed, f"{wrong} that are not", "leave gaps out before")
    return kept


def numbers_of(values: ArrayLike, function: str, parameter: str) -> Reals:
    """The values as an array, gaps and all; raises ValidityError for what are no numbers."""
    try:
        given = np.asarray(values)
        if np.iscomplexobj(given):
            raise TypeError("complex")
        return given.astype(np.float64)
    except (TypeError, ValueError) as error:
        why = "nothing else can be worked"
        raise ValidityError(f"detection.{function}", parameter, "numbers in one row", "another", why) from error


def same_length(function: str, parameter: str, first: Reals, second: Reals) -> None:
    """Refuse a second series that is not as long as the first."""
    if len(first) != len(second):
        raise ValidityError(
            f"detection.{function}",
            parameter,
            f"{len(first)} values",
            f"{len(second)}",
            "the two series belong together value by value",
        )


def within(value: float, low: float, high: float, function: str, parameter: str, why: str) -> float:
    """A number above `low` and up to `high`; raises ValidityError for another."""
    if not low < value <= high:
        raise ValidityError(f"detection.{function}", parameter, f"above {low:g} up to {high:g}", f"{value:g}", why)
    return float(value)


def not_too_many(values: Reals, function: str, parameter: str) -> None:
    """Refuse a series of which all pairs would be too many."""
    if len(values) > MOST_FOR_PAIRS:
        raise ValidityError(
            f"detection.{function}",
            parameter,
            f"at most {MOST_FOR_PAIRS} values",
            f"{len(values)}",
            "all pairs of values are formed; thin the series first, by means over equal times",
        )


def first_true(where: NDArray[Any]) -> int | None:
    """The index of the first element that holds, or None."""
    place = int(np.argmax(where)) if len(where) else 0
    return place if len(where) and where[place] else None
