"""The current loop: supply, barrier, cable, transmitter."""

from __future__ import annotations

from typing import Annotated

from onedatum.case.kinds import Choice, FreeText, Quantity
from onedatum.case.leaf import Text, Value, Word
from onedatum.case.section import Section


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

    kind: Annotated[Word, Choice("kind of barrier", words=("shunt-diode barrier", "isolator", "none"))]
    resistance: Annotated[
        Value,
        Quantity(
            "resistance of the barrier, end to end", dimension="resistance", allowed="[0, 10000]", example="300 ohm"
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
    cable: Cable
    transmitter: Transmitter
