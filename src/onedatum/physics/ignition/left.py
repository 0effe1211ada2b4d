"""What is left to a limit of temperature or velocity."""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula


@formula(
    equation="dT = T_2 - T_1",
    gives=("dT", "temperature left, negative where there is none"),
    where={
        "upper_K": ("T_2", "temperature that must not be the lower one", "[0, 5000]"),
        "lower_K": ("T_1", "temperature that must not be the higher one", "[0, 5000]"),
    },
    source="derived: difference",
)
def temperature_left_K(upper_K: Real, lower_K: Real) -> Real:
    """Temperature left between two that must stand in this order.

    Example
    -------
    >>> round(temperature_left_K(363.15, 308.15), 6)
    55.0
    """
    return upper_K - lower_K


@formula(
    equation="dv = v_lim - v",
    gives=("dv", "velocity left to the limit, negative beyond it"),
    where={
        "limit_m_per_s": ("v_lim", "largest velocity", "[0, 1000]"),
        "value_m_per_s": ("v", "velocity compared with it", "[0, 100000]"),
    },
    source="derived: difference",
)
def velocity_left_m_per_s(limit_m_per_s: Real, value_m_per_s: Real) -> Real:
    """Velocity left to a limit.

    Example
    -------
    >>> velocity_left_m_per_s(5.0, 4.25)
    0.75
    """
    return limit_m_per_s - value_m_per_s
