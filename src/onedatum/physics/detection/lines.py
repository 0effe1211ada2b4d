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
