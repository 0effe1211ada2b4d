"""A smooth function of two numbers over a small field, as a short polynomial: for millions of values."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.polynomial import chebyshev

from onedatum.foundation.numerics.kinds import Reals
from onedatum.foundation.numerics.table import polynomial

FEWEST, MOST = 2, 6
"""Terms in each number; a field that needs more is no small one."""
CHECKED = 13
"""Points along each side at which the polynomial is held against its function."""

Range = tuple[float, float]


@dataclass(frozen=True)
class Surface:
    """A polynomial in two numbers, each counted from the middle of its range in half widths."""

    first: Range
    second: Range
    rows: tuple[tuple[float, ...], ...]
    """Coefficients in the first number, a row for each power of the second."""
    off: float
    """The largest distance from the function that was seen."""

    @classmethod
    def of(cls, function: Callable[[Reals, Reals], Any], first: Range, second: Range, within: float) -> Surface | None:
        """The shortest polynomial that keeps within a distance of the function; None where none of these does."""
        x, y = (grid.ravel() for grid in np.meshgrid(np.linspace(*first, CHECKED), np.linspace(*second, CHECKED)))
        wanted = np.asarray(function(x, y), dtype=np.float64)
        if not np.all(np.isfinite(wanted)):
            return None
        for terms in range(FEWEST, MOST + 1):
            rows = _rows(function, first, second, terms)
            found = cls(first, second, rows, 0.0)
            off = float(np.max(np.abs(found(x, y) - wanted)))
            if off <= within:
                return cls(first, second, rows, off)
        return None

    def holds(self, x: Reals, y: Reals) -> bool:
        """Whether the field reaches to all of them."""
        return all(np.min(at) >= low and np.max(at) <= high for at, (low, high) in ((x, self.first), (y, self.second)))

    def __call__(self, x: Reals, y: Reals) -> Reals:
        """The values at `x` and `y`, all of which lie within the field."""
        u, v = _counted(x, self.first), _counted(y, self.second)
        *others, last = self.rows
        found = polynomial(last, u) + 0.0 * v
        for row in reversed(others):
            found *= v
            found += polynomial(row, u)
        return np.asarray(found)


def _counted(x: Reals, within: Range) -> Reals:
    """From the middle of a range, in half widths."""
    low, high = within
    found = x - 0.5 * (low + high)
    found *= 2.0 / (high - low)
    return found


def _rows(
    function: Callable[[Reals, Reals], Any], first: Range, second: Range, terms: int
) -> tuple[tuple[float, ...], ...]:
    """The polynomial through the function at Chebyshev's points, which keeps its largest error small."""
    at = np.cos(np.pi * (np.arange(terms) + 0.5) / terms)
    u, v = (grid.ravel() for grid in np.meshgrid(at, at))
    x = 0.5 * (first[0] + first[1]) + 0.5 * (first[1] - first[0]) * u
    y = 0.5 * (second[0] + second[1]) + 0.5 * (second[1] - second[0]) * v
    met = chebyshev.chebvander2d(v, u, [terms - 1, terms - 1])
    series = np.linalg.solve(met, np.asarray(function(x, y), dtype=np.float64)).reshape(terms, terms)
    powers = np.array([_powers(row) for row in series])
    return tuple(tuple(map(float, row)) for row in np.array([_powers(column) for column in powers.T]).T)


def _powers(series: Reals) -> Reals:
    """The same polynomial in powers, as many coefficients as before."""
    found = chebyshev.cheb2poly(series)
    return np.pad(found, (0, len(series) - len(found)))
