"""The tube of a stem: its section, its stiffness, its mass in air and in liquid."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_OUTER = ("d_o", "outside diameter of the stem", "(0, 0.5]")
_INNER = ("d_i", "inside diameter of the tube", "[0, 0.5)")
_HOLLOW = (("d_i < d_o", "a tube has a wall"),)


@formula(
    equation="I = pi/64*(d_o**4 - d_i**4)",
    gives=("I", "second moment of area of the tube"),
    where={"outside_diameter_m": _OUTER, "inside_diameter_m": _INNER},
    requires=_HOLLOW,
    source="derived: ring about its diameter",
)
def tube_second_moment_m4(outside_diameter_m: Real, inside_diameter_m: Real) -> Real:
    """Second moment of area of a tube.

    Example
    -------
    >>> round(tube_second_moment_m4(0.012, 0.010) * 1e12, 1)
    527.0
    """
    return np.pi / 64 * (outside_diameter_m**4 - inside_diameter_m**4)


@formula(
    equation="B = E*I",
    gives=("B", "bending stiffness"),
    where={
        "elastic_modulus_Pa": ("E", "elastic modulus of the stem", "[1e6, 1e12]"),
        "second_moment_m4": ("I", "second moment of area of the tube", "(0, 0.01]"),
    },
    source="euler-bernoulli",
)
def bending_stiffness_N_m2(elastic_modulus_Pa: Real, second_moment_m4: Real) -> Real:
    """Bending stiffness of a stem.

    Example
    -------
    >>> round(bending_stiffness_N_m2(193e9, 527.0e-12), 1)
    101.7
    """
    return elastic_modulus_Pa * second_moment_m4


@formula(
    equation="m = rho*pi/4*(d_o**2 - d_i**2)",
    gives=("m", "mass per length in air"),
    where={
        "metal_density_kg_per_m3": ("rho", "density of the stem", "(0, 30000]"),
        "outside_diameter_m": _OUTER,
        "inside_diameter_m": _INNER,
    },
    requires=_HOLLOW,
    source="derived: ring",
)
def line_mass_kg_per_m(metal_density_kg_per_m3: Real, outside_diameter_m: Real, inside_diameter_m: Real) -> Real:
    """Mass of an empty tube per length.

    Example
    -------
    >>> round(line_mass_kg_per_m(7900.0, 0.012, 0.010), 4)
    0.273
    """
    return metal_density_kg_per_m3 * np.pi / 4 * (outside_diameter_m**2 - inside_diameter_m**2)


@formula(
    equation="m = pi/4*(rho*(d_o**2 - d_i**2) + rho_l*d_o**2)",
    gives=("m", "mass per length that moves in the liquid"),
    where={
        "metal_density_kg_per_m3": ("rho", "density of the stem", "(0, 30000]"),
        "liquid_density_kg_per_m3": ("rho_l", "density of the liquid", "[0, 20000]"),
        "outside_diameter_m": _OUTER,
        "inside_diameter_m": _INNER,
    },
    requires=_HOLLOW,
    source="derived: the tube and the liquid it displaces, which moves along",
)
def line_mass_in_liquid_kg_per_m(
    metal_density_kg_per_m3: Real,
    liquid_density_kg_per_m3: Real,
    outside_diameter_m: Real,
    inside_diameter_m: Real,
) -> Real:
    """Mass per length of a stem that swings in a liquid: its own and that of the liquid it displaces.

    Example
    -------
    >>> round(line_mass_in_liquid_kg_per_m(7900.0, 998.0, 0.012, 0.010), 4)
    0.3859
    """
    metal = metal_density_kg_per_m3 * (outside_diameter_m**2 - inside_diameter_m**2)
    return np.pi / 4 * (metal + liquid_density_kg_per_m3 * outside_diameter_m**2)
