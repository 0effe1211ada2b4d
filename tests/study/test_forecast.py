"""How long there is: from every level of concern to critical high, and from now to each of them by the clock.

Hand arithmetic of the upright cylinder of 2 m diameter (solvent example); sums of sections in the dished head.
"""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from onedatum.study.overfill import Forecast
from onedatum.study.result import Study
from tests.closeness import close
from tests.study.tanks import number
from tests.study.variants import EXAMPLES, WITH_ISOLATOR, study_with

SOLVENT = EXAMPLES / "solvent_tank.yaml"
LEVELS_M = {"LL": 0.200, "L": 0.350, "H": 2.450, "HH": 2.650, "AOPS": 2.780, "CH": 2.900}
ROUNDING = "rounding of a dozen steps"
RATE, CLOCK = "fill_rate_now: 9 m3/h", 'clock: "14:30"'


def solvent(*changes: tuple[str, str]) -> Study:
    """The solvent tank with changes."""
    return study_with(*changes, example=SOLVENT)


def forecasts(study: Study) -> dict[str, Forecast]:
    """What is forecast, by the name of the level."""
    return {each.name: each for each in study.safe.overfill.forecasts}


def clocks(*changes: tuple[str, str]) -> list[str]:
    """The times of day at which H, HH, AOPS and CH are reached."""
    return [each.clock for each in solvent(*changes).safe.overfill.forecasts]


# ---------------------------------------------------------------- from now, at the rate now


def test_at_this_rate_each_level_at_its_time() -> None:
    """From 1650 mm at 9 m3/h: HH after 1.000 m * pi m2 / 9 m3/h = 20.944 min, at 14:50."""
    found = forecasts(solvent())
    assert list(found) == ["H", "HH", "AOPS", "CH"]
    for name, each in found.items():
        assert each.time.value is not None
        close(each.time.value, (LEVELS_M[name] - 1.650) * pi / 9.0 * 3600.0, 1e-6, ROUNDING)
    assert [each.clock for each in found.values()] == ["14:46", "14:50", "14:53", "14:56"]


def test_hh_is_forecast_where_it_may_stand_at_most_when_it_is_not_set() -> None:
    found = forecasts(solvent(("H: 2450 mm, HH: 2650 mm, AOPS: 2780 mm", "H: 2450 mm")))
    assert found["HH"].level.name == "overfill.high_high"
    assert found["AOPS"].level.name == "overfill.automatic"


def test_over_midnight_and_after_days() -> None:
    assert clocks((CLOCK, 'clock: "23:40"')) == [
        "23:56",
        "00:00, 1 day later",
        "00:03, 1 day later",
        "00:06, 1 day later",
    ]
    # 0.8 m * pi m2 / 0.02 m3/h = 125.66 h: 5 days, 5 h and 39 min after 14:30
    assert clocks((RATE, "fill_rate_now: 0.02 m3/h"))[0] == "20:09, 5 days later"
    assert clocks((CLOCK, 'clock: "0:05"'))[0] == "00:21"


def test_the_minute_is_cut_off_not_rounded() -> None:
    """H after 16.755 min is told as 16 min: a minute too early does no harm."""
    late = clocks((CLOCK, 'clock: "00:00"'))
    assert late == ["00:16", "00:20", "00:23", "00:26"]


def test_a_level_that_is_passed_has_no_time_of_day() -> None:
    found = forecasts(solvent(("{value: 1650 mm", "{value: 2700 mm")))
    assert (found["H"].clock, found["HH"].clock) == ("", "")
    assert (found["H"].time.value or 0.0) < 0.0
    assert (found["HH"].time.value or 0.0) < 0.0
    close(found["CH"].time.value, 0.2 * pi / 9.0 * 3600.0, 1e-6, ROUNDING)
    assert found["CH"].clock == "14:34"


def test_without_a_clock_the_times_alone_without_a_rate_nothing() -> None:
    assert clocks((f"  {CLOCK}\n", "")) == ["", "", "", ""]
    assert all(each.time.known for each in forecasts(solvent((f"  {CLOCK}\n", ""))).values())
    assert forecasts(solvent((f"  {RATE}\n", ""))) == {}
    assert forecasts(solvent(("{value: 1650 mm, within: 0.5 mm}", "unknown"))) == {}


@pytest.mark.parametrize("rate", ["0 m3/h", "-3 m3/h"])
def test_a_rate_that_fills_nothing_is_refused(rate: str) -> None:
    study = solvent((RATE, f"fill_rate_now: {rate}"))
    assert [fault.path for fault in study.faults] == ["overfill.fill_rate_now"]
    assert forecasts(study) == {}


@pytest.mark.parametrize("clock", ["25:00", "14:60", "14.30", "half past two"[:5], "1430", "14:3"])
def test_a_time_of_day_that_is_none_is_a_fault(clock: str) -> None:
    study = solvent((CLOCK, f'clock: "{clock}"'))
    assert [fault.path for fault in study.faults] == ["overfill.clock"]
    assert study.order == "blocked"


# ---------------------------------------------------------------- to critical high, at the highest rate


def test_times_to_critical_high_in_a_vessel_of_one_section() -> None:
    """At 12 m3/h; from HH 250 mm * pi m2 / 12 m3/h = 3.927 min."""
    study = solvent()
    found = {each.name: each for each in study.safe.overfill.passings}
    assert set(found) == {"LL", "L", "H", "HH", "AOPS", "MW"}
    levels = {**LEVELS_M, "MW": number(study, "overfill.working")}
    for name, each in found.items():
        close(each.time.value, (2.900 - levels[name]) * pi / 12.0 * 3600.0, 1e-6, ROUNDING)


def test_the_time_from_hh_as_set_is_never_shorter_than_the_response() -> None:
    study = solvent()
    found = {each.name: each.time.value or 0.0 for each in study.safe.overfill.passings}
    assert found["HH"] >= number(study, "overfill.response_time")
    assert found["AOPS"] >= 30.0


def test_time_to_critical_high_in_a_dished_head() -> None:
    """HH 2717.3 mm and CH 2900 mm lie in the torispherical head (crown 1600 mm, knuckle 160 mm): midpoint sums."""
    study = study_with(example=WITH_ISOLATOR)
    (hh,) = study.safe.overfill.passings
    top, begin = number(study, "vessel.inside_height"), number(study, "overfill.high_high")
    count = 200_000
    step = (2.900 - begin) / count
    heights = begin + step * (np.arange(count) + 0.5)
    volume = float(np.sum(pi * _radius_squared_m2(top - heights)) * step)
    close(hh.time.value, volume / (1.2 / 3600.0), 1e-3, "midpoint sums of 200 000 sections; a millisecond")
    assert (hh.time.value or 0.0) > 900.0


def _radius_squared_m2(below_crown_m: np.ndarray) -> np.ndarray:
    """Section of the torispherical head by the distance below its inside crown: sphere, then knuckle."""
    crown, knuckle, half = 1.6, 0.16, 0.8
    depth = crown - np.sqrt((crown - knuckle) ** 2 - (half - knuckle) ** 2)
    joint = crown - crown * np.sqrt(1.0 - ((half - knuckle) / (crown - knuckle)) ** 2)
    sphere = 2.0 * crown * below_crown_m - below_crown_m**2
    ring = half - knuckle + np.sqrt(np.maximum(knuckle**2 - (depth - below_crown_m) ** 2, 0.0))
    inside = np.where(below_crown_m < joint, sphere, ring**2)
    return np.where(below_crown_m > depth, half**2, inside)
