"""Probability of failure on demand against the printed table, worked cases, and laws it cannot break."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.foundation.errors import QuantityError, ValidityError
from onedatum.foundation.sources import citation
from onedatum.foundation.working import apply
from onedatum.physics import overfill
from onedatum.physics.overfill import (
    architecture_of,
    architectures,
    equivalent_down_time_imperfect_s,
    equivalent_down_time_s,
    exact_pfd_1oo1,
    failures_per_interval,
    fault_tolerance_of,
    function_pfd,
    group_down_time_imperfect_s,
    group_down_time_s,
    highest_sil_by_architecture,
    joined_pfd,
    least_fault_tolerance,
    pfd_1oo1,
    pfd_1oo2,
    pfd_2oo2,
    pfd_2oo3,
    pfd_margin,
    rare_failures,
    risk_reduction,
    sil_band,
    simplified_pfd_1oo1,
    simplified_pfd_1oo1_imperfect,
    simplified_pfd_1oo2,
    simplified_pfd_2oo2,
    simplified_pfd_2oo3,
    undetected_down_time_imperfect_s,
    undetected_down_time_s,
    undetected_rate_per_s,
)
from tests.closeness import close, exact, printed
from tests.reference import Case, case

H = 3600.0
YEAR_H = 8760.0


def pfd(
    architecture: str,
    rate_per_h: float,
    coverage: Any,
    beta: Any,
    interval_h: Any = YEAR_H,
    repair_h: float = 8.0,
    test: Any = 1.0,
    renewal_h: Any = None,
) -> Any:
    """By the equations for an imperfect test, with beta_D half of beta."""
    renewal_s = (interval_h if renewal_h is None else renewal_h) * H
    common = {
        "test_coverage": test,
        "proof_interval_s": interval_h * H,
        "renewal_interval_s": renewal_s,
        "repair_time_s": repair_h * H,
    }
    times = {**common, "diagnostic_coverage": coverage, "restoration_time_s": repair_h * H}
    channel = equivalent_down_time_imperfect_s(**times)
    if architecture in ("1oo1", "2oo2"):
        single = pfd_1oo1 if architecture == "1oo1" else pfd_2oo2
        return single(rate_per_h / H, channel)
    return (pfd_1oo2 if architecture == "1oo2" else pfd_2oo3)(
        rate_per_h / H,
        coverage,
        beta,
        beta / 2,
        channel,
        group_down_time_imperfect_s(**times),
        undetected_down_time_imperfect_s(**common),
        repair_h * H,
    )


# ---------------------------------------------------------------- published and worked cases

# Rate 1/h, coverage, then 1oo1, 1oo2 and 2oo3 with beta 2, 10, 20 %; IEC 61508-6 Table B.3 read second-hand.
TABLE = [
    (2.5e-7, 0.0, "1.1e-3", "2.3e-5 1.1e-4 2.2e-4", "2.7e-5 1.1e-4 2.2e-4"),
    (2.5e-7, 0.6, "4.4e-4", "9.0e-6 4.4e-5 8.8e-5", "9.5e-6 4.5e-5 8.8e-5"),
    (5e-7, 0.0, "2.2e-3", "5.0e-5 2.2e-4 4.4e-4", "6.2e-5 2.4e-4 4.5e-4"),
    (5e-7, 0.6, "8.8e-4", "1.9e-5 8.9e-5 1.8e-4", "2.1e-5 9.1e-5 1.8e-4"),
    (5e-7, 0.9, "2.2e-4", "4.5e-6 2.2e-5 4.4e-5", "4.6e-6 2.2e-5 4.4e-5"),
    (5e-7, 0.99, "2.6e-5", "4.8e-7 2.4e-6 4.8e-6", "4.8e-7 2.4e-6 4.8e-6"),
    (2.5e-6, 0.0, "1.1e-2", "3.7e-4 1.2e-3 2.3e-3", "6.8e-4 1.5e-3 2.5e-3"),
]


@pytest.mark.parametrize(("rate", "coverage", "single", "double", "triple"), TABLE)
def test_the_table_to_its_two_digits(rate: float, coverage: float, single: str, double: str, triple: str) -> None:
    assert pfd("1oo1", rate, coverage, 0.0) == printed(single)
    for beta, of_two, of_three in zip((0.02, 0.1, 0.2), double.split(), triple.split(), strict=True):
        assert pfd("1oo2", rate, coverage, beta) == printed(of_two)
        assert pfd("2oo3", rate, coverage, beta) == printed(of_three)


def test_the_worked_example_of_three_sensors() -> None:
    """IEC 61508-6, worked example, from memory: 2oo3, 2.5e-6 1/h, 90 %, 20 %, one year."""
    assert pfd("2oo3", 2.5e-6, 0.9, 0.2) == printed("2.3e-4")


def test_one_channel_by_its_coverage() -> None:
    stated = case("loop-S01")
    time_s = {key: stated.value(name) * H for key, name in (("proof", "T1"), ("repair", "MTTR"))}
    channel = equivalent_down_time_s(np.array(stated.value("DC")), time_s["proof"], time_s["repair"], time_s["repair"])
    stated.check(pfd_1oo1(stated.value("lambda_D") / H, channel))


def test_two_channels() -> None:
    stated = case("loop-S02")
    proof_s, repair_s = stated.value("T1") * H, stated.value("MTTR") * H
    times = (stated.value("DC"), proof_s, repair_s, repair_s)
    stated.check(
        pfd_1oo2(
            stated.value("lambda_D") / H,
            stated.value("DC"),
            stated.value("beta"),
            stated.value("beta_D"),
            equivalent_down_time_s(*times),
            group_down_time_s(*times),
            undetected_down_time_s(proof_s, repair_s),
            repair_s,
        )
    )


def check_one(stated: Case, result: str, actual: Any) -> None:
    """One of several results that share a relative tolerance."""
    expected = stated.expected[result]
    close(actual, expected, stated.tolerance["rel"] * expected, f"{stated.id}: tolerance of the case")


def test_simplified_and_exact_single_channel() -> None:
    stated = case("loop-S04")
    given_s = stated.value("lambda_DU") / H, stated.value("T") * H
    check_one(stated, "simplified", simplified_pfd_1oo1(*given_s))
    check_one(stated, "exact", exact_pfd_1oo1(*given_s))


def test_simplified_groups() -> None:
    stated = case("loop-S05")
    given_s = stated.value("lambda_DU") / H, stated.value("beta"), stated.value("T") * H
    check_one(stated, "1oo2", simplified_pfd_1oo2(*given_s))
    check_one(stated, "2oo3", simplified_pfd_2oo3(*given_s))


def test_the_coverage_of_the_test_decides_the_band() -> None:
    stated = case("loop-S06")
    rate_per_s, test = stated.value("lambda_DU") / H, stated.value("coverage")
    proof_s, renewal_s = stated.value("T1") * H, stated.value("T2") * H
    found = simplified_pfd_1oo1_imperfect(rate_per_s, test, proof_s, renewal_s)
    stated.check(found)
    stated.check(pfd_1oo1(rate_per_s, equivalent_down_time_imperfect_s(0.0, test, proof_s, renewal_s, 0.0, 0.0)))
    assert sil_band(float(found)) == "2"
    assert sil_band(float(simplified_pfd_1oo1(rate_per_s, proof_s))) == "3"


def test_bands() -> None:
    stated = case("loop-S07")
    assert [sil_band(value) for value in stated.value("pfd")] == [str(word) for word in stated.expected]


# ---------------------------------------------------------------- laws and limits


def test_a_perfect_test_leaves_nothing_to_the_renewal() -> None:
    times = 0.3, YEAR_H * H, 8 * H, 24 * H
    imperfect = 0.3, 1.0, YEAR_H * H, 7 * YEAR_H * H, 8 * H, 24 * H
    exact(equivalent_down_time_imperfect_s(*imperfect), equivalent_down_time_s(*times))
    exact(group_down_time_imperfect_s(*imperfect), group_down_time_s(*times))
    exact(undetected_down_time_imperfect_s(1.0, YEAR_H, 7 * YEAR_H, 8.0), undetected_down_time_s(YEAR_H, 8.0))


def test_a_test_that_finds_nothing_is_a_renewal() -> None:
    for architecture in architectures():
        blind = pfd(architecture, 2e-7, 0.3, 0.05, YEAR_H, test=0.0, renewal_h=5 * YEAR_H)
        close(blind, pfd(architecture, 2e-7, 0.3, 0.05, 5 * YEAR_H), 1e-15 * blind, "rounding")


def test_mean_down_times_are_those_of_failures_spread_over_the_interval() -> None:
    """The n-th of n failures spread evenly over the interval is the last: from it 1/(n + 1) is left."""
    random = np.random.default_rng(7)
    spread = random.uniform(0.0, 1.0, (2, 400_000))
    left_to_one, left_to_both = 1 - spread[0].mean(), 1 - spread.max(axis=0).mean()
    close(undetected_down_time_s(1.0, 0.0), left_to_one, 0.003, "six standard errors of 400 000")
    close(group_down_time_s(0.0, 1.0, 0.0, 0.0), left_to_both, 0.003, "six standard errors of 400 000")


def test_without_repair_and_diagnostics_the_equations_are_the_simplified_ones() -> None:
    rate_per_h, beta = 2e-7, 0.05
    given_s = rate_per_h / H, YEAR_H * H
    simplified = {
        "1oo1": simplified_pfd_1oo1(*given_s),
        "1oo2": simplified_pfd_1oo2(given_s[0], beta, given_s[1]),
        "2oo2": simplified_pfd_2oo2(*given_s),
        "2oo3": simplified_pfd_2oo3(given_s[0], beta, given_s[1]),
    }
    for architecture, expected in simplified.items():
        close(pfd(architecture, rate_per_h, 0.0, beta, repair_h=0.0), expected, 1e-14 * float(expected), "rounding")


def test_failures_of_common_cause_alone_make_a_group_one_channel() -> None:
    for group in (simplified_pfd_1oo2, simplified_pfd_2oo3):
        exact(group(2e-7 / H, 1.0, YEAR_H * H), simplified_pfd_1oo1(2e-7 / H, YEAR_H * H))


@pytest.mark.parametrize("product", [1e-300, 1e-16, 1e-8, 1e-3, 0.0999999, 0.1, 0.1000001, 1.0, 30.0])
def test_the_exact_mean_keeps_its_digits(product: float) -> None:
    """Against forty digits."""
    import mpmath

    with mpmath.workdps(700 if product < 1e-100 else 60):
        x = mpmath.mpf(product)
        expected = float(1 - (1 - mpmath.exp(-x)) / x)
    close(exact_pfd_1oo1(product, 1.0), expected, 4e-15 * expected, "rounding")


def test_the_exact_mean_of_nothing_is_nothing() -> None:
    exact(exact_pfd_1oo1(np.array([0.0, 0.0]), 1.0), [0.0, 0.0])


def test_risk_reduction_sum_and_margin() -> None:
    close(risk_reduction(0.0024528), 407.6973, 1e-4, "by hand")
    close(function_pfd(2e-4, 5e-6, 4e-3), 0.004205, 1e-17, "by hand")
    exact(joined_pfd(joined_pfd(2e-4, 5e-6), 4e-3), function_pfd(2e-4, 5e-6, 4e-3))
    close(pfd_margin(0.01, 0.004205), 0.005795, 1e-17, "by hand")


# ---------------------------------------------------------------- which way it goes

RATE = st.floats(1e-9, 5e-6)
SHARE = st.floats(0.0, 0.99)
BETA = st.floats(0.0, 0.3)
ANY = st.sampled_from(["1oo1", "1oo2", "2oo2", "2oo3"])
MORE = st.floats(1.01, 2.0)


@given(ANY, RATE, SHARE, BETA, st.floats(0.0, 1.0), MORE)
def test_it_rises_with_rate_and_interval(a: str, rate: float, dc: float, beta: float, c: float, more: float) -> None:
    least = pfd(a, rate, dc, beta, test=c, renewal_h=10 * YEAR_H)
    assert pfd(a, rate * more, dc, beta, test=c, renewal_h=10 * YEAR_H) > least
    assert pfd(a, rate, dc, beta, YEAR_H * more, test=max(c, 0.01), renewal_h=10 * YEAR_H) > pfd(
        a, rate, dc, beta, test=max(c, 0.01), renewal_h=10 * YEAR_H
    )


@given(ANY, RATE, st.floats(0.0, 0.9), BETA, st.floats(0.0, 0.9), st.floats(0.01, 0.1))
def test_it_falls_with_either_coverage(a: str, rate: float, dc: float, beta: float, c: float, step: float) -> None:
    most = pfd(a, rate, dc, beta, test=c, renewal_h=10 * YEAR_H)
    assert pfd(a, rate, dc + step, beta, test=c, renewal_h=10 * YEAR_H) < most
    assert pfd(a, rate, dc, beta, test=c + step, renewal_h=10 * YEAR_H) < most


@given(st.sampled_from(["1oo2", "2oo3"]), RATE, SHARE, BETA, st.floats(0.01, 0.2))
def test_it_rises_with_common_cause(a: str, rate: float, dc: float, beta: float, step: float) -> None:
    assert pfd(a, rate, dc, beta + step) > pfd(a, rate, dc, beta)


@given(RATE, SHARE, BETA)
def test_the_order_of_the_architectures(rate: float, dc: float, beta: float) -> None:
    two, three, one, both = (pfd(a, rate, dc, beta) for a in ("1oo2", "2oo3", "1oo1", "2oo2"))
    assert two <= three < both
    assert two < one
    exact(both, 2 * one)


def test_two_of_three_are_no_better_than_one_where_failures_are_frequent() -> None:
    """3 q**2 - 2 q**3 exceeds q above q = 1/2; the equations of first order say so earlier."""
    assert pfd("2oo3", 6e-5, 0.0, 0.0) > pfd("1oo1", 6e-5, 0.0, 0.0)


@given(RATE, SHARE)
def test_undetected_rate_and_their_number(rate: float, dc: float) -> None:
    undetected = undetected_rate_per_s(rate / H, dc)
    close(undetected + rate / H * dc, rate / H, 1e-15 * rate / H, "rounding")
    number = failures_per_interval(undetected, YEAR_H * H)
    close(number, rate * (1 - dc) * YEAR_H, 1e-14 * float(number), "rounding")


# ---------------------------------------------------------------- what is refused

CERTAIN: list[tuple[Callable[..., Any], Mapping[str, float]]] = [
    (pfd_1oo1, {"dangerous_rate_per_s": 1e-6, "equivalent_down_time_s": 1.01e6}),
    (pfd_2oo2, {"dangerous_rate_per_s": 1e-6, "equivalent_down_time_s": 0.51e6}),
    (simplified_pfd_1oo1, {"undetected_rate_per_s": 1e-6, "proof_interval_s": 2.1e6}),
    (simplified_pfd_2oo3, {"undetected_rate_per_s": 1e-6, "beta": 0.1, "proof_interval_s": 1.1e6}),
]


@pytest.mark.parametrize(("function", "arguments"), CERTAIN)
def test_more_than_certainty_is_refused(function: Callable[..., Any], arguments: Mapping[str, float]) -> None:
    assert function(**arguments) > 1
    with pytest.raises(ValidityError, match="A probability cannot exceed 1"):
        apply(function, arguments)


@pytest.mark.parametrize("value", [-0.1, 1.1, float("nan")])
def test_what_is_no_probability_has_no_band(value: float) -> None:
    with pytest.raises(QuantityError, match="a probability from 0 to 1"):
        sil_band(value)


def test_renewal_before_the_test_is_refused() -> None:
    given_s = {"test_coverage": 0.9, "proof_interval_s": 2e7, "renewal_interval_s": 1e7, "repair_time_s": 0.0}
    with pytest.raises(ValidityError, match="renewal comes with a proof test"):
        apply(undetected_down_time_imperfect_s, given_s)


# ---------------------------------------------------------------- words


def test_fault_tolerance_is_what_may_fail() -> None:
    assert {word: fault_tolerance_of(word) for word in architectures()} == {"1oo1": 0, "1oo2": 1, "2oo2": 0, "2oo3": 1}
    for word in architectures():
        kept = architecture_of(word)
        assert word == f"{kept.needed}oo{kept.channels}"


def test_levels_and_the_fault_tolerance_they_ask_for() -> None:
    """IEC 61511-1 Table 6, read second-hand."""
    assert [least_fault_tolerance(sil).faults for sil in (1, 2, 3)] == [0, 0, 1]
    assert {word: highest_sil_by_architecture(word) for word in architectures()} == {
        "1oo1": 2,
        "1oo2": 3,
        "2oo2": 2,
        "2oo3": 3,
    }


@pytest.mark.parametrize("sil", [0, 4])
def test_a_level_without_a_row_is_refused(sil: int) -> None:
    with pytest.raises(QuantityError, match=f"one of 1, 2, 3; got {sil}"):
        least_fault_tolerance(sil)


def test_an_unknown_architecture_is_refused_with_those_there_are() -> None:
    with pytest.raises(QuantityError, match="one of 1oo1, 1oo2, 2oo2, 2oo3; got 1oo3"):
        fault_tolerance_of("1oo3")


def test_what_is_looked_up_names_its_source() -> None:
    rows: list[Any] = [*map(architecture_of, architectures()), *map(least_fault_tolerance, (1, 2, 3)), rare_failures()]
    assert all(row.tag == citation(row.source).source.tag == "read second-hand" for row in rows)


def test_the_room_offers_what_it_lists() -> None:
    assert [name for name in overfill.__all__ if not callable(getattr(overfill, name))] == []
    assert overfill.__all__ == sorted(overfill.__all__)
