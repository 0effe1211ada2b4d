"""When an echo came: at the bound, without bias, and with the noise that simpler ways leave."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.stats import norm

from onedatum.foundation.errors import QuantityError
from onedatum.foundation.numerics import Reals
from onedatum.physics.echoes import (
    Line,
    Pulse,
    Ricker,
    RingDown,
    Sampling,
    Target,
    Window,
    by_matched_filter,
    by_threshold,
    by_zero_crossing,
    doublet_delay_bound_s,
    noisy_V,
    parabola_bias_m,
    received_V,
    ricker_delay_bound_s,
    ricker_energy_to_noise,
    wrong_peaks,
)
from tests.closeness import close
from tests.physics.echo_draws import (
    DOUBLET,
    MIDDLE,
    NS,
    RICKER,
    SAMPLING,
    SPEED,
    UM,
    arriving,
    chance,
    noisy,
)
from tests.reference import Case, case

RECORDS = 6000
AT_THE_BOUND = 0.96, 1.05
"""Spread over bound: 6000 records scatter by 0.9 %."""


def errors_s(pulse: Pulse, number: int) -> Reals:
    """Errors of the matched filter at 40 dB, arrivals anywhere between the samples."""
    random = chance(number)
    times = random.uniform(45e-6, 55e-6, RECORDS)
    found = by_matched_filter(noisy(times, 0.01, random, pulse), pulse, SAMPLING, (MIDDLE,), 0.3)
    return np.asarray(found.delays_s[:, 0] - times)


# ---------------------------------------------------------------- at the bound


def test_the_matched_filter_reaches_the_bound() -> None:
    """40 dB, 6000 records: at most 1.05 times the bound, which is the expected value; no bias."""
    stated = case("floats-F09")
    errors = errors_s(RICKER, 2)
    stated.check(float(np.std(errors)) / NS)
    assert AT_THE_BOUND[0] < np.std(errors) / ricker_delay_bound_s(0.01, 1.5e-6, 1e-7) <= AT_THE_BOUND[1]
    assert abs(np.mean(errors)) * SPEED < 0.3 * UM


def test_the_matched_filter_reaches_the_bound_of_the_doublet() -> None:
    errors = errors_s(DOUBLET, 3)
    assert AT_THE_BOUND[0] < np.std(errors) / doublet_delay_bound_s(0.01, 2e-6, 1e-7) <= AT_THE_BOUND[1]
    assert abs(np.mean(errors)) * SPEED < 0.5 * UM, "four times the scatter of the mean"


def test_single_precision_is_enough() -> None:
    random = chance(4)
    records = noisy(random.uniform(45e-6, 55e-6, 500), 0.01, random)
    fine = by_matched_filter(records, RICKER, SAMPLING, (MIDDLE,), 0.3)
    coarse = by_matched_filter(records.astype(np.float32), RICKER, SAMPLING, (MIDDLE,), 0.3)
    assert 0 < np.max(np.abs(fine.delays_s - coarse.delays_s)) * SPEED < 0.1 * UM


@pytest.mark.parametrize("count", [200, 201])
def test_coarse_samples_are_interpolated_first(count: int) -> None:
    """1.5 samples a width: the parabola alone would be 70 um off; left is its bias at six samples a width."""
    sampling = Sampling(1e6, count)
    times = np.linspace(80e-6, 120e-6, 1601)
    found = by_matched_filter(arriving(times, RICKER, sampling), RICKER, sampling, (Window(50, 150),), 0.3)
    left = float(np.abs(parabola_bias_m(SPEED, 1.5e-6, 1.5e-6 / 6, np.linspace(-0.5, 0.5, 201))).max())
    close(np.abs(found.delays_s[:, 0] - times).max() * SPEED, left, 0.05 * left, "bias of the parabola")


def test_coarse_samples_reach_the_bound_as_well() -> None:
    """1.5 samples a width: the form is kept by its samples, so the bound is that of the energy."""
    sampling, random = Sampling(1e6, 200), chance(7)
    times = random.uniform(90e-6, 110e-6, RECORDS)
    records = arriving(times, RICKER, sampling) + 0.01 * random.standard_normal((RECORDS, sampling.count))
    errors = by_matched_filter(records, RICKER, sampling, (Window(50, 150),), 0.3).delays_s[:, 0] - times
    assert AT_THE_BOUND[0] < np.std(errors) / ricker_delay_bound_s(0.01, 1.5e-6, 1e-6) <= AT_THE_BOUND[1]


# ---------------------------------------------------------------- laws


@settings(max_examples=25)
@given(
    shift=st.integers(-150, 150),
    height=st.floats(0.5, 100.0),
    polarity=st.sampled_from([1.0, -1.0]),
    seed=st.integers(0),
)
def test_an_echo_later_higher_or_turned_over_is_found_so(shift: int, height: float, polarity: float, seed: int) -> None:
    record = noisy([50.03e-6], 0.01, np.random.default_rng(seed))
    at = by_matched_filter(record, RICKER, SAMPLING, (Window(450, 550),), 0.3)
    there = Window(450 + shift, 550 + shift, polarity)
    later = by_matched_filter(polarity * height * np.roll(record, shift, axis=1), RICKER, SAMPLING, (there,), 0.3)
    close(later.delays_s - shift * 1e-7, at.delays_s, 1e-15, "rounding of the transforms")
    close(later.heights_V, polarity * height * at.heights_V, 1e-10 * height, "rounding of the transforms")


def test_samples_about_the_window_are_all_that_counts() -> None:
    """Filtered about each window, or the whole record at once: the same."""
    random = chance(8)
    records = noisy(random.uniform(45e-6, 55e-6, 50), 0.05, random) + noisy([80e-6], 0.0, random)
    two = Window(400, 600), Window(750, 850)
    apart = by_matched_filter(records, RICKER, SAMPLING, two, 0.3)
    whole = by_matched_filter(records, RICKER, SAMPLING, (*two, Window(0, 1000)), 0.3)
    close(apart.delays_s, whole.delays_s[:, :2], 1e-15, "rounding of the transforms")
    close(apart.heights_V, whole.heights_V[:, :2], 1e-9, "rounding of the transforms")


def test_one_record_and_records_of_whole_numbers_are_taken_too() -> None:
    record = np.round(1000 * arriving([50.03e-6])[0]).astype(np.int16)
    found = by_matched_filter(record, RICKER, SAMPLING, (MIDDLE,), 300.0)
    close(found.delays_s[0, 0], 50.03e-6, 1e-10, "rounded to a thousandth of the height")


# ---------------------------------------------------------------- what is no echo


def test_what_does_not_reach_the_threshold_is_not_taken() -> None:
    weak = 0.2 * arriving([50e-6])
    found = by_matched_filter(weak, RICKER, SAMPLING, (MIDDLE,), 0.3)
    assert np.isnan(found.delays_s).all() and np.isnan(found.heights_V).all()
    assert np.isfinite(by_matched_filter(weak, RICKER, SAMPLING, (MIDDLE,), 0.19).delays_s).all()


def test_the_flank_of_an_echo_beside_the_window_is_not_taken() -> None:
    """Where the lower echo is missing the upper one must not be taken for it."""
    record = arriving([50e-6])
    beside = by_matched_filter(record, RICKER, SAMPLING, (Window(503, 700), Window(300, 498)), 0.3)
    assert np.isnan(beside.delays_s).all()
    about = by_matched_filter(record, RICKER, SAMPLING, (Window(499, 502),), 0.3)
    close(about.delays_s[0, 0], 50e-6, 1e-12, "on a sample")


def test_an_echo_of_the_other_polarity_is_no_echo() -> None:
    found = by_matched_filter(-arriving([50e-6]), RICKER, SAMPLING, (Window(490, 510),), 0.3)
    assert np.isnan(found.delays_s).all()


@pytest.mark.parametrize("window", [Window(-1, 50), Window(900, 1001), Window(50, 52), Window(60, 50)])
def test_a_window_outside_the_record_is_refused(window: Window) -> None:
    record = arriving([50e-6])
    with pytest.raises(QuantityError, match="within the 1000 of the record"):
        by_matched_filter(record, RICKER, SAMPLING, (window,), 0.3)
    with pytest.raises(QuantityError, match="within the 1000 of the record"):
        by_threshold(record, SAMPLING, (window,), 0.3)
    with pytest.raises(QuantityError, match="within the 1000 of the record"):
        by_zero_crossing(record, RICKER, SAMPLING, (window,))


def wrong_share(energy_to_noise: float, number: int, records: int) -> float:
    """Share of wrong peaks in a search of 60 us."""
    noise = float(np.sqrt(ricker_energy_to_noise(1.0, 1.5e-6, 1e-7) / energy_to_noise))
    found = by_matched_filter(noisy(np.full(records, 50e-6), noise, chance(number)), RICKER, SAMPLING, (SEARCH,), -10.0)
    return float(np.mean(~(np.abs(found.delays_s[:, 0] - 50e-6) < 1.5e-6)))


SEARCH = Window(200, 800)


@pytest.mark.parametrize("row", [0, 1, 2])
def test_wrong_peaks_by_simulation(row: int) -> None:
    """The tabled shares, within four times the scatter of 4000 records."""
    facts, records = wrong_peaks(), 4000
    share = facts.share[row]
    scatter = np.sqrt(share * (1 - share) / records)
    assert abs(wrong_share(facts.energy_to_noise[row], 10 + row, records) - share) < 4 * scatter


@pytest.mark.parametrize("row", [1, 2])
def test_wrong_peaks_by_the_rate_of_upcrossings(row: int) -> None:
    """Rice's rate (from memory): filtered noise rises through x sqrt(2.5)/(2 pi sigma) exp(-x^2/2) times a second.

    Within three widths the flanks of the echo itself hold it down.
    """
    facts = wrong_peaks()
    height = np.sqrt(facts.energy_to_noise[row])
    searched = facts.search_s - 6 * 1.5e-6
    rate = np.sqrt(2.5) / (2 * np.pi * 1.5e-6)

    def missed(normal: float, other: float) -> float:
        """The top of the echo: its noise, and what its slope's noise adds."""
        top = np.hypot(max(height + normal, 0.0), other)
        return float(-np.expm1(-searched * rate * np.exp(-(top**2) / 2)))

    nodes, weights = np.polynomial.hermite_e.hermegauss(20)
    weights = weights / weights.sum()

    def over_noise(normal: float) -> float:
        over_slope = sum(w * missed(normal, float(x)) for x, w in zip(nodes, weights, strict=True))
        return float(over_slope * norm.pdf(normal))

    share, _ = quad(over_noise, -6, 6, limit=200)
    assert abs(share / facts.share[row] - 1) < 0.1, "crossings of filtered noise come in clusters"


# ---------------------------------------------------------------- two floats, end to end


def two_floats_errors_m(stated: Case, records: int) -> Reals:
    """Errors of the distances of two floats, with drive pulse, reflection and noise."""
    sampling, speed = Sampling(stated.value("fs"), 12_000), stated.value("v")
    line = Line(stated.value("L"), speed, stated.value("alpha"), stated.value("r_end"), 0.0)
    ring = RingDown(stated.value("ring_down_amplitude"), 150e3, stated.value("ring_down_decay"))
    places = np.array([stated.value("x1"), stated.value("x2")])
    pulse = Ricker(stated.value("sigma"))
    clean = received_V(line, [Target(x, stated.value("A")) for x in places], pulse, sampling, ring)
    middles = [round(x / speed * sampling.rate_Hz) for x in places]
    windows = tuple(Window(middle - 200, middle + 200) for middle in middles)
    random, block, errors = chance(6), 500, []
    for _ in range(records // block):
        noise = noisy_V(clean, stated.value("noise"), block, random)
        errors.append(by_matched_filter(noise, pulse, sampling, windows, 0.3).delays_s * speed - places)
    return np.concatenate(errors)


def test_two_floats_end_to_end() -> None:
    """At the bound, and without bias: the drive pulse and the reflection do not reach the windows."""
    stated = case("floats-F18b")
    errors = two_floats_errors_m(stated, 4000)
    stated.check(float(np.std(errors[:, 0])) / UM)
    assert np.abs(np.mean(errors, axis=0)).max() < 0.3 * UM
    for column, place in enumerate(("x1", "x2")):
        height = np.exp(-stated.value("alpha") * stated.value(place))
        bound = ricker_delay_bound_s(0.01 / height, stated.value("sigma"), 1e-7) * SPEED
        assert AT_THE_BOUND[0] < np.std(errors[:, column]) / bound <= AT_THE_BOUND[1]
