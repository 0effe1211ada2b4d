"""When to look again: intervals of recalibration by drift, by steps, by the share found good."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_TIME = "(0, 3.16e9]"
_BEFORE = ("I_1", "interval that was kept", _TIME)


@formula(
    equation="I = (T - g - abs(b))/d",
    gives=("I", "interval until the drift has used up the tolerance"),
    where={
        "tolerance_m": ("T", "half the width of the tolerance", "(0, 100]"),
        "guard_m": ("g", "width of the guard band", "[0, 100]"),
        "as_left_m": ("b", "error as left", "[-100, 100]"),
        "drift_m_per_s": ("d", "size of the drift", "(0, 0.001]"),
    },
    requires=(("T > g + abs(b)", "what is left at the limit of acceptance leaves no room to drift"),),
    source="ilac-g24: drift",
)
def interval_by_drift_s(tolerance_m: Real, guard_m: Real, as_left_m: Real, drift_m_per_s: Real) -> Real:
    """Interval by drift: a steady drift, away from zero, until the limit of acceptance is met.

    Example
    -------
    >>> month_s = 2629800.0
    >>> round(float(interval_by_drift_s(0.005, 0.0015, 0.0008, 0.00025 / month_s)) / month_s, 9)
    10.8
    """
    result: Real = (tolerance_m - guard_m - np.abs(as_left_m)) / drift_m_per_s
    return result


@formula(
    equation="I_2 = I_1*ln(R_t)/ln(R_o)",
    gives=("I_2", "interval at which the wanted share is still within tolerance"),
    where={
        "interval_s": _BEFORE,
        "wanted_share": ("R_t", "share that shall be found within tolerance", "(0, 1)"),
        "found_share": ("R_o", "share that was found within tolerance", "(0, 1)"),
    },
    source="ilac-g24: reliability",
)
def interval_by_reliability_s(interval_s: Real, wanted_share: Real, found_share: Real) -> Real:
    """Interval by the share found within tolerance, where instruments leave it at a constant rate.

    Example
    -------
    >>> round(float(interval_by_reliability_s(12.0, 0.95, 0.90)), 3)
    5.842
    """
    result: Real = interval_s * np.log(wanted_share) / np.log(found_share)
    return result


@formula(
    equation="I_2 = f*I_1",
    gives=("I_2", "next interval"),
    where={"interval_s": _BEFORE, "factor": ("f", "step: above 1 longer, below 1 shorter", "(0, 10]")},
    source="ilac-g24: staircase",
)
def interval_by_steps_s(interval_s: Real, factor: Real) -> Real:
    """Interval by steps: longer after a good finding, shorter after a bad one; the steps are agreed, not given.

    Example
    -------
    >>> interval_by_steps_s(12.0, 1.25)
    15.0
    """
    return factor * interval_s
