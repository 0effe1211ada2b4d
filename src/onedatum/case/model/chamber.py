"""The bypass chamber beside the vessel, and how warm it is."""

from __future__ import annotations

from typing import Annotated

from onedatum.case.kinds import PRESSURE, Choice, FreeText, Listing, Quantity
from onedatum.case.leaf import Rows, Text, Value, Word
from onedatum.case.section import Section

AROUND_BOTH, BETWEEN = "around chamber and stem together", "between chamber and stem"
TWO_TAPS, TAP_IN_EACH = "two, at the taps", "one in each layer"


class Thermometer(Section):
    """One temperature measured on the chamber."""

    height: Annotated[Value, Quantity("height above the lower tap", allowed="[-10, 100]", example="300 mm")]
    temperature: Annotated[
        Value, Quantity("temperature there", dimension="temperature", allowed="[73, 1300]", example="150 degC")
    ]


class ColumnTemperature(Section):
    """How warm the liquid in the chamber is: its mean, or its ends, or thermometers along it."""

    mean: Annotated[
        Value,
        Quantity(
            "mean temperature of the column in the chamber",
            dimension="temperature",
            allowed="[73, 1300]",
            example="{value: 150 degC, u: 5 K}",
        ),
    ]
    bottom: Annotated[
        Value,
        Quantity("temperature at the bottom of the column", dimension="temperature", allowed="[73, 1300]"),
    ]
    surface: Annotated[
        Value,
        Quantity("temperature at the surface of the column", dimension="temperature", allowed="[73, 1300]"),
    ]
    along: Annotated[Rows, Listing("thermometers along the chamber, from the lowest up", of=Thermometer)]


class Chamber(Section):
    """A chamber on two taps of the vessel; heights count from the datum."""

    lower_tap: Annotated[Value, Quantity("height of the lower tap", allowed="[-50, 200]", example="0 mm")]
    upper_tap: Annotated[Value, Quantity("height of the upper tap", allowed="[-50, 200]", example="700 mm")]
    taps_apart: Annotated[
        Value,
        Quantity("distance of the taps, in place of the height of the upper one", allowed="(0, 100]", example="700 mm"),
    ]
    inside_diameter: Annotated[
        Value, Quantity("inside diameter of the chamber", "instrument", allowed="(0, 2]", example="54.8 mm")
    ]
    wall: Annotated[Value, Quantity("wall of the chamber", "instrument", allowed="(0, 0.2]", example="2.8 mm")]
    metal: Annotated[Text, FreeText("material of the chamber", "instrument")]
    relative_permeability: Annotated[
        Value,
        Quantity(
            "relative permeability of the wall",
            "instrument",
            dimension="number",
            allowed="[1, 100000]",
            example="1.02",
        ),
    ]
    below_lower_tap: Annotated[
        Value, Quantity("inside length below the lower tap", "instrument", allowed="[0, 10]", example="250 mm")
    ]
    above_upper_tap: Annotated[
        Value, Quantity("inside length above the upper tap", "instrument", allowed="[0, 10]", example="150 mm")
    ]
    float_margin: Annotated[
        Value,
        Quantity(
            "distance kept between the float and the ends of the chamber",
            "instrument",
            allowed="[0, 2]",
            example="20 mm",
        ),
    ]
    pressure_rating: Annotated[
        Value,
        Quantity(
            "pressure rating of the chamber",
            "instrument",
            dimension=PRESSURE,
            allowed="[0, 1e9]",
            example="63 bar(g)",
        ),
    ]
    rating_temperature: Annotated[
        Value,
        Quantity(
            "temperature that the rating of the chamber holds at",
            "instrument",
            dimension="temperature",
            allowed="[73, 1300]",
            example="300 degC",
        ),
    ]
    insulation: Annotated[Word, Choice("insulation of the chamber", words=(AROUND_BOTH, BETWEEN))]
    connections: Annotated[Word, Choice("connections of the chamber", words=(TWO_TAPS, TAP_IN_EACH))]
    connection_bore: Annotated[
        Value, Quantity("bore of the connections", "instrument", allowed="(0, 1]", example="25 mm")
    ]
    connection_length: Annotated[
        Value, Quantity("length of the connections that the liquid flows through", allowed="(0, 50]", example="0.6 m")
    ]
    connection_losses: Annotated[
        Value,
        Quantity(
            "losses of entry, valves, bends and exit, in velocity heads",
            dimension="number",
            allowed="[0, 10000]",
            example="3",
        ),
    ]
    lower_line_rise: Annotated[
        Value,
        Quantity(
            "how much higher the lower line meets the chamber than the vessel", allowed="[-10, 10]", example="0 mm"
        ),
    ]
    lower_line_temperature: Annotated[
        Value, Quantity("temperature of the lower line", dimension="temperature", allowed="[73, 1300]")
    ]
    vent: Annotated[Word, Choice("vent at the top of the chamber", "instrument", words=("yes", "no"))]
    drain: Annotated[Word, Choice("drain at the bottom of the chamber", "instrument", words=("yes", "no"))]
    stem_distance: Annotated[
        Value,
        Quantity(
            "distance of the axis of the stem from the axis of the chamber",
            "instrument",
            allowed="(0, 1]",
            example="45 mm",
        ),
    ]
    steel_nearby: Annotated[
        Value,
        Quantity("distance of the nearest steel or other magnet from the chamber", allowed="[0, 20]", example="300 mm"),
    ]
    level_rate: Annotated[
        Value,
        Quantity(
            "fastest change of the level in normal service",
            dimension="velocity",
            allowed="[0, 10]",
            example="5 mm/s",
        ),
    ]
    temperature: ColumnTemperature
