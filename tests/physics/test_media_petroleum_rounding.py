"""The rounding of the petroleum tables, relative density and API gravity, against figures worked by hand."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from onedatum.physics.media import (
    api_gravity,
    base_density_of_api_gravity_kg_per_m3,
    base_density_of_relative_density_kg_per_m3,
    petroleum_base_density_kg_per_m3,
    petroleum_group,
    petroleum_temperature_factor,
    relative_density_60degF,
    rounded_density_kg_per_m3,
    rounded_factor,
    rounded_pressure_kPa_Pa_gauge,
    rounded_pressure_psi_Pa_gauge,
    rounded_temperature_degC_K,
    rounded_temperature_degF_K,
)
from tests.closeness import close, exact, printed
from tests.reference import case

PSI = 6894.757


def in_degC(rounded_K: float) -> float:
    return rounded_K - 273.15


def in_degF(rounded_K: float) -> float:
    return 1.8 * (rounded_K - 273.15) + 32.0


# As written, in the unit it is rounded in; as rounded by hand.
BY_HAND: list[tuple[Callable[..., Any], Callable[[float], float], Callable[[float], float], float, float]] = [
    (rounded_temperature_degF_K, lambda t: (t - 32.0) / 1.8 + 273.15, in_degF, 100.04, 100.0),
    (rounded_temperature_degF_K, lambda t: (t - 32.0) / 1.8 + 273.15, in_degF, 100.05, 100.1),
    (rounded_temperature_degF_K, lambda t: (t - 32.0) / 1.8 + 273.15, in_degF, -40.05, -40.1),
    (rounded_temperature_degF_K, lambda t: (t - 32.0) / 1.8 + 273.15, in_degF, -40.04, -40.0),
    (rounded_temperature_degC_K, lambda t: t + 273.15, in_degC, 35.02, 35.0),
    (rounded_temperature_degC_K, lambda t: t + 273.15, in_degC, 35.025, 35.05),
    (rounded_temperature_degC_K, lambda t: t + 273.15, in_degC, -5.34, -5.35),
    (rounded_temperature_degC_K, lambda t: t + 273.15, in_degC, -5.325, -5.35),
    (rounded_density_kg_per_m3, float, float, 842.34, 842.3),
    (rounded_density_kg_per_m3, float, float, 842.35, 842.4),
    (rounded_density_kg_per_m3, float, float, 842.25, 842.3),
    (rounded_pressure_psi_Pa_gauge, lambda p: p * PSI, lambda p: p / PSI, 50.4, 50.0),
    (rounded_pressure_psi_Pa_gauge, lambda p: p * PSI, lambda p: p / PSI, 50.5, 51.0),
    (rounded_pressure_kPa_Pa_gauge, lambda p: p * 1e3, lambda p: p / 1e3, 347.4, 345.0),
    (rounded_pressure_kPa_Pa_gauge, lambda p: p * 1e3, lambda p: p / 1e3, 347.5, 350.0),
    (rounded_pressure_kPa_Pa_gauge, lambda p: p * 1e5, lambda p: p / 1e5, 3.475, 3.5),
    (rounded_factor, float, float, 0.9810081, 0.98101),
    (rounded_factor, float, float, 0.981004999, 0.98100),
    (rounded_factor, float, float, 0.981005, 0.98101),
    (rounded_factor, float, float, 0.123455, 0.12346),
]


@pytest.mark.parametrize(("function", "into_si", "back", "written", "expected"), BY_HAND)
def test_by_hand(
    function: Callable[..., Any],
    into_si: Callable[[float], float],
    back: Callable[[float], float],
    written: float,
    expected: float,
) -> None:
    """A half goes away from zero (from memory), also where its decimals are none of the binary number."""
    close(back(function(into_si(written))), expected, 1e-9, "the unit turned there and back")
    again = function(function(into_si(written)))
    close(back(again), expected, 1e-9, "what is rounded stays")


def test_a_rounded_number_has_the_digits_it_has_in_print() -> None:
    exact(rounded_density_kg_per_m3(np.array([842.31, 842.39])), [842.3, 842.4])
    exact(rounded_factor(np.array([0.98100812, 1.0, 1.02345678])), [0.98101, 1.0, 1.02346])


def test_what_rounding_is_worth() -> None:
    """Half a step at most, and that somewhere; not a number stays alone."""
    density = np.linspace(800.0, 801.0, 1001)
    off = np.abs(rounded_density_kg_per_m3(density) - density)
    assert np.max(off) == printed("0.0500")
    exact(np.isnan(rounded_density_kg_per_m3(np.array([np.nan, 800.0]))), [1.0, 0.0])


def test_a_factor_in_rounded_steps() -> None:
    """Crude oil of 849.96 kg/m3 at 60 degF, wanted at 99.96 degF: entered with 850.0 and 100.0, case quantity-Q04.

    That case has 0.9810081, which prints as 0.98101; without rounding what goes in it would be 0.98103.
    """
    group, given_K = petroleum_group("crude oil"), (99.96 - 32.0) / 1.8 + 273.15
    in_steps = petroleum_temperature_factor(
        rounded_density_kg_per_m3(849.96), rounded_temperature_degF_K(given_K), group
    )
    case("quantity-Q04").check(in_steps)
    exact(rounded_factor(in_steps), 0.98101)
    exact(rounded_factor(petroleum_temperature_factor(849.96, given_K, group)), 0.98103)


def test_a_base_density_in_rounded_steps() -> None:
    """Crude oil observed as 842.34 kg/m3 at 35.02 degC: entered with 842.3 and 35.0, case quantity-Q11."""
    observed, at_K = rounded_density_kg_per_m3(842.34), rounded_temperature_degC_K(35.02 + 273.15)
    base = petroleum_base_density_kg_per_m3(observed, at_K, 0.0, petroleum_group("crude oil"))
    case("quantity-Q11").check(base)
    exact(rounded_density_kg_per_m3(base), 856.3)


def test_water_has_ten_degrees() -> None:
    """By definition; the older 999.012 kg/m3 is another number."""
    close(api_gravity(999.016), 10.0, 1e-12, "141.5 - 131.5")
    close(relative_density_60degF(999.016), 1.0, 1e-15, "definition")
    assert abs(float(api_gravity(999.012)) - 10.0) > 5e-4


def test_gravity_and_relative_density_by_hand() -> None:
    """35 degrees: 141.5/166.5 = 0.849850, times 999.016."""
    assert base_density_of_api_gravity_kg_per_m3(35.0) == printed("849.0136")
    assert base_density_of_relative_density_kg_per_m3(0.84985) == printed("849.014")


def test_the_ways_back_close() -> None:
    density = np.linspace(605.0, 1195.0, 60)
    close(base_density_of_api_gravity_kg_per_m3(api_gravity(density)), density, 1e-10, "rounding")
    close(base_density_of_relative_density_kg_per_m3(relative_density_60degF(density)), density, 1e-11, "rounding")
