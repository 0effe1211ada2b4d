"""Bias, spread, drift and steps against a library of statistics, worked cases, simulation with seeds, and laws."""

from __future__ import annotations

from itertools import combinations
from math import sqrt

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from hypothesis.extra import numpy as arrays
from scipy import stats

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Reals
from onedatum.physics.detection import (
    bias_bound_m,
    bias_degrees_of_freedom,
    bias_standard_m,
    bias_t,
    chi_squared_probability,
    line,
    median_slope,
    rank_trend,
    regression,
    step_chance,
    step_search,
    t_probability,
    variance_lower_limit,
    variance_statistic,
    variance_upper_limit,
)
from tests.closeness import close, exact
from tests.physics.shares_apart import alike
from tests.reference import case
from tests.soon import soon

MM = 1e-3
few = arrays.arrays(np.float64, st.integers(6, 30), elements=st.integers(-9, 9).map(float))

# ---------------------------------------------------------------- bias against dips


def test_bias_against_dips() -> None:
    worked = case("loop-D14")
    d = np.array(worked.value("d")) * MM
    mean, s = float(np.mean(d)), float(np.std(d, ddof=1))
    worked.check(mean / MM, "mean")
    worked.check(s / MM, "s")
    t = bias_t(mean, bias_standard_m(s, 8.0, 0.0))
    worked.check(t, "t")
    p = t_probability(t, bias_degrees_of_freedom(s, 8.0, 0.0))
    worked.check(p, "p")
    worked.check(p < 0.05, "significant")


def test_what_dips_share_does_not_average_out() -> None:
    """The same dips with 1 mm in common: 1.15/sqrt(0.5318**2/8 + 1) by hand, no longer beyond chance at 5 %."""
    u_m = bias_standard_m(0.5318431563 * MM, 8.0, 1.0 * MM)
    close(float(u_m) / MM, sqrt(0.5318431563**2 / 8 + 1.0), 1e-12, "rounding")
    nu = bias_degrees_of_freedom(0.5318431563 * MM, 8.0, 1.0 * MM)
    assert t_probability(bias_t(1.15 * MM, u_m), nu) > 0.05
    close(float(bias_bound_m(-1.15 * MM, 2.0, u_m)) / MM, 1.15 + 2.0 * float(u_m) / MM, 1e-12, "rounding")


def test_effective_degrees_against_the_formula_of_welch_and_satterthwaite() -> None:
    """JCGM 100, G.4.1: the fourth power of the sum over the sum of fourth powers; the shared part is known."""
    s, n, u_dip = 0.8, 6.0, 0.3
    own = s / sqrt(n)
    expected = (own**2 + u_dip**2) ** 2 / (own**4 / (n - 1))
    alike(bias_degrees_of_freedom(s, n, u_dip), expected, 1e-12, "rounding")


@given(t=st.floats(-20.0, 20.0), nu=st.floats(1.0, 1e5))
def test_probability_of_t(t: float, nu: float) -> None:
    alike(t_probability(t, nu), 2.0 * stats.t.sf(abs(t), nu), 1e-9, "two ways of one integral")


# ---------------------------------------------------------------- noise more or less


def test_noise_that_may_have_grown() -> None:
    worked = case("loop-D17")
    n, s2 = float(worked.value("n")), float(worked.value("s2"))
    statistic = variance_statistic(n - 1.0, sqrt(s2), worked.value("sigma0"))
    limit = variance_upper_limit(n - 1.0, worked.value("alpha"))
    worked.check(statistic, "chi2")
    worked.check(limit, "limit")
    worked.check(statistic > limit, "alarm")


@given(nu=st.floats(1.0, 1e4), chance=st.floats(1e-6, 0.5))
def test_limits_of_the_variance(nu: float, chance: float) -> None:
    upper, lower = variance_upper_limit(nu, chance), variance_lower_limit(nu, chance)
    alike(upper, stats.chi2.isf(chance, nu), 1e-9, "two ways of one quantile")
    alike(lower, stats.chi2.ppf(chance, nu), 1e-9, "two ways of one quantile")
    alike(chi_squared_probability(upper, nu), chance, 1e-7, "digits of the quantile")
    assert lower <= upper


def test_noise_that_dies_is_found_at_the_lower_limit() -> None:
    """With two degrees of freedom chi-squared is exponential: limits -2*ln(1 - alpha) and -2*ln(alpha)."""
    alike(variance_lower_limit(2.0, 0.01), -2.0 * np.log(0.99), 1e-10, "rounding")
    alike(variance_upper_limit(2.0, 0.01), -2.0 * np.log(0.01), 1e-12, "rounding")


# ---------------------------------------------------------------- drift

DAY_S = 86400.0


def test_drift_of_dips() -> None:
    worked = case("loop-D15")
    t_s, d = np.array(worked.value("t")) * DAY_S, np.array(worked.value("d"))
    fitted = line(t_s, d)
    worked.check(fitted.slope * DAY_S, "slope")
    worked.check(fitted.slope_standard * DAY_S, "se")
    worked.check(median_slope(t_s, d, 0.95).slope * DAY_S, "theil_sen")
    worked.check(rank_trend(d).score, "S")


@given(values=few)
def test_a_line_against_a_library(values: Reals) -> None:
    assume(np.ptp(values) > 0.0)  # the library gives no uncertainty for a series at rest
    times_s = 100.0 + np.arange(len(values)) ** 1.5
    found, other = line(times_s, values), stats.linregress(times_s, values)
    assert abs(found.slope - other.slope) <= 1e-11
    assert abs(found.intercept - other.intercept) <= 1e-9
    assert abs(found.slope_standard - other.stderr) <= 1e-8
    assert abs(found.intercept_standard - other.intercept_stderr) <= 1e-6
    both = regression(values, [np.ones(len(values)), times_s])
    assert np.max(np.abs(both.coefficients - [found.intercept, found.slope])) <= 1e-9
    assert np.max(np.abs(both.standards - [found.intercept_standard, found.slope_standard])) <= 1e-7


@given(values=few)
def test_a_median_slope_against_a_library(values: Reals) -> None:
    """The library gives the same median; it rounds the ranks of the interval, here they go outward."""
    times_s = np.cumsum(1.0 + np.arange(len(values)) % 3)
    found = median_slope(times_s, values, 0.9)
    other = stats.theilslopes(values, times_s, 0.9)
    assert abs(found.slope - other.slope) <= 1e-12
    assert found.low <= found.slope <= found.high
    assert found.low <= other.low_slope + 1e-12
    assert found.high >= other.high_slope - 1e-12


def test_the_interval_of_a_median_slope_covers() -> None:
    """1000 seeded series: the true slope lies in 90 % of the intervals, four standard errors allowed below."""
    chance, times_s = np.random.default_rng(15), np.arange(20.0)
    inside = 0
    for noise in chance.normal(size=(1000, 20)):
        found = median_slope(times_s, 0.3 * times_s + noise, 0.9)
        inside += found.low <= 0.3 <= found.high
    assert 900 - 4 * sqrt(90) < inside < 970


@given(values=few)
def test_ranks_against_a_library(values: Reals) -> None:
    """S by all pairs one by one; its variance with ties by that of Kendall's tau in the library, as asymptotic p."""
    found = rank_trend(values)
    pairs = sum(np.sign(later - earlier) for earlier, later in combinations(values.tolist(), 2))
    exact(found.score, pairs)
    if len(set(values.tolist())) > 1:
        without = 2.0 * stats.norm.sf(abs(found.score) / sqrt(found.variance))
        tau = stats.kendalltau(np.arange(len(values)), values, method="asymptotic")
        alike(without, tau.pvalue, 1e-9, "two ways of one sum")
        assert found.probability >= without * (1 - 1e-12), "the step of S is taken off"


def test_a_series_at_rest_has_no_trend() -> None:
    """Rounding of the mean must not look like one."""
    assert rank_trend(np.full(10, 1000.1)) == (0.0, 0.0, 0.0, 1.0)
    fitted = line(np.arange(10.0), np.full(10, 1000.1))
    assert (fitted.slope, fitted.slope_standard, fitted.intercept) == (0.0, 0.0, 1000.1)


@settings(max_examples=40)
@given(values=few, power=st.integers(-4, 4), shift=st.integers(-100, 100))
def test_a_trend_is_the_same_in_any_unit(values: Reals, power: int, shift: int) -> None:
    plain, scaled = rank_trend(values), rank_trend(values * 2.0**power + shift)
    assert plain == scaled
    mirrored = rank_trend(-values)
    assert (mirrored.score, mirrored.probability) == (-plain.score, plain.probability)
    times_s = np.arange(float(len(values)))
    exact(median_slope(times_s, -values, 0.9).slope, -median_slope(times_s, values, 0.9).slope)


def test_error_by_time_and_level() -> None:
    """e = a + b*t + c*L without noise gives its coefficients; with noise the intervals cover as often as they say."""
    chance = np.random.default_rng(16)
    t_s, level_m = np.linspace(0.0, 3e7, 40), 1.0 + chance.random(40)
    columns = [np.ones(40), t_s, level_m]
    law = 0.001 + 2e-11 * t_s + 0.002 * level_m
    alike(regression(law, columns).coefficients, [0.001, 2e-11, 0.002], 1e-9, "rounding")
    covered = np.zeros(3)
    for noise in chance.normal(0.0, 0.0005, (1000, 40)):
        fit = regression(law + noise, columns)
        covered += np.abs(fit.coefficients - [0.001, 2e-11, 0.002]) < stats.t.ppf(0.975, 37) * fit.standards
    assert np.all(np.abs(covered - 950.0) < 4.0 * sqrt(1000 * 0.95 * 0.05))


def test_correlations_of_a_fit_against_the_inverse_written_out() -> None:
    columns = np.array([[1.0, 1.0, 1.0, 1.0, 1.0], [0.0, 1.0, 2.0, 4.0, 7.0]])
    fit = regression([0.0, 1.0, 2.0, 3.0, 5.0], columns)
    inverse = np.linalg.inv(columns @ columns.T)
    close(fit.correlations[0, 1], inverse[0, 1] / sqrt(inverse[0, 0] * inverse[1, 1]), 1e-12, "rounding")


# ---------------------------------------------------------------- a step


def test_a_step_worked() -> None:
    worked = case("loop-D16")
    statistic, start, step = step_search(worked.value("x"), worked.value("sigma"), 10).last
    worked.check(statistic, "glr")
    worked.check(start + 1, "index")
    worked.check(step, "step_estimate")


@given(
    values=arrays.arrays(np.float64, st.integers(1, 25), elements=st.floats(-5.0, 5.0, width=32)),
    window=st.integers(1, 30),
)
def test_every_start_tried_one_by_one(values: Reals, window: int) -> None:
    found = step_search(values, 0.7, window)
    for last in range(len(values)):
        ratios = [
            float(np.sum(values[j : last + 1])) ** 2 / (2 * 0.7**2 * (last - j + 1))
            for j in range(max(0, last - window + 1), last + 1)
        ]
        assert abs(found.statistics[last] - max(ratios)) <= 1e-9
        start = int(found.starts[last])
        assert abs(found.steps[last] - np.mean(values[start : last + 1])) <= 1e-9


@given(values=arrays.arrays(np.float64, st.integers(1, 25), elements=st.floats(-5.0, 5.0, width=32)))
def test_a_step_mirrored_and_scaled(values: Reals) -> None:
    plain, mirrored, scaled = (step_search(v, s, 9) for v, s in ((values, 1.0), (-values, 1.0), (4 * values, 4.0)))
    assert plain.statistics.tolist() == mirrored.statistics.tolist() == scaled.statistics.tolist()
    assert plain.starts.tolist() == mirrored.starts.tolist() == scaled.starts.tolist()
    assert plain.steps.tolist() == (-mirrored.steps).tolist() == (scaled.steps / 4.0).tolist()


def test_the_chance_of_a_step_is_a_bound() -> None:
    """4000 seeded series of noise: such a statistic comes no more often than the bound says."""
    chance, limit = np.random.default_rng(17), 5.0
    seen = np.mean([step_search(z, 1.0, 12).statistics[-1] > limit for z in chance.normal(size=(4000, 12))])
    bound = float(step_chance(limit, 12.0))
    assert 0.1 * bound < seen <= bound
    exact(step_chance(0.0, 3.0), 1.0)
    alike(step_chance(limit, 1.0), 2.0 * stats.norm.sf(sqrt(2 * limit)), 1e-10, "one start: a normal variable squared")


def test_a_long_search_is_quick() -> None:
    with soon(2.0):
        step_search(np.random.default_rng(18).normal(size=200_000), 1.0, 100)


# ---------------------------------------------------------------- refused


def test_absurd_statements_are_refused_by_name() -> None:
    t, x = np.arange(6.0), np.arange(6.0)
    with pytest.raises(ValidityError, match=r"^values must be 6 values; got 5\."):
        line(t, x[:5])
    with pytest.raises(ValidityError, match=r"^times_s must be times that differ; got one time\."):
        line(np.ones(6), x)
    with pytest.raises(ValidityError, match=r"^times_s must be times that differ; got one time\."):
        median_slope(np.ones(6), x, 0.9)
    with pytest.raises(ValidityError, match=r"^times_s must be in rising order"):
        median_slope(t[::-1], x, 0.9)
    for probability in (0.0, 1.0, float("nan")):
        with pytest.raises(ValidityError, match=r"^probability must be above 0 and below 1"):
            median_slope(t, x, probability)
    with pytest.raises(ValidityError, match=r"^values must be at most 3000 values; got 3001\..*thin"):
        rank_trend(np.zeros(3001))
    with pytest.raises(ValidityError, match=r"^standard must be above 0"):
        step_search(x, 0.0, 5)
    with pytest.raises(ValidityError, match=r"^window must be 1 or more; got 0\."):
        step_search(x, 1.0, 0)


def test_causes_that_go_together_are_refused() -> None:
    ones, t = np.ones(6), np.arange(6.0)
    for columns in ([ones, t, 2.0 * t + 3.0], [ones, 0.0 * t], [t, t]):
        with pytest.raises(ValidityError, match=r"^columns must be causes that vary each in its own way; got one that"):
            regression(t, columns)
    with pytest.raises(ValidityError, match=r"^results must be more than 2 values; got 2\."):
        regression([1.0, 2.0], [[1.0, 1.0], [0.0, 1.0]])
    with pytest.raises(ValidityError, match=r"^columns must be 6 values; got 5\."):
        regression(t, [ones[:5]])
    with pytest.raises(ValidityError, match=r"^columns must be"):
        regression(t, [[1.0, 2.0], [1.0]])
