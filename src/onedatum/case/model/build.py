"""The build of a magnetostrictive gauge: which form of it is meant, word by word."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from onedatum.case.kinds import PRESSURE, Choice, Quantity
from onedatum.case.leaf import Value, Word
from onedatum.case.section import Section

PLAIN, COATED = "plain metal", "coated or sleeved"
PLASTIC, METAL, LIGHT_METAL = "plastic", "metal", "titanium or light metal"
FACE, SLIDING, NO_CONNECTION = "flange or thread", "sliding compression fitting", "without process connection"
HYGIENIC, FROM_BELOW = "hygienic", "bottom entry or angled"
WITH_DISPLAY, COMPACT, REMOTE = "with display", "compact, without display", "remote"
IN_TANK, STILL_PIPE, ON_CHAMBER = "in the tank", "inside a guide or still pipe", "outside on a chamber"
USUAL, SHORTENED = "usual", "shortened"
FIXED, EXCHANGEABLE = "fixed in the stem", "exchangeable cartridge"
YES, NO = "yes", "no"


class Build(Section):
    """The concrete form of the instrument; every word brings limits of its own, and each of those can be overruled."""

    surface: Annotated[Word, Choice("surface of the stem", "instrument", words=(PLAIN, COATED))]
    cartridge: Annotated[Word, Choice("how the wire sits in the stem", "instrument", words=(FIXED, EXCHANGEABLE))]
    float_: Annotated[
        Word, Field(alias="float"), Choice("kind of float", "instrument", words=(PLASTIC, METAL, LIGHT_METAL))
    ]
    fixing: Annotated[Word, Choice("fixing", "instrument", words=(FACE, SLIDING, NO_CONNECTION, HYGIENIC, FROM_BELOW))]
    head: Annotated[Word, Choice("head", "instrument", words=(WITH_DISPLAY, COMPACT, REMOTE))]
    place: Annotated[Word, Choice("where the float travels", "instrument", words=(IN_TANK, STILL_PIPE, ON_CHAMBER))]
    dead_zones: Annotated[Word, Choice("dead zones", "instrument", words=(USUAL, SHORTENED))]
    hot_neck: Annotated[Word, Choice("neck for high temperature", "instrument", words=(YES, NO))]
    temperature_max: Annotated[
        Value,
        Quantity(
            "highest temperature of the medium, in place of the usual limit",
            "instrument",
            dimension="temperature",
            allowed="[73, 1300]",
            example="90 degC",
        ),
    ]
    temperature_min: Annotated[
        Value,
        Quantity(
            "lowest temperature of the medium",
            "instrument",
            dimension="temperature",
            allowed="[0, 1300]",
            example="-40 degC",
        ),
    ]
    pressure_max: Annotated[
        Value,
        Quantity(
            "highest pressure of the build, in place of the usual limit",
            "instrument",
            dimension=PRESSURE,
            allowed="[0, 1e9]",
            example="3 bar(g)",
        ),
    ]
    length_max: Annotated[
        Value,
        Quantity(
            "greatest length of the stem, in place of the usual limit", "instrument", allowed="(0, 100]", example="4 m"
        ),
    ]
    pipe_bore: Annotated[
        Value, Quantity("inside diameter of the guide or still pipe", allowed="(0, 10]", example="80 mm")
    ]
    bend_radius: Annotated[
        Value,
        Quantity(
            "least bend radius of a flexible stem",
            "instrument",
            allowed="(0, 5]",
            example="400 mm",
        ),
    ]
