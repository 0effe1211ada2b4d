"""Water against printed values of IAPWS-95 and against an open implementation of it."""

from __future__ import annotations

import json
from importlib.resources import files

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.working import apply
from onedatum.physics.media import water_density_kg_per_m3
from tests.closeness import close, exact
from tests.reference import case

SEED = 95


@pytest.mark.parametrize("celsius", [4, 15, 20, 25, 40, 80])
def test_printed_density(celsius: int) -> None:
    given = case(f"quantity-water-{celsius}")
    given.check(water_density_kg_per_m3(given.value("t") + 273.15))


def test_the_error_stated_in_the_table_holds() -> None:
    table = json.loads(files("onedatum.data").joinpath("water_density.json").read_text(encoding="utf-8"))
    stated = table["head"]["largest_error_kg_per_m3"]
    temperature_K = np.random.default_rng(SEED).uniform(273.16, 373.05, 2000)
    wanted = PropsSI("D", "T", temperature_K, "P", 101_325.0, "HEOS::Water")
    close(water_density_kg_per_m3(temperature_K), wanted, stated, "largest error stated in the head of the table")


def test_densest_near_4_degrees() -> None:
    temperature_K = np.linspace(273.15, 283.15, 10_001)
    densest_K = temperature_K[np.argmax(water_density_kg_per_m3(temperature_K))]
    close(densest_K - 273.15, 3.98, 0.02, "temperature of the greatest density of water, common knowledge")


def test_the_last_hundredth_below_the_triple_point_runs_on() -> None:
    """The table is fitted from 0.01 degC; a parabola through points above it meets it at 0 degC."""
    above_K = 273.16 + np.array([0.0, 0.5, 1.0])
    parabola = np.polynomial.Polynomial.fit(above_K, np.asarray(water_density_kg_per_m3(above_K)), 2)
    close(water_density_kg_per_m3(273.15), float(parabola(273.15)), 1e-5, "third order over 1 K")


def test_kind_and_limits() -> None:
    assert np.ndim(water_density_kg_per_m3(293.15)) == 0
    exact(np.isnan(water_density_kg_per_m3(np.array([280.0, np.nan]))), [0.0, 1.0])
    for temperature_K in (273.1, 373.15):
        with pytest.raises(ValidityError):
            apply(water_density_kg_per_m3, {"temperature_K": temperature_K})
