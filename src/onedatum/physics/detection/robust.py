"""Spikes, noise and repeated readings, by means that single wild values do not move."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view
from numpy.typing import ArrayLike, NDArray

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Real, Reals, same_kind
from onedatum.foundation.working import formula
from onedatum.physics.detection.series import numbers_of, series_of, within

MAD_TO_STANDARD = 1.482602218505602
"""1 over the normal quantile of 0.75: the median distance from the median, made a standard deviation."""
USUAL_MAD_TO_STANDARD = 1.4826
"""The same as it is written in the rule of Hampel."""


class Spikes(NamedTuple):
    """What each reading is compared with, how far it may be off, and whether it is a spike."""

    medians: Reals
    limits: Reals
    outside: NDArray[Any]


def hampel(values: ArrayLike, window: int, threshold: float, grain: float) -> Spikes:
    """Spikes by the median of their neighbours.

    Formula
    -------
    abs(x_i - median) > t*1.4826*MAD, MAD the median of abs(x - median) in the window, at least half the grain

    Parameters
    ----------
    values : array
        readings in the order of time [any unit]
    window : int
        number of readings around each, itself among them; odd, 3 or more, at most as many as there are
    threshold : float
        t, above 0; 3 is usual [1]
    grain : float
        q, smallest step of the readings; half of it is the least MAD; 0 for none [unit of the values]

    Returns
    -------
    Spikes
        medians and limits [unit of the values], whether each is a spike

    Validity
    --------
    Fewer spikes than half the window at one place. Near the ends the first and the last whole window stand in. A ramp
    widens its own limits; MAD = 0 with a grain of 0 makes every other value a spike.

    Source
    ------
    Hampel 1974, J. Am. Stat. Assoc. 69 [from memory]

    Example
    -------
    >>> found = hampel([100.2, 100.4, 100.1, 100.3, 104.9, 100.2, 100.5, 100.3, 100.4], 9, 3.0, 0.1)
    >>> np.flatnonzero(found.outside).tolist()
    [4]
    """
    kept = series_of(values, "hampel", "values", 3)
    within(threshold, 0.0, float("inf"), "hampel", "threshold", "limits of no width make everything a spike")
    if window % 2 == 0 or not 3 <= window <= len(kept):
        allowed = f"an odd number from 3 to {len(kept)}"
        raise ValidityError("detection.hampel", "window", allowed, f"{window}", "as many on one side as on the other")
    if not grain >= 0.0:
        raise ValidityError("detection.hampel", "grain", "0 or more", f"{grain:g}", "it is a width")
    half = window // 2
    medians, mads = _medians(kept, window)
    medians, mads = np.pad(medians, half, mode="edge"), np.pad(mads, half, mode="edge")
    limits = threshold * USUAL_MAD_TO_STANDARD * np.maximum(mads, grain / 2.0)
    return Spikes(medians, limits, np.abs(kept - medians) > limits)


_BLOCK = 65536


def _medians(values: Reals, window: int) -> tuple[Reals, Reals]:
    """Of each whole window the median, and the median distance from it; block by block, to spare memory."""
    windows = sliding_window_view(values, window)
    block = max(1, _BLOCK * 16 // window)
    medians, mads = np.empty(len(windows)), np.empty(len(windows))
    for start in range(0, len(windows), block):
        part = windows[start : start + block]
        medians[start : start + block] = np.median(part, axis=1)
        mads[start : start + block] = np.median(np.abs(part - medians[start : start + block, None]), axis=1)
    return medians, mads


def difference_noise(values: ArrayLike) -> float:
    """Standard deviation of the noise of single readings, from the differences between neighbours.

    Formula
    -------
    s = 1.4826*MAD(x_(i+1) - x_i)/sqrt(2), MAD about the median of the differences

    Parameters
    ----------
    values : array
        readings in the order of time, at least 3 [any unit]

    Returns
    -------
    float
        standard deviation [unit of the values]

    Validity
    --------
    white noise that is wide against the smallest step of the readings; a steady slope does not matter. Correlated noise
    comes out too small by sqrt(1 - phi).

    Source
    ------
    Derived from geometry or first principles, difference of two normal variables [derived and checked]

    Example
    -------
    >>> round(difference_noise([0.0, 1.0, 0.0, -1.0, 0.0, 1.0, 0.0]), 3)
    1.048
    """
    steps = np.diff(series_of(values, "difference_noise", "values", 3))
    return float(MAD_TO_STANDARD * np.median(np.abs(steps - np.median(steps))) / np.sqrt(2.0))


def common_step(values: ArrayLike, least: float) -> float:
    """Width of which all readings lie whole multiples apart: the step in which a series was written.

    Formula
    -------
    greatest q with abs(x_i - x_(i-1)) = k_i*q, k_i whole, by Euclid's algorithm; a rest below 0.01*q counts as none

    Parameters
    ----------
    values : array
        readings in the order of time, at least 1 [any unit]
    least : float
        steps below it count as none, above 0 [unit of the values]

    Returns
    -------
    float
        q; 0 where readings never change, or lie in no common step of that width [unit of the values]

    Validity
    --------
    readings that are a straight line of what was written. Few changes may share a multiple of the true step: of n
    changes all do so by chance in about 1 of 2**n cases.

    Source
    ------
    Euclid, Elements VII, with a tolerance for numbers of 53 bits [from memory]

    Example
    -------
    >>> round(common_step([1.2, 1.5, 1.5, 1.3, 1.8], 1e-6), 9)
    0.1
    """
    within(least, 0.0, float("inf"), "common_step", "least", "a step has a width")
    sizes = np.abs(np.diff(series_of(values, "common_step", "values")))
    sizes = sizes[sizes > 1e-3 * least]
    step = float(sizes.min()) if len(sizes) else 0.0
    while step >= least:
        rests = np.abs(sizes - step * np.round(sizes / step))
        rests = rests[rests > _REST * step]
        if not len(rests):
            return step
        step = float(rests.min())
    return 0.0


_REST = 0.01
"""Of a step: what a difference may lie beside its multiple by."""


@formula(
    method="erf(a) - (1 - exp(-a**2))/(a*sqrt(pi)), a = q/(2*s), the mean over where the level stands in its step",
    gives=("p", "probability that two readings in a row are the same"),
    where={
        "standard_m": ("s", "standard deviation of the noise before rounding", "(0, 10]"),
        "step_m": ("q", "smallest step of the readings", "(0, 10]"),
    },
    source="derived: rounding of normal noise",
)
def repeat_probability(standard_m: Real, step_m: Real) -> Real:
    """Probability that two independent readings of a level at rest come out the same.

    Example
    -------
    >>> round(float(repeat_probability(0.0005, 0.0005)), 4)
    0.2709
    """
    from scipy.special import erf

    a = step_m / (2.0 * standard_m)
    return same_kind(erf(a) + np.expm1(-(a**2)) / (a * np.sqrt(np.pi)))


_P = ("p", "probability that two readings in a row are the same", "[0, 1]")
_RUN = ("n", "readings in the run", "[1, 1000000]")


@formula(
    equation="P = p**(n - 1)",
    gives=("P", "probability that a given run of readings is all the same, about"),
    where={"probability": _P, "run_length": _RUN},
    source="derived: as if each pair were independent",
)
def repeat_run_probability(probability: Real, run_length: Real) -> Real:
    """Probability of a run of identical readings; only about, for the pairs share their place in the step.

    Example
    -------
    >>> round(repeat_run_probability(0.2, 3.0), 9)
    0.04
    """
    return probability ** (run_length - 1)


@formula(
    equation="R = p**(n - 1)*(1 + (N - n)*(1 - p))",
    gives=("R", "runs as long or longer to be expected by chance, about"),
    where={"probability": _P, "run_length": _RUN, "count": ("N", "number of readings", "[1, 1000000000]")},
    requires=(("N >= n", "a run is no longer than its series"),),
    source="derived: starts of runs among independent pairs",
)
def repeat_runs_expected(probability: Real, run_length: Real, count: Real) -> Real:
    """Runs of identical readings to be expected in a whole series by chance.

    Example
    -------
    >>> round(repeat_runs_expected(0.5, 3.0, 5.0), 9)
    0.5
    """
    return probability ** (run_length - 1) * (1 + (count - run_length) * (1 - probability))


@formula(
    equation="n = 1 + ln(alpha)/ln(p)",
    gives=("n", "readings in a run that is as rare as wanted; the next whole number"),
    where={
        "probability": (_P[0], _P[1], "(0, 1)"),
        "chance": ("alpha", "probability of such a run that is accepted", "(0, 1)"),
    },
    source="derived: the probability of a run solved for its length",
)
def repeat_run_limit(probability: Real, chance: Real) -> Real:
    """Length from which a run of identical readings is no chance; long where the step is wide against the noise.

    Example
    -------
    >>> round(float(repeat_run_limit(0.1, 0.001)), 9)
    4.0
    """
    result: Real = 1 + np.log(chance) / np.log(probability)
    return result


class Runs(NamedTuple):
    """Runs of identical readings: the index each begins at, and how many readings it holds."""

    starts: NDArray[Any]
    counts: NDArray[Any]


def identical_runs(values: ArrayLike, least: int) -> Runs:
    """Runs of identical readings, in the order of time.

    Formula
    -------
    x_i = x_(i+1) = ... = x_(i+n-1), n as large as it goes

    Parameters
    ----------
    values : array
        readings in the order of time, as they were written, not converted [any unit]
    least : int
        shortest run that is given, 1 or more

    Returns
    -------
    Runs
        where they begin (from 0) and how long they are

    Validity
    --------
    A run counts against the instrument only while the level is known to have moved by more than one step.

    Source
    ------
    Derived from geometry or first principles, counting [derived and checked]

    Example
    -------
    >>> found = identical_runs([1.0, 1.0, 2.0, 3.0, 3.0, 3.0], 2)
    >>> found.starts.tolist(), found.counts.tolist()
    ([0, 3], [2, 3])
    """
    kept = series_of(values, "identical_runs", "values")
    within(least, 0.0, float("inf"), "identical_runs", "least", "a run holds one reading at least")
    starts = np.concatenate(([0], np.flatnonzero(np.diff(kept)) + 1))
    counts = np.diff(np.concatenate((starts, [len(kept)])))
    return Runs(starts[counts >= least], counts[counts >= least])


@formula(
    equation="n_w = n*T_w/T_o",
    gives=("n_w", "events in the time that is spoken of"),
    where={
        "count": ("n", "events seen, such as spikes", "[0, 1000000000]"),
        "watched_s": ("T_w", "time that is spoken of, for example a day", "(0, 1000000000]"),
        "observed_s": ("T_o", "time over which they were seen, without gaps", "(0, 1000000000]"),
    },
    source="derived: proportion",
)
def events_in_time(count: Real, watched_s: Real, observed_s: Real) -> Real:
    """Events seen, such as spikes, as so many in a day or any other time.

    Example
    -------
    >>> events_in_time(12.0, 86400.0, 259200.0)
    4.0
    """
    return count * watched_s / observed_s


class Censored(NamedTuple):
    """Readings by what they say: which are numbers, and which shares stand at the ends or are missing."""

    inside: NDArray[Any]
    low_share: float
    high_share: float
    missing_share: float


def censored(values: ArrayLike, low: float, high: float) -> Censored:
    """Readings at the ends of the signal kept apart: there the level is beyond, by how much is not known.

    Formula
    -------
    low where x <= low, high where x >= high, missing where not a number

    Parameters
    ----------
    values : array
        readings, NaN where missing; at least 1 [any unit]
    low, high : float
        ends at which the signal saturates, such as 3.8 mA and 20.5 mA [unit of the values]

    Returns
    -------
    Censored
        which readings are inside, shares of all readings at the ends and missing [1]

    Validity
    --------
    low below high; drift, bias and noise are worked from the readings inside alone, and mean little where many are not

    Source
    ------
    Derived from geometry or first principles, counting [derived and checked]

    Example
    -------
    >>> found = censored([3.8, 4.0, 12.0, 20.5], 3.8, 20.5)
    >>> found.inside.tolist(), found.low_share, found.high_share
    ([False, True, True, False], 0.25, 0.25)
    """
    if not low < high:
        raise ValidityError("detection.censored", "low", f"below {high:g}", f"{low:g}", "the ends are two")
    kept = numbers_of(values, "censored", "values")
    missing = np.isnan(kept)
    series_of(np.where(np.isfinite(kept), kept, 0.0), "censored", "values")
    at_low, at_high = kept <= low, kept >= high
    shares = [float(np.mean(where)) for where in (at_low, at_high, missing)]
    return Censored(~(at_low | at_high | missing), *shares)
