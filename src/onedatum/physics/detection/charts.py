"""Control charts of a standardised residual: Shewhart, tabular cumulative sum, exponentially weighted moving average.

They take residuals divided by their standard deviation, independent of each other. Readings of a level log are not
independent: thin them, or chart the innovations (see `autocorrelation`). An alarm says that the residual has moved;
what moved it (zero, density, table, leak, flow meter) is not in the chart.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from onedatum.foundation.numerics import Real, Reals
from onedatum.foundation.working import formula
from onedatum.physics.detection.series import first_true, series_of, within

_ANY = float("inf")


class CusumPath(NamedTuple):
    """Both sums of a cumulative sum chart, the first alarm, and where the move began that raised it."""

    sums_up: Reals
    sums_down: Reals
    first: int | None
    """Index of the first sample in alarm, counted from 0; None without an alarm."""
    onset: int | None
    """Index of the first sample after the sum in alarm was last zero: the estimate of when the move began."""
    upward: bool | None
    """Whether the first alarm is that of the upper sum."""


def cusum(z: ArrayLike, allowance: float, decision_interval: float) -> CusumPath:
    """Tabular cumulative sums on both sides; they run on after an alarm.

    Formula
    -------
    C+_i = max(0, C+_(i-1) + z_i - k), C-_i = max(0, C-_(i-1) - z_i - k); alarm where one is above h. Worked as
    C_i = S_i - min(0, S_1, ..., S_i), S_i the sum of z - k up to i, which is the same.

    Parameters
    ----------
    z : array
        residuals over their standard deviation, in the order of time [1]
    allowance : float
        k, half the shift that is looked for; above 0 [1]
    decision_interval : float
        h, above 0 [1]

    Returns
    -------
    CusumPath
        both sums, first alarm, onset and side

    Validity
    --------
    independent residuals; gaps left out. Sums of a million samples keep some ten digits; a single value of 1e12 takes
    them away from all that follow. Raises ValidityError for a series with gaps.

    Source
    ------
    Page 1954, Biometrika 41 [from memory]

    Example
    -------
    >>> path = cusum([0.2, -0.3, 0.9, 1.4, 0.7, 1.8, 2.0, 1.1], 0.5, 4.0)
    >>> path.sums_up.round(9).tolist(), path.first, path.onset
    ([0.0, 0.0, 0.4, 1.3, 1.5, 2.8, 4.3, 4.9], 6, 2)
    """
    residuals = series_of(z, "cusum", "z")
    within(allowance, 0.0, _ANY, "cusum", "allowance", "without it the sums grow of themselves")
    within(decision_interval, 0.0, _ANY, "cusum", "decision_interval", "a sum is never below 0")
    up, down = _sum_above(residuals - allowance), _sum_above(-residuals - allowance)
    first = first_true((up > decision_interval) | (down > decision_interval))
    if first is None:
        return CusumPath(up, down, None, None, None)
    upward = bool(up[first] > decision_interval)
    zeros = np.flatnonzero((up if upward else down)[:first] <= 0.0)
    return CusumPath(up, down, first, int(zeros[-1]) + 1 if len(zeros) else 0, upward)


class Alarms(NamedTuple):
    """Every alarm of a chart that begins anew after each: where it came, where its move began, to which side."""

    firsts: NDArray[Any]
    onsets: NDArray[Any]
    upward: NDArray[Any]


_LOOK_AHEAD = 4096
"""Samples looked at after an alarm before more are taken."""


def cusum_alarms(z: ArrayLike, allowance: float, decision_interval: float) -> Alarms:
    """All alarms of cumulative sums that begin at zero again after each.

    Formula
    -------
    as `cusum`; after an alarm C+ = C- = 0

    Parameters
    ----------
    z : array
        residuals over their standard deviation, in the order of time [1]
    allowance : float
        k, half the shift that is looked for; above 0 [1]
    decision_interval : float
        h, above 0 [1]

    Returns
    -------
    Alarms
        indices of the alarms and of their onsets (from 0), and whether upward

    Validity
    --------
    as `cusum`. In control they are about as many as samples over run length; a shift that stays alarms again and again.

    Source
    ------
    Page 1954, Biometrika 41 [from memory]

    Example
    -------
    >>> cusum_alarms([3.0, 3.0, 0.0, -3.0, -3.0], 0.5, 4.0).firsts.tolist()
    [1, 4]
    """
    residuals = series_of(z, "cusum_alarms", "z")
    found: list[tuple[int, int, bool]] = []
    start, ahead = 0, _LOOK_AHEAD
    while start < len(residuals):
        path = cusum(residuals[start : start + ahead], allowance, decision_interval)
        if path.first is not None and path.onset is not None and path.upward is not None:
            found.append((start + path.first, start + path.onset, path.upward))
            start, ahead = start + path.first + 1, _LOOK_AHEAD
        elif start + ahead >= len(residuals):
            break
        else:
            ahead *= 4
    firsts, onsets, upward = zip(*found, strict=True) if found else ((), (), ())
    return Alarms(np.array(firsts, dtype=np.int64), np.array(onsets, dtype=np.int64), np.array(upward, dtype=np.bool_))


def _sum_above(steps: Reals) -> Reals:
    """The sum of the steps that never falls below zero."""
    sums = np.cumsum(steps)
    return sums - np.minimum(np.minimum.accumulate(sums), 0.0)


@formula(
    method="L*sqrt(l/(2 - l)*(1 - (1 - l)**(2*i)))",
    gives=("l_i", "limit of the moving average at this sample, in standard deviations of the residual"),
    where={
        "limit_factor": ("L", "width of the limits, in standard deviations of the moving average", "(0, 10]"),
        "weight": ("l", "weight of the newest residual", "[0.001, 1]"),
        "sample": ("i", "sample, counted from 1", "[1, 1000000000]"),
    },
    source="lucas-saccucci-1990: exact limits",
)
def ewma_limit(limit_factor: Real, weight: Real, sample: Real) -> Real:
    """Limit of an exponentially weighted moving average that began at zero; narrow at first, then steady.

    Example
    -------
    >>> round(float(ewma_limit(2.962, 0.2, 1.0)), 9)
    0.5924
    """
    result: Real = limit_factor * np.sqrt(weight / (2 - weight) * (1 - (1 - weight) ** (2 * sample)))
    return result


class EwmaPath(NamedTuple):
    """The moving average, its limits sample by sample, and the first alarm (index from 0) or None."""

    averages: Reals
    limits: Reals
    first: int | None


def ewma(z: ArrayLike, weight: float, limit_factor: float) -> EwmaPath:
    """Exponentially weighted moving average from zero, with exact limits.

    Formula
    -------
    w_i = l*z_i + (1 - l)*w_(i-1), w_0 = 0; alarm where abs(w_i) > L*sqrt(l/(2 - l)*(1 - (1 - l)**(2*i)))

    Parameters
    ----------
    z : array
        residuals over their standard deviation, in the order of time [1]
    weight : float
        l, weight of the newest residual, above 0 up to 1 [1]
    limit_factor : float
        L, width of the limits, above 0 [1]

    Returns
    -------
    EwmaPath
        averages and limits [1], index of the first alarm

    Validity
    --------
    independent residuals; gaps left out; raises ValidityError for a series with gaps

    Source
    ------
    Roberts 1959; Lucas and Saccucci 1990, Technometrics 32 [from memory]

    Example
    -------
    >>> ewma([0.2, -0.3, 0.9], 0.2, 2.962).averages.round(9).tolist()
    [0.04, -0.028, 0.1576]
    """
    from scipy.signal import lfilter

    residuals = series_of(z, "ewma", "z")
    within(weight, 0.0, 1.0, "ewma", "weight", "it is a share")
    within(limit_factor, 0.0, _ANY, "ewma", "limit_factor", "limits of no width alarm at everything")
    averages: Reals = np.asarray(lfilter([weight], [1.0, weight - 1.0], residuals), dtype=np.float64)
    limits = np.asarray(ewma_limit(limit_factor, weight, np.arange(1.0, len(residuals) + 1.0)))
    return EwmaPath(averages, limits, first_true(np.abs(averages) > limits))


def shewhart(z: ArrayLike, limit_factor: float) -> NDArray[Any]:
    """Where single residuals lie outside the limits.

    Formula
    -------
    abs(z_i) > L

    Parameters
    ----------
    z : array
        residuals over their standard deviation [1]
    limit_factor : float
        L, width of the limits, above 0 [1]

    Returns
    -------
    array of bool
        whether each is outside

    Validity
    --------
    residuals without gaps, or ValidityError

    Source
    ------
    Shewhart 1931 [from memory]

    Example
    -------
    >>> shewhart([0.1, -3.2, 2.9], 3.0).tolist()
    [False, True, False]
    """
    residuals = series_of(z, "shewhart", "z")
    within(limit_factor, 0.0, _ANY, "shewhart", "limit_factor", "limits of no width alarm at everything")
    outside: NDArray[Any] = np.abs(residuals) > limit_factor
    return outside
