"""The error of one reading, and what the readings of one point say together.

An error is what is shown less what is true, as far as the reference knows it. Shares are shares of the span.
"""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_LEVEL = "[-1000, 1000]"
_SHARE = "[-10, 10]"
_SIZE = "[0, 100]"
_LRV = ("LRV", "lower range value, the level at 4 mA", _LEVEL)
_URV = ("URV", "upper range value, the level at 20 mA", _LEVEL)
_UP = ("e_up", "average error with rising level", _SHARE)
_DOWN = ("e_down", "average error with falling level", _SHARE)


@formula(
    equation="h = LRV + s*(URV - LRV)",
    gives=("h", "level at a share of the span"),
    where={
        "share": ("s", "share of the span, 0 at 4 mA and 1 at 20 mA", "[-1, 2]"),
        "lower_range_value_m": _LRV,
        "upper_range_value_m": _URV,
    },
    source="iec-60381-1",
)
def share_level_m(share: Real, lower_range_value_m: Real, upper_range_value_m: Real) -> Real:
    """Level at a share of the span.

    Example
    -------
    >>> round(share_level_m(0.5, 0.1, 2.8), 6)
    1.45
    """
    return lower_range_value_m + share * (upper_range_value_m - lower_range_value_m)


@formula(
    equation="e = h_s - h_r",
    gives=("e", "error of the level"),
    where={
        "shown_m": ("h_s", "level that is shown", _LEVEL),
        "reference_m": ("h_r", "level by the reference", _LEVEL),
    },
    source="iec-61298-2-errors",
)
def level_error_m(shown_m: Real, reference_m: Real) -> Real:
    """Error of a level: what is shown less the reference.

    Example
    -------
    >>> round(level_error_m(1.8535, 1.850), 6)
    0.0035
    """
    return shown_m - reference_m


@formula(
    equation="e_I = I - I_i",
    gives=("e_I", "error of the current"),
    where={
        "current_A": ("I", "loop current that is read", "[0, 0.1]"),
        "ideal_A": ("I_i", "loop current that the level calls for", "[-0.1, 0.1]"),
    },
    source="iec-61298-2-errors",
)
def current_error_A(current_A: Real, ideal_A: Real) -> Real:
    """Error of a loop current: what is read less what the level calls for.

    Example
    -------
    >>> round(current_error_A(0.012028, 0.012), 9)
    2.8e-05
    """
    return current_A - ideal_A


@formula(
    equation="e_s = e/abs(URV - LRV)",
    gives=("e_s", "error as a share of the span"),
    where={
        "error_m": ("e", "error of the level", _LEVEL),
        "lower_range_value_m": _LRV,
        "upper_range_value_m": _URV,
    },
    requires=(("URV != LRV", "a range without span has no shares"),),
    source="iec-61298-2-errors",
)
def error_share(error_m: Real, lower_range_value_m: Real, upper_range_value_m: Real) -> Real:
    """Error of a level as a share of the span; a range that acts in reverse turns no sign.

    Example
    -------
    >>> round(float(error_share(0.0035, 0.1, 2.8)), 7)
    0.0012963
    """
    result: Real = error_m / np.abs(upper_range_value_m - lower_range_value_m)
    return result


@formula(
    equation="e = (e_up + e_down)/2",
    gives=("e", "average error"),
    where={"up_share": _UP, "down_share": _DOWN},
    source="iec-61298-2-errors",
)
def average_error(up_share: Real, down_share: Real) -> Real:
    """Average error at a point: the mean of both directions, however often each was read.

    Example
    -------
    >>> average_error(0.00125, 0.0015)
    0.001375
    """
    return (up_share + down_share) / 2.0


@formula(
    equation="H = abs(e_down - e_up)",
    gives=("H", "hysteresis at the point, with what its dead band adds"),
    where={"up_share": _UP, "down_share": _DOWN},
    source="iec-61298-2-errors",
)
def hysteresis(up_share: Real, down_share: Real) -> Real:
    """Hysteresis at a point: how far the averages of both directions lie apart.

    Example
    -------
    >>> round(float(hysteresis(0.001, 0.00175)), 6)
    0.00075
    """
    result: Real = np.abs(down_share - up_share)
    return result


@formula(
    equation="e = e_s*abs(URV - LRV)",
    gives=("e", "error of the level"),
    where={
        "error_share": ("e_s", "error as a share of the span", _SHARE),
        "lower_range_value_m": _LRV,
        "upper_range_value_m": _URV,
    },
    source="iec-61298-2-errors",
)
def share_error_m(error_share: Real, lower_range_value_m: Real, upper_range_value_m: Real) -> Real:
    """Error of a level from its share of the span.

    Example
    -------
    >>> round(float(share_error_m(0.001, 0.1, 2.8)), 9)
    0.0027
    """
    result: Real = error_share * np.abs(upper_range_value_m - lower_range_value_m)
    return result


@formula(
    equation="d = i*abs(URV - LRV)/0.016",
    gives=("d", "difference of level"),
    where={
        "difference_A": ("i", "difference of current", "[0, 0.1]"),
        "lower_range_value_m": _LRV,
        "upper_range_value_m": _URV,
    },
    source="iec-60381-1",
)
def current_step_m(difference_A: Real, lower_range_value_m: Real, upper_range_value_m: Real) -> Real:
    """Difference of level that a difference of current stands for, such as a digit or an uncertainty of the meter.

    Example
    -------
    >>> round(float(current_step_m(1e-6, 0.1, 2.8)), 9)
    0.00016875
    """
    result: Real = difference_A * np.abs(upper_range_value_m - lower_range_value_m) / 0.016
    return result


@formula(
    equation="u = U/k",
    gives=("u", "standard uncertainty"),
    where={
        "expanded_m": ("U", "expanded uncertainty, as a certificate states it", "[0, 100]"),
        "coverage_factor": ("k", "its coverage factor", "[1, 5]"),
    },
    source="jcgm-100: 4.3.3",
)
def standard_m(expanded_m: Real, coverage_factor: Real) -> Real:
    """Standard uncertainty from an expanded one.

    Example
    -------
    >>> standard_m(0.002, 2.0)
    0.001
    """
    return expanded_m / coverage_factor


@formula(
    equation="u = sqrt(u_r**2 + u_i**2 + (d_r**2 + d_s**2)/12)",
    gives=("u", "standard uncertainty of an error"),
    where={
        "reference_u_m": ("u_r", "standard uncertainty of the reference", _SIZE),
        "meter_u_m": ("u_i", "standard uncertainty of the meter of the current, as a level; 0 without one", _SIZE),
        "reference_digit_m": ("d_r", "digit to which the reference was read", _SIZE),
        "shown_digit_m": ("d_s", "digit of what was shown, as a level", _SIZE),
    },
    source="jcgm-100: 4.3.7 and 5.1.2",
)
def error_u_m(reference_u_m: Real, meter_u_m: Real, reference_digit_m: Real, shown_digit_m: Real) -> Real:
    """Standard uncertainty of the error of one reading: the reference, the meter, and the digits of both readings.

    The scatter of repeated readings is left out where the largest of the errors is judged, which holds it already.

    Example
    -------
    >>> round(float(error_u_m(0.001, 0.0, 0.001, 0.0001)), 6)
    0.001041
    """
    result: Real = np.sqrt(reference_u_m**2 + meter_u_m**2 + (reference_digit_m**2 + shown_digit_m**2) / 12.0)
    return result


@formula(
    equation="U = k*u",
    gives=("U", "expanded uncertainty of an error"),
    where={
        "coverage_factor": ("k", "coverage factor", "[1, 5]"),
        "standard_m": ("u", "standard uncertainty of the error", _SIZE),
    },
    source="jcgm-100: 6.2.1",
)
def expanded_error_m(coverage_factor: Real, standard_m: Real) -> Real:
    """Expanded uncertainty of an error.

    Example
    -------
    >>> expanded_error_m(2.0, 0.001)
    0.002
    """
    return coverage_factor * standard_m
