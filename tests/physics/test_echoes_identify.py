"""Which echo is which float: a missing one is a fault and never renumbered."""

from __future__ import annotations

import numpy as np
import pytest

from onedatum.physics.echoes import (
    Expected,
    Ricker,
    Sampling,
    Window,
    by_matched_filter,
    energy_to_noise,
    identified,
    wrong_peaks,
)

TWO = Expected("float", 0.5, 1.5), Expected("interface float", -1.5, -0.5)
PULSE_S, QUIET = 1e-5, 1e5


def fault(delays: list[float], heights: list[float], energy: float = QUIET) -> str:
    return identified(np.array(delays), np.array(heights), TWO, PULSE_S, energy).fault


def test_two_echoes_are_the_two_floats() -> None:
    found = identified(np.array([4e-4, 6e-4]), np.array([1.0, -0.9]), TWO, PULSE_S, QUIET)
    assert found.delays_s == (4e-4, 6e-4)
    assert found.fault == ""


@pytest.mark.parametrize(
    ("delays", "heights", "words"),
    [
        ([np.nan, 6e-4], [np.nan, -0.9], "no echo of the float"),
        ([4e-4, np.nan], [1.0, np.nan], "no echo of the interface float"),
        ([np.nan, np.nan], [np.nan, np.nan], "no echo of the float and the interface float"),
        ([4e-4], [1.0], "1 echo for 2 floats"),
        ([6e-4, 4e-4], [1.0, -0.9], "wrong order"),
        ([4e-4, 6e-4], [0.3, -0.9], "the echo of the float has not the height"),
        ([4e-4, 6e-4], [1.0, 0.9], "the echo of the interface float has not the height"),
        ([4e-4, 4.05e-4], [1.0, -0.9], "too near"),
    ],
)
def test_what_cannot_be_told_is_a_fault(delays: list[float], heights: list[float], words: str) -> None:
    assert words in fault(delays, heights)


def test_a_fault_gives_no_reading() -> None:
    assert identified(np.array([4e-4, np.nan]), np.array([1.0, np.nan]), TWO, PULSE_S, QUIET).delays_s == ()


def test_below_the_threshold_of_energy_nothing_is_read() -> None:
    least = wrong_peaks().least_energy_to_noise
    assert "noise" in fault([4e-4, 6e-4], [1.0, -0.9], least * 0.99)
    assert fault([4e-4, 6e-4], [1.0, -0.9], least) == ""


def test_echoes_run_together_are_called_too_near_whatever_their_heights() -> None:
    assert "too near" in fault([4e-4, 4.05e-4], [1.9, -0.1])


def test_of_two_floats_with_one_echo_the_other_is_not_taken_for_it() -> None:
    """From the record on: the lower magnet sends nothing, or the upper one."""
    pulse, sampling = Ricker(1.5e-6), Sampling(1e7, 1000)
    windows, both = (Window(250, 480), Window(480, 700)), tuple(Expected(name, 0.5, 1.5) for name in ("float", "other"))
    energy = float(energy_to_noise(1.0, 0.01, pulse.energy_s, 1e-7))
    for delays, words in (((47e-6,), "no echo of the other"), ((49e-6,), "no echo of the float"), ((35e-6, 60e-6), "")):
        record = sum(pulse.values(sampling.times_s - delay) for delay in delays)
        taken = by_matched_filter(np.asarray(record), pulse, sampling, windows, 0.3)
        found = identified(taken.delays_s[0], taken.heights_V[0], both, PULSE_S, energy)
        assert found.fault == words
        assert len(found.delays_s) == (0 if words else 2)
