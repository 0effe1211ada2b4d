"""Mixtures of ethanol and water by the general formula of the international alcoholometric tables."""

from __future__ import annotations

from functools import cache
from itertools import zip_longest

import numpy as np

from onedatum import data
from onedatum.foundation.numerics import Real, monotone_root, polynomial, same_kind
from onedatum.foundation.working import formula

REFERENCE_K = 293.15
"""20 degC, from which the formula counts temperatures and at which strength by volume is stated."""
ETHANOL_KG_PER_M3 = 789.24
"""Density of ethanol at 20 degC as the tables print it and use it for strengths; the formula gives 789.2391."""

_BEYOND_PURE = 1.00001
"""End of the search for a mass fraction: strength 1 is met at 1.0000019, as the formula falls short of 789.24."""


@cache
def _by_power() -> tuple[tuple[float, ...], ...]:
    """For each power of t - 20 degC, from the zeroth, the coefficients of its polynomial in the mass fraction."""
    table = data.table("oiml_r22.json")
    powers = ((b, *c) for b, c in zip_longest(table["B"], table["C"], fillvalue=()))
    return (tuple(table["A"]), *powers)


@formula(
    method="general formula, sum of A_k*p**(k-1) + B_k*(t - 20)**k + C_ik*p**k*(t - 20)**i with 54 coefficients",
    gives=("rho", "density of the mixture"),
    where={
        "mass_fraction": ("p", "mass of ethanol in the mass of the mixture", "[0, 1]"),
        "temperature_K": ("T", "temperature of the mixture", "[253.15, 313.15]"),
    },
    source="oiml-r22: general formula",
)
def ethanol_water_density_kg_per_m3(mass_fraction: Real, temperature_K: Real) -> Real:
    """Density of a mixture of ethanol and water that holds nothing else.

    Sugar or other extract makes a spirit denser than this. Water by this formula and water by IAPWS differ by 6e-6:
    never mix the two in one balance.

    Example
    -------
    >>> float(round(ethanol_water_density_kg_per_m3(0.31, 286.15), 2))
    956.42
    """
    in_fraction = [polynomial(coefficients, mass_fraction) for coefficients in _by_power()]
    return same_kind(polynomial(in_fraction, temperature_K - REFERENCE_K))


@formula(
    residual="p*rho(p, 293.15)/789.24 - min(q, rho(1, 293.15)/789.24)",
    gives=("p", "mass of ethanol in the mass of the mixture"),
    where={"strength": ("q", "strength by volume at 20 degC", "[0, 1]")},
    calls={"rho": ethanol_water_density_kg_per_m3},
    source="oiml-r22: strength by volume and by mass",
)
def ethanol_mass_fraction(strength: Real) -> Real:
    """Mass fraction of a mixture of ethanol and water from its strength by volume at 20 degC.

    The formula gives 789.2391 for ethanol where the tables set 789.24, so strength 1 would need a mass fraction of
    1.0000019. Strengths above the 0.9999989 that the formula reaches give 1, which keeps densities within its validity.

    Example
    -------
    >>> float(round(ethanol_mass_fraction(0.68), 7))
    0.6026931
    """
    coefficients = (0.0, *_by_power()[0])
    slopes = tuple(power * coefficient for power, coefficient in enumerate(coefficients))[1:]
    found = monotone_root(
        lambda fraction: polynomial(coefficients, fraction),
        lambda fraction: polynomial(slopes, fraction),
        np.multiply(strength, ETHANOL_KG_PER_M3),
        0.0,
        _BEYOND_PURE,
        strength,
    )
    return same_kind(np.minimum(found, 1.0))
