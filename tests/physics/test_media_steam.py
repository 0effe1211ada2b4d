"""Water and steam against the verification values of IAPWS and against an open implementation of its formulations."""

from __future__ import annotations

import json
from importlib.resources import files

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI

from onedatum.physics.media import (
    boiling_point_K,
    boiling_pressure_Pa_abs,
    flash_volume_ratio,
    pressed_water_density_kg_per_m3,
    saturated_steam_density_kg_per_m3,
    saturated_water_density_kg_per_m3,
    water_density_kg_per_m3,
)
from tests.closeness import close, exact, printed
from tests.reference import case

BOILING_K = 373.15
INDUSTRIAL = ["300K-3MPa", "300K-80MPa", "500K-3MPa", "300K-0.0035MPa", "700K-0.0035MPa", "700K-30MPa"]
BETWEEN_FORMULATIONS = 3.2e-4
"""IAPWS-IF97 and IAPWS-95 differ by 3.1e-4 of the volume at 700 K and 30 MPa, by less than 4e-5 at the other points."""


@pytest.mark.parametrize("point", INDUSTRIAL)
def test_specific_volume_of_the_industrial_formulation(point: str) -> None:
    """The tool works by IAPWS-95; the printed values are those of IF97, which the same library gives to the digit."""
    given = case(f"quantity-if97-{point}")
    kelvin, pressure_Pa = given.value("T"), given.value("p") * 1e6
    given.check(1.0 / PropsSI("D", "T", kelvin, "P", pressure_Pa, "IF97::Water"))
    volume = 1.0 / pressed_water_density_kg_per_m3(kelvin, pressure_Pa)
    apart = BETWEEN_FORMULATIONS if point == "700K-30MPa" else 4e-5
    close(volume, given.expected, apart * given.expected, "two formulations")


@pytest.mark.parametrize("number", ["01", "02", "03"])
def test_further_digits_of_the_industrial_formulation(number: str) -> None:
    given = case(f"quantity-W{number}")
    kelvin, pressure_Pa = given.value("T"), given.value("p") * 1e6
    given.check(1.0 / PropsSI("D", "T", kelvin, "P", pressure_Pa, "IF97::Water"))
    close(1.0 / pressed_water_density_kg_per_m3(kelvin, pressure_Pa), given.expected, 4e-5 * given.expected, "two ways")


def test_saturation_pressure_in_further_digits() -> None:
    given = case("quantity-W04")
    given.check(PropsSI("P", "T", given.value("T"), "Q", 0, "IF97::Water") / 1e6)


def test_density_of_the_scientific_formulation() -> None:
    """R6-95, table 7: 300 K and 996.556 kg/m3 at 0.0992418352 MPa."""
    given = case("quantity-W05")
    density = pressed_water_density_kg_per_m3(given.value("T"), given.expected * 1e6)
    close(density, given.value("rho"), 1e-9 * given.value("rho"), "a pressure of twelve digits, hardly compressible")


@pytest.mark.parametrize("point", ["300K-1005", "500K-4.532", "500K-838.025", "900K-0.241", "900K-52.615"])
def test_liquid_and_steam_of_the_scientific_formulation(point: str) -> None:
    """R6-95, table 7, the other way round: the density at a pressure printed in nine digits."""
    given = case(f"quantity-iapws95-{point}")
    density = pressed_water_density_kg_per_m3(given.value("T"), given.expected * 1e6)
    close(density, given.value("rho"), 1e-8 * given.value("rho"), "half a unit of the ninth digit of the pressure")


@pytest.mark.parametrize("kelvin", [275, 450])
def test_boiling_by_the_scientific_formulation(kelvin: int) -> None:
    """R6-95, table 8; the two densities by the fitted polynomials, each within the error its table states."""
    given = case(f"quantity-iapws95-boiling-{kelvin}K")
    given.check(boiling_pressure_Pa_abs(kelvin) / 1e6, "p")
    liquid, steam = given.expected["liquid"], given.expected["steam"]
    close(saturated_water_density_kg_per_m3(kelvin), liquid, 4.2e-7 * liquid, "error stated in the table")
    close(saturated_steam_density_kg_per_m3(kelvin), steam, 2.9e-7 * steam, "error stated in the table")


@pytest.mark.parametrize("kelvin", [300, 500, 600])
def test_saturation_pressure(kelvin: int) -> None:
    """R7-97, table 35; IAPWS-95 differs by up to 1.1e-4."""
    given = case(f"quantity-if97-boiling-{kelvin}K")
    close(boiling_pressure_Pa_abs(kelvin) / 1e6, given.expected, 1.2e-4 * given.expected, "two formulations")
    close(boiling_point_K(boiling_pressure_Pa_abs(kelvin)), kelvin, 1e-6, "the library's own inverse")


@pytest.mark.parametrize("megapascal", ["0.1", "1", "10"])
def test_boiling_temperature(megapascal: str) -> None:
    """R7-97, table 36; IAPWS-95 differs by up to 8 mK."""
    given = case(f"quantity-if97-boiling-{megapascal}MPa")
    close(boiling_point_K(given.value("p") * 1e6), given.expected, 0.008, "two formulations")


def test_the_fitted_densities_against_their_source() -> None:
    head = json.loads(files("onedatum.data").joinpath("water_saturation.json").read_text(encoding="utf-8"))["head"]
    kelvin = np.append(np.random.default_rng(5).uniform(273.16, 623.15, 2000), [273.16, 623.15])
    ways = (
        (saturated_water_density_kg_per_m3, 0, head["largest_relative_error"]),
        (saturated_steam_density_kg_per_m3, 1, head["largest_relative_error_of_steam"]),
    )
    for density, quality, stated in ways:
        wanted = PropsSI("D", "T", kelvin, "Q", quality, "HEOS::Water")
        assert stated < 1e-6
        close(density(kelvin) / wanted, np.ones(kelvin.size), stated, "as the table states")


def test_boiling_water_and_its_steam() -> None:
    """At 150 degC 917.01 and 2.548 kg/m3 (steam tables, from memory)."""
    assert saturated_water_density_kg_per_m3(423.15) == printed("917.01")
    assert saturated_steam_density_kg_per_m3(423.15) == printed("2.548")


def test_cold_water_is_the_same_by_every_way() -> None:
    close(pressed_water_density_kg_per_m3(293.15, 101325.0), water_density_kg_per_m3(293.15), 2e-7, "fit of 1.2e-7")


def test_liquid_below_its_boiling_point_and_steam_above() -> None:
    cold, hot = np.asarray(pressed_water_density_kg_per_m3(np.array([420.0, 430.0]), 5e5))
    assert cold > 900.0 and hot < 3.0


def test_at_the_boiling_pressure_it_is_the_liquid() -> None:
    """The library refuses to choose there; a hair below the boiling pressure it is steam."""
    pressure_Pa = boiling_pressure_Pa_abs(BOILING_K)
    liquid = PropsSI("D", "T", BOILING_K, "Q", 0, "HEOS::Water")
    for share in (1.0 - 5e-7, 1.0, 1.0 + 5e-7):
        close(pressed_water_density_kg_per_m3(BOILING_K, share * pressure_Pa), liquid, 1e-6, "compressibility")
    found = pressed_water_density_kg_per_m3(
        np.array([BOILING_K, 300.0, np.nan]), pressure_Pa * np.array([[1.0], [1.1]])
    )
    close(np.asarray(found)[:, 0], [liquid, liquid], 1e-2, "10 kPa press water by 5e-6")
    exact(np.isnan(found), [[0.0, 0.0, 1.0], [0.0, 0.0, 1.0]])
    assert pressed_water_density_kg_per_m3(BOILING_K, 0.9999 * pressure_Pa) < 1.0


def test_what_the_formulation_does_not_hold_is_no_number() -> None:
    """Ice, temperatures below nothing, a pressure above the critical one: alone and among others."""
    exact(np.isnan(pressed_water_density_kg_per_m3(np.array([250.0, 300.0]), 1e5)), [1.0, 0.0])
    exact(np.isnan(boiling_point_K(np.array([1e5, 3e7]))), [0.0, 1.0])
    assert np.isnan(pressed_water_density_kg_per_m3(-5.0, 1e5))
    found = pressed_water_density_kg_per_m3(np.array([300.0, np.nan]), np.array([[1e5], [1e7]]))
    assert np.asarray(found).shape == (2, 2)
    exact(np.isnan(found), [[0.0, 1.0], [0.0, 1.0]])


def test_flash_steam_that_stays() -> None:
    """40 to 36 bar at once, all the steam kept: an upper bound of the swell of a drum."""
    given = case("floats-C12")
    given.check(flash_volume_ratio(given.value("p1") * 1e5, given.value("p2") * 1e5))


@pytest.mark.parametrize("number", ["C10", "C11"])
def test_printed_values_of_the_industrial_formulation(number: str) -> None:
    """R7-97, tables 5 and 35: the library gives them to the digit; the tool's own formulation lies beside them."""
    given = case(f"floats-{number}")
    kelvin = given.value("T")
    if number == "C10":
        pressure = given.value("p") * 1e6
        given.check(1.0 / PropsSI("D", "T", kelvin, "P", pressure, "IF97::Water"))
        ours, apart = 1.0 / pressed_water_density_kg_per_m3(kelvin, pressure), 4e-5
    else:
        given.check(PropsSI("P", "T", kelvin, "Q", 0, "IF97::Water") / 1e6)
        ours, apart = boiling_pressure_Pa_abs(kelvin) / 1e6, 1.2e-4
    close(ours, given.expected, apart * given.expected, "two formulations")
