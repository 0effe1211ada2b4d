"""Room for a stem: over the flange face to lift it in, below the tip to let it grow."""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula


@formula(
    equation="H = L + h",
    gives=("H", "clear height needed over the flange face"),
    where={
        "length_m": ("L", "length of the stem", "(0, 120]"),
        "handling_m": ("h", "room for hands and hoist", "[0, 10]"),
    },
    source="common-practice: length and 200 mm",
)
def insertion_headroom_m(length_m: Real, handling_m: Real) -> Real:
    """Clear height that a rigid stem needs over its flange face.

    Example
    -------
    >>> round(insertion_headroom_m(3.13, 0.2), 2)
    3.33
    """
    return length_m + handling_m


@formula(
    equation="c = g + b",
    gives=("c", "clearance needed below the tip"),
    where={
        "growth_m": ("g", "growth of the stem", "[-1, 1]"),
        "clearance_m": ("b", "sludge and movement of the bottom", "[0, 10]"),
    },
    source="derived: sum",
)
def least_clearance_m(growth_m: Real, clearance_m: Real) -> Real:
    """Clearance that a stem needs below its tip.

    Example
    -------
    >>> round(least_clearance_m(0.0029, 0.020), 4)
    0.0229
    """
    return growth_m + clearance_m
