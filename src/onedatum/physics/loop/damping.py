"""Damping of the first order: how far the output lags a step, a ramp and a wave, and what is left of noise.

The damping time is the time constant: after it 63.2 % of a step are shown. Some documents call another time by that
name, such as that to 90 %; which is meant is to be asked for.
"""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_TIME = ("t", "time since the beginning", "[0, 1000000]")
_DAMPING = ("tau", "time constant of the damping", "(0, 10000]")
_RATE = ("v", "rate at which the level rises, negative where it falls", "[-100, 100]")
_INTERVAL = ("dt", "time between two readings", "(0, 100000]")
_LINEAR = "derived: linear system of the first order"


@formula(
    equation="y = 1 - exp(-t/tau)",
    gives=("y", "share of the step that is shown"),
    where={"time_s": _TIME, "damping_time_s": _DAMPING},
    source=_LINEAR,
)
def step_response(time_s: Real, damping_time_s: Real) -> Real:
    """Share of a step that a damped output shows after a time.

    Example
    -------
    >>> round(float(step_response(4.0, 4.0)), 6)
    0.632121
    """
    result: Real = -np.expm1(-time_s / damping_time_s)
    return result


@formula(
    equation="t = -tau*ln(1 - y)",
    gives=("t", "time until the share is shown"),
    where={"damping_time_s": _DAMPING, "share": ("y", "share of the step that is shown", "[0, 1)")},
    source=_LINEAR,
)
def time_to_share_s(damping_time_s: Real, share: Real) -> Real:
    """Time until a damped output shows a share of a step.

    Example
    -------
    >>> round(float(time_to_share_s(4.0, 0.9)), 6)
    9.21034
    """
    result: Real = -damping_time_s * np.log1p(-share)
    return result


@formula(
    equation="t_r = tau*ln(9)",
    gives=("t_r", "rise time from 10 to 90 % of a step"),
    where={"damping_time_s": _DAMPING},
    source="iec-61298-2: rise time from 10 to 90 % of a step",
)
def rise_time_s(damping_time_s: Real) -> Real:
    """Rise time of a damped output from 10 to 90 % of a step.

    Example
    -------
    >>> round(rise_time_s(4.0), 6)
    8.788898
    """
    return damping_time_s * float(np.log(9.0))


@formula(
    equation="dh = v*tau*(1 - exp(-t/tau))",
    gives=("dh", "lag of the output behind the level"),
    where={"rate_m_per_s": _RATE, "time_s": _TIME, "damping_time_s": _DAMPING},
    source=_LINEAR,
)
def ramp_lag_m(rate_m_per_s: Real, time_s: Real, damping_time_s: Real) -> Real:
    """Lag of a damped output behind a level that has begun to move at a steady rate.

    Example
    -------
    >>> round(float(ramp_lag_m(0.020, 4.0, 4.0)), 8)
    0.05056964
    """
    result: Real = -rate_m_per_s * damping_time_s * np.expm1(-time_s / damping_time_s)
    return result


@formula(
    equation="dh = v*(tau_1 + tau_2 + t_d)",
    gives=("dh", "lag of the output behind the level once the rate has been steady for long"),
    where={
        "rate_m_per_s": _RATE,
        "damping_time_s": ("tau_1", "time constant of the first damping", "[0, 10000]"),
        "second_damping_time_s": ("tau_2", "time constant of the second damping", "[0, 10000]"),
        "dead_time_s": ("t_d", "dead time", "[0, 10000]"),
    },
    source=_LINEAR,
)
def steady_lag_m(rate_m_per_s: Real, damping_time_s: Real, second_damping_time_s: Real, dead_time_s: Real) -> Real:
    """Lag behind a steady rate; dampings and dead time one behind the other add.

    Example
    -------
    >>> round(steady_lag_m(0.020, 4.0, 1.0, 0.5), 6)
    0.11
    """
    return rate_m_per_s * (damping_time_s + second_damping_time_s + dead_time_s)


@formula(
    equation="v = Q/A",
    gives=("v", "rate at which the level rises"),
    where={
        "fill_rate_m3_per_s": ("Q", "filling rate, negative where the vessel empties", "[-100, 100]"),
        "surface_m2": ("A", "surface of the liquid at this level", "(0, 1000000]"),
    },
    source="derived: volume over surface",
)
def rise_rate_m_per_s(fill_rate_m3_per_s: Real, surface_m2: Real) -> Real:
    """Rate at which the level rises while a vessel is filled.

    Where the surface narrows, as next to the ends of a lying cylinder, the level moves faster.

    Example
    -------
    >>> round(rise_rate_m_per_s(1.2 / 3600, 2.010619), 9)
    0.000165786
    """
    return fill_rate_m3_per_s / surface_m2


@formula(
    equation="a = 1 - exp(-dt/tau)",
    gives=("a", "coefficient of the filter, share of the difference taken over with each reading"),
    where={"interval_s": _INTERVAL, "damping_time_s": _DAMPING},
    source=_LINEAR,
)
def filter_coefficient(interval_s: Real, damping_time_s: Real) -> Real:
    """Coefficient with which a filter in steps shows a step as the damping would.

    Example
    -------
    >>> round(float(filter_coefficient(1.0, 5.0)), 6)
    0.181269
    """
    result: Real = -np.expm1(-interval_s / damping_time_s)
    return result


@formula(
    equation="a = dt/(tau + dt)",
    gives=("a", "coefficient of the filter, share of the difference taken over with each reading"),
    where={"interval_s": _INTERVAL, "damping_time_s": ("tau", "time constant of the damping", "[0, 10000]")},
    source="derived: backward difference for the rate of the output",
)
def filter_coefficient_euler(interval_s: Real, damping_time_s: Real) -> Real:
    """Coefficient of a filter in steps by backward differences, as many receivers have it: slower than the damping.

    Example
    -------
    >>> round(filter_coefficient_euler(1.0, 5.0), 6)
    0.166667
    """
    return interval_s / (damping_time_s + interval_s)


@formula(
    equation="s = sqrt(a/(2 - a))",
    gives=("s", "standard deviation behind the filter over that before it"),
    where={"filter_coefficient": ("a", "coefficient of the filter", "[0, 1]")},
    source="derived: variance of an exponentially weighted mean of independent readings",
)
def noise_share(filter_coefficient: Real) -> Real:
    """Share of the noise that a filter in steps leaves, each reading independent of the last.

    Example
    -------
    >>> round(float(noise_share(0.181269)), 6)
    0.315702
    """
    result: Real = np.sqrt(filter_coefficient / (2 - filter_coefficient))
    return result


@formula(
    equation="s = 1/sqrt(1 + (2*pi*f*tau)**2)",
    gives=("s", "height of the wave in the output over that on the surface"),
    where={
        "frequency_Hz": ("f", "frequency of the wave", "[0, 1000000]"),
        "damping_time_s": ("tau", "time constant of the damping", "[0, 10000]"),
    },
    source=_LINEAR,
)
def wave_share(frequency_Hz: Real, damping_time_s: Real) -> Real:
    """Share of a wave on the surface that is left in a damped output.

    Example
    -------
    >>> round(float(wave_share(0.5, 5.0)), 4)
    0.0635
    """
    result: Real = 1 / np.sqrt(1 + (2 * np.pi * frequency_Hz * damping_time_s) ** 2)
    return result
