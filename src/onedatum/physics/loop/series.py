"""What lies in series in a loop beside its cable, and how far from a limit it is."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_RESISTANCE = "[0, 100000]"
_WIDE = "[-1000000000, 1000000000]"


@formula(
    equation="R_r = R - R_c",
    gives=("R_r", "resistance in series beside the cable"),
    where={
        "resistance_ohm": ("R", "resistance in series with the transmitter", "[0, 1000000]"),
        "cable_resistance_ohm": ("R_c", "resistance of both cores of the cable", _RESISTANCE),
    },
    requires=(("R >= R_c", "the cable is a part of the whole"),),
    source="kirchhoff",
)
def resistance_without_cable_ohm(resistance_ohm: Real, cable_resistance_ohm: Real) -> Real:
    """Resistance in series with the transmitter that does not lie in the cable.

    Example
    -------
    >>> round(resistance_without_cable_ohm(556.342, 6.342), 3)
    550.0
    """
    return resistance_ohm - cable_resistance_ohm


@formula(
    equation="R = R_c + R_o",
    gives=("R", "resistance between the isolator and the transmitter"),
    where={
        "cable_resistance_ohm": ("R_c", "resistance of both cores of the cable", _RESISTANCE),
        "other_resistance_ohm": ("R_o", "other resistances in series", _RESISTANCE),
    },
    source="kirchhoff",
)
def behind_isolator_ohm(cable_resistance_ohm: Real, other_resistance_ohm: Real) -> Real:
    """Resistance between an isolator and its transmitter; the receiver lies on the other side.

    Example
    -------
    >>> round(behind_isolator_ohm(6.342, 12.0), 3)
    18.342
    """
    return cable_resistance_ohm + other_resistance_ohm


@formula(
    equation="r_c = 2*r*(1 + alpha*(T - 293.15))",
    gives=("r_c", "resistance of both cores of the cable per length"),
    where={
        "core_resistance_ohm_per_m": ("r", "resistance of one core per length at 20 degC", "(0, 10]"),
        "temperature_K": ("T", "temperature of the cores", "[173.15, 473.15]"),
        "alpha_per_K": ("alpha", "temperature coefficient of the resistance at 20 degC", "[0, 0.008]"),
    },
    source="kirchhoff: two cores in series; coefficient after IEC 60028 (from memory)",
)
def both_cores_ohm_per_m(core_resistance_ohm_per_m: Real, temperature_K: Real, alpha_per_K: Real) -> Real:
    """Resistance that each metre of cable adds to the loop.

    Example
    -------
    >>> round(both_cores_ohm_per_m(0.0245, 313.15, 0.00393), 6)
    0.052851
    """
    return 2 * core_resistance_ohm_per_m * (1 + alpha_per_K * (temperature_K - 293.15))


@formula(
    equation="S = abs(URV - LRV)",
    gives=("S", "span of the range"),
    where={
        "lower_range_value_m": ("LRV", "lower range value, the level at 4 mA", "[-1000, 1000]"),
        "upper_range_value_m": ("URV", "upper range value, the level at 20 mA", "[-1000, 1000]"),
    },
    requires=(("URV != LRV", "a range without span has no scale"),),
    source="derived: difference",
)
def range_span_m(lower_range_value_m: Real, upper_range_value_m: Real) -> Real:
    """Height between the levels at 4 and 20 mA, whichever of them is the upper one.

    Example
    -------
    >>> round(float(range_span_m(2.8, 0.1)), 6)
    2.7
    """
    span: Real = np.abs(upper_range_value_m - lower_range_value_m)
    return span


@formula(
    equation="dR = R_lim - R",
    gives=("dR", "resistance left to the limit, negative beyond it"),
    where={
        "limit_ohm": ("R_lim", "limiting resistance", _WIDE),
        "value_ohm": ("R", "resistance compared with it", _WIDE),
    },
    source="derived: difference",
)
def resistance_margin_ohm(limit_ohm: Real, value_ohm: Real) -> Real:
    """Resistance left to a limit.

    Example
    -------
    >>> resistance_margin_ohm(600.0, 250.0)
    350.0
    """
    return limit_ohm - value_ohm


@formula(
    equation="dl = l_lim - l",
    gives=("dl", "length left to the limit, negative beyond it"),
    where={
        "limit_m": ("l_lim", "longest length", _WIDE),
        "value_m": ("l", "length compared with it", _WIDE),
    },
    source="derived: difference",
)
def length_margin_m(limit_m: Real, value_m: Real) -> Real:
    """Length of cable left to a limit.

    Example
    -------
    >>> length_margin_m(157.5, 120.0)
    37.5
    """
    return limit_m - value_m


@formula(
    equation="c = c_cc + c_cs",
    gives=("c", "capacitance of the cable per length"),
    where={
        "between_cores_F_per_m": ("c_cc", "capacitance between the cores per length", "[0, 1e-6]"),
        "to_screen_F_per_m": ("c_cs", "capacitance between core and screen per length", "[0, 1e-6]"),
    },
    source="common-practice: both counted where the screen is earthed",
)
def capacitance_with_screen_F_per_m(between_cores_F_per_m: Real, to_screen_F_per_m: Real) -> Real:
    """Capacitance of a screened pair as the circuit sees it.

    Example
    -------
    >>> round(capacitance_with_screen_F_per_m(110e-12, 160e-12), 15)
    2.7e-10
    """
    return between_cores_F_per_m + to_screen_F_per_m


@formula(
    equation="C = C_d + C_x",
    gives=("C", "capacitance of the devices on the loop"),
    where={
        "device_capacitance_F": ("C_d", "capacitance of the transmitter at its terminals", "[0, 0.001]"),
        "other_capacitance_F": ("C_x", "capacitance of all other devices", "[0, 0.001]"),
    },
    source="kirchhoff",
)
def total_capacitance_F(device_capacitance_F: Real, other_capacitance_F: Real) -> Real:
    """Capacitance of everything on the loop but the cable.

    Example
    -------
    >>> round(total_capacitance_F(5e-9, 10e-9), 12)
    1.5e-08
    """
    return device_capacitance_F + other_capacitance_F


@formula(
    equation="tau = tau_1 + tau_2",
    gives=("tau", "time by which two dampings in a row lag a steady rise"),
    where={
        "first_s": ("tau_1", "time constant in the transmitter", "[0, 10000]"),
        "second_s": ("tau_2", "time constant in the receiver", "[0, 10000]"),
    },
    source="derived: lags of first-order filters in a row add",
)
def joint_damping_s(first_s: Real, second_s: Real) -> Real:
    """Lag behind a steady rise of two first-order dampings in a row.

    Example
    -------
    >>> joint_damping_s(2.0, 3.0)
    5.0
    """
    return first_s + second_s
