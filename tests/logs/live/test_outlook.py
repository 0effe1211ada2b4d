"""Rates with their uncertainty, and forecasts as spans: against a basin of known area filled at a known rate."""

from __future__ import annotations

import numpy as np
import pytest

from onedatum.logs.live.outlook import Outlook, Rate, Way, Window, outlook
from tests.closeness import close

OVER_s = 600.0


def filled(rate: float, noise: float, seed: int = 1, spikes: bool = False, last_s: int = 900) -> Window:
    """A window after numbers of every second that rise at a rate, with normal noise."""
    random = np.random.default_rng(seed)
    window = Window(OVER_s)
    for second, error in enumerate(random.normal(0.0, noise, last_s) if noise else np.zeros(last_s)):
        wild = 50.0 if spikes and second % 7 == 0 else 0.0
        window.add(second * 1_000_000, 1.0 + rate * second + float(error) + wild)
    return window


def test_a_steady_rise_is_told_exactly() -> None:
    found = filled(1e-4, 0.0).rate(900_000_000)
    assert found is not None and not found.is_noise
    close(found.middle, 1e-4, 1e-12, "medians of blocks of a straight line lie on it")
    close(found.high, found.low, 1e-12, "no scatter")


def test_the_interval_covers_the_true_rate_as_often_as_it_says() -> None:
    """95 % of 100 windows; by the binomial law 88 or more are covered with a probability of 0.998."""
    found = [filled(1e-4, 2e-3, seed).rate(900_000_000) for seed in range(100)]
    assert sum(each is not None and each.low <= 1e-4 <= each.high for each in found) >= 88


def test_spikes_do_not_move_the_rate() -> None:
    found = filled(1e-4, 0.0, spikes=True).rate(900_000_000)
    assert found is not None
    close(found.middle, 1e-4, 1e-6, "each seventh reading is wild: the median of a block moves by few readings")


@pytest.mark.parametrize("seed", range(5))
def test_rest_has_no_rate_but_noise(seed: int) -> None:
    found = filled(0.0, 1e-3, seed).rate(900_000_000)
    assert found is not None
    assert abs(found.middle) < 1e-5


def test_too_few_readings_tell_no_rate_and_old_ones_are_forgotten() -> None:
    assert filled(1e-4, 0.0, last_s=200).rate(200_000_000) is None
    window = filled(1e-4, 0.0)
    assert window.rate(int(900e6)) is not None
    assert window.rate(int((900.0 + OVER_s) * 1e6)) is None


def test_a_forecast_is_the_span_between_the_nearest_and_the_farthest_case() -> None:
    """By hand: 1 m3 to go, known to 0.1 m3 either way, at 0.01 m3/s known to 0.002: 0.9/0.012 = 75 s, 1.1/0.008."""
    found = outlook("HH", 2.0, Way(0.9, 1.1, 2.0), Rate(0.01, 0.008, 0.012), rising=True)
    assert found.earliest_s is not None and found.latest_s is not None
    close(found.earliest_s, 75.0, 1e-9, "rounding")
    close(found.latest_s, 137.5, 1e-9, "rounding")


def test_downward_the_same_by_symmetry() -> None:
    found = outlook("LL", 0.1, Way(0.9, 1.1, 0.0), Rate(-0.01, -0.012, -0.008), rising=False)
    assert found.earliest_s is not None and found.latest_s is not None
    close(found.earliest_s, 75.0, 1e-9, "rounding")
    close(found.latest_s, 137.5, 1e-9, "rounding")


@pytest.mark.parametrize(
    ("way", "rate", "words"),
    [
        (Way(0.9, 1.1, 2.0), None, "not known yet"),
        (Way(0.9, 1.1, 2.0), Rate(0.01, -0.001, 0.02), "within its noise"),
        (Way(0.9, 1.1, 2.0), Rate(0.0, 0.0, 0.0), "within its noise"),
        (Way(0.9, 1.1, 2.0), Rate(-0.01, -0.012, -0.008), "moves away"),
        (Way(0.9, 1.1, None), Rate(0.01, 0.008, 0.012), "no volume"),
        (Way(2.9, 3.1, 2.0), Rate(0.01, 0.008, 0.012), "passed"),
        (Way(0.9, 1.1, 2.0), Rate(1e-7, 0.9e-7, 1.1e-7), "7 days"),
    ],
)
def test_no_forecast_without_ground_and_it_says_why(way: Way, rate: Rate | None, words: str) -> None:
    found: Outlook = outlook("HH", 2.0, way, rate, rising=True)
    assert (found.earliest_s, found.latest_s) == (None, None)
    assert words in found.why


def test_a_rate_of_before_a_gap_is_none_of_now() -> None:
    """Ten minutes in blocks of 30 s: after five minutes without a number the last block is of a time that is over."""
    window = Window(600.0)
    for second in range(0, 330, 10):
        window.add(second * 1_000_000, 1.0 + 0.001 * second)
    assert window.rate(330 * 1_000_000) is not None
    window.add(630 * 1_000_000, 1.3)
    assert window.rate(630 * 1_000_000) is None
