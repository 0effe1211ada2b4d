"""Run lengths against a chain of states (Brook and Evans), published rows, simulation, limits; and the designs.

The rows of Lucas and Crosier (1982), also in Montgomery's table 9.4, are from memory; those of Lucas and Saccucci
(1990) in table 3 from a transcription (limit factors) and from memory (run lengths).
"""

from __future__ import annotations

from math import exp, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import norm

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.working import apply
from onedatum.physics.detection import (
    both_sides_run_length,
    cusum,
    cusum_decision_interval,
    cusum_run_length,
    cusum_run_length_approximate,
    ewma,
    ewma_limit_factor,
    ewma_run_length,
    false_alarms,
    shewhart_run_length,
)
from tests.closeness import close, printed
from tests.physics.shares_apart import alike
from tests.reference import case

SHIFTS = np.array([0.0, 0.25, 0.5, 0.75, 1, 1.5, 2, 3])


# ---------------------------------------------------------------- cumulative sums


@pytest.mark.parametrize("name", ["loop-D01", "loop-D02"])
def test_cusum_against_worked_rows(name: str) -> None:
    given = case(name)
    found = cusum_run_length(given.value("k"), given.value("h"), np.array(given.value("shift")))
    given.check(found)
    alike(found, given.expected, 1e-8, "another solver of the same equation, ten digits written down")


def test_cusum_against_published_rows() -> None:
    """Lucas and Crosier 1982, also Montgomery table 9.4: from memory, to the digits printed."""
    four = ["168", "74.2", "26.6", "13.3", "8.38", "4.75", "3.34", "2.19"]
    five = ["465", "139", "38.0", "17.0", "10.4", "5.75", "4.01", "2.57"]
    for h, row in ((4.0, four), (5.0, five)):
        for shift, text in zip(SHIFTS, row, strict=True):
            assert cusum_run_length(0.5, h, shift) == printed(text)


def _chain_of_cusum(allowance: float, decision_interval: float, shift: float, states: int) -> float:
    """Brook and Evans 1972: the sum in steps of one width, whose middle stands for all of it."""
    width = 2.0 * decision_interval / (2 * states - 1)
    middles = width * np.arange(states)
    drift = shift - allowance
    moves = norm.cdf(middles[None, :] - middles[:, None] + width / 2 - drift) - norm.cdf(
        middles[None, :] - middles[:, None] - width / 2 - drift
    )
    moves[:, 0] = norm.cdf(width / 2 - middles - drift)
    return float(np.linalg.solve(np.eye(states) - moves, np.ones(states))[0])


@pytest.mark.parametrize(("k", "h", "shift"), [(0.5, 4.0, 0.0), (0.25, 8.0, 0.5), (1.0, 2.5, 1.0), (0.75, 3.0, 0.0)])
def test_cusum_against_a_chain_of_states(k: float, h: float, shift: float) -> None:
    """The chain is off by the square of its width: two widths give what none would."""
    sides = []
    for side in (shift, -shift):
        coarse, fine = (_chain_of_cusum(k, h, side, states) for states in (100, 200))
        sides.append(fine + (fine - coarse) / 3.0)
    expected = 1.0 / (1.0 / sides[0] + 1.0 / sides[1])
    alike(cusum_run_length(k, h, shift), expected, 2e-4, "what two widths of the chain leave")
    alike(both_sides_run_length(*sides), expected, 1e-12, "rounding")


def test_cusum_against_simulation() -> None:
    """4000 runs of the chart itself, seeded; within four standard errors."""
    chance = np.random.default_rng(20)
    for shift in (0.75, 1.5):
        firsts = []
        for z in chance.normal(shift, 1.0, (4000, 120)):
            first = cusum(z, 0.5, 4.0).first
            assert first is not None
            firsts.append(first + 1)
        error = np.std(firsts) / sqrt(len(firsts))
        assert abs(np.mean(firsts) - float(cusum_run_length(0.5, 4.0, shift))) < 4.0 * error


def test_cusum_without_a_sum_is_a_limit_for_single_residuals() -> None:
    """As h goes to nothing, the first residual beyond k alarms, on either side: 1 over 2*P(z > k) on average."""
    alike(cusum_run_length(1.5, 1e-9, 0.0), 0.5 / norm.sf(1.5), 1e-6, "h is not quite nothing")


def test_siegmund() -> None:
    """469.1 also in Montgomery 9.1.3, from memory; the exact value lies 0.8 % below."""
    given = case("loop-D03")
    both = float(cusum_run_length_approximate(given.value("k"), given.value("h"), 0.0)) / 2.0
    given.check(both)
    close(both / float(cusum_run_length(0.5, 5.0, 0.0)), 1.008, 5e-4, "0.8 %, to its last digit")
    with pytest.raises(ValidityError, match="nothing over nothing"):
        apply(cusum_run_length_approximate, {"allowance": 0.5, "decision_interval": 5.0, "shift": 0.5})


def test_siegmund_is_near_the_exact_value() -> None:
    """For h from 4 and k of one half the approximation is good to 3 % (Siegmund 1985, from memory)."""
    h = np.array([4.0, 5.0, 8.0, 12.0])
    alike(cusum_run_length_approximate(0.5, h, 0.0) / 2.0, cusum_run_length(0.5, h, 0.0), 0.03, "an approximation")


def test_long_runs_keep_their_digits() -> None:
    """Far out the run length grows by exp(2*k) for each 1 of h (Siegmund's leading term, for any start)."""
    lengths = np.asarray(cusum_run_length(1.0, np.array([20.0, 21.0, 40.0, 41.0]), 0.0))
    alike(lengths[[1, 3]] / lengths[[0, 2]], np.full(2, exp(2.0)), 1e-9, "terms that do not grow")


def test_design_of_the_decision_interval() -> None:
    given = case("loop-D19")
    h = float(cusum_decision_interval(given.value("k"), given.value("arl0")))
    given.check(h, "h")
    given.check(cusum_run_length(0.5, h, np.array(given.value("shift"))), "arl")
    coarse, fine = (_chain_of_cusum(0.5, h, 0.0, count) / 2.0 for count in (100, 200))
    alike(fine + (fine - coarse) / 3.0, 10_000.0, 2e-3, "what two widths of the chain leave")


@settings(max_examples=20)
@given(k=st.floats(0.25, 1.0), power=st.floats(1.0, 9.0))
def test_a_design_gives_the_run_length_it_was_asked_for(k: float, power: float) -> None:
    h = cusum_decision_interval(k, 10.0**power)
    alike(cusum_run_length(k, h, 0.0), 10.0**power, 1e-8, "digits of h times the slope")


# ---------------------------------------------------------------- moving averages

TABLE_3 = {
    1.00: "3.090",
    0.75: "3.087",
    0.50: "3.071",
    0.40: "3.054",
    0.30: "3.023",
    0.25: "2.998",
    0.20: "2.962",
    0.10: "2.814",
    0.05: "2.615",
    0.03: "2.437",
}
"""Lucas and Saccucci 1990, table 3, by a transcription: limit factors for a run length of 500."""


def test_ewma_limit_factors_of_the_table() -> None:
    for weight, text in TABLE_3.items():
        assert ewma_limit_factor(weight, 500.0) == printed(text)


def test_ewma_against_worked_and_published_rows() -> None:
    """The printed row from memory; at 0.75 it says 15.9 where the equation gives 15.85 for a factor of 2.814."""
    given = case("loop-D04")
    found = ewma_run_length(given.value("lambda"), given.value("L"), np.array(given.value("shift")))
    given.check(found)
    alike(found, given.expected, 1e-8, "another solver of the same equation, ten digits written down")
    alike(found, [500, 106, 31.3, 15.9, 10.3, 6.1, 4.4, 2.9], 0.012, "half a unit of the last digit of 4.4")


def _chain_of_ewma(weight: float, factor: float, shift: float, half: int) -> float:
    """The moving average in 2*half + 1 steps between its limits."""
    limit = factor * sqrt(weight / (2.0 - weight))
    width = 2.0 * limit / (2 * half + 1)
    middles = width * np.arange(-half, half + 1)
    ends = (middles[None, :] - (1.0 - weight) * middles[:, None]) / weight - shift
    reach = width / (2.0 * weight)
    moves = norm.cdf(ends + reach) - norm.cdf(ends - reach)
    return float(np.linalg.solve(np.eye(2 * half + 1) - moves, np.ones(2 * half + 1))[half])


@pytest.mark.parametrize(("weight", "factor", "shift"), [(0.1, 2.814, 0.0), (0.4, 3.054, 0.5), (0.05, 2.615, 1.0)])
def test_ewma_against_a_chain_of_states(weight: float, factor: float, shift: float) -> None:
    coarse, fine = (_chain_of_ewma(weight, factor, shift, half) for half in (50, 100))
    expected = fine + (fine - coarse) / 3.0
    alike(ewma_run_length(weight, factor, shift), expected, 1e-3, "what two widths of the chain leave")


def test_exact_limits_alarm_a_little_sooner() -> None:
    """3000 seeded runs with exact limits: sooner than with limits that stand still, by less than a third."""
    chance = np.random.default_rng(21)
    firsts = [ewma(z, 0.1, 2.814).first for z in chance.normal(1.0, 1.0, (3000, 150))]
    assert None not in firsts
    mean = np.mean([first + 1 for first in firsts if first is not None])
    still = float(ewma_run_length(0.1, 2.814, 1.0))
    assert 0.67 * still < mean < still


@settings(max_examples=15)
@given(weight=st.floats(0.02, 1.0), power=st.floats(1.0, 9.0))
def test_a_design_of_limits_gives_the_run_length(weight: float, power: float) -> None:
    factor = ewma_limit_factor(weight, 10.0**power)
    alike(ewma_run_length(weight, factor, 0.0), 10.0**power, 1e-8, "digits of L times the slope")


# ---------------------------------------------------------------- single residuals, false alarms, laws


def test_shewhart_in_closed_form() -> None:
    given = case("loop-D06")
    given.check(shewhart_run_length(given.value("L"), np.array(given.value("shift"), dtype=np.float64)))


@settings(max_examples=20)
@given(factor=st.floats(0.5, 5.0), shift=st.floats(0.0, 5.0))
def test_a_moving_average_of_full_weight_is_shewhart(factor: float, shift: float) -> None:
    alike(ewma_run_length(1.0, factor, shift), shewhart_run_length(factor, shift), 1e-10, "points of the solver")


def test_a_larger_shift_is_seen_sooner() -> None:
    for lengths in (cusum_run_length(0.5, 5.0, SHIFTS), ewma_run_length(0.2, 2.962, SHIFTS)):
        assert np.all(np.diff(lengths) < 0.0)
        assert np.all(np.asarray(lengths) >= 1.0)


def test_false_alarms_in_a_day() -> None:
    """One residual a minute at a run length of 500: 1440/500, three a day."""
    close(false_alarms(86400.0, 60.0, 500.0), 2.88, 1e-12, "rounding of two operations")


def test_a_run_length_outside_its_validity_is_refused() -> None:
    for arguments in ({"allowance": 0.0}, {"decision_interval": -1.0}, {"shift": float("nan")}):
        stated = {"allowance": 0.5, "decision_interval": 5.0, "shift": 0.0} | arguments
        with pytest.raises(ValidityError, match=f"^{next(iter(arguments))} must be"):
            apply(cusum_run_length, stated)
    with pytest.raises(ValidityError, match=r"^wanted_run_length must be"):
        apply(cusum_decision_interval, {"allowance": 0.5, "wanted_run_length": 2.0})
