"""What a chamber must be so that its float travels, and where the stem beside it must begin and end."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_IMMERSION = ("x", "immersion of the float", "[0, 5]")
_MARGIN = ("c", "distance kept between float and the ends of the chamber", "[0, 2]")
_WATERLINE = ("z_w", "surface above the magnet plane", "[-5, 5]")
_HEIGHT = ("h_c", "level in the chamber above the lower tap", "[-10, 100]")
_ARITHMETIC = "derived: arithmetic of heights"


@formula(
    equation="s = (D - d_f)/2",
    gives=("s", "gap around the float in the middle of the chamber"),
    where={
        "chamber_diameter_m": ("D", "inside diameter of the chamber", "(0, 5]"),
        "float_diameter_m": ("d_f", "outside diameter of the float", "(0, 5]"),
    },
    source=_ARITHMETIC,
)
def side_clearance_m(chamber_diameter_m: Real, float_diameter_m: Real) -> Real:
    """Gap between a float and its chamber all around.

    Example
    -------
    >>> round(side_clearance_m(0.0548, 0.048), 6)
    0.0034
    """
    return (chamber_diameter_m - float_diameter_m) / 2


@formula(
    equation="theta = asin(D/sqrt(d_f**2 + H**2)) - asin(d_f/sqrt(d_f**2 + H**2))",
    gives=("theta", "lean of the float from wall to wall"),
    where={
        "chamber_diameter_m": ("D", "inside diameter of the chamber", "(0, 5]"),
        "float_diameter_m": ("d_f", "outside diameter of the float", "(0, 5]"),
        "float_height_m": ("H", "height of the float", "(0, 5]"),
    },
    requires=(("d_f <= D", "the float goes into the chamber"), ("D**2 <= d_f**2 + H**2", "the float cannot turn over")),
    source="derived: the diagonal of a cylinder between two walls",
)
def lean_from_wall_to_wall_rad(chamber_diameter_m: Real, float_diameter_m: Real, float_height_m: Real) -> Real:
    """The largest lean that its chamber leaves a float.

    Example
    -------
    >>> round(float(lean_from_wall_to_wall_rad(0.0548, 0.048, 0.260)), 5)
    0.02622
    """
    diagonal = np.sqrt(float_diameter_m**2 + float_height_m**2)
    return np.arcsin(chamber_diameter_m / diagonal) - np.arcsin(float_diameter_m / diagonal)


@formula(
    equation="b = x + c",
    gives=("b", "inside length that the chamber needs below its lower tap"),
    where={"immersion_m": _IMMERSION, "margin_m": _MARGIN},
    source=_ARITHMETIC,
)
def room_below_m(immersion_m: Real, margin_m: Real) -> Real:
    """Room that a float needs below the lower tap, so that it still floats when the level stands there.

    Example
    -------
    >>> round(room_below_m(0.191, 0.020), 6)
    0.211
    """
    return immersion_m + margin_m


@formula(
    equation="b = H - x + c",
    gives=("b", "inside length that the chamber needs above its upper tap"),
    where={"float_height_m": ("H", "height of the float", "(0, 5]"), "immersion_m": _IMMERSION, "margin_m": _MARGIN},
    source=_ARITHMETIC,
)
def room_above_m(float_height_m: Real, immersion_m: Real, margin_m: Real) -> Real:
    """Room that a float needs above the upper tap, so that it does not knock when the level stands there.

    Example
    -------
    >>> round(room_above_m(0.260, 0.177, 0.020), 6)
    0.103
    """
    return float_height_m - immersion_m + margin_m


@formula(
    equation="h_c = x + c - b",
    gives=("h_c", "lowest level in the chamber at which the float floats"),
    where={
        "immersion_m": _IMMERSION,
        "margin_m": _MARGIN,
        "room_m": ("b", "inside length of the chamber below its lower tap", "[0, 10]"),
    },
    source=_ARITHMETIC,
)
def lowest_afloat_m(immersion_m: Real, margin_m: Real, room_m: Real) -> Real:
    """Lowest level in the chamber at which the float is free of its bottom, above the lower tap.

    Example
    -------
    >>> round(lowest_afloat_m(0.191, 0.020, 0.250), 6)
    -0.039
    """
    return immersion_m + margin_m - room_m


@formula(
    equation="h_c = a + b - (H - x) - c",
    gives=("h_c", "highest level in the chamber at which the float is free"),
    where={
        "tap_distance_m": ("a", "distance of the taps", "(0, 100]"),
        "room_m": ("b", "inside length of the chamber above its upper tap", "[0, 10]"),
        "float_height_m": ("H", "height of the float", "(0, 5]"),
        "immersion_m": _IMMERSION,
        "margin_m": _MARGIN,
    },
    source=_ARITHMETIC,
)
def highest_afloat_m(
    tap_distance_m: Real, room_m: Real, float_height_m: Real, immersion_m: Real, margin_m: Real
) -> Real:
    """Highest level in the chamber at which the float is free of its top, above the lower tap.

    Example
    -------
    >>> round(highest_afloat_m(0.700, 0.120, 0.260, 0.177, 0.020), 6)
    0.717
    """
    return tap_distance_m + room_m - (float_height_m - immersion_m) - margin_m


@formula(
    equation="z = h_c - z_w",
    gives=("z", "height of the magnet plane above the lower tap"),
    where={"chamber_level_m": _HEIGHT, "waterline_above_magnet_m": _WATERLINE},
    source=_ARITHMETIC,
)
def magnet_height_m(chamber_level_m: Real, waterline_above_magnet_m: Real) -> Real:
    """Height of the magnet in a chamber at a level.

    Example
    -------
    >>> round(magnet_height_m(0.302, 0.061), 6)
    0.241
    """
    return chamber_level_m - waterline_above_magnet_m


@formula(
    equation="h_c = z + z_w",
    gives=("h_c", "level in the chamber above the lower tap"),
    where={
        "magnet_height_m": ("z", "height of the magnet plane above the lower tap", "[-10, 100]"),
        "waterline_above_magnet_m": _WATERLINE,
    },
    source=_ARITHMETIC,
)
def level_over_magnet_m(magnet_height_m: Real, waterline_above_magnet_m: Real) -> Real:
    """Level in a chamber from the height of the magnet; with the waterline of a setting, what that setting shows.

    Example
    -------
    >>> round(level_over_magnet_m(0.241, 0.061), 6)
    0.302
    """
    return magnet_height_m + waterline_above_magnet_m


@formula(
    equation="c = z - d",
    gives=("c", "height of the tip of the stem beside a chamber"),
    where={
        "magnet_height_m": ("z", "height of the lowest magnet plane", "[-50, 200]"),
        "dead_zone_low_m": ("d", "lower dead zone, tip to magnet plane", "[0, 5]"),
    },
    source=_ARITHMETIC,
)
def stem_tip_m(magnet_height_m: Real, dead_zone_low_m: Real) -> Real:
    """Height that the tip of a stem must lie at or below.

    Example
    -------
    >>> round(stem_tip_m(-0.018, 0.080), 6)
    -0.098
    """
    return magnet_height_m - dead_zone_low_m


@formula(
    equation="t = z + d",
    gives=("t", "height of the upper end of the stem beside a chamber"),
    where={
        "height_m": ("z", "height of the highest magnet plane, or of the tip", "[-50, 200]"),
        "length_m": ("d", "upper dead zone, or length of the stem", "[0, 50]"),
    },
    source=_ARITHMETIC,
)
def stem_top_m(height_m: Real, length_m: Real) -> Real:
    """Height of the upper end of a stem: above the highest magnet by its dead zone, above its tip by its length.

    Example
    -------
    >>> round(stem_top_m(0.513, 0.110), 6)
    0.623
    """
    return height_m + length_m


@formula(
    equation="L = t - c",
    gives=("L", "length of the stem beside a chamber"),
    where={
        "top_m": ("t", "height of the upper end of the stem", "[-50, 200]"),
        "tip_m": ("c", "height of the tip of the stem", "[-50, 200]"),
    },
    requires=(("c < t", "the upper end lies above the tip"),),
    source=_ARITHMETIC,
)
def beside_length_m(top_m: Real, tip_m: Real) -> Real:
    """Length of a stem beside a chamber.

    Example
    -------
    >>> round(beside_length_m(0.623, -0.098), 6)
    0.721
    """
    return top_m - tip_m


@formula(
    equation="D_o = D + 2*t",
    gives=("D_o", "outside diameter of the chamber"),
    where={
        "inside_diameter_m": ("D", "inside diameter of the chamber", "(0, 5]"),
        "wall_m": ("t", "wall of the chamber", "[0, 1]"),
    },
    source="derived: a round chamber",
)
def outside_diameter_m(inside_diameter_m: Real, wall_m: Real) -> Real:
    """Outside diameter of a chamber.

    Example
    -------
    >>> round(outside_diameter_m(0.0548, 0.0028), 6)
    0.0604
    """
    return inside_diameter_m + 2 * wall_m


@formula(
    equation="d_1 = d + s",
    gives=("d_1", "distance of the stem from the float at the far wall"),
    where={
        "distance_m": ("d", "distance of the stem from the axis of the chamber", "(0, 5]"),
        "clearance_m": ("s", "gap around the float in the middle of the chamber", "[-1, 1]"),
    },
    source="derived: a float that touches the wall away from the stem",
)
def farthest_distance_m(distance_m: Real, clearance_m: Real) -> Real:
    """Distance of a stem from the float where it is weakest.

    Example
    -------
    >>> round(farthest_distance_m(0.045, 0.0034), 6)
    0.0484
    """
    return distance_m + clearance_m
