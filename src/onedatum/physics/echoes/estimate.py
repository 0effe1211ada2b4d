"""When an echo came, by the matched filter; many records at once.

Only the samples about each window are filtered, a block of records at a time, so that the block stays in the cache
between its two transforms. Windows that together are longer than the record share one filtering of the whole of it.
Beyond the ends of the record nothing is taken to come.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil
from typing import Any

import numpy as np
from numpy.typing import NDArray

from onedatum.foundation.numerics import Reals
from onedatum.physics.echoes.pulses import Pulse
from onedatum.physics.echoes.record import Sampling
from onedatum.physics.echoes.window import Estimate, Window, held

Samples = NDArray[np.float32] | NDArray[np.float64]
BLOCK_BYTES = 448 * 1024
"""Of the samples of one block: they, their spectra and what becomes of them fit in the cache of one core."""
SAMPLES_PER_WIDTH = 6.0
"""Fewer samples in the width of a pulse than this bend the parabola: the peak is then interpolated first."""
REACH_WIDTHS = 8.0
"""Widths from its middle beyond which a pulse is nothing: 1e-12 of its height."""


def by_matched_filter(
    records_V: Samples, pulse: Pulse, sampling: Sampling, windows: tuple[Window, ...], threshold: float
) -> Estimate:
    """Arrivals by the peak of the matched filter, by a parabola through its three highest samples.

    Formula
    -------
    peak of the correlation of record and pulse; d = 0.5*(c_+1 - c_-1)/(2*c_0 - c_-1 - c_+1) beside the highest sample

    Parameters
    ----------
    records_V : array of float, records by samples
        voltages, of single or double precision [V]
    pulse : Pulse
        form that is looked for
    sampling : Sampling
        rate [Hz] and count of the samples
    windows : tuple of Window
        where each echo is looked for
    threshold : float
        least height of an echo, in volts of the pulse [V]

    Returns
    -------
    Estimate
        delays [s] and heights [V], NaN below the threshold and where the highest sample is no peak but the flank of
        something outside the window

    Validity
    --------
    white noise, one pulse of the form in each window, 1.2 samples or more in its width; at the bound above an energy to
    noise of 16 dB

    Source
    ------
    Kay, Fundamentals of Statistical Signal Processing: Estimation Theory (1993) [from memory, simulated in the tests]

    Example
    -------
    >>> from onedatum.physics.echoes.pulses import Ricker
    >>> pulse, sampling = Ricker(1.5e-6), Sampling(1e7, 1000)
    >>> record = pulse.values(sampling.times_s - 40.03e-6)[None, :]
    >>> found = by_matched_filter(record, pulse, sampling, (Window(300, 500),), 0.3)
    >>> round(float(found.delays_s[0, 0]) * 1e6, 4)
    40.03
    """
    records = _samples(records_V)
    finer = _finer(pulse, sampling)
    reach = ceil(REACH_WIDTHS * pulse.width_s * sampling.rate_Hz)
    highest = np.empty((len(windows), len(records)), dtype=np.int64)
    around = np.empty((len(windows), 3, len(records)), dtype=records.dtype)
    for (low, high), columns in _stretches(held(windows, sampling.count), reach, sampling.count).items():
        noughts = _noughts([windows[column] for column in columns], low, high, reach)
        for start, filtered in _filtered(records[:, low:high], pulse, sampling, finer, noughts):
            block = slice(start, start + len(filtered))
            for column in columns:
                at = _highest(filtered, windows[column], low, finer)
                highest[column, block] = at + low * finer
                around[column, :, block] = filtered[np.arange(len(at)), at + _STEPS]
    return _taken(highest.T, around, windows, sampling.rate_Hz * finer, threshold)


def filtered_V(record_V: Reals, pulse: Pulse, sampling: Sampling) -> Reals:
    """One record after the matched filter, for a drawing.

    Formula
    -------
    correlation of record and pulse over the energy of the pulse

    Parameters
    ----------
    record_V : array of float
        voltages [V]
    pulse : Pulse
        form that is looked for
    sampling : Sampling
        rate [Hz] and count of the samples

    Returns
    -------
    array of float
        height of the pulse that each place would hold [V]

    Validity
    --------
    beyond the ends of the record nothing is taken to come

    Source
    ------
    Derived from geometry or first principles, correlation [derived and checked]

    Example
    -------
    >>> from onedatum.physics.echoes.pulses import Ricker
    >>> pulse, sampling = Ricker(1.5e-6), Sampling(1e7, 1000)
    >>> filtered = filtered_V(2 * pulse.values(sampling.times_s - 40e-6), pulse, sampling)
    >>> int(np.argmax(filtered)), round(float(filtered.max()), 6)
    (400, 2.0)
    """
    reach = ceil(REACH_WIDTHS * pulse.width_s * sampling.rate_Hz)
    _, filtered = next(_filtered(_samples(record_V), pulse, sampling, 1, reach))
    return np.asarray(filtered[0, : sampling.count], dtype=np.float64)


def _samples(records_V: Samples) -> Samples:
    """Records by samples, in single precision where they come so, in double where not."""
    kind = np.float32 if np.asarray(records_V).dtype == np.float32 else np.float64
    records: Samples = np.atleast_2d(np.asarray(records_V, dtype=kind))
    return records


def _finer(pulse: Pulse, sampling: Sampling) -> int:
    """How many times finer the filtered record is interpolated: once where the samples are dense."""
    return max(ceil(SAMPLES_PER_WIDTH / (pulse.width_s * sampling.rate_Hz) - 1e-9), 1)


def _stretches(windows: tuple[Window, ...], reach: int, count: int) -> dict[tuple[int, int], list[int]]:
    """From which to which sample is filtered, and for which windows."""
    parts = [(max(window.low - reach, 0), min(window.high + reach, count)) for window in windows]
    if sum(high - low for low, high in parts) > count:
        return {(0, count): list(range(len(windows)))}
    stretches: dict[tuple[int, int], list[int]] = {}
    for column, part in enumerate(parts):
        stretches.setdefault(part, []).append(column)
    return stretches


def _noughts(windows: list[Window], low: int, high: int, reach: int) -> int:
    """Noughts to put behind a stretch, that no window sees what the transform takes round from the other end."""
    before, behind = min(window.low for window in windows) - low, high - max(window.high for window in windows)
    return max(reach - min(before, behind), 0)


def _filtered(
    records: Samples, pulse: Pulse, sampling: Sampling, finer: int, noughts: int
) -> Iterator[tuple[int, Samples]]:
    """The first record of each block, and the block filtered, with noughts or more of them behind each record."""
    from scipy import fft

    length = int(fft.next_fast_len(records.shape[1] + noughts, real=True))
    kernel = _kernel(pulse, sampling.rate_Hz, length, finer, records.dtype)
    block = max(BLOCK_BYTES // (length * records.itemsize), 1)
    for start in range(0, len(records), block):
        spectra = fft.rfft(records[start : start + block], n=length, axis=1)
        spectra *= kernel
        yield start, fft.irfft(spectra, n=length * finer, axis=1, overwrite_x=True)


def _kernel(pulse: Pulse, rate_Hz: float, length: int, finer: int, kind: np.dtype[Any]) -> NDArray[Any]:
    """Spectrum of the pulse about the first sample, turned round, over its energy."""
    from scipy import fft

    places = np.arange(length)
    values = pulse.values((places - length * (places > length // 2)) / rate_Hz)
    spectrum = np.conj(fft.rfft(values)) * (finer / np.sum(values**2))
    if finer > 1 and length % 2 == 0:
        spectrum[-1] /= 2
    return np.asarray(spectrum.astype(np.complex64 if kind == np.float32 else np.complex128))


_STEPS = np.array([[-1], [0], [1]])


def _highest(filtered: Samples, window: Window, first: int, finer: int) -> NDArray[np.int64]:
    """The highest sample of each record in a window, counted from the first one filtered; both its neighbours exist."""
    low, high = max((window.low - first) * finer, 1), min((window.high - first) * finer, filtered.shape[1] - 1)
    part = filtered[:, low:high]
    return np.asarray((part.argmax(axis=1) if window.polarity > 0 else part.argmin(axis=1)) + low)


def _taken(
    highest: NDArray[np.int64], around: Samples, windows: tuple[Window, ...], rate_Hz: float, threshold: float
) -> Estimate:
    """Delays and heights by the parabola through the highest samples and their neighbours."""
    signs = np.array([window.polarity for window in windows])
    before, at, after = (signs * around[:, step, :].T.astype(np.float64) for step in range(3))
    bend = 2 * at - before - after
    with np.errstate(all="ignore"):
        beside = np.where(bend > 0, 0.5 * (after - before) / bend, 0.0)
    heights = at + 0.25 * (after - before) * beside
    taken = (heights >= threshold) & (at >= before) & (at >= after)
    return Estimate(np.where(taken, (highest + beside) / rate_Hz, np.nan), np.where(taken, signs * heights, np.nan))
