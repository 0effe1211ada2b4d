"""Rows of a table: the error stated is the error found on a dense grid; finer rows where straight lines are too far."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Reals
from onedatum.physics.vessels import flat_end, lying_cylinder, surface_m2, volume_m3
from onedatum.physics.vessels.table_rows import ALLOWED_M, TableRows, interpolation_bound_m3, rows
from tests.closeness import close, exact
from tests.reference import case

Shape = tuple[Callable[[Reals], Reals], Callable[[Reals], Reals], float, float]


def lying(radius_m: float, length_m: float) -> Shape:
    """A lying cylinder with flat ends, by the closed form of the circular segment."""

    def volume(level_m: Reals) -> Reals:
        chord = np.sqrt(np.clip(level_m * (2.0 * radius_m - level_m), 0.0, None))
        angle = np.arccos(np.clip(1.0 - level_m / radius_m, -1.0, 1.0))
        return np.asarray(length_m * (radius_m**2 * angle - (radius_m - level_m) * chord))

    def section(level_m: Reals) -> Reals:
        return np.asarray(2.0 * length_m * np.sqrt(np.clip(level_m * (2.0 * radius_m - level_m), 0.0, None)))

    return volume, section, 0.0, 2.0 * radius_m


def courses(at_m: float, below_m2: float, above_m2: float, low_m: float = 0.0) -> Shape:
    """An upright vessel whose section jumps once, between rows."""

    def volume(level_m: Reals) -> Reals:
        return np.asarray(below_m2 * (level_m - low_m) + (above_m2 - below_m2) * np.clip(level_m - at_m, 0.0, None))

    def section(level_m: Reals) -> Reals:
        return np.where(level_m < at_m, below_m2, above_m2)

    return volume, section, low_m, 2.0051


def cone() -> Shape:
    return (lambda level_m: level_m**3), (lambda level_m: 3.0 * level_m**2), 0.0, 1.0


def flat_start() -> Shape:
    return (lambda h: 3.0 * np.clip(h - 0.0553, 0.0, None)), (lambda h: np.where(h < 0.0553, 0.0, 3.0)), 0.0, 2.0


SHAPES = {
    "lying": lying(1.0, 5.0),
    "small lying": lying(0.2, 0.7),
    "cone": cone(),
    "courses": courses(1.0034, 100.0, 99.0),
    "a shelf": courses(1.0034, 100.0, 60.0),
    "below 0": courses(1.0034, 100.0, 60.0, -0.0372),
    "flat start": flat_start(),
}

every_shape = pytest.mark.parametrize("shape", SHAPES.values(), ids=SHAPES)
every_step = pytest.mark.parametrize("step_m", [0.05, 0.01])


def found_m3(table: TableRows, shape: Shape, count: int = 1_000_001) -> tuple[Reals, Reals]:
    """Levels far closer than any row, and what the table gives there beyond the body."""
    level_m = np.linspace(shape[2], shape[3], count)
    return level_m, np.interp(level_m, table.levels_m, table.volumes_m3) - shape[0](level_m)


# ---------------------------------------------------------------- worked cases


@pytest.mark.parametrize("identity", ["quantity-T33", "quantity-T34"])
def test_worked_errors_of_a_lying_cylinder(identity: str) -> None:
    """The table of the body of the tool itself, without finer rows, at a level in the middle of two rows."""
    tank = case(identity)
    diameter_m, length_m, step_m, level_m = (tank.value(name) for name in ("D", "L", "step", "h"))
    body = lying_cylinder(length_m, flat_end(diameter_m), flat_end(diameter_m))
    table = rows(lambda h: volume_m3(h, body), lambda h: surface_m2(h, body), 0.0, diameter_m, step_m, finest_m=step_m)
    tank.check(table.table.volume_m3(level_m) - volume_m3(level_m, body))


# ---------------------------------------------------------------- errors


@every_shape
@every_step
def test_the_error_stated_is_the_error_found(shape: Shape, step_m: float) -> None:
    """A worst place is looked for at 1/32 of an interval: in a smooth section that misses 0.1 % of the error at most.

    At a jump of the section the error is a tent whose top may lie half a part off: 1/32 of it and a little more.
    """
    table = rows(*shape, step_m)
    level_m, off_m3 = found_m3(table, shape)
    largest = float(np.abs(off_m3).max())
    if largest < 1e-9:
        assert abs(table.after.by_volume.error_m3) < 1e-9
        return
    close(abs(table.after.by_volume.error_m3), largest, 0.05 * largest, "a place within 1/32 of the interval")
    near = np.abs(off_m3) >= 0.95 * largest
    assert (np.abs(level_m[near] - table.after.by_volume.level_m) <= step_m).any()


@every_shape
def test_the_error_between_each_two_rows(shape: Shape) -> None:
    table = rows(*shape, 0.01)
    level_m, off_m3 = found_m3(table, shape)
    interval = np.clip(np.searchsorted(table.levels_m, level_m, side="right") - 1, 0, len(table.levels_m) - 2)
    found = np.zeros(len(table.levels_m) - 1)
    np.maximum.at(found, interval, np.abs(off_m3))
    stated = np.abs(table.worst_error_m3)
    assert (found <= 1.07 * stated + 1e-12).all()
    assert (table.worst_at_m >= table.levels_m[:-1]).all()
    assert (table.worst_at_m <= table.levels_m[1:]).all()


@every_shape
def test_the_stated_place_has_the_stated_error(shape: Shape) -> None:
    table = rows(*shape, 0.01)
    spot = table.after.by_volume
    there = np.array([spot.level_m])
    off_m3 = float((np.interp(there, table.levels_m, table.volumes_m3) - shape[0](there))[0])
    assert abs(off_m3 - spot.error_m3) <= 1e-12 * abs(table.volumes_m3[-1])


def test_the_error_in_level_is_that_in_volume_over_the_section() -> None:
    table = rows(*lying(1.0, 5.0), 0.01, finest_m=0.01)
    sections_m2 = np.diff(table.volumes_m3) / np.diff(table.levels_m)
    close(table.worst_error_m, np.abs(table.worst_error_m3) / sections_m2, 1e-12, "rounding")


# ---------------------------------------------------------------- finer rows


@every_shape
@every_step
def test_rows_are_finer_where_the_allowed_error_is_exceeded(shape: Shape, step_m: float) -> None:
    table = rows(*shape, step_m)
    steps_m = np.diff(table.levels_m)
    coarse = steps_m > 1.5e-3
    assert (table.worst_error_m[coarse] <= ALLOWED_M).all()
    level_m, off_m3 = found_m3(table, shape)
    interval = np.clip(np.searchsorted(table.levels_m, level_m, side="right") - 1, 0, len(steps_m) - 1)
    rises_m3 = np.diff(table.volumes_m3)[interval]
    within = coarse[interval] & (rises_m3 > 0.0)
    off_m = np.abs(off_m3[within]) * steps_m[interval][within] / rises_m3[within]
    assert off_m.max() <= 1.07 * ALLOWED_M


def test_a_lying_cylinder_has_finer_rows_at_bottom_and_top_only() -> None:
    table = rows(*lying(1.0, 5.0), 0.01)
    fine = np.diff(table.levels_m) < 0.0099
    starts_m = table.levels_m[:-1][fine]
    assert fine.any()
    assert np.minimum(starts_m, 2.0 - starts_m).max() < 0.2
    assert table.before.by_level.error_m > ALLOWED_M
    assert abs(table.after.by_volume.error_m3) < abs(table.before.by_volume.error_m3)


def test_where_the_error_is_allowed_no_row_is_added() -> None:
    table = rows(*lying(1.0, 5.0), 0.01, allowed_m=1.0)
    exact(table.levels_m, np.round(np.arange(201) * 0.01, 12))
    assert table.before == table.after


def test_every_row_is_a_whole_multiple_or_an_end() -> None:
    table = rows(*courses(1.0034, 100.0, 60.0, -0.0372), 0.01)
    inner_m = table.levels_m[1:-1]
    assert np.abs(inner_m / 1e-3 - np.round(inner_m / 1e-3)).max() < 1e-6
    exact(table.levels_m[[0, -1]], np.array([-0.0372, 2.0051]))
    assert set(np.round(np.arange(-3, 201) * 0.01, 12)) <= set(inner_m.tolist())


def test_a_row_too_close_to_an_end_is_left_out() -> None:
    """Nearer than 0.1 mm no gauge tells two rows apart: common practice, no source."""
    box = (lambda h: 2.0 * h), (lambda h: np.full(np.shape(h), 2.0))
    exact(rows(*box, 0.0, 1.00005, 0.1).levels_m[-2:], np.array([0.9, 1.00005]))
    exact(rows(*box, 0.0, 1.0002, 0.1).levels_m[-2:], np.array([1.0, 1.0002]))


@pytest.mark.parametrize("low_m", [0.0, 0.1, 0.3, 0.7])
def test_rows_as_fine_as_that_are_all_there(low_m: float) -> None:
    """Steps of 0.1 mm: as main rows, and between rows that are 1 mm apart."""
    box = (lambda h: 2.0 * h), (lambda h: np.full(np.shape(h), 2.0))
    wanted_m = np.round(low_m + np.arange(1001) * 1e-4, 12)
    exact(rows(*box, low_m, round(low_m + 0.1, 12), 1e-4).levels_m, wanted_m)
    table = rows(lambda h: h**3, lambda h: 3.0 * h**2, low_m, round(low_m + 0.1, 12), 1e-3, 1e-15, 1e-4)
    exact(table.levels_m, wanted_m)


def test_the_rows_hold_the_volumes_of_the_body() -> None:
    for shape in SHAPES.values():
        table = rows(*shape, 0.01)
        off_m3 = np.abs(table.volumes_m3 - shape[0](table.levels_m))
        assert off_m3.max() <= 1e-12 * table.volumes_m3[-1]
        assert (np.diff(table.volumes_m3) >= 0.0).all()


def test_a_flat_start_keeps_its_rows() -> None:
    table = rows(*flat_start(), 0.01)
    exact(table.table.volume_m3(0.03), 0.0)
    assert table.table.level_m(0.0) == table.levels_m[table.volumes_m3 == 0.0][-1]
    assert 0.0 < table.after.by_volume.error_m3 < table.before.by_volume.error_m3


def test_rounding_alone_lets_no_volume_fall() -> None:
    """A volume that shivers in its last digits, as integrals do."""

    def shivering(level_m: Reals) -> Reals:
        return np.asarray(1.0 + np.clip(level_m - 0.5, 0.0, None) + 1e-15 * np.sin(1e5 * level_m))

    table = rows(shivering, lambda h: np.where(h < 0.5, 0.0, 1.0), 0.0, 1.0, 0.001)
    assert (np.diff(table.volumes_m3) >= 0.0).all()


# ---------------------------------------------------------------- the bound


def test_the_bound_is_the_textbook_remainder_of_linear_interpolation() -> None:
    """step^2/8 max|f''|, any text on numerical analysis; from memory. A parabola reaches it."""
    table = rows(lambda h: 5.0 * h**2, lambda h: 10.0 * h, 0.0, 1.0, 0.1, finest_m=0.1)
    close(table.after.bound_m3, 0.1**2 / 8.0 * 10.0, 1e-12, "rounding")
    close(table.after.by_volume.error_m3, table.after.bound_m3, 1e-12, "rounding")
    exact(interpolation_bound_m3(0.1, 10.0), 0.1**2 / 8.0 * 10.0)


def test_no_smooth_interval_exceeds_the_bound() -> None:
    """The slope is taken from 32 parts, which are chords: short of the largest by a little."""
    table = rows(*cone(), 0.01, finest_m=0.01)
    _, off_m3 = found_m3(table, cone())
    assert table.after.rough == 0
    assert 0.95 * table.after.bound_m3 < np.abs(off_m3).max() <= 1.001 * table.after.bound_m3


def test_intervals_with_a_jump_or_a_vertex_are_counted_and_left_out_of_the_bound() -> None:
    jumped = rows(*courses(1.0034, 100.0, 60.0), 0.01, finest_m=0.01)
    assert jumped.after.rough == 1
    exact(jumped.after.bound_m3, 0.0)
    assert rows(*lying(1.0, 5.0), 0.01, finest_m=0.01).after.rough == 2


# ---------------------------------------------------------------- refusals

BOX = (lambda h: 2.0 * h), (lambda h: np.full(np.shape(h), 2.0))


@pytest.mark.parametrize(
    ("ends_and_step", "more", "said"),
    [
        ((0.0, 2.0, 1e-6), {}, "step_m must be at least 1e-05 m"),
        ((0.0, 2.0, 0.0), {}, "step_m must be above 0 m"),
        ((0.0, 2.0, np.nan), {}, "step_m must be above 0 m"),
        ((2.0, 1.0, 0.01), {}, "high_m must be above the low end of 2 m"),
        ((0.0, np.inf, 0.01), {}, "high_m"),
        ((0.0, 2.0, 0.01), {"allowed_m": -1.0}, "allowed_m must be above 0 m"),
        ((0.0, 2.0, 0.01), {"finest_m": 0.0}, "finest_m must be above 0 m"),
    ],
)
def test_nonsense_is_refused(ends_and_step: tuple[float, float, float], more: dict[str, Any], said: str) -> None:
    with pytest.raises(ValidityError, match=said):
        rows(*BOX, *ends_and_step, **more)


def test_too_many_finer_rows_are_refused() -> None:
    with pytest.raises(ValidityError, match=r"allowed_m must be more than 1e-12 m.*at most 200000 are made"):
        rows(*lying(1.0, 5.0), 0.01, allowed_m=1e-12, finest_m=1e-6)


def test_a_body_without_a_number_is_refused() -> None:
    with pytest.raises(ValidityError, match=r"volume_m3 must be a number at every level.*at the level 0 m"):
        rows(lambda h: np.log(h), BOX[1], 0.0, 2.0, 0.1)
