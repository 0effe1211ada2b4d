"""Run lengths: how many samples a chart takes on average until it alarms, in control and after a shift; its design.

In control every alarm is false. All of it holds for independent normal residuals whose standard deviation is known.
"""

from __future__ import annotations

from collections.abc import Callable
from math import log

import numpy as np

from onedatum.foundation.numerics import Real, same_kind
from onedatum.foundation.working import formula
from onedatum.physics.detection.chain import cusum_one_side, ewma_both_sides

_K = ("k", "allowance: half the shift that is looked for, in standard deviations", "[0.1, 2]")
_H = ("h", "decision interval, in standard deviations", "(0, 50]")
_SHIFT = ("delta", "shift of the residual, in standard deviations", "[0, 10]")
_WEIGHT = ("l", "weight of the newest residual", "[0.01, 1]")
_FACTOR = ("L", "width of the limits, in standard deviations", "(0, 6]")
_LENGTH = ("A", "mean number of samples until the alarm")
_WANTED = ("A_0", "mean number of samples until a false alarm that is wanted", "[10, 1000000000]")
_BEYOND = 1.166
"""By how much a sum overshoots its limit, twice 0.583, after Siegmund."""

_Function = Callable[..., float]


def _each(worked: _Function, *arguments: Real) -> Real:
    """A function of floats for arrays that broadcast; NaN where an argument is not a number."""
    given = np.broadcast_arrays(*arguments)
    flat = zip(*(np.ravel(part).tolist() for part in given), strict=True)
    found = [worked(*one) if np.all(np.isfinite(one)) else np.nan for one in flat]
    return same_kind(np.reshape(np.array(found, dtype=np.float64), given[0].shape))


def _solved(run_length: _Function, wanted: float, limit: float) -> float:
    """Where a run length that grows up to a limit is as wanted; by its logarithm, which is nearly straight."""
    from scipy.optimize import brentq

    return float(brentq(lambda at: log(run_length(at) / wanted), 1e-3, limit, xtol=1e-11, rtol=1e-12))


@formula(
    method="1 over the sum of 1/A_u and 1/A_d, the run lengths of the sums upward and downward; each from its integral "
    "equation A(u) = 1 + A(0)*P(next sum at 0) + integral of A(v)*f(v - u + k - delta) over v from 0 to h, at Gauss "
    "points",
    gives=_LENGTH,
    where={"allowance": _K, "decision_interval": _H, "shift": _SHIFT},
    source="page-1954",
)
def cusum_run_length(allowance: Real, decision_interval: Real, shift: Real) -> Real:
    """Run length of cumulative sums on both sides, from zero.

    Example
    -------
    >>> round(float(cusum_run_length(0.5, 4.0, 0.0)), 1), round(float(cusum_run_length(0.5, 4.0, 1.0)), 2)
    (167.7, 8.38)
    """

    def both(allowance: float, decision_interval: float, shift: float) -> float:
        if not (allowance > 0.0 and decision_interval > 0.0):
            return np.nan
        up = cusum_one_side(allowance, decision_interval, shift)
        down = cusum_one_side(allowance, decision_interval, -shift)
        return 1.0 / (1.0 / up + 1.0 / down)

    return _each(both, allowance, decision_interval, shift)


@formula(
    equation="A = (exp(-2*(delta - k)*(h + 1.166)) + 2*(delta - k)*(h + 1.166) - 1)/(2*(delta - k)**2)",
    gives=("A", "mean number of samples until the alarm of one sum, approximately"),
    where={
        "allowance": _K,
        "decision_interval": _H,
        "shift": ("delta", "shift towards the side of the sum", "[0, 10]"),
    },
    requires=(("abs(delta - k) >= 0.01", "at delta = k the equation becomes nothing over nothing"),),
    source="siegmund-1985",
)
def cusum_run_length_approximate(allowance: Real, decision_interval: Real, shift: Real) -> Real:
    """Run length of one cumulative sum by Siegmund's approximation: within a few per cent, for a check by hand.

    Example
    -------
    >>> round(float(cusum_run_length_approximate(0.5, 5.0, 0.0)) / 2, 1)
    469.1
    """
    drift, reach = shift - allowance, decision_interval + _BEYOND
    result: Real = (np.exp(-2 * drift * reach) + 2 * drift * reach - 1) / (2 * drift**2)
    return result


@formula(
    equation="A = 1/(1/A_u + 1/A_d)",
    gives=_LENGTH,
    where={
        "up_run_length": ("A_u", "run length of the sum upward", "[1, 1e+300]"),
        "down_run_length": ("A_d", "run length of the sum downward", "[1, 1e+300]"),
    },
    source="page-1954: both sides",
)
def both_sides_run_length(up_run_length: Real, down_run_length: Real) -> Real:
    """Run length of two cumulative sums watched together.

    Example
    -------
    >>> both_sides_run_length(400.0, 400.0)
    200.0
    """
    return 1 / (1 / up_run_length + 1 / down_run_length)


@formula(
    method="the h at which the run length of both sums without a shift is A_0",
    gives=("h", "decision interval, in standard deviations"),
    where={"allowance": ("k", _K[1], "[0.25, 1]"), "wanted_run_length": _WANTED},
    source="page-1954",
)
def cusum_decision_interval(allowance: Real, wanted_run_length: Real) -> Real:
    """Decision interval of cumulative sums on both sides for a wanted time between false alarms.

    Example
    -------
    >>> round(float(cusum_decision_interval(0.5, 10_000.0)), 3)
    8.053
    """

    def found(allowance: float, wanted: float) -> float:
        if not (allowance > 0.0 and wanted > 0.0):
            return np.nan
        return _solved(lambda h: cusum_one_side(allowance, h, 0.0) / 2.0, wanted, 60.0)

    return _each(found, allowance, wanted_run_length)


@formula(
    method="the integral equation A(u) = 1 + integral of A(v)*f((v - (1 - l)*u)/l - delta)/l over v between the limits "
    "L*sqrt(l/(2 - l)), which stand still; at Gauss points, from zero",
    gives=_LENGTH,
    where={"weight": _WEIGHT, "limit_factor": _FACTOR, "shift": _SHIFT},
    source="lucas-saccucci-1990",
)
def ewma_run_length(weight: Real, limit_factor: Real, shift: Real) -> Real:
    """Run length of an exponentially weighted moving average with limits that stand still.

    With exact limits, narrower at the start, both run lengths are a little shorter.

    Example
    -------
    >>> round(float(ewma_run_length(0.1, 2.814, 0.0)), 1), round(float(ewma_run_length(0.1, 2.814, 1.0)), 1)
    (499.6, 10.3)
    """

    def worked(share: float, factor: float, shift: float) -> float:
        return ewma_both_sides(share, factor, shift) if 0.0 < share <= 1.0 and factor > 0.0 else np.nan

    return _each(worked, weight, limit_factor, shift)


@formula(
    method="the L at which the run length of the moving average without a shift is A_0",
    gives=("L", "width of the limits, in standard deviations of the moving average"),
    where={"weight": ("l", _WEIGHT[1], "[0.02, 1]"), "wanted_run_length": _WANTED},
    source="lucas-saccucci-1990",
)
def ewma_limit_factor(weight: Real, wanted_run_length: Real) -> Real:
    """Width of the limits of a moving average for a wanted time between false alarms.

    Example
    -------
    >>> round(float(ewma_limit_factor(0.1, 500.0)), 3)
    2.814
    """

    def found(share: float, wanted: float) -> float:
        if not (0.0 < share <= 1.0 and wanted > 0.0):
            return np.nan
        return _solved(lambda factor: ewma_both_sides(share, factor, 0.0), wanted, 8.0)

    return _each(found, weight, wanted_run_length)


@formula(
    method="1 over P(z < -L - delta) + P(z > L - delta), z standard normal",
    gives=_LENGTH,
    where={"limit_factor": _FACTOR, "shift": _SHIFT},
    source="derived: mean of a geometric distribution",
)
def shewhart_run_length(limit_factor: Real, shift: Real) -> Real:
    """Run length of limits for single residuals.

    Example
    -------
    >>> round(float(shewhart_run_length(3.0, 0.0)), 1), round(float(shewhart_run_length(3.0, 1.0)), 1)
    (370.4, 43.9)
    """
    from scipy.special import ndtr

    return same_kind(1.0 / (ndtr(-limit_factor - shift) + ndtr(shift - limit_factor)))


@formula(
    equation="n_f = T/(dt*A)",
    gives=("n_f", "false alarms to be expected in the time watched"),
    where={
        "watched_s": ("T", "time watched, for example a day", "(0, 1000000000]"),
        "sampling_s": ("dt", "time from one sample to the next", "(0, 10000000]"),
        "run_length": ("A", "mean number of samples until a false alarm", "[1, 1e+300]"),
    },
    source="derived: samples over run length",
)
def false_alarms(watched_s: Real, sampling_s: Real, run_length: Real) -> Real:
    """False alarms to be expected, for a chart that begins anew after each.

    Example
    -------
    >>> round(false_alarms(86400.0, 60.0, 500.0), 9)
    2.88
    """
    return watched_s / (sampling_s * run_length)
