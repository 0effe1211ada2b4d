"""A steady line in the scatter of many stretches: hum that is folded down, a wave, a loop that cycles.

The spectra of stretches, each over its own middle, are averaged; a line stands out of what is around it there.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Reals
from onedatum.physics.detection.series import series_of

AROUND = 12
"""Frequencies on either side that tell the level of a spectrum."""
LOWEST = 4
"""Frequencies from zero on that are left out: drift and movement are there."""


class StrongestLine(NamedTuple):
    """The line that stands out most: its frequency, amplitude, power over the level around, probability by chance."""

    frequency_Hz: float
    amplitude: float
    ratio: float
    probability: float


def strongest_line(stretches: ArrayLike, sampling_s: float) -> StrongestLine:
    """The strongest line of several stretches of equal length, after a straight line is taken off each.

    Formula
    -------
    S(f) = mean over the stretches of |X(f)|**2 over its median; R(f) = S(f) over the level that follows from the
    median of S over the n = 25 frequencies around f; p = 2*m*P(F of 2*M and 2*M*n*2/pi > R)

    Parameters
    ----------
    stretches : array, stretches by samples
        readings at even times, 64 samples or more in each [any unit]
    sampling_s : float
        time from sample to sample, above 0 [s]

    Returns
    -------
    StrongestLine
        frequency [Hz], amplitude of a sine of that power [unit of the values], R [1], p [1], 1 at most

    Validity
    --------
    M stretches, independent, of noise whose spectrum is smooth over the frequencies around; m frequencies, counted
    twice since the level is a median of few. A spectrum that bends gives ratios somewhat above 1 that many stretches
    make significant: ask for a ratio as well.

    Source
    ------
    Fisher 1929, Proc. R. Soc. A 125, tests of significance in harmonic analysis, in its idea [from memory]

    Example
    -------
    >>> wave = np.sin(2 * np.pi * 0.25 * np.arange(128)) + np.cos(np.arange(128.0) ** 2)
    >>> round(strongest_line([wave, wave], 1.0).frequency_Hz, 9)
    0.25
    """
    rows = [series_of(each, "strongest_line", "stretches", 64) for each in np.atleast_2d(np.asarray(stretches))]
    if not sampling_s > 0.0:
        raise ValidityError("detection.strongest_line", "sampling_s", "above 0 s", f"{sampling_s:g} s")
    count = len(rows[0])
    powers = np.array([_power(row) for row in rows])
    own = np.median(powers, axis=1, keepdims=True)
    moves = own[:, 0] > 0.0
    if not moves.any():
        return StrongestLine(0.0, 0.0, 0.0, 1.0)
    from scipy.special import chdtri, fdtrc

    free = 2.0 * float(np.count_nonzero(moves))
    spectrum = np.mean(powers[moves] / own[moves], axis=0)
    ratios = spectrum / _around(spectrum) * float(chdtri(free, 0.5)) / free
    ratios[:LOWEST] = 0.0
    place = int(np.argmax(ratios))
    chance = float(2.0 * (len(ratios) - LOWEST) * fdtrc(free, free * (2 * AROUND + 1) * 2.0 / np.pi, ratios[place]))
    over = max(float(np.mean(powers[:, place])) * (1.0 - 1.0 / max(float(ratios[place]), 1.0)), 0.0)
    size = 2.0 * float(np.sqrt(over)) / count
    return StrongestLine(place / (count * sampling_s), size, float(ratios[place]), min(chance, 1.0))


class FittedLine(NamedTuple):
    """A line by a fit of sine and cosine: its frequency in all stretches, and frequency and amplitude in each."""

    frequency_Hz: float
    of_each_Hz: Reals
    amplitudes: Reals


def fitted_line(stretches: ArrayLike, sampling_s: float, frequency_Hz: float) -> FittedLine:
    """Frequency and amplitude of a line between the frequencies of a spectrum.

    Formula
    -------
    f with the greatest sum over the stretches of |sum of x_i*exp(-2*pi*j*f*i*dt)|**2 within 1/(n*dt) of the frequency
    given, and of each stretch alone; amplitude sqrt(a**2 + b**2) of a*cos + b*sin + c + d*i by least squares

    Parameters
    ----------
    stretches : array, stretches by samples
        readings at even times, 64 samples or more in each [any unit]
    sampling_s : float
        dt, above 0 [s]
    frequency_Hz : float
        about where the line is, above 2/(n*dt) and below half of 1/dt [Hz]

    Returns
    -------
    FittedLine
        frequency of all and of each [Hz], amplitude in each [unit of the values]

    Validity
    --------
    one line, well above the noise about it; a frequency that wanders by more than 1/(n*dt) is not followed

    Source
    ------
    Rife and Boorstyn 1974, IEEE Trans. Inf. Theory 20, the frequency with the greatest power [from memory]

    Example
    -------
    >>> wave = 2.0 * np.sin(2.0 * np.pi * 0.2 * np.arange(128))
    >>> found = fitted_line([wave], 1.0, 0.203125)
    >>> round(found.frequency_Hz, 4), round(float(found.amplitudes[0]), 3)
    (0.2, 2.0)
    """
    rows = np.array([series_of(each, "fitted_line", "stretches", 64) for each in np.atleast_2d(np.asarray(stretches))])
    if not sampling_s > 0.0:
        raise ValidityError("detection.fitted_line", "sampling_s", "above 0 s", f"{sampling_s:g} s")
    count = rows.shape[1]
    bin_Hz, most_Hz = 1.0 / (count * sampling_s), 0.5 / sampling_s
    if not 2.0 * bin_Hz < frequency_Hz < most_Hz:
        allowed, got = f"above {2.0 * bin_Hz:g} Hz and below {most_Hz:g} Hz", f"{frequency_Hz:g} Hz"
        raise ValidityError("detection.fitted_line", "frequency_Hz", allowed, got, "the samples show no other")
    tried_Hz = np.linspace(frequency_Hz - bin_Hz, min(frequency_Hz + bin_Hz, most_Hz - 0.1 * bin_Hz), 2 * FINER + 1)
    places = np.arange(count) - 0.5 * (count - 1)
    left = rows - rows.mean(axis=1, keepdims=True)
    left = left - np.outer(left @ places / float(places @ places), places)
    powers = np.abs(left @ np.exp(-2j * np.pi * sampling_s * np.outer(places, tried_Hz))) ** 2
    of_each = _tops(powers, tried_Hz)
    sizes = [_amplitude(row, places, sampling_s * each) for row, each in zip(rows, of_each.tolist(), strict=True)]
    return FittedLine(float(_tops(powers.sum(axis=0)[None, :], tried_Hz)[0]), of_each, np.array(sizes))


FINER = 32
"""Frequencies that are tried between two of a spectrum."""


def _tops(powers: Reals, tried_Hz: Reals) -> Reals:
    """Where each row is greatest: the top of the parabola through its greatest value and the two beside it."""
    rows, at = np.arange(len(powers)), np.clip(np.argmax(powers, axis=1), 1, len(tried_Hz) - 2)
    before, top, after = powers[rows, at - 1], powers[rows, at], powers[rows, at + 1]
    bend = before - 2.0 * top + after
    with np.errstate(invalid="ignore", divide="ignore"):
        beside = np.where(bend < 0.0, np.clip(0.5 * (before - after) / bend, -1.0, 1.0), 0.0)
    return np.asarray(tried_Hz[at] + beside * (tried_Hz[1] - tried_Hz[0]))


def _amplitude(row: Reals, places: Reals, turns: float) -> float:
    """Amplitude of so many turns in a sample, beside a straight line."""
    angles = 2.0 * np.pi * turns * places
    fit, *_ = np.linalg.lstsq(np.column_stack([np.cos(angles), np.sin(angles), np.ones(len(row)), places]), row)
    return float(np.hypot(fit[0], fit[1]))


def _power(row: Reals) -> Reals:
    """Power of a stretch at each frequency, without its mean and slope."""
    places = np.arange(len(row)) - 0.5 * (len(row) - 1)
    left = row - np.mean(row)
    left = left - places * float(places @ left) / float(places @ places)
    return np.abs(np.fft.rfft(left))[: len(row) // 2] ** 2


def _around(spectrum: Reals) -> Reals:
    """The power about each frequency: the median of its neighbours."""
    padded = np.pad(spectrum, AROUND, mode="reflect")
    windows = np.lib.stride_tricks.sliding_window_view(padded, 2 * AROUND + 1)
    middles: Reals = np.median(windows, axis=1)
    return middles
