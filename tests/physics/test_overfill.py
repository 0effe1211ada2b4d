"""Levels of concern against published arithmetic and against a tank that is filled step by step."""

from __future__ import annotations

import math

import pytest

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.working import apply
from onedatum.physics.overfill import (
    alarm_volume_m3,
    high_high_by_constant_area_m,
    high_high_level_m,
    margin_m,
)
from tests.closeness import close
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
