"""Residuals that hang together: how much they are worth, and their innovations, which can be charted.

The model is that of first order: each residual keeps a share phi of the one before and adds an innovation of its own.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Real, Reals
from onedatum.foundation.working import formula
from onedatum.physics.detection.series import series_of

_PHI = ("phi", "correlation of a residual with the one before", "[-0.9, 0.9999]")


@formula(
    equation="n_e = n*(1 - phi)/(1 + phi)",
    gives=("n_e", "number of independent residuals that know the mean as well"),
    where={"count": ("n", "number of residuals", "[1, 1000000000]"), "correlation": _PHI},
    source="derived: variance of the mean of a first-order series, long against its memory",
)
def effective_count(count: Real, correlation: Real) -> Real:
    """How many independent residuals a series of correlated ones is worth, for its mean.

    Example
    -------
    >>> round(effective_count(600.0, 0.8), 2)
    66.67
    """
    return count * (1 - correlation) / (1 + correlation)


@formula(
    equation="delta_i = delta*sqrt((1 - phi)/(1 + phi))",
    gives=("delta_i", "lasting shift of the innovations, in their standard deviations"),
    where={"shift": ("delta", "shift of the residual, in its standard deviations", "[-100, 100]"), "correlation": _PHI},
    source="derived: a step through a filter of first order",
)
def innovation_shift(shift: Real, correlation: Real) -> Real:
    """What a lasting shift of the residual is in its innovations: they are slower to show it.

    Example
    -------
    >>> round(float(innovation_shift(1.0, 0.6)), 9)
    0.5
    """
    result: Real = shift * np.sqrt((1 - correlation) / (1 + correlation))
    return result


class FirstOrder(NamedTuple):
    """A series of first order: its mean, its correlation, and the standard deviation of its innovations."""

    mean: float
    correlation: float
    correlation_standard: float
    standard: float
    """Of the innovations, in the unit of the series."""


def first_order(values: ArrayLike) -> FirstOrder:
    """The model of first order fitted to a series.

    Formula
    -------
    phi = sum of (x_i - m)*(x_(i-1) - m) over sum of (x_i - m)**2; s**2 the mean square of the innovations over n - 3

    Parameters
    ----------
    values : array
        residuals at even times, at least 8 [any unit]

    Returns
    -------
    FirstOrder
        mean and innovations' standard deviation [unit of the values], phi and its standard uncertainty [1]

    Validity
    --------
    even sampling, no drift or step within; phi comes out too low by about (1 + 3*phi)/n. A series that never changes is
    refused.

    Source
    ------
    Derived from geometry or first principles, moments of a first-order series [derived and checked]

    Example
    -------
    >>> round(first_order([1.0, 2.0, 3.0, 4.0, 4.0, 3.0, 2.0, 1.0]).correlation, 3)
    0.475
    """
    kept = series_of(values, "first_order", "values", 8)
    mean = float(np.mean(kept))
    apart = kept - mean
    square = float(apart @ apart)
    if np.ptp(kept) == 0.0 or square == 0.0:
        raise ValidityError(
            "detection.first_order", "values", "values that differ", "one value throughout", "nothing moves in it"
        )
    correlation = float(apart[1:] @ apart[:-1]) / square
    left = innovations(kept, mean, correlation)
    standard = float(np.sqrt(left @ left / (len(kept) - 3)))
    return FirstOrder(mean, correlation, float(np.sqrt((1.0 - correlation**2) / len(kept))), standard)


def innovations(values: ArrayLike, mean: float, correlation: float) -> Reals:
    """What each residual has that does not come from the one before.

    Formula
    -------
    e_i = (x_i - m) - phi*(x_(i-1) - m)

    Parameters
    ----------
    values : array
        residuals at even times, at least 2 [any unit]
    mean : float
        m, their mean while all was well [unit of the values]
    correlation : float
        phi, from a time while all was well [1]

    Returns
    -------
    array, one shorter
        innovations [unit of the values]

    Validity
    --------
    mean and correlation from a time without the change that is looked for: fitted over it they hide it

    Source
    ------
    Derived from geometry or first principles, first-order series [derived and checked]

    Example
    -------
    >>> innovations([1.0, 2.0, 2.0], 0.0, 0.5).tolist()
    [1.5, 1.0]
    """
    apart = series_of(values, "innovations", "values", 2) - mean
    return apart[1:] - correlation * apart[:-1]
