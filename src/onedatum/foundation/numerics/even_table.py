"""A function of one number as a table of even steps: for millions of values of what takes long to work."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from onedatum.foundation.numerics.kinds import Reals

POINTS = 1025
"""A step is a thousandth of the span: a smooth function is then off by some 1e-7 of what it changes over it."""


@dataclass(frozen=True)
class EvenTable:
    """Values at even steps from `low`, straight between them."""

    low: float
    high: float
    values: Reals
    off: float
    """The largest distance from the function that was seen, half way between the steps."""

    @classmethod
    def of(cls, function: Callable[[Reals], Any], low: float, high: float, points: int = POINTS) -> EvenTable | None:
        """The table of a function from `low` to `high`; None where one of its values is not a number."""
        x = np.linspace(low, high, 2 * points - 1)
        found = np.broadcast_to(np.asarray(function(x), dtype=np.float64), x.shape)
        if not np.all(np.isfinite(found)):
            return None
        values, between = found[::2].copy(), found[1::2]
        off = float(np.max(np.abs(between - 0.5 * (values[:-1] + values[1:]))))
        return cls(low, high, values, off)

    def holds(self, x: Reals) -> bool:
        """Whether the table reaches to all of them."""
        return bool(np.min(x) >= self.low and np.max(x) <= self.high)

    def __call__(self, x: Reals) -> Reals:
        """The values at `x`, all of which lie within the table."""
        last = len(self.values) - 2
        place = (x - self.low) * ((last + 1) / (self.high - self.low))
        row = np.minimum(place.astype(np.intp), last)
        place -= row
        found = np.take(self._rises, row)
        found *= place
        found += np.take(self.values, row)
        return np.asarray(found)

    @cached_property
    def _rises(self) -> Reals:
        return np.diff(self.values)
