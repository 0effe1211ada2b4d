"""Digital signal on the loop: resistance and capacitance that it stands, and the length of cable that follows.

The signal is a small alternating current on top of the loop current. Resistance and capacitance of the whole loop make
a low pass for it; their product is limited. All that is in the loop counts: receiver, barrier, cable and transmitter.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from onedatum import data
from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula
from onedatum.physics.loop.limit import Limit

_PRODUCT = ("tau", "largest product of resistance and capacitance", "(0, 0.01]")
_PER_LENGTH = ("c", "capacitance of the cable per length", "(0, 1e-8]")


@dataclass(frozen=True)
class HartLimits:
    """What is known of the limits of the digital signal, each with where it stands."""

    least_resistance_ohm: Limit
    nominal_resistance_ohm: Limit
    largest_resistance_current_input_ohm: Limit
    """For a receiver with a current input of low impedance."""
    largest_resistance_ohm: Limit
    time_constant_s: Limit
    single_pair_length_m: Limit
    multipair_length_m: Limit
    allowance_F: Limit
    """Added to the capacitance of the devices for the master."""
    modulation_A: Limit
    """Peak of the alternating current; the supply must carry it on top of the loop current."""


@cache
def hart_limits() -> HartLimits:
    """Limits of resistance, capacitance and length for the digital signal.

    Formula
    -------
    read from hart.json

    Parameters
    ----------
    none

    Returns
    -------
    HartLimits
        each limit with value, source and tag, in the unit its name ends in

    Validity
    --------
    frequency shift keying on the current loop; the lengths are general ones, the product decides

    Source
    ------
    HART physical layer [each limit has its tag]

    Example
    -------
    >>> hart_limits().time_constant_s.value, hart_limits().least_resistance_ohm.value
    (6.5e-05, 230.0)
    """
    return HartLimits(**{name: Limit(**row) for name, row in data.table("hart.json")["limits"].items()})


@formula(
    equation="tau = R*C",
    gives=("tau", "product of resistance and capacitance"),
    where={
        "resistance_ohm": ("R", "resistance of the whole loop", "[0, 100000]"),
        "capacitance_F": ("C", "capacitance of cable and devices", "[0, 0.0001]"),
    },
    source="hart-physical: product of resistance and capacitance",
)
def hart_time_constant_s(resistance_ohm: Real, capacitance_F: Real) -> Real:
    """Time constant of the loop for the digital signal.

    Example
    -------
    >>> round(hart_time_constant_s(250.0, 100e-9), 9)
    2.5e-05
    """
    return resistance_ohm * capacitance_F


@formula(
    equation="l_max = 2*(tau - R*C)/(R*c + r*C + sqrt((R*c + r*C)**2 + 4*r*c*(tau - R*C)))",
    gives=("l_max", "longest cable"),
    where={
        "time_constant_s": _PRODUCT,
        "rest_resistance_ohm": ("R", "resistance of the loop but for the cable", "(0, 10000]"),
        "rest_capacitance_F": ("C", "capacitance of the loop but for the cable", "[0, 1e-6]"),
        "cable_resistance_ohm_per_m": ("r", "resistance of both cores together per length of cable", "[0, 20]"),
        "cable_capacitance_F_per_m": _PER_LENGTH,
    },
    requires=(("tau >= R*C", "the loop is too slow for the signal even without a cable"),),
    source="hart-physical: product of resistance and capacitance; cable in both, derived",
)
def hart_longest_cable_m(
    time_constant_s: Real,
    rest_resistance_ohm: Real,
    rest_capacitance_F: Real,
    cable_resistance_ohm_per_m: Real,
    cable_capacitance_F_per_m: Real,
) -> Real:
    """Longest cable at which (R + r*l)*(C + c*l) is just the product allowed.

    The cable counts in both factors. The root is written so that it loses no digits and stands for r = 0 as well. The
    allowance for the master, where one is made, belongs into the rest of the capacitance.

    Example
    -------
    >>> round(float(hart_longest_cable_m(65e-6, 500.0, 5e-9, 0.0, 200e-12)), 6)
    625.0
    """
    left_s = time_constant_s - rest_resistance_ohm * rest_capacitance_F
    slope = rest_resistance_ohm * cable_capacitance_F_per_m + cable_resistance_ohm_per_m * rest_capacitance_F
    bend = 4 * cable_resistance_ohm_per_m * cable_capacitance_F_per_m
    result: Real = 2 * left_s / (slope + np.sqrt(slope**2 + bend * left_s))
    return result


@formula(
    equation="l_max = tau/(R*c) - (C_f + C_a)/c",
    gives=("l_max", "longest cable by the older form, negative where none fits"),
    where={
        "time_constant_s": _PRODUCT,
        "resistance_ohm": ("R", "resistance of the loop, that of the cable left out", "(0, 10000]"),
        "cable_capacitance_F_per_m": _PER_LENGTH,
        "device_capacitance_F": ("C_f", "capacitance of the devices", "[0, 1e-6]"),
        "allowance_F": ("C_a", "allowance for the master", "[0, 1e-6]"),
    },
    source="hart-physical-memory: older form with an allowance for the master",
)
def hart_cable_by_allowance_m(
    time_constant_s: Real,
    resistance_ohm: Real,
    cable_capacitance_F_per_m: Real,
    device_capacitance_F: Real,
    allowance_F: Real,
) -> Real:
    """Longest cable as the older rule gives it, for comparison.

    It leaves out the resistance of the cable and is therefore never the shorter one for the same allowance.

    Example
    -------
    >>> round(hart_cable_by_allowance_m(65e-6, 250.0, 100e-12, 5e-9, 10e-9), 6)
    2450.0
    """
    allowed_F = time_constant_s / resistance_ohm - device_capacitance_F - allowance_F
    return allowed_F / cable_capacitance_F_per_m
