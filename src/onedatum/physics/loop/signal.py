"""Level and current of a 4 to 20 mA signal.

The lower range value is the level at 4 mA, the upper range value the level at 20 mA. The lower may lie above the
upper: the signal then acts in reverse, by the same formula.
"""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_LEVEL = "[-1000, 1000]"
_LRV = ("LRV", "lower range value, the level at 4 mA", _LEVEL)
_URV = ("URV", "upper range value, the level at 20 mA", _LEVEL)
_SPAN = ("URV != LRV", "a range without span has no scale")


@formula(
    equation="I = 0.004 + 0.016*(h - LRV)/(URV - LRV)",
    gives=("I", "loop current, not limited"),
    where={"level_m": ("h", "level", _LEVEL), "lower_range_value_m": _LRV, "upper_range_value_m": _URV},
    requires=(_SPAN,),
    source="iec-60381-1",
)
def current_A(level_m: Real, lower_range_value_m: Real, upper_range_value_m: Real) -> Real:
    """Loop current at a level.

    The straight line goes on beyond the range; a transmitter stops at its saturation currents.

    Example
    -------
    >>> round(current_A(1.35, 0.20, 3.20), 6)
    0.010133
    """
    return 0.004 + 0.016 * (level_m - lower_range_value_m) / (upper_range_value_m - lower_range_value_m)


@formula(
    equation="h = LRV + (URV - LRV)*(I - 0.004)/0.016",
    gives=("h", "level"),
    where={
        "current_A": ("I", "loop current", "[0, 0.1]"),
        "lower_range_value_m": _LRV,
        "upper_range_value_m": _URV,
    },
    requires=(_SPAN,),
    source="iec-60381-1",
)
def level_at_current_m(current_A: Real, lower_range_value_m: Real, upper_range_value_m: Real) -> Real:
    """Level that a loop current stands for.

    Example
    -------
    >>> round(level_at_current_m(0.0136, 0.20, 3.20), 6)
    2.0
    """
    return lower_range_value_m + (upper_range_value_m - lower_range_value_m) * (current_A - 0.004) / 0.016


@formula(
    equation="URV = LRV + 0.016*(h - LRV)/(I - 0.004)",
    gives=("URV", "level at 20 mA"),
    where={
        "level_m": ("h", "level", _LEVEL),
        "current_A": ("I", "loop current at the level", "(0.004, 0.1]"),
        "lower_range_value_m": _LRV,
    },
    source="iec-60381-1",
)
def upper_range_value_m(level_m: Real, current_A: Real, lower_range_value_m: Real) -> Real:
    """Upper range value at which a level has a given current.

    Example
    -------
    >>> round(upper_range_value_m(2.0, 0.0136, 0.20), 6)
    3.2
    """
    return lower_range_value_m + 0.016 * (level_m - lower_range_value_m) / (current_A - 0.004)


@formula(
    equation="s = (h - LRV)/(URV - LRV)",
    gives=("s", "share of the span, 0 at 4 mA and 1 at 20 mA"),
    where={"level_m": ("h", "level", _LEVEL), "lower_range_value_m": _LRV, "upper_range_value_m": _URV},
    requires=(_SPAN,),
    source="iec-60381-1",
)
def span_share(level_m: Real, lower_range_value_m: Real, upper_range_value_m: Real) -> Real:
    """Level as a share of the span.

    Example
    -------
    >>> round(span_share(1.35, 0.20, 3.20), 6)
    0.383333
    """
    return (level_m - lower_range_value_m) / (upper_range_value_m - lower_range_value_m)


@formula(
    equation="U = R*I",
    gives=("U", "voltage on the resistor"),
    where={
        "current_A": ("I", "loop current", "[0, 0.1]"),
        "resistance_ohm": ("R", "resistance of the resistor", "[0, 100000]"),
    },
    source="kirchhoff",
)
def signal_voltage_V(current_A: Real, resistance_ohm: Real) -> Real:
    """Voltage that the loop current leaves on a resistor.

    Example
    -------
    >>> round(signal_voltage_V(0.012, 250.0), 6)
    3.0
    """
    return resistance_ohm * current_A


@formula(
    equation="I = U/R",
    gives=("I", "current through the resistor"),
    where={
        "voltage_V": ("U", "voltage read on the resistor", "[0, 10000]"),
        "resistance_ohm": ("R", "resistance of the resistor", "(0, 100000]"),
    },
    source="kirchhoff",
)
def current_of_voltage_A(voltage_V: Real, resistance_ohm: Real) -> Real:
    """Loop current that a voltage read on a resistor stands for; what the meter itself draws is left out.

    Example
    -------
    >>> round(current_of_voltage_A(3.0, 250.0), 6)
    0.012
    """
    return voltage_V / resistance_ohm


@formula(
    equation="I_c = min(max(I, I_low), I_high)",
    gives=("I_c", "loop current as it is sent"),
    where={
        "current_A": ("I", "loop current, not limited", "[-1000, 1000]"),
        "saturation_low_A": ("I_low", "lower saturation current", "[0, 0.1]"),
        "saturation_high_A": ("I_high", "upper saturation current", "[0, 0.1]"),
    },
    requires=(("I_high > I_low", "the signal moves between the two"),),
    source="ne43: measurement information from 3.8 to 20.5 mA",
)
def clamped_current_A(current_A: Real, saturation_low_A: Real, saturation_high_A: Real) -> Real:
    """Loop current limited to the saturation currents.

    What lies beyond is no level: the reader knows only that the level is at least, or at most, that of the limit.

    Example
    -------
    >>> float(clamped_current_A(0.0211, 0.0038, 0.0205))
    0.0205
    """
    result: Real = np.minimum(np.maximum(current_A, saturation_low_A), saturation_high_A)
    return result


@formula(
    equation="dI = I_lim - I",
    gives=("dI", "current left to the limit, negative beyond it"),
    where={
        "limit_A": ("I_lim", "limiting current", "[-1000, 1000]"),
        "value_A": ("I", "current compared with it", "[-1000, 1000]"),
    },
    source="derived: difference",
)
def current_margin_A(limit_A: Real, value_A: Real) -> Real:
    """Current left to a limit.

    Example
    -------
    >>> round(current_margin_A(0.0205, 0.0195), 6)
    0.001
    """
    return limit_A - value_A
