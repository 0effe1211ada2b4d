"""Masses that immerse a float as deep: with a force on it, with a deposit, soaked."""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_MASS = ("m", "mass of the float, magnets included", "(0, 50]")
_GRAVITY = ("g", "acceleration of free fall", "[9.7, 9.9]")


@formula(
    equation="m_F = m + F/g",
    gives=("m_F", "mass that would immerse the float as deep"),
    where={
        "mass_kg": _MASS,
        "load_N": ("F", "force on the float, downwards", "[-400, 400]"),
        "gravity_m_per_s2": _GRAVITY,
    },
    requires=(("F > -m*g", "a float that is lifted out does not float"),),
    source="archimedes: a force counts as the mass of its weight",
)
def loaded_mass_kg(mass_kg: Real, load_N: Real, gravity_m_per_s2: Real) -> Real:
    """Mass that immerses a float as deep as its own mass and a force do.

    Example
    -------
    >>> round(loaded_mass_kg(0.043, 0.02, 9.80665), 6)
    0.045039
    """
    return mass_kg + load_N / gravity_m_per_s2


@formula(
    equation="m_F = m - F/g",
    gives=("m_F", "mass that would immerse the float as deep"),
    where={
        "mass_kg": _MASS,
        "lift_N": ("F", "force on the float, upwards", "[0, 400]"),
        "gravity_m_per_s2": _GRAVITY,
    },
    requires=(("F < m*g", "a float that is lifted out does not float"),),
    source="archimedes: a force counts as the mass of its weight",
)
def lifted_mass_kg(mass_kg: Real, lift_N: Real, gravity_m_per_s2: Real) -> Real:
    """Mass that immerses a float as deep as its own mass less a force upwards does.

    Example
    -------
    >>> round(lifted_mass_kg(0.043, 0.02, 9.80665), 6)
    0.040961
    """
    return mass_kg - lift_N / gravity_m_per_s2


@formula(
    equation="m_d = m + d",
    gives=("m_d", "mass of the float with its deposit"),
    where={"mass_kg": _MASS, "deposit_kg": ("d", "deposit on the float", "[0, 50]")},
    source="derived: sum",
)
def with_deposit_kg(mass_kg: Real, deposit_kg: Real) -> Real:
    """Mass of a float with a deposit that displaces nothing.

    Example
    -------
    >>> round(with_deposit_kg(0.043, 0.002), 3)
    0.045
    """
    return mass_kg + deposit_kg


@formula(
    equation="m_s = m*(1 + w)",
    gives=("m_s", "mass of the float soaked"),
    where={"mass_kg": _MASS, "soaking_share": ("w", "share of its mass that it takes up", "[0, 1]")},
    source="derived: share of the mass",
)
def soaked_mass_kg(mass_kg: Real, soaking_share: Real) -> Real:
    """Mass of a plastic float that has taken up liquid.

    Example
    -------
    >>> round(soaked_mass_kg(0.043, 0.03), 5)
    0.04429
    """
    return mass_kg * (1 + soaking_share)
