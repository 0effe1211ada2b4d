"""The level transmitter: stem, float, range."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from onedatum.case.kinds import PRESSURE, Choice, FreeText, Quantity
from onedatum.case.leaf import Text, Value, Word
from onedatum.case.model.hazard import Protection
from onedatum.case.section import Section

CYLINDER, SPHERE = "cylinder", "sphere with a bore"
AT_CENTRE = "centre"


class Stem(Section):
    """The stem the float travels on; dead zones are distances of the magnet plane."""

    outside_diameter: Annotated[
        Value, Quantity("outside diameter of the stem", "instrument", allowed="(0, 0.5]", example="12 mm")
    ]
    tip_above_datum: Annotated[
        Value, Quantity("height of the stem tip above the datum", "instrument", allowed="[0, 50]", example="20 mm")
    ]
    dead_zone_low: Annotated[
        Value, Quantity("lower dead zone, stem tip to magnet plane", "instrument", allowed="[0, 5]", example="60 mm")
    ]
    dead_zone_high: Annotated[
        Value,
        Quantity("upper dead zone, flange face to magnet plane", "instrument", allowed="[0, 5]", example="110 mm"),
    ]


class Float(Section):
    """The float with its magnet."""

    form: Annotated[Word, Choice("form of the float", "instrument", words=(CYLINDER, SPHERE))]
    outside_diameter: Annotated[
        Value, Quantity("outside diameter of the float", "instrument", allowed="(0, 1]", example="52.5 mm")
    ]
    bore: Annotated[Value, Quantity("bore of the float", "instrument", allowed="(0, 1]", example="16 mm")]
    height: Annotated[Value, Quantity("height of the float", "instrument", allowed="(0, 2]", example="60 mm")]
    mass: Annotated[
        Value, Quantity("mass of the float", "instrument", dimension="mass", allowed="(0, 50]", example="72 g")
    ]
    magnet_plane_above_bottom: Annotated[
        Value,
        Quantity(
            "height of the magnet plane above the float bottom",
            "instrument",
            allowed="[0, 2]",
            words=(AT_CENTRE,),
            example="30 mm",
        ),
    ]
    nozzle_margin: Annotated[
        Value,
        Quantity("distance kept between float top and inside crown", "instrument", allowed="[0, 5]", example="10 mm"),
    ]
    wall: Annotated[Value, Quantity("wall thickness of the float", "instrument", allowed="(0, 0.1]", example="0.5 mm")]
    pressure_rating: Annotated[
        Value, Quantity("pressure rating of the float", "instrument", dimension=PRESSURE, allowed="[0, 1e9]")
    ]
    metal: Annotated[Text, FreeText("material of the float")]


class Instrument(Section):
    """The level transmitter."""

    principle: Annotated[
        Word, Choice("measuring principle", "instrument", words=("magnetostrictive float on a rigid stem",))
    ]
    stem: Stem
    float_: Annotated[Float, Field(alias="float")]
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
