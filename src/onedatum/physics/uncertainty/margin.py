"""Comparing an uncertainty with what is wanted of it."""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula


@formula(
    equation="U_r = k*u_r",
    gives=("U_r", "expanded relative uncertainty"),
    where={
        "standard_share": ("u_r", "relative standard uncertainty", "[0, 10]"),
        "coverage_factor": ("k", "coverage factor", "[1, 5]"),
    },
    source="jcgm-100: 6.2.1",
)
def expanded_share(standard_share: Real, coverage_factor: Real) -> Real:
    """Expanded relative uncertainty.

    Example
    -------
    >>> expanded_share(0.00187, 2.0)
    0.00374
    """
    return coverage_factor * standard_share


@formula(
    equation="m = w - r",
    gives=("m", "margin of a relative uncertainty to the one wanted"),
    where={
        "limit": ("w", "relative uncertainty wanted", "[0, 10]"),
        "value": ("r", "relative uncertainty reached", "[0, 10]"),
    },
    source="derived",
)
def share_margin(limit: Real, value: Real) -> Real:
    """Margin of a relative uncertainty to the one wanted.

    Example
    -------
    >>> round(share_margin(0.005, 0.00374), 5)
    0.00126
    """
    return limit - value
