"""The intrinsically safe circuit: one linear source, its apparatus and the cable, by capacitance, inductance and power.

One source only, with a linear characteristic. With several sources, or another characteristic, none of this holds.
"""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_U_O = ("U_o", "highest open-circuit voltage of the source", "(0, 400]")
_I_O = ("I_o", "highest short-circuit current of the source", "(0, 10]")
_C_O = ("C_o", "capacitance permitted to the source by its certificate", "(0, 0.1]")
_L_O = ("L_o", "inductance permitted to the source by its certificate", "(0, 100]")
_C_I = ("C_i", "internal capacitance of all apparatus together", "[0, 0.1]")
_L_I = ("L_i", "internal inductance of all apparatus together", "[0, 100]")
_C_U = ("C_u", "capacitance that may be used, after the rule of one half", "(0, 0.1]")
_L_U = ("L_u", "inductance that may be used, after the rule of one half", "(0, 100]")
_C_C = ("C_c", "capacitance of the cable", "[0, 0.1]")
_L_C = ("L_c", "inductance of the cable", "[0, 100]")
_LENGTH = ("l", "length of the cable", "[0, 50000]")
_HALVED = "iec-60079-14-memory: half of the permitted values where both are above 1 %"
_SUM = "kirchhoff: apparatus and cable side by side"


@formula(
    equation="P_o = U_o*I_o/4",
    gives=("P_o", "largest power of a linear source"),
    where={"open_circuit_voltage_V": _U_O, "short_circuit_current_A": _I_O},
    source="derived: a linear source gives most at half its voltage and half its current",
)
def matched_power_W(open_circuit_voltage_V: Real, short_circuit_current_A: Real) -> Real:
    """Largest power that a linear source can give, to compare with what its certificate states.

    Example
    -------
    >>> round(matched_power_W(28.0, 0.093), 3)
    0.651
    """
    return open_circuit_voltage_V * short_circuit_current_A / 4


@formula(
    equation="R_s = U_o/I_o",
    gives=("R_s", "least output resistance of a linear source"),
    where={"open_circuit_voltage_V": _U_O, "short_circuit_current_A": _I_O},
    source="kirchhoff",
)
def source_resistance_ohm(open_circuit_voltage_V: Real, short_circuit_current_A: Real) -> Real:
    """Least output resistance of a linear source.

    Example
    -------
    >>> round(source_resistance_ohm(28.0, 0.093), 2)
    301.08
    """
    return open_circuit_voltage_V / short_circuit_current_A


@formula(
    equation="C_1 = 0.01*C_o",
    gives=("C_1", "capacitance above which the rule of one half may apply"),
    where={"permitted_capacitance_F": _C_O},
    source=_HALVED,
)
def one_per_cent_capacitance_F(permitted_capacitance_F: Real) -> Real:
    """Internal capacitance above which the rule of one half may apply.

    Example
    -------
    >>> round(one_per_cent_capacitance_F(83e-9), 14)
    8.3e-10
    """
    return 0.01 * permitted_capacitance_F


@formula(
    equation="L_1 = 0.01*L_o",
    gives=("L_1", "inductance above which the rule of one half may apply"),
    where={"permitted_inductance_H": _L_O},
    source=_HALVED,
)
def one_per_cent_inductance_H(permitted_inductance_H: Real) -> Real:
    """Internal inductance above which the rule of one half may apply, and Lo/Ro no longer.

    Example
    -------
    >>> round(one_per_cent_inductance_H(4.2e-3), 9)
    4.2e-05
    """
    return 0.01 * permitted_inductance_H


@formula(
    equation="C_u = min(C_o/2, C_cap)",
    gives=("C_u", "capacitance that may be used under the rule of one half"),
    where={
        "permitted_capacitance_F": _C_O,
        "cap_F": ("C_cap", "highest capacitance under the rule of one half, by group", "(0, 0.1]"),
    },
    source="iec-60079-14-memory: half of the permitted capacitance, then capped by group",
)
def half_rule_capacitance_F(permitted_capacitance_F: Real, cap_F: Real) -> Real:
    """Capacitance that may be used where the rule of one half applies: halved first, then capped.

    Example
    -------
    >>> float(half_rule_capacitance_F(650e-9, 1e-6))
    3.25e-07
    """
    result: Real = np.minimum(permitted_capacitance_F / 2, cap_F)
    return result


@formula(
    equation="L_u = L_o/2",
    gives=("L_u", "inductance that may be used under the rule of one half"),
    where={"permitted_inductance_H": _L_O},
    source=_HALVED,
)
def half_rule_inductance_H(permitted_inductance_H: Real) -> Real:
    """Inductance that may be used where the rule of one half applies.

    Example
    -------
    >>> half_rule_inductance_H(4.2e-3)
    0.0021
    """
    return permitted_inductance_H / 2


@formula(
    equation="C_c = l*c",
    gives=("C_c", "capacitance of the cable"),
    where={"length_m": _LENGTH, "capacitance_F_per_m": ("c", "capacitance of the cable per length", "[0, 1e-6]")},
    source="derived: an even cable",
)
def cable_capacitance_F(length_m: Real, capacitance_F_per_m: Real) -> Real:
    """Capacitance of a cable.

    Of a screened pair it is that between the cores and that to the screen, as the construction has it.

    Example
    -------
    >>> round(cable_capacitance_F(300.0, 200e-12), 12)
    6e-08
    """
    return length_m * capacitance_F_per_m


@formula(
    equation="L_c = l*l_c",
    gives=("L_c", "inductance of the cable"),
    where={"length_m": _LENGTH, "inductance_H_per_m": ("l_c", "inductance of the cable per length", "[0, 0.001]")},
    source="derived: an even cable",
)
def cable_inductance_H(length_m: Real, inductance_H_per_m: Real) -> Real:
    """Inductance of a cable.

    Example
    -------
    >>> round(cable_inductance_H(300.0, 1e-6), 9)
    0.0003
    """
    return length_m * inductance_H_per_m


@formula(
    equation="C = C_i + C_c",
    gives=("C", "capacitance of the circuit"),
    where={"device_capacitance_F": _C_I, "cable_capacitance_F": _C_C},
    source=_SUM,
)
def circuit_capacitance_F(device_capacitance_F: Real, cable_capacitance_F: Real) -> Real:
    """Capacitance of apparatus and cable together.

    Example
    -------
    >>> round(circuit_capacitance_F(10e-9, 60e-9), 12)
    7e-08
    """
    return device_capacitance_F + cable_capacitance_F


@formula(
    equation="L = L_i + L_c",
    gives=("L", "inductance of the circuit"),
    where={"device_inductance_H": _L_I, "cable_inductance_H": _L_C},
    source="kirchhoff: apparatus and cable one after the other",
)
def circuit_inductance_H(device_inductance_H: Real, cable_inductance_H: Real) -> Real:
    """Inductance of apparatus and cable together.

    Example
    -------
    >>> round(circuit_inductance_H(0.1e-3, 0.3e-3), 9)
    0.0004
    """
    return device_inductance_H + cable_inductance_H


@formula(
    equation="l_C = (C_u - C_i)/c",
    gives=("l_C", "longest cable by capacitance, negative where the apparatus alone has too much"),
    where={
        "usable_capacitance_F": _C_U,
        "device_capacitance_F": _C_I,
        "capacitance_F_per_m": ("c", "capacitance of the cable per length", "(0, 1e-6]"),
    },
    source="derived: what the apparatus leaves, over the capacitance per length",
)
def longest_by_capacitance_m(usable_capacitance_F: Real, device_capacitance_F: Real, capacitance_F_per_m: Real) -> Real:
    """Longest cable by its capacitance.

    Example
    -------
    >>> round(longest_by_capacitance_m(41.5e-9, 10e-9, 200e-12), 6)
    157.5
    """
    return (usable_capacitance_F - device_capacitance_F) / capacitance_F_per_m


@formula(
    equation="l_L = (L_u - L_i)/l_c",
    gives=("l_L", "longest cable by inductance, negative where the apparatus alone has too much"),
    where={
        "usable_inductance_H": _L_U,
        "device_inductance_H": _L_I,
        "inductance_H_per_m": ("l_c", "inductance of the cable per length", "(0, 0.001]"),
    },
    source="derived: what the apparatus leaves, over the inductance per length",
)
def longest_by_inductance_m(usable_inductance_H: Real, device_inductance_H: Real, inductance_H_per_m: Real) -> Real:
    """Longest cable by its inductance.

    Example
    -------
    >>> round(longest_by_inductance_m(2.1e-3, 0.1e-3, 1e-6), 6)
    2000.0
    """
    return (usable_inductance_H - device_inductance_H) / inductance_H_per_m
