"""Room that is left or lacking: of the range, below a nozzle, above an alarm, beside a rod."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_HEIGHT = "[-1000, 1000]"
_LENGTH = "[0, 1000]"


@formula(
    equation="u = max(0, z_1 - h_1) + max(0, h_2 - z_2)",
    gives=("u", "part of the wanted range that is not measured"),
    where={
        "measurable_low_m": ("z_1", "lowest measurable level", _HEIGHT),
        "measurable_high_m": ("z_2", "highest measurable level", _HEIGHT),
        "lowest_m": ("h_1", "lowest level wanted", _HEIGHT),
        "highest_m": ("h_2", "highest level wanted", _HEIGHT),
    },
    source="derived",
)
def uncovered_m(measurable_low_m: Real, measurable_high_m: Real, lowest_m: Real, highest_m: Real) -> Real:
    """How much of what is wanted lies outside of what can be measured, below and above together.

    Example
    -------
    >>> float(round(uncovered_m(0.13, 3.0, 0.1, 2.8), 3))
    0.03
    """
    below, above = measurable_low_m - lowest_m, highest_m - measurable_high_m
    result: Real = np.maximum(0.0, below) + np.maximum(0.0, above)
    return result


@formula(
    equation="d = CH - HH - h_f",
    gives=("d", "room for foam above the high-high alarm"),
    where={
        "critical_high_m": ("CH", "critical high level", _HEIGHT),
        "alarm_m": ("HH", "high-high alarm", _HEIGHT),
        "foam_m": ("h_f", "height of the foam", _LENGTH),
    },
    source="derived: difference",
)
def foam_reserve_m(critical_high_m: Real, alarm_m: Real, foam_m: Real) -> Real:
    """Room that is left between the alarm and the critical level once foam stands on the liquid.

    Example
    -------
    >>> round(foam_reserve_m(2.9, 2.7173, 0.0), 4)
    0.1827
    """
    return critical_high_m - alarm_m - foam_m


@formula(
    equation="b = s + (d_1 + d_2)/2",
    gives=("b", "width of a pair of rods"),
    where={
        "apart_m": ("s", "distance of the axes of the rods", _LENGTH),
        "rod_diameter_m": ("d_1", "diameter of one rod", _LENGTH),
        "other_diameter_m": ("d_2", "diameter of the other rod", _LENGTH),
    },
    source="derived",
)
def pair_width_m(apart_m: Real, rod_diameter_m: Real, other_diameter_m: Real) -> Real:
    """Width of two rods side by side, as they must pass a nozzle.

    Example
    -------
    >>> round(pair_width_m(0.15, 0.014, 0.016), 4)
    0.165
    """
    return apart_m + (rod_diameter_m + other_diameter_m) / 2


@formula(
    equation="g = s - (d_1 + d_2)/2",
    gives=("g", "gap between two rods"),
    where={
        "apart_m": ("s", "distance of the axes of the rods", _LENGTH),
        "rod_diameter_m": ("d_1", "diameter of one rod", _LENGTH),
        "other_diameter_m": ("d_2", "diameter of the other rod", _LENGTH),
    },
    source="derived",
)
def pair_gap_m(apart_m: Real, rod_diameter_m: Real, other_diameter_m: Real) -> Real:
    """Gap between two rods side by side, that grains must pass.

    Example
    -------
    >>> round(pair_gap_m(0.15, 0.014, 0.016), 4)
    0.135
    """
    return apart_m - (rod_diameter_m + other_diameter_m) / 2


@formula(
    equation="q = s/min(s_0, c/2)",
    gives=("q", "deflection of the tip over what is allowed"),
    where={
        "deflection_m": ("s", "deflection of the tip", _LENGTH),
        "most_m": ("s_0", "deflection allowed in any case", "(0, 1]"),
        "clearance_m": ("c", "clearance of the float around the stem", "(0, 1]"),
    },
    source="common-practice",
)
def deflection_share(deflection_m: Real, most_m: Real, clearance_m: Real) -> Real:
    """Deflection of a stem over the lesser of what is allowed and half of the clearance of the float.

    Example
    -------
    >>> float(round(deflection_share(0.004, 0.010, 0.002), 3))
    4.0
    """
    result: Real = deflection_m / np.minimum(most_m, clearance_m / 2)
    return result
