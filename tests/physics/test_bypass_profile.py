"""The column of a chamber whose temperature changes along it: the integral, against quadrature."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from onedatum.foundation.errors import ValidityError
from onedatum.physics.bypass import (
    Column,
    Thermometers,
    chamber_level_m,
    column_density_kg_per_m3,
    column_factor,
    factor_of_levels,
    halfway_temperature_K,
    lightest_density_kg_per_m3,
    profile_temperature_K,
    profiled_chamber_level_m,
    profiled_vessel_level_m,
    three_point_mean_density_kg_per_m3,
)
from onedatum.physics.media import (
    boiling_point_K,
    column_water_density_kg_per_m3,
    ethanol_water_density_kg_per_m3,
    pressed_water_density_kg_per_m3,
    saturated_steam_density_kg_per_m3,
    saturated_water_density_kg_per_m3,
)
from tests.closeness import close
from tests.reference import case

MM, ZERO_C = 1e-3, 273.15
DRUM_Pa = 100e5
BOILING_K = float(boiling_point_K(DRUM_Pa))
WATER = float(saturated_water_density_kg_per_m3(BOILING_K))
STEAM = float(saturated_steam_density_kg_per_m3(BOILING_K))


def density(kelvin: float) -> float:
    """Of the water in the chamber."""
    return float(pressed_water_density_kg_per_m3(kelvin, DRUM_Pa))


def column_of(thermometers: Thermometers, law: Callable[[np.ndarray], np.ndarray]) -> Column:
    """The column of a liquid of this law."""
    _, kelvin = thermometers.nodes()
    return Column(thermometers.heights_m, law(kelvin), law(thermometers.temperatures_K[[0, -1]]))


def pressed(kelvin: np.ndarray) -> np.ndarray:
    """The law of water under the pressure of the drum."""
    return np.asarray(pressed_water_density_kg_per_m3(kelvin, DRUM_Pa))


@pytest.mark.parametrize(("bottom", "surface"), [(120.0, 290.0), (290.0, 120.0), (20.0, 300.0), (150.0, 150.0)])
def test_the_mean_of_an_even_profile_against_quadrature(bottom: float, surface: float) -> None:
    low, high = bottom + ZERO_C, surface + ZERO_C
    total, _ = quad(lambda share: density(low + (high - low) * share), 0.0, 1.0, epsabs=0.0, epsrel=1e-12)
    close(column_water_density_kg_per_m3(low, high, DRUM_Pa), total, 1e-9 * total, "the accuracy asked of it")


def test_level_beside_an_even_profile() -> None:
    """The integral gives 354.95 mm; the mid temperature would give 351.8, the mean of the end densities 362.0."""
    given_ = case("floats-C07")
    bottom, surface = given_.value("T_bottom") + ZERO_C, given_.value("T_top") + ZERO_C
    level = given_.value("h") * MM
    mean = column_water_density_kg_per_m3(bottom, surface, DRUM_Pa)
    given_.check(chamber_level_m(level, float(column_factor(WATER, mean, STEAM)), 0.0) / MM)
    at_middle = column_factor(WATER, density(halfway_temperature_K(bottom, surface)), STEAM)
    close(chamber_level_m(level, float(at_middle), 0.0) / MM, 351.8, 0.05, "printed to 0.1 mm")
    of_ends = column_factor(WATER, 0.5 * (density(bottom) + density(surface)), STEAM)
    close(chamber_level_m(level, float(of_ends), 0.0) / MM, 362.0, 0.05, "printed to 0.1 mm")


HEIGHTS = np.array([-0.1, 0.15, 0.3, 0.6])
KELVIN = np.array([80.0, 160.0, 190.0, 285.0]) + ZERO_C


@pytest.mark.parametrize("level", [0.05, 0.2, 0.45, 0.7])
def test_a_profile_against_quadrature(level: float) -> None:
    """Thermometers at four heights: the balance of the columns by adaptive quadrature and bisection."""

    def weight(up_to: float) -> float:
        at = [height for height in HEIGHTS if 0.0 < height < up_to]
        total, _ = quad(
            lambda z: density(float(np.interp(z, HEIGHTS, KELVIN))) - STEAM, 0.0, up_to, points=at or None,
            epsabs=1e-13, epsrel=1e-13, limit=200,
        )  # fmt: skip
        return total

    expected = brentq(lambda up_to: weight(up_to) - level * (WATER - STEAM), -0.05, 0.9, xtol=1e-14)
    column = column_of(Thermometers(HEIGHTS, KELVIN), pressed)
    found = float(profiled_chamber_level_m(level, WATER, STEAM, column))
    close(found, expected, 1e-9 * expected, "the accuracy asked of it")
    close(profiled_vessel_level_m(found, WATER, STEAM, column), level, 1e-9 * level, "there and back")
    at = float(np.interp(found, HEIGHTS, KELVIN))
    close(profile_temperature_K(found, Thermometers(HEIGHTS, KELVIN)), at, 1e-12, "straight lines")
    close(column_density_kg_per_m3(found, column), density(at), 1e-9 * density(at), "a series of polynomials")
    close(lightest_density_kg_per_m3(column), density(KELVIN[-1]), 1e-12, "the hottest is the lightest")
    assert abs(float(profiled_chamber_level_m(0.0, WATER, STEAM, column))) < 1e-12


@settings(max_examples=30)
@given(st.floats(0.01, 3.0), st.floats(100.0, 250.0))
def test_a_profile_of_one_temperature_is_none(level: float, degC: float) -> None:
    even = Thermometers(np.array([0.0, 0.5, 1.0]), np.full(3, degC + ZERO_C))
    found = profiled_chamber_level_m(level, WATER, STEAM, column_of(even, pressed))
    expected = chamber_level_m(level, float(column_factor(WATER, density(degC + ZERO_C), STEAM)), 0.0)
    close(found, expected, 1e-11 * expected, "a root and a quotient")


def test_the_factor_of_a_profile_changes_with_the_level() -> None:
    """Colder below: the first of the level stands beside the denser water."""
    column = column_of(Thermometers(HEIGHTS, KELVIN), pressed)
    low, high = (float(profiled_chamber_level_m(level, WATER, STEAM, column)) for level in (0.1, 0.6))
    assert factor_of_levels(low, 0.1) < factor_of_levels(high, 0.6) < 1.0


def test_three_points_of_a_smooth_liquid_against_quadrature() -> None:
    """Spirit of 60 % by mass from 5 to 35 degC."""
    low, high = 278.15, 308.15
    kelvin = (low, halfway_temperature_K(low, high), high)
    found = three_point_mean_density_kg_per_m3(*(float(ethanol_water_density_kg_per_m3(0.6, t)) for t in kelvin))
    total, _ = quad(lambda t: float(ethanol_water_density_kg_per_m3(0.6, t)), low, high, epsrel=1e-12)
    close(found, total / (high - low), 1e-6 * found, "a smooth curve")


def test_thermometers_stand_from_the_bottom_up() -> None:
    with pytest.raises(ValidityError, match="from the bottom up"):
        Thermometers(np.array([0.0, 0.3, 0.3]), np.array([300.0, 310.0, 320.0]))
