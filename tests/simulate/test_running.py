"""A tank that runs: its level against the straight line, its current against the definition of 4 to 20 mA, its noise
against statistics, its faults against what they are."""

from __future__ import annotations

from math import inf, nan, sqrt

import numpy as np
import pytest

from onedatum.foundation.errors import QuantityError
from onedatum.simulate import Held, Leg, Profile, Put, Running, possible_m, steady_cycle
from tests.simulate.instruments import FLOAT, LEGS, PROBE, instrument, studied

FILL = Profile(0.5, (Leg(1200.0, 2.4),))


def running(example: str = FLOAT, profile: Profile = FILL, noise_m: float = 0.0, seed: int = 1) -> Running:
    return Running(instrument(example), profile, studied(example).safe.bands, seed, noise_m)


def linear_mA(level_m: float) -> float:
    """4 mA at 0.1 m, 20 mA at 2.8 m: the range that the case states; IEC 60381-1, 4 to 20 mA."""
    return 4.0 + 16.0 * (level_m - 0.1) / 2.7


def test_the_level_follows_the_line_and_the_current_the_range() -> None:
    """1.9 m in 20 min."""
    tank = running()
    for time_s in (0.0, 100.0, 600.0, 1200.0, 9000.0):
        level_m = min(0.5 + 1.9 * time_s / 1200.0, 2.4)
        moment = tank.at(time_s)
        assert moment.level_m == pytest.approx(level_m, abs=1e-12)
        assert 1000.0 * moment.current_A == pytest.approx(linear_mA(level_m), abs=1e-9)
        assert (moment.shown_m, moment.told_m) == pytest.approx((level_m, level_m), abs=1e-9)
        assert (moment.state, moment.is_bound, moment.is_held) == ("measuring", False, False)


def test_the_value_is_renewed_in_even_steps() -> None:
    tank = running()
    assert tank.at(600.2) == tank.at(600.49) != tank.at(600.5)
    assert tank.at(600.49).time_s == 600.0
    assert tank.at(-1.0) == tank.at(0.0)


def test_a_cycle_comes_back_and_knows_its_way_and_its_highest_level() -> None:
    cycle = steady_cycle(instrument(FLOAT), 100.0, 50.0)
    low_m, high_m = 0.1 + 0.1 * 2.7, 0.1 + 0.9 * 2.7
    told = [cycle.level_m(time_s) for time_s in (0.0, 50.0, 120.0, 200.0, 275.0, 300.0, 350.0)]
    middle_m = (low_m + high_m) / 2
    assert told == pytest.approx([low_m, middle_m, high_m, middle_m, low_m, low_m, middle_m])
    assert [cycle.is_rising(time_s) for time_s in (0.0, 120.0, 200.0, 275.0, 310.0)] == [True, True, False, False, True]
    assert [cycle.highest_m(time_s) for time_s in (0.0, 50.0, 290.0, 310.0)] == pytest.approx(
        [low_m, middle_m, high_m, high_m]
    )


def test_noise_has_its_spread_and_its_seed() -> None:
    """Mean and standard deviation of 400 independent steps at rest, within four standard errors of each."""
    tank, count = running(profile=Profile(1.5), noise_m=0.002), 400
    shown_m = np.array([tank.at(0.5 * step).shown_m for step in range(count)], dtype=float)
    assert abs(shown_m.mean() - 1.5) < 4 * 0.002 / sqrt(count)
    assert abs(shown_m.std() - 0.002) < 4 * 0.002 / sqrt(2 * count)
    assert abs(np.corrcoef(shown_m[1:], shown_m[:-1])[0, 1]) < 4 / sqrt(count)
    same, other = (running(profile=Profile(1.5), noise_m=0.002, seed=seed) for seed in (1, 2))
    assert same.at(77.0) == tank.at(77.0) != other.at(77.0)


def test_faults_come_grow_and_go() -> None:
    tank = running(profile=Profile(1.5))
    tank.faults = [Put("datum", 0.05, 100.0, 100.0, 50.0), Put("datum", 0.01, 150.0)]
    told = [tank.at(time_s).told_m for time_s in (99.5, 100.0, 125.0, 150.0, 199.5, 200.0)]
    assert told == pytest.approx([1.5, 1.5, 1.525, 1.56, 1.56, 1.51])


def test_a_float_sticks_where_it_is_and_a_current_is_held() -> None:
    """NE 43: 3.6 mA is failure information; without a current nothing can be told."""
    tank = running()
    tank.faults = [Put("stuck", None, 300.0, 300.0), Held(0.0036, 700.0, 50.0), Held(0.0, 800.0, 50.0)]
    assert tank.at(550.0).told_m == pytest.approx(0.5 + 1.9 / 4) and tank.at(600.0).told_m == pytest.approx(1.45)
    failed, broken = tank.at(700.0), tank.at(800.0)
    assert (failed.state, failed.told_m, failed.shown_m, failed.is_held) == ("failure_low", None, None, True)
    assert (broken.is_broken, broken.current_A, failed.is_broken) == (True, 0.0, False)
    assert tank.at(750.0).is_measuring and tank.at(850.0).is_measuring


def test_the_current_stops_at_the_ends_of_the_measurement_information() -> None:
    """NE 43: 3.8 and 20.5 mA; 20.5 mA would be 2.884 m, and 3.8 mA 66 mm: a datum 0.2 m off goes below."""
    tank = running(profile=Profile(0.2, (Leg(1000.0, 2.95),)))
    tank.faults = [Put("datum", -0.2, 0.0, 100.0)]
    low, middle, high = (tank.at(time_s) for time_s in (0.0, 500.0, 1000.0))
    assert (low.current_A, high.current_A) == pytest.approx((0.0038, 0.0205))
    assert (low.is_bound, middle.is_bound, high.is_bound) == (True, False, True)


@pytest.mark.parametrize("example", [FLOAT, PROBE, LEGS])
def test_every_kind_of_instrument_runs(example: str) -> None:
    """Each is sound, so what is shown is the true level, within 0.1 % of the span."""
    own = instrument(example)
    tank = running(example, steady_cycle(own, 600.0, 60.0))
    for time_s in (0.0, 300.0, 900.0):
        moment = tank.at(time_s)
        assert moment.is_measuring
        assert moment.shown_m == pytest.approx(moment.level_m, abs=0.001 * abs(own.upper_m - own.lower_m))
    assert "milliammeter" not in tank.kinds and "zero" in tank.kinds


def test_what_cannot_be_is_refused() -> None:
    low_m, high_m = possible_m(instrument(FLOAT))
    for profile in (Profile(low_m - 0.01), Profile(1.0, (Leg(10.0, high_m + 0.01),))):
        with pytest.raises(QuantityError, match="inside the vessel"):
            running(profile=profile)
    for duration_s in (0.0, -1.0, inf, nan):
        with pytest.raises(QuantityError):
            lasting(duration_s)
    for noise_m in (-0.001, inf, nan):
        with pytest.raises(QuantityError):
            running(noise_m=noise_m)
    with pytest.raises(QuantityError):
        Profile(nan)


def lasting(duration_s: float) -> Profile:
    return Profile(1.0, (Leg(duration_s, 1.1),))
