"""Ranges of validity in the usual bracket notation: "(0, 20]" is above 0 and up to 20."""

from __future__ import annotations

import re
from dataclasses import dataclass

import numpy as np

from onedatum.foundation.errors import ExpressionError
from onedatum.foundation.numerics import Real

_FORM = re.compile(r"^([\[(])\s*(\S+?)\s*,\s*(\S+?)\s*([\])])$")


@dataclass(frozen=True)
class Interval:
    """A closed, half-open or open range of a number; both ends are finite."""

    low: float
    high: float
    open_low: bool = False
    open_high: bool = False

    @classmethod
    def read(cls, text: str) -> Interval:
        """Read "[0, 1]", "(0, 20]", "[-20, 40)"."""
        match = _FORM.match(text)
        if not match:
            raise ExpressionError(f"an interval is written like (0, 20]; got {text!r}")
        opening, low, high, closing = match.groups()
        try:
            interval = cls(float(low), float(high), opening == "(", closing == ")")
        except ValueError:
            raise ExpressionError(f"the ends of an interval are numbers; got {text!r}") from None
        if not (np.isfinite(interval.low) and np.isfinite(interval.high) and interval.low < interval.high):
            raise ExpressionError(f"an interval needs two finite ends in rising order; got {text!r}")
        return interval

    def holds(self, value: Real) -> bool | np.bool_ | np.ndarray:
        """True where the value lies inside; NaN lies nowhere."""
        if isinstance(value, float):  # most are, and the functions of arrays cost them ten times as much
            above = value > self.low if self.open_low else value >= self.low
            return bool(above and (value < self.high if self.open_high else value <= self.high))
        return self._holds_of_array(value)

    def _holds_of_array(self, value: Real) -> np.bool_ | np.ndarray:
        above = np.greater(value, self.low) if self.open_low else np.greater_equal(value, self.low)
        below = np.less(value, self.high) if self.open_high else np.less_equal(value, self.high)
        return np.logical_and(above, below)

    def holds_all(self, values: Real) -> bool:
        """Whether every element lies inside: by the least and the greatest, which are NaN where an element is."""
        if isinstance(values, float):
            return bool(self.holds(values))
        array = np.asarray(values)
        if not array.size:
            return False
        least, greatest = np.minimum.reduce(array, axis=None), np.maximum.reduce(array, axis=None)
        return bool(self.holds(least) and self.holds(greatest))

    def __str__(self) -> str:
        return f"{'(' if self.open_low else '['}{self.low:.12g}, {self.high:.12g}{')' if self.open_high else ']'}"
