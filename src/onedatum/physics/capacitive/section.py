"""Radius of the round tank that would give a rod on its axis the same capacitance: one law for every section.

A rod off the axis, before a wall, beside another rod: each is a rod on the axis of a round tank of another radius. All
that follows (capacitance, conductance, inductance per length) is then worked once, by `line`.
"""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real, same_kind
from onedatum.foundation.working import formula

_ROD = ("a", "outside radius of the rod, or of its coating", "(0, 1]")
_EQUIVALENT = ("R_e", "radius of the round tank with the same capacitance")
_FIELD = "derived: Laplace's equation in the plane"
_MAP = "derived: conformal map"
_IMAGES = 6
"""Pairs of images on either side: the next would add exp(-pi*12) at most."""
_FAR = 300.0
"""Beyond this the image is felt no more, and its sinh would be no number."""


@formula(
    equation="a = D/2",
    gives=("a", "radius"),
    where={"diameter_m": ("D", "diameter", "(0, 400]")},
    source="derived: definition",
)
def radius_m(diameter_m: Real) -> Real:
    """Radius of a rod, a tube or a tank, from the diameter it is stated by.

    Example
    -------
    >>> radius_m(0.014)
    0.007
    """
    return diameter_m / 2


@formula(
    equation="r = a + t",
    gives=("r", "outside radius of the layer"),
    where={
        "rod_radius_m": ("a", "outside radius of the rod, or of its coating", "(0, 1]"),
        "thickness_m": ("t", "thickness of the layer", "(0, 0.1]"),
    },
    source="derived: sum",
)
def layer_radius_m(rod_radius_m: Real, thickness_m: Real) -> Real:
    """Radius of a rod with a layer on it.

    Example
    -------
    >>> round(layer_radius_m(0.007, 0.0005), 4)
    0.0075
    """
    return rod_radius_m + thickness_m


@formula(
    equation="R_e = (R**2 + a**2 - d**2 + sqrt(((R + a)**2 - d**2)*((R - a)**2 - d**2)))/(2*R)",
    gives=_EQUIVALENT,
    where={
        "rod_radius_m": _ROD,
        "tank_radius_m": ("R", "inside radius of the tank", "(0, 100]"),
        "off_axis_m": ("d", "axis of the rod from the axis of the tank", "[0, 100)"),
    },
    requires=(("a + d < R", "the rod does not touch the wall"),),
    source=_FIELD,
)
def off_axis_radius_m(rod_radius_m: Real, tank_radius_m: Real, off_axis_m: Real) -> Real:
    """A rod anywhere in a round tank; exact away from its ends.

    Example
    -------
    >>> round(float(off_axis_radius_m(0.005, 1.5, 0.9)), 5)
    0.95999
    """
    outer = (tank_radius_m + rod_radius_m) ** 2 - off_axis_m**2
    inner = (tank_radius_m - rod_radius_m) ** 2 - off_axis_m**2
    return (tank_radius_m**2 + rod_radius_m**2 - off_axis_m**2 + np.sqrt(outer * inner)) / (2 * tank_radius_m)


@formula(
    equation="R_e = D + sqrt((D - a)*(D + a))",
    gives=_EQUIVALENT,
    where={
        "rod_radius_m": _ROD,
        "to_wall_m": ("D", "axis of the rod from the wall", "(0, 100]"),
    },
    requires=(("a < D", "the rod does not touch the wall"),),
    source=_FIELD,
)
def before_wall_radius_m(rod_radius_m: Real, to_wall_m: Real) -> Real:
    """A rod before a flat wall that is wide against its distance; exact away from the ends.

    Example
    -------
    >>> round(float(before_wall_radius_m(0.005, 0.3)), 5)
    0.59996
    """
    return to_wall_m + np.sqrt((to_wall_m - rod_radius_m) * (to_wall_m + rod_radius_m))


@formula(
    equation="R_e = (D**2 - a**2 - b**2 + sqrt((D**2 - (a + b)**2)*(D**2 - (a - b)**2)))/(2*b)",
    gives=_EQUIVALENT,
    where={
        "rod_radius_m": _ROD,
        "other_radius_m": ("b", "radius of the other rod, or of its coating", "(0, 1]"),
        "apart_m": ("D", "distance of the two axes", "(0, 10]"),
    },
    requires=(("a + b < D", "the two rods do not touch"),),
    source=_FIELD,
)
def two_rods_radius_m(rod_radius_m: Real, other_radius_m: Real, apart_m: Real) -> Real:
    """Two rods or ropes side by side, far from every wall; exact away from the ends.

    In a tank ten times as wide as they are apart the capacitance is less by one per cent at most.

    Example
    -------
    >>> round(float(two_rods_radius_m(0.007, 0.008, 0.15)), 4)
    2.7984
    """
    sum_, difference = rod_radius_m + other_radius_m, rod_radius_m - other_radius_m
    root = np.sqrt((apart_m**2 - sum_**2) * (apart_m**2 - difference**2))
    return (apart_m**2 - rod_radius_m**2 - other_radius_m**2 + root) / (2 * other_radius_m)


@formula(
    equation="R_e = 0.5393526*S",
    gives=_EQUIVALENT,
    where={"side_m": ("S", "side of the square section", "(0, 200]")},
    source=f"{_MAP} of the square, S/K(k^2 = 1/2), K = 1.8540747",
)
def square_radius_m(side_m: Real) -> Real:
    """A thin rod on the axis of a square tank; 1.8e-6 off for a rod of a hundredth of the side.

    Example
    -------
    >>> square_radius_m(1.0)
    0.5393526
    """
    return 0.5393526 * side_m


@formula(
    equation="R_e = 2*W/pi",
    gives=_EQUIVALENT,
    where={"gap_m": ("W", "gap between the two walls", "(0, 100]")},
    source=f"{_MAP} of the strip between two planes",
)
def between_walls_radius_m(gap_m: Real) -> Real:
    """A thin rod midway between two parallel walls, such as the slice of a lying cylinder; 1e-4 off.

    Example
    -------
    >>> round(float(between_walls_radius_m(2.0)), 5)
    1.27324
    """
    return 2 * gap_m / np.pi


@formula(
    method="line charge and its images in the four walls of the rectangle: ln(R_e) = ln(2*W/pi*sin(pi*y/W)) + "
    "sum of g(2*n*L), n not 0, - sum of g(2*x + 2*n*L), g(t) = ln(1 + sin(pi*y/W)**2/sinh(pi*t/(2*W))**2)/2, W the "
    "shorter side",
    gives=_EQUIVALENT,
    where={
        "rod_radius_m": _ROD,
        "width_m": ("B", "width of the section", "(0, 200]"),
        "length_m": ("L", "length of the section", "(0, 500]"),
        "to_side_m": ("y", "axis of the rod from the nearer wall along the length", "(0, 100]"),
        "to_end_m": ("x", "axis of the rod from the nearer wall across the length", "(0, 250]"),
    },
    requires=(
        ("5*a <= y", "a rod within five radii of a wall is not thin: state the equivalent radius"),
        ("5*a <= B - y", "a rod within five radii of a wall is not thin: state the equivalent radius"),
        ("5*a <= x", "a rod within five radii of an end is not thin: state the equivalent radius"),
        ("5*a <= L - x", "a rod within five radii of an end is not thin: state the equivalent radius"),
    ),
    source="derived: image charges of a thin rod",
)
def in_rectangle_radius_m(rod_radius_m: Real, width_m: Real, length_m: Real, to_side_m: Real, to_end_m: Real) -> Real:
    """A thin rod anywhere in a rectangular section: a box, or the slice of a lying vessel.

    The radius of the rod says only where that holds: the capacitance is 1e-9 off in the middle, 4e-6 eighty radii from
    a wall, 2.6e-3 five radii from two walls.

    Example
    -------
    >>> round(float(in_rectangle_radius_m(0.005, 1.0, 1.0, 0.5, 0.5)), 7)
    0.5393526
    """
    across = np.asarray(width_m <= length_m)
    wide, long = np.where(across, width_m, length_m), np.where(across, length_m, width_m)
    side, end = np.where(across, to_side_m, to_end_m), np.where(across, to_end_m, to_side_m)
    share = np.sin(np.pi * side / wide)
    found = np.log(2 * wide / np.pi * share)
    for number in range(-_IMAGES, _IMAGES + 1):
        found = found - _between_walls(share, 2 * end + 2 * number * long, wide)
        if number:
            found = found + _between_walls(share, 2 * number * long, wide)
    return same_kind(np.exp(found) + 0.0 * rod_radius_m)


def _between_walls(share: Real, apart_m: Real, gap_m: Real) -> Real:
    """Potential of a line charge between two walls as far along them as `apart_m`, at its own distance from both."""
    reach = np.minimum(np.abs(np.pi * apart_m / (2 * gap_m)), _FAR)
    return 0.5 * np.log1p((share / np.sinh(reach)) ** 2)


@formula(
    equation="R_e = 2*D*sqrt(1 + (2*D/B)**2)",
    gives=_EQUIVALENT,
    where={
        "to_strip_m": ("D", "axis of the rod from the strip", "(0, 10]"),
        "strip_width_m": ("B", "width of the strip", "(0, 100]"),
    },
    source=f"{_MAP} of the plane round a strip",
)
def before_strip_radius_m(to_strip_m: Real, strip_width_m: Real) -> Real:
    """A thin rod before the middle of an earthed flat strip, far from every wall.

    Capacitance 3.5e-4 low where the axis lies 20 radii off the strip, 1.7e-3 low at 10.

    Example
    -------
    >>> round(float(before_strip_radius_m(0.1, 0.2)), 5)
    0.28284
    """
    return 2 * to_strip_m * np.sqrt(1 + (2 * to_strip_m / strip_width_m) ** 2)


@formula(
    equation="R_e = R*exp(-ln(R/D)**2/ln((R**2 - D**2)/(R*b)))",
    gives=_EQUIVALENT,
    where={
        "tank_radius_m": ("R", "inside radius of the tank", "(0, 100]"),
        "other_radius_m": ("b", "radius of the earthed rod", "(0, 1]"),
        "apart_m": ("D", "distance of the two axes", "(0, 10]"),
    },
    requires=(("2*b < D", "the rods do not touch"), ("D + 2*b < R", "the earthed rod stands in the tank")),
    source="derived: line charges and their images in the wall; thin rods",
)
def rod_in_tank_radius_m(tank_radius_m: Real, other_radius_m: Real, apart_m: Real) -> Real:
    """A thin rod on the axis of a metal tank with an earthed rod beside it: both are earth.

    Example
    -------
    >>> round(float(rod_in_tank_radius_m(1.15, 0.008, 0.15)), 3)
    0.497
    """
    beside = np.log(tank_radius_m / apart_m)
    return tank_radius_m * np.exp(
        -(beside**2) / np.log((tank_radius_m**2 - apart_m**2) / (tank_radius_m * other_radius_m))
    )


@formula(
    equation="t = (d_2 - d_1)/2",
    gives=("t", "thickness of the coating"),
    where={
        "coating_diameter_m": ("d_2", "outside diameter of the coating", "(0, 1]"),
        "core_diameter_m": ("d_1", "diameter of the core", "(0, 1]"),
    },
    requires=(("d_1 < d_2", "a coating has a thickness"),),
    source="derived: difference of radii",
)
def coating_thickness_m(coating_diameter_m: Real, core_diameter_m: Real) -> Real:
    """Of the coating of a rod.

    Example
    -------
    >>> round(coating_thickness_m(0.014, 0.010), 6)
    0.002
    """
    return (coating_diameter_m - core_diameter_m) / 2
