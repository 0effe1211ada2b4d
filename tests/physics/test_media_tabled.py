"""Liquids by a table of densities: straight between the rows, never beyond them, and no table of slips of the pen."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.working import apply
from onedatum.physics.media import (
    DensityTable,
    densities_bend_kg_per_m3,
    tabled_density_kg_per_m3,
    water_density_kg_per_m3,
)
from onedatum.physics.media.tabled import coldest_row_K, hottest_row_K
from tests.closeness import close, exact, printed

ROWS = DensityTable(np.array([273.15, 293.15, 313.15]), np.array([1127.0, 1113.0, 1099.5]))


def test_a_table_is_straight_between_its_rows() -> None:
    exact(tabled_density_kg_per_m3(np.array([273.15, 283.15, 293.15, 313.15]), ROWS), [1127.0, 1120.0, 1113.0, 1099.5])
    assert (coldest_row_K(ROWS), hottest_row_K(ROWS)) == (273.15, 313.15)
    assert ROWS.told() == "3 densities from 0 degC to 40 degC"


@pytest.mark.parametrize("kelvin", [273.0, 313.3])
def test_a_table_never_reaches_beyond_its_rows(kelvin: float) -> None:
    def ask(temperature_K: Any) -> Any:
        given: dict[str, Any] = {"temperature_K": temperature_K, "table": ROWS}
        return apply(tabled_density_kg_per_m3, given)

    with pytest.raises(ValidityError, match="says nothing"):
        ask(kelvin)
    found = ask(np.array([kelvin, 300.0]))
    exact(np.isnan(found.value), [1.0, 0.0])


@pytest.mark.parametrize(
    ("temperatures", "densities", "words"),
    [
        ([293.15], [1000.0], "two rows"),
        ([293.15, 283.15], [1000.0, 1001.0], "rising order"),
        ([283.15, 283.15], [1000.0, 1001.0], "rising order"),
        ([283.15, np.nan], [1000.0, 1001.0], "rising order"),
        ([283.15, 293.15], [1000.0, 100.0], "within 20 %"),
        ([283.15, 293.15], [1000.0, 1201.0], "within 20 %"),
        ([283.15, 293.15], [-1000.0, -990.0], "above 0"),
        ([283.15, 293.15], [1000.0, np.nan], "above 0"),
    ],
)
def test_rows_that_make_no_table_are_refused(temperatures: list[float], densities: list[float], words: str) -> None:
    with pytest.raises(ValidityError, match=words):
        DensityTable(np.array(temperatures), np.array(densities))


def test_water_near_4_degc_makes_a_sound_table() -> None:
    kelvin = np.array([274.15, 277.15, 283.15])
    table = DensityTable(kelvin, np.asarray(water_density_kg_per_m3(kelvin)))
    assert tabled_density_kg_per_m3(277.15, table) == printed("999.97")


def test_what_straight_lines_are_off_by() -> None:
    """On a parabola the statement is exact; on water, whose bend changes along the rows, it covers what is seen."""
    kelvin = np.array([280.0, 284.0, 296.0, 300.0])
    parabola = DensityTable(kelvin, 1000.0 - 0.004 * (kelvin - 277.0) ** 2)
    close(densities_bend_kg_per_m3(parabola), 0.004 * 12.0**2 / 4.0, 1e-12, "rounding")
    seen = 1000.0 - 0.004 * (290.0 - 277.0) ** 2 - tabled_density_kg_per_m3(290.0, parabola)
    close(seen, densities_bend_kg_per_m3(parabola), 1e-10, "in the middle of the longest step")
    rows, between = np.arange(275.0, 371.0, 5.0), np.linspace(275.0, 370.0, 5001)
    water = DensityTable(rows, np.asarray(water_density_kg_per_m3(rows)))
    off = np.max(np.abs(tabled_density_kg_per_m3(between, water) - water_density_kg_per_m3(between)))
    assert 0.9 * densities_bend_kg_per_m3(water) < off < 1.1 * densities_bend_kg_per_m3(water)
    assert np.isnan(densities_bend_kg_per_m3(DensityTable(kelvin[:2], np.array([1000.0, 999.0]))))
