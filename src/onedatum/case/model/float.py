"""The float of a level transmitter and the magnet in it."""

from __future__ import annotations

from typing import Annotated

from onedatum.case.kinds import PRESSURE, Choice, FreeText, Quantity
from onedatum.case.leaf import Text, Value, Word
from onedatum.case.section import Section

CYLINDER, DISC, SPHERE, RING = "cylinder", "disc", "sphere with a bore", "ring"
FORMS = (CYLINDER, DISC, SPHERE, RING)
AT_CENTRE = "centre"
RING_MAGNET, BARS = "ring", "bars on a circle"


class Float(Section):
    """The float with its magnet."""

    form: Annotated[Word, Choice("form of the float", "instrument", words=FORMS)]
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
    gravity_centre_above_bottom: Annotated[
        Value,
        Quantity(
            "height of the centre of gravity above the float bottom",
            "instrument",
            allowed="[0, 2]",
            words=(AT_CENTRE,),
            example="24 mm",
        ),
    ]
    nozzle_margin: Annotated[
        Value,
        Quantity("distance kept between float top and inside crown", "instrument", allowed="[0, 5]", example="10 mm"),
    ]
    wall: Annotated[Value, Quantity("wall thickness of the float", "instrument", allowed="(0, 0.1]", example="0.5 mm")]
    end_wall: Annotated[
        Value, Quantity("thickness of the flat ends of the float", "instrument", allowed="(0, 0.1]", example="1 mm")
    ]
    bore_wall: Annotated[
        Value, Quantity("wall of the tube in the bore", "instrument", allowed="(0, 0.1]", example="0.5 mm")
    ]
    pressure_rating: Annotated[
        Value, Quantity("pressure rating of the float", "instrument", dimension=PRESSURE, allowed="[0, 1e9]")
    ]
    metal: Annotated[Text, FreeText("material of the float")]
    elastic_modulus: Annotated[
        Value,
        Quantity(
            "elastic modulus of the float wall at temperature",
            "instrument",
            dimension="stress",
            allowed="(0, 1e12]",
            example="193 GPa",
        ),
    ]
    yield_strength: Annotated[
        Value,
        Quantity(
            "yield strength of the float wall at temperature",
            "instrument",
            dimension="stress",
            allowed="(0, 5e9]",
            example="170 MPa",
        ),
    ]
    friction: Annotated[
        Value,
        Quantity(
            "friction of the float on the stem", "instrument", dimension="force", allowed="[0, 10]", example="5 mN"
        ),
    ]
    deposit: Annotated[
        Value,
        Quantity("deposit on the float to be reckoned with", dimension="mass", allowed="[0, 50]", example="2 g"),
    ]
    soaking: Annotated[
        Value,
        Quantity(
            "mass that a plastic float takes up",
            "instrument",
            dimension="share of value",
            allowed="[0, 0.5]",
            example="3 %value",
        ),
    ]


class Magnet(Section):
    """The magnet in the float: an axially magnetised ring, or bars on a circle."""

    form: Annotated[Word, Choice("form of the magnet", "instrument", words=(RING_MAGNET, BARS))]
    inside_diameter: Annotated[
        Value, Quantity("inside diameter of the ring magnet", "instrument", allowed="[0, 1]", example="16 mm")
    ]
    outside_diameter: Annotated[
        Value, Quantity("outside diameter of the ring magnet", "instrument", allowed="(0, 1]", example="31 mm")
    ]
    length: Annotated[Value, Quantity("length of the magnet", "instrument", allowed="(0, 1]", example="10 mm")]
    count: Annotated[
        Value,
        Quantity("number of bars", "instrument", dimension="number", allowed="[2, 60]", example="4"),
    ]
    bar_diameter: Annotated[Value, Quantity("diameter of a bar", "instrument", allowed="(0, 0.1]", example="4 mm")]
    circle_diameter: Annotated[
        Value, Quantity("diameter of the circle of bars", "instrument", allowed="(0, 1]", example="30 mm")
    ]
    remanence: Annotated[
        Value,
        Quantity(
            "remanence of the magnet at 20 degC",
            "instrument",
            dimension="magnetic flux density",
            allowed="(0, 2]",
            example="400 mT",
        ),
    ]
    remanence_coefficient: Annotated[
        Value,
        Quantity(
            "change of the remanence per kelvin, in place of that of its material",
            "instrument",
            dimension="expansion",
            allowed="[-0.01, 0.001]",
            example="-0.0004 1/K",
        ),
    ]
    material: Annotated[Text, FreeText("material of the magnet", "instrument")]
    mass: Annotated[
        Value, Quantity("mass of the magnet", "instrument", dimension="mass", allowed="(0, 20]", example="20 g")
    ]
    least_field: Annotated[
        Value,
        Quantity(
            "least field that the stem needs at the float",
            "instrument",
            dimension="magnetic flux density",
            allowed="[0, 1]",
            example="5 mT",
        ),
    ]
