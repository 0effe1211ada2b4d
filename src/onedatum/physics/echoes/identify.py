"""Which echo is which float: by the order they come in, within what each is expected at; a missing one is a fault.

The upper float comes first. Echoes are never renumbered: where one of two is missing, the other is not taken for it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.physics.echoes.usual import wrong_peaks


@dataclass(frozen=True)
class Expected:
    """What is expected of one float: its name, the least and greatest height of its echo; the sign is the polarity."""

    name: str
    least_V: float
    most_V: float


@dataclass(frozen=True)
class Found:
    """The delays by float, or why nothing is read."""

    delays_s: tuple[float, ...]
    fault: str = ""


def identified(
    delays_s: Reals, heights_V: Reals, expected: tuple[Expected, ...], pulse_duration_s: float, energy_to_noise: float
) -> Found:
    """The echoes of one record by float, in the order they come in; a fault where that cannot be told for certain.

    Formula
    -------
    order of arrival; neighbours at least a pulse apart; every echo within its heights; energy to noise of 16 dB

    Parameters
    ----------
    delays_s : array of float
        arrivals, NaN where nothing was taken [s]
    heights_V : array of float
        their heights, with the sign of their polarity [V]
    expected : tuple of Expected
        the floats from the top downwards
    pulse_duration_s : float
        time a pulse takes to pass [s]
    energy_to_noise : float
        twice the energy of the weakest echo over the density of the noise [1]

    Returns
    -------
    Found
        delays by float, none where there is a fault

    Validity
    --------
    at most as many echoes as floats are handed over; reflections lie outside the windows

    Source
    ------
    Common practice of the trade; the 16 dB by own simulation [common practice, no source]

    Example
    -------
    >>> two = (Expected("float", 0.5, 1.5), Expected("interface float", 0.5, 1.5))
    >>> identified(np.array([4.3e-4, np.nan]), np.array([1.0, np.nan]), two, 1e-5, 1e5).fault
    'no echo of the interface float'
    """
    there = np.isfinite(delays_s)
    if len(delays_s) != len(expected) or not there.all():
        return _missing(delays_s, expected)
    order = np.argsort(delays_s, kind="stable")
    if not np.array_equal(order, np.arange(len(order))):
        return _fault("the echoes come in the wrong order")
    if len(delays_s) > 1 and float(np.min(np.diff(delays_s))) < pulse_duration_s:
        return _fault("the floats are too near to tell their echoes apart")
    for height, one in zip(heights_V, expected, strict=True):
        low, high = sorted((one.least_V, one.most_V))
        if not low <= height <= high:
            return _fault(f"the echo of the {one.name} has not the height expected of it")
    if energy_to_noise < wrong_peaks().least_energy_to_noise:
        return _fault("the echoes do not stand out of the noise: a wrong peak may be taken")
    return Found(tuple(float(delay) for delay in delays_s))


def _missing(delays_s: Reals, expected: tuple[Expected, ...]) -> Found:
    """Which echo is missing, where that is known; one of two that is left is not taken for the other."""
    if len(delays_s) != len(expected):
        return _fault(f"{_counted(len(delays_s), 'echo', 'echoes')} for {_counted(len(expected), 'float', 'floats')}")
    names = " and the ".join(one.name for one, delay in zip(expected, delays_s, strict=True) if not np.isfinite(delay))
    return _fault(f"no echo of the {names}")


def _fault(words: str) -> Found:
    return Found((), words)


def _counted(count: int, one: str, more: str) -> str:
    return f"{count} {one if count == 1 else more}"
