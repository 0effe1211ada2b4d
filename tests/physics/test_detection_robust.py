"""Spikes, noise and repeated readings against quadrature, simulation with seeds and counting by hand."""

from __future__ import annotations

from math import sqrt
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as arrays
from scipy.integrate import quad
from scipy.ndimage import median_filter
from scipy.stats import norm

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Reals
from onedatum.physics.detection import (
    censored,
    common_step,
    difference_noise,
    events_in_time,
    hampel,
    identical_runs,
    repeat_probability,
    repeat_run_limit,
    repeat_run_probability,
    repeat_runs_expected,
)
from tests.closeness import close, exact
from tests.physics.shares_apart import alike
from tests.reference import case
from tests.soon import soon

MM = 1e-3

# ---------------------------------------------------------------- spikes and noise


def test_one_spike_by_hand() -> None:
    worked = case("loop-D10")
    found = hampel(worked.value("x"), 9, worked.value("k"), 0.0)
    worked.check(found.medians[4], "median")
    worked.check(found.limits[4], "limit")
    worked.check(found.limits[4] / (3 * 1.4826), "mad")
    worked.check(np.flatnonzero(found.outside) + 1, "outlier_index_1based")


@given(values=arrays.arrays(np.float64, st.integers(7, 40), elements=st.floats(-5.0, 5.0, width=32)))
def test_medians_are_those_of_another_library(values: Reals) -> None:
    found = hampel(values, 5, 3.0, 0.0)
    assert found.medians[2:-2].tolist() == median_filter(values, size=5)[2:-2].tolist()


@given(
    values=arrays.arrays(np.float64, st.integers(9, 40), elements=st.integers(-50, 50).map(float)),
    shift=st.integers(-1000, 1000),
    power=st.integers(-3, 3),
)
def test_spikes_are_the_same_in_any_unit(values: Reals, shift: int, power: int) -> None:
    """Whole numbers and powers of two keep the comparison free of rounding; the sign does not matter either."""
    plain = hampel(values, 7, 3.0, 1.0)
    for other, scale in ((values + shift, 1.0), (values * 2.0**power, 2.0**power), (-values, 1.0)):
        assert hampel(other, 7, 3.0, scale).outside.tolist() == plain.outside.tolist()


def test_the_grain_guards_a_median_of_nothing() -> None:
    """Readings at rest that flip by one step are no spikes; without the guard each of them would be one."""
    values = np.full(21, 5.0)
    values[10] += 0.1
    assert not hampel(values, 7, 3.0, 0.1).outside.any()
    assert np.flatnonzero(hampel(values, 7, 3.0, 0.0).outside).tolist() == [10]


def test_blocks_join_without_a_seam() -> None:
    values = np.random.default_rng(3).normal(size=200_000)
    with soon(2.0):
        found = hampel(values, 9, 3.0, 0.0)
    place = np.random.default_rng(4).integers(4, 199_995, 200)
    assert found.medians[place].tolist() == [np.median(values[i - 4 : i + 5]) for i in place]


def test_noise_by_differences() -> None:
    """100 000 seeded values: the estimate spreads by 1.4/sqrt(n) or so; neither a slope nor spikes move it."""
    chance = np.random.default_rng(7)
    values = chance.normal(0.0, 0.4, 100_000)
    close(difference_noise(values), 0.4, 0.008, "four standard deviations of the estimate")
    close(difference_noise(values + 0.01 * np.arange(100_000)), difference_noise(values), 1e-9, "a slope cancels")
    values[::100] += 50.0
    close(difference_noise(values), 0.4, 0.02, "one difference in 50 is wild")


# ---------------------------------------------------------------- repeated readings


def test_repeats_worked() -> None:
    worked = case("loop-D09")
    p = repeat_probability(worked.value("sigma") * MM, worked.value("q") * MM)
    worked.check(p, "p")
    worked.check(repeat_run_probability(p, float(worked.value("n"))), "p_run_upper")


@pytest.mark.parametrize("ratio", [0.2, 0.7, 1.0, 3.0, 10.0])
def test_repeats_against_quadrature(ratio: float) -> None:
    """Sum over the steps of the squared chance to fall into each, averaged over where the level stands in its step."""

    def agree(phase: float) -> float:
        edges = (np.arange(-40, 41) - phase) * ratio
        return float(np.sum(np.diff(norm.cdf(edges)) ** 2))

    expected, _ = quad(agree, 0.0, 1.0, epsabs=1e-12, points=[0.5], limit=200)
    alike(repeat_probability(1.0, ratio), expected, 1e-8, "the quadrature")


def test_repeats_at_their_limits() -> None:
    """A step wide against the noise: nearly always; a step of nothing: the density of a difference of two, times q."""
    close(repeat_probability(1e-6, 1.0), 1.0, 2e-6, "crossings of an edge, 2*s/(q*sqrt(pi))")
    alike(repeat_probability(1.0, 1e-4), 1e-4 / (2.0 * sqrt(np.pi)), 1e-7, "the next term, a**2/6")


def test_runs_by_chance_against_simulation() -> None:
    """Pairs that agree with p = 0.3, independent: 200 seeded series of 2000 readings; within four standard errors."""
    chance = np.random.default_rng(11)
    counts = []
    for _ in range(200):
        values = np.cumsum(np.concatenate(([0], chance.random(1999) >= 0.3)))
        counts.append(len(identical_runs(values, 4).counts))
    expected = float(repeat_runs_expected(0.3, 4.0, 2000.0))
    assert abs(np.mean(counts) - expected) < 4.0 * np.std(counts) / sqrt(200)


@given(p=st.floats(0.01, 0.99), chance=st.floats(1e-9, 0.5))
def test_the_limit_of_a_run_has_the_chance_it_was_asked_for(p: float, chance: float) -> None:
    alike(repeat_run_probability(p, repeat_run_limit(p, chance)), chance, 1e-9, "rounding of a power")


@given(values=st.lists(st.integers(0, 3), min_size=1, max_size=60), least=st.integers(1, 4))
def test_runs_counted_one_by_one(values: list[int], least: int) -> None:
    expected, start = [], 0
    for i in range(1, len(values) + 1):
        if i == len(values) or values[i] != values[start]:
            if i - start >= least:
                expected.append((start, i - start))
            start = i
    found = identical_runs(values, least)
    assert list(zip(found.starts.tolist(), found.counts.tolist(), strict=True)) == expected


def test_events_in_a_day() -> None:
    """12 spikes in three days are four a day."""
    exact(events_in_time(12.0, 86400.0, 3 * 86400.0), 4.0)


# ---------------------------------------------------------------- ends of the signal


def test_readings_at_the_ends_are_kept_apart() -> None:
    found = censored([3.8, 3.7, 4.0, 12.0, 20.5, 21.0, float("nan"), 19.9], 3.8, 20.5)
    assert found.inside.tolist() == [False, False, True, True, False, False, False, True]
    assert (found.low_share, found.high_share, found.missing_share) == (0.25, 0.25, 0.125)


def test_clamped_readings_would_hide_a_drift() -> None:
    """A rise that meets the end of the signal half way: with the clamped half the slope is a third too low."""
    times = np.arange(100.0)
    shown = np.minimum(12.0 + 0.17 * times, 20.5)
    inside = censored(shown, 3.8, 20.5).inside
    assert int(np.sum(inside)) == 50
    close(np.polyfit(times[inside], shown[inside], 1)[0], 0.17, 1e-12, "a straight line")
    assert np.polyfit(times, shown, 1)[0] < 0.67 * 0.17


# ---------------------------------------------------------------- refused


@pytest.mark.parametrize("window", [0, 1, 2, 4, -3, 11])
def test_a_window_must_be_odd_and_fit(window: int) -> None:
    with pytest.raises(ValidityError, match=r"^window must be an odd number from 3 to 9; got"):
        hampel(np.zeros(9), window, 3.0, 0.0)


def test_absurd_statements_are_refused_by_name() -> None:
    nan: Any = float("nan")
    for bad in (0.0, nan):
        with pytest.raises(ValidityError, match=r"^threshold must be above 0"):
            hampel(np.zeros(9), 3, bad, 0.0)
    for bad in (-0.1, nan):
        with pytest.raises(ValidityError, match=r"^grain must be 0 or more"):
            hampel(np.zeros(9), 3, 3.0, bad)
    with pytest.raises(ValidityError, match=r"^low must be below 3.8; got 20.5\."):
        censored([4.0], 20.5, 3.8)
    with pytest.raises(ValidityError, match=r"^values must be 1 value or more; got 0\."):
        censored([], 3.8, 20.5)
    with pytest.raises(ValidityError, match=r"^values must be numbers in one row; got another\."):
        censored(["3,8"], 3.8, 20.5)
    with pytest.raises(ValidityError, match=r"^values must be finite numbers throughout, .*; got 1 that are not\."):
        difference_noise([1.0, nan, 2.0, 3.0])
    with pytest.raises(ValidityError, match=r"^least must be above 0"):
        identical_runs([1.0], 0)


@pytest.mark.parametrize("step", [0.16875e-3, 1e-4, 0.053, 1.0 / 3.0])
def test_the_step_of_readings_is_that_they_were_rounded_to(step: float) -> None:
    """Rounded by numpy to whole numbers of the step and moved by a datum, as a range moves a current."""
    places = np.round(np.cumsum(np.random.default_rng(20260419).normal(0.0, 40.0, 500)))
    close(common_step(0.1 + places * step, 1e-6), step, 1e-9 * step, "the step put in")


def test_readings_without_a_common_step_have_none() -> None:
    values = np.random.default_rng(20260419).normal(1.0, 1e-3, 200)
    assert common_step(values, 1e-6) == 0.0
    assert common_step([1.0, 1.0, 1.0], 1e-6) == 0.0
    assert common_step([1.0], 1e-6) == 0.0
    with pytest.raises(ValidityError, match="width"):
        common_step([1.0, 2.0], 0.0)
