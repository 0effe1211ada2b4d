"""The longest cable with which a current can still be reached: the resistance that is left, laid out in copper."""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula


@formula(
    equation="l_max = ((U_s - U_min)/I - R_rest)/(2*r*(1 + alpha*(T - 293.15)))",
    gives=("l_max", "longest cable, negative where none fits"),
    where={
        "source_voltage_V": ("U_s", "voltage at the source of the loop", "(0, 250]"),
        "voltage_min_V": ("U_min", "least voltage of the transmitter", "(0, 250]"),
        "current_A": ("I", "current that must be reached", "(0, 0.1]"),
        "rest_resistance_ohm": ("R_rest", "resistance in series with the transmitter but for the cable", "[0, 100000]"),
        "core_resistance_ohm_per_m": ("r", "resistance of one core per length at 20 degC", "(0, 10]"),
        "temperature_K": ("T", "temperature of the cores", "[173.15, 473.15]"),
        "alpha_per_K": ("alpha", "temperature coefficient of the resistance at 20 degC", "[0, 0.008]"),
    },
    source="kirchhoff: two cores in series; coefficient after IEC 60028 (from memory)",
)
def longest_cable_m(
    source_voltage_V: Real,
    voltage_min_V: Real,
    current_A: Real,
    rest_resistance_ohm: Real,
    core_resistance_ohm_per_m: Real,
    temperature_K: Real,
    alpha_per_K: Real,
) -> Real:
    """Longest cable with which a current can be reached.

    A negative result says that no cable fits: what else lies in series already takes more than there is.

    Example
    -------
    >>> round(longest_cable_m(22.8, 12.0, 0.0215, 250.0, 0.0245, 313.15, 0.00393), 1)
    4774.2
    """
    loop_ohm_per_m = 2 * core_resistance_ohm_per_m * (1 + alpha_per_K * (temperature_K - 293.15))
    return ((source_voltage_V - voltage_min_V) / current_A - rest_resistance_ohm) / loop_ohm_per_m
