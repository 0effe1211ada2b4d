"""The record as it is received: images between the ends, drive pulse, mains, noise; and what a drawing takes of it."""

from __future__ import annotations

import numpy as np
import pytest

from onedatum.physics.echoes import (
    Line,
    Pickup,
    Ricker,
    RingDown,
    Sampling,
    Target,
    filtered_V,
    noisy_V,
    received_V,
)
from tests.closeness import close, exact
from tests.physics.echo_draws import RICKER, SAMPLING, SPEED, arriving, chance

QUIET = Line(1.0, SPEED, 0.0, 0.0, 0.0)


def test_images_of_a_record_come_when_and_as_high_as_they_should() -> None:
    """By hand: direct, off the end, and both again a round trip later with r_e r_h exp(-2 a L)."""
    line = Line(0.5, SPEED, 0.2, -0.3, 0.8)
    sampling = Sampling(1e8, 120_000)
    record = received_V(line, [Target(0.2, 1.0)], Ricker(0.5e-6), sampling, round_trips=1)
    trip = -0.3 * 0.8 * np.exp(-0.2 * 1.0)
    direct, off_end = np.exp(-0.2 * 0.2), -0.3 * np.exp(-0.2 * 0.8)
    for way, height in ((0.2, direct), (0.8, off_end), (1.2, trip * direct), (1.8, trip * off_end)):
        close(record[round(way / SPEED * 1e8)], height, 2e-4, "nearest sample")


def test_nothing_else_is_in_the_record() -> None:
    """Away from the images there is nothing."""
    line = Line(0.5, SPEED, 0.2, -0.3, 0.8)
    sampling = Sampling(1e7, 12_000)
    record = received_V(line, [Target(0.2, 1.0)], RICKER, sampling, round_trips=1)
    near = np.any([np.abs(sampling.times_s - way / SPEED) < 15e-6 for way in (0.2, 0.8, 1.2, 1.8)], axis=0)
    assert np.abs(record[~near]).max() < 1e-12 < np.abs(record[near]).max()


def test_records_add_up() -> None:
    """Drive pulse, mains and floats are each what they are alone, and polarity is the sign."""
    ring, mains = RingDown(2.0, 150e3, 4e-6), Pickup(0.1, 50.0)
    one, other = Target(0.1, 1.0), Target(0.2, -0.5)
    whole = received_V(QUIET, [one, other], RICKER, SAMPLING, ring, mains)
    times = SAMPLING.times_s
    parts = [
        received_V(QUIET, [one], RICKER, SAMPLING),
        -0.5 * received_V(QUIET, [Target(0.2, 1.0)], RICKER, SAMPLING),
        2.0 * np.exp(-times / 4e-6) * np.cos(2 * np.pi * 150e3 * times),
        0.1 * np.sin(2 * np.pi * 50.0 * times),
    ]
    close(whole, np.sum(parts, axis=0), 1e-14, "rounding")


def test_noise_is_white_and_as_strong_as_stated() -> None:
    noise = noisy_V(np.zeros(500), 0.02, 2000, chance(20))
    close(np.std(noise), 0.02, 1e-4, "a million values: 0.07 %, seven times that")
    neighbours = float(np.mean(noise[:, 1:] * noise[:, :-1])) / 0.02**2
    assert abs(neighbours) < 0.005, "a million products: 0.001, five times that"


def test_every_record_has_noise_of_its_own_and_the_seed_repeats_it() -> None:
    first, again = (noisy_V(np.zeros(50), 1.0, 2, chance(21)) for _ in range(2))
    exact(first, again)
    assert not np.array_equal(first[0], first[1])


# ---------------------------------------------------------------- for a drawing


def test_the_filtered_record_is_the_correlation() -> None:
    record = received_V(Line(1.0, SPEED, 0.0, 0.1, 0.0), [Target(0.14, 0.7)], RICKER, SAMPLING)
    form = RICKER.values(np.linspace(-15e-6, 15e-6, 301))
    plain = np.correlate(record, form, mode="same")
    close(filtered_V(record, RICKER, SAMPLING), plain / np.sum(form**2), 1e-12, "correlation in time, end to end")


@pytest.mark.parametrize("count", [999, 1000])
def test_a_pulse_at_one_end_is_not_seen_at_the_other(count: int) -> None:
    sampling = Sampling(1e7, count)
    filtered = filtered_V(arriving([0.0], RICKER, sampling)[0], RICKER, sampling)
    assert np.abs(filtered[-150:]).max() < 1e-12 < filtered[0]
