"""A spherical float with a bore for the stem, at rest in still liquid.

The bore takes the two caps off the ball: what is left is as high as the bore is long, and heights on the float count
from the lower rim of the bore. The bore is flooded, so it displaces nothing.
"""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_HEIGHT = ("H", "height of the float, the length of its bore", "(0, 1]")


@formula(
    equation="H = sqrt(D**2 - d**2)",
    gives=("H", "height of the float, the length of its bore"),
    where={
        "diameter_m": ("D", "outside diameter of the ball", "(0, 1]"),
        "bore_m": ("d", "diameter of the bore", "[0, 1)"),
    },
    requires=(("d < D", "the bore goes through the ball"),),
    source="derived: chord of a circle",
)
def bored_sphere_height_m(diameter_m: Real, bore_m: Real) -> Real:
    """Height of a ball with a bore through its middle.

    Example
    -------
    >>> float(round(bored_sphere_height_m(0.0762, 0.01524), 6))
    0.07466
    """
    return np.sqrt(diameter_m**2 - bore_m**2)


@formula(
    equation="z_m = H/2",
    gives=("z_m", "magnet plane above the bottom of the float"),
    where={"height_m": ("H", "height of the float", "(0, 2]")},
    source="derived: the magnet sits at the centre",
)
def half_height_m(height_m: Real) -> Real:
    """Height of a magnet plane at the centre of a float.

    Example
    -------
    >>> half_height_m(0.06)
    0.03
    """
    return height_m / 2


@formula(
    equation="V = pi*H**3/6",
    gives=("V", "volume of the float"),
    where={"height_m": _HEIGHT},
    source="derived: a bored ball has the volume of a ball as high as its bore is long",
)
def bored_sphere_volume_m3(height_m: Real) -> Real:
    """Volume of a ball less its bore.

    Example
    -------
    >>> round(bored_sphere_volume_m3(0.07466), 8)
    0.0002179
    """
    return np.pi * height_m**3 / 6


@formula(
    equation="x = H*(1/2 - sin(asin(1 - 2*(m - rho_g*V)/((rho_l - rho_g)*V))/3))",
    gives=("x", "immersion, from the bottom of the float to the surface"),
    where={
        "mass_kg": ("m", "mass of the float, magnets included", "(0, 50]"),
        "volume_m3": ("V", "volume of the float", "(0, 1]"),
        "height_m": _HEIGHT,
        "liquid_density_kg_per_m3": ("rho_l", "density of the liquid", "(0, 20000]"),
        "gas_density_kg_per_m3": ("rho_g", "density of the gas above it", "[0, 1000]"),
    },
    requires=(
        ("rho_l > rho_g", "a float rests between a denser liquid and a lighter gas"),
        ("m < rho_l*V", "a float denser than the liquid sinks"),
        ("m > rho_g*V", "a float lighter than the gas does not rest on the liquid"),
    ),
    source="archimedes: immersed volume pi*(H*x**2/2 - x**3/3) of a bored ball, its cubic solved",
)
def bored_sphere_immersion_m(
    mass_kg: Real, volume_m3: Real, height_m: Real, liquid_density_kg_per_m3: Real, gas_density_kg_per_m3: Real
) -> Real:
    """Immersion of a spherical float with a bore.

    No friction on the stem, no deposit, no wetting force: a float at rest in still liquid.

    Example
    -------
    >>> float(round(bored_sphere_immersion_m(0.153, 0.0002179, 0.07466, 1051.0, 1.2), 5))
    0.04582
    """
    displaced = mass_kg - gas_density_kg_per_m3 * volume_m3
    share = displaced / ((liquid_density_kg_per_m3 - gas_density_kg_per_m3) * volume_m3)
    return height_m * (0.5 - np.sin(np.arcsin(1 - 2 * share) / 3))
