"""Repeated readings of one point in one direction: their average, their spread, how well they know the average."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Real, Reals, same_kind
from onedatum.foundation.wording import counted
from onedatum.foundation.working import Where, Whole, formula


@dataclass(frozen=True, eq=False)
class Repeats(Whole):
    """Errors of the readings, as shares of the span; raises ValidityError where there is none."""

    called: ClassVar[str] = "repeats"
    own_axis: ClassVar[frozenset[str]] = frozenset({"error_shares"})

    error_shares: Reals

    def __post_init__(self) -> None:
        if len(self.error_shares) == 0 or not np.all(np.isfinite(self.error_shares)):
            why = "an average needs a reading, and each reading a number"
            raise ValidityError("calibration.repeats_average", "repeats", "one reading or more", "none", why)

    def told(self, shown: str = "") -> str:
        """How many readings there are."""
        count = len(self.error_shares)
        return counted(count, "reading")


_REPEATS: Where = {"repeats": ("q", "errors of the readings of one point in one direction", Repeats)}


@formula(
    method="the arithmetic mean of the errors",
    gives=("e", "average error of one direction"),
    where=_REPEATS,
    source="iec-61298-2-errors",
)
def repeats_average(repeats: Repeats) -> Real:
    """Average error of the readings of one point in one direction.

    Example
    -------
    >>> round(float(repeats_average(Repeats(np.array([0.001, 0.0012, 0.0008])))), 9)
    0.001
    """
    return same_kind(np.mean(repeats.error_shares))


@formula(
    method="the greatest error less the least",
    gives=("R", "non-repeatability at the point in this direction"),
    where=_REPEATS,
    source="iec-61298-2-errors",
)
def repeats_spread(repeats: Repeats) -> Real:
    """Non-repeatability: how far readings of one point in one direction lie apart.

    Example
    -------
    >>> round(float(repeats_spread(Repeats(np.array([0.001, 0.0012, 0.0008])))), 9)
    0.0004
    """
    return same_kind(np.ptp(repeats.error_shares))


@formula(
    method="the experimental standard deviation over the root of the number of readings; two readings or more",
    gives=("u", "standard uncertainty of the average, type A"),
    where=_REPEATS,
    source="jcgm-100: 4.2.3",
)
def repeats_standard(repeats: Repeats) -> Real:
    """Standard uncertainty of the average of repeated readings, type A; not a number for a single one.

    Example
    -------
    >>> round(float(repeats_standard(Repeats(np.array([0.001, 0.0012, 0.0008])))), 7)
    0.0001155
    """
    count = len(repeats.error_shares)
    if count < 2:
        return float("nan")
    return same_kind(np.std(repeats.error_shares, ddof=1) / np.sqrt(count))
