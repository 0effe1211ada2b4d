"""The Markov model against what can be worked without it, and the equations of IEC 61508-6 against the model."""

from __future__ import annotations

from math import exp, expm1
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from onedatum.foundation.errors import QuantityError
from onedatum.physics.overfill import architectures, exact_pfd_1oo1, pfd_by_markov
from tests.closeness import close, exact, printed
from tests.physics.test_failure import YEAR_H, H, pfd


def by_markov(
    architecture: str,
    rate_per_h: float,
    coverage: float,
    beta: float,
    interval_h: float = YEAR_H,
    repair_h: float = 8.0,
    test: float = 1.0,
    renewal_h: float | None = None,
) -> float:
    """In hours, with beta_D half of beta and MTTR as long as MRT."""
    times = [each * H for each in (interval_h, renewal_h or interval_h, repair_h, repair_h)]
    return pfd_by_markov(architecture, rate_per_h / H, coverage, beta, beta / 2, test, *times)


def mean_up(per_interval: float) -> float:
    """Mean of exp(-x) from 0 to here."""
    return -expm1(-per_interval) / per_interval


# ---------------------------------------------------------------- what can be worked without it


@pytest.mark.parametrize("rate_per_h", [1e-9, 2e-7, 1e-5, 1e-4, 1e-3])
def test_one_channel_without_diagnostics_and_repair(rate_per_h: float) -> None:
    expected = exact_pfd_1oo1(rate_per_h / H, YEAR_H * H)
    close(by_markov("1oo1", rate_per_h, 0.0, 0.0, repair_h=0.0), expected, 1e-9 * float(expected), "asked of the model")


@pytest.mark.parametrize("beta", [0.0, 0.02, 0.2, 1.0])
@pytest.mark.parametrize("rate_per_h", [1e-6, 1e-5, 1e-4])
def test_groups_by_the_chance_that_channels_are_up(rate_per_h: float, beta: float) -> None:
    """m given channels are all up at t with exp(-(m (1 - beta) + beta) l t); the rest is inclusion and exclusion."""
    x = rate_per_h * YEAR_H
    one, two, three = (mean_up((m * (1 - beta) + beta) * x) for m in (1, 2, 3))
    expected = {"1oo2": 1 - 2 * one + two, "2oo2": 1 - two, "2oo3": 1 - 3 * two + 2 * three}
    for architecture, value in expected.items():
        found = by_markov(architecture, rate_per_h, 0.0, beta, repair_h=0.0)
        close(found + 1.0, value + 1.0, 1e-14, "rounding of the sum of means near 1")


@pytest.mark.parametrize("test", [0.0, 0.5, 0.9])
def test_one_channel_that_the_test_does_not_find(test: float) -> None:
    """Up after each test: what stayed up, and what failed so that the test found it."""
    rate_per_h, intervals = 2e-5, 10
    x = rate_per_h * YEAR_H
    keeps = exp(-x) + test * -expm1(-x)
    expected = 1 - mean_up(x) * sum(keeps**number for number in range(intervals)) / intervals
    found = by_markov("1oo1", rate_per_h, 0.0, 0.0, repair_h=0.0, test=test, renewal_h=intervals * YEAR_H)
    close(found, expected, 1e-12, "rounding")


def test_detected_failures_alone_are_an_alternating_renewal() -> None:
    """Found at once: down for MTTR of each MTTR + 1/lambda, in any architecture by its combinations."""
    rate_per_h, repair_h = 1e-4, 24.0
    q = rate_per_h * repair_h / (1 + rate_per_h * repair_h)
    expected = {"1oo1": q, "1oo2": q**2, "2oo2": 2 * q - q**2, "2oo3": 3 * q**2 - 2 * q**3}
    for architecture, value in expected.items():
        found = by_markov(architecture, rate_per_h, 1.0, 0.0, repair_h=repair_h)
        close(found, value, 1e-9 * value, "asked of the model")


def rates(step_h: Any, down: Any, coverage: float, rate_per_h: float, repair_h: float) -> Any:
    """Of one channel: shares detected, hidden, found; the rest is up."""
    detected, hidden, found = down
    up = 1 - detected - hidden - found
    return [
        coverage * rate_per_h * up - detected / repair_h,
        (1 - coverage) * rate_per_h * up,
        -found / repair_h,
    ]


def test_independent_channels_by_differential_equations() -> None:
    """Without common cause the channels know nothing of each other: one channel, integrated step by step."""
    from scipy.integrate import solve_ivp

    rate_per_h, coverage, interval_h, repair_h = 2e-5, 0.6, YEAR_H, 72.0
    start = [0.0, 0.0, 0.0]
    for _ in range(8):
        solved = solve_ivp(
            rates,
            (0.0, interval_h),
            start,
            "LSODA",
            args=(coverage, rate_per_h, repair_h),
            rtol=1e-11,
            atol=1e-14,
            dense_output=True,
        )
        detected, hidden, found = solved.y[:, -1]
        start = [detected, 0.0, found + hidden]
    nodes, weights = np.polynomial.legendre.leggauss(24)
    edges = np.concatenate([np.linspace(0.0, 1440.0, 41), np.linspace(1440.0, interval_h, 41)[1:]])
    half = np.diff(edges)[:, None] / 2
    times = (edges[:-1, None] + half) + half * nodes
    q = solved.sol(times.ravel()).sum(axis=0).reshape(times.shape)
    votes = {"1oo1": q, "1oo2": q**2, "2oo2": 2 * q - q**2, "2oo3": 3 * q**2 - 2 * q**3}
    for architecture, value in votes.items():
        expected = float((value * weights * half).sum()) / interval_h
        found_here = by_markov(architecture, rate_per_h, coverage, 0.0, repair_h=repair_h)
        close(found_here, expected, 1e-7 * expected, "tolerance of the integrator, interpolated between its steps")


@pytest.mark.parametrize("beta", [0.0, 0.1])
def test_rare_failures_keep_their_digits(beta: float) -> None:
    """Mean of 1 - 2 exp(-x) + exp(-(2 - beta) x), worked to sixty digits where doubles would cancel."""
    import mpmath

    with mpmath.workdps(60):
        x = mpmath.mpf(1e-9) * mpmath.mpf(YEAR_H)
        means = [(1 - mpmath.exp(-m * x)) / (m * x) for m in (mpmath.mpf(1), 2 - mpmath.mpf(beta))]
        expected = float(1 - 2 * means[0] + means[1])
    close(by_markov("1oo2", 1e-9, 0.0, beta, repair_h=0.0), expected, 1e-12 * expected, "rounding, kept small")


def test_after_common_cause_the_first_channel_repaired_serves() -> None:
    """All failures common and detected: 1oo2 is down for the shorter of two repairs, half of MTTR on the average."""
    rate_per_h, repair_h = 1e-8, 8.0
    shock_s = [YEAR_H * H, YEAR_H * H, repair_h * H, repair_h * H]
    down = {
        word: pfd_by_markov(word, rate_per_h / H, 1.0, 1.0, 1.0, 1.0, *shock_s) / (rate_per_h * repair_h)
        for word in architectures()
    }
    for word, share in {"1oo1": 1.0, "1oo2": 1 / 2, "2oo2": 3 / 2, "2oo3": 1 / 3 + 1 / 2}.items():
        close(down[word], share, 1e-6, "first order in a rate times a repair of 8e-8")


def test_a_renewal_of_every_interval_is_a_perfect_test() -> None:
    for architecture in architectures():
        perfect = by_markov(architecture, 5e-6, 0.6, 0.1)
        close(by_markov(architecture, 5e-6, 0.6, 0.1, test=0.3), perfect, 1e-12 * perfect, "rounding")


def test_what_never_fails_is_never_down() -> None:
    for architecture in architectures():
        exact(by_markov(architecture, 0.0, 0.5, 0.1), 0.0)


def test_intervals_that_do_not_fit_are_refused() -> None:
    with pytest.raises(QuantityError, match=r"a whole multiple of the proof test interval; got 2\.5 of it"):
        by_markov("1oo1", 1e-6, 0.0, 0.0, test=0.9, renewal_h=2.5 * YEAR_H)


# ---------------------------------------------------------------- the equations against it


@pytest.mark.parametrize("architecture", ["1oo1", "1oo2", "2oo3"])
@pytest.mark.parametrize(("rate_per_h", "coverage", "beta"), [(2.5e-7, 0.6, 0.1), (5e-7, 0.9, 0.02), (5e-7, 0.0, 0.2)])
def test_the_equations_agree_where_failures_are_rare(
    architecture: str, rate_per_h: float, coverage: float, beta: float
) -> None:
    model = by_markov(architecture, rate_per_h, coverage, beta)
    close(
        pfd(architecture, rate_per_h, coverage, beta), model, 0.01 * model, "first order: 1 % where l T is below 0.005"
    )


def test_two_of_two_counts_common_cause_twice() -> None:
    """The equation has no beta: it exceeds the model by 2/(2 - beta), as common cause strikes both at once."""
    model = by_markov("2oo2", 5e-7, 0.0, 0.2, repair_h=0.0)
    close(pfd("2oo2", 5e-7, 0.0, 0.2, repair_h=0.0), model * 2 / 1.8, 0.005 * model, "first order: l T is 0.004")


@settings(max_examples=40)
@given(
    st.sampled_from(["1oo1", "1oo2", "2oo2", "2oo3"]),
    st.floats(1e-8, 1e-5),
    st.floats(0.0, 0.99),
    st.floats(0.0, 0.3),
    st.floats(0.0, 1.0),
    st.integers(1, 10),
)
def test_the_equations_err_on_the_safe_side(
    architecture: str, rate_per_h: float, coverage: float, beta: float, test: float, intervals: int
) -> None:
    """They leave out that a channel that is down cannot fail, and count repairs one after the other."""
    renewal_h = intervals * YEAR_H
    model = by_markov(architecture, rate_per_h, coverage, beta, test=test, renewal_h=renewal_h)
    assert pfd(architecture, rate_per_h, coverage, beta, test=test, renewal_h=renewal_h) >= model * (1 - 1e-9)


def test_where_failures_are_frequent_they_part() -> None:
    """Printed with the comparison, read second-hand: 2oo3, 2.5e-5 1/h, 90 %, 2 %, ten years: 4.9e-2 and 3.8e-2."""
    assert pfd("2oo3", 2.5e-5, 0.9, 0.02, 10 * YEAR_H) == printed("4.9e-2")
    assert by_markov("2oo3", 2.5e-5, 0.9, 0.02, 10 * YEAR_H) == printed("3.8e-2")


def test_they_part_more_and_more() -> None:
    ratios = [
        pfd("2oo3", rate, 0.9, 0.02, 10 * YEAR_H) / by_markov("2oo3", rate, 0.9, 0.02, 10 * YEAR_H)
        for rate in (1e-6, 3e-6, 1e-5, 2.5e-5)
    ]
    assert ratios == sorted(ratios)
    assert 1.0 < ratios[0] < 1.05 < 1.3 < ratios[-1]
