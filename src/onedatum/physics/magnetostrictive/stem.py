"""A stem that hangs from a nozzle in the roof: its length and the levels between its dead zones.

Heights count upwards from the datum of the vessel. Dead zones are distances of the magnet plane from the tip and from
the flange face; the surface stands above or below that plane by the waterline of the float.
"""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_CROWN = ("H_i", "height of the inside crown of the roof", "(0, 100]")
_FACE = ("H_f", "height of the flange face", "(0, 120]")
_TIP = ("c", "height of the stem tip", "[-20, 120)")
_WATERLINE = ("z_w", "surface above the magnet plane", "[-2, 2]")


@formula(
    equation="H_f = H_i + H_n",
    gives=("H_f", "height of the flange face"),
    where={
        "inside_height_m": _CROWN,
        "nozzle_height_m": ("H_n", "flange face above the inside crown", "[-5, 20]"),
    },
    source="derived: heights in the vessel",
)
def flange_face_height_m(inside_height_m: Real, nozzle_height_m: Real) -> Real:
    """Height of the flange face that the stem hangs from.

    Example
    -------
    >>> round(flange_face_height_m(2.500, 0.150), 3)
    2.65
    """
    return inside_height_m + nozzle_height_m


@formula(
    equation="L = H_f - c",
    gives=("L", "length of the stem from flange face to tip"),
    where={
        "flange_face_height_m": _FACE,
        "tip_height_m": _TIP,
    },
    requires=(("c < H_f", "the stem hangs down from the flange face"),),
    source="derived: heights in the vessel",
)
def stem_length_m(flange_face_height_m: Real, tip_height_m: Real) -> Real:
    """Length of the stem.

    Growth with temperature is not counted: it moves the tip, so the clearance below the tip must hold it.

    Example
    -------
    >>> round(stem_length_m(2.650, 0.050), 3)
    2.6
    """
    return flange_face_height_m - tip_height_m


@formula(
    equation="h_min = c + d_low + z_w",
    gives=("h_min", "lowest level that can be read"),
    where={
        "tip_height_m": _TIP,
        "dead_zone_low_m": ("d_low", "lower dead zone, from the stem tip to the magnet plane", "[0, 10]"),
        "waterline_above_magnet_m": _WATERLINE,
    },
    source="derived: heights in the vessel",
)
def lowest_level_m(tip_height_m: Real, dead_zone_low_m: Real, waterline_above_magnet_m: Real) -> Real:
    """Lowest level that a float on a stem can show.

    Example
    -------
    >>> round(lowest_level_m(0.050, 0.080, 0.0049), 4)
    0.1349
    """
    return tip_height_m + dead_zone_low_m + waterline_above_magnet_m


@formula(
    equation="h_z = H_f - d_high + z_w",
    gives=("h_z", "highest level that the upper dead zone leaves"),
    where={
        "flange_face_height_m": _FACE,
        "dead_zone_high_m": ("d_high", "upper dead zone, from the flange face to the magnet plane", "[0, 10]"),
        "waterline_above_magnet_m": _WATERLINE,
    },
    source="derived: heights in the vessel",
)
def highest_level_by_dead_zone_m(
    flange_face_height_m: Real, dead_zone_high_m: Real, waterline_above_magnet_m: Real
) -> Real:
    """Highest level that the upper dead zone leaves.

    Example
    -------
    >>> round(highest_level_by_dead_zone_m(3.170, 0.110, 0.0109), 4)
    3.0709
    """
    return flange_face_height_m - dead_zone_high_m + waterline_above_magnet_m


@formula(
    equation="h_f = H_i - (H - x) - s",
    gives=("h_f", "highest level at which the float stays out of the nozzle"),
    where={
        "inside_height_m": _CROWN,
        "float_height_m": ("H", "height of the float", "(0, 2]"),
        "immersion_m": ("x", "immersion, from the bottom of the float to the surface", "[0, 2]"),
        "margin_m": ("s", "margin kept between the top of the float and the crown", "[0, 10]"),
    },
    requires=(("x <= H", "a float that floats is not immersed deeper than its height"),),
    source="derived: heights in the vessel",
)
def highest_level_by_float_m(inside_height_m: Real, float_height_m: Real, immersion_m: Real, margin_m: Real) -> Real:
    """Highest level before the top of the float reaches the roof.

    Example
    -------
    >>> round(highest_level_by_float_m(3.020, 0.060, 0.0409, 0.0), 4)
    3.0009
    """
    return inside_height_m - (float_height_m - immersion_m) - margin_m


@formula(
    equation="h_max = min(h_z, h_f)",
    gives=("h_max", "highest level that can be read"),
    where={
        "by_dead_zone_m": ("h_z", "highest level that the upper dead zone leaves", "[-20, 200]"),
        "by_float_m": ("h_f", "highest level at which the float stays out of the nozzle", "[-20, 200]"),
    },
    source="derived: the lower of two limits",
)
def highest_level_m(by_dead_zone_m: Real, by_float_m: Real) -> Real:
    """Highest level that a float on a stem can show.

    Example
    -------
    >>> float(highest_level_m(3.0709, 3.0009))
    3.0009
    """
    result: Real = np.minimum(by_dead_zone_m, by_float_m)
    return result


@formula(
    equation="e = x - x_s",
    gives=("e", "amount by which the instrument reads low, negative where it reads high"),
    where={
        "immersion_m": ("x", "immersion in the liquid that is measured", "[0, 2]"),
        "immersion_set_m": ("x_s", "immersion in the liquid that the instrument was set on", "[0, 2]"),
    },
    source="derived: the waterline moves, the setting stays",
)
def reads_low_by_m(immersion_m: Real, immersion_set_m: Real) -> Real:
    """Error of an instrument that was set on another liquid.

    Example
    -------
    >>> round(reads_low_by_m(0.0409, 0.0367), 4)
    0.0042
    """
    return immersion_m - immersion_set_m
