"""Monte Carlo against the examples of JCGM 101, clause 9, and against closed forms; drawing and intervals."""

from __future__ import annotations

from math import inf, sqrt

import numpy as np
import pytest
from scipy.stats import ncx2

from onedatum.foundation.numerics import Reals
from onedatum.physics.uncertainty import (
    Distribution,
    Outcome,
    combined_standard,
    contributions,
    correlation_matrix,
    coverage_factor,
    draws,
    histogram,
    is_correlation,
    monte_carlo,
    numerical_tolerance,
    outcome_of,
    shortest_interval,
    sobol_draws,
    symmetric_interval,
    validated,
)
from onedatum.physics.uncertainty.draws import Form
from tests.closeness import close, exact, printed
from tests.reference import case

FORMS: tuple[Form, ...] = ("normal", "rectangular", "triangular", "arcsine")
MANY = 1_000_000
RECTANGULAR = Distribution(0.0, 1.0, "rectangular")


def sums(inputs: list[Distribution], seed: int = 1) -> Outcome:
    """A million sums of these inputs."""
    random = np.random.default_rng(seed)

    def block(count: int) -> Reals:
        return np.asarray(draws(inputs, count, random).sum(axis=0))

    return monte_carlo(block, 0.95, trials=MANY)


# ---------------------------------------------------------------- clause 9


def test_four_normal_inputs() -> None:
    """9.2.2: +-3.92."""
    out = sums([Distribution(0.0, 1.0)] * 4)
    close(out.symmetric_high, 3.92, 0.027, "four standard errors, and the print")
    close(out.standard, 2.0, 0.006, "four standard errors")


def test_four_rectangular_inputs() -> None:
    """9.2.3: +-3.88, in closed form 3.8794."""
    given = case("quantity-U09")
    closed = 2.0 * sqrt(3.0) * (2.0 - (3.0 / 5.0) ** 0.25)
    given.check(closed)
    out = sums([RECTANGULAR] * 4)
    close(out.symmetric_high, closed, 0.02, "four standard errors of an end")
    assert closed == printed("3.88")


def test_one_wide_rectangular_input_among_four() -> None:
    """9.2.4: +-17.0, where the guide would give 19.9."""
    given = case("quantity-U10")
    inputs = [Distribution(0.0, u, "rectangular") for u in given.value("u")]
    out = sums(inputs)
    close(out.symmetric_high, given.expected, 0.03, "four standard errors of an end")
    linear = coverage_factor(inf, 0.95) * combined_standard(given.value("u"))
    assert linear == printed("19.9")
    assert not validated(0.0, linear, out).accepted


def test_a_calibration_of_mass() -> None:
    """9.3: u = 0.0754 mg and [1.0834, 1.3825] mg by trials, 0.0539 mg to first order."""
    given = case("quantity-U11")
    (m, u_m), (d, u_d) = given.value("mRc"), given.value("dmRc")
    bounds = [given.value(name) for name in ("rho_a", "rho_W", "rho_R")]
    inputs = [Distribution(m, u_m), Distribution(d, u_d)]
    inputs += [Distribution((a + b) / 2, (b - a) / 2 / sqrt(3.0), "rectangular") for a, b in bounds]
    random = np.random.default_rng(93)

    def off_nominal(points: Reals) -> Reals:
        m_rc, d_rc, rho_a, rho_w, rho_r = points
        return np.asarray((m_rc + d_rc) * (1.0 + (rho_a - 1.2) * (1.0 / rho_w - 1.0 / rho_r)) - 1e5)

    out = monte_carlo(lambda count: off_nominal(draws(inputs, count, random)), 0.95, trials=MANY)
    given.check(out.standard)
    close(out.mean, 1.2341, 0.0003, "four standard errors")
    close(out.low, 1.0834, 0.004, "four standard errors of the end of a shortest interval")
    close(out.high, 1.3825, 0.004, "four standard errors of the end of a shortest interval")
    middle, moved = np.array([[each.value] for each in inputs]), np.diag([each.standard for each in inputs])
    linear = combined_standard(contributions(off_nominal(middle + moved), off_nominal(middle - moved)))
    assert linear == printed("0.0539")
    assert not validated(out.mean, 2.0 * linear, out).accepted


def test_a_ratio_of_mismatch_near_nothing() -> None:
    """9.4 with x1 = x2 = 0, u = 0.005: mean 50e-6, u 50e-6, shortest interval [0, 150]e-6."""
    random = np.random.default_rng(94)
    inputs = [Distribution(0.0, 0.005)] * 2
    out = monte_carlo(lambda count: np.sum(draws(inputs, count, random) ** 2, axis=0), 0.95, trials=MANY)
    close(1e6 * out.mean, 50.0, 0.2, "four standard errors")
    close(1e6 * out.standard, 50.0, 0.4, "four standard errors of an exponential spread")
    assert 0.0 <= 1e6 * out.low < 0.5
    close(1e6 * out.high, 149.8, 0.9, "-2 u^2 ln 0.05, four standard errors")


@pytest.mark.parametrize("r", [0.0, 0.9])
@pytest.mark.parametrize(
    ("x1", "mean", "u"),
    [(0.0, 50.0, {0.0: "50", 0.9: "67"}), (0.01, 150.0, {0.0: "112", 0.9: "121"}), (0.05, 2550.0, {0.0: "502"})],
)
def test_ratios_of_mismatch(x1: float, mean: float, u: dict[float, str], r: float) -> None:
    """9.4, in 1e-6: x1^2 + x2^2 of normal errors that go together or not; the print is from memory.

    Closed form: mean x1^2 + 2 u^2, variance 4 u^2 x1^2 + 4 u^4 (1 + r^2); for r = 0 a chi-square, not central, of two
    degrees of freedom.
    """
    random = np.random.default_rng(94)
    inputs = [Distribution(x1, 0.005), Distribution(0.0, 0.005)]
    matrix = correlation_matrix(2, [(0, 1, r)]) if r else None
    out = monte_carlo(lambda count: 1e6 * np.sum(draws(inputs, count, random, matrix) ** 2, axis=0), trials=MANY)
    spread = sqrt(4.0 * 25.0 * x1**2 * 1e6 + 2500.0 * (1.0 + r * r))
    if r in u:
        assert spread == printed(u[r])
    close(out.mean, mean, 4.0 * spread / 1e3, "four standard errors")
    close(out.standard, spread, 4.0 * 1.4 * spread / 1e3, "four standard errors of an exponential spread at most")
    if r == 0.0:
        law = ncx2(2, (x1 / 0.005) ** 2)
        ends = law.ppf([0.025, 0.975])
        error = sqrt(0.025 * 0.975 / MANY) / law.pdf(ends)
        close(out.symmetric_low, 25.0 * ends[0], 4.0 * 25.0 * error[0], "four standard errors of an end")
        close(out.symmetric_high, 25.0 * ends[1], 4.0 * 25.0 * error[1], "four standard errors of an end")


def test_the_end_gauge_by_trials() -> None:
    """H.1 by trials: 34 nm with the terms of second order in it; rectangular and arcsine inputs among normal ones."""
    given = case("quantity-U03")
    ls, alpha, theta = given.value("ls"), given.value("alpha_s"), given.value("theta_bar")
    inputs = [Distribution(0.0, 25.0), *(Distribution(0.0, u) for u in given.value("u_d"))]
    inputs += [
        Distribution(alpha, 2e-6 / sqrt(3.0), "rectangular"),
        Distribution(theta, 0.2),
        Distribution(0.0, 0.5 / sqrt(2.0), "arcsine"),
        Distribution(0.0, 1e-6 / sqrt(3.0), "rectangular"),
        Distribution(0.0, 0.05 / sqrt(3.0), "rectangular"),
    ]
    random = np.random.default_rng(1)

    def block(count: int) -> Reals:
        l0, d1, d2, d3, a, t, cycle, da, dt = draws(inputs, count, random)
        return np.asarray(l0 + d1 + d2 + d3 - ls * (da * (t + cycle) + a * dt))

    out = monte_carlo(block, 0.95, trials=400_000)
    close(out.standard, given.expected, 0.2, "four standard errors")
    assert out.standard == printed("34")


# ---------------------------------------------------------------- drawing


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("even", [False, True])
def test_what_is_drawn_has_its_mean_and_its_spread(form: Form, even: bool) -> None:
    each = Distribution(7.0, 0.25, form)
    found = sobol_draws([each], 16, 3)[0] if even else draws([each], 400_000, np.random.default_rng(5))[0]
    close(found.mean(), 7.0, 0.0016, "four standard errors")
    close(found.std(), 0.25, 0.0012, "four standard errors")
    half = {"normal": inf, "rectangular": sqrt(3.0), "triangular": sqrt(6.0), "arcsine": sqrt(2.0)}[form]
    assert np.max(np.abs(found - 7.0)) <= 0.25 * half * (1.0 + 1e-12)


@pytest.mark.parametrize("form", FORMS)
def test_both_ways_of_drawing_have_one_distribution(form: Form) -> None:
    """Quantiles of random draws and of evenly spread points, which go through the inverse distribution."""
    each = Distribution(0.0, 1.0, form)
    levels = np.linspace(0.05, 0.95, 19)
    random = np.quantile(draws([each], 400_000, np.random.default_rng(6))[0], levels)
    close(random, np.quantile(sobol_draws([each], 16, 4)[0], levels), 0.012, "four standard errors of a quantile")


@pytest.mark.parametrize("even", [False, True])
def test_few_readings_draw_heavier_tails(even: bool) -> None:
    """Student's distribution of nu degrees of freedom has the variance nu/(nu - 2)."""
    each = Distribution(0.0, 1.0, "normal", 9.0)
    found = sobol_draws([each], 17, 3)[0] if even else draws([each], 400_000, np.random.default_rng(7))[0]
    close(found.std(), sqrt(9.0 / 7.0), 0.01, "four standard errors of a heavy tail")


@pytest.mark.parametrize("forms", [("normal", "normal"), ("rectangular", "rectangular"), ("normal", "rectangular")])
@pytest.mark.parametrize("r", [-0.8, -0.4, 0.7])
def test_correlated_draws_go_together_as_stated(forms: tuple[Form, Form], r: float) -> None:
    inputs = [Distribution(1.0, 0.1, forms[0]), Distribution(-2.0, 3.0, forms[1])]
    matrix = np.array([[1.0, r], [r, 1.0]])
    found = np.asarray(np.corrcoef(draws(inputs, 400_000, np.random.default_rng(8), matrix)))[0, 1]
    expected = r if forms[0] == forms[1] else r * sqrt(3.0 / np.pi)
    close(found, expected, 0.006, "four standard errors; of unlike forms a normal variate and its rank: sqrt(3/pi)")


@pytest.mark.parametrize("form", ["triangular", "arcsine"])
def test_other_forms_go_together_a_little_less(form: Form) -> None:
    """The most that the docstring admits, and never more than stated."""
    inputs = [Distribution(0.0, 1.0, form), RECTANGULAR, Distribution(0.0, 1.0)]
    matrix = correlation_matrix(3, [(0, 1, 0.6), (0, 2, 0.8), (1, 2, 0.5)])
    found = np.corrcoef(draws(inputs, 400_000, np.random.default_rng(8), matrix))
    off = (matrix - found)[np.triu_indices(3, 1)]
    assert np.all(off > -0.006) and np.all(off < (0.056 if form == "arcsine" else 0.036)), "four standard errors more"


@pytest.mark.parametrize("even", [False, True])
def test_rectangular_inputs_that_could_hardly_go_together(even: bool) -> None:
    """Three that nearly cancel: no normal variates have the correlations that would keep theirs."""
    matrix = correlation_matrix(3, [(0, 1, -0.495), (0, 2, -0.495), (1, 2, -0.495)])
    assert is_correlation(matrix)
    inputs = [RECTANGULAR] * 3
    random = np.random.default_rng(8)
    points = sobol_draws(inputs, 16, 1, matrix) if even else draws(inputs, 400_000, random, matrix)
    close(
        np.asarray(np.corrcoef(points))[0, 1],
        -6.0 / np.pi * np.arcsin(0.495 / 2.0),
        0.006,
        "four standard errors; the rank relation",
    )


def test_few_readings_that_go_together_are_drawn_far_into_the_tail() -> None:
    """Cauchy's distribution, where its quantiles are known: tan(pi (p - 1/2))."""
    each = Distribution(0.0, 1.0, "normal", 1.0)
    points = sobol_draws([each, each], 16, 1, correlation_matrix(2, [(0, 1, 0.5)]))
    levels = np.array([0.001, 0.1, 0.75, 0.9, 0.999])
    wanted = np.tan(np.pi * (levels - 0.5))
    for row in points:
        close(np.quantile(row, levels) / wanted, np.ones(5), 0.05, "65 quantile points in the tail")


def test_the_same_state_draws_the_same_and_blocks_go_on() -> None:
    inputs = [Distribution(0.0, 1.0), RECTANGULAR]
    exact(draws(inputs, 5, np.random.default_rng(1)), draws(inputs, 5, np.random.default_rng(1)))
    random = np.random.default_rng(1)
    first, second = draws(inputs, 5, random), draws(inputs, 5, random)
    assert not np.any(first == second)
    exact(sobol_draws(inputs, 4, 2), sobol_draws(inputs, 4, 2))


def test_even_points_know_mean_and_spread_far_better() -> None:
    """The standard error of 4096 points is some 0.3 of that of a million random trials: 2/sqrt(2e6) = 0.0014."""
    inputs = [Distribution(0.0, 1.0), RECTANGULAR, Distribution(0.0, 1.0), Distribution(0.0, 1.0, "triangular")]
    found = [sobol_draws(inputs, 12, seed).sum(axis=0).std() for seed in range(5)]
    close(np.array(found), np.full(5, 2.0), 0.0014, "one standard error of a million, a fifteenth of 4096 random ones")


# ---------------------------------------------------------------- intervals, stopping, pictures


def test_intervals_of_an_exponential_distribution() -> None:
    """Shortest: from 0 to -ln 0.05; symmetric: from -ln 0.975 to -ln 0.025."""
    ordered = -np.log(1.0 - (np.arange(200_000) + 0.5) / 200_000)
    low, high = shortest_interval(ordered, 0.95)
    assert low < 1e-4
    close(high, -np.log(0.05), 1e-3, "spacing of the points in the tail")
    low, high = symmetric_interval(ordered, 0.95)
    close([low, high], [-np.log(0.975), -np.log(0.025)], 1e-3, "spacing of the points in the tail")


@pytest.mark.parametrize("count", [2, 3, 20, 21])
def test_intervals_of_few_results_stay_inside(count: int) -> None:
    ordered = np.arange(float(count))
    for low, high in (shortest_interval(ordered, 0.95), symmetric_interval(ordered, 0.95)):
        assert 0.0 <= low < high <= count - 1.0


@pytest.mark.parametrize(
    ("u", "digits", "delta"),
    [
        (0.35, 2, 0.005),
        (0.35, 1, 0.05),
        (0.0754, 2, 0.0005),
        (99.6, 2, 5.0),
        (9.96, 1, 5.0),
        (1.0, 2, 0.05),
        (0.0, 2, 0.0),
    ],
)
def test_numerical_tolerance(u: float, digits: int, delta: float) -> None:
    """JCGM 101, 7.9.2: u = c 10^l, delta = 10^l/2; 99.6 reads 1.0e2 in two digits."""
    exact(numerical_tolerance(u, digits), delta)
    assert np.isnan(numerical_tolerance(float("nan"), digits)) and np.isnan(numerical_tolerance(inf, digits))


def test_trials_stop_once_the_figures_are_known() -> None:
    random = np.random.default_rng(9)
    out = monte_carlo(lambda count: random.normal(10.0, 0.5, count), 0.95)
    assert out.settled and out.trials % 40_000 == 0 and 400_000 <= out.trials < 3_000_000
    close(out.standard, 0.5, out.tolerance, "what the rule promises")
    close(out.mean, 10.0, out.tolerance, "what the rule promises")
    again = np.random.default_rng(9).normal(10.0, 0.5, out.trials)
    exact(np.sort(out.values), np.sort(again))
    assert np.all(np.diff(out.values[:20_000]) >= 0.0) and np.all(np.diff(out.values[-20_000:]) >= 0.0)
    exact([out.low, out.high], shortest_interval(np.sort(again), 0.95))


def test_blocks_may_be_of_any_size() -> None:
    random = np.random.default_rng(9)
    out = monte_carlo(random.standard_normal, 0.95, 1, block_trials=1_000, most_trials=50_000)
    assert 10_000 <= out.trials < 50_000 and out.trials % 1_000 == 0 and out.settled
    exact(out.tolerance, 0.5 if out.standard >= 0.95 else 0.05)


def test_what_never_varies_has_no_uncertainty_and_settles() -> None:
    """0.1 cannot be written in binary digits: its mean over many is off in the last one."""
    for chosen in (None, 30_000):
        out = monte_carlo(lambda count: np.full(count, 0.1), trials=chosen)
        exact([out.standard, out.tolerance, out.low, out.high], [0.0, 0.0, 0.1, 0.1])
        assert out.settled is (None if chosen else True)
        assert validated(0.1, 0.0, out).accepted and not validated(0.1, 0.01, out).accepted


def test_a_chain_that_always_leaves_its_validity_gives_no_figure() -> None:
    out = monte_carlo(lambda count: np.full(count, np.nan), most_trials=250_000)
    assert out.settled is False and out.outside == 1.0 and len(out.values) == 0
    assert np.isnan([out.mean, out.standard, out.low, out.high, out.tolerance]).all()


def test_trials_that_never_settle_end_and_say_so() -> None:
    """A Cauchy distribution has no standard deviation to be known."""
    random = np.random.default_rng(9)
    out = monte_carlo(random.standard_cauchy, 0.95, most_trials=500_000)
    assert out.settled is False and out.trials == 480_000


def test_what_is_no_number_is_counted_and_left_out() -> None:
    values = np.concatenate([np.linspace(0.0, 1.0, 990), np.full(10, np.nan)])
    out = outcome_of(values, 0.95)
    close(out.outside, 0.01, 1e-12, "ten of a thousand")
    close(out.mean, 0.5, 1e-12, "rounding")
    assert out.settled is None and len(out.values) == 990
    assert np.isnan(outcome_of(np.full(5, np.nan), 0.95).mean)


def test_an_odd_number_of_trials_is_kept() -> None:
    random = np.random.default_rng(2)
    out = monte_carlo(random.standard_normal, 0.95, trials=25_003)
    assert out.trials == len(out.values) == 25_003
    exact(np.sort(out.values), np.sort(np.random.default_rng(2).standard_normal(25_003)))


def test_a_histogram_holds_nearly_all_results() -> None:
    ordered = np.sort(np.random.default_rng(3).normal(0.0, 1.0, 100_000))
    drawn = histogram(ordered, 50)
    close(np.sum(drawn.densities * np.diff(drawn.edges)), 0.998, 0.0001, "a thousandth left out at each end")
    middle = 0.5 * (drawn.edges[1:] + drawn.edges[:-1])
    close(drawn.densities, np.exp(-0.5 * middle**2) / sqrt(2.0 * np.pi), 0.015, "counting error of a bin")
    assert histogram(np.full(10, 4.0), 5).densities.tolist() == [0.0]
