"""What an intrinsically safe circuit has left of what is permitted; negative where it exceeds it."""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_DIFFERENCE = "derived: difference"


@formula(
    equation="dC = C_u - C",
    gives=("dC", "capacitance left, negative where the circuit has too much"),
    where={
        "usable_capacitance_F": ("C_u", "capacitance that may be used, after the rule of one half", "(0, 0.1]"),
        "circuit_capacitance_F": ("C", "capacitance of apparatus and cable", "[0, 1]"),
    },
    source=_DIFFERENCE,
)
def capacitance_left_F(usable_capacitance_F: Real, circuit_capacitance_F: Real) -> Real:
    """Capacitance that is left for more cable or apparatus.

    Example
    -------
    >>> round(capacitance_left_F(41.5e-9, 70e-9), 12)
    -2.85e-08
    """
    return usable_capacitance_F - circuit_capacitance_F


@formula(
    equation="dL = L_u - L",
    gives=("dL", "inductance left, negative where the circuit has too much"),
    where={
        "usable_inductance_H": ("L_u", "inductance that may be used, after the rule of one half", "(0, 100]"),
        "circuit_inductance_H": ("L", "inductance of apparatus and cable", "[0, 1000]"),
    },
    source=_DIFFERENCE,
)
def inductance_left_H(usable_inductance_H: Real, circuit_inductance_H: Real) -> Real:
    """Inductance that is left for more cable or apparatus.

    Example
    -------
    >>> round(inductance_left_H(2.1e-3, 0.4e-3), 9)
    0.0017
    """
    return usable_inductance_H - circuit_inductance_H


@formula(
    equation="dr = r_o - r_c",
    gives=("dr", "inductance per resistance left, negative where the cable has too much"),
    where={
        "permitted_ratio_H_per_ohm": ("r_o", "Lo/Ro of the source by its certificate", "(0, 1]"),
        "cable_ratio_H_per_ohm": ("r_c", "inductance per resistance of the cable", "[0, 1]"),
    },
    source=_DIFFERENCE,
)
def ratio_left_H_per_ohm(permitted_ratio_H_per_ohm: Real, cable_ratio_H_per_ohm: Real) -> Real:
    """Inductance per resistance that is left to the cable, where Lo/Ro may be used instead of Lo.

    Example
    -------
    >>> round(ratio_left_H_per_ohm(55e-6, 30e-6), 9)
    2.5e-05
    """
    return permitted_ratio_H_per_ohm - cable_ratio_H_per_ohm


@formula(
    equation="r_c = l_c/(2*r)",
    gives=("r_c", "inductance per resistance of the cable"),
    where={
        "inductance_H_per_m": ("l_c", "inductance of the cable per length", "[0, 0.001]"),
        "core_resistance_ohm_per_m": ("r", "least resistance of one core per length", "(0, 10]"),
    },
    source="derived: both cores in series; the length cancels",
)
def cable_ratio_H_per_ohm(inductance_H_per_m: Real, core_resistance_ohm_per_m: Real) -> Real:
    """Inductance per resistance of a pair.

    The least resistance counts, that of the coldest cable; a table of largest resistances flatters.

    Example
    -------
    >>> round(cable_ratio_H_per_ohm(1e-6, 0.0245), 8)
    2.041e-05
    """
    return inductance_H_per_m / (2 * core_resistance_ohm_per_m)


@formula(
    equation="dU = U_i - U_o",
    gives=("dU", "voltage left, negative where the source has too much"),
    where={
        "input_voltage_V": ("U_i", "highest voltage the apparatus is certified for", "(0, 400]"),
        "open_circuit_voltage_V": ("U_o", "highest open-circuit voltage of the source", "(0, 400]"),
    },
    source=_DIFFERENCE,
)
def voltage_left_V(input_voltage_V: Real, open_circuit_voltage_V: Real) -> Real:
    """Voltage between what the apparatus stands and what the source gives.

    Example
    -------
    >>> voltage_left_V(30.0, 28.0)
    2.0
    """
    return input_voltage_V - open_circuit_voltage_V


@formula(
    equation="dI = I_i - I_o",
    gives=("dI", "current left, negative where the source has too much"),
    where={
        "input_current_A": ("I_i", "highest current the apparatus is certified for", "(0, 10]"),
        "short_circuit_current_A": ("I_o", "highest short-circuit current of the source", "(0, 10]"),
    },
    source=_DIFFERENCE,
)
def current_left_A(input_current_A: Real, short_circuit_current_A: Real) -> Real:
    """Current between what the apparatus stands and what the source gives.

    Example
    -------
    >>> round(current_left_A(0.100, 0.093), 6)
    0.007
    """
    return input_current_A - short_circuit_current_A


@formula(
    equation="dP = P_i - P_o",
    gives=("dP", "power left, negative where the source has too much"),
    where={
        "input_power_W": ("P_i", "highest power the apparatus is certified for", "(0, 100]"),
        "source_power_W": ("P_o", "highest power of the source", "(0, 1000]"),
    },
    source=_DIFFERENCE,
)
def power_left_W(input_power_W: Real, source_power_W: Real) -> Real:
    """Power between what the apparatus stands and what the source gives.

    Example
    -------
    >>> round(power_left_W(0.9, 0.65), 6)
    0.25
    """
    return input_power_W - source_power_W
