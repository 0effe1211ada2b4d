"""The tank table as a function: equal to numpy's own interpolation, in any order; its inverse closes; NaN outside."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Reals
from onedatum.physics.vessels.table import BLOCK, TankTable
from tests.closeness import close, exact

SEED = 20260301
WHY = "a few roundings of the largest volume, and of the level times the section"


def even(count: int = 2001, step_m: float = 1e-3, low_m: float = 0.0) -> TankTable:
    levels_m: Reals = low_m + np.arange(count, dtype=np.float64) * step_m
    return TankTable(levels_m, 3.0 * (levels_m - low_m) + 0.1 * np.sin(3.0 * levels_m) + 1.0)


def uneven(count: int, seed: int) -> TankTable:
    """Steps from 0.1 mm to 1 m, so that some rows share a cell of the grid and others stand alone in many."""
    random = np.random.default_rng(seed)
    levels_m = random.uniform(-1.0, 1.0) + np.cumsum(10.0 ** random.uniform(-4.0, 0.0, count))
    return TankTable(levels_m, np.cumsum(random.uniform(0.0, 1.0, count)))


TABLES = {
    "1 mm": even(),
    "10 mm": even(301, 0.01),
    "below 0": even(501, 0.01, -0.37),
    "an eighth of an inch": even(1001, 0.003175),
    "two rows": TankTable(np.array([0.5, 2.0]), np.array([1.0, 4.0])),
    "1 mm below, 10 mm above": TankTable(
        np.concatenate([np.arange(100) * 1e-3, 0.1 + np.arange(200) * 0.01]), np.arange(300.0) ** 1.5
    ),
    "far from 0": even(2001, 1e-3, 5000.0),
    "uneven": uneven(400, SEED),
    "uneven, many": uneven(5000, SEED + 1),
}

every_table = pytest.mark.parametrize("table", TABLES.values(), ids=TABLES)


def rounding(table: TankTable) -> float:
    """A level is known to its last digit, and times the steepest section that is a volume."""
    steepest = (np.diff(table.volumes_m3) / np.diff(table.levels_m)).max()
    return float(4.0 * np.finfo(float).eps * (table.volumes_m3.max() + np.abs(table.levels_m).max() * steepest))


def queries(table: TankTable, count: int = 20_000) -> Reals:
    """Random levels, every row, and what lies one last digit beside each row, in random order."""
    random = np.random.default_rng(SEED)
    low, high = table.levels_m[0], table.levels_m[-1]
    beside = [np.nextafter(table.levels_m, to).clip(low, high) for to in (-np.inf, np.inf)]
    all_m = np.concatenate([random.uniform(low, high, count), table.levels_m, *beside])
    random.shuffle(all_m)
    return all_m


@every_table
def test_it_is_numpys_interpolation(table: TankTable) -> None:
    level_m = queries(table)
    expected = np.interp(level_m, table.levels_m, table.volumes_m3)
    close(table.volume_m3(level_m), expected, rounding(table), WHY)


@every_table
def test_at_a_row_it_is_the_row(table: TankTable) -> None:
    close(table.volume_m3(table.levels_m), table.volumes_m3, rounding(table), WHY)


@every_table
def test_the_order_of_the_queries_changes_nothing(table: TankTable) -> None:
    level_m = queries(table)
    order = np.argsort(level_m)
    exact(np.asarray(table.volume_m3(level_m))[order], table.volume_m3(level_m[order]))


@every_table
def test_the_volume_never_falls(table: TankTable) -> None:
    found = np.asarray(table.volume_m3(np.sort(queries(table))))
    assert np.diff(found).min() >= -rounding(table)


@every_table
def test_volume_to_level_to_volume_closes(table: TankTable) -> None:
    random = np.random.default_rng(SEED)
    volume_m3 = random.uniform(table.volumes_m3[0], table.volumes_m3[-1], 20_000)
    close(table.volume_m3(table.level_m(volume_m3)), volume_m3, 4.0 * rounding(table), WHY)


@every_table
def test_the_level_is_numpys_interpolation_the_other_way_round(table: TankTable) -> None:
    """A level is as well known as the least section lets it be; so the comparison is by the volume it makes."""
    volume_m3 = np.random.default_rng(SEED).uniform(table.volumes_m3[0], table.volumes_m3[-1], 5000)
    expected = table.volume_m3(np.interp(volume_m3, table.volumes_m3, table.levels_m))
    close(table.volume_m3(table.level_m(volume_m3)), expected, 4.0 * rounding(table), WHY)


@every_table
def test_the_section_is_the_slope_between_the_rows(table: TankTable) -> None:
    middle_m = 0.5 * (table.levels_m[:-1] + table.levels_m[1:])
    slopes_m2 = np.diff(table.volumes_m3) / np.diff(table.levels_m)
    exact(table.section_m2(middle_m), slopes_m2)


def test_at_a_row_the_section_is_that_above_it_and_at_the_last_that_below() -> None:
    table = TankTable(np.array([0.0, 1.0, 3.0]), np.array([0.0, 2.0, 12.0]))
    exact(table.section_m2(np.array([0.0, 1.0, 3.0])), np.array([2.0, 5.0, 5.0]))


@every_table
def test_outside_there_is_nothing(table: TankTable) -> None:
    for knots, found in ((table.levels_m, table.volume_m3), (table.levels_m, table.section_m2)):
        outside = np.array([np.nextafter(knots[0], -np.inf), np.nextafter(knots[-1], np.inf), -1e9, 1e9])
        assert np.isnan(found(outside)).all()
        assert all(np.isnan(found(float(level_m))) for level_m in outside)
        assert np.isnan(found(np.array([np.nan, np.inf, -np.inf]))).all()
        assert np.isfinite(found(knots[[0, -1]])).all()
    outside_m3 = np.array([np.nextafter(table.volumes_m3[0], -np.inf), np.nextafter(table.volumes_m3[-1], np.inf)])
    assert np.isnan(table.level_m(outside_m3)).all()


def test_what_lies_outside_spoils_no_other_query() -> None:
    table = TABLES["1 mm"]
    level_m = np.array([-5.0, 0.5, np.nan, 1.5, 99.0])
    found = np.asarray(table.volume_m3(level_m))
    exact(np.isnan(found), np.array([True, False, True, False, True]))
    exact(found[[1, 3]], table.volume_m3(level_m[[1, 3]]))


def test_floats_and_arrays_of_any_shape_and_size() -> None:
    table = TABLES["uneven"]
    level_m = queries(table, 2 * BLOCK + 7)
    found = np.asarray(table.volume_m3(level_m))
    assert isinstance(table.volume_m3(float(level_m[0])), float)
    exact(table.volume_m3(float(level_m[-1])), found[-1])
    exact(table.volume_m3(level_m[:60].reshape(3, 4, 5)), found[:60].reshape(3, 4, 5))
    close(found, np.interp(level_m, table.levels_m, table.volumes_m3), rounding(table), WHY)
    assert np.shape(table.volume_m3(np.empty((0, 3)))) == (0, 3)


def test_of_several_levels_with_one_volume_the_highest() -> None:
    table = TankTable(np.array([0.0, 0.05, 0.1, 0.2, 0.3]), np.array([0.0, 0.0, 0.0, 1.0, 3.0]))
    exact(table.level_m(np.array([0.0, 0.5, 1.0, 3.0])), np.array([0.1, 0.15000000000000002, 0.2, 0.3]))
    exact(table.section_m2(0.02), 0.0)


@given(
    steps=st.lists(st.floats(1e-5, 3.0), min_size=1, max_size=60),
    rises=st.lists(st.floats(0.0, 50.0), min_size=60, max_size=60),
    shares=st.lists(st.floats(0.0, 1.0), min_size=1, max_size=20),
    low_m=st.floats(-3.0, 3.0),
)
def test_any_table(steps: list[float], rises: list[float], shares: list[float], low_m: float) -> None:
    levels_m = low_m + np.concatenate([[0.0], np.cumsum(steps)])
    volumes_m3 = np.concatenate([[0.0], np.cumsum([1.0, *rises][: len(steps)])])
    table = TankTable(levels_m, volumes_m3)
    level_m = (levels_m[0] + np.array(shares) * (levels_m[-1] - levels_m[0])).clip(levels_m[0], levels_m[-1])
    off_m3 = np.abs(table.volume_m3(level_m) - np.interp(level_m, levels_m, volumes_m3))
    assert off_m3.max() <= rounding(table)


def test_its_rows_are_its_own() -> None:
    levels_m, volumes_m3 = np.array([0.0, 1.0]), np.array([0.0, 2.0])
    table = TankTable(levels_m, volumes_m3)
    volumes_m3[1] = 9.0
    exact(table.volume_m3(1.0), 2.0)
    with pytest.raises(ValueError, match="read-only"):
        table.volumes_m3[0] = 1.0


@pytest.mark.parametrize(
    ("levels_m", "volumes_m3", "said"),
    [
        ([0.0], [0.0], "two rows or more"),
        ([0.0, 1.0], [0.0, 1.0, 2.0], r"got \(2,\) levels and \(3,\) volumes"),
        ([0.0, np.nan, 2.0], [0.0, 1.0, 2.0], "in row 2"),
        ([0.0, 1.0, 2.0], [0.0, 1.0, np.inf], "in row 3"),
        ([0.0, 1.0, 1.0], [0.0, 1.0, 2.0], "1 m in row 3 after 1 m"),
        ([0.0, 2.0, 1.0], [0.0, 1.0, 2.0], "1 m in row 3 after 2 m"),
        ([0.0, 1.0, 2.0], [0.0, 2.0, 1.5], "1.5 m3 in row 3 after 2 m3"),
        ([0.0, 1.0, 2.0], [4.0, 4.0, 4.0], "4 m3 in every row"),
    ],
)
def test_an_unsound_table_is_refused_by_row(levels_m: list[float], volumes_m3: list[float], said: str) -> None:
    with pytest.raises(ValidityError, match=said):
        TankTable(np.array(levels_m), np.array(volumes_m3))
