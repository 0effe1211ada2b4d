"""The chain from level to quantity against handbook values and worked cases."""

from __future__ import annotations

import numpy as np
import pytest

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.working import apply
from onedatum.physics.quantity import (
    difference_m3,
    gross_standard_m3,
    mass_in_air_kg,
    mass_kg,
    pure_alcohol_m3,
    pure_alcohol_uncorrected_m3,
    shell_factor,
    surface_level_m,
    table_volume_m3,
    volume_at_temperature_m3,
    volume_correction,
)
from tests.closeness import close, exact
from tests.reference import case

ZERO_K = 273.15
LITRE = 1e-3
DEGF = 5 / 9
"""One degree Fahrenheit in kelvin."""


def test_shell_factor_of_a_handbook() -> None:
    stated = case("quantity-Q02")
    rise_K = (stated.value("TSh") - stated.value("Tref")) * DEGF
    stated.check(shell_factor(288.15 + rise_K, 288.15, stated.value("alpha") / DEGF))


@pytest.mark.parametrize("rise_K", [-40.0, -6.0, 0.0, 3.0, 80.0])
def test_shell_factor_is_the_polynomial_of_the_standard(rise_K: float) -> None:
    """API MPMS 12.1.1: 1 + 2 alpha dT + alpha**2 dT**2."""
    alpha = 1.116e-5
    polynomial = 1 + 2 * alpha * rise_K + alpha**2 * rise_K**2
    close(shell_factor(293.15 + rise_K, 293.15, alpha), polynomial, 1e-15, "rounding near 1")


def test_shell_factor_is_the_ratio_of_two_sections() -> None:
    warm, cold = 1.600 * (1 + 16e-6 * (308.15 - 293.15)), 1.600
    close(shell_factor(308.15, 293.15, 16e-6), warm**2 / cold**2, 1e-14, "rounding near 1")


def test_observed_volume_at_shell_temperature() -> None:
    stated = case("quantity-Q16")
    shell_degC = (7 * stated.value("TL") + stated.value("Ta")) / 8
    factor = shell_factor(shell_degC + ZERO_K, stated.value("Tref") + ZERO_K, stated.value("alpha"))
    stated.check(volume_at_temperature_m3(stated.value("TOV") - stated.value("FW"), factor))


@pytest.mark.parametrize("identity", ["quantity-Q20a", "quantity-Q20b"])
def test_weighing_in_air(identity: str) -> None:
    stated = case(identity)
    mass, density, air, weights = (stated.value(name) for name in ("mass", "rho", "rho_air", "rho_w"))
    stated.check(mass_in_air_kg(mass, density, air, weights))


def test_balance_is_level_when_liquid_and_weights_have_lost_their_air() -> None:
    """Equilibrium of a beam balance: m - rho_a V of the liquid equals the same of the weights."""
    shown = mass_in_air_kg(3134.73, 895.39, 1.2, 8000.0)
    close(shown - 1.2 * shown / 8000.0, 3134.73 - 1.2 * 3134.73 / 895.39, 1e-9, "rounding of 3000 kg")
    exact(mass_in_air_kg(3134.73, 895.39, 0.0, 8000.0), 3134.73)
    close(mass_in_air_kg(3134.73, 8000.0, 1.2, 8000.0), 3134.73, 1e-11, "what is as dense as the weights loses nothing")


def test_what_is_lighter_than_air_is_refused() -> None:
    given = {"mass_kg": 1.0, "density_kg_per_m3": 1.0, "air_density_kg_per_m3": 1.2}
    with pytest.raises(ValidityError, match=r"density_kg_per_m3 must be above 1\.2 kg/m3"):
        apply(mass_in_air_kg, given | {"weights_density_kg_per_m3": 8000.0})


def test_chain_of_the_spirit_receiver() -> None:
    stated = case("quantity-A01")
    factor = shell_factor(stated.value("T") + ZERO_K, stated.value("T_t") + ZERO_K, stated.value("alpha"))
    volume = volume_at_temperature_m3(stated.value("V"), factor)
    mass = mass_kg(volume, stated.value("rho"))
    at_20 = gross_standard_m3(volume, volume_correction(stated.value("rho"), stated.value("rho_20")))
    found = {
        "factor": factor,
        "volume": volume,
        "mass": mass,
        "in_air": mass_in_air_kg(mass, stated.value("rho"), stated.value("rho_a"), stated.value("rho_w")),
        "at_20": at_20,
        "alcohol": pure_alcohol_m3(at_20, stated.value("q")) / LITRE,
        "uncorrected": pure_alcohol_uncorrected_m3(stated.value("V"), stated.value("q")) / LITRE,
    }
    for result, value in found.items():
        stated.check(value, result)


def test_without_temperature_both_ways_agree() -> None:
    """Limit: at 20 degC throughout, the chain is the plain product."""
    volume = volume_at_temperature_m3(3.5, shell_factor(293.15, 293.15, 16e-6))
    alcohol = pure_alcohol_m3(gross_standard_m3(volume, volume_correction(890.475, 890.475)), 0.68)
    close(alcohol, pure_alcohol_uncorrected_m3(3.5, 0.68), 1e-14, "rounding")


def test_errors_of_datum_and_table_enter_as_stated() -> None:
    close(surface_level_m(1.850, np.array([-0.002, 0.0, 0.002])), [1.848, 1.850, 1.852], 1e-15, "rounding")
    close(table_volume_m3(3.5, np.array([-0.0015, 0.0, 0.0015])), [3.49475, 3.5, 3.50525], 1e-14, "rounding")


def test_difference_is_first_less_second() -> None:
    close(difference_m3(2.39380, 2.38112), 0.01268, 1e-15, "rounding of one subtraction")
