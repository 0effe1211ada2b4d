"""Two known levels against the range of the case: the errors of slope and offset, and the range the readings lie on.

A known level is one that a dip or a mark tells; the level shown beside it is what the range of the case makes of the
reading. The two need not be those of 4 and 20 mA. Between them and beyond, the measurement is taken as straight.
"""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_LEVEL = "[-1000, 1000]"
_SIZE = "[0, 100]"
_CURRENT = "[0, 0.1]"
_FIRST = ("H_1", "first known level", _LEVEL)
_SECOND = ("H_2", "second known level", _LEVEL)
_U_1 = ("u_1", "standard uncertainty of the error at the first known level", _SIZE)
_U_2 = ("u_2", "standard uncertainty of the error at the second known level", _SIZE)
_LRV = ("LRV", "lower range value, the level at 4 mA", _LEVEL)
_URV = ("URV", "upper range value, the level at 20 mA", _LEVEL)
_APART = ("H_2 != H_1", "the same level twice tells no slope")


@formula(
    equation="g = (h_2 - h_1)/(H_2 - H_1) - 1",
    gives=("g", "error of the slope, as a share of it"),
    where={
        "first_known_m": _FIRST,
        "second_known_m": _SECOND,
        "first_shown_m": ("h_1", "level shown at the first known level", _LEVEL),
        "second_shown_m": ("h_2", "level shown at the second known level", _LEVEL),
    },
    requires=(_APART,),
    source="derived",
)
def slope_error(first_known_m: Real, second_known_m: Real, first_shown_m: Real, second_shown_m: Real) -> Real:
    """Error of the slope from two known levels; below -1 the readings run against the range.

    Example
    -------
    >>> round(slope_error(0.5, 2.5, 0.51, 2.53), 6)
    0.01
    """
    return (second_shown_m - first_shown_m) / (second_known_m - first_known_m) - 1.0


@formula(
    equation="e = h_1 - H_1 + g*(H - H_1)",
    gives=("e", "error of the level"),
    where={
        "level_m": ("H", "level at which the error is asked for", _LEVEL),
        "first_known_m": _FIRST,
        "first_shown_m": ("h_1", "level shown at the first known level", _LEVEL),
        "slope_error": ("g", "error of the slope", "[-1000, 1000]"),
    },
    source="derived",
)
def error_at_m(level_m: Real, first_known_m: Real, first_shown_m: Real, slope_error: Real) -> Real:
    """Error that the line through the known levels makes at any level; with a slope of no error the offset alone.

    Example
    -------
    >>> round(error_at_m(0.0, 0.5, 0.51, 0.01), 6)
    0.005
    """
    return first_shown_m - first_known_m + slope_error * (level_m - first_known_m)


@formula(
    equation="H = H_1 + (H_2 - H_1)*(I - I_1)/(I_2 - I_1)",
    gives=("H", "level that lies at the current"),
    where={
        "current_A": ("I", "current asked for", _CURRENT),
        "first_known_m": _FIRST,
        "second_known_m": _SECOND,
        "first_current_A": ("I_1", "current read at the first known level", _CURRENT),
        "second_current_A": ("I_2", "current read at the second known level", _CURRENT),
    },
    requires=(("I_2 != I_1", "two readings that agree lie on no range"),),
    source="iec-60381-1",
)
def level_of_line_m(
    current_A: Real, first_known_m: Real, second_known_m: Real, first_current_A: Real, second_current_A: Real
) -> Real:
    """Level at a current by the straight line through two known levels; at 4 and 20 mA the range the readings lie on.

    Example
    -------
    >>> round(level_of_line_m(0.004, 1.35, 2.40, 0.01152, 0.01770), 6)
    0.07233
    """
    share = (current_A - first_current_A) / (second_current_A - first_current_A)
    return first_known_m + (second_known_m - first_known_m) * share


@formula(
    equation="C = C_1 + (C_2 - C_1)*(H - H_1)/(H_2 - H_1)",
    gives=("C", "capacitance at the level"),
    where={
        "level_m": ("H", "level asked for", _LEVEL),
        "first_known_m": _FIRST,
        "second_known_m": _SECOND,
        "first_capacitance_F": ("C_1", "capacitance at the first known level", "[0, 1]"),
        "second_capacitance_F": ("C_2", "capacitance at the second known level", "[0, 1]"),
    },
    requires=(_APART,),
    source="derived",
)
def capacitance_of_line_F(
    level_m: Real,
    first_known_m: Real,
    second_known_m: Real,
    first_capacitance_F: Real,
    second_capacitance_F: Real,
) -> Real:
    """Capacitance at a level by the straight line through two wetted levels: what an even probe is set to.

    Example
    -------
    >>> round(1e12 * capacitance_of_line_F(0.15, 0.5, 1.5, 200e-12, 400e-12), 6)
    130.0
    """
    share = (level_m - first_known_m) / (second_known_m - first_known_m)
    return first_capacitance_F + (second_capacitance_F - first_capacitance_F) * share


@formula(
    equation="u_g = sqrt(u_1**2 + u_2**2)/abs(H_2 - H_1)",
    gives=("u_g", "standard uncertainty of the error of the slope"),
    where={"first_u_m": _U_1, "second_u_m": _U_2, "first_known_m": _FIRST, "second_known_m": _SECOND},
    requires=(_APART,),
    source="jcgm-100: 5.1.2",
)
def slope_error_u(first_u_m: Real, second_u_m: Real, first_known_m: Real, second_known_m: Real) -> Real:
    """Standard uncertainty of the error of the slope; what both dips have in common moves no slope.

    Example
    -------
    >>> round(float(slope_error_u(0.003, 0.004, 0.5, 2.5)), 9)
    0.0025
    """
    result: Real = np.sqrt(first_u_m**2 + second_u_m**2) / np.abs(second_known_m - first_known_m)
    return result


@formula(
    equation="u_e = sqrt((u_1*(H_2 - H))**2 + (u_2*(H - H_1))**2)/abs(H_2 - H_1)",
    gives=("u_e", "standard uncertainty of the error at the level, that of the datum apart"),
    where={
        "level_m": ("H", "level at which the error is asked for", _LEVEL),
        "first_known_m": _FIRST,
        "second_known_m": _SECOND,
        "first_u_m": _U_1,
        "second_u_m": _U_2,
    },
    requires=(_APART,),
    source="jcgm-100: 5.1.2",
)
def error_at_u_m(level_m: Real, first_known_m: Real, second_known_m: Real, first_u_m: Real, second_u_m: Real) -> Real:
    """Standard uncertainty of the error by the line at any level: it grows outside the two known levels.

    Example
    -------
    >>> round(float(error_at_u_m(4.0, 1.0, 2.0, 0.001, 0.001)), 9)
    0.003605551
    """
    own_m2 = (first_u_m * (second_known_m - level_m)) ** 2 + (second_u_m * (level_m - first_known_m)) ** 2
    result: Real = np.sqrt(own_m2) / np.abs(second_known_m - first_known_m)
    return result


@formula(
    equation="d = k*sqrt(u_1**2 + u_2**2)*abs(URV - LRV)/E",
    gives=("d", "distance that two known levels need"),
    where={
        "first_u_m": _U_1,
        "second_u_m": _U_2,
        "coverage_factor": ("k", "coverage factor", "[1, 5]"),
        "lower_range_value_m": _LRV,
        "upper_range_value_m": _URV,
        "allowed_m": ("E", "error of the level allowed", "(0, 100]"),
    },
    source="derived",
)
def least_apart_m(
    first_u_m: Real,
    second_u_m: Real,
    coverage_factor: Real,
    lower_range_value_m: Real,
    upper_range_value_m: Real,
    allowed_m: Real,
) -> Real:
    """Distance of two known levels at which the slope, over the whole span, is known as well as the error allowed.

    Example
    -------
    >>> round(float(least_apart_m(0.003, 0.004, 2.0, 0.1, 2.8, 0.015)), 9)
    1.8
    """
    span = np.abs(upper_range_value_m - lower_range_value_m)
    result: Real = coverage_factor * np.sqrt(first_u_m**2 + second_u_m**2) * span / allowed_m
    return result
