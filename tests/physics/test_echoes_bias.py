"""What moves an estimate though no noise does: thresholds, coarse samples, reflections."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from onedatum.physics.echoes import (
    Sampling,
    Window,
    by_matched_filter,
    by_threshold,
    leading_edge,
    parabola_bias_m,
    reflection_bias_m,
    ricker_autocorrelation,
    time_walk_m,
)
from tests.closeness import close, exact
from tests.physics.echo_draws import RICKER, SPEED, UM, arriving
from tests.reference import case

WIDTH_S = 1.5e-6


# ---------------------------------------------------------------- a threshold


def test_a_fixed_threshold_walks() -> None:
    """The case, and a record at 1 GHz of a pulse and of eight tenths of it."""
    stated = case("floats-F17")
    walk = time_walk_m(stated.value("v"), stated.value("sigma"), stated.value("thr"), stated.value("amp_ratio"))
    stated.check(float(walk) / UM)
    sampling = Sampling(1e9, 100_000)
    strong = arriving([50e-6], RICKER, sampling)
    both = by_threshold(np.concatenate([strong, 0.8 * strong]), sampling, (Window(40_000, 60_000),), 0.5)
    late = float(both.delays_s[1, 0] - both.delays_s[0, 0])
    close(late * stated.value("v"), float(walk), 1e-5 * float(walk), "straight line over one nanosecond")


def test_a_pulse_as_strong_does_not_walk() -> None:
    exact(time_walk_m(SPEED, WIDTH_S, np.array([0.1, 0.5, 0.8]), 1.0), np.zeros(3))


@pytest.mark.parametrize("threshold", [0.001, 0.2, 0.5, 0.9, 0.999])
def test_leading_edge_by_bisection(threshold: float) -> None:
    other = brentq(lambda u: (1 - u**2) * np.exp(-(u**2) / 2) - threshold, 0.0, 1.0, xtol=1e-15)
    close(leading_edge(threshold), other, 1e-12, "Brent's method")


# ---------------------------------------------------------------- coarse samples


def test_bias_of_the_parabola() -> None:
    stated = case("floats-F11")
    bias = parabola_bias_m(stated.value("v"), stated.value("sigma"), 1 / stated.value("fs"), stated.value("offset"))
    stated.check(float(bias) / UM)


def test_bias_of_the_parabola_goes_with_the_cube_of_the_interval() -> None:
    offsets = np.linspace(-0.5, 0.5, 101)
    coarse, fine = (np.abs(parabola_bias_m(SPEED, WIDTH_S, step, offsets)).max() for step in (2e-7, 1e-7))
    assert fine < 0.1 * UM
    close(coarse / fine, 8.0, 0.2, "next power of the interval")


def test_bias_of_the_parabola_is_odd_and_nil_between_and_on_samples() -> None:
    offsets = np.linspace(0.0, 0.5, 26)
    found = np.asarray(parabola_bias_m(SPEED, WIDTH_S, 1e-6, offsets))
    close(found, -parabola_bias_m(SPEED, WIDTH_S, 1e-6, -offsets), 1e-15, "rounding")
    assert np.abs(found[[0, -1]]).max() < 1e-15 < np.abs(found[1:-1]).min()


# ---------------------------------------------------------------- reflections


@pytest.mark.parametrize("identity", ["floats-F12", "floats-F13"])
def test_bias_by_a_reflection(identity: str) -> None:
    stated = case(identity)
    bias = reflection_bias_m(stated.value("v"), stated.value("sigma"), stated.value("r"), stated.value("gap"))
    stated.check(float(bias) / UM)


def test_biases_by_reflections_over_their_gap() -> None:
    """Reflection of 10 %, width 1.5 us, 2 to 9 us later (own calculation, printed to two or three digits)."""
    gaps = np.array([2e-6, 3e-6, 4e-6, 6e-6, 9e-6, 12e-6])
    found = np.asarray(reflection_bias_m(SPEED, WIDTH_S, 0.1, gaps)) / UM
    close(found, np.array([175.0, -22.0, -100.0, -2.0, 3.3, 0.02]), 0.5, "printed to the unit")
    close(found[3:], np.array([-2.0, 3.3, 0.02]), 0.05, "printed to a tenth")


@given(reflection=st.floats(-0.2, 0.2), gap_widths=st.floats(1.0, 8.0))
def test_bias_by_a_reflection_against_a_search(reflection: float, gap_widths: float) -> None:
    """The highest place of R(t) + r R(t - gap) on a fine grid about the pulse."""
    gap = gap_widths * WIDTH_S
    grid = np.linspace(-0.6, 0.6, 60_001) * WIDTH_S
    height = ricker_autocorrelation(grid, WIDTH_S) + reflection * ricker_autocorrelation(grid - gap, WIDTH_S)
    found = float(reflection_bias_m(SPEED, WIDTH_S, reflection, gap)) / (SPEED * WIDTH_S)
    assert abs(found - grid[height.argmax()] / WIDTH_S) < 4e-5, "two steps of the grid"


def test_the_filter_of_a_reflected_pulse_is_off_by_that_bias() -> None:
    sampling = Sampling(1e8, 20_000)
    record = arriving([100e-6], RICKER, sampling) + 0.1 * arriving([104e-6], RICKER, sampling)
    found = by_matched_filter(record, RICKER, sampling, (Window(9_800, 10_200),), 0.3)
    bias = (float(found.delays_s[0, 0]) - 100e-6) * SPEED
    close(bias, float(reflection_bias_m(SPEED, WIDTH_S, 0.1, 4e-6)), 0.01 * UM, "filter at 100 MHz")


@pytest.mark.parametrize("late", [0.0, 1.0, 2.5])
def test_autocorrelation_by_quadrature(late: float) -> None:
    places = np.linspace(-14, 14, 2801)
    pulse = (1 - places**2) * np.exp(-(places**2) / 2)
    later = (1 - (places - late) ** 2) * np.exp(-((places - late) ** 2) / 2)
    found = ricker_autocorrelation(np.array([late]), 1.0)[0]
    close(found, np.sum(pulse * later) / np.sum(pulse**2), 1e-12, "trapezoids of what dies down at both ends")
