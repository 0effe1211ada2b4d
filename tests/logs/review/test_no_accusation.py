"""What is no fault of a gauge though it looks like one, and beside it what is: detectors on simulated logs."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import numpy as np
import pytest

from onedatum.case.reading import read_case_text
from onedatum.foundation.numerics import Reals
from onedatum.jobs.review import tank_of
from onedatum.logs.converter import Converter
from onedatum.logs.review.judge import judge
from onedatum.study.study import study
from soak.tanks import CASE, DAY_s, Drawn, drawn, made, reviewed

SEED = 20260417
HOUR_s = 3600


def kinds_of(log: Drawn) -> set[str]:
    return {each.kind for each in reviewed(log)[0].findings}


def alone(shown_m: Reals, interval_s: int) -> Drawn:
    """Levels without dips and movements."""
    log = drawn(SEED, len(shown_m) * interval_s / DAY_s, interval_s)
    return log.told(shown_m=shown_m, dips=(), movements=())


def noise(count: int) -> Reals:
    return 5e-4 * np.random.default_rng(SEED).standard_normal(count)


# ---------------------------------------------------------------- a tank without a table


def test_movements_beside_a_tank_without_a_table_are_said_to_be_unjudged() -> None:
    _, bench = reviewed(drawn(SEED, 20.0))
    bare = replace(bench, tank=replace(bench.tank, levels_m=np.zeros(0), volumes_m3=np.zeros(0)))
    judged = judge(bare)
    assert any(each.startswith("No tank table") for each in judged.unjudged)
    assert not judged.findings


def test_the_vessel_tells_volumes_where_the_case_asks_for_the_level_alone() -> None:
    """An upright cylinder of 1.8 m: pi/4 of the square of its bore, times the height."""
    text = (CASE.parent / "oil_over_water.yaml").read_text(encoding="utf-8")
    asked = text.replace("of: volume at the reference temperature\n  U: 1 %value\n  k: 2", "of: level")
    assert asked != text
    start, end = asked.index("table: {"), asked.index("overfill:")
    found = study(read_case_text(asked[:start] + asked[end:], "level.yaml", CASE.parent))
    tank = tank_of(found, Converter.of([found], made()[1].mapping))
    assert "quantity.table_volume" not in found.sheet
    assert float(tank.volume_m3(2.0) - tank.volume_m3(1.0)) == pytest.approx(pi / 4.0 * 1.8**2, rel=1e-6)


# ---------------------------------------------------------------- a line that is the day


@pytest.mark.parametrize(("period_h", "told"), [(24.0, False), (12.0, False), (5.3, True)])
def test_the_wave_of_the_day_is_no_hum_and_another_line_is(period_h: float, told: bool) -> None:
    """2 mm of warmth in a tank at rest, a row an hour; the sun has a period of 24 h, and half of it by its shape."""
    hours = np.arange(120 * 24)
    shown = 1.2 + 0.002 * np.sin(2.0 * np.pi * hours / period_h) + noise(len(hours))
    assert ("hum" in kinds_of(alone(shown, HOUR_s))) is told


def test_a_line_is_told_with_its_own_frequency_and_amplitude() -> None:
    """Put in: 2 mm at 0.0031 Hz, between two frequencies of the spectrum of 128 rows a minute apart."""
    seconds = 60.0 * np.arange(10 * 1440)
    judged, _ = reviewed(alone(1.2 + 0.002 * np.sin(2.0 * np.pi * 0.0031 * seconds) + noise(len(seconds)), 60))
    found = next(each for each in judged.findings if each.kind == "hum")
    assert found.sizes[0].value == pytest.approx(0.002, rel=0.02)
    assert found.sizes[1].value == pytest.approx(0.0031, abs=5e-6)
    assert "0.00310 Hz" in found.said or "0.003100 Hz" in found.said


def test_which_periods_a_hum_is_looked_for_in_is_said() -> None:
    """Of 128 rows a minute apart: two rows, and a fourth of all."""
    [said] = [each for each in reviewed(alone(1.2 + noise(5 * 1440), 60))[0].unjudged if each.startswith("A hum")]
    assert "from 120 s to 1920 s" in said


@pytest.mark.parametrize(("wave_m", "told"), [(0.0, False), (0.01, True)])
def test_a_level_that_never_rests_between_its_movements_is_said(wave_m: float, told: bool) -> None:
    """10 mm with a period of 77 min, slower than any hum that is looked for: nothing is found, and nothing hidden."""
    log = drawn(SEED, 12.0)
    wave = wave_m * np.sin(2.0 * np.pi * log.time_s / 4620.0)
    judged, bench = reviewed(log.told(shown_m=log.shown_m + wave, dips=()))
    assert any("keeps the level from resting" in each for each in judged.unjudged) is told
    assert bool(np.mean(bench.resting) < 0.2) is told


def test_rows_an_hour_apart_are_not_called_a_long_log() -> None:
    said = " ".join(reviewed(drawn(SEED, 60.0, HOUR_s))[0].unjudged)
    assert "Rows stand so far apart" in said
    assert "so long" not in said


# ---------------------------------------------------------------- a jump that is none


def ramps(count: int, rise_m: float, rows: int) -> Reals:
    """Movements, one in six hours at a row a minute: up and down in turn, in so many rows."""
    level = np.full(count, 1.2)
    for number, start in enumerate(range(180, count - 400, 360)):
        way = 1.0 if number % 2 == 0 else -1.0
        level += way * rise_m * np.clip((np.arange(count) - start) / rows, 0.0, 1.0)
    return level


def test_a_spike_within_a_movement_is_no_step() -> None:
    """12 mm a minute for 40 min, one reading in it 80 mm too low: the level goes on as if it had not been."""
    count = 20 * 1440
    shown = ramps(count, 0.48, 40) + noise(count)
    shown[180 + 360 * 20 + 20] -= 0.080
    found = kinds_of(alone(shown, 60))
    assert "step" not in found


def test_short_movements_that_nobody_booked_are_no_steps_and_a_larger_jump_is() -> None:
    """Movements of 12 mm a minute, and three of 14 mm that last a minute; a jump of 80 mm is quicker than any."""
    count = 20 * 1440
    shown = ramps(count, 0.48, 40) + noise(count)
    for place in (4000, 11_000, 19_000):
        shown[place:] += 0.014
    judged, _ = reviewed(alone(shown, 60))
    assert "step" not in {each.kind for each in judged.findings}
    assert any("cannot be told from short movements" in each for each in judged.unjudged)
    shown[15_000:] += 0.080
    steps = [each for each in reviewed(alone(shown, 60))[0].findings if each.kind == "step"]
    assert [round(each.sizes[0].value, 2) for each in steps] == [0.08]


def test_many_movements_of_a_minute_are_a_habit_up_to_the_largest_and_a_far_larger_jump_is_told() -> None:
    """A batch each two hours in one row or two, of 4 mm to 16 mm, up and down: blocks of half an hour smear them."""
    random = np.random.default_rng(SEED)
    count = 20 * 1440
    shown = np.full(count, 1.2)
    for number, start in enumerate(range(60, count - 60, 120)):
        size = random.uniform(0.004, 0.016) * (1.0 if number % 2 else -1.0)
        shown += size * np.clip((np.arange(count) - start) / random.uniform(0.9, 2.0), 0.0, 1.0)
    shown += noise(count)
    assert "step" not in kinds_of(alone(shown, 60))
    shown[15_030:] += 0.060
    steps = [each for each in reviewed(alone(shown, 60))[0].findings if each.kind == "step"]
    assert [round(each.sizes[0].value, 2) for each in steps] == [0.06]


def test_a_jump_of_a_tank_that_rests_is_told_without_movements() -> None:
    count = 20 * 1440
    shown = 1.2 + noise(count)
    shown[15_000:] += 0.012
    assert "step" in kinds_of(alone(shown, 60))


# ---------------------------------------------------------------- what follows from another finding


def test_dips_held_against_another_hour_accuse_no_gauge() -> None:
    """Three hours ahead from day 20 on: dips soon after a movement meet the level before it."""
    log = drawn(SEED, 50.0)
    ahead = log.told(time_s=log.time_s + np.where(log.time_s > 20.0 * DAY_s + 1000.0, 3.0 * HOUR_s, 0.0))
    judged, _ = reviewed(ahead.told(movements=()))
    assert {each.kind for each in judged.findings} == {"clock_forward"}
    assert any(each.startswith("Dips left out, as the clock") for each in judged.notes)


def test_a_bias_is_told_by_dips_at_rest_though_the_clock_is_in_doubt() -> None:
    log = drawn(SEED, 50.0)
    ahead = log.told(time_s=log.time_s + np.where(log.time_s > 20.0 * DAY_s + 1000.0, float(HOUR_s), 0.0))
    high = ahead.told(shown_m=ahead.shown_m + 0.012, movements=())
    assert {"clock_forward", "bias"} == kinds_of(high)


def test_a_reading_at_the_end_of_the_signal_is_no_movement_that_was_not_booked() -> None:
    """The stock is not told while the reading stands at its end, so no balance is cut there."""
    log = drawn(SEED, 40.0)
    shown = np.where(log.time_s > 15.0 * DAY_s, np.minimum(log.shown_m, 0.9 + log.noise_m), log.shown_m)
    judged, _ = reviewed(log.told(shown_m=shown, dips=()))
    found = [each.kind for each in judged.findings]
    assert "saturation" in found and "unbooked" not in found
