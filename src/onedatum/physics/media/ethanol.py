"""Mixtures of ethanol and water by the general formula of the international alcoholometric tables."""

from __future__ import annotations

from functools import cache
from itertools import zip_longest
from typing import Any

import numpy as np

from onedatum import data
from onedatum.foundation.numerics import Real, Reals, in_blocks, monotone_root, polynomial
from onedatum.foundation.working import formula

REFERENCE_K = 293.15
"""20 degC, from which the formula counts temperatures and at which strength by volume is stated."""
ETHANOL_KG_PER_M3 = 789.24
"""Density of ethanol at 20 degC as the tables print it and use it for strengths; the formula gives 789.2391."""

_BEYOND_PURE = 1.00001
"""End of the search for a mass fraction: strength 1 is met at 1.0000019, as the formula falls short of 789.24."""
_SETTLED = 1e-11
"""Newton's steps in the mass fraction end here: sums of terms of 7e5 kg/m3 round to some 1e-12 of it."""


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
    if np.ndim(temperature_K) == 0:
        in_fraction = by_fraction(float(temperature_K) - REFERENCE_K)
        return in_blocks(lambda fraction: polynomial(in_fraction, fraction), mass_fraction)
    if np.ndim(mass_fraction) == 0:
        in_warmth = tuple(polynomial(coefficients, mass_fraction) for coefficients in _by_power())
        return in_blocks(lambda temperature: polynomial(in_warmth, temperature - REFERENCE_K), temperature_K)
    return in_blocks(_density_kg_per_m3, mass_fraction, temperature_K)


def _density_kg_per_m3(mass_fraction: Reals, temperature_K: Reals) -> Reals:
    """Horner's scheme in the temperature, its coefficients by Horner's scheme in the mass fraction, one at a time."""
    warmer_K = temperature_K - REFERENCE_K
    found, coefficient = np.zeros_like(warmer_K), np.empty_like(warmer_K)
    for row in reversed(_by_power()):
        coefficient.fill(row[-1])
        for number in reversed(row[:-1]):
            coefficient *= mass_fraction
            coefficient += number
        found *= warmer_K
        found += coefficient
    return found


def by_fraction(warmer_K: Any) -> tuple[Any, ...]:
    """Coefficients of the density as a polynomial in the mass fraction alone, so many kelvin above 20 degC.

    They are arrays where `warmer_K` is one.
    """
    return tuple(polynomial(column, warmer_K) for column in _by_power_of_fraction())


@cache
def _by_power_of_fraction() -> tuple[tuple[float, ...], ...]:
    """For each power of the mass fraction, from the zeroth, the coefficients of its polynomial in t - 20 degC."""
    columns = zip_longest(*_by_power())
    return tuple(tuple(number for number in column if number is not None) for column in columns)


def fraction_where(coefficients: tuple[Any, ...], value: Any, start: Any, high: float = 1.0) -> Any:
    """The mass fraction up to `high` at which a polynomial in it, rising or falling all along, has a value."""
    slopes = tuple(power * coefficient for power, coefficient in enumerate(coefficients))[1:]
    return monotone_root(
        lambda fraction: polynomial(coefficients, fraction),
        lambda fraction: polynomial(slopes, fraction),
        value,
        0.0,
        high,
        start,
        within=_SETTLED,
    )


@cache
def _alcohol_kg_per_m3() -> tuple[float, ...]:
    """Coefficients of the mass of ethanol in a volume at 20 degC as a polynomial in the mass fraction."""
    return (0.0, *by_fraction(0.0))


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

    def work(strength: Any) -> Any:
        found = fraction_where(_alcohol_kg_per_m3(), strength * ETHANOL_KG_PER_M3, strength, _BEYOND_PURE)
        return np.minimum(found, 1.0)

    return in_blocks(work, strength)
