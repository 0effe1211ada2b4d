"""Detectors on simulated logs, a few of each kind; the proof in soak/ has more of them.

A log ends as long after the onset of its fault as the table of signatures allows, or longer.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from scipy.signal import lfilter

from onedatum.data import table
from onedatum.foundation.moments import YEAR_s
from onedatum.foundation.numerics import Reals
from onedatum.jobs.review import tank_of
from onedatum.logs.review.bench import Bench, cuts_of
from onedatum.logs.review.charts import shifts
from onedatum.logs.review.finding import Finding, Judged
from onedatum.logs.review.limits import TABLE, kinds
from onedatum.physics.detection import cusum_run_length
from soak.tank_faults import FAULTS, made_volume
from soak.tanks import DAY_s, Drawn, START_s, drawn, made, reviewed

SEED = 20260415
SOUND_DAYS = 22.0


@cache
def sound() -> tuple[Judged, Bench]:
    """A sound log of a month."""
    return reviewed(drawn(SEED, 30.0))


@cache
def with_fault(key: str) -> list[Finding]:
    """The findings of one log with a fault put in."""
    onset_s = SOUND_DAYS * DAY_s
    log = drawn(SEED, (onset_s + kinds()[key].delay_s) / DAY_s)
    judged, _ = reviewed(FAULTS[key][0](log, onset_s, np.random.default_rng(SEED)))
    return judged.findings


def one(findings: list[Finding], kind: str) -> Finding:
    found = [each for each in findings if each.kind == kind]
    assert len(found) == 1, [each.kind for each in findings]
    return found[0]


def still(shown_m: Reals, beside: bool = False) -> Drawn:
    """A log of other levels, without dips or movements."""
    log = drawn(SEED, len(shown_m) * 60.0 / DAY_s)
    return log.told(shown_m=shown_m) if beside else log.told(shown_m=shown_m, dips=(), movements=())


# ---------------------------------------------------------------- what is found


def test_every_signature_has_a_simulated_fault() -> None:
    assert set(kinds()) == set(FAULTS)


def test_a_sound_log_shows_nothing() -> None:
    assert [each.kind for each in sound()[0].findings] == []


@pytest.mark.parametrize(
    ("key", "size", "within"),
    [
        ("step", 0.010, 0.002),
        ("drift", 5e-4, 2e-4),
        ("film", 0.008, 0.002),
        ("hum", 1e-3, 5e-4),
        ("clock_lag", 3600.0, 1000.0),
    ],
)
def test_the_size_is_that_put_in(key: str, size: float, within: float) -> None:
    """Sizes as the table states them; 60 s of a lag is the length of half a block."""
    assert abs(abs(one(with_fault(key), key).sizes[0].value) - size) < within


def test_a_reading_held_is_told_with_the_time_it_stands() -> None:
    found = one(with_fault("stuck"), "stuck")
    assert found.sizes[1].value == pytest.approx(3600.0, abs=120.0)


def test_a_float_held_while_its_noise_goes_on_does_not_answer_movements() -> None:
    log = drawn(SEED, 25.0)
    held = log.time_s >= SOUND_DAYS * DAY_s
    level = np.where(held, log.true_m[int(np.argmax(held))], log.true_m) + log.noise_m
    found = reviewed(log.told(shown_m=level))[0].findings
    stuck = next(each for each in found if each.kind == "stuck")
    assert stuck.statistic.name == "change over what was due"


def test_a_leak_is_told_in_litres_with_the_local_rules_first() -> None:
    found = one(with_fault("leak"), "leak")
    assert found.sizes[0].value * DAY_s == pytest.approx(0.0055, abs=0.002)
    assert "local rules" in found.of.next_check


def test_a_meter_is_told_with_its_share() -> None:
    found = one(with_fault("meter"), "meter")
    assert abs(found.sizes[0].value) == pytest.approx(0.02, abs=0.006)


@pytest.mark.parametrize("key", ["wire_break", "failure_current", "saturation", "clock_back", "clock_forward", "gaps"])
def test_what_knows_no_chance_is_told_alone(key: str) -> None:
    assert {each.kind for each in with_fault(key)} == {key}


def shifted(log: Drawn, minutes: Reals) -> list[Finding]:
    """The findings of a log whose clock is off by so many minutes in each row."""
    return reviewed(log.told(time_s=log.time_s + 60.0 * minutes))[0].findings


def test_a_clock_set_by_less_than_a_block_shows_in_its_movements_and_accuses_no_gauge() -> None:
    """25 min in blocks of 30 min: half the flow is over at the middle of an even movement, whatever the block."""
    log = drawn(SEED, 35.0)
    found = shifted(log, np.where(log.time_s > 20.0 * DAY_s, 25.0, 0.0))
    assert {each.kind for each in found} == {"clock_lag"}
    assert one(found, "clock_lag").sizes[0].value == pytest.approx(1500.0, abs=60.0)
    assert one(found, "clock_lag").from_us == pytest.approx((START_s + 20.0 * DAY_s) * 1e6, abs=2.0 * DAY_s * 1e6)


def test_a_clock_that_loses_seconds_a_day_is_told_with_its_rate() -> None:
    log = drawn(SEED, 35.0)
    found = one(shifted(log, -0.5 * log.time_s / DAY_s), "clock_lag")
    assert found.sizes[0].value == pytest.approx(-0.5 * 35.0 * 60.0, abs=120.0)
    assert "more and more" in found.said and "s a day" in found.said


def test_a_meter_beyond_its_class_is_told_by_what_is_beyond_and_one_within_it_never() -> None:
    """Movements within 0.3 %: a meter off by 1.2 % is four times that; off by 0.25 % it is what it may be."""
    log, onset_us = drawn(SEED, 45.0), (START_s + 5.0 * DAY_s) * 1e6
    for off, told in ((0.012, True), (0.0025, False)):
        movements = tuple(
            replace(each, volume_m3=each.volume_m3 * (1.0 - off * (each.volume_m3 < 0.0 and each.from_us > onset_us)))
            for each in log.movements
        )
        kinds_found = {each.kind for each in reviewed(log.told(movements=movements))[0].findings}
        assert ("meter" in kinds_found) is told


def test_one_reading_that_is_off_is_one_finding_of_two_balances() -> None:
    """50 mm for eight hours about a cut: the balance before is off by it, that after as much to the other side."""
    log = drawn(SEED, 25.0)
    cut_s = cuts_of(log.movements)[10] / 1e6 - START_s
    shown = log.shown_m + 0.05 * (np.abs(log.time_s - cut_s) < 3600.0)
    found = [each for each in reviewed(log.told(shown_m=shown))[0].findings if each.kind == "unbooked"]
    assert len(found) == 1
    assert found[0].sizes[1].value == pytest.approx(0.05, abs=0.01)


def test_a_cap_on_the_reading_is_an_end_of_the_signal() -> None:
    """The reading follows below 1 m and stands there above."""
    log = drawn(SEED, 40.0)
    shown = np.where(log.time_s > 15.0 * DAY_s, np.minimum(log.shown_m, 1.0 + log.noise_m), log.shown_m)
    found = reviewed(log.told(shown_m=shown, dips=()))[0].findings
    assert one(found, "saturation").sizes[0].value == pytest.approx(1.0, abs=0.005)
    assert not [each for each in found if each.kind == "stuck"]


def test_waves_of_an_inflow_are_no_spikes() -> None:
    """Normal waves of 3 mm while something moves: five standard deviations of them are seven of the noise at rest."""
    log = drawn(SEED, 25.0)
    moves = np.abs(np.gradient(log.true_m)) > 1e-4
    shown = log.shown_m + 0.003 * np.random.default_rng(SEED).standard_normal(len(log.time_s)) * moves
    assert "spikes" not in {each.kind for each in reviewed(log.told(shown_m=shown))[0].findings}


def test_the_least_loss_told_is_stated_and_holds() -> None:
    """A loss of twice what the note of the sound log states is found; the sound log shows none."""
    note = next(each for each in sound()[0].notes if each.startswith("No loss"))
    least_L = float(note.split("nine times in ten from ")[1].split(" L")[0])
    log = drawn(SEED, 30.0)
    per_day = 2e-3 * least_L
    volumes = made_volume(log) - per_day * log.time_s / DAY_s
    found, converter = made()
    lost = tank_of(found, converter).level_m(volumes) - log.true_m
    kinds_found = {each.kind for each in reviewed(log.told(shown_m=log.shown_m + lost, dips=()))[0].findings}
    assert "leak" in kinds_found


def test_rows_set_aside_are_told_first() -> None:
    log = drawn(SEED, 10.0)
    shown = log.shown_m.copy()
    shown[::7] = np.nan
    said = reviewed(log.told(shown_m=shown))[0].notes
    aside = len(shown[::7])
    assert said[0].startswith("Set aside, the value is") and said[0].endswith(f": {aside} rows.")
    assert "rejects.csv" in said[1]


# ---------------------------------------------------------------- what is not


QUIET = np.full(30 * 1440, 1.234)
NIGHT = (np.arange(30 * 1440) // 60) % 24 < 7


@pytest.mark.parametrize(
    "shown",
    [
        QUIET,
        QUIET + 5e-4 * np.random.default_rng(1).standard_normal(len(QUIET)),
        QUIET + 5e-4 * np.random.default_rng(2).standard_normal(len(QUIET)) * ~NIGHT,
    ],
    ids=["one value for a month", "at rest with noise", "still at night alone"],
)
def test_a_tank_that_rests_is_not_stuck(shown: Reals) -> None:
    found = reviewed(still(shown))[0].findings
    assert [each.kind for each in found if each.kind == "stuck"] == []


def test_rows_an_hour_apart_show_nothing_that_is_none() -> None:
    judged, _ = reviewed(drawn(SEED + 1, 120.0, 3600))
    assert [each.kind for each in judged.findings] == []


def test_what_cannot_be_judged_is_named() -> None:
    log = drawn(SEED, 10.0).told(dips=(), movements=())
    said = " ".join(reviewed(log)[0].unjudged)
    for word in ("No dips", "No movements", "no current"):
        assert word in said


def test_movements_off_by_an_hour_accuse_nobody() -> None:
    found = with_fault("clock_lag")
    assert {each.kind for each in found} == {"clock_lag"}


# ---------------------------------------------------------------- what is said of chance


def test_the_rate_of_a_chart_is_that_of_its_exact_run_length() -> None:
    """The limit is set for the wanted rate, and the rate told is the year over the run length of that limit."""
    random = np.random.default_rng(SEED)
    values = random.standard_normal(400)
    values[300:] += 3.0
    [shift] = shifts(values, 3600.0, 0.05, 120)
    assert shift.is_up
    assert 300 <= shift.onset <= 302
    assert shift.rate.per_year == pytest.approx(0.05, rel=1e-3)
    length = float(cusum_run_length(0.5 + 2.0 / np.sqrt(120), shift.limit, 0.0))
    assert shift.rate.per_year == pytest.approx(YEAR_s / 3600.0 / length, rel=1e-6)
    assert shift.sum_reached > shift.limit


@pytest.mark.parametrize(("phi", "count", "reference"), [(0.0, 200, 60), (0.5, 500, 150), (0.9, 200, 60)])
def test_charts_of_sound_series_alarm_no_more_often_than_they_say(phi: float, count: int, reference: int) -> None:
    """Simulated: with half an alarm wanted in each series, 39 % of them alarm by Poisson's law; no more may.

    Few values make a correlation too small by (1 + 3 phi)/n (Kendall 1954, from memory): without it 72 % of the series
    with 0.9 alarmed.
    """
    random = np.random.default_rng(SEED)
    found = 0
    for _ in range(200):
        values = lfilter([1.0], [1.0, -phi], random.standard_normal(count + 200))[200:]
        found += bool(shifts(values, 3600.0, 0.5 * YEAR_s / 3600.0 / (count - reference), reference))
    assert 20 <= found <= 79


def test_every_signature_says_delay_ceiling_and_why() -> None:
    for key, row in table(TABLE)["kinds"].items():
        kind = kinds()[key]
        assert kind.delay_s > 0.0
        assert kind.ceiling_per_year >= 0.0
        assert kind.competing
        assert kind.next_check
        assert row["why"]
        assert row.get("wanted_per_year", 0.0) <= kind.ceiling_per_year


def test_a_finding_lists_what_it_is_not_told_apart_from() -> None:
    """Offset-like causes share a group with the ranking of causes: density, float, datum, zero."""
    [words] = [kinds()["bias"].alike]
    assert len(words) == 5
    finding = replace(one(with_fault("bias"), "bias"), more=("first",))
    assert finding.competing[0] == "first"
    assert set(words) <= set(finding.competing)
