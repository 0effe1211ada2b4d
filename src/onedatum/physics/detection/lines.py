"""A steady line in the scatter of many stretches: hum that is folded down, a wave, a loop that cycles.

The spectra of stretches are divided by their own level around each frequency and averaged; a line stands out of that.
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
_MEDIAN = 0.6931471805599453
"""Median over mean of the power at one frequency of noise: ln 2."""


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
    R(f) = mean over the stretches of |X(f)|**2 over the mean power around f; p = m*P(chi-squared of 2*M > 2*M*R)

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
    Stretches independent, of noise whose spectrum is smooth over the frequencies around; the level around, being a
    median of few, adds to the chance, for which the number of frequencies counts twice. Of M stretches and m
    frequencies.

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
    power = np.array([_power(row) for row in rows])
    level = np.array([_around(row) for row in power])
    with np.errstate(invalid="ignore", divide="ignore"):
        ratios = np.nan_to_num(np.mean(power / level, axis=0), nan=0.0, posinf=0.0)
    ratios[:LOWEST] = 0.0
    place = int(np.argmax(ratios))
    from scipy.special import chdtrc

    chance = float(2.0 * (len(ratios) - LOWEST) * chdtrc(2.0 * len(rows), 2.0 * len(rows) * ratios[place]))
    over = max(float(np.mean(power[:, place] - level[:, place])), 0.0)
    amplitude = 2.0 * float(np.sqrt(over)) / count
    return StrongestLine(place / (count * sampling_s), amplitude, float(ratios[place]), min(chance, 1.0))


def _power(row: Reals) -> Reals:
    """Power of a stretch at each frequency, without its mean and slope."""
    places = np.arange(len(row)) - 0.5 * (len(row) - 1)
    left = row - np.mean(row)
    left = left - places * float(places @ left) / float(places @ places)
    return np.abs(np.fft.rfft(left))[: len(row) // 2] ** 2


def _around(power: Reals) -> Reals:
    """The mean power of noise about each frequency, from the median of its neighbours."""
    padded = np.pad(power, AROUND, mode="reflect")
    windows = np.lib.stride_tricks.sliding_window_view(padded, 2 * AROUND + 1)
    level: Reals = np.median(windows, axis=1) / _MEDIAN
    return level
