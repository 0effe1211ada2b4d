"""Reading the loop current on site: a voltmeter across a resistor in the loop, and what a milliammeter there does.

The transmitter holds its current whatever the loop resistance, so a meter across a resistor takes its share of it.
"""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_CURRENT = ("I", "loop current", "[0, 0.1]")
_RESISTOR = ("R", "resistor in the loop", "[0, 100000]")
_METER = ("R_m", "resistance of the voltmeter", "(0, 1e12]")
_BURDEN = ("R_a", "resistance of the milliammeter", "[0, 10000]")


@formula(
    equation="e = -R/(R + R_m)",
    gives=("e", "error of the voltage as a share of it"),
    where={"resistance_ohm": _RESISTOR, "meter_resistance_ohm": _METER},
    source="kirchhoff",
)
def meter_loading(resistance_ohm: Real, meter_resistance_ohm: Real) -> Real:
    """Error that a voltmeter makes by the current it takes.

    Example
    -------
    >>> round(meter_loading(250.0, 1e6), 9)
    -0.000249938
    """
    return -resistance_ohm / (resistance_ohm + meter_resistance_ohm)


@formula(
    equation="U = I*R*R_m/(R + R_m)",
    gives=("U", "voltage that the voltmeter reads"),
    where={"current_A": _CURRENT, "resistance_ohm": _RESISTOR, "meter_resistance_ohm": _METER},
    source="kirchhoff",
)
def read_voltage_V(current_A: Real, resistance_ohm: Real, meter_resistance_ohm: Real) -> Real:
    """Voltage that a voltmeter reads across a resistor in the loop.

    Example
    -------
    >>> round(read_voltage_V(0.012, 10.0, 1e6), 9)
    0.1199988
    """
    return current_A * resistance_ohm * meter_resistance_ohm / (resistance_ohm + meter_resistance_ohm)


@formula(
    equation="I_a = I*R/(R + R_a)",
    gives=("I_a", "current that the milliammeter reads"),
    where={
        "current_A": _CURRENT,
        "resistance_ohm": ("R", "resistor in the loop", "(0, 100000]"),
        "burden_ohm": _BURDEN,
    },
    source="kirchhoff: current divider",
)
def shunted_current_A(current_A: Real, resistance_ohm: Real, burden_ohm: Real) -> Real:
    """Current that a milliammeter reads if it is wrongly put across the resistor.

    The rest of the current stays in the resistor: a milliammeter belongs in series, across the resistor a voltmeter.

    Example
    -------
    >>> round(shunted_current_A(0.012, 10.0, 5.0), 9)
    0.008
    """
    return current_A * resistance_ohm / (resistance_ohm + burden_ohm)


@formula(
    equation="U_a = I*R_a",
    gives=("U_a", "voltage on the milliammeter"),
    where={"current_A": _CURRENT, "burden_ohm": _BURDEN},
    source="kirchhoff",
)
def burden_voltage_V(current_A: Real, burden_ohm: Real) -> Real:
    """Voltage on a milliammeter that is put to test terminals over a diode.

    It must stay well below the voltage at which the diode conducts, or part of the current passes the meter by; a hot
    diode conducts earlier.

    Example
    -------
    >>> round(burden_voltage_V(0.0215, 9.0), 6)
    0.1935
    """
    return current_A * burden_ohm
