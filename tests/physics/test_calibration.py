"""Errors, linearity, ratio, interval and drift of a calibration against worked cases and independent methods.

The data set of five points and three cycles is invented; what it gives was worked at 30 digits, the linearities by a
linear programme as well. Terms as in IEC 61298-2 and IEC 60770-1, from memory.
"""

from __future__ import annotations

from math import exp, log, sqrt
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import curve_fit, linprog
from scipy.stats import multivariate_normal, norm

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.working import apply
from onedatum.physics.calibration import (
    AverageCurve,
    Changes,
    Repeats,
    average_error,
    change_m,
    change_u_m,
    current_error_A,
    current_step_m,
    drift_bound_m_per_s,
    drift_m_per_s,
    drift_scatter,
    drift_standard_m_per_s,
    error_share,
    error_u_m,
    expanded_error_m,
    half_width_m,
    hysteresis,
    independent_linearity,
    interval_by_drift_s,
    interval_by_reliability_s,
    interval_by_steps_s,
    level_error_m,
    reference_expanded_m,
    repeats_average,
    repeats_spread,
    repeats_standard,
    share_error_m,
    share_level_m,
    standard_m,
    terminal_linearity,
    two_per_cent_factor,
    uncertainty_ratio,
    zero_linearity,
)
from onedatum.physics.uncertainty import (
    GUARDED_ACCEPTANCE,
    SIMPLE,
    acceptance_limits,
    conformance_probability,
    decide,
    guard_band,
    risks_of_share,
    specific_risk,
)
from tests.closeness import close, exact
from tests.reference import Case, case

MA, MM = 1e-3, 1e-3
SPAN_A = 0.016
PER_CENT = 100.0
MONTH_S = 365.25 * 86400.0 / 12.0
ROUNDING = "rounding of a few additions"


def shares(given: Case) -> tuple[Any, Any, Any]:
    """Positions, and errors of every reading with rising and with falling level, as shares of the span."""
    ideal = np.array(given.value("ideal")) * MA
    up, down = (
        np.array([[current_error_A(i * MA, x) / SPAN_A for i, x in zip(cycle, ideal, strict=True)] for cycle in cycles])
        for cycles in (given.value("up"), given.value("down"))
    )
    return (ideal - 0.004) / SPAN_A, up, down


def averages(given: Case) -> AverageCurve:
    """The average curve, by the formulas."""
    at, up, down = shares(given)
    pairs = zip(up.T, down.T, strict=True)
    found = [average_error(repeats_average(Repeats(u)), repeats_average(Repeats(d))) for u, d in pairs]
    return AverageCurve(at, np.array(found))


# ---------------------------------------------------------------- errors of a run


def test_largest_errors_of_a_run() -> None:
    given = case("loop-C01")
    _, up, down = shares(given)
    given.check(PER_CENT * max(up.max(), down.max()), "max_pos")
    given.check(PER_CENT * min(up.min(), down.min()), "max_neg")


def test_hysteresis() -> None:
    given = case("loop-C02")
    _, up, down = shares(given)
    pairs = zip(up.T, down.T, strict=True)
    given.check(PER_CENT * max(hysteresis(repeats_average(Repeats(u)), repeats_average(Repeats(d))) for u, d in pairs))


def test_non_repeatability() -> None:
    given = case("loop-C03")
    _, up, down = shares(given)
    given.check(PER_CENT * max(repeats_spread(Repeats(column)) for column in (*up.T, *down.T)))


def test_linearity_of_the_average_curve() -> None:
    given, curve = case("loop-C04"), averages(case("loop-C04"))
    given.check(PER_CENT * terminal_linearity(curve), "terminal")
    given.check(PER_CENT * zero_linearity(curve), "zero")
    given.check(PER_CENT * independent_linearity(curve), "independent")


def test_average_error_at_each_point() -> None:
    given = case("loop-C05")
    _, up, down = shares(given)
    pairs = zip(up.T, down.T, strict=True)
    found = [average_error(repeats_average(Repeats(u)), repeats_average(Repeats(d))) for u, d in pairs]
    given.check(PER_CENT * np.array(found))


def test_errors_of_levels_and_shares() -> None:
    """By hand: 1853.5 less 1850 mm; 3.5 mm of 2700 mm either way round; the middle of 100 to 2800 mm."""
    close(level_error_m(1.8535, 1.850), 3.5 * MM, 1e-15, ROUNDING)
    close([share_level_m(s, 0.1, 2.8) for s in (0.0, 0.5, 1.0)], [0.1, 1.45, 2.8], 1e-15, ROUNDING)
    for ends in ((0.1, 2.8), (2.8, 0.1)):
        close(error_share(3.5 * MM, *ends), 3.5 / 2700.0, 1e-15, ROUNDING)
        close(share_error_m(error_share(3.5 * MM, *ends), *ends), 3.5 * MM, 1e-15, ROUNDING)
        close(current_step_m(0.004, *ends), 0.675, 1e-12, "a quarter of the span is 4 mA")
    close(error_u_m(standard_m(0.002, 2.0), 0.0, 0.0, 0.0), 0.001, 1e-15, ROUNDING)
    close(expanded_error_m(2.0, 0.001), 0.002, 1e-15, ROUNDING)


def test_the_uncertainty_of_an_error_drawn_one_by_one() -> None:
    """Independent method: two million errors of a reference and of the digits of two readings."""
    random = np.random.default_rng(61)
    count = 2_000_000
    drawn = random.normal(0.0, 1.0, count) + random.normal(0.0, 0.7, count)
    drawn += random.uniform(-2.0, 2.0, count) + random.uniform(-0.5, 0.5, count)
    close(np.std(drawn), error_u_m(0.001, 0.0007, 0.004, 0.001) / MM, 4e-3, "four standard errors of the deviation")


# ---------------------------------------------------------------- linearity


def by_programme(at: Any, errors: Any, through_low_end: bool) -> float:
    """Independent method: the least largest deviation from a line, by a linear programme."""
    columns = [at - at[0], np.ones_like(at), np.ones_like(at)]
    above = np.column_stack([*columns[:2], -columns[2]])
    below = np.column_stack([-columns[0], -columns[1], -columns[2]])
    fixed = (errors[0], errors[0]) if through_low_end else (None, None)
    answer = linprog(
        [0.0, 0.0, 1.0],
        A_ub=np.vstack([above, below]),
        b_ub=np.concatenate([errors, -errors]),
        bounds=[(None, None), fixed, (0.0, None)],
    )
    return float(answer.fun)


@pytest.mark.parametrize("count", [3, 4, 6, 11])
def test_linearity_against_a_linear_programme(count: int) -> None:
    random = np.random.default_rng(count)
    for _ in range(5):
        at = np.sort(random.uniform(0.0, 1.0, count))
        errors = random.normal(0.0, 1.0, count)
        curve = AverageCurve(at, errors)
        close(independent_linearity(curve), by_programme(at, errors, False), 1e-7, "tolerance of the programme")
        close(zero_linearity(curve), by_programme(at, errors, True), 1e-7, "tolerance of the programme")


CURVES = st.integers(2, 11).flatmap(
    lambda n: st.lists(st.floats(-0.1, 0.1, allow_subnormal=False), min_size=n, max_size=n)
)


@settings(max_examples=200)
@given(errors=CURVES, slope=st.floats(-0.05, 0.05), offset=st.floats(-0.05, 0.05))
def test_laws_of_linearity(errors: list[float], slope: float, offset: float) -> None:
    """Each line is a candidate of the freer fit; no line added to the curve changes anything; the sign does not."""
    at = np.linspace(0.0, 1.0, len(errors))
    curve = AverageCurve(at, np.array(errors))
    free, zero, ends = independent_linearity(curve), zero_linearity(curve), terminal_linearity(curve)
    assert free <= zero + 1e-15
    assert zero <= ends + 1e-15
    moved, turned = AverageCurve(at, curve.error_shares + slope * at + offset), AverageCurve(at, -curve.error_shares)
    for law in (independent_linearity, zero_linearity, terminal_linearity):
        assert abs(float(law(moved)) - float(law(curve))) <= 1e-14
        assert law(turned) == law(curve)


def test_a_straight_curve_is_straight() -> None:
    exact(independent_linearity(AverageCurve(np.array([0.0, 1.0]), np.array([0.1, 0.3]))), 0.0)
    line = AverageCurve(np.array([0.0, 0.25, 1.0]), np.array([0.0, 0.25, 1.0]))
    exact([independent_linearity(line), zero_linearity(line), terminal_linearity(line)], [0.0, 0.0, 0.0])


@pytest.mark.parametrize(
    ("at", "errors"),
    [([0.0], [0.0]), ([0.0, 0.0], [0.0, 1.0]), ([1.0, 0.0], [0.0, 1.0]), ([0.0, 1.0], [0.0, float("nan")])],
)
def test_what_makes_no_curve_is_refused(at: list[float], errors: list[float]) -> None:
    with pytest.raises(ValidityError):
        AverageCurve(np.array(at), np.array(errors))


def test_what_makes_no_repeats_is_refused() -> None:
    for values in ([], [float("inf")]):
        with pytest.raises(ValidityError):
            Repeats(np.array(values))


# ---------------------------------------------------------------- ratio, probability, decision, risk


def test_ratio_of_tolerance_and_uncertainty() -> None:
    given = case("loop-C06")
    tolerance = half_width_m(-given.value("T") * MM, given.value("T") * MM)
    given.check(uncertainty_ratio(tolerance, given.value("U") * MM))
    close(uncertainty_ratio(tolerance, reference_expanded_m(tolerance, 4.0)), 4.0, 1e-12, ROUNDING)


def test_probability_of_conformity() -> None:
    given = case("loop-C07")
    given.check(conformance_probability(*(given.value(name) for name in ("y", "u", "TL", "TU"))))


def test_probability_that_an_error_keeps_the_tolerance() -> None:
    given = case("loop-C08")
    u, limit = given.value("U") / given.value("k"), given.value("T")
    given.check(conformance_probability(given.value("error"), u, -limit, limit))


def test_probability_with_one_limit_missing() -> None:
    """Against the normal distribution of another library."""
    close(conformance_probability(3.5, 1.0, None, 5.0), norm.cdf(1.5), 1e-14, ROUNDING)
    close(conformance_probability(3.5, 1.0, 2.0, None), norm.cdf(1.5), 1e-14, ROUNDING)


def test_decisions_by_three_guard_bands() -> None:
    given = case("loop-C09")
    words = {"accepted": "pass", "not accepted": "fail"}
    limit, error = given.value("T"), given.value("error")
    for name, rule, factor in (
        ("simple", SIMPLE, 0.0),
        ("w=U", GUARDED_ACCEPTANCE, 1.0),
        ("w=0.83U", GUARDED_ACCEPTANCE, 0.83),
    ):
        ends = acceptance_limits(-limit, limit, rule, guard_band(given.value("U"), factor))
        assert words[decide(error, *ends)] == given.expected[name]
        if f"AL_{name}_mm" in given.expected:
            assert ends.high is not None
            close(ends.high, given.expected[f"AL_{name}_mm"], 1e-9, "tolerance of the case")


def test_risk_at_the_limit_of_acceptance() -> None:
    given = case("loop-C10")
    given.check([specific_risk(r, given.value("k")) for r in given.value("r")])


def test_global_risk_of_simple_acceptance() -> None:
    given = case("loop-C12")
    risks = risks_of_share(given.value("in_tolerance_prior"), 1.0, 1.0 / given.value("TUR") / given.value("k"), 1.0)
    given.check(risks.consumer, "PFA")
    given.check(risks.producer, "PFR")


def test_global_risk_by_two_normal_distributions() -> None:
    """Independent method: true error and reading as two correlated normal numbers, probabilities of rectangles."""
    u, accepted = 0.25, 0.8
    spread = 1.0 / norm.ppf(0.9)
    both = multivariate_normal([0.0, 0.0], [[spread**2, spread**2], [spread**2, spread**2 + u**2]])
    within = both.cdf([1.0, accepted], lower_limit=[-1.0, -accepted])
    taken = 2.0 * norm.cdf(accepted / sqrt(spread**2 + u**2)) - 1.0
    risks = risks_of_share(0.8, 1.0, u, accepted)
    close(risks.consumer, taken - within, 1e-6, "accuracy of the rectangles")
    close(risks.producer, 0.8 - within, 1e-6, "accuracy of the rectangles")


def test_guard_band_of_two_per_cent() -> None:
    given = case("loop-G01")
    given.check([two_per_cent_factor(ratio) for ratio in given.value("TUR")])
    exact(two_per_cent_factor(10.0), 0.0)


def test_the_guard_band_of_two_per_cent_keeps_its_promise() -> None:
    """The largest risk over all shares in tolerance stays near two per cent: that is what the fit was made for."""
    for ratio in (1.5, 2.0, 3.0, 4.0):
        accepted = 1.0 - float(two_per_cent_factor(ratio)) / ratio
        worst = max(risks_of_share(share, 1.0, 0.5 / ratio, accepted).consumer for share in np.linspace(0.4, 0.98, 59))
        close(worst, 0.02, 0.001, "the fit of the handbook is good to a tenth of a per cent")


# ---------------------------------------------------------------- repeated readings


def test_type_a_of_six_readings() -> None:
    given = case("loop-C15")
    span_m = given.value("span") * MM
    repeats = Repeats((np.array(given.value("I")) * MA - 0.012) / SPAN_A)
    given.check((0.012 + SPAN_A * repeats_average(repeats)) / MA, "mean_mA")
    given.check(span_m * repeats_standard(repeats) / MM, "u_mean_mm")
    assert np.isnan(repeats_standard(Repeats(np.array([0.001]))))


# ---------------------------------------------------------------- intervals and drift


def test_interval_from_drift() -> None:
    given = case("loop-C14")
    found = interval_by_drift_s(
        given.value("T") * MM, given.value("guard") * MM, given.value("b0") * MM, given.value("rate") * MM / MONTH_S
    )
    given.check(found / MONTH_S)


def test_nothing_left_to_drift_is_refused() -> None:
    given = {"tolerance_m": 0.002, "guard_m": 0.0015, "as_left_m": 0.0008, "drift_m_per_s": 1e-10}
    with pytest.raises(ValidityError, match="no room to drift"):
        apply(interval_by_drift_s, given)


def test_interval_by_reliability_and_by_steps() -> None:
    """An exponential law of survival: what is found after one interval and wanted after the other is one rate."""
    rate = -log(0.90) / 12.0
    close(exp(-rate * interval_by_reliability_s(12.0, 0.95, 0.90)), 0.95, 1e-12, ROUNDING)
    exact(interval_by_steps_s(8.0, 1.25), 10.0)


def test_drift_against_a_library_of_fits() -> None:
    random = np.random.default_rng(24)
    times, u = random.uniform(1e7, 4e7, 7), random.uniform(0.5e-3, 2e-3, 7)
    changes = Changes(times, 2e-10 * times + 3.0 * u * random.standard_normal(7), u)
    fit, spread = curve_fit(lambda t, d: d * t, times / 1e7, changes.changes_m * 1e3, sigma=u * 1e3)
    close(drift_m_per_s(changes) * 1e10, fit[0], 1e-9, "accuracy of the fit")
    scatter = drift_scatter(changes)
    assert scatter > 1.0
    close(drift_standard_m_per_s(changes) * 1e10, sqrt(spread[0, 0]), 1e-6, "accuracy of the fit")
    residuals = (changes.changes_m - drift_m_per_s(changes) * times) / u
    close(scatter, sqrt(residuals @ residuals / 6), 1e-12, ROUNDING)


def test_drift_of_changes_that_agree() -> None:
    """By hand: two changes of 0.1 mm a Ms exactly; the uncertainty is not made smaller than the readings allow."""
    changes = Changes(np.array([1e6, 2e6]), np.array([1e-4, 2e-4]), np.array([1e-3, 1e-3]))
    close(drift_m_per_s(changes), 1e-10, 1e-24, ROUNDING)
    close(drift_standard_m_per_s(changes), 1e-9 / sqrt(5.0), 1e-22, ROUNDING)
    close(drift_bound_m_per_s(-1e-10, 2.0, 3e-10), 7e-10, 1e-20, ROUNDING)
    close([change_m(0.0021, 0.0008), change_u_m(0.003, 0.004)], [0.0013, 0.005], 1e-15, ROUNDING)
    one = Changes(np.array([1e6]), np.array([1e-4]), np.array([1e-3]))
    exact(drift_scatter(one), 0.0)


@pytest.mark.parametrize(
    ("times", "changes", "u"), [([], [], []), ([0.0], [1.0], [1.0]), ([1.0], [1.0], [0.0]), ([1.0, 2.0], [1.0], [1.0])]
)
def test_what_is_no_change_is_refused(times: list[float], changes: list[float], u: list[float]) -> None:
    with pytest.raises(ValidityError):
        Changes(np.array(times), np.array(changes), np.array(u))
