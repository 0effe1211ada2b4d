"""The strongest line of many stretches: against lines put in, and against its own claim on noise."""

from __future__ import annotations

import numpy as np
import pytest

from onedatum.foundation.errors import ValidityError
from onedatum.physics.detection import strongest_line

SEED = 20260412


def test_a_sine_in_noise_is_found_with_its_amplitude() -> None:
    """Put in: amplitude 0.8 at 0.1875 Hz, 24 periods of 128 samples, in white noise of 1."""
    random = np.random.default_rng(SEED)
    wave = 0.8 * np.sin(2.0 * np.pi * 0.1875 * np.arange(128))
    found = strongest_line(wave + random.standard_normal((40, 128)), 1.0)
    assert found.frequency_Hz == 0.1875
    assert found.amplitude == pytest.approx(0.8, rel=0.1)
    assert found.probability < 1e-6


def test_white_noise_shows_a_line_no_more_often_than_is_said() -> None:
    """Of 400 sets of ten stretches 5 % may show p below 0.05; the binomial limit of 1 in 10 000 is 37."""
    random = np.random.default_rng(SEED)
    shown = sum(strongest_line(random.standard_normal((10, 128)), 1.0).probability < 0.05 for _ in range(400))
    assert shown <= 37


def test_a_steady_slope_is_no_line() -> None:
    random = np.random.default_rng(SEED)
    found = strongest_line(np.arange(128.0) * 3.0 + random.standard_normal((10, 128)), 1.0)
    assert found.probability > 0.01


def test_stretches_that_never_change_have_no_line() -> None:
    assert strongest_line(np.ones((3, 64)), 1.0).probability == 1.0


@pytest.mark.parametrize(
    ("stretches", "sampling_s"), [([[1.0] * 63], 1.0), ([[1.0] * 64], 0.0), ([[np.nan] * 64], 1.0)]
)
def test_what_is_no_stretch_is_refused(stretches: list[list[float]], sampling_s: float) -> None:
    with pytest.raises(ValidityError):
        strongest_line(stretches, sampling_s)
