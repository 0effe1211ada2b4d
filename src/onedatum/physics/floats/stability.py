"""Whether a float stands upright by itself: metacentric height, and the lean that its stem leaves it.

Centres count from the bottom of the float.
"""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real, same_kind
from onedatum.foundation.working import formula
from onedatum.physics.floats.segment import half_angle_rad, segment_share

_IMMERSION = ("x", "immersion, from the bottom of the float to the surface", "(0, 2]")
_HEIGHT = ("H", "height of the float, the length of its bore", "(0, 1]")
_TUBE = ("r", "radius of the tube of the ring", "(0, 0.5]")
_CENTRE = ("R", "radius of the centre line of the ring", "(0, 1]")
_HALF_WIDTH = ("c", "half the width of the waterline", "[0, 0.5]")


@formula(
    equation="r_w = sqrt((D/2)**2 - (x - H/2)**2)",
    gives=("r_w", "outside radius of the waterline"),
    where={
        "immersion_m": _IMMERSION,
        "diameter_m": ("D", "outside diameter of the ball", "(0, 1]"),
        "height_m": _HEIGHT,
    },
    requires=(
        ("x <= H", "a float that floats is not immersed deeper than its height"),
        ("D > H", "the bore goes through the ball"),
    ),
    source="derived: circle of the ball at the surface",
)
def bored_sphere_waterline_radius_m(immersion_m: Real, diameter_m: Real, height_m: Real) -> Real:
    """Outside radius of the waterline of a ball with a bore.

    Example
    -------
    >>> float(round(bored_sphere_waterline_radius_m(0.0375, 0.0762, 0.075), 6))
    0.0381
    """
    return np.sqrt((diameter_m / 2) ** 2 - (immersion_m - height_m / 2) ** 2)


@formula(
    equation="c = sqrt(x*(2*r - x))",
    gives=("c", "half the width of the waterline of a ring"),
    where={"immersion_m": _IMMERSION, "tube_radius_m": _TUBE},
    requires=(("x <= 2*r", "a float that floats is not immersed deeper than its height"),),
    source="derived: half chord of the circle of the tube",
)
def ring_half_width_m(immersion_m: Real, tube_radius_m: Real) -> Real:
    """Half the width of the waterline of a ring float, on either side of its centre line.

    Example
    -------
    >>> float(ring_half_width_m(0.012, 0.012))
    0.012
    """
    return np.sqrt(np.maximum(immersion_m * (2 * tube_radius_m - immersion_m), 0.0))


@formula(
    equation="r_o = R + c",
    gives=("r_o", "outside radius of the waterline"),
    where={"centre_radius_m": _CENTRE, "half_width_m": _HALF_WIDTH},
    source="derived: circle of the ring at the surface",
)
def ring_outer_waterline_radius_m(centre_radius_m: Real, half_width_m: Real) -> Real:
    """Outside radius of the waterline of a ring float.

    Example
    -------
    >>> round(ring_outer_waterline_radius_m(0.030, 0.012), 6)
    0.042
    """
    return centre_radius_m + half_width_m


@formula(
    equation="r_i = R - c",
    gives=("r_i", "inside radius of the waterline"),
    where={"centre_radius_m": _CENTRE, "half_width_m": _HALF_WIDTH},
    requires=(("c < R", "the ring leaves room for the stem"),),
    source="derived: circle of the ring at the surface",
)
def ring_inner_waterline_radius_m(centre_radius_m: Real, half_width_m: Real) -> Real:
    """Inside radius of the waterline of a ring float.

    Example
    -------
    >>> round(ring_inner_waterline_radius_m(0.030, 0.012), 6)
    0.018
    """
    return centre_radius_m - half_width_m


@formula(
    equation="I = pi/4*(r_o**4 - r_i**4)",
    gives=("I", "second moment of area of the waterline"),
    where={
        "outer_radius_m": ("r_o", "outside radius of the waterline", "(0, 1]"),
        "inner_radius_m": ("r_i", "inside radius of the waterline", "[0, 1)"),
    },
    requires=(("r_i < r_o", "the waterline is a ring"),),
    source="derived: ring about its diameter",
)
def waterplane_inertia_m4(outer_radius_m: Real, inner_radius_m: Real) -> Real:
    """Second moment of area of the waterline of a float around its stem.

    Example
    -------
    >>> round(waterplane_inertia_m4(0.025, 0.007), 11)
    3.0491e-07
    """
    return np.pi / 4 * (outer_radius_m**4 - inner_radius_m**4)


@formula(
    equation="BM = I/V_i",
    gives=("BM", "metacentre above the centre of buoyancy"),
    where={
        "inertia_m4": ("I", "second moment of area of the waterline", "[0, 1]"),
        "displaced_volume_m3": ("V_i", "volume below the surface", "(0, 2]"),
    },
    source="archimedes: turning moment of small angles",
)
def metacentric_radius_m(inertia_m4: Real, displaced_volume_m3: Real) -> Real:
    """Height of the metacentre above the centre of buoyancy.

    Example
    -------
    >>> round(metacentric_radius_m(3.0491e-07, 7.5e-05), 6)
    0.004065
    """
    return inertia_m4 / displaced_volume_m3


@formula(
    equation="KB = x/2",
    gives=("KB", "centre of buoyancy above the bottom of the float"),
    where={"immersion_m": _IMMERSION},
    source="derived: centroid of a prism",
)
def cylinder_buoyancy_centre_m(immersion_m: Real) -> Real:
    """Centre of buoyancy of a cylindrical float.

    Example
    -------
    >>> cylinder_buoyancy_centre_m(0.19)
    0.095
    """
    return immersion_m / 2


@formula(
    equation="KB = x*(4*H - 3*x)/(6*H - 4*x)",
    gives=("KB", "centre of buoyancy above the bottom of the float"),
    where={"immersion_m": _IMMERSION, "height_m": _HEIGHT},
    requires=(("x <= H", "a float that floats is not immersed deeper than its height"),),
    source="derived: moment of the sections pi*x*(H - x) over their sum",
)
def bored_sphere_buoyancy_centre_m(immersion_m: Real, height_m: Real) -> Real:
    """Centre of buoyancy of a ball with a bore.

    Example
    -------
    >>> round(bored_sphere_buoyancy_centre_m(0.05, 0.05), 6)
    0.025
    """
    return immersion_m * (4 * height_m - 3 * immersion_m) / (6 * height_m - 4 * immersion_m)


@formula(
    method=(
        "centroid of the immersed segment of the tube, all around alike: r - 2/3*c^3/S, with the half chord c and the "
        "segment S"
    ),
    gives=("KB", "centre of buoyancy above the bottom of the float"),
    where={
        "immersion_m": ("x", "immersion", "[1e-6, 1]"),
        "tube_radius_m": ("r", "radius of the tube of the ring", "[0.0001, 0.5]"),
    },
    requires=(("x <= 2*r", "a float that floats is not immersed deeper than its height"),),
    source="derived: centroid of a segment of a circle",
)
def ring_buoyancy_centre_m(immersion_m: Real, tube_radius_m: Real) -> Real:
    """Centre of buoyancy of a ring float.

    Example
    -------
    >>> float(round(ring_buoyancy_centre_m(0.024, 0.012), 6))
    0.012
    """
    angle = half_angle_rad(immersion_m, tube_radius_m)
    return same_kind(tube_radius_m * (1 - 2 / 3 * np.sin(angle) ** 3 / segment_share(angle)))


@formula(
    equation="GM = KB + BM - KG",
    gives=("GM", "metacentric height: upright by itself where it is positive"),
    where={
        "buoyancy_centre_m": ("KB", "centre of buoyancy above the bottom", "[0, 2]"),
        "metacentric_radius_m": ("BM", "metacentre above the centre of buoyancy", "[0, 10]"),
        "gravity_centre_m": ("KG", "centre of gravity above the bottom", "[0, 2]"),
    },
    source="archimedes: initial stability",
)
def metacentric_height_m(buoyancy_centre_m: Real, metacentric_radius_m: Real, gravity_centre_m: Real) -> Real:
    """Metacentric height of a float; below zero it leans against its stem or its chamber.

    Example
    -------
    >>> round(metacentric_height_m(0.095, 0.00075, 0.130), 5)
    -0.03425
    """
    return buoyancy_centre_m + metacentric_radius_m - gravity_centre_m


@formula(
    equation="theta = asin(c/L)",
    gives=("theta", "largest lean of the float"),
    where={
        "clearance_m": ("c", "play: diameter of the bore less that of the stem", "[0, 1]"),
        "guided_length_m": ("L", "length of the bore", "[0.0001, 2]"),
    },
    requires=(("c <= L", "a bore shorter than its play does not guide"),),
    source="derived: the bore touches the stem at both its rims, right triangle of play and bore",
)
def lean_rad(clearance_m: Real, guided_length_m: Real) -> Real:
    """Largest lean that the play of a float on its stem leaves it.

    Upper bound: a bore that leans is also a little narrower, which counts where the play is large.

    Example
    -------
    >>> float(round(lean_rad(0.004, 0.060), 4))
    0.0667
    """
    return np.arcsin(clearance_m / guided_length_m)
