"""A cylindrical float with a bore for the stem, at rest in still liquid.

Heights on the float count from its bottom face. The bore is flooded, so it displaces nothing.
"""

from __future__ import annotations

import math

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_SECTION = ("A", "section of the float less its bore", "(0, 1]")
_HEIGHT = ("H", "height of the float", "(0, 2]")
_MASS = ("m", "mass of the float, magnets included", "(0, 50]")
_IMMERSION = ("x", "immersion, from the bottom of the float to the surface", "[0, 2]")
_LIQUID = ("rho_l", "density of the liquid", "(0, 20000]")
_BETWEEN = ("rho_l > rho_g", "a float rests between a denser liquid and a lighter gas")


@formula(
    equation="A = pi/4*(D**2 - d**2)",
    gives=("A", "section of the float less its bore"),
    where={
        "diameter_m": ("D", "outside diameter of the float", "(0, 1]"),
        "bore_m": ("d", "diameter of the bore", "[0, 1)"),
    },
    requires=(("d < D", "the bore goes through the float"),),
    source="derived: ring",
)
def cylinder_section_m2(diameter_m: Real, bore_m: Real) -> Real:
    """Section of a cylindrical float.

    Example
    -------
    >>> round(cylinder_section_m2(0.050, 0.014), 7)
    0.0018096
    """
    return math.pi / 4 * (diameter_m**2 - bore_m**2)


@formula(
    equation="V = A*H",
    gives=("V", "volume of the float"),
    where={
        "section_m2": _SECTION,
        "height_m": _HEIGHT,
    },
    source="derived: prism",
)
def cylinder_volume_m3(section_m2: Real, height_m: Real) -> Real:
    """Volume of a cylindrical float.

    Flat ends are taken; a dished or chamfered end displaces less.

    Example
    -------
    >>> round(cylinder_volume_m3(0.0018096, 0.060), 9)
    0.000108576
    """
    return section_m2 * height_m


@formula(
    equation="rho_f = m/V",
    gives=("rho_f", "mean density of the float: in a lighter liquid it sinks"),
    where={
        "mass_kg": _MASS,
        "volume_m3": ("V", "volume of the float", "(0, 2]"),
    },
    source="archimedes",
)
def mean_density_kg_per_m3(mass_kg: Real, volume_m3: Real) -> Real:
    """Mean density of a float.

    Example
    -------
    >>> round(mean_density_kg_per_m3(0.075, 0.000108576), 1)
    690.8
    """
    return mass_kg / volume_m3


@formula(
    equation="x = (m - rho_g*A*H)/((rho_l - rho_g)*A)",
    gives=("x", "immersion, from the bottom of the float to the surface"),
    where={
        "mass_kg": _MASS,
        "section_m2": _SECTION,
        "height_m": _HEIGHT,
        "liquid_density_kg_per_m3": _LIQUID,
        "gas_density_kg_per_m3": ("rho_g", "density of the gas above it", "[0, 1000]"),
    },
    requires=(
        _BETWEEN,
        ("m < rho_l*A*H", "a float denser than the liquid sinks"),
        ("m > rho_g*A*H", "a float lighter than the gas does not rest on the liquid"),
    ),
    source="archimedes: the weight equals the liquid and the gas displaced",
)
def cylinder_immersion_m(
    mass_kg: Real, section_m2: Real, height_m: Real, liquid_density_kg_per_m3: Real, gas_density_kg_per_m3: Real
) -> Real:
    """Immersion of a cylindrical float.

    No friction on the stem, no deposit, no wetting force: a float at rest in still liquid.

    Example
    -------
    >>> round(cylinder_immersion_m(0.075, 0.0018096, 0.060, 790.0, 12.0), 5)
    0.05235
    """
    displaced_gas_kg = gas_density_kg_per_m3 * section_m2 * height_m
    return (mass_kg - displaced_gas_kg) / ((liquid_density_kg_per_m3 - gas_density_kg_per_m3) * section_m2)


@formula(
    equation="f = H - x",
    gives=("f", "freeboard, from the surface to the top of the float"),
    where={
        "height_m": _HEIGHT,
        "immersion_m": _IMMERSION,
    },
    requires=(("x <= H", "a float that floats is not immersed deeper than its height"),),
    source="derived: heights on the float",
)
def freeboard_m(height_m: Real, immersion_m: Real) -> Real:
    """Freeboard of a float.

    Example
    -------
    >>> round(freeboard_m(0.060, 0.0417), 4)
    0.0183
    """
    return height_m - immersion_m


@formula(
    equation="z_w = x - z_m",
    gives=("z_w", "surface above the magnet plane, negative where it lies below"),
    where={
        "immersion_m": _IMMERSION,
        "magnet_height_m": ("z_m", "magnet plane above the bottom of the float", "[0, 2]"),
    },
    source="derived: heights on the float",
)
def waterline_above_magnet_m(immersion_m: Real, magnet_height_m: Real) -> Real:
    """Height of the surface above the magnet plane.

    The instrument senses the magnet plane; this is what is added to get the level.

    Example
    -------
    >>> round(waterline_above_magnet_m(0.0409, 0.0300), 4)
    0.0109
    """
    return immersion_m - magnet_height_m


@formula(
    equation="r = (rho_m - rho_g)/(rho_l - rho_g)",
    gives=("r", "share of the float that the liquid must carry; at 1 it sinks"),
    where={
        "float_density_kg_per_m3": ("rho_m", "mean density of the float", "(0, 30000]"),
        "liquid_density_kg_per_m3": _LIQUID,
        "gas_density_kg_per_m3": ("rho_g", "density of the gas above", "[0, 1000]"),
    },
    requires=(_BETWEEN,),
    source="archimedes: the immersed share of a float of one section",
)
def density_ratio(float_density_kg_per_m3: Real, liquid_density_kg_per_m3: Real, gas_density_kg_per_m3: Real) -> Real:
    """Density of a float over that of the liquid, the gas counted.

    Example
    -------
    >>> round(density_ratio(611.09, 877.814, 1.2), 4)
    0.6957
    """
    return (float_density_kg_per_m3 - gas_density_kg_per_m3) / (liquid_density_kg_per_m3 - gas_density_kg_per_m3)


@formula(
    equation="m = r_max - r",
    gives=("m", "margin of a ratio to its limit"),
    where={
        "limit": ("r_max", "largest ratio", "[-1000, 1000]"),
        "value": ("r", "ratio", "[-1000, 1000]"),
    },
    source="derived: difference",
)
def ratio_margin(limit: Real, value: Real) -> Real:
    """Margin of a ratio to its limit.

    Example
    -------
    >>> round(ratio_margin(0.85, 0.6957), 4)
    0.1543
    """
    return limit - value
