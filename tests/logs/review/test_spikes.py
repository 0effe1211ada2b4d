"""Readings that leave and come back: several within a day, one alone, one above HH, one at the end of the signal."""

from __future__ import annotations

import numpy as np
import pytest

from onedatum.data import table
from onedatum.foundation.moments import clock
from onedatum.logs.review.finding import Finding, Judged
from onedatum.logs.review.limits import TABLE, setting
from onedatum.physics.detection import shewhart_run_length
from soak.tanks import DAY_s, Drawn, NOISE_m, START_s, drawn, reviewed

SEED = 20260419
NIGHT_h = 3.0
"""No movement of these logs lies there."""


def struck(days: float, size_m: float, places: list[float]) -> Drawn:
    """A log with readings off at three in the night of some days."""
    log = drawn(SEED, days)
    shown = log.shown_m.copy()
    for day in places:
        shown[int((day * 24.0 + NIGHT_h) * 60.0)] += size_m
    return log.told(shown_m=shown, dips=())


def spikes_of(judged: Judged) -> list[Finding]:
    return [each for each in judged.findings if each.kind == "spikes"]


def about_single(judged: Judged) -> list[str]:
    return [each for each in judged.notes if "single reading" in each]


def test_single_readings_days_apart_are_one_finding_with_their_number_and_times() -> None:
    """Put in: 101 mm on six nights, each two days after the last, in noise of 0.5 mm."""
    judged, _ = reviewed(struck(14.0, 0.101, [1.0, 3.0, 5.0, 7.0, 9.0, 11.0]))
    [found] = spikes_of(judged)
    assert found.said.startswith("6 single readings")
    assert found.sizes[0].value == pytest.approx(0.101, abs=4.0 * NOISE_m)
    assert found.from_us == round((START_s + DAY_s + NIGHT_h * 3600.0) * 1e6)
    assert found.to_us == round((START_s + 11.0 * DAY_s + NIGHT_h * 3600.0) * 1e6)
    assert {each.kind for each in judged.findings} == {"spikes"}


def test_the_rate_told_is_no_less_than_that_of_its_limit_under_normal_noise() -> None:
    """At six standard deviations, the most for which a run length is worked, one row in 5.07e8: 0.001 a year."""
    [found] = spikes_of(reviewed(struck(5.0, 0.05, [2.0]))[0])
    rows_a_year = 365.25 * 1440.0
    assert found.false_alarms.per_year == pytest.approx(rows_a_year / float(shewhart_run_length(6.0, 0.0)), rel=1e-6)
    assert setting("lone_spike_limit") > 6.0 * 1.1


@pytest.mark.parametrize("size_m", [0.006, 0.015])
def test_one_that_matters_little_is_a_note_with_size_and_time(size_m: float) -> None:
    """Twelve and thirty standard deviations, both below the 20 mm of the table."""
    assert size_m < table(TABLE)["settings"]["lone_spike_m"]["value"]
    judged, _ = reviewed(struck(5.0, size_m, [2.0]))
    assert not judged.findings
    [note] = about_single(judged)
    assert note.startswith("1 single reading")
    assert clock(round((START_s + 2.0 * DAY_s + NIGHT_h * 3600.0) * 1e6)) in note


def test_a_sound_log_says_nothing_of_single_readings() -> None:
    judged, _ = reviewed(struck(14.0, 0.0, []))
    assert not judged.findings
    assert not about_single(judged)


def test_a_movement_of_few_rows_is_no_spike() -> None:
    """Filled by 60 mm in three minutes and emptied so an hour later, at night: no reading comes back at once."""
    log = drawn(SEED, 5.0)
    minutes = np.arange(len(log.time_s)) - (2.0 * 24.0 + NIGHT_h) * 60.0
    bump = 0.06 * (np.clip(minutes / 3.0, 0.0, 1.0) - np.clip((minutes - 60.0) / 3.0, 0.0, 1.0))
    judged, _ = reviewed(log.told(shown_m=log.shown_m + bump, dips=()))
    assert not spikes_of(judged)
    assert not about_single(judged)


def test_one_above_high_high_is_told_with_its_time() -> None:
    """HH may stand at 2.717 m at most in the example; the tank is at 0.55 m to 2.0 m."""
    log = struck(5.0, 0.0, [])
    shown = log.shown_m.copy()
    place = int((2.0 * 24.0 + NIGHT_h) * 60.0)
    shown[place] = 2.75
    judged, bench = reviewed(log.told(shown_m=shown))
    assert bench.tank.high_high_m == pytest.approx(2.717, abs=5e-4)
    [note] = about_single(judged)
    assert "above the highest place of HH, which is not set, 2.717 m: 2.750 m" in note
    assert clock(round((START_s + 60.0 * place) * 1e6)) in note
    assert len(spikes_of(judged)) == 1


def test_one_row_at_the_end_of_the_signal_far_from_its_neighbours_is_told() -> None:
    """20.49 mA is where the current may stop; the level is then that or higher, here 2.88 m by 100 mm to 2800 mm."""
    log = struck(5.0, 0.0, [])
    current = 4.0 + 16.0 * (log.shown_m - 0.1) / 2.7
    place = int((2.0 * 24.0 + NIGHT_h) * 60.0)
    current[place] = 20.49
    judged, _ = reviewed(log.told(value_mA=current))
    [found] = spikes_of(judged)
    assert found.sizes[0].value == pytest.approx(0.1 + 2.7 * 16.49 / 16.0 - log.shown_m[place], abs=0.01)
    assert "2.883 m or farther" in about_single(judged)[0]
