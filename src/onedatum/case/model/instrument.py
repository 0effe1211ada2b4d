"""The level transmitter: stem, float, range."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from onedatum.case.kinds import Choice, FreeText, Quantity
from onedatum.case.leaf import Text, Value, Word
from onedatum.case.model.build import NO, YES, Build
from onedatum.case.model.float import Float, Magnet
from onedatum.case.model.hazard import Protection
from onedatum.case.model.waveguide import Accuracy, Echo, Waveguide
from onedatum.case.section import Section

RIGID, FLEXIBLE = "magnetostrictive float on a rigid stem", "magnetostrictive float on a flexible stem"
IN_CHAMBER = "float in a bypass chamber, magnetostrictive stem outside"
BY_DIFFERENCE, BY_HEAD = "differential pressure", "hydrostatic pressure"
CAPACITIVE = "capacitive probe"
PRINCIPLES = (RIGID, FLEXIBLE, IN_CHAMBER, BY_DIFFERENCE, BY_HEAD, CAPACITIVE)


class Stem(Section):
    """The stem the float travels on; dead zones are distances of the magnet plane."""

    outside_diameter: Annotated[
        Value, Quantity("outside diameter of the stem", "instrument", allowed="(0, 0.5]", example="12 mm")
    ]
    tip_above_datum: Annotated[
        Value, Quantity("height of the stem tip above the datum", "instrument", allowed="[-20, 50]", example="20 mm")
    ]
    dead_zone_low: Annotated[
        Value, Quantity("lower dead zone, stem tip to magnet plane", "instrument", allowed="[0, 5]", example="60 mm")
    ]
    dead_zone_high: Annotated[
        Value,
        Quantity("upper dead zone, flange face to magnet plane", "instrument", allowed="[0, 5]", example="110 mm"),
    ]
    damper: Annotated[Value, Quantity("damper at the tip of the stem", "instrument", allowed="[0, 1]", example="30 mm")]
    stop_low: Annotated[Value, Quantity("room the lower stop takes", "instrument", allowed="[0, 1]", example="10 mm")]
    stop_high: Annotated[Value, Quantity("room the upper stop takes", "instrument", allowed="[0, 1]", example="20 mm")]
    length: Annotated[
        Value, Quantity("length of a stem outside on a chamber", "instrument", allowed="(0, 50]", example="1.2 m")
    ]
    inside_diameter: Annotated[
        Value, Quantity("inside diameter of the tube of the stem", "instrument", allowed="(0, 0.5]", example="10 mm")
    ]
    metal: Annotated[Text, FreeText("material of the stem")]
    guided: Annotated[Word, Choice("whether the stem is held at its lower end", "instrument", words=(YES, NO))]
    pull: Annotated[
        Value,
        Quantity(
            "pull in a flexible stem held at both ends",
            "instrument",
            dimension="force",
            allowed="[0, 1e5]",
            example="100 N",
        ),
    ]
    least_clearance: Annotated[
        Value,
        Quantity("sludge and movement of the bottom to be kept clear of", allowed="[0, 5]", example="20 mm"),
    ]


class Instrument(Section):
    """The level transmitter."""

    principle: Annotated[
        Word, Choice("measuring principle", "instrument", words=PRINCIPLES, elsewhere="principles_judged.json")
    ]
    build: Build
    stem: Stem
    float_: Annotated[Float, Field(alias="float")]
    magnet: Magnet
    interface_float: Float
    waveguide: Waveguide
    echo: Echo
    accuracy: Accuracy
    damping_tau: Annotated[
        Value,
        Quantity("damping, time constant (63 %)", "instrument", dimension="time", allowed="[0, 3600]", example="2 s"),
    ]
    protection: Protection
    scan: Annotated[
        Value,
        Quantity("time between two readings of the receiver", dimension="time", allowed="[0, 3600]", example="1 s"),
    ]


class Saturation(Section):
    """Ends of the measurement information on the current (NE 43: 3.8 and 20.5 mA)."""

    low: Annotated[
        Value,
        Quantity(
            "lowest current that carries a level",
            "instrument",
            dimension="current",
            allowed="[0.003, 0.004]",
            example="3.8 mA",
        ),
    ]
    high: Annotated[
        Value,
        Quantity(
            "highest current that carries a level",
            "instrument",
            dimension="current",
            allowed="[0.02, 0.022]",
            example="20.5 mA",
        ),
    ]


class Range(Section):
    """The levels at 4 and 20 mA; LRV above URV is reverse acting."""

    lower: Annotated[
        Value,
        Field(alias="4 mA"),
        Quantity("level at 4 mA (LRV)", "instrument", allowed="[-10, 200]", example="100 mm"),
    ]
    upper: Annotated[
        Value,
        Field(alias="20 mA"),
        Quantity("level at 20 mA (URV)", "instrument", allowed="[-10, 200]", example="2800 mm"),
    ]
    saturation: Saturation
