"""Two known levels: the slope and the offset that bring what is shown to what is true.

The levels need not be those of 4 and 20 mA; the farther apart they lie, the better the slope is known.
"""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_LEVEL = "[-1000, 1000]"
_FIRST = ("h_1", "level shown at the first known level", _LEVEL)
_SECOND = ("h_2", "level shown at the second known level", _LEVEL)
_APART = ("h_2 != h_1", "two readings that agree give no slope")


@formula(
    equation="a = (H_2 - H_1)/(h_2 - h_1)",
    gives=("a", "slope from shown to true level"),
    where={
        "first_known_m": ("H_1", "first known level", _LEVEL),
        "second_known_m": ("H_2", "second known level", _LEVEL),
        "first_shown_m": _FIRST,
        "second_shown_m": _SECOND,
    },
    requires=(_APART,),
    source="derived",
)
def known_slope(first_known_m: Real, second_known_m: Real, first_shown_m: Real, second_shown_m: Real) -> Real:
    """Slope from two known levels.

    Example
    -------
    >>> round(known_slope(0.5, 2.5, 0.51, 2.53), 6)
    0.990099
    """
    return (second_known_m - first_known_m) / (second_shown_m - first_shown_m)


@formula(
    equation="b = H_1 - a*h_1",
    gives=("b", "offset: true level = slope times shown level, and this"),
    where={
        "first_known_m": ("H_1", "first known level", _LEVEL),
        "first_shown_m": _FIRST,
        "slope": ("a", "slope from shown to true level", "[-1000, 1000]"),
    },
    source="derived",
)
def known_offset_m(first_known_m: Real, first_shown_m: Real, slope: Real) -> Real:
    """Offset from a known level, once the slope is known.

    Example
    -------
    >>> round(known_offset_m(0.5, 0.51, 0.99009901), 6)
    -0.00495
    """
    return first_known_m - slope * first_shown_m


@formula(
    equation="u_a = sqrt(2)*u/abs(h_2 - h_1)",
    gives=("u_a", "standard uncertainty of the slope"),
    where={
        "standard_m": ("u", "standard uncertainty of each known level", "[0, 100]"),
        "first_shown_m": _FIRST,
        "second_shown_m": _SECOND,
    },
    requires=(_APART,),
    source="derived",
)
def known_slope_standard(standard_m: Real, first_shown_m: Real, second_shown_m: Real) -> Real:
    """Standard uncertainty of a slope from two known levels, each known as well as the other and alone.

    Example
    -------
    >>> round(float(known_slope_standard(0.001, 0.51, 2.53)), 7)
    0.0007001
    """
    result: Real = np.sqrt(2.0) * standard_m / np.abs(second_shown_m - first_shown_m)
    return result
