"""A ring float (a torus around the stem), at rest in still liquid.

Heights on the float count from its lowest line. The stem stands free in the middle of the ring.
"""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real, monotone_root, same_kind
from onedatum.foundation.working import formula
from onedatum.physics.floats.segment import half_angle_rad, segment_share

_TUBE = ("r", "radius of the tube of the ring", "(0, 0.5]")
_CENTRE = ("R", "radius of the centre line of the ring", "(0, 1]")
_CLOSED = ("R > r", "the ring leaves room for the stem")
_IMMERSION = ("x", "immersion, from the bottom of the float to the surface", "[0, 1]")
_WITHIN = ("x <= 2*r", "a float that floats is not immersed deeper than its height")


@formula(
    equation="R = (D - H)/2",
    gives=("R", "radius of the centre line of the ring"),
    where={
        "diameter_m": ("D", "outside diameter of the float", "(0, 3]"),
        "height_m": ("H", "height of the float, the thickness of the ring", "(0, 1]"),
    },
    requires=(("H < D/2", "the ring leaves room for the stem"),),
    source="derived: ring",
)
def ring_centre_radius_m(diameter_m: Real, height_m: Real) -> Real:
    """Radius of the centre line of a ring by its outside diameter and its height.

    Example
    -------
    >>> round(ring_centre_radius_m(0.084, 0.024), 3)
    0.03
    """
    return (diameter_m - height_m) / 2


@formula(
    equation="H = 2*r",
    gives=("H", "height of the float"),
    where={"tube_radius_m": _TUBE},
    source="derived: circle",
)
def ring_height_m(tube_radius_m: Real) -> Real:
    """Height of a ring float.

    Example
    -------
    >>> ring_height_m(0.012)
    0.024
    """
    return 2 * tube_radius_m


@formula(
    equation="V = 2*pi**2*R*r**2",
    gives=("V", "volume of the float"),
    where={"tube_radius_m": _TUBE, "centre_radius_m": _CENTRE},
    requires=(_CLOSED,),
    source="derived: Pappus, section times the way of its centre",
)
def ring_volume_m3(tube_radius_m: Real, centre_radius_m: Real) -> Real:
    """Volume of a ring float.

    Example
    -------
    >>> round(ring_volume_m3(0.012, 0.030), 10)
    8.52734e-05
    """
    return 2 * np.pi**2 * centre_radius_m * tube_radius_m**2


@formula(
    equation="V_i = 2*pi*R*(r**2*acos(1 - x/r) - (r - x)*sqrt(x*(2*r - x)))",
    gives=("V_i", "volume below the surface"),
    where={"immersion_m": _IMMERSION, "tube_radius_m": _TUBE, "centre_radius_m": _CENTRE},
    requires=(_CLOSED, _WITHIN),
    source="derived: Pappus, segment of a circle times the way of its centre",
)
def ring_submerged_m3(immersion_m: Real, tube_radius_m: Real, centre_radius_m: Real) -> Real:
    """Volume of a ring float below the surface.

    Example
    -------
    >>> float(round(ring_submerged_m3(0.012, 0.012, 0.030) / ring_volume_m3(0.012, 0.030), 12))
    0.5
    """
    segment = tube_radius_m**2 * segment_share(half_angle_rad(immersion_m, tube_radius_m))
    return same_kind(2 * np.pi * centre_radius_m * segment)


@formula(
    equation="A = 4*pi*R*sqrt(x*(2*r - x))",
    gives=("A", "area of the waterline"),
    where={"immersion_m": _IMMERSION, "tube_radius_m": _TUBE, "centre_radius_m": _CENTRE},
    requires=(_CLOSED, _WITHIN),
    source="derived: ring between the two circles of the waterline",
)
def ring_waterplane_m2(immersion_m: Real, tube_radius_m: Real, centre_radius_m: Real) -> Real:
    """Area of the waterline of a ring float.

    Example
    -------
    >>> round(float(ring_waterplane_m2(0.012, 0.012, 0.030)), 7)
    0.0045239
    """
    return 4 * np.pi * centre_radius_m * np.sqrt(np.maximum(immersion_m * (2 * tube_radius_m - immersion_m), 0.0))


@formula(
    residual="(rho_l - rho_g)*V_i(x, r, R) - (m - rho_g*V(r, R))",
    gives=("x", "immersion, from the bottom of the float to the surface"),
    where={
        "mass_kg": ("m", "mass of the float, magnets included", "(0, 50]"),
        "tube_radius_m": _TUBE,
        "centre_radius_m": _CENTRE,
        "liquid_density_kg_per_m3": ("rho_l", "density of the liquid", "(0, 20000]"),
        "gas_density_kg_per_m3": ("rho_g", "density of the gas above it", "[0, 1000]"),
    },
    requires=(
        _CLOSED,
        ("rho_l > rho_g", "a float rests between a denser liquid and a lighter gas"),
        ("m < rho_l*V(r, R)", "a float denser than the liquid sinks"),
        ("m > rho_g*V(r, R)", "a float lighter than the gas does not rest on the liquid"),
    ),
    calls={"V": ring_volume_m3, "V_i": ring_submerged_m3},
    source="archimedes: the weight equals the liquid and the gas displaced",
)
def ring_immersion_m(
    mass_kg: Real,
    tube_radius_m: Real,
    centre_radius_m: Real,
    liquid_density_kg_per_m3: Real,
    gas_density_kg_per_m3: Real,
) -> Real:
    """Immersion of a ring float.

    No friction on the stem, no deposit, no wetting force: a float at rest in still liquid.

    Example
    -------
    >>> float(round(ring_immersion_m(0.055, 0.012, 0.030, 850.0, 0.0), 6))
    0.01703
    """
    volume = ring_volume_m3(tube_radius_m, centre_radius_m)
    displaced = (mass_kg - gas_density_kg_per_m3 * volume) / (liquid_density_kg_per_m3 - gas_density_kg_per_m3)
    share = np.asarray(displaced / volume)
    angle = monotone_root(
        lambda at: segment_share(at) / np.pi, lambda at: 2 * np.sin(at) ** 2 / np.pi, share, 0.0, np.pi
    )
    return same_kind(2 * tube_radius_m * np.sin(angle / 2) ** 2)
