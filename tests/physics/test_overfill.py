"""Levels of concern against published arithmetic and against a tank that is filled step by step."""

from __future__ import annotations

import json
import math
from importlib.resources import files

import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.sources import citation
from onedatum.foundation.working import apply
from onedatum.physics.overfill import (
    alarm_uncertainty_m,
    alarm_volume_m3,
    high_high_by_constant_area_m,
    high_high_level_m,
    margin_m,
    overfill_facts,
    response_time_s,
    time_to_level_s,
)
from tests.closeness import close, exact
from tests.reference import case

MIN, H, MM = 60.0, 3600.0, 1e-3


def test_high_high_by_constant_area_and_by_volume_in_a_cylinder() -> None:
    stated = case("loop-O01")
    area = math.pi / 4 * stated.value("D") ** 2
    high, rate, response = stated.value("CH"), stated.value("Q") / H, stated.value("t_HH") * MIN
    stated.check(high_high_by_constant_area_m(high, area, rate, response, 0.0, 0.0, 0.0), "HH_m")
    level = alarm_volume_m3(high * area, rate, response, 0.0, 0.0) / area
    stated.check(high_high_level_m(level, high, stated.value("min_gap") * MM, 0.0, 0.0, 0.0), "HH_m")


def test_maximum_working_level_is_the_same_step_down_from_high_high() -> None:
    stated = case("loop-O01")
    area = math.pi / 4 * stated.value("D") ** 2
    high_high, rate, response = stated.expected["HH_m"], stated.value("Q") / H, stated.value("t_MW") * MIN
    stated.check(high_high_by_constant_area_m(high_high, area, rate, response, 0.0, 0.0, 0.0), "MW_m")


def test_lag_and_uncertainty_lower_the_alarm() -> None:
    stated = case("loop-O03")
    high, rise_m_per_s = stated.value("CH"), stated.value("rate") * MM / MIN
    area = 314.159265
    volume = alarm_volume_m3(high * area, rise_m_per_s * area, stated.value("t") * MIN, float(stated.value("tau")), 0.0)
    stated.check(high_high_level_m(volume / area, high, 0.075, 0.0, stated.value("U") * MM, 0.0))


@pytest.mark.parametrize("minutes", [0.5, 2.0, 2.356, 2.357, 5.0, 15.0])
def test_gap_is_the_larger_of_least_gap_and_rise(minutes: float) -> None:
    """API 2350 arithmetic: gap = max(75 mm, rate x response time)."""
    area, rate, high = math.pi / 4 * 20.0**2, 600.0 / H, 14.0
    level = alarm_volume_m3(high * area, rate, minutes * MIN, 0.0, 0.0) / area
    gap = max(0.075, 31.83098862 * MM * minutes)
    close(high_high_level_m(level, high, 0.075, 0.0, 0.0, 0.0), high - gap, 1e-9, "printed rate of rise")


def test_the_larger_of_allowance_and_uncertainty_counts_once() -> None:
    close(high_high_level_m(2.7273, 2.9, 0.075, 0.010, 0.00238, 0.0), 2.7173, 1e-12, "by hand")
    close(high_high_level_m(2.7273, 2.9, 0.075, 0.001, 0.00238, 0.0), 2.72492, 1e-12, "by hand")


def test_foam_overflows_before_the_liquid() -> None:
    without = high_high_level_m(2.7273, 2.9, 0.075, 0.010, 0.0, 0.0)
    close(without - high_high_level_m(2.7273, 2.9, 0.075, 0.010, 0.0, 0.120), 0.120, 1e-14, "rounding")


def filled_to_m(alarm_m: float, area_m2: float, rate: float, response_s: float, tau_s: float, scan_s: float) -> float:
    """Where the surface comes to rest: a damped reading, looked at in steps, stops the pump after the response time."""
    step_s = 0.01
    level = reading = alarm_m - 1.0
    rise = rate * step_s / area_m2
    share = 1 - math.exp(-step_s / tau_s)
    for count in range(10_000_000):
        level += rise
        reading += share * (level - reading)
        if count % round(scan_s / step_s) == 0 and reading >= alarm_m:
            return level + rate * response_s / area_m2
    raise AssertionError("the alarm never came")


@pytest.mark.parametrize(("tau_s", "scan_s"), [(5.0, 1.0), (20.0, 5.0)])
def test_filling_comes_to_rest_below_critical_high_within_one_scan(tau_s: float, scan_s: float) -> None:
    area, rate, response, high = 2.0, 0.002, 120.0, 3.0
    level = alarm_volume_m3(high * area, rate, response, tau_s, scan_s) / area
    alarm = float(high_high_level_m(level, high, 0.0, 0.0, 0.0, 0.0))
    rest = filled_to_m(alarm, area, rate, response, tau_s, scan_s)
    assert high - rate * scan_s / area - 1e-4 <= rest <= high + 1e-4


def test_tank_too_small_for_the_response_is_refused() -> None:
    given = {
        "critical_volume_m3": 0.2,
        "fill_rate_m3_per_s": 1.2 / H,
        "response_time_s": 900.0,
        "damping_time_s": 0.0,
        "scan_time_s": 0.0,
    }
    with pytest.raises(ValidityError, match="critical_volume_m3 must be at least"):
        apply(alarm_volume_m3, given)


def test_margin_is_negative_beyond_the_limit() -> None:
    close(margin_m(2.7009, 2.7173), -0.0164, 1e-12, "by hand")


# ---------------------------------------------------------------- which way the alarm goes

AREA, HIGH, GAP = 2.0, 3.0, 0.075
BASE = {
    "rate": 0.002,
    "response": 120.0,
    "lag": 5.0,
    "scan": 1.0,
    "uncertainty": 0.004,
    "foam": 0.02,
}
MOST = {"rate": 0.01, "response": 400.0, "lag": 60.0, "scan": 30.0, "uncertainty": 0.05, "foam": 0.3}


def alarm_m(*, rate: float, response: float, lag: float, scan: float, uncertainty: float, foam: float) -> float:
    """The alarm in a vessel of constant area, with an allowance of 2 mm."""
    level = alarm_volume_m3(HIGH * AREA, rate, response, lag, scan) / AREA
    return float(high_high_level_m(level, HIGH, GAP, 0.002, uncertainty, foam))


some = st.fixed_dictionaries({name: st.floats(0.0, most) for name, most in MOST.items()})


@given(some, st.sampled_from(sorted(MOST)), st.floats(1e-3, 1.0))
def test_the_alarm_never_rises_with_what_speaks_for_caution(terms: dict[str, float], name: str, share: float) -> None:
    more = {**terms, name: terms[name] + share * MOST[name]}
    assert alarm_m(**more) <= alarm_m(**terms)


@pytest.mark.parametrize("name", sorted(BASE))
def test_the_alarm_falls_where_a_term_governs(name: str) -> None:
    """The rise in the response time, 0.126 m, exceeds the least gap, and the uncertainty the allowance."""
    assert alarm_m(**{**BASE, name: 1.01 * BASE[name]}) < alarm_m(**BASE)


@pytest.mark.parametrize("name", ["rate", "response", "lag", "scan"])
def test_the_alarm_stays_where_the_least_gap_governs(name: str) -> None:
    slow = {**BASE, "rate": 0.0005}
    exact(alarm_m(**{**slow, name: 1.01 * slow[name]}), alarm_m(**slow))


# ---------------------------------------------------------------- response, time left, receiver


@given(st.permutations([5.0, 300.0, 420.0, 15.0, 60.0, 100.0]))
def test_the_response_time_is_the_sum_in_any_order(parts: list[float]) -> None:
    exact(response_time_s(*parts), 900.0)


def test_the_response_time_of_the_alarm_leaves_out_what_the_alarm_volume_adds() -> None:
    """Damping and scan are counted once: in the volume, not in the sum."""
    response = response_time_s(5.0, 300.0, 0.0, 15.0, 60.0, 0.0)
    without = alarm_volume_m3(6.0, 0.002, response, 0.0, 0.0)
    close(without - alarm_volume_m3(6.0, 0.002, response, 10.0, 2.0), 0.024, 1e-14, "by hand, rounding")


@given(st.floats(0.0, 50.0), st.floats(0.0, 50.0), st.floats(0.001, 1.0))
def test_the_filling_arrives_when_it_is_said_to(start: float, end: float, rate: float) -> None:
    time = time_to_level_s(end, start, rate)
    close(start + rate * time + 100.0, end + 100.0, 1e-12, "rounding")
    assert (time < 0) == (end < start)


def test_the_time_from_the_alarm_to_overflow_is_the_response_time() -> None:
    alarm = alarm_volume_m3(6.0, 0.002, 900.0, 0.0, 0.0)
    close(time_to_level_s(6.0, alarm, 0.002), 900.0, 1e-9, "rounding of a difference of volumes")


@given(st.floats(0.0, 0.1), st.floats(0.0, 0.1))
def test_uncertainty_at_the_receiver_lies_between_the_larger_and_the_sum(level: float, receiver: float) -> None:
    found = float(alarm_uncertainty_m(level, receiver))
    assert max(level, 2 * receiver) * (1 - 1e-15) <= found + 1e-160
    assert found <= (level + 2 * receiver) * (1 + 1e-15)


def test_uncertainty_at_the_receiver_by_hand() -> None:
    close(alarm_uncertainty_m(0.006, 0.004), 0.010, 1e-16, "6, 8, 10")
    exact(alarm_uncertainty_m(0.006, 0.0), 0.006)


# ---------------------------------------------------------------- facts


def test_every_fact_is_worth_what_its_source_is() -> None:
    for fact in overfill_facts():
        assert fact.tag == citation(fact.source).source.tag
        assert fact.subject and fact.text.endswith(".")


def test_the_facts_that_are_from_memory_stand_under_no_clause() -> None:
    remembered = [fact for fact in overfill_facts() if fact.tag == "from memory"]
    assert {fact.subject for fact in remembered} == {"categories", "response time", "independence"}
    assert all(fact.source.endswith("-memory") and not citation(fact.source).clause for fact in remembered)


def test_the_facts_hold_no_number_to_be_taken_for_a_value() -> None:
    rows = json.loads(files("onedatum.data").joinpath("overfill_facts.json").read_text(encoding="utf-8"))["facts"]
    assert len(rows) == len(overfill_facts()) == len({row["subject"] for row in rows})
    assert {type(value) for row in rows for value in row.values()} == {str}
