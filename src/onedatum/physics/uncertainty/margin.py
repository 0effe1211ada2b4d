"""Comparing an uncertainty with what is wanted of it."""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula


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
