"""Floating roofs against a worked case, the balance of volumes in a tank, and the ends of the critical zone."""

from __future__ import annotations

import numpy as np
import pytest

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.working import apply
from onedatum.physics.vessels.floating_roof import (
    floating_share,
    roof_density_correction_m3,
    roof_displacement_at_level_m3,
    roof_displacement_m3,
)
from tests.closeness import close, exact
from tests.reference import case

LANDING, FLOATING, MASS = 1.5, 2.0, 85000.0


def test_correction_for_another_density() -> None:
    given = case("quantity-C07")
    given.check(roof_density_correction_m3(given.value("m"), given.value("rho_obs"), given.value("rho_ref")))


@pytest.mark.parametrize("density", [680.0, 820.0, 850.0, 1000.0])
def test_a_tank_with_its_roof_afloat(density: float) -> None:
    """Balance: the pressure on the bottom carries liquid and roof, rho g h A = (M + m) g; A h - m/rho is the liquid."""
    section, liquid_kg = 314.0, 2.0e6
    level = (liquid_kg + MASS) / (density * section)
    found = section * level - roof_displacement_m3(MASS, density)
    close(found, liquid_kg / density, 1e-11, "rounding of some 3000 m3")
    by_table = section * level - roof_displacement_m3(MASS, 850.0)
    corrected = by_table - roof_density_correction_m3(MASS, density, 850.0)
    close(corrected, liquid_kg / density, 1e-11, "rounding of some 3000 m3")


def test_correction_is_nought_for_the_density_of_the_table_and_turns_its_sign_there() -> None:
    found = roof_density_correction_m3(MASS, np.array([840.0, 850.0, 860.0]), 850.0)
    exact(np.sign(found), [1.0, 0.0, -1.0])


def test_share_through_the_critical_zone() -> None:
    """0 below, 1 above, both ends included; a straight line between (common practice, no source)."""
    levels = np.array([-1.0, 0.0, 1.5, 1.6, 1.75, 1.9, 2.0, 12.0])
    found = floating_share(levels, LANDING, FLOATING)
    close(found, [0.0, 0.0, 0.0, 0.2, 0.5, 0.8, 1.0, 1.0], 1e-15, "rounding")
    exact((found > 0) & (found < 1), (levels > LANDING) & (levels < FLOATING))


def test_displaced_at_a_level_joins_standing_and_floating() -> None:
    levels = np.linspace(0.0, 4.0, 401)
    found = np.asarray(roof_displacement_at_level_m3(levels, LANDING, FLOATING, MASS, 850.0))
    exact(found[levels <= LANDING], np.zeros(int(np.sum(levels <= LANDING))))
    afloat = found[levels >= FLOATING]
    exact(afloat, np.full(afloat.shape, roof_displacement_m3(MASS, 850.0)))
    zone = (levels >= LANDING) & (levels <= FLOATING)
    close(found[zone], np.interp(levels[zone], [LANDING, FLOATING], [0.0, 100.0]), 1e-11, "rounding of 100 m3")


def test_a_roof_that_floats_before_it_is_reached_is_refused() -> None:
    levels = {"level_m": 3.0, "landing_m": 2.0, "floating_m": 2.0}
    with pytest.raises(ValidityError, match="floats only above"):
        apply(floating_share, levels)
    with pytest.raises(ValidityError, match="floats only above"):
        apply(roof_displacement_at_level_m3, levels | {"roof_mass_kg": MASS, "density_kg_per_m3": 850.0})
