"""Levels of concern: critical high, where liquid overflows or damage begins, and high-high, where the alarm stands.

What flows in between alarm and standstill is a volume; the vessel's own table turns it into a height.
"""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_RATE = ("Q", "largest filling rate", "[0, 100]")
_RESPONSE = ("t_r", "response time from the alarm to standstill of the flow", "[0, 1000000]")
_DAMPING = ("tau", "time constant of the damping", "[0, 10000]")
_SCAN = ("t_s", "time between two readings of the receiver", "[0, 10000]")
_CRITICAL = ("h_CH", "critical high level", "[-1000, 1000]")
_ALLOWANCE = ("a", "level allowance as stated", "[0, 100]")


@formula(
    equation="V_HH = V_CH - Q*(t_r + tau + t_s)",
    gives=("V_HH", "volume at which the alarm must come"),
    where={
        "critical_volume_m3": ("V_CH", "volume at critical high", "[0, 1000000]"),
        "fill_rate_m3_per_s": _RATE,
        "response_time_s": _RESPONSE,
        "damping_time_s": _DAMPING,
        "scan_time_s": _SCAN,
    },
    requires=(("V_CH >= Q*(t_r + tau + t_s)", "what flows in after the alarm must have room below critical high"),),
    source="api-2350: volume that flows in during the response time; time of damping and scan added, derived",
)
def alarm_volume_m3(
    critical_volume_m3: Real,
    fill_rate_m3_per_s: Real,
    response_time_s: Real,
    damping_time_s: Real,
    scan_time_s: Real,
) -> Real:
    """Volume in the vessel at which the high-high alarm must come.

    A first-order damping lags a steady rise by its time constant, a receiver by one reading at most.

    Example
    -------
    >>> round(alarm_volume_m3(5.40, 1.2 / 3600, 900.0, 0.0, 0.0), 4)
    5.1
    """
    return critical_volume_m3 - fill_rate_m3_per_s * (response_time_s + damping_time_s + scan_time_s)


@formula(
    equation="h_HH = min(h_V, h_CH - g) - max(a, U) - f",
    gives=("h_HH", "high-high level, the highest place for the alarm"),
    where={
        "level_by_volume_m": ("h_V", "level at the alarm volume, from the table of the vessel", "[-1000, 1000]"),
        "critical_high_m": _CRITICAL,
        "least_gap_m": ("g", "least gap below critical high", "[0, 100]"),
        "allowance_m": _ALLOWANCE,
        "level_uncertainty_m": ("U", "expanded uncertainty of the level", "[0, 100]"),
        "foam_m": ("f", "height of foam on the surface", "[0, 100]"),
    },
    source="api-2350: least gap of 75 mm below critical high; uncertainty and foam subtracted, derived",
)
def high_high_level_m(
    level_by_volume_m: Real,
    critical_high_m: Real,
    least_gap_m: Real,
    allowance_m: Real,
    level_uncertainty_m: Real,
    foam_m: Real,
) -> Real:
    """Highest level at which the high-high alarm may stand.

    Expansion of a full vessel that warms up is not counted.

    Example
    -------
    >>> float(round(high_high_level_m(2.7273, 2.900, 0.075, 0.010, 0.00238, 0.0), 4))
    2.7173
    """
    capped: Real = np.minimum(level_by_volume_m, critical_high_m - least_gap_m)
    return capped - np.maximum(allowance_m, level_uncertainty_m) - foam_m


@formula(
    equation="h_c = h_CH - Q*(t_r + tau + t_s)/A - a",
    gives=("h_c", "high-high level by constant area, for comparison"),
    where={
        "critical_high_m": _CRITICAL,
        "area_m2": ("A", "section of the shell", "(0, 10000]"),
        "fill_rate_m3_per_s": _RATE,
        "response_time_s": _RESPONSE,
        "damping_time_s": _DAMPING,
        "scan_time_s": _SCAN,
        "allowance_m": _ALLOWANCE,
    },
    source="derived: rise of the surface in an upright shell",
)
def high_high_by_constant_area_m(
    critical_high_m: Real,
    area_m2: Real,
    fill_rate_m3_per_s: Real,
    response_time_s: Real,
    damping_time_s: Real,
    scan_time_s: Real,
    allowance_m: Real,
) -> Real:
    """High-high level as a sheet without the shape of the head would give it.

    For comparison only: the section of a head narrows towards the top, so the true alarm must stand lower.

    Example
    -------
    >>> round(high_high_by_constant_area_m(2.900, 2.010619, 1.2 / 3600, 900.0, 0.0, 0.0, 0.010), 4)
    2.7408
    """
    inflow_m3 = fill_rate_m3_per_s * (response_time_s + damping_time_s + scan_time_s)
    return critical_high_m - inflow_m3 / area_m2 - allowance_m


@formula(
    equation="d = h_lim - h",
    gives=("d", "height left to the limit, negative beyond it"),
    where={
        "limit_m": ("h_lim", "limiting level", "[-1000, 1000]"),
        "value_m": ("h", "level compared with it", "[-1000, 1000]"),
    },
    source="derived: difference",
)
def margin_m(limit_m: Real, value_m: Real) -> Real:
    """Height left to a limit.

    Example
    -------
    >>> round(margin_m(2.7009, 2.7173), 4)
    -0.0164
    """
    return limit_m - value_m


@formula(
    equation="U_a = sqrt(U**2 + (2*u_r)**2)",
    gives=("U_a", "expanded uncertainty of the level as the receiver sees it, k = 2"),
    where={
        "level_uncertainty_m": ("U", "expanded uncertainty of the level, k = 2", "[0, 100]"),
        "receiver_standard_m": ("u_r", "standard uncertainty of the receiver, as a level", "[0, 50]"),
    },
    source="jcgm-100: independent contributions, k = 2",
)
def alarm_uncertainty_m(level_uncertainty_m: Real, receiver_standard_m: Real) -> Real:
    """Expanded uncertainty of the level at which the receiver gives the alarm.

    Example
    -------
    >>> float(round(alarm_uncertainty_m(0.003, 0.002), 6))
    0.005
    """
    result: Real = np.sqrt(level_uncertainty_m**2 + (2 * receiver_standard_m) ** 2)
    return result
