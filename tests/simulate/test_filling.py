"""A tank that fills and empties, and noise: against geometry, the balance of volumes and statistics."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from onedatum.foundation.errors import QuantityError
from onedatum.physics.vessels import Body, box
from onedatum.proving.causes import stated_priors
from onedatum.simulate import Readings, Step, filled, instrument_of, read, shown
from tests.simulate.instruments import FLOAT, PROBE, instrument, levels, state, studied
from tests.study.tanks import tank, upright


def body() -> Body:
    found = instrument(FLOAT).body
    assert found is not None
    return found


def test_a_box_rises_by_flow_over_area() -> None:
    """3 m by 2 m: 0.006 m3/s is 1 mm/s."""
    found = filled(box(3.0, 2.0, 1.5), 0.5, [Step(100.0, 0.006), Step(100.0, 0.0, 0.003)], 10.0)
    assert found.level_m[[0, 10, 20]] == pytest.approx([0.5, 0.6, 0.55])
    assert found.time_s[-1] == 200.0


def test_volume_is_what_flowed_in_less_what_flowed_out_in_a_tank_with_heads() -> None:
    steps = [Step(3600.0, 3e-4), Step(1800.0), Step(3600.0, 1e-4, 5e-4)]
    found = filled(body(), 1.0, steps, 60.0)
    flowed = np.cumsum((found.inflow_m3_per_s - found.outflow_m3_per_s)[:-1] * 60.0)
    assert found.volume_m3[1:] - found.volume_m3[0] == pytest.approx(flowed, abs=1e-9)
    assert body().volume_below_m3(found.level_m) == pytest.approx(found.volume_m3, abs=1e-9)


def test_a_full_tank_takes_no_more_and_an_empty_one_gives_none() -> None:
    whole = 3.0 * 2.0 * 1.5
    over = filled(box(3.0, 2.0, 1.5), 1.4, [Step(1000.0, 0.006)], 10.0)
    under = filled(box(3.0, 2.0, 1.5), 0.1, [Step(1000.0, 0.0, 0.006)], 10.0)
    assert over.volume_m3.max() == pytest.approx(whole) and over.inflow_m3_per_s[-2] == pytest.approx(0.0)
    assert under.volume_m3.min() == pytest.approx(0.0) and under.outflow_m3_per_s[-2] == pytest.approx(0.0)


def test_a_float_that_sticks_in_time_holds_its_current_and_jumps_free() -> None:
    found = filled(body(), 0.5, [Step(7200.0, 5e-4)], 60.0)
    sound, stuck = shown(instrument(FLOAT), found), shown(instrument(FLOAT), found, stuck_s=[(1200.0, 3600.0)])
    held = (found.time_s >= 1200.0) & (found.time_s < 3600.0)
    assert np.ptp(stuck.current_A[held]) == 0.0
    assert np.ptp(sound.current_A[held]) > 1e-3
    assert stuck.current_A[~held] == pytest.approx(sound.current_A[~held], abs=1e-15)


def test_a_film_shows_while_the_tank_empties_and_a_high_level_saturates() -> None:
    own = instrument(PROBE)
    assert own.body is not None
    found = filled(own.body, 0.3, [Step(3600.0, 2.5e-3), Step(3600.0, 0.0, 1.5e-3), Step(1800.0)], 60.0)
    off_m = shown(own, found, {"film": 2e-4}).told_m - found.level_m
    rising = found.time_s < 3500.0
    assert np.abs(off_m[rising]).max() < 1e-9
    assert off_m[-1] > 0.1  # at rest after emptying it stays
    high = filled(own.body, 2.1, [Step(3600.0, 2.5e-3)], 60.0)
    assert shown(own, high).current_A.max() == pytest.approx(0.0205)


@pytest.mark.parametrize(
    ("steps", "start_m", "interval_s", "words"),
    [
        ([], 0.5, 1.0, "one step or more"),
        ([Step(10.0, -1.0)], 0.5, 1.0, "flows of 0 m3/s or more"),
        ([Step(10.0, float("nan"))], 0.5, 1.0, "flows of 0 m3/s or more"),
        ([Step(0.0)], 0.5, 1.0, "a duration above 0 s"),
        ([Step(10.0)], 9.0, 1.0, "from 0 m to 1.5 m"),
        ([Step(10.0)], 0.5, 0.0, "an interval above 0 s"),
        ([Step(10.0)], 0.5, float("nan"), "an interval above 0 s"),
        ([Step(1e9)], 0.5, 1e-3, "at most"),
    ],
)
def test_a_plan_that_cannot_be_is_refused(steps: Sequence[Step], start_m: float, interval_s: float, words: str) -> None:
    with pytest.raises(QuantityError, match=words):
        filled(box(3.0, 2.0, 1.5), start_m, steps, interval_s)


def test_a_seed_gives_the_same_readings_and_noise_of_the_stated_size() -> None:
    spread = replace(stated_priors().spread, offset_m=1e-12, slope=1e-12)
    where = state(FLOAT, np.full(4000, levels(FLOAT, 0.5)[0]))

    def once(seed: int) -> Readings:
        return read(instrument(FLOAT), where, spread, np.random.default_rng(seed))

    found = once(7)
    assert found.current_A == pytest.approx(once(7).current_A, abs=0.0)
    assert np.abs(found.current_A - once(8).current_A).max() > 0.0
    # The standard deviation of 4000 draws lies within 1/sqrt(2*4000) = 1.1 % of the true one; four times that is held.
    for name, standard in (("dip_m", spread.dip_m), ("current_A", spread.current_A), ("supply_V", spread.supply_V)):
        assert np.std(getattr(found, name)) == pytest.approx(standard, rel=0.045)


def test_a_channel_that_is_not_asked_for_was_not_read() -> None:
    where = state(FLOAT, levels(FLOAT, 0.5))
    found = read(instrument(FLOAT), where, stated_priors().spread, np.random.default_rng(1), channels=["current_A"])
    assert np.isfinite(found.current_A).all() and np.isnan(found.voltage_V).all() and np.isnan(found.shown_m).all()


def test_a_case_that_cannot_tell_what_its_sensor_feels_has_no_instrument() -> None:
    assert instrument_of(tank(upright())) is None
    assert instrument_of(studied(FLOAT)) is not None
