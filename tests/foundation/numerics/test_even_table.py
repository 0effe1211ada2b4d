"""A function as a table of even steps: how far it is off is what it says, and it never reaches beyond its ends."""

from __future__ import annotations

from math import pi

import numpy as np

from onedatum.foundation.numerics import EvenTable
from tests.closeness import close, exact


def sine_table(points: int = 101) -> EvenTable:
    table = EvenTable.of(np.sin, 0.0, pi, points)
    assert table is not None
    return table


def test_the_rows_are_met_exactly() -> None:
    table = sine_table()
    x = np.linspace(0.0, pi, 101)
    close(table(x), np.sin(x), 1e-15, "rounding")


def test_a_smooth_function_is_off_by_an_eighth_of_step_squared_times_curvature() -> None:
    """Half way between two rows, where the curvature of the sine is 1, the chord lies h^2/8 below."""
    table = sine_table()
    step = pi / 100
    close(table.off, step**2 / 8, 1e-3 * step**2 / 8, "next term of the series, h^4")
    x = np.random.default_rng(1).uniform(0.0, pi, 10_000)
    assert np.max(np.abs(table(x) - np.sin(x))) <= table.off * (1.0 + 1e-9)


def test_twice_the_rows_are_off_by_a_quarter() -> None:
    ratio = sine_table(201).off / sine_table(101).off
    close(ratio, 0.25, 1e-3, "next term of the series")


def test_a_straight_line_is_met_everywhere() -> None:
    table = EvenTable.of(lambda x: 3.0 * x - 1.0, -2.0, 5.0, 9)
    assert table is not None
    x = np.array([5.0, -2.0, 0.3, 4.999])
    close(table(x), 3.0 * x - 1.0, 1e-14, "rounding")


def test_a_constant_is_tabled() -> None:
    table = EvenTable.of(lambda x: 7.0, 0.0, 1.0, 3)
    assert table is not None
    exact(table(np.array([0.0, 0.2, 1.0])), [7.0, 7.0, 7.0])


def test_it_holds_what_lies_within_and_no_number_that_is_none() -> None:
    table = sine_table()
    assert table.holds(np.array([0.0, pi]))
    assert not table.holds(np.array([0.5, pi + 1e-9]))
    assert not table.holds(np.array([-1e-9, 0.5]))
    assert not table.holds(np.array([0.5, np.nan]))


def test_a_function_that_ends_within_makes_no_table() -> None:
    with np.errstate(invalid="ignore"):
        assert EvenTable.of(np.sqrt, -1.0, 1.0) is None
