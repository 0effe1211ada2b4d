"""The supply of a two-wire loop: what voltage is left for the transmitter, and up to which current.

Supply, input resistor, barrier, both cores of the cable and whatever else there is lie in series with the transmitter.
Below its least voltage the transmitter gives no defined current: it may clip, restart or fall silent.
"""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_VOLTAGE = "(0, 250]"
_RESISTANCE = "[0, 100000]"
_SOURCE = ("U_s", "voltage at the source of the loop", _VOLTAGE)
_LEAST = ("U_min", "least voltage of the transmitter", "(0, 250]")
_BARRIER = ("R_b", "end-to-end resistance of the barrier", _RESISTANCE)
_INPUT = ("R_i", "input resistor of the receiver", _RESISTANCE)
_CABLE = ("R_c", "resistance of both cores of the cable", _RESISTANCE)
_OTHER = ("R_o", "other resistances in series, such as surge protection and indicators", _RESISTANCE)
_TOTAL = ("R", "resistance in series with the transmitter", _RESISTANCE)


@formula(
    equation="U_s = U*(1 + t)",
    gives=("U_s", "voltage at the source of the loop"),
    where={
        "supply_V": ("U", "nominal supply voltage", _VOLTAGE),
        "tolerance": ("t", "tolerance with its sign, as a share", "[-0.5, 0.5]"),
    },
    source="derived: share of the nominal value",
)
def source_voltage_V(supply_V: Real, tolerance: Real) -> Real:
    """Voltage of a supply at one end of its tolerance.

    Example
    -------
    >>> round(source_voltage_V(24.0, -0.05), 6)
    22.8
    """
    return supply_V * (1 + tolerance)


@formula(
    equation="U_a = U_s - U_d",
    gives=("U_a", "voltage left behind the drop"),
    where={
        "source_voltage_V": _SOURCE,
        "drop_V": ("U_d", "voltage that stays on a diode, whatever the current", "[0, 50]"),
    },
    requires=(("U_s > U_d", "nothing is left for the loop"),),
    source="kirchhoff",
)
def voltage_after_drop_V(source_voltage_V: Real, drop_V: Real) -> Real:
    """Voltage left behind a diode in series, such as that in the return channel of a barrier.

    Example
    -------
    >>> round(voltage_after_drop_V(22.8, 0.9), 6)
    21.9
    """
    return source_voltage_V - drop_V


@formula(
    equation="R_c = 2*l*r*(1 + alpha*(T - 293.15))",
    gives=("R_c", "resistance of both cores of the cable"),
    where={
        "length_m": ("l", "length of the cable", "[0, 50000]"),
        "core_resistance_ohm_per_m": ("r", "resistance of one core per length at 20 degC", "(0, 10]"),
        "temperature_K": ("T", "temperature of the cores", "[173.15, 473.15]"),
        "alpha_per_K": ("alpha", "temperature coefficient of the resistance at 20 degC", "[0, 0.008]"),
    },
    source="kirchhoff: two cores in series; coefficient after IEC 60028 (from memory)",
)
def cable_resistance_ohm(
    length_m: Real, core_resistance_ohm_per_m: Real, temperature_K: Real, alpha_per_K: Real
) -> Real:
    """Resistance of the two cores of a cable at their temperature.

    Example
    -------
    >>> round(cable_resistance_ohm(120.0, 0.0245, 313.15, 0.00393), 4)
    6.3422
    """
    return 2 * length_m * core_resistance_ohm_per_m * (1 + alpha_per_K * (temperature_K - 293.15))


@formula(
    equation="R = R_i + R_b + R_c + R_o",
    gives=("R", "resistance in series with the transmitter"),
    where={
        "input_resistance_ohm": _INPUT,
        "barrier_resistance_ohm": ("R_b", "end-to-end resistance of the barrier", _RESISTANCE),
        "cable_resistance_ohm": _CABLE,
        "other_resistance_ohm": _OTHER,
    },
    source="kirchhoff",
)
def loop_resistance_ohm(
    input_resistance_ohm: Real,
    barrier_resistance_ohm: Real,
    cable_resistance_ohm: Real,
    other_resistance_ohm: Real,
) -> Real:
    """Resistance in series with the transmitter.

    Example
    -------
    >>> round(loop_resistance_ohm(250.0, 300.0, 6.342, 0.0), 3)
    556.342
    """
    return input_resistance_ohm + barrier_resistance_ohm + cable_resistance_ohm + other_resistance_ohm


@formula(
    equation="U_t = U_s - I*R",
    gives=("U_t", "voltage at the terminals of the transmitter"),
    where={
        "source_voltage_V": _SOURCE,
        "current_A": ("I", "loop current", "[0, 0.1]"),
        "resistance_ohm": _TOTAL,
    },
    source="kirchhoff",
)
def terminal_voltage_V(source_voltage_V: Real, current_A: Real, resistance_ohm: Real) -> Real:
    """Voltage at the terminals of the transmitter.

    A negative result says that this current cannot flow.

    Example
    -------
    >>> round(terminal_voltage_V(22.8, 0.0215, 556.342), 3)
    10.839
    """
    return source_voltage_V - current_A * resistance_ohm


@formula(
    equation="dU = U_t - U_min",
    gives=("dU", "voltage left above the least one, negative where it is missing"),
    where={
        "terminal_voltage_V": ("U_t", "voltage at the terminals of the transmitter", "[-10000, 250]"),
        "voltage_min_V": _LEAST,
    },
    source="derived: difference",
)
def voltage_margin_V(terminal_voltage_V: Real, voltage_min_V: Real) -> Real:
    """Voltage left above the least voltage of the transmitter.

    Example
    -------
    >>> round(voltage_margin_V(10.839, 12.0), 3)
    -1.161
    """
    return terminal_voltage_V - voltage_min_V


@formula(
    equation="I_last = (U_s - U_min)/R",
    gives=("I_last", "current above which the transmitter has less than its least voltage"),
    where={
        "source_voltage_V": _SOURCE,
        "voltage_min_V": _LEAST,
        "resistance_ohm": ("R", "resistance in series with the transmitter", "(0, 100000]"),
    },
    requires=(("U_s > U_min", "a transmitter needs its least voltage before any current flows"),),
    source="kirchhoff",
)
def last_good_current_A(source_voltage_V: Real, voltage_min_V: Real, resistance_ohm: Real) -> Real:
    """Highest current at which the transmitter still has its least voltage.

    Example
    -------
    >>> round(last_good_current_A(22.8, 12.0, 556.342), 6)
    0.019413
    """
    return (source_voltage_V - voltage_min_V) / resistance_ohm


@formula(
    equation="R_b = (U_s - U_min)/I - R_i - R_c - R_o",
    gives=("R_b", "largest end-to-end resistance of a barrier, negative where none fits"),
    where={
        "source_voltage_V": _SOURCE,
        "voltage_min_V": _LEAST,
        "current_A": ("I", "current that must be reached", "(0, 0.1]"),
        "input_resistance_ohm": _INPUT,
        "cable_resistance_ohm": _CABLE,
        "other_resistance_ohm": _OTHER,
    },
    source="kirchhoff",
)
def largest_barrier_ohm(
    source_voltage_V: Real,
    voltage_min_V: Real,
    current_A: Real,
    input_resistance_ohm: Real,
    cable_resistance_ohm: Real,
    other_resistance_ohm: Real,
) -> Real:
    """Largest resistance of a barrier with which a current can be reached.

    Example
    -------
    >>> round(largest_barrier_ohm(22.8, 12.0, 0.0215, 250.0, 6.342, 0.0), 2)
    245.98
    """
    rest_ohm = input_resistance_ohm + cable_resistance_ohm + other_resistance_ohm
    return (source_voltage_V - voltage_min_V) / current_A - rest_ohm


@formula(
    equation="R_i = (U_s - U_min)/I - R_b - R_c - R_o",
    gives=("R_i", "largest input resistor of the receiver, negative where none fits"),
    where={
        "source_voltage_V": _SOURCE,
        "voltage_min_V": _LEAST,
        "current_A": ("I", "current that must be reached", "(0, 0.1]"),
        "barrier_resistance_ohm": _BARRIER,
        "cable_resistance_ohm": _CABLE,
        "other_resistance_ohm": _OTHER,
    },
    source="kirchhoff",
)
def largest_input_resistor_ohm(
    source_voltage_V: Real,
    voltage_min_V: Real,
    current_A: Real,
    barrier_resistance_ohm: Real,
    cable_resistance_ohm: Real,
    other_resistance_ohm: Real,
) -> Real:
    """Largest input resistor with which a current can be reached.

    Example
    -------
    >>> round(largest_input_resistor_ohm(22.8, 12.0, 0.0215, 300.0, 6.342, 0.0), 2)
    195.98
    """
    rest_ohm = barrier_resistance_ohm + cable_resistance_ohm + other_resistance_ohm
    return (source_voltage_V - voltage_min_V) / current_A - rest_ohm
