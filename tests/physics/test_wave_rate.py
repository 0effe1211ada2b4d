"""Losses and waiting times of a wire against worked cases, complex wave numbers and images traced one by one."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.working import apply
from onedatum.physics.magnetostrictive import (
    attenuation_per_m,
    loss_decibel,
    loss_decibel_exact,
    reverberation_time_s,
    round_trips,
    torsional_speed_m_per_s,
    update_rate_Hz,
)
from tests.closeness import close, exact, printed
from tests.reference import Case, case

MS = 1e-3


# ---------------------------------------------------------------- losses


def speed_of(stated: Case) -> float:
    return float(torsional_speed_m_per_s(stated.value("G"), stated.value("rho")))


def test_loss_over_a_length() -> None:
    stated = case("floats-F15a")
    per_m = attenuation_per_m(stated.value("f"), stated.value("Q"), speed_of(stated))
    stated.check(loss_decibel(per_m, stated.value("L")))


def test_loss_by_the_complex_modulus() -> None:
    stated = case("floats-F15b")
    stated.check(loss_decibel_exact(stated.value("f"), stated.value("Q"), speed_of(stated), stated.value("L")))


@given(st.floats(1e3, 1e6), st.floats(1.0, 1e5), st.floats(1500.0, 5000.0), st.floats(0.1, 30.0))
def test_exact_loss_is_the_imaginary_wave_number(frequency: float, quality: float, speed: float, length: float) -> None:
    wave_number = 2 * np.pi * frequency / (speed * np.sqrt(1 + 1j / quality))
    expected = 20 * np.log10(np.exp(1.0)) * abs(wave_number.imag) * length
    found = loss_decibel_exact(frequency, quality, speed, length)
    close(found, expected, 3e-16 * quality * expected + 1e-13 * expected, "the complex root cancels digits")


@given(st.floats(1e3, 1e6), st.floats(20.0, 1e6))
def test_small_losses_are_a_little_too_high(frequency: float, quality: float) -> None:
    plain = loss_decibel(attenuation_per_m(frequency, quality, 2800.0), 6.0)
    true = loss_decibel_exact(frequency, quality, 2800.0, 6.0)
    close(plain / true, 1 + 5 / (8 * quality**2), 1.0 / quality**4 + 1e-14, "next order of the series")


@pytest.mark.parametrize(
    ("quality", "losses"),
    [
        (300.0, ("1.62", "3.25", "6.50")),
        (1000.0, ("0.49", "0.97", "1.95")),
        (3000.0, ("0.16", "0.32", "0.65")),
        (10_000.0, (None, "0.10", "0.19")),
    ],
)
def test_losses_per_metre_as_tabled(quality: float, losses: tuple[str | None, ...]) -> None:
    """Worked at 2800 m/s for 50, 100 and 200 kHz; derived. One entry has too few digits to compare."""
    for frequency, text in zip((50e3, 100e3, 200e3), losses, strict=True):
        if text is not None:
            assert loss_decibel(attenuation_per_m(frequency, quality, 2800.0), 1.0) == printed(text)


# ---------------------------------------------------------------- waiting


def traced(kept: float, threshold: float) -> int:
    """The last image at or above the threshold, by following them one after the other."""
    height, last, count = 1.0, 0, 0
    while height * kept >= threshold * (1 - 1e-9):
        height, count = height * kept, count + 1
        last = count
    return last


def test_wait_for_the_last_image() -> None:
    stated = case("floats-F16")
    length, speed = stated.value("L"), stated.value("v")
    losses = [stated.value(name) for name in ("r_end", "r_head", "alpha", "threshold")]
    stated.check(reverberation_time_s(length, speed, *losses) / MS)
    exact(round_trips(length, *losses), 2.0)


@given(st.floats(0.1, 20.0), st.floats(-1.0, 1.0), st.floats(-0.98, 0.98), st.floats(0.0, 0.3), st.floats(1e-6, 1.0))
def test_waiting_time_by_tracing_images(length: float, end: float, head: float, loss: float, threshold: float) -> None:
    count = traced(abs(end * head) * float(np.exp(-2 * loss * length)), threshold)
    exact(round_trips(length, end, head, loss, threshold), float(count))
    found = float(reverberation_time_s(length, 2800.0, end, head, loss, threshold))
    close(found, (2 * count + 1) * length / 2800.0, 1e-14 * found, "rounding")


@pytest.mark.parametrize("kept", [0.1, 0.2, 0.3, 0.5, 0.7, 0.9])
@pytest.mark.parametrize("count", [1, 2, 3, 7, 20])
def test_an_image_just_at_the_threshold_counts(kept: float, count: int) -> None:
    threshold = kept**count
    if threshold < 1e-9:
        threshold, count = kept, 1
    exact(round_trips(1.0, kept, 1.0, 0.0, threshold), float(count))
    exact(round_trips(1.0, kept, 1.0, 0.0, threshold * (1 + 1e-9)), float(count - 1))


def test_the_sign_of_a_reflection_does_not_shorten_the_wait() -> None:
    ends = np.array([-0.2, 0.2])
    exact(reverberation_time_s(6.0, 2800.0, ends, 0.9, 0.0112, 0.01), np.full(2, 5.0 * 6.0 / 2800.0))


def test_an_end_that_returns_nothing_needs_one_pass() -> None:
    exact(round_trips(6.0, 0.0, 0.9, 0.0, 1e-9), 0.0)
    close(reverberation_time_s(6.0, 2800.0, 0.0, 0.9, 0.0, 1e-9), 6.0 / 2800.0, 1e-17, "one pass")


def test_a_wire_that_keeps_its_pulses_is_refused() -> None:
    values = {"length_m": 6.0, "head_reflection": 1.0, "attenuation_per_m": 0.0, "threshold": 0.01}
    with pytest.raises(ValidityError, match="never becomes still"):
        apply(round_trips, values | {"end_reflection": -1.0})


@pytest.mark.parametrize(
    ("length", "rates"),
    [
        (1.0, ("2800", "933", "560")),
        (2.0, ("1400", "467", "280")),
        (4.0, ("700", "233", "140")),
        (6.0, ("467", "156", "93")),
        (10.0, ("280", "93", "56")),
        (20.0, ("140", "47", "28")),
    ],
)
def test_rates_as_tabled(length: float, rates: tuple[str, ...]) -> None:
    """Worked at 2800 m/s with no, one and two round trips waited for; derived."""
    for trips, text in enumerate(rates):
        assert update_rate_Hz(length, 2800.0, float(trips)) == printed(text)


@given(st.floats(0.1, 20.0), st.floats(-0.9, 0.9), st.floats(1e-4, 1.0))
def test_the_rate_is_one_over_the_waiting_time(length: float, end: float, threshold: float) -> None:
    rate = update_rate_Hz(length, 2800.0, round_trips(length, end, 0.95, 0.01, threshold))
    close(rate * reverberation_time_s(length, 2800.0, end, 0.95, 0.01, threshold), 1.0, 1e-14, "rounding")
