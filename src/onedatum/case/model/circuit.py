"""The current loop: supply, barrier, cable, transmitter, receiver."""

from __future__ import annotations

from typing import Annotated

from onedatum.case.kinds import Choice, FreeText, Quantity
from onedatum.case.leaf import Text, Value, Word
from onedatum.case.section import Section

SHUNT_DIODE, ISOLATOR, NO_BARRIER = "shunt-diode barrier", "isolator", "none"
CONVENTIONAL = "two or three cores, with or without screen"
YES, NO = "yes", "no"


class SupplyTolerance(Section):
    """Tolerance of the supply voltage."""

    low: Annotated[
        Value,
        Quantity("lower tolerance of the supply", dimension="share of value", allowed="[-1, 0]", example="-5 %value"),
    ]
    high: Annotated[
        Value,
        Quantity("upper tolerance of the supply", dimension="share of value", allowed="[0, 1]", example="5 %value"),
    ]


class Barrier(Section):
    """What stands between supply and hazardous area: a resistance, or an isolator with its own voltage."""

    kind: Annotated[Word, Choice("kind of barrier", words=(SHUNT_DIODE, ISOLATOR, NO_BARRIER))]
    resistance: Annotated[
        Value,
        Quantity(
            "resistance of the barrier, end to end", dimension="resistance", allowed="[0, 10000]", example="300 ohm"
        ),
    ]
    diode_drop: Annotated[
        Value,
        Quantity(
            "voltage lost over the diodes of the barrier in the return",
            dimension="voltage",
            allowed="[0, 10]",
            example="0.9 V",
        ),
    ]
    working_voltage_max: Annotated[
        Value,
        Quantity(
            "highest working voltage of the barrier",
            "instrument",
            dimension="voltage",
            allowed="(0, 250]",
            example="26 V",
        ),
    ]
    voltage_at_its_terminals: Annotated[
        Value,
        Quantity(
            "voltage at the terminals of the isolator at the highest failure current",
            dimension="voltage",
            allowed="(0, 60]",
            example="17 V",
        ),
    ]
    voltage_open_circuit: Annotated[
        Value,
        Quantity("open-circuit voltage of the isolator", dimension="voltage", allowed="(0, 60]", example="25 V"),
    ]
    load_max: Annotated[
        Value,
        Quantity(
            "highest load the isolator drives on the side of the receiver",
            "instrument",
            dimension="resistance",
            allowed="[0, 10000]",
            example="600 ohm",
        ),
    ]
    passes_hart: Annotated[Word, Choice("whether the isolator passes HART", "instrument", words=(YES, NO))]
    note: Annotated[Text, FreeText("note")]


class Cable(Section):
    """The pair between barrier and transmitter."""

    length: Annotated[Value, Quantity("length of the cable", dimension="length", allowed="[0, 20000]", example="120 m")]
    area: Annotated[
        Value, Quantity("cross-section of a core", dimension="area", allowed="(0, 1e-4]", example="0.75 mm2")
    ]
    conductor: Annotated[
        Word,
        Choice(
            "class and plating of the conductor (IEC 60228)",
            words=(
                "class 1 or 2, plain copper",
                "class 1 or 2, tinned copper",
                "class 5, plain copper",
                "class 5, tinned copper",
            ),
        ),
    ]
    core_resistance_20degC: Annotated[
        Value,
        Quantity(
            "resistance of one core at 20 degC",
            dimension="resistance per length",
            allowed="(0, 10]",
            example="24.5 ohm/km",
        ),
    ]
    temperature_max: Annotated[
        Value,
        Quantity("highest temperature of the cable", dimension="temperature", allowed="[200, 500]", example="40 degC"),
    ]
    construction: Annotated[Word, Choice("construction of the cable", words=(CONVENTIONAL, "other"))]
    capacitance: Annotated[
        Value,
        Quantity(
            "capacitance of the cable between its cores",
            dimension="capacitance per length",
            allowed="(0, 1e-7]",
            example="110 pF/m",
        ),
    ]
    capacitance_to_screen: Annotated[
        Value,
        Quantity(
            "capacitance between core and screen, counted in addition",
            dimension="capacitance per length",
            allowed="[0, 1e-7]",
            example="160 pF/m",
        ),
    ]
    inductance: Annotated[
        Value,
        Quantity("inductance of the cable", dimension="inductance per length", allowed="(0, 1e-4]", example="0.7 uH/m"),
    ]
    inductance_per_resistance: Annotated[
        Value,
        Quantity(
            "inductance of the cable per resistance",
            dimension="inductance per resistance",
            allowed="(0, 0.1]",
            example="25 uH/ohm",
        ),
    ]


class Transmitter(Section):
    """The limits of the two-wire transmitter."""

    voltage_min: Annotated[
        Value, Quantity("lowest terminal voltage", "instrument", dimension="voltage", allowed="(0, 60]", example="12 V")
    ]
    voltage_max: Annotated[
        Value,
        Quantity("highest terminal voltage", "instrument", dimension="voltage", allowed="(0, 100]", example="36 V"),
    ]
    current_worst: Annotated[
        Value,
        Quantity("highest failure current", "instrument", dimension="current", allowed="[0.02, 0.03]", example="22 mA"),
    ]
    current_failure_low: Annotated[
        Value,
        Quantity("low failure current", "instrument", dimension="current", allowed="[0.003, 0.004]", example="3.6 mA"),
    ]


class Receiver(Section):
    """What turns the current into a number: its own range, steps, accuracy and filter."""

    range_low: Annotated[
        Value,
        Quantity(
            "lowest current of the receiver's own range", dimension="current", allowed="[0, 0.004]", example="0 mA"
        ),
    ]
    range_high: Annotated[
        Value,
        Quantity(
            "highest current of the receiver's own range", dimension="current", allowed="[0.02, 0.03]", example="20 mA"
        ),
    ]
    bits: Annotated[
        Value,
        Quantity(
            "bits the receiver resolves its own range with",
            dimension="number",
            allowed="[1, 32]",
            whole=True,
            example="12",
        ),
    ]
    error_of_full_scale: Annotated[
        Value,
        Quantity(
            "greatest error of the receiver as a share of its highest current",
            dimension="share of span",
            allowed="[0, 0.5]",
            example="0.1 %span",
        ),
    ]
    resistor_tolerance: Annotated[
        Value,
        Quantity(
            "tolerance of the input resistor, as far as it shifts the reading",
            dimension="share of value",
            allowed="[0, 0.5]",
            example="0.1 %value",
        ),
    ]
    offset_voltage: Annotated[
        Value,
        Quantity(
            "greatest offset voltage of the receiver at the input resistor",
            dimension="voltage",
            allowed="[0, 1]",
            example="10 mV",
        ),
    ]
    damping_tau: Annotated[
        Value,
        Quantity("damping in the receiver, time constant (63 %)", dimension="time", allowed="[0, 3600]", example="2 s"),
    ]
    failure_low: Annotated[
        Value,
        Quantity(
            "current up to which the receiver tells a failure",
            dimension="current",
            allowed="[0, 0.004]",
            example="3.6 mA",
        ),
    ]
    failure_high: Annotated[
        Value,
        Quantity(
            "current from which the receiver tells a failure",
            dimension="current",
            allowed="[0.02, 0.03]",
            example="21 mA",
        ),
    ]
    acts_on_failure_currents: Annotated[
        Word, Choice("whether the receiver brings its outputs to the safe side on a failure current", words=(YES, NO))
    ]


class TestMeter(Section):
    """The meter the current is read with at the test resistor."""

    voltmeter_resistance: Annotated[
        Value,
        Quantity(
            "input resistance of the voltmeter on the test resistor",
            "paper",
            dimension="resistance",
            allowed="(0, 1e12]",
            example="10 Mohm",
        ),
    ]
    milliammeter_burden: Annotated[
        Value,
        Quantity(
            "burden of a milliammeter, should it be put across the test resistor",
            "paper",
            dimension="resistance",
            allowed="[0, 10000]",
            example="5 ohm",
        ),
    ]


class Hart(Section):
    """Digital communication on the current (HART)."""

    used: Annotated[Word, Choice("whether HART is used on the loop", words=(YES, NO))]
    device_capacitance: Annotated[
        Value,
        Quantity(
            "capacitance of the transmitter at its terminals",
            "instrument",
            dimension="capacitance",
            allowed="[0, 1e-6]",
            example="5 nF",
        ),
    ]
    other_capacitance: Annotated[
        Value,
        Quantity(
            "capacitance of all other devices on the loop",
            dimension="capacitance",
            allowed="[0, 1e-6]",
            example="10 nF",
        ),
    ]


class Loop(Section):
    """Supply, barrier, receiver and cable of the current loop."""

    supply: Annotated[Value, Quantity("nominal supply voltage", dimension="voltage", allowed="(0, 60]", example="24 V")]
    supply_tolerance: SupplyTolerance
    barrier: Barrier
    input_resistor: Annotated[
        Value,
        Quantity("input resistor of the receiver", dimension="resistance", allowed="[0, 10000]", example="250 ohm"),
    ]
    test_resistor: Annotated[
        Value,
        Quantity(
            "resistor the current is read on without opening the loop, a part of the input resistor",
            dimension="resistance",
            allowed="(0, 1000]",
            example="10 ohm",
        ),
    ]
    other_resistance: Annotated[
        Value,
        Quantity(
            "other resistances in series, such as surge protection and indicators",
            dimension="resistance",
            allowed="[0, 10000]",
            example="12 ohm",
        ),
    ]
    cable: Cable
    transmitter: Transmitter
    receiver: Receiver
    test_meter: TestMeter
    hart: Hart
