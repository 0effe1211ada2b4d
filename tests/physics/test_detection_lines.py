"""The strongest line of many stretches: against lines put in, and against its own claim on noise."""

from __future__ import annotations

import numpy as np
import pytest

from onedatum.foundation.errors import ValidityError
from onedatum.physics.detection import fitted_line, strongest_line

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


@pytest.mark.parametrize(("frequency_Hz", "size"), [(0.2, 2.0), (0.05, 2.0), (0.3371, 0.8), (0.4801, 1.3)])
def test_a_line_between_frequencies_of_the_spectrum_is_fitted(frequency_Hz: float, size: float) -> None:
    """Put in, in white noise of 0.4, another phase in each stretch; against the top of a direct Fourier sum too."""
    random = np.random.default_rng(SEED)
    times = np.arange(128.0)
    phases = random.uniform(0.0, 2.0 * np.pi, (60, 1))
    rows = size * np.sin(2.0 * np.pi * frequency_Hz * times + phases) + 0.4 * random.standard_normal((60, 128))
    near = round(frequency_Hz * 128.0) / 128.0
    found = fitted_line(rows, 1.0, near)
    assert found.frequency_Hz == pytest.approx(frequency_Hz, abs=2e-4)
    assert np.median(found.of_each_Hz) == pytest.approx(frequency_Hz, abs=2e-4)
    assert np.median(found.amplitudes) == pytest.approx(size, abs=0.03)
    tried = near + np.linspace(-1.0, 1.0, 2001) / 128.0
    level = rows - rows.mean(axis=1, keepdims=True)
    powers = (np.abs(level @ np.exp(-2j * np.pi * np.outer(times, tried))) ** 2).sum(axis=0)
    assert found.frequency_Hz == pytest.approx(tried[int(np.argmax(powers))], abs=2e-4)


@pytest.mark.parametrize(("sampling_s", "frequency_Hz"), [(0.0, 0.2), (1.0, 0.5), (1.0, 0.0), (1.0, float("nan"))])
def test_a_line_that_samples_do_not_show_is_refused(sampling_s: float, frequency_Hz: float) -> None:
    with pytest.raises(ValidityError):
        fitted_line(np.ones((2, 64)), sampling_s, frequency_Hz)
