"""How good the reference is beside the tolerance: the ratio of both, and what follows from it."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_LENGTH = "(0, 100]"
_TOLERANCE = ("T", "half the width of the tolerance; its size where there is one limit", _LENGTH)


@formula(
    equation="T = (T_U - T_L)/2",
    gives=("T", "half the width of the tolerance"),
    where={
        "lower_limit_m": ("T_L", "least error that is allowed", "[-100, 100]"),
        "upper_limit_m": ("T_U", "greatest error that is allowed", "[-100, 100]"),
    },
    requires=(("T_U > T_L", "a tolerance has a width"),),
    source="derived",
)
def half_width_m(lower_limit_m: Real, upper_limit_m: Real) -> Real:
    """Half the width of a tolerance.

    Example
    -------
    >>> half_width_m(-0.006, 0.006)
    0.006
    """
    return (upper_limit_m - lower_limit_m) / 2.0


@formula(
    equation="R = T/U",
    gives=("R", "test uncertainty ratio"),
    where={"tolerance_m": _TOLERANCE, "expanded_m": ("U", "expanded uncertainty of the error", _LENGTH)},
    source="z540-3",
)
def uncertainty_ratio(tolerance_m: Real, expanded_m: Real) -> Real:
    """Test uncertainty ratio: the tolerance over the uncertainty that it is judged with.

    Example
    -------
    >>> round(uncertainty_ratio(0.006, 0.002), 9)
    3.0
    """
    return tolerance_m / expanded_m


@formula(
    equation="U_r = T/R",
    gives=("U_r", "greatest expanded uncertainty of the reference"),
    where={
        "tolerance_m": _TOLERANCE,
        "ratio": ("R", "ratio that is asked for", "[1, 100]"),
    },
    source="common-practice",
)
def reference_expanded_m(tolerance_m: Real, ratio: Real) -> Real:
    """Greatest expanded uncertainty that the reference may have; a ratio of four is usual, of three tolerated.

    Example
    -------
    >>> reference_expanded_m(0.006, 4.0)
    0.0015
    """
    return tolerance_m / ratio


@formula(
    equation="M = max(1.04 - exp(0.38*ln(R) - 0.54), 0)",
    gives=("M", "guard band over the expanded uncertainty; none where the ratio alone keeps the risk down"),
    where={"ratio": ("R", "test uncertainty ratio", "[1, 1000000]")},
    source="z540-3-handbook: method 6",
)
def two_per_cent_factor(ratio: Real) -> Real:
    """Guard band that keeps false acceptance to two per cent of all items, whatever share of them is in tolerance.

    Two limits, equally far from zero; the fit was made for ratios of a few.

    Example
    -------
    >>> round(float(two_per_cent_factor(3.0)), 4)
    0.1553
    """
    result: Real = np.maximum(1.04 - np.exp(0.38 * np.log(ratio) - 0.54), 0.0)
    return result
