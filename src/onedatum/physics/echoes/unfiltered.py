"""When an echo came, without a filter: by a zero of the pulse, by a fixed threshold.

Both are here to show what they cost: the zero is several times noisier than the matched filter, the threshold walks
with the height of the pulse.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.physics.echoes.pulses import Pulse
from onedatum.physics.echoes.record import Sampling
from onedatum.physics.echoes.window import Estimate, Window, held


def by_zero_crossing(records_V: Reals, pulse: Pulse, sampling: Sampling, windows: tuple[Window, ...]) -> Estimate:
    """Arrivals by the zero behind the highest sample, a straight line between the two samples about it.

    Formula
    -------
    the first change of sign behind the highest sample, less the time of that zero in the pulse

    Parameters
    ----------
    records_V : array of float, records by samples
        voltages [V]
    pulse : Pulse
        form that is looked for: a Ricker pulse falls to zero one width behind its middle, a doublet in its middle
    sampling : Sampling
        rate [Hz] and count of the samples
    windows : tuple of Window
        where each echo is looked for

    Returns
    -------
    Estimate
        delays [s] and heights [V], NaN where the sign does not change in the window

    Validity
    --------
    noise small against the pulse: with more of it the highest sample, or the zero behind it, is one of the noise

    Source
    ------
    Derived from geometry or first principles, zero of the pulse [derived and checked]

    Example
    -------
    >>> from onedatum.physics.echoes.pulses import Ricker
    >>> pulse, sampling = Ricker(1.5e-6), Sampling(1e7, 1000)
    >>> record = pulse.values(sampling.times_s - 40.03e-6)[None, :]
    >>> found = by_zero_crossing(record, pulse, sampling, (Window(300, 500),))
    >>> round(float(found.delays_s[0, 0]) * 1e6, 2)
    40.03
    """
    records = np.atleast_2d(records_V)
    columns = [_zero(records, window, sampling.rate_Hz) for window in held(windows, sampling.count)]
    delays, heights = zip(*columns, strict=True)
    return _joined([zero - pulse.zero_s for zero in delays], heights)


def by_threshold(records_V: Reals, sampling: Sampling, windows: tuple[Window, ...], threshold_V: float) -> Estimate:
    """Arrivals by the first rise through a fixed threshold, a straight line between the two samples about it.

    Formula
    -------
    the first sample in the window that reaches the threshold and whose neighbour before it does not

    Parameters
    ----------
    records_V : array of float, records by samples
        voltages [V]
    sampling : Sampling
        rate [Hz] and count of the samples
    windows : tuple of Window
        where each echo is looked for
    threshold_V : float
        height that is waited for [V]

    Returns
    -------
    Estimate
        time of the leading edge [s] and height of the window [V], NaN where the threshold is not reached

    Validity
    --------
    it walks with the height of the pulse: a weaker one reads long

    Source
    ------
    Derived from geometry or first principles, leading edge [derived and checked]

    Example
    -------
    >>> from onedatum.physics.echoes.pulses import Ricker
    >>> sampling = Sampling(1e7, 1000)
    >>> record = Ricker(1.5e-6).values(sampling.times_s - 40e-6)[None, :]
    >>> found = by_threshold(record, sampling, (Window(300, 500),), 0.5)
    >>> round(float(found.delays_s[0, 0]) * 1e6, 2)
    39.06
    """
    records = np.atleast_2d(records_V)
    columns = [_rise(records, window, sampling.rate_Hz, threshold_V) for window in held(windows, sampling.count)]
    delays, heights = zip(*columns, strict=True)
    return _joined(delays, heights)


def _joined(delays_s: Sequence[Reals], heights_V: Sequence[Reals]) -> Estimate:
    """The columns of the windows side by side; no height without a delay."""
    delays, heights = np.stack(delays_s, axis=1), np.stack(heights_V, axis=1)
    return Estimate(delays, np.where(np.isnan(delays), np.nan, heights))


def _zero(voltages_V: Reals, window: Window, rate_Hz: float) -> tuple[Reals, Reals]:
    """Time of the zero behind the highest sample, and that height."""
    part = window.polarity * voltages_V[:, window.low : window.high]
    highest, rows = part.argmax(axis=1), np.arange(len(part))
    behind = (part[:, 1:] <= 0) & (part[:, :-1] > 0) & (np.arange(part.shape[1] - 1) >= highest[:, None])
    first = behind.argmax(axis=1)
    here, there = part[rows, first], part[rows, first + 1]
    with np.errstate(all="ignore"):
        crossing = (window.low + first + here / (here - there)) / rate_Hz
    return np.where(behind.any(axis=1), crossing, np.nan), window.polarity * part[rows, highest]


def _rise(voltages_V: Reals, window: Window, rate_Hz: float, threshold_V: float) -> tuple[Reals, Reals]:
    """Time of the first rise through the threshold, and the height of the window."""
    part = window.polarity * voltages_V[:, window.low : window.high]
    rises = (part[:, 1:] >= threshold_V) & (part[:, :-1] < threshold_V)
    first, rows = rises.argmax(axis=1), np.arange(len(part))
    here, there = part[rows, first], part[rows, first + 1]
    with np.errstate(all="ignore"):
        crossing = (window.low + first + (threshold_V - here) / (there - here)) / rate_Hz
    return np.where(rises.any(axis=1), crossing, np.nan), window.polarity * part.max(axis=1)
