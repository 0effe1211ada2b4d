"""Where the measuring point stands: site, vessel, nozzle, hazardous area."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import GetJsonSchemaHandler
from pydantic_core import CoreSchema

from onedatum.case.kinds import Choice, FreeText, Quantity
from onedatum.case.leaf import Text, Value, Word
from onedatum.case.reader import Absent, Notes
from onedatum.case.section import Section
from onedatum.case.tree import Leaf as Scalar
from onedatum.case.tree import Node

AS_BOTTOM = "as bottom_head"
AS_LIQUID = "as liquid"


class Site(Section):
    """Where the measuring point stands."""

    air_density: Annotated[
        Value, Quantity("density of the ambient air", dimension="density", allowed="[0, 20]", example="1.2 kg/m3")
    ]
    g: Annotated[Value, Quantity("local acceleration of free fall", dimension="acceleration", allowed="[9.7, 9.9]")]
    atmospheric_pressure: Annotated[
        Value, Quantity("atmospheric pressure", dimension="pressure (absolute)", allowed="[40000, 120000]")
    ]
    time_zone: Annotated[Text, FreeText("time zone of the site")]


@dataclass(frozen=True)
class OrWord:
    """Says to editors that one word may stand in place of a section."""

    word: str

    def __get_pydantic_json_schema__(self, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return {"anyOf": [handler(core), {"const": self.word}]}


class Head(Section):
    """A dished head, by the radii of its crown and knuckle."""

    form: Annotated[Word, Choice("form of the head", words=("torispherical",))]
    crown_radius: Annotated[Value, Quantity("inside crown radius", allowed="(0, 200]", example="1600 mm")]
    knuckle_radius: Annotated[Value, Quantity("inside knuckle radius", allowed="(0, 50]", example="160 mm")]
    on: Annotated[Word, Choice("diameter the radii belong to", words=("inside diameter",))]


class Vessel(Section):
    """The vessel and the datum from which every height of the case is measured."""

    shape: Annotated[Word, Choice("shape of the vessel", words=("vertical cylinder",))]
    inside_diameter: Annotated[Value, Quantity("inside diameter", allowed="(0, 100]", example="1600 mm")]
    shell_length: Annotated[
        Value, Quantity("length of the shell between the tangent lines", allowed="(0, 100]", example="2400 mm")
    ]
    bottom_head: Head
    top_head: Annotated[Head, OrWord(AS_BOTTOM)]
    datum: Annotated[Word, Choice("datum of all heights", words=("lowest inside point",))]
    shell_expansion: Annotated[
        Value, Quantity("linear expansion of the shell", dimension="expansion", allowed="[0, 0.001]")
    ]
    table_temperature: Annotated[
        Value, Quantity("shell temperature the tank table holds for", dimension="temperature", allowed="[200, 800]")
    ]
    shell_temperature: Annotated[
        Value,
        Quantity("temperature of the shell", dimension="temperature", allowed="[73, 1300]", words=(AS_LIQUID,)),
    ]
    metal: Annotated[Text, FreeText("material of the shell")]

    @classmethod
    def parts(cls, node: Node | Absent, notes: Notes) -> dict[str, Node | Absent]:
        """A top head stated "as bottom_head" is read from there."""
        parts = super().parts(node, notes)
        top = parts["top_head"]
        if isinstance(top, Scalar) and top.text.strip() == AS_BOTTOM:
            parts["top_head"] = parts["bottom_head"]
        return parts


class Nozzle(Section):
    """The opening the instrument is fitted in."""

    place: Annotated[Word, Choice("place of the nozzle", words=("top, on the axis",))]
    flange_face: Annotated[
        Value,
        Quantity(
            "height of the flange face",
            allowed="[-10, 200]",
            companions={"above": Choice("point the flange face is measured from", words=("inside crown of top head",))},
            example="{value: 150 mm, above: inside crown of top head}",
        ),
    ]
    bore: Annotated[Value, Quantity("bore of the nozzle", allowed="(0, 10]", example="80 mm")]
    headroom_above_face: Annotated[
        Value, Quantity("clear height above the flange face", allowed="[0, 200]", example="4.0 m")
    ]


class Zone(Section):
    """Hazardous area, inside the vessel and at the head."""

    inside: Annotated[Word, Choice("zone inside the vessel", words=("0", "1", "2", "20", "21", "22", "none"))]
    at_head: Annotated[Word, Choice("zone at the head", words=("0", "1", "2", "20", "21", "22", "none"))]
    group: Annotated[Word, Choice("gas or dust group", words=("IIA", "IIB", "IIC", "IIIA", "IIIB", "IIIC", "none"))]
    temperature_class: Annotated[Word, Choice("temperature class", words=("T1", "T2", "T3", "T4", "T5", "T6", "none"))]
    note: Annotated[Text, FreeText("note")]
