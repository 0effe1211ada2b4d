"""Level by pressure: where the transmitter stands and what fills its two legs."""

from __future__ import annotations

from typing import Annotated

from onedatum.case.kinds import Choice, Quantity
from onedatum.case.leaf import Value, Word
from onedatum.case.section import Section

TWO_SIDES, ONE_SIDE = "difference between two taps", "one tap, against the atmosphere"
AT_LOWER, AT_UPPER = "lower tap", "upper tap"
OF_LEVEL, OF_INTERFACE = "level", "interface"
THE_LIQUID, THE_GAS, WATER, STATED = "the liquid itself", "the gas above", "water", "liquid of stated density"
FILLINGS = (THE_LIQUID, THE_GAS, WATER, STATED)
UNITS = (
    "kPa",
    "mbar",
    "bar",
    "Pa",
    "psi",
    "inH2O(4 degC)",
    "inH2O(20 degC)",
    "inH2O(60 degF)",
    "ftH2O(4 degC)",
    "mmH2O(4 degC)",
    "mmH2O(20 degC)",
)


class Leg(Section):
    """One leg: an impulse pipe, or the capillary of a seal."""

    filling: Annotated[Word, Choice("what fills the leg", words=FILLINGS)]
    density: Annotated[
        Value, Quantity("density of the filling", dimension="density", allowed="(0, 20000]", example="1100 kg/m3")
    ]
    density_at: Annotated[
        Value, Quantity("temperature that this density holds at", dimension="temperature", allowed="[150, 700]")
    ]
    expansion: Annotated[
        Value,
        Quantity("cubic expansion of the filling", dimension="expansion", allowed="[0, 0.01]", example="1.0e-3 1/K"),
    ]
    temperature: Annotated[
        Value,
        Quantity(
            "temperature of the leg", ranged=True, dimension="temperature", allowed="[150, 700]", example="40 degC"
        ),
    ]
    capillary: Annotated[Word, Choice("whether the leg is the capillary of a seal", words=("yes", "no"))]


class Legs(Section):
    """A transmitter of pressure and its legs; heights count from the datum."""

    kind: Annotated[Word, Choice("what the transmitter compares", words=(TWO_SIDES, ONE_SIDE))]
    measures: Annotated[Word, Choice("what is measured", words=(OF_LEVEL, OF_INTERFACE))]
    lower_tap: Annotated[Value, Quantity("height of the lower tap", allowed="[-50, 200]", example="0 mm")]
    upper_tap: Annotated[Value, Quantity("height of the upper tap", allowed="[-50, 200]", example="2000 mm")]
    taps_apart: Annotated[
        Value,
        Quantity("distance of the taps, in place of the height of the upper one", allowed="(0, 200]", example="100 in"),
    ]
    transmitter: Annotated[
        Value,
        Quantity("height of the transmitter", allowed="[-200, 300]", words=(AT_LOWER, AT_UPPER), example="-500 mm"),
    ]
    below_lower_tap: Annotated[
        Value,
        Quantity(
            "how far the transmitter lies below the lower tap, in place of its height",
            allowed="[-200, 200]",
            example="50 in",
        ),
    ]
    high_side: Annotated[Word, Choice("tap of the high side", words=(AT_LOWER, AT_UPPER))]
    lower_leg: Leg
    upper_leg: Leg
    lower: Annotated[Value, Quantity("level at 4 mA, where it is not that of the range", allowed="[-50, 300]")]
    upper: Annotated[Value, Quantity("level at 20 mA, where it is not that of the range", allowed="[-50, 300]")]
    unit: Annotated[Word, Choice("unit the range is told in", side="paper", words=UNITS)]
    smallest_span: Annotated[
        Value,
        Quantity("smallest span of the transmitter", "instrument", dimension="pressure difference", allowed="(0, 1e9]"),
    ]
    sensor_low: Annotated[
        Value,
        Quantity(
            "lower end of what its cell measures",
            "instrument",
            dimension="pressure difference",
            allowed="[-1e9, 1e9]",
            example="-60 kPa",
        ),
    ]
    sensor_high: Annotated[
        Value,
        Quantity(
            "upper end of what its cell measures",
            "instrument",
            dimension="pressure difference",
            allowed="[-1e9, 1e9]",
            example="60 kPa",
        ),
    ]
