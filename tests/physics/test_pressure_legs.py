"""Level by pressure: against the columns summed one by one, and the laws that must hold whatever the numbers."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.physics.pressure import (
    gas_pressure_shift_m,
    head_Pa_per_m,
    high_columns_Pa,
    legs_shift_m,
    level_difference_Pa,
    level_of_difference_m,
    level_of_head_m,
    low_columns_Pa,
    one_leg_shift_m,
    one_side_head_Pa,
    pressure_difference_Pa,
    refilled_leg_shift_m,
)
from tests.closeness import close
from tests.reference import Case, case

KPA, MM, G = 1e3, 1e-3, 9.80665

heights = st.floats(0.0, 20.0)
densities = st.floats(400.0, 1500.0)
gases = st.floats(0.0, 100.0)
places = st.floats(-10.0, 10.0)


def by_both_ways(given_: Case, level: float, taps: float, below: float, densities_: tuple[float, ...]) -> float:
    """The difference by one formula; the columns summed side by side must give the same."""
    liquid, gas, high, low = densities_
    whole = level_difference_Pa(level, taps, below, liquid, gas, high, low, given_.value("g"))
    sides = pressure_difference_Pa(
        high_columns_Pa(level, taps, below, liquid, gas, high, given_.value("g")),
        low_columns_Pa(taps, below, low, given_.value("g")),
    )
    close(1e5 + sides, 1e5 + whole, 1e-7, "the same sum, rounded")
    return whole / KPA


def test_open_tank_with_the_transmitter_below() -> None:
    """Against the atmosphere: no gas, no leg on the low side."""
    given_ = case("pressure-PR01")
    rho, below = given_.value("rho"), given_.value("below")
    given_.check([by_both_ways(given_, h, 12.0, below, (rho, 0.0, rho, 0.0)) for h in given_.value("levels")])


@pytest.mark.parametrize(
    ("number", "high", "low"),
    [
        ("PR02", "rho", "rho_low_leg"),
        ("PR03", "rho", "rho_low_leg"),
        ("PR04", "rho_fill", "rho_fill"),
        ("PR08", "rho", "rho_leg"),
    ],
)
def test_closed_tanks(number: str, high: str, low: str) -> None:
    """Dry leg, wet leg, seals on capillaries, drum."""
    given_ = case(f"pressure-{number}")
    gas = given_.value("rho_v" if number == "PR08" else "rho_gas")
    below = given_.value("below") if "below" in given_.inputs else 0.0
    filled = (given_.value("rho"), gas, given_.value(high), given_.value(low))
    levels = given_.inputs.get("levels", {"value": [0.0, 2.0]})["value"]
    given_.check([by_both_ways(given_, h, given_.value("H"), below, filled) for h in levels])


def test_interface_with_both_legs_in_the_upper_liquid() -> None:
    given_ = case("pressure-PR07")
    upper, lower = given_.value("rho_upper"), given_.value("rho_lower")
    filled = (lower, upper, upper, upper)
    given_.check([by_both_ways(given_, h, given_.value("H"), 0.0, filled) for h in given_.value("interface_levels")])


def test_a_wet_leg_that_warms_reads_high() -> None:
    given_ = case("pressure-PR05")
    liquid, gas, taps, below = (given_.value(key) for key in ("rho", "rho_gas", "H", "below"))
    set_, hot = given_.value("rho_low_leg"), given_.value("rho_low_leg_hot")
    given_.check(legs_shift_m(taps, below, liquid, liquid, set_, hot, liquid, gas) / MM)
    true = given_.value("h_true")
    felt = level_difference_Pa(true, taps, below, liquid, gas, liquid, hot, G)
    shown = level_of_difference_m(felt, taps, below, liquid, gas, liquid, set_, G)
    given_.check((shown - true) / MM)


def test_a_denser_liquid_reads_high() -> None:
    given_ = case("pressure-PR06")
    gas, taps, true = given_.value("rho_gas"), given_.value("H"), given_.value("h_true")
    set_, actual = given_.value("rho"), given_.value("rho_actual")
    felt = level_difference_Pa(true, taps, 0.0, actual, gas, actual, gas, G)
    given_.check(level_of_difference_m(felt, taps, 0.0, set_, gas, set_, gas, G) / MM)


@given(heights, places, densities, gases, densities)
def test_with_equal_fill_the_height_of_the_transmitter_drops_out(
    level: float, below: float, liquid: float, gas: float, fill: float
) -> None:
    at_tap = level_difference_Pa(level, 20.0, 0.0, liquid, gas, fill, fill, G)
    elsewhere = level_difference_Pa(level, 20.0, below, liquid, gas, fill, fill, G)
    close(elsewhere, at_tap, 1e-9 * max(abs(at_tap), 1e6), "the columns cancel but for rounding")


@given(heights, places, densities, gases, densities)
def test_exchanged_legs_turn_the_sign(level: float, below: float, liquid: float, gas: float, leg: float) -> None:
    high = high_columns_Pa(level, 20.0, below, liquid, gas, liquid, G)
    low = low_columns_Pa(20.0, below, leg, G)
    assert pressure_difference_Pa(low, high) + pressure_difference_Pa(high, low) == 0.0


@given(heights, places, densities, gases, densities, st.floats(1.0, 200.0))
def test_denser_reads_high_whatever_the_legs(
    level: float, below: float, liquid: float, gas: float, leg: float, more: float
) -> None:
    """Seals on capillaries, so that the legs stay as they are."""
    felt = level_difference_Pa(level, 20.0, below, liquid + more, gas, leg, leg, G)
    shown = level_of_difference_m(felt, 20.0, below, liquid, gas, leg, leg, G)
    assert shown >= level - 1e-9


@given(heights, places, densities, gases, densities)
def test_there_and_back(level: float, below: float, liquid: float, gas: float, leg: float) -> None:
    felt = level_difference_Pa(level, 20.0, below, liquid, gas, liquid, leg, G)
    shown = level_of_difference_m(felt, 20.0, below, liquid, gas, liquid, leg, G)
    close(1.0 + shown, 1.0 + level, 1e-9, "there and back")


@given(st.floats(0.0, 2.0), densities, st.floats(0.0, 50.0))
def test_a_dry_leg_that_fills_reads_low(column: float, liquid: float, gas: float) -> None:
    """Against the columns summed with the leg part full of the liquid."""
    taps, level = 2.0, 3.0
    felt = pressure_difference_Pa(
        high_columns_Pa(level, taps, 0.0, liquid, gas, liquid, G), G * (gas * (taps - column) + liquid * column)
    )
    shown = level_of_difference_m(felt, taps, 0.0, liquid, gas, liquid, gas, G)
    close(shown, level + refilled_leg_shift_m(column, gas, liquid, liquid, gas), 1e-12, "two ways")


def test_a_blanket_lifts_a_single_sensor() -> None:
    """A millibar makes ten millimetres of water, 10.2 mm (common practice, no source)."""
    close(gas_pressure_shift_m(100.0, 998.2, G) / MM, 10.0, 0.3, "said roughly")


def test_largest_at_low_level_is_not_so_of_the_signed_difference() -> None:
    """A wet leg: the difference rises with the level, its size falls."""
    given_ = case("pressure-PR08")
    low, _, high = given_.expected
    assert low < high < 0.0
    slope = head_Pa_per_m(given_.value("rho"), given_.value("rho_v"), G)
    close((high - low) * KPA / given_.value("H"), slope, 1e-6 * slope, "printed digits")


@given(heights, places, densities, gases, densities, densities, densities, densities)
def test_legs_that_change_against_the_columns(
    level: float,
    below: float,
    liquid: float,
    gas: float,
    lower: float,
    upper: float,
    lower_now: float,
    upper_now: float,
) -> None:
    felt = level_difference_Pa(level, 20.0, below, liquid, gas, lower_now, upper_now, G)
    shown = level_of_difference_m(felt, 20.0, below, liquid, gas, lower, upper, G)
    shift = legs_shift_m(20.0, below, lower, lower_now, upper, upper_now, liquid, gas)
    close(1e3 + shown - level, 1e3 + shift, 1e-8, "two ways")


@given(heights, places, densities, densities, densities)
def test_one_leg_that_changes_against_the_columns(
    level: float, below: float, liquid: float, leg: float, leg_now: float
) -> None:
    felt = one_side_head_Pa(level, below, liquid, leg_now, G)
    shown = level_of_head_m(felt, below, liquid, leg, G)
    close(1e3 + shown - level, 1e3 + one_leg_shift_m(below, leg, leg_now, liquid), 1e-9, "two ways")
