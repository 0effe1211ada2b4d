"""Strengths of ethanol and water by the international tables, and what mixing takes."""

from __future__ import annotations

import numpy as np
import pytest

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.working import apply
from onedatum.physics.media import (
    ethanol_fraction_of_density,
    ethanol_mass_fraction,
    ethanol_volume_factor,
    ethanol_water_density_kg_per_m3,
    mass_fraction_of_proof,
    mixed_volume_m3,
    proof_of_mass_fraction,
    proof_volume_m3,
    strength_of_mass_fraction,
)
from tests.closeness import close, exact, printed
from tests.reference import case


def test_mass_fraction_of_a_printed_density() -> None:
    given = case("quantity-E08")
    assert ethanol_fraction_of_density(given.value("rho"), given.value("t") + 273.15) == printed("0.7796")


@pytest.mark.parametrize("degC", [-20.0, -5.0, 0.0, 4.0, 13.0, 20.0, 40.0])
def test_the_density_falls_with_the_strength_and_leads_back_to_it(degC: float) -> None:
    fraction = np.linspace(0.0, 1.0, 2001)
    density = np.asarray(ethanol_water_density_kg_per_m3(fraction, degC + 273.15))
    assert np.all(np.diff(density) < 0.0)
    close(ethanol_fraction_of_density(density, degC + 273.15), fraction, 1e-9, "flat near pure water in the cold")


@pytest.mark.parametrize("density", [1005.0, 760.0])
def test_what_is_denser_than_water_or_lighter_than_ethanol_is_refused(density: float) -> None:
    with pytest.raises(ValidityError, match="othing of water and ethanol"):
        apply(ethanol_fraction_of_density, {"density_kg_per_m3": density, "temperature_K": 293.15})


def test_strength_by_volume_and_by_mass_are_one() -> None:
    given = case("quantity-E11")
    close(strength_of_mass_fraction(given.expected), given.value("q"), 1e-7, "seven digits of the fraction")
    strength = np.linspace(0.0, 0.9999, 501)
    close(strength_of_mass_fraction(ethanol_mass_fraction(strength)), strength, 1e-12, "rounding of sums of 7e5 kg/m3")
    exact(strength_of_mass_fraction(0.0), 0.0)
    assert strength_of_mass_fraction(1.0) <= 1.0


def test_proof_is_twice_the_per_cent_by_volume_at_60_degf() -> None:
    """27 CFR 30.11 (from memory): 100 proof is half alcohol by volume at 60 degF, 200 is all."""
    exact(proof_of_mass_fraction(0.0), 0.0)
    close(proof_of_mass_fraction(1.0), 200.0, 1e-10, "rounding")
    fraction = mass_fraction_of_proof(100.0)
    at_60 = (60.0 + 459.67) / 1.8
    of_ethanol = (
        fraction * ethanol_water_density_kg_per_m3(fraction, at_60) / ethanol_water_density_kg_per_m3(1.0, at_60)
    )
    close(of_ethanol, 0.5, 1e-12, "rounding")
    proof = np.linspace(0.0, 200.0, 401)
    close(proof_of_mass_fraction(mass_fraction_of_proof(proof)), proof, 1e-8, "inverse")
    assert np.all(np.diff(np.asarray(mass_fraction_of_proof(proof))) > 0.0)


GALLON_L, POUND_KG = 3.785411784, 0.45359237
AIR_KG_PER_M3, WEIGHTS_KG_PER_M3 = 1.2, 8000.0
"""Of weighing in air, common practice."""


def gallons_per_pound(proof: float) -> float:
    """Gallons at 60 degF that a pound holds, weighed in air."""
    density = float(ethanol_water_density_kg_per_m3(mass_fraction_of_proof(proof), (60.0 + 459.67) / 1.8))
    apparent = (density - AIR_KG_PER_M3) / (1.0 - AIR_KG_PER_M3 / WEIGHTS_KG_PER_M3)
    return POUND_KG / (apparent * GALLON_L / 1000.0)


def test_the_gauging_tables_of_the_us() -> None:
    """They rest on another ethanol: 0.7939 of the density of water at 60 degF, here 0.79382, 1e-4 of it less."""
    at_60 = (60.0 + 459.67) / 1.8
    gravity = ethanol_water_density_kg_per_m3(1.0, at_60) / ethanol_water_density_kg_per_m3(0.0, at_60)
    why = "1.0e-4 of difference between the two ethanols, and half a unit of the digits in print"
    given = case("quantity-proof-ethanol")
    close(gravity, given.expected, 1.3e-4, why)
    given = case("quantity-proof-190")
    wine = gallons_per_pound(190.0)
    close(wine, given.expected["wine"], 1.4e-4 * given.expected["wine"], why)
    close(proof_volume_m3(wine, 190.0), given.expected["proof"], 1.2e-4 * given.expected["proof"], why)
    given = case("quantity-proof-200")
    close(1000.0 * proof_volume_m3(gallons_per_pound(200.0), 200.0), given.expected, 1.2e-4 * given.expected, why)


def test_proof_and_strength_by_volume_at_20_degc_lie_close_together() -> None:
    """4.4 K move a strength by some hundredths of a per cent by volume."""
    strength = np.array([0.2, 0.4, 0.6, 0.8, 0.95])
    proof = np.asarray(proof_of_mass_fraction(ethanol_mass_fraction(strength)))
    assert np.all(np.abs(proof / 2.0 - 100.0 * strength) < 0.25)


def test_proof_gallons() -> None:
    """100 wine gallons of 190 proof are 190 proof gallons."""
    exact(proof_volume_m3(100.0, 190.0), 190.0)


def test_contraction() -> None:
    given, strength = case("quantity-E14"), case("quantity-E15")
    litres = 1000.0 * mixed_volume_m3(given.value("V_ethanol") / 1000.0, given.value("V_water") / 1000.0)
    given.check(litres)
    strength.check(given.value("V_ethanol") / litres)
    assert mixed_volume_m3(0.03, 0.07) < 0.1


@pytest.mark.parametrize(("strength", "per_K"), [(0.96, "0.00107"), (0.70, "0.00094"), (0.40, "0.00070")])
def test_thermal_expansion(strength: float, per_K: str) -> None:
    """Expansion at 20 degC by the general formula, as the chapter on alcohol states it."""
    fraction = ethanol_mass_fraction(strength)
    low, high = (float(ethanol_water_density_kg_per_m3(fraction, 293.15 + d)) for d in (0.5, -0.5))
    assert (high - low) / float(ethanol_water_density_kg_per_m3(fraction, 293.15)) == printed(per_K)


@pytest.mark.parametrize(("strength", "per_K"), [(0.96, 1.07e-3), (0.70, 0.94e-3), (0.40, 0.70e-3)])
def test_factor_on_the_volume(strength: float, per_K: float) -> None:
    """Warmer spirit takes more room, by the expansion above to its two digits; at 20 degC the factor is one."""
    fraction = ethanol_mass_fraction(strength)
    factor = np.asarray(ethanol_volume_factor(fraction, np.array([292.15, 293.15, 294.15])))
    exact(factor[1], 1.0)
    close((factor[0] - factor[2]) / 2.0, per_K, 0.01 * per_K, "two digits")


def test_ethanol_at_40_degc_from_20_degc() -> None:
    """The printed densities of ethanol at 20 degC and 40 degC: 789.24 and 771.93 kg/m3."""
    assert 789.24 * ethanol_volume_factor(1.0, 313.15) == printed("771.93")


def test_elements_far_apart_are_found_together() -> None:
    """Long arrays, worked in blocks, give what their elements give alone; what no mixture has is no number."""
    random = np.random.default_rng(40)
    fraction, kelvin = random.uniform(0.0, 1.0, 50_000), random.uniform(253.15, 313.15, 50_000)
    density = np.asarray(ethanol_water_density_kg_per_m3(fraction, kelvin))
    found = np.asarray(ethanol_fraction_of_density(density, kelvin))
    close(found, fraction, 1e-10, "sums of terms of 7e5 kg/m3 over a slope of 6 kg/m3 in the cold")
    for row in (0, 25_000, 49_999):
        close(ethanol_fraction_of_density(density[row], kelvin[row]), found[row], 1e-12, "rounding")
    exact(np.isnan(ethanol_fraction_of_density(np.array([900.0, 1005.0, 700.0, np.nan]), 293.15)), [0.0, 1.0, 1.0, 1.0])
