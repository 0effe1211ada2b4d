"""Chambers beside their vessel: against the balance of two columns solved numerically, and published densities."""

from __future__ import annotations

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from onedatum.physics.bypass import (
    chamber_level_m,
    collapsed_level_m,
    column_factor,
    line_shift_m,
    one_liquid_chamber_level_m,
    vessel_level_m,
)
from onedatum.physics.media import (
    boiling_point_K,
    pressed_water_density_kg_per_m3,
    saturated_steam_density_kg_per_m3,
    saturated_water_density_kg_per_m3,
)
from onedatum.physics.taps import level_error_m
from tests.closeness import close, printed
from tests.reference import case

MM, BAR, ZERO_C = 1e-3, 1e5, 273.15
G = 9.80665


def factor_of(pressure_bar: float, chamber_degC: float) -> float:
    """The factor of a drum at a pressure with a chamber of even temperature."""
    boiling = boiling_point_K(pressure_bar * BAR)
    water, steam = saturated_water_density_kg_per_m3(boiling), saturated_steam_density_kg_per_m3(boiling)
    column = pressed_water_density_kg_per_m3(chamber_degC + ZERO_C, pressure_bar * BAR)
    return float(column_factor(water, column, steam))


@pytest.mark.parametrize("number", ["C01", "C02", "C03", "C05"])
def test_level_in_a_cool_chamber(number: str) -> None:
    given_ = case(f"floats-{number}")
    factor = factor_of(given_.value("p"), given_.value("T_chamber"))
    given_.check(chamber_level_m(given_.value("h") * MM, factor, 0.0) / MM)


def test_level_in_the_vessel_from_that_in_the_chamber() -> None:
    given_ = case("floats-C08")
    factor = factor_of(given_.value("p"), given_.value("T_chamber"))
    given_.check(vessel_level_m(given_.value("h_chamber") * MM, factor, 0.0) / MM)


def test_a_setting_for_another_pressure_reads_high() -> None:
    given_ = case("floats-C09")
    stands = chamber_level_m(given_.value("h") * MM, factor_of(given_.value("p"), given_.value("T")), 0.0)
    given_.check(vessel_level_m(stands, factor_of(given_.value("p_cal"), given_.value("T_cal")), 0.0) / MM)


@pytest.mark.parametrize("pressure_bar", [1.0, 5.0, 10.0, 20.0, 40.0, 60.0, 100.0, 140.0])
@pytest.mark.parametrize("cooler_K", [20.0, 60.0, 100.0])
def test_two_formulations_give_one_level(pressure_bar: float, cooler_K: float) -> None:
    """IAPWS-IF97 (R7-97) and IAPWS-95 (R6-95): the level of 400 mm differs by less than 0.03 mm up to 140 bar."""
    pressure = pressure_bar * BAR
    boiling = PropsSI("T", "P", pressure, "Q", 0, "IF97::Water")
    industrial = column_factor(
        PropsSI("D", "P", pressure, "Q", 0, "IF97::Water"),
        PropsSI("D", "T", max(boiling - cooler_K, 275.0), "P", pressure, "IF97::Water"),
        PropsSI("D", "P", pressure, "Q", 1, "IF97::Water"),
    )
    ours = factor_of(pressure_bar, max(boiling - cooler_K, 275.0) - ZERO_C)
    assert abs(chamber_level_m(400.0, float(industrial), 0.0) - chamber_level_m(400.0, ours, 0.0)) < 0.03


@given(
    st.floats(0.0, 20.0), st.floats(300.0, 1500.0), st.floats(300.0, 1500.0), st.floats(0.0, 200.0), st.floats(0.1, 5.0)
)
def test_the_distance_of_the_taps_cancels(level: float, vessel: float, chamber: float, gas: float, over: float) -> None:
    """Both columns press alike at the lower tap, whatever the height of the upper one."""
    stands = chamber_level_m(level, column_factor(vessel, chamber, gas), 0.0)
    taps = max(level, stands) + over
    left = vessel * level + gas * (taps - level)
    right = chamber * stands + gas * (taps - stands)
    close(1.0 + left, 1.0 + right, 1e-12 * (1.0 + left), "the same pressure, rounded")


@given(st.floats(0.1, 5.0), st.floats(500.0, 1000.0), st.floats(0.0, 60.0), st.floats(1.0, 300.0))
def test_a_denser_column_stands_lower(level: float, vessel: float, gas: float, denser: float) -> None:
    assert level_error_m(chamber_level_m(level, column_factor(vessel, vessel + denser, gas), 0.0), level) < 0.0


@given(st.floats(-0.5, 0.5), st.floats(700.0, 1100.0), st.floats(700.0, 1100.0), st.floats(0.0, 60.0))
def test_a_lower_line_that_rises_against_the_balance(rise: float, line: float, column: float, gas: float) -> None:
    """The pressure at the tap in the vessel, summed through the line and solved for the level in the chamber."""
    vessel, level, taps = 800.0, 1.0, 3.0

    def apart(stands: float) -> float:
        through = line * rise + column * (stands - rise) + gas * (taps - stands)
        return G * (vessel * level + gas * (taps - level) - through)

    expected = brentq(apart, -5.0, 8.0, xtol=1e-13)
    stands = chamber_level_m(level, column_factor(vessel, column, gas), line_shift_m(rise, line, column, gas))
    close(stands, expected, 1e-11, "a root found to 1e-13 m")


def test_one_liquid_shows_neither_surface_nor_interface() -> None:
    """0.4 m of water under 0.5 m of oil (998, 800): the chamber with water alone stands at 801 mm (worked by hand)."""
    assert one_liquid_chamber_level_m(0.4, 0.5, 998.0, 800.0, 998.0, 0.0) / MM == printed("801")


def test_bubbles_weigh_as_the_gas() -> None:
    """The column of a mixture with its mean density stands as the collapsed level does."""
    water, steam, share, level = 796.16, 20.608, 0.15, 0.4
    mixture = (1 - share) * water + share * steam
    by_mixture = chamber_level_m(level, column_factor(mixture, 919.05, steam), 0.0)
    by_collapsed = chamber_level_m(collapsed_level_m(level, share), column_factor(water, 919.05, steam), 0.0)
    close(by_mixture, by_collapsed, 1e-15, "two ways to the same number")


def test_arrays_give_arrays() -> None:
    levels = np.linspace(0.0, 0.7, 8)
    stands = chamber_level_m(levels, factor_of(41.0, 150.0), 0.0)
    close(stands / MM, levels * 0.86322 / MM, 0.01, "the factor is given to five digits, by another formulation")
