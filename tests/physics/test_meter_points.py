"""Metered batches in a tank, against a case worked by hand, the mass of the batch, and the shell of the chain."""

from __future__ import annotations

import numpy as np
import pytest

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Real
from onedatum.foundation.working import apply
from onedatum.physics.media import water_density_kg_per_m3
from onedatum.physics.quantity import shell_factor, volume_at_temperature_m3
from onedatum.physics.vessels.meter_points import batch_volume_m3
from tests.closeness import close, exact
from tests.reference import case

ZERO_K = 273.15
STEEL = 11.5e-6


def test_two_batches_worked_by_hand() -> None:
    """Points down, batches along: at each point all that lies in the tank has the temperature of that point."""
    given = case("quantity-meter-points")
    metered, factor = np.array(given.value("metered")), np.array(given.value("meter_factor"))
    meter_K = np.array(given.value("T_m")) + ZERO_K
    tank_K = np.array(given.value("T_k"))[:, None] + ZERO_K
    shell_K = np.array(given.value("T_s"))[:, None] + ZERO_K
    beta, alpha = given.value("beta"), given.value("alpha")
    each = batch_volume_m3(metered, factor, meter_K, tank_K, beta, shell_K, given.value("T_t") + ZERO_K, alpha)
    given.check(np.sum(np.tril(each), axis=1))
    running = np.cumsum(np.diagonal(each))
    assert 0.02 < given.expected[1] - running[1] < 0.04, "50 m3 warmed by 3 K, less the shell by 5 K: 25 L left out"


@pytest.mark.parametrize("factor", [0.998, 1.0, 1.0012])
def test_at_one_temperature_the_batch_is_what_the_meter_passed(factor: float) -> None:
    found = batch_volume_m3(np.array([0.0, 12.5, 50.0]), factor, 293.15, 293.15, 2e-4, 293.15, 293.15, STEEL)
    exact(found, np.array([0.0, 12.5, 50.0]) * factor)


def test_the_mass_of_the_batch_is_kept() -> None:
    """Water by its own density, 18 to 22 degC: V rho is the same in meter and tank, to second order in beta dT."""
    cold, warm = (float(water_density_kg_per_m3(temperature_K)) for temperature_K in (291.15, 295.15))
    beta = (cold / warm - 1) / 4.0
    found = batch_volume_m3(50.0, 1.0, 291.15, 295.15, beta, 293.15, 293.15, STEEL)
    close(found * warm, 50.0 * cold, 1e-9, "rounding of 50 t: the mean expansion over the step is exact")
    back = batch_volume_m3(50.0, 1.0, 295.15, 291.15, beta, 293.15, 293.15, STEEL)
    close(back * cold, 50.0 * warm, 1.01 * (4.0 * beta) ** 2 * 50.0 * warm, "second order, as the validity says")


@pytest.mark.parametrize("shell_K", [263.15, 288.15, 293.15, 313.15])
def test_a_table_made_this_way_gives_the_batch_back(shell_K: float) -> None:
    """Law: the chain from level to quantity multiplies by the shell factor what was divided by it here."""
    by_table = batch_volume_m3(50.0, 1.0012, 293.15, 293.15, 2e-4, shell_K, 288.15, STEEL)
    at_shell = volume_at_temperature_m3(by_table, shell_factor(shell_K, 288.15, STEEL))
    close(at_shell, 50.0 * 1.0012, 1e-13, "rounding")


def test_signs() -> None:
    """Liquid that warms in the tank fills more; a shell warmer than its table is emptier by the table."""
    base: dict[str, Real] = {
        "metered_m3": 50.0,
        "meter_factor": 1.0,
        "meter_temperature_K": 293.15,
        "tank_temperature_K": 293.15,
        "liquid_expansion_per_K": 2e-4,
        "shell_temperature_K": 293.15,
        "table_temperature_K": 293.15,
        "shell_expansion_per_K": STEEL,
    }
    warmed = apply(batch_volume_m3, base | {"tank_temperature_K": 298.15}).value
    close(warmed, 50.05, 1e-13, "50 x 2e-4 x 5 m3 more; rounding")
    shell = apply(batch_volume_m3, base | {"shell_temperature_K": 303.15}).value
    close(shell, 50.0 - 50.0 * 2 * STEEL * 10.0, 50.0 * 3 * (STEEL * 10.0) ** 2, "second order of the shell")
    with pytest.raises(ValidityError, match="use two densities"):
        apply(batch_volume_m3, base | {"liquid_expansion_per_K": 1.1e-3, "tank_temperature_K": 303.15})
