"""Ethanol and water against printed values of the international alcoholometric tables."""

from __future__ import annotations

import json
from importlib.resources import files

import numpy as np
import pytest

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.working import apply
from onedatum.physics.media import ethanol_mass_fraction, ethanol_water_density_kg_per_m3
from tests.closeness import close, exact, printed
from tests.reference import case

T20_K = 293.15


@pytest.mark.parametrize("number", ["01", "02", "03", "04", "05", "06", "07", "09", "10"])
def test_density(number: str) -> None:
    """05 and 06 lie at 0 < p < 1 away from 20 degC: invented C rows pass all others."""
    given = case(f"quantity-E{number}")
    given.check(ethanol_water_density_kg_per_m3(given.value("p"), given.value("t") + 273.15))


def test_mass_fraction_of_a_density() -> None:
    """Printed 0.7796 for 848.4 kg/m3: the densities at the ends of its half unit lie on either side."""
    given = case("quantity-E08")
    low, high = (ethanol_water_density_kg_per_m3(p, given.value("t") + 273.15) for p in (0.77955, 0.77965))
    assert high < given.value("rho") < low


def test_mass_fraction_of_40_vol() -> None:
    given = case("quantity-E11")
    given.check(ethanol_mass_fraction(given.value("q")))


def test_density_of_96_vol() -> None:
    given = case("quantity-E12")
    given.check(ethanol_water_density_kg_per_m3(ethanol_mass_fraction(given.value("q")), T20_K))


@pytest.mark.parametrize("strength", [10, 20, 40, 50, 60, 70, 80, 90, 96])
def test_mass_fraction_and_density_by_strength(strength: int) -> None:
    given = case(f"quantity-r22-{strength}vol")
    fraction = ethanol_mass_fraction(given.value("q"))
    given.check(fraction, "p")
    given.check(ethanol_water_density_kg_per_m3(fraction, T20_K), "rho")


@pytest.mark.parametrize("strength", ["0.68", "0.725"])
def test_mass_fraction_of_the_receivers(strength: str) -> None:
    given = case(f"quantity-r22-{strength}")
    given.check(ethanol_mass_fraction(given.value("q")))


def test_contraction() -> None:
    """50 L and 50 L at 20 degC give 96.46 L of 51.83 %vol."""
    given = case("quantity-E14")
    ethanol_kg, water_kg = 0.05 * 789.24, 0.05 * 998.20123
    fraction = ethanol_kg / (ethanol_kg + water_kg)
    litres = 1000.0 * (ethanol_kg + water_kg) / ethanol_water_density_kg_per_m3(fraction, T20_K)
    given.check(litres)
    case("quantity-E15").check(50.0 / litres)
    close(ethanol_mass_fraction(50.0 / litres), fraction, 1e-12, "the way back, by the root finder")


def test_the_later_fit_is_not_this_formula() -> None:
    """A fit that circulates under the same name gives 789.235 for ethanol and 913.767 at p = 0.5, both at 20 degC."""
    assert ethanol_water_density_kg_per_m3(1.0, T20_K) == printed("789.2391")
    assert ethanol_water_density_kg_per_m3(0.5, T20_K) == printed("913.7706")


def test_the_formula_term_by_term() -> None:
    """The sums as the document writes them, without Horner's scheme."""
    table = json.loads(files("onedatum.data").joinpath("oiml_r22.json").read_text(encoding="utf-8"))
    assert [len(row) for row in table["C"]] == [11, 10, 9, 4, 2]
    assert (len(table["A"]), len(table["B"])) == (12, 6)
    random = np.random.default_rng(22)
    p, t = random.uniform(0.0, 1.0, 1000), random.uniform(-20.0, 40.0, 1000)
    rho = sum(a * p**k for k, a in enumerate(table["A"]))
    rho = rho + sum(b * (t - 20.0) ** k for k, b in enumerate(table["B"], 1))
    for i, row in enumerate(table["C"], 1):
        rho = rho + sum(c * p**k * (t - 20.0) ** i for k, c in enumerate(row, 1))
    close(ethanol_water_density_kg_per_m3(p, t + 273.15), rho, 1e-8, "rounding of sums with terms of 7e5 kg/m3")


def test_the_inverse_closes() -> None:
    strength = np.linspace(0.0, 0.9999988, 20_001)
    fraction = ethanol_mass_fraction(strength)
    assert (np.diff(fraction) > 0).all()
    back = fraction * ethanol_water_density_kg_per_m3(fraction, T20_K) / 789.24
    close(back, strength, 1e-12, "rounding of sums with terms of 7e5 kg/m3")


def test_pure_ethanol_stays_within_the_formula() -> None:
    exact(ethanol_mass_fraction(np.array([0.0, 1.0])), [0.0, 1.0])
    applied = apply(
        ethanol_water_density_kg_per_m3, {"mass_fraction": ethanol_mass_fraction(1.0), "temperature_K": T20_K}
    )
    assert applied.value == printed("789.24")
    assert applied.value / 789.24 == printed("0.9999989")


def test_arrays_broadcast_and_nan_stays_alone() -> None:
    fraction, temperature_K = np.array([[0.0], [0.31], [np.nan]]), np.array([286.15, 293.15])
    table = np.asarray(ethanol_water_density_kg_per_m3(fraction, temperature_K))
    assert table.shape == (3, 2)
    assert table[1, 0] == printed("956.42")
    exact(np.isnan(table), [[0.0, 0.0], [0.0, 0.0], [1.0, 1.0]])
    exact(np.isnan(ethanol_mass_fraction(np.array([0.4, np.nan]))), [0.0, 1.0])
    assert np.ndim(ethanol_mass_fraction(0.4)) == np.ndim(ethanol_water_density_kg_per_m3(0.4, 290.0)) == 0


@pytest.mark.parametrize(("fraction", "temperature_K"), [(-0.01, 290.0), (1.01, 290.0), (0.5, 253.0), (0.5, 313.3)])
def test_outside_the_tables(fraction: float, temperature_K: float) -> None:
    with pytest.raises(ValidityError):
        apply(ethanol_water_density_kg_per_m3, {"mass_fraction": fraction, "temperature_K": temperature_K})
    with pytest.raises(ValidityError):
        apply(ethanol_mass_fraction, {"strength": fraction + 2.0})
