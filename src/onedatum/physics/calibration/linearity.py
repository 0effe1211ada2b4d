"""Linearity of the average curve, as the largest deviation from a straight line; three ways to lay the line.

Each is exact and needs no solver: a line that leaves the least largest deviation is held by two points where one end
of it is fixed, by three where it is free (Chebyshev), so that the largest over all pairs or triples is the answer.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations
from typing import ClassVar

import numpy as np

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Real, Reals, same_kind
from onedatum.foundation.working import Where, Whole, formula

MOST_POINTS = 101
"""Triples of more points would be many, and no calibration has them."""


@dataclass(frozen=True, eq=False)
class AverageCurve(Whole):
    """Average errors along the span, both as shares of it; raises ValidityError for points that make no curve."""

    called: ClassVar[str] = "curve"
    own_axis: ClassVar[frozenset[str]] = frozenset({"span_shares", "error_shares"})

    span_shares: Reals
    error_shares: Reals

    def __post_init__(self) -> None:
        count = len(self.span_shares)
        if not 2 <= count <= MOST_POINTS or count != len(self.error_shares):
            raise _refusal(f"2 to {MOST_POINTS} points, each with its error", f"{count}", "a line has two ends")
        if not np.all(np.diff(self.span_shares) > 0.0):
            raise _refusal("in rising order", "points out of order", "each point once, from the lowest up")
        if not np.all(np.isfinite(self.error_shares)):
            raise _refusal("numbers at every point", "another", "a curve has no gaps")

    def told(self, shown: str = "") -> str:
        """How many points there are, and from where to where."""
        low, high = 100.0 * self.span_shares[[0, -1]]
        return f"{len(self.span_shares)} points from {low:.4g} to {high:.4g} % of the span"


def _refusal(allowed: str, got: str, why: str) -> ValidityError:
    return ValidityError("calibration.independent_linearity", "curve", allowed, got, why)


_CURVE: Where = {"curve": ("c", "average errors along the span", AverageCurve)}


@formula(
    method="the largest deviation from the line through both end points",
    gives=("L_t", "terminal-based linearity"),
    where=_CURVE,
    source="iec-61298-2-errors",
)
def terminal_linearity(curve: AverageCurve) -> Real:
    """Terminal-based linearity: how far the curve leaves the line through its ends.

    Example
    -------
    >>> float(terminal_linearity(AverageCurve(np.array([0.0, 0.5, 1.0]), np.array([0.0, 0.002, 0.001]))))
    0.0015
    """
    x, y = curve.span_shares, curve.error_shares
    line = y[0] + (y[-1] - y[0]) * (x - x[0]) / (x[-1] - x[0])
    return same_kind(np.max(np.abs(y - line)))


@formula(
    method="the line through the lowest point whose largest deviation is least; the largest of "
    "abs(r_j*d_k - r_k*d_j)/(d_j + d_k) over all pairs, d and r from the lowest point",
    gives=("L_z", "zero-based linearity"),
    where=_CURVE,
    source="iec-61298-2-errors",
)
def zero_linearity(curve: AverageCurve) -> Real:
    """Zero-based linearity: how far the curve leaves the best line through its low end.

    Example
    -------
    >>> round(float(zero_linearity(AverageCurve(np.array([0.0, 0.5, 1.0]), np.array([0.0, 0.002, 0.001])))), 9)
    0.001
    """
    d = curve.span_shares[1:] - curve.span_shares[0]
    r = curve.error_shares[1:] - curve.error_shares[0]
    cross = np.abs(np.outer(r, d) - np.outer(d, r)) / np.add.outer(d, d)
    return same_kind(np.max(cross))


@formula(
    method="the line of least largest deviation; the largest over all triples of half the distance of the middle "
    "point from the chord of the outer two",
    gives=("L_i", "independent linearity"),
    where=_CURVE,
    source="iec-61298-2-errors",
)
def independent_linearity(curve: AverageCurve) -> Real:
    """Independent linearity: how far the curve leaves the best of all lines.

    Example
    -------
    >>> float(independent_linearity(AverageCurve(np.array([0.0, 0.5, 1.0]), np.array([0.0, 0.002, 0.001]))))
    0.00075
    """
    x, y = curve.span_shares, curve.error_shares
    if len(x) < 3:
        return 0.0
    i, j, k = np.array(list(combinations(range(len(x)), 3))).T
    chord = y[i] + (y[k] - y[i]) * (x[j] - x[i]) / (x[k] - x[i])
    return same_kind(np.max(np.abs(y[j] - chord)) / 2.0)
