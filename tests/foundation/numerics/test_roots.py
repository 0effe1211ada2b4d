"""The root finder on functions whose roots are known, also where Newton's steps fail."""

from __future__ import annotations

import numpy as np
import pytest

from onedatum.foundation.numerics import monotone_root
from onedatum.foundation.numerics.roots import ITERATIONS
from tests.closeness import close, exact


def test_floats_in_float_out() -> None:
    root = monotone_root(lambda x: x**3, lambda x: 3 * x**2, 8.0, 0.0, 10.0)
    assert np.ndim(root) == 0
    close(root, 2.0, 1e-15, "rounding")


def test_each_element_has_its_own_bracket() -> None:
    wanted = np.array([[0.1], [2.0], [7.5]])
    root = monotone_root(np.exp, np.exp, np.exp(wanted), np.array([0.0, -5.0]), np.array([8.0, 40.0]))
    close(root, np.broadcast_to(wanted, (3, 2)), 1e-14, "rounding of exp")


def test_falling_functions() -> None:
    close(monotone_root(lambda x: 1 / x, lambda x: -1 / x**2, 0.25, 1e-3, 1e3), 4.0, 1e-14, "rounding")


def test_ends_are_roots() -> None:
    root = monotone_root(lambda x: x**2, lambda x: 2 * x, np.array([0.0, 4.0]), 0.0, 2.0)
    exact(root, [0.0, 2.0])


def test_an_end_that_is_a_root_is_not_looked_for() -> None:
    """At a double root Newton's steps only halve the distance (a law of the method); an end needs none of them."""
    steps = []

    def slope(x: np.ndarray) -> np.ndarray:
        steps.append(x)
        return 2.0 * x

    exact(monotone_root(lambda x: x * x, slope, np.array([0.0, 9.0]), 0.0, 3.0, 1.0), [0.0, 3.0])
    assert not steps


def test_a_root_that_newton_runs_away_from() -> None:
    """From x = 3 a Newton step on the arc tangent overshoots further each time."""
    root = monotone_root(np.arctan, lambda x: 1 / (1 + x**2), np.arctan(0.5), -1e6, 1e6, 3.0)
    close(root, 0.5, 1e-15, "rounding")


def test_a_root_that_newton_creeps_towards() -> None:
    """On x^99 each Newton step takes off a ninety-ninth: 300 of them from 2 to 0.1."""
    close(monotone_root(lambda x: x**99, lambda x: 99 * x**98, 1e-99, 0.0, 2.0, 2.0), 0.1, 1e-15, "rounding")


def test_a_slope_of_nought_or_nonsense() -> None:
    close(monotone_root(lambda x: x**9, lambda x: 9 * x**8, 1e-9, -1.0, 2.0, 0.0), 0.1, 1e-14, "rounding")
    close(monotone_root(lambda x: x**3, lambda x: np.full_like(x, np.nan), 8.0, 0.0, 10.0), 2.0, 1e-14, "bisection")
    close(monotone_root(lambda x: x**3, lambda x: 0.0 * x - 1.0, 8.0, 0.0, 10.0), 2.0, 1e-14, "bisection")


def test_a_step_between_two_values() -> None:
    """A jump is found to the last digits by halving."""
    root = monotone_root(lambda x: np.where(x < np.pi, x - 10.0, x), lambda x: np.ones_like(x), 0.0, 0.0, 10.0)
    close(root, np.pi, 1e-14, "bisection")


def test_nan_in_nan_out() -> None:
    root = monotone_root(
        lambda x: x, lambda x: np.ones_like(x), np.array([0.5, np.nan, 0.5]), np.array([0.0, 0.0, np.nan]), 1.0
    )
    exact(root, [0.5, np.nan, np.nan])


def test_no_root_between_the_brackets() -> None:
    exact(
        monotone_root(lambda x: x, lambda x: np.ones_like(x), np.array([-0.1, 0.1, 1.1]), 0.0, 1.0),
        [np.nan, 0.1, np.nan],
    )


@pytest.mark.parametrize("start", [None, 1e-9, 1.0, 999.0])
def test_work_is_bounded(start: float | None) -> None:
    calls = []

    def counted(x: np.ndarray) -> np.ndarray:
        calls.append(x.size)
        return np.asarray(x**7)

    wanted = np.random.default_rng(7).uniform(0.0, 900.0, 2000)
    close(monotone_root(counted, lambda x: 7 * x**6, wanted**7, 0.0, 1000.0, start), wanted, 1e-11, "rounding")
    assert len(calls) <= ITERATIONS + 2


def test_a_function_of_coarse_digits_is_left_in_peace() -> None:
    """Rounded to 1e-9 a function would be searched to the last step; `within` ends that without a loss."""
    for within, most in ((0.0, ITERATIONS + 2), (1e-7, 15)):
        calls: list[int] = []

        def coarse(x: np.ndarray, seen: list[int] = calls) -> np.ndarray:
            seen.append(x.size)
            return np.asarray(np.round(np.exp(x), 9))

        wanted = np.linspace(0.1, 0.9, 500)
        close(monotone_root(coarse, np.exp, np.exp(wanted), 0.0, 1.0, within=within), wanted, 1e-8, "nine digits")
        assert len(calls) <= most
    assert len(calls) > 3
