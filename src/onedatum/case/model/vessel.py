"""The vessel: its shape by its measures, how it stands, what is in it, and the datum of every height.

A shape needs its own keys only; what another shape would need is left away.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import Field, GetJsonSchemaHandler
from pydantic_core import CoreSchema

from onedatum.case.kinds import Choice, FreeText, Listing, Quantity
from onedatum.case.leaf import Rows, Text, Value, Word
from onedatum.case.model.strapping import Batch, Course, FloatingRoof, Metering, Strapping
from onedatum.case.reader import Absent, Notes
from onedatum.case.section import Section
from onedatum.case.tree import Leaf as Scalar
from onedatum.case.tree import Node

AS_BOTTOM, AS_NEAR = "as bottom_head", "as near_end"
AS_LIQUID, BETWEEN = "as liquid", "between liquid and ambient"

UPRIGHT, LYING, RECTANGULAR, ON_HOPPER = "vertical cylinder", "lying cylinder", "rectangular", "rectangular on hopper"
CONE, SPHERE, SPHEROID, PROFILE = "cone", "sphere", "spheroid", "measured profile"
STRAPPED, BY_TABLE = "strapped courses", "by its table"
SHAPES = (UPRIGHT, LYING, RECTANGULAR, ON_HOPPER, CONE, SPHERE, SPHEROID, PROFILE, STRAPPED, BY_TABLE)

FLAT, HEMISPHERE, TWO_TO_ONE, ELLIPSOID = "flat", "hemispherical", "ellipsoidal 2:1", "ellipsoidal"
TORISPHERE, CONICAL = "torispherical", "conical"
DIN_28011, DIN_28013, ASME_FD = "DIN 28011", "DIN 28013", "ASME F&D"
HEADS = (FLAT, HEMISPHERE, TWO_TO_ONE, ELLIPSOID, TORISPHERE, DIN_28011, DIN_28013, ASME_FD, CONICAL)
INSIDE, OUTSIDE = "inside diameter", "outside diameter"

LOWEST, AT_GAUGE, OF_TABLE = "lowest inside point", "bottom below the gauge", "zero of the table"
LOWER_TAP = "lower tap"
EVENLY, LYING_PIPE, ROUND = "evenly", "lying pipe", "round"


@dataclass(frozen=True)
class OrWord:
    """Says to editors that one word may stand in place of a section."""

    word: str

    def __get_pydantic_json_schema__(self, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return {"anyOf": [handler(core), {"const": self.word}]}


class Head(Section):
    """The end of a cylinder: a head by its standard, by its depth or by its radii, a cone, or flat."""

    form: Annotated[Word, Choice("form of the head", words=HEADS)]
    crown_radius: Annotated[Value, Quantity("crown radius", allowed="(0, 200]", example="1600 mm")]
    knuckle_radius: Annotated[Value, Quantity("knuckle radius", allowed="(0, 50]", example="160 mm")]
    on: Annotated[Word, Choice("diameter the radii belong to", words=(INSIDE, OUTSIDE))]
    depth: Annotated[Value, Quantity("inside depth from the tangent line", allowed="(0, 100]", example="400 mm")]
    straight_flange: Annotated[
        Value, Quantity("straight flange, where the shell length does not count it", allowed="[0, 1]", example="40 mm")
    ]


class Part(Section):
    """Something in the vessel that takes room, or beside it that adds some."""

    name: Annotated[Text, FreeText("name of the part", longest=60)]
    takes: Annotated[Value, Quantity("room it takes", dimension="volume", allowed="(0, 1e5]", example="45 L")]
    adds: Annotated[Value, Quantity("room it adds", dimension="volume", allowed="(0, 1e5]", example="120 L")]
    from_: Annotated[Value, Field(alias="from"), Quantity("its lowest level", allowed="[-50, 200]", example="250 mm")]
    to: Annotated[Value, Quantity("its highest level", allowed="[-50, 200]", example="550 mm")]
    form: Annotated[Word, Choice("how it is spread over its height", words=(EVENLY, LYING_PIPE, ROUND))]


class Point(Section):
    """One point of a measured profile."""

    height: Annotated[Value, Quantity("height of the point", allowed="[-50, 200]", example="300 mm")]
    radius: Annotated[Value, Quantity("inside radius there", allowed="[0, 100]", example="800 mm")]


class Filled(Section):
    """One point of a liquid calibration or a survey: what the tank holds up to a level."""

    level: Annotated[Value, Quantity("level of the point", allowed="[-50, 200]", example="120 mm")]
    volume: Annotated[Value, Quantity("volume below it", dimension="volume", allowed="[0, 1e6]", example="1.85 m3")]


class Vessel(Section):
    """The vessel and the datum from which every height of the case is measured."""

    shape: Annotated[Word, Choice("shape of the vessel", words=SHAPES)]
    upside_down: Annotated[Word, Choice("whether the shape stands upside down", words=("yes", "no"))]
    inside_diameter: Annotated[Value, Quantity("inside diameter", allowed="(0, 100]", example="1600 mm")]
    outside_diameter: Annotated[Value, Quantity("outside diameter", allowed="(0, 100]", example="1616 mm")]
    wall: Annotated[Value, Quantity("thickness of the wall", allowed="(0, 1]", example="8 mm")]
    lining: Annotated[Value, Quantity("thickness of the lining", allowed="(0, 1]", example="3 mm")]
    shell_length: Annotated[
        Value, Quantity("length of the shell between the tangent lines", allowed="(0, 200]", example="2400 mm")
    ]
    bottom_head: Head
    top_head: Annotated[Head, OrWord(AS_BOTTOM)]
    near_end: Head
    far_end: Annotated[Head, OrWord(AS_NEAR)]
    slope: Annotated[
        Value,
        Quantity(
            "slope: rise towards the far end over the horizontal length; of an upright vessel its lean",
            dimension="number",
            allowed="[-20, 20]",
            example="{value: 0.01, within: 0.001}",
        ),
    ]
    tilt: Annotated[
        Value, Quantity("the same as an angle", dimension="angle", allowed="[-1.52, 1.52]", example="0.57 deg")
    ]
    gauge_station: Annotated[
        Value,
        Quantity(
            "station of the gauge from the near tangent line, along the bottom", allowed="[0, 500]", example="3 m"
        ),
    ]
    gauge_offset: Annotated[
        Value,
        Quantity(
            "distance of the gauge from the axis of a leaning vessel, towards its raised side",
            allowed="[-50, 50]",
            example="0 mm",
        ),
    ]
    length: Annotated[Value, Quantity("inside length", allowed="(0, 500]", example="3 m")]
    width: Annotated[Value, Quantity("inside width", allowed="(0, 500]", example="2 m")]
    height: Annotated[
        Value, Quantity("inside height; on a hopper that of the box alone", allowed="(0, 200]", example="1.5 m")
    ]
    outlet_length: Annotated[Value, Quantity("length of the hopper's outlet", allowed="[0, 500]", example="400 mm")]
    outlet_width: Annotated[Value, Quantity("width of the hopper's outlet", allowed="[0, 500]", example="300 mm")]
    hopper_height: Annotated[Value, Quantity("height of the hopper", allowed="(0, 200]", example="1.1 m")]
    bottom_diameter: Annotated[Value, Quantity("inside diameter at the bottom", allowed="[0, 100]", example="0 mm")]
    top_diameter: Annotated[Value, Quantity("inside diameter at the top", allowed="[0, 100]", example="2 m")]
    profile: Annotated[Rows, Listing("measured profile from the bottom up", of=Point)]
    courses: Annotated[Rows, Listing("courses of the shell from the bottom up", of=Course)]
    strapping: Strapping
    bottom_points: Annotated[
        Rows, Listing("bottom below the lowest course, by liquid calibration or survey, from the bottom up", of=Filled)
    ]
    batches: Annotated[
        Rows, Listing("liquid calibration by metered batches, of the bottom or of the whole vessel", of=Batch)
    ]
    metering: Metering
    floating_roof: FloatingRoof
    deadwood: Annotated[Rows, Listing("what takes or adds room", of=Part)]
    outlet: Annotated[Value, Quantity("level below which the outlet draws nothing", allowed="[-50, 200]")]
    pump_limit: Annotated[Value, Quantity("level at which the pump must stop", allowed="[-50, 200]")]
    datum: Annotated[Word, Choice("datum of all heights", words=(LOWEST, AT_GAUGE, OF_TABLE, LOWER_TAP))]
    shell_expansion: Annotated[
        Value, Quantity("linear expansion of the shell", dimension="expansion", allowed="[0, 0.001]")
    ]
    table_temperature: Annotated[
        Value, Quantity("shell temperature the tank table holds for", dimension="temperature", allowed="[200, 800]")
    ]
    shell_temperature: Annotated[
        Value,
        Quantity("temperature of the shell", dimension="temperature", allowed="[73, 1300]", words=(AS_LIQUID, BETWEEN)),
    ]
    metal: Annotated[Text, FreeText("material of the shell")]

    @classmethod
    def parts(cls, node: Node | Absent, notes: Notes) -> dict[str, Node | Absent]:
        """An end stated to be as the other is read from there."""
        parts = super().parts(node, notes)
        for other, one, word in (("top_head", "bottom_head", AS_BOTTOM), ("far_end", "near_end", AS_NEAR)):
            stated = parts[other]
            if isinstance(stated, Scalar) and stated.text.strip() == word:
                parts[other] = parts[one]
        return parts
