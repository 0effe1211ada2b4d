"""Strengths of mixtures of ethanol and water: by volume, by mass, as US proof, from a density; and mixing."""

from __future__ import annotations

from typing import Any

import numpy as np

from onedatum.foundation.numerics import Real, in_blocks, polynomial, same_kind
from onedatum.foundation.working import formula
from onedatum.physics.media.ethanol import (
    ETHANOL_KG_PER_M3,
    REFERENCE_K,
    by_fraction,
    ethanol_water_density_kg_per_m3,
    fraction_where,
)

PROOF_K = (60.0 + 459.67) / 1.8
"""60 degF, at which US proof is stated."""
_ROUNDING_KG_PER_M3 = 1e-9
"""A density beyond that of water or ethanol by rounding alone is theirs."""

_FRACTION = ("p", "mass of ethanol in the mass of the mixture", "[0, 1]")
_CALLS = {"rho": ethanol_water_density_kg_per_m3}


@formula(
    method="p*rho(p, 20 degC)/789.24 by the general formula, at most 1",
    gives=("q", "strength by volume at 20 degC"),
    where={"mass_fraction": _FRACTION},
    source="oiml-r22: strength by volume and by mass",
)
def strength_of_mass_fraction(mass_fraction: Real) -> Real:
    """Strength by volume of a mixture of ethanol and water from its strength by mass.

    Example
    -------
    >>> float(round(strength_of_mass_fraction(0.6026931), 6))
    0.68
    """
    density = ethanol_water_density_kg_per_m3(mass_fraction, REFERENCE_K)
    return same_kind(np.minimum(np.multiply(mass_fraction, density) / ETHANOL_KG_PER_M3, 1.0))


@formula(
    residual="rho(p, T) - rho_o",
    gives=("p", "mass of ethanol in the mass of the mixture"),
    where={
        "density_kg_per_m3": ("rho_o", "density as observed", "[750, 1010]"),
        "temperature_K": ("T", "temperature at which it was observed", "[253.15, 313.15]"),
    },
    requires=(
        ("rho_o <= rho(0, T)", "nothing of water and ethanol is denser than water"),
        ("rho_o >= rho(1, T)", "nothing of water and ethanol is lighter than ethanol"),
    ),
    calls=_CALLS,
    source="oiml-r22: general formula",
)
def ethanol_fraction_of_density(density_kg_per_m3: Real, temperature_K: Real) -> Real:
    """Mass fraction of a mixture of ethanol and water from its density.

    The density falls with the mass fraction at every temperature of the formula, so there is one mixture to a density.
    Where it is flattest, near p = 0.2, it falls by 130 kg/m3 per unit of p at 20 degC, by 84 at 0 degC, by 6 only at
    -20 degC, so that in the cold a small error of the density is a large one of the strength. Sugar and extract spoil
    the result.

    Example
    -------
    >>> float(round(ethanol_fraction_of_density(848.4, 293.15), 4))
    0.7796
    """

    def work(density: Any, temperature: Any) -> Any:
        coefficients = by_fraction(temperature - REFERENCE_K)
        water, ethanol = coefficients[0], polynomial(coefficients, 1.0)
        nearest = np.clip(density, ethanol, water)
        density = np.where(np.abs(density - nearest) <= _ROUNDING_KG_PER_M3, nearest, density)
        return fraction_where(coefficients, density, (water - nearest) / (water - ethanol))

    return in_blocks(work, density_kg_per_m3, temperature_K)


@formula(
    method="200*p*rho(p, 60 degF)/rho(1, 60 degF) by the general formula",
    gives=("P", "US proof: twice the per cent by volume at 60 degF"),
    where={"mass_fraction": _FRACTION},
    source="cfr-27: 19.1, proof gallon, with densities of OIML R 22",
)
def proof_of_mass_fraction(mass_fraction: Real) -> Real:
    """US proof of a mixture of ethanol and water.

    For US tax the official gauging tables hold. Their ethanol has 0.7939 of the density of water at 60 degF where the
    general formula has 0.79382, so that strengths by mass and densities differ by some 1e-4 of themselves.

    Example
    -------
    >>> float(round(proof_of_mass_fraction(1.0), 9))
    200.0
    """
    pure = ethanol_water_density_kg_per_m3(1.0, PROOF_K)
    return same_kind(200.0 * np.multiply(mass_fraction, ethanol_water_density_kg_per_m3(mass_fraction, PROOF_K)) / pure)


@formula(
    residual="P(p) - P_s",
    gives=("p", "mass of ethanol in the mass of the mixture"),
    where={"proof": ("P_s", "US proof: twice the per cent by volume at 60 degF", "[0, 200]")},
    calls={"P": proof_of_mass_fraction},
    source="cfr-27: 19.1, proof gallon, with densities of OIML R 22",
)
def mass_fraction_of_proof(proof: Real) -> Real:
    """Mass fraction of a mixture of ethanol and water from its US proof.

    Example
    -------
    >>> float(round(proof_of_mass_fraction(mass_fraction_of_proof(100.0)), 9))
    100.0
    """
    alcohol_kg_per_m3 = (0.0, *by_fraction(PROOF_K - REFERENCE_K))
    pure = ethanol_water_density_kg_per_m3(1.0, PROOF_K)
    return in_blocks(lambda share: fraction_where(alcohol_kg_per_m3, share * pure, share), np.divide(proof, 200.0))


@formula(
    method="rho(p, T)/rho(p, 20 degC) by the general formula",
    gives=("C", "factor on the volume: at 20 degC over at T"),
    where={
        "mass_fraction": _FRACTION,
        "temperature_K": ("T", "temperature of the mixture", "[253.15, 313.15]"),
    },
    source="oiml-r22: general formula",
)
def ethanol_volume_factor(mass_fraction: Real, temperature_K: Real) -> Real:
    """Factor from the volume of a mixture of ethanol and water at a temperature to its volume at 20 degC.

    Example
    -------
    >>> float(round(ethanol_volume_factor(0.9383854, 294.15), 5))
    0.99893
    """
    at_reference = ethanol_water_density_kg_per_m3(mass_fraction, REFERENCE_K)
    return same_kind(ethanol_water_density_kg_per_m3(mass_fraction, temperature_K) / at_reference)


@formula(
    equation="G = V_60*P/100",
    gives=("G", "proof gallons, as a volume of spirit of 100 proof"),
    where={
        "volume_60degF_m3": ("V_60", "volume of the spirit at 60 degF", "[0, 1000000]"),
        "proof": ("P", "US proof", "[0, 200]"),
    },
    source="cfr-27: 19.1, proof gallon",
)
def proof_volume_m3(volume_60degF_m3: Real, proof: Real) -> Real:
    """Proof gallons: the volume at 60 degF times proof over 100, in m3; a US gallon is 0.003785411784 m3.

    Example
    -------
    >>> proof_volume_m3(2.0, 136.0)
    2.72
    """
    return volume_60degF_m3 * proof / 100


@formula(
    method="mass of both over the density of the mixture at 20 degC, its mass fraction from the two masses",
    gives=("V", "volume of the mixture at 20 degC"),
    where={
        "ethanol_m3": ("V_e", "volume of pure ethanol at 20 degC", "(0, 100000]"),
        "water_m3": ("V_w", "volume of water at 20 degC", "(0, 100000]"),
    },
    source="oiml-r22: general formula",
)
def mixed_volume_m3(ethanol_m3: Real, water_m3: Real) -> Real:
    """Volume of ethanol and water once they are mixed: less than both together.

    Example
    -------
    >>> float(round(mixed_volume_m3(0.05, 0.05), 6))
    0.096463
    """
    ethanol = np.multiply(ethanol_m3, ETHANOL_KG_PER_M3)
    water = np.multiply(water_m3, ethanol_water_density_kg_per_m3(0.0, REFERENCE_K))
    both = ethanol + water
    return same_kind(both / ethanol_water_density_kg_per_m3(ethanol / both, REFERENCE_K))
