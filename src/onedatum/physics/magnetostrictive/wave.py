"""Speed of the torsional pulse in the wire of a stem, from the constants of its material, and what warmth does to it.

A twist runs along a wire at the root of shear modulus over density. That is slower than the longitudinal wave in a bar
and not to be mistaken for it.
"""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_MODULUS = ("G", "shear modulus of the wire", "[1e9, 5e11]")
_DENSITY = ("rho", "density of the wire", "[500, 25000]")
_SPEED = ("v", "speed of the pulse", "[100, 10000]")
_SLOWNESS = ("s", "time of the pulse per length", "[1e-4, 0.01]")
_CRYSTAL = {
    "c11_Pa": ("C_11", "elastic constant of the cubic crystal, along an axis", "[1e9, 1e12]"),
    "c12_Pa": ("C_12", "elastic constant of the cubic crystal, across two axes", "[-5e11, 1e12)"),
    "c44_Pa": ("C_44", "elastic constant of the cubic crystal, in shear", "[1e9, 1e12]"),
}
_STABLE = (
    ("C_12 < C_11", "a crystal resists shear along its diagonals"),
    ("C_12 > -C_11/2", "a crystal resists pressure"),
)
_MODULUS_COEFFICIENT = ("b_G", "change of the shear modulus as a share per kelvin", "[-0.001, 0.001]")
_EXPANSION = ("a", "linear expansion of the wire", "[-2e-5, 2e-4]")
_DIFFERENCE = ("dT", "temperature less that at which the speed holds", "[-300, 800]")


@formula(
    equation="v = sqrt(G/rho)",
    gives=("v", "speed of the pulse"),
    where={"shear_modulus_Pa": _MODULUS, "density_kg_per_m3": _DENSITY},
    source="graff-memory: round rod or tube, the same at every frequency",
)
def torsional_speed_m_per_s(shear_modulus_Pa: Real, density_kg_per_m3: Real) -> Real:
    """Speed of a torsional pulse in a round wire or tube.

    Example
    -------
    >>> round(float(torsional_speed_m_per_s(65.5e9, 8050.0)), 2)
    2852.48
    """
    result: Real = np.sqrt(shear_modulus_Pa / density_kg_per_m3)
    return result


@formula(
    equation="v = sqrt(G*J/(rho*I_p))",
    gives=("v", "speed of the pulse"),
    where={
        "shear_modulus_Pa": _MODULUS,
        "density_kg_per_m3": _DENSITY,
        "torsion_constant_m4": ("J", "torsion constant of the section", "(0, 0.01]"),
        "polar_moment_m4": ("I_p", "polar moment of area of the section", "(0, 0.01]"),
    },
    requires=(("J <= I_p", "no section is stiffer in torsion than a round one of the same polar moment"),),
    source="graff-memory: rod of any section, wave long beside it",
)
def section_speed_m_per_s(
    shear_modulus_Pa: Real, density_kg_per_m3: Real, torsion_constant_m4: Real, polar_moment_m4: Real
) -> Real:
    """Speed of a torsional pulse in a wire or ribbon that is not round: slower than in a round one.

    Example
    -------
    >>> round(float(section_speed_m_per_s(65.5e9, 8050.0, 0.1406e-12, 0.16667e-12)), 1)
    2619.9
    """
    result: Real = np.sqrt(shear_modulus_Pa * torsion_constant_m4 / (density_kg_per_m3 * polar_moment_m4))
    return result


@formula(
    equation="G_V = (C_11 - C_12 + 3*C_44)/5",
    gives=("G_V", "upper bound of the shear modulus of many crystals at random"),
    where=_CRYSTAL,
    requires=_STABLE,
    source="hill-1952: bound of Voigt, the same strain in every crystal",
)
def voigt_shear_modulus_Pa(c11_Pa: Real, c12_Pa: Real, c44_Pa: Real) -> Real:
    """Upper bound of the shear modulus of a metal of cubic crystals without texture.

    Example
    -------
    >>> round(voigt_shear_modulus_Pa(196e9, 156e9, 123e9) / 1e9, 3)
    81.8
    """
    return (c11_Pa - c12_Pa + 3 * c44_Pa) / 5


@formula(
    equation="G_R = 5*(C_11 - C_12)*C_44/(4*C_44 + 3*(C_11 - C_12))",
    gives=("G_R", "lower bound of the shear modulus of many crystals at random"),
    where=_CRYSTAL,
    requires=_STABLE,
    source="hill-1952: bound of Reuss, the same stress in every crystal",
)
def reuss_shear_modulus_Pa(c11_Pa: Real, c12_Pa: Real, c44_Pa: Real) -> Real:
    """Lower bound of the shear modulus of a metal of cubic crystals without texture.

    Example
    -------
    >>> round(reuss_shear_modulus_Pa(196e9, 156e9, 123e9) / 1e9, 3)
    40.196
    """
    across_Pa = c11_Pa - c12_Pa
    return 5 * across_Pa * c44_Pa / (4 * c44_Pa + 3 * across_Pa)


@formula(
    equation="G = ((C_11 - C_12 + 3*C_44)/5 + 5*(C_11 - C_12)*C_44/(4*C_44 + 3*(C_11 - C_12)))/2",
    gives=("G", "shear modulus of many crystals at random"),
    where=_CRYSTAL,
    requires=_STABLE,
    source="hill-1952: mean of the bounds of Voigt and Reuss",
)
def averaged_shear_modulus_Pa(c11_Pa: Real, c12_Pa: Real, c44_Pa: Real) -> Real:
    """Shear modulus of a metal of cubic crystals without texture: half way between its bounds.

    A drawn wire has a texture; along some directions its modulus may lie even outside of the bounds.

    Example
    -------
    >>> round(averaged_shear_modulus_Pa(196e9, 156e9, 123e9) / 1e9, 3)
    60.998
    """
    return (voigt_shear_modulus_Pa(c11_Pa, c12_Pa, c44_Pa) + reuss_shear_modulus_Pa(c11_Pa, c12_Pa, c44_Pa)) / 2


@formula(
    equation="s = 1/v",
    gives=("s", "time of the pulse per length"),
    where={"speed_m_per_s": _SPEED},
    source="derived: the inverse of the speed",
)
def slowness_s_per_m(speed_m_per_s: Real) -> Real:
    """Time that a pulse takes per length, as instruments state it.

    Example
    -------
    >>> round(slowness_s_per_m(2800.0) * 1e6, 2)
    357.14
    """
    return 1 / speed_m_per_s


@formula(
    equation="v = 1/s",
    gives=("v", "speed of the pulse"),
    where={"slowness_s_per_m": _SLOWNESS},
    source="derived: the inverse of the time per length",
)
def speed_of_slowness_m_per_s(slowness_s_per_m: Real) -> Real:
    """Speed of a pulse whose time per length is stated.

    Example
    -------
    >>> round(speed_of_slowness_m_per_s(357.142857e-6), 3)
    2800.0
    """
    return 1 / slowness_s_per_m


@formula(
    equation="r = sqrt((1 + b_G*dT)*(1 + a*dT)**3) - 1",
    gives=("r", "change of the speed as a share"),
    where={
        "modulus_coefficient_per_K": _MODULUS_COEFFICIENT,
        "alpha_per_K": _EXPANSION,
        "temperature_difference_K": _DIFFERENCE,
    },
    source="derived: the density falls with the cube of the expansion",
)
def relative_speed_change(modulus_coefficient_per_K: Real, alpha_per_K: Real, temperature_difference_K: Real) -> Real:
    """Change of the speed between two points that stay where they are while the wire is warmed.

    Example
    -------
    >>> round(float(relative_speed_change(-50e-6, 7.6e-6, 60.0)) * 1e6, 3)
    -818.076
    """
    difference_K = np.asarray(temperature_difference_K)
    stiffer, longer = np.log1p(modulus_coefficient_per_K * difference_K), np.log1p(alpha_per_K * difference_K)
    result: Real = np.expm1((stiffer + 3 * longer) / 2)
    return result


@formula(
    equation="k_v = (b_G + 3*a)/2",
    gives=("k_v", "change of the speed as a share per kelvin"),
    where={"modulus_coefficient_per_K": _MODULUS_COEFFICIENT, "alpha_per_K": _EXPANSION},
    source="derived: first order",
)
def speed_coefficient_per_K(modulus_coefficient_per_K: Real, alpha_per_K: Real) -> Real:
    """Change of the speed per kelvin between two points that stay where they are, for small changes.

    A wire whose modulus does not change at all still speeds up: its density falls.

    Example
    -------
    >>> round(speed_coefficient_per_K(0.0, 7.6e-6) * 1e6, 2)
    11.4
    """
    return (modulus_coefficient_per_K + 3 * alpha_per_K) / 2
