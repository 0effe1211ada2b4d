"""Histories: the balance of masses, the spread of a sound log, each fault against a law that is not its own code."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from time import process_time

import numpy as np
import pytest
from numpy.typing import NDArray

from onedatum.foundation.errors import OutputError, QuantityError
from onedatum.foundation.moments import DAY_s, HOUR_s
from onedatum.foundation.numerics import Reals
from onedatum.logs.mapping import read_mapping
from onedatum.simulate.history import (
    Hands,
    History,
    Life,
    Plan,
    Reading,
    Record,
    Trouble,
    history,
    written,
)
from onedatum.simulate.history.writing import log_text
from tests.simulate.instruments import FLOAT, LEGS, PROBE, instrument, studied

Where = NDArray[np.bool_]
LIFE = Life(1.1, 0.35, 2.6, (0.6, 1.6), (1.0, 3.8), (2e-4, 4e-4), (1e-3, 2e-3), (1800.0, 8 * HOUR_s))
PROBE_LIFE = Life(1.4, 0.3, 2.15, (4.0, 7.0), (0.2, 0.9), (2.5e-3, 3e-3), (1e-4, 4e-4), (1800.0, 8 * HOUR_s))
STILL = Reading(sensor_m=0.0, receiver_A=0.0, waves_m=0.0)
"""No noise of any kind."""
RAW = Record(60.0, "mA", 1e-9)
SOUND = Plan(5, 8 * DAY_s, LIFE, record=RAW)
QUIET = replace(SOUND, reading=STILL)
HALF_s = 4 * DAY_s


@cache
def of(plan: Plan, case: str = FLOAT) -> History:
    """One history, made once."""
    return history(studied(case), plan)


def with_troubles(*troubles: Trouble, plan: Plan = QUIET, case: str = FLOAT) -> History:
    return of(replace(plan, troubles=troubles), case)


def told_m(found: History) -> Reals:
    """The level by the range of the case, as a receiver would work it."""
    own = found.instrument
    return own.lower_m + (found.received_A - 0.004) / 0.016 * (own.upper_m - own.lower_m)


def within_range(found: History) -> Where:
    level_m = found.tank.level_m
    inside = (level_m > found.instrument.lower_m + 0.05) & (level_m < found.instrument.upper_m - 0.15)
    return np.asarray(inside, dtype=bool)


def after(found: History, start_s: float = HALF_s) -> Where:
    return (found.tank.time_s >= start_s) & within_range(found)


# ---------------------------------------------------------------- the tank


@pytest.mark.parametrize("leak", [0.0, 2e-6])
def test_mass_in_less_mass_out_and_lost_is_what_the_tank_gained(leak: float) -> None:
    """Conservation of mass, each batch weighed by the density of the sheet at the temperatures it was moved at."""
    troubles = (Trouble("leak", DAY_s, leak),) if leak else ()
    found = with_troubles(*troubles)
    tank, gained_kg = found.tank, 0.0
    for move in tank.moves:
        ends_K = np.interp((move.start_s, move.end_s), tank.time_s, tank.temperature_K)
        gained_kg += move.volume_m3 * float(found.vessel.density_kg_per_m3(ends_K).mean())
    assert len(tank.moves) > 10 and {move.volume_m3 > 0.0 for move in tank.moves} == {True, False}
    # Ends in place of the mean over a batch: below 1e-4 of the mass for the few tenths of a kelvin of an hour.
    moved_kg = sum(abs(move.volume_m3) for move in tank.moves) * 900.0
    assert tank.mass_kg[-1] - tank.mass_kg[0] == pytest.approx(gained_kg - tank.leaked_kg[-1], abs=1e-5 * moved_kg)
    assert (tank.leaked_kg[-1] > 0.0) == bool(leak)


def test_levels_hold_the_volume_by_the_table_and_stay_within_the_vessel() -> None:
    """The table of the case, the shell grown by its factor at the temperature: 1 + 2*16e-6/K, twice the wall's."""
    found = of(QUIET)
    body, tank = found.instrument.body, found.tank
    assert body is not None
    shell = (1.0 + 16e-6 * (tank.temperature_K - 293.15)) ** 2
    held_m3 = np.asarray(body.volume_below_m3(tank.level_m)) * shell
    assert held_m3 == pytest.approx(tank.volume_m3, abs=1e-6)
    assert tank.level_m.min() >= LIFE.low_m - 0.01 and tank.level_m.max() <= LIFE.high_m + 0.01


def test_a_leak_follows_torricelli() -> None:
    """Twice the root of the head, twice the flow: over a span of rest the root of the head falls on a straight line."""
    life = replace(LIFE, pause_s=(30 * DAY_s, 31 * DAY_s), start_m=2.4, season_K=0.0, day_K=0.0, weather_K=0.0)
    found = with_troubles(Trouble("leak", 0.0, 2.5e-6), plan=replace(QUIET, life=life))
    straight = (found.tank.level_m > 0.6) & (found.tank.level_m < 2.3)
    root = np.sqrt(found.tank.level_m[straight])
    # In a cylinder d(sqrt h)/dt = -q0/(2*A*sqrt(h0)); A of 1.6 m.
    slope = np.polyfit(found.tank.time_s[straight], root, 1)[0]
    assert slope == pytest.approx(-2.5e-6 / (2.0 * np.pi * 0.8**2 * np.sqrt(2.4)), rel=2e-3)
    assert straight.sum() > 1000


def test_warmth_moves_the_level_of_a_tank_at_rest() -> None:
    """A mass of spirit fills more when warm: about 8e-4 to 9e-4 per kelvin (OIML R 22 at 68 %vol: 895.39 to 890.48)."""
    life = replace(LIFE, pause_s=(30 * DAY_s, 31 * DAY_s))
    tank = of(replace(QUIET, life=life)).tank
    slope = np.polyfit(tank.temperature_K, np.log(tank.volume_m3), 1)[0]
    assert slope == pytest.approx(np.log(895.3898 / 890.4751) / 6.0, rel=0.04)


# ---------------------------------------------------------------- a sound log


def test_a_sound_log_has_the_stated_noise_at_rest_and_that_of_the_waves_while_filling() -> None:
    reading = Reading(sensor_m=0.002, receiver_A=3e-6, waves_m=0.004)
    found = of(replace(SOUND, reading=reading))
    off_m = told_m(found) - told_m(of(QUIET))
    rest, fills = (found.tank.flow == 0) & within_range(found), (found.tank.flow > 0) & within_range(found)
    receiver_m = 3e-6 / 0.016 * 2.7
    own_m = np.hypot(0.002, receiver_m)
    # The standard deviation of n draws lies within 1/sqrt(2n) of the true one; four times that is held.
    for where, stated_m in ((rest, own_m), (fills, np.hypot(own_m, 0.004))):
        assert np.std(off_m[where]) == pytest.approx(stated_m, rel=4.0 / np.sqrt(2.0 * where.sum()))
    assert fills.sum() > 500 and abs(off_m[rest].mean()) < 4.0 * own_m / np.sqrt(rest.sum())


def test_dips_and_meters_err_as_stated() -> None:
    hands = Hands(dip_every_s=4 * HOUR_s, dip_m=0.002, rest_s=600.0, meter=0.0, repeat=0.01)
    life = replace(LIFE, pause_s=(1800.0, 3 * HOUR_s))
    found = of(replace(QUIET, hands=hands, life=life, duration_s=40 * DAY_s, record=replace(RAW, interval_s=300.0)))
    true_m = np.interp([dip.time_s for dip in found.dips], found.tank.time_s, found.tank.level_m)
    off_m = np.array([dip.level_m for dip in found.dips]) - true_m
    assert len(off_m) > 100
    assert np.std(off_m) == pytest.approx(0.002, rel=4.0 / np.sqrt(2.0 * len(off_m)))
    off = [book.volume_m3 / move.volume_m3 - 1.0 for book, move in zip(found.booked, found.tank.moves, strict=True)]
    assert len(off) > 100 and np.std(off) == pytest.approx(0.01, rel=4.0 / np.sqrt(2.0 * len(off)))


def test_the_same_seed_writes_the_same_bytes_and_a_fault_leaves_tank_and_noise_as_they_were(tmp_path: Path) -> None:
    for name in ("one", "other"):
        written(history(studied(FLOAT), SOUND), tmp_path / name)
    files = sorted(path.relative_to(tmp_path / "one") for path in (tmp_path / "one").rglob("*.*"))
    assert [str(file) for file in files] == "case.yaml dips.csv log.csv map.yaml movements.csv truth/truth.json".split()
    assert all((tmp_path / "one" / file).read_bytes() == (tmp_path / "other" / file).read_bytes() for file in files)
    shifted = told_m(with_troubles(Trouble("datum", HALF_s, 0.01), plan=SOUND)) - told_m(of(SOUND))
    where = after(of(SOUND))
    assert shifted[where] == pytest.approx(np.full(where.sum(), 0.01), abs=1e-12)
    assert np.ptp(told_m(of(replace(SOUND, seed=6))) - told_m(of(SOUND))) > 0.1


def test_a_month_at_ten_seconds_takes_less_than_a_second() -> None:
    instrument(FLOAT)
    plan = replace(SOUND, duration_s=30 * DAY_s, record=Record(10.0))
    start_s = process_time()
    found = history(studied(FLOAT), plan)
    took_s = process_time() - start_s
    assert len(found.recorded.which) == 259_201 and took_s < 1.0


# ---------------------------------------------------------------- faults of float, probe and taps


def test_a_float_that_sticks_is_held_and_jumps_free() -> None:
    found = with_troubles(Trouble("stuck", HALF_s, until_s=HALF_s + 12 * HOUR_s))
    held = (found.tank.time_s >= HALF_s) & (found.tank.time_s < HALF_s + 12 * HOUR_s)
    assert np.ptp(found.tank.level_m[held]) > 0.1
    assert np.ptp(told_m(found)[held]) < 5e-4  # the density alone still moves it
    assert told_m(found)[~held] == pytest.approx(told_m(of(QUIET))[~held], abs=1e-12)


def test_a_float_that_takes_up_liquid_sinks_by_its_mass_over_density_and_section() -> None:
    """Archimedes: dm/(rho*A), the ring between 52.5 mm and 16 mm; mass 72 g, growing evenly over three days."""
    found = with_troubles(Trouble("float_mass", DAY_s, 0.1, grows_s=3 * DAY_s))
    fell_m = told_m(of(QUIET)) - told_m(found)
    density = found.vessel.density_kg_per_m3(found.tank.temperature_K)
    section_m2 = np.pi / 4.0 * (0.0525**2 - 0.016**2)
    grown = np.clip((found.tank.time_s - DAY_s) / (3 * DAY_s), 0.0, 1.0)
    where = within_range(found)
    sinks_m = 0.0072 * grown / (section_m2 * (density - 1.2))
    assert fell_m[where] == pytest.approx(sinks_m[where], rel=1e-3, abs=1e-9)


def test_a_heavier_liquid_lifts_the_float() -> None:
    """Archimedes: m/(A*rho) less m/(A*rho*1.05); the gas, a thousandth of the liquid, is left out."""
    found = with_troubles(Trouble("density", HALF_s, 0.05))
    where = after(found)
    density = found.vessel.density_kg_per_m3(found.tank.temperature_K)[where]
    section_m2 = np.pi / 4.0 * (0.0525**2 - 0.016**2)
    rises_m = 0.072 / (section_m2 * density) * (1.0 - 1.0 / 1.05)
    assert (told_m(found) - told_m(of(QUIET)))[where] == pytest.approx(rises_m, rel=5e-3)


def test_a_denser_liquid_between_two_taps_reads_high_in_proportion() -> None:
    """Pascal's law: the level over the lower tap and the liquid in the lower leg both weigh more than is set for."""
    life = Life(1.2, 0.3, 2.2, (2.0, 6.0), (1.0, 4.0), (1e-3, 2e-3), (3e-4, 1e-3), (1800.0, 9 * HOUR_s), section_m2=6.0)
    quiet = replace(QUIET, life=life, hands=Hands(), duration_s=4 * DAY_s)
    found, sound = with_troubles(Trouble("density", 2 * DAY_s, 0.02), plan=quiet, case=LEGS), of(quiet, LEGS)
    where = after(found, 2 * DAY_s)
    slope, _ = np.polyfit(found.tank.level_m[where], (told_m(found) - told_m(sound))[where], 1)
    # Density over density less gas: 1020/(1020 - 2.9), and the temperature of the tank by 5.5e-4/K.
    assert slope == pytest.approx(0.02 * 1020.0 / (1020.0 - 2.9), rel=1e-2)
    assert not found.booked and found.vessel.stands_in


def test_a_film_shows_on_emptying_and_not_on_filling() -> None:
    """A line of film resistance and coating capacitance, solved by complex numbers: Y = sqrt(iwC/R)*tanh(l*sqrt(iwCR)).

    The loss is taken off: what is left is the imaginary part less the real one, over wC.
    """
    quiet = replace(QUIET, life=PROBE_LIFE)
    found, sound = with_troubles(Trouble("film", 0.0, 1e-5), plan=quiet, case=PROBE), of(quiet, PROBE)
    off_m, tank = told_m(found) - told_m(sound), found.tank
    omega, coating = 2.0 * np.pi * 1e5, 2.0 * np.pi * 8.8541878128e-12 * 2.1 / np.log(14.0 / 10.0)
    resistance = 1.0 / (20.0 * np.pi * ((0.007 + 1e-5) ** 2 - 0.007**2))
    length_m = np.maximum.accumulate(tank.level_m) - tank.level_m
    root = np.sqrt(1j * omega * coating * resistance)
    line = np.sqrt(1j * omega * coating / resistance) * np.tanh(length_m * root)
    left_m = (line.imag - line.real) / (omega * coating)
    falls, rises = (tank.is_rising == 0.0) & within_range(found), (tank.is_rising == 1.0) & within_range(found)
    assert off_m[falls] == pytest.approx(left_m[falls], rel=2e-3, abs=1e-5) and off_m[falls].max() > 0.002
    assert off_m[rises] == pytest.approx(np.zeros(rises.sum()), abs=1e-12)


def test_a_range_set_anew_is_off_in_proportion_to_the_level() -> None:
    """Two points: at 4 mA nothing, at the former 20 mA level span*(1 - span/(span + d))."""
    found = with_troubles(Trouble("upper", HALF_s, 0.06))
    where, off_m = after(found), told_m(found) - told_m(of(QUIET))
    level_m = told_m(of(QUIET))[where]
    assert off_m[where] == pytest.approx((level_m - 0.1) * (2.7 / 2.76 - 1.0), abs=1e-9)


# ---------------------------------------------------------------- faults of line and receiver


def test_electronics_that_drift_shift_the_current_evenly() -> None:
    found = with_troubles(Trouble("zero", DAY_s, 50e-6, grows_s=5 * DAY_s))
    where = within_range(found)
    drift_A = 10e-6 * np.clip(found.tank.time_s / DAY_s - 1.0, 0.0, 5.0)
    assert (found.received_A - of(QUIET).received_A)[where] == pytest.approx(drift_A[where], abs=1e-12)


def test_a_receiver_scaled_for_another_range_writes_levels_off_in_proportion() -> None:
    """Two points: at 4 mA nothing, at 20 mA the share of the span; a record in mA would not show it and is refused."""
    record = Record(QUIET.record.interval_s, "mm", 0.001)
    sound = of(replace(QUIET, record=record))
    found = with_troubles(Trouble("receiver", HALF_s, 0.006), plan=replace(QUIET, record=record))
    rows = after(found)
    off_m = (found.recorded.value - sound.recorded.value)[rows] * 1e-3
    assert off_m == pytest.approx(0.006 * (sound.recorded.value[rows] * 1e-3 - 0.1), abs=2e-6)
    with pytest.raises(QuantityError, match="a record in mm or m; got mA"):
        with_troubles(Trouble("receiver", HALF_s, 0.006))


def test_a_resistance_in_the_loop_ends_the_current_by_ohms_law() -> None:
    """Supply less barrier diodes less the least voltage of the transmitter, over all resistance of the loop."""
    found = with_troubles(Trouble("load", HALF_s, 300.0))
    loop, where = found.instrument.loop, found.tank.time_s >= HALF_s
    assert loop.supply_V is not None and loop.least_V is not None and loop.resistance_ohm is not None
    most_A = (loop.supply_V - loop.least_V) / (loop.resistance_ohm + 300.0)
    assert found.received_A[where] == pytest.approx(np.minimum(of(QUIET).received_A[where], most_A))
    assert np.isclose(found.received_A[where], most_A).any() and found.received_A[where].min() < most_A


def test_a_level_beyond_the_range_saturates_and_a_clamped_record_ends_at_the_span() -> None:
    """20.5 mA (NE 43): 2.4 m lies above the 2.2 m of 20 mA by a tenth of the span."""
    life = replace(PROBE_LIFE, high_m=2.41, start_m=2.4, pause_s=(30 * DAY_s, 31 * DAY_s))
    plan = replace(QUIET, life=life, duration_s=DAY_s)
    assert of(plan, PROBE).received_A == pytest.approx(np.full(1441, 0.0205))
    clamped = of(replace(plan, record=Record(60.0, "%", 0.01, clamped=True)), PROBE)
    assert clamped.recorded.value == pytest.approx(np.full(1441, 100.0))


def test_a_broken_core_gives_no_current_and_a_loose_one_now_and_then() -> None:
    end_s = HALF_s + 2400.0
    broken = with_troubles(Trouble("break", HALF_s, until_s=end_s))
    gone = (broken.tank.time_s >= HALF_s) & (broken.tank.time_s < end_s)
    assert (broken.received_A[gone] == 0.0).all() and (broken.received_A[~gone] >= 0.0038).all()
    plan = replace(QUIET, record=replace(RAW, interval_s=10.0))
    loose, sound = with_troubles(Trouble("contact", HALF_s, 0.05), plan=plan), of(plan)
    off = loose.received_A < sound.received_A - 1e-12
    share = off[loose.tank.time_s >= HALF_s].mean()
    # Half as long as a mean opening apart, n readings hold about n/4 independent ones: 5 % within four deviations.
    assert share == pytest.approx(0.05, abs=4.0 * np.sqrt(0.05 * 0.95 / (34560 / 4)))
    assert not off[loose.tank.time_s < HALF_s].any()
    # Open by 2 kohm or more: 12 V at most over it leave 6 mA.
    assert loose.received_A[off].max() < 12.0 / 2000.0


def test_a_frozen_record_repeats_to_the_last_bit_while_a_stuck_float_keeps_its_noise() -> None:
    span = {"until_s": HALF_s + 9 * HOUR_s}
    frozen = with_troubles(Trouble("frozen", HALF_s, **span), plan=SOUND)
    stuck = with_troubles(Trouble("stuck", HALF_s, **span), plan=SOUND)
    held = (frozen.tank.time_s >= HALF_s) & (frozen.tank.time_s < HALF_s + 9 * HOUR_s)
    assert np.ptp(frozen.received_A[held]) == 0.0
    # 540 readings of 0.3 mm, 1.8 uA.
    own_A = np.hypot(0.0003 / 2.7 * 0.016, 1e-6)
    assert np.std(np.diff(stuck.received_A[held])) == pytest.approx(own_A * np.sqrt(2.0), rel=0.15)


def test_noise_grows_and_a_damping_takes_it_away() -> None:
    """Independent readings behind a filter keep the root of a/(2 - a) of their spread, a = 1 - exp(-dt/tau)."""
    reading = replace(STILL, sensor_m=0.001)
    sound = replace(QUIET, reading=reading)
    rest = (of(sound).tank.flow == 0) & after(of(sound))
    near = 4.0 / np.sqrt(2.0 * rest.sum())
    louder = told_m(with_troubles(Trouble("noise", HALF_s, 2.0), plan=sound)) - told_m(of(QUIET))
    assert np.std(louder[rest]) == pytest.approx(0.003, rel=near)
    noise_m = told_m(of(sound)) - told_m(of(QUIET))
    damped = Trouble("damping", HALF_s, 120.0)
    calm = told_m(with_troubles(damped, plan=sound)) - told_m(with_troubles(damped))
    share = np.sqrt((1.0 - np.exp(-0.5)) / (1.0 + np.exp(-0.5)))
    assert np.std(calm[rest]) / np.std(noise_m[rest]) == pytest.approx(share, rel=0.1)


def test_a_damping_lags_a_filling_by_rate_times_time() -> None:
    """Behind a steady rate a filter in steps lags by its time constant, less half a step at most."""
    found, sound = with_troubles(Trouble("damping", 0.0, 600.0)), of(QUIET)
    rate_m_per_s = np.gradient(sound.tank.level_m, 60.0)
    long = np.array([move.end_s - 60.0 for move in found.tank.moves if 2400.0 < move.end_s - move.start_s < 2e5])
    lag_m = np.interp(long, sound.tank.time_s, told_m(sound) - told_m(found))
    rates = np.interp(long - 600.0, sound.tank.time_s, rate_m_per_s)
    assert len(long) > 5
    reached = 1.0 - np.exp(-(2400.0) / 600.0)
    assert (lag_m / rates > 0.85 * reached * 570.0).all() and (lag_m / rates < 1.05 * 600.0).all()


def test_spikes_meet_single_readings_as_often_and_as_high_as_stated() -> None:
    plan = replace(QUIET, reading=replace(STILL, spikes_per_s=100.0 / DAY_s))
    off_A = with_troubles(Trouble("spikes", HALF_s, 1e-4), plan=plan).received_A - of(QUIET).received_A
    hits = off_A[np.abs(off_A) > 1e-9]
    # Poisson: 400 expected, four deviations of 20; the mean of an exponential within four of its own over sqrt(n).
    assert abs(len(hits) - 400) < 80 and (hits > 0.0).any() and (hits < 0.0).any()
    assert np.abs(hits).mean() == pytest.approx(1e-4, rel=0.25)


def test_hum_shows_at_its_alias() -> None:
    """Sampling theorem: 50.03 Hz read every 7 s stands at |50.03 - round(50.03*7)/7| Hz."""
    reading = replace(STILL, mains_Hz=50.03, mains_wander_Hz=0.0)
    plan = replace(QUIET, reading=reading, record=replace(RAW, interval_s=7.0), duration_s=2 * DAY_s)
    off_A = with_troubles(Trouble("hum", 0.0, 2e-5), plan=plan).received_A - of(plan).received_A
    peak_Hz = np.fft.rfftfreq(len(off_A), 7.0)[int(np.argmax(np.abs(np.fft.rfft(off_A))))]
    assert peak_Hz == pytest.approx(abs(50.03 - round(50.03 * 7) / 7), abs=1.0 / (2 * DAY_s))
    assert np.std(off_A) == pytest.approx(2e-5 / np.sqrt(2.0), rel=0.01)


# ---------------------------------------------------------------- the record, its clock and the books


def test_a_meter_that_is_wrong_and_a_movement_that_is_not_booked() -> None:
    sound = of(QUIET)
    wrong = with_troubles(Trouble("meter_out", HALF_s, -0.02))
    ratios = [one.volume_m3 / other.volume_m3 for one, other in zip(wrong.booked, sound.booked, strict=True)]
    for ratio, book in zip(ratios, sound.booked, strict=True):
        late_out = book.start_s >= HALF_s and book.volume_m3 < 0.0
        # A litre of the last digit in 0.6 m3 or more is 0.17 %.
        assert ratio == pytest.approx(0.98 if late_out else 1.0, abs=0.0017)
    left = with_troubles(Trouble("unbooked", HALF_s, until_s=HALF_s + 2 * DAY_s))
    gone = set(sound.booked) - set(left.booked)
    assert gone and all(HALF_s - DAY_s < book.start_s < HALF_s + 2 * DAY_s for book in gone)


def test_counts_are_quantised_and_a_record_by_exception_is_never_off_by_more_than_its_band() -> None:
    counts = of(replace(SOUND, record=Record(60.0, "counts", 1.0))).recorded.value
    assert (counts == np.round(counts)).all()
    assert counts == pytest.approx(6400.0 + (of(SOUND).received_A - 0.004) / 0.016 * 25600.0, abs=0.5 + 1e-6)
    quarter = of(replace(SOUND, duration_s=DAY_s, record=Record(60.0, "mA", 0.25)))
    assert {text.rpartition(",")[0].rpartition(".")[2] for text in log_text(quarter).splitlines()[1:]} <= {
        "00",
        "25",
        "50",
        "75",
    }
    every = of(replace(SOUND, record=Record(60.0, "mm", 1.0)))
    some = of(replace(SOUND, record=Record(60.0, "mm", 1.0, band=5.0, longest_s=3600.0)))
    which = some.recorded.which
    last = np.maximum.accumulate(np.where(np.isin(np.arange(len(every.recorded.value)), which), np.arange(11521), 0))
    assert len(which) < 0.5 * 11521 and np.diff(which).max() <= 60
    assert np.abs(every.recorded.value - every.recorded.value[last]).max() <= 5.0


def rows_of(folder: Path) -> list[list[str]]:
    return [line.split(",") for line in (folder / "log.csv").read_text(encoding="utf-8").splitlines()[1:]]


@pytest.mark.parametrize(("day", "hour"), [(28, 1), (24, 1)])
def test_a_clock_that_follows_the_legal_time_leaves_out_an_hour_or_gives_one_twice(
    tmp_path: Path, day: int, hour: int
) -> None:
    """Directive 2000/84/EC: at 1:00 UTC on the last Sundays of March and October, 29 March and 25 October 2026."""
    start = datetime(2026, 3 if day == 28 else 10, day, tzinfo=UTC)
    record = Record(600.0, "mA", clock="utc")
    plan = replace(SOUND, start=start, duration_s=2 * DAY_s, record=record, troubles=(Trouble("daylight", 0.0),))
    texts = [row[0] for row in rows_of(written(of(plan), tmp_path / "log"))]
    change = f"{start.date().isoformat()[:-2]}{day + 1:02d}"
    at_2, at_0 = texts.count(f"{change}T{hour:02d}:10:00"), texts.count(f"{change}T00:10:00")
    assert (at_2, at_0) == ((0, 1) if day == 28 else (1, 2))
    assert len(texts) == 289 and read_mapping(tmp_path / "log" / "map.yaml").zone == "UTC"


def test_a_clock_that_runs_fast_and_one_that_is_set_wrong(tmp_path: Path) -> None:
    """1e-4 over 4 days is 34.56 s; the record says 7 minutes too much from then on."""
    drift = with_troubles(Trouble("clock_drift", HALF_s, 1e-4)).recorded.behind_s
    assert drift[-1] == pytest.approx(34.56) and drift[: 4 * 1440].max() == 0.0
    plan = replace(QUIET, duration_s=DAY_s, record=Record(60.0, "mm", 1.0, clock="utc"))
    jumped = replace(plan, troubles=(Trouble("clock_jump", HOUR_s, 420.0), Trouble("gap", 2 * HOUR_s, until_s=9e3)))
    texts = [row[0][11:] for row in rows_of(written(of(jumped), tmp_path / "log"))]
    assert texts[59:61] == ["00:59:00", "01:07:00"] and "02:06:00" in texts
    assert not any("02:07:00" <= text < "02:37:00" for text in texts)


def test_what_is_written_says_what_was_put_in_and_nothing_of_it_stands_beside_the_log(tmp_path: Path) -> None:
    trouble = Trouble("density", HALF_s, 0.0317)
    folder = written(with_troubles(trouble, plan=SOUND), tmp_path / "log")
    truth = json.loads((folder / "truth" / "truth.json").read_text(encoding="utf-8"))
    assert not truth["healthy"] and truth["faults"][0]["size"] == 0.0317
    assert truth["faults"][0]["from"] == "2026-03-06T00:00:00+00:00"
    handed = [path.read_text(encoding="utf-8") for path in folder.glob("*.*")]
    assert len(handed) == 5 and not any("0.0317" in text for text in handed)
    mapping = read_mapping(folder / "map.yaml")
    assert (mapping.time, mapping.value, mapping.unit, mapping.zone) == ("time", "current_mA", "mA", "in the text")
    first = rows_of(folder)[0]
    assert first[0] == "2026-03-02T01:00:00+01:00" and float(first[1]) == pytest.approx(
        1e3 * of(SOUND).received_A[0], abs=1e-5
    )
    with pytest.raises(OutputError, match="a place that can be written"):
        written(of(SOUND), folder / "log.csv")


# ---------------------------------------------------------------- what cannot be


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"seed": -1}, "a seed of 0 or more"),
        ({"duration_s": 0.0}, "above 0"),
        ({"duration_s": float("nan")}, "above 0"),
        ({"duration_s": 1e12}, "at most 5000000 readings"),
        ({"duration_s": 1e12, "record": Record(1e7)}, "at most ten years"),
        ({"life": replace(LIFE, pause_s=(1e-6, 1.0))}, "60 s or more"),
        ({"hands": Hands(dip_every_s=1e-9)}, "60 s or more"),
        ({"start": datetime(2026, 3, 2)}, "a start with its offset"),
        ({"record": Record(unit="inches")}, "one of mA, mm"),
        ({"record": Record(clock="sundial")}, "one of offset"),
        ({"record": Record(zone="Atlantis/West")}, "a time zone by its name"),
        ({"record": Record(step=0.0)}, "above 0"),
        ({"record": Record(counts=(5.0, 5.0))}, "two different numbers"),
        ({"reading": Reading(sensor_m=-1.0)}, "0 or more"),
        ({"reading": Reading(wave_period_s=0.0)}, "above 0"),
        ({"reading": Reading(contact_ohm=(5.0, 1.0))}, "two resistances in their order"),
        ({"life": replace(LIFE, in_m3=(2.0, 1.0))}, "two numbers in their order"),
        ({"life": replace(LIFE, low_m=2.7)}, "a lowest level below the highest"),
        ({"life": replace(LIFE, start_m=9.0)}, "from 0 m to 3.02008 m"),
        ({"life": replace(LIFE, start_m=3.019)}, "2 % of the vessel left free"),
        ({"life": replace(LIFE, high_m=3.019)}, "2 % of the vessel left free"),
        ({"life": replace(LIFE, section_m2=2.0)}, "no section of the vessel"),
        ({"troubles": (Trouble("gremlins", 0.0),)}, "one of density"),
        ({"troubles": (Trouble("film", 0.0, 1e-4),)}, "This instrument cannot have it"),
        ({"troubles": (Trouble("datum", 9 * DAY_s, 0.01),)}, "within the history"),
        ({"troubles": (Trouble("datum", DAY_s, 0.01, until_s=DAY_s),)}, "after the start"),
        ({"troubles": (Trouble("datum", DAY_s, 0.01, grows_s=-1.0),)}, "0 s or more"),
        ({"troubles": (Trouble("leak", DAY_s, -1.0),)}, "at least 0"),
        ({"troubles": (Trouble("datum", DAY_s),)}, "a size other than 0"),
        ({"troubles": (Trouble("break", DAY_s, 1.0),)}, "no size"),
        ({"troubles": (Trouble("contact", DAY_s, 0.95),)}, "at most 0.9"),
        ({"troubles": (Trouble("datum", DAY_s, float("inf")),)}, "a finite number"),
    ],
)
def test_a_plan_that_cannot_be_is_refused(change: dict[str, object], words: str) -> None:
    with pytest.raises(QuantityError, match=words):
        history(studied(FLOAT), replace(QUIET, **change))  # type: ignore[arg-type]


def test_a_case_without_a_vessel_needs_a_section() -> None:
    with pytest.raises(QuantityError, match="a section of the vessel"):
        history(studied(LEGS), replace(QUIET, life=replace(LIFE, high_m=2.2)))
