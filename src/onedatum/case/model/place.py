"""Where the measuring point stands: site and nozzle."""

from __future__ import annotations

from typing import Annotated

from onedatum.case.kinds import Choice, FreeText, Quantity
from onedatum.case.leaf import Text, Value, Word
from onedatum.case.section import Section

INSIDE_CROWN, SHELL_TOP = "inside crown of top head", "inside of the shell top"
ON_AXIS, ON_SHELL = "top, on the axis", "top of the shell, at the gauge station"


class Site(Section):
    """Where the measuring point stands."""

    air_density: Annotated[
        Value, Quantity("density of the ambient air", dimension="density", allowed="[0, 20]", example="1.2 kg/m3")
    ]
    ambient_temperature: Annotated[
        Value,
        Quantity(
            "temperature of the ambient air",
            dimension="temperature",
            ranged=True,
            allowed="[200, 340]",
            example="{min: -10 degC, value: 15 degC, max: 35 degC}",
        ),
    ]
    g: Annotated[Value, Quantity("local acceleration of free fall", dimension="acceleration", allowed="[9.7, 9.9]")]
    atmospheric_pressure: Annotated[
        Value, Quantity("atmospheric pressure", dimension="pressure (absolute)", allowed="[40000, 120000]")
    ]
    time_zone: Annotated[Text, FreeText("time zone of the site")]


class Nozzle(Section):
    """The opening the instrument is fitted in."""

    place: Annotated[Word, Choice("place of the nozzle", words=(ON_AXIS, ON_SHELL))]
    flange_face: Annotated[
        Value,
        Quantity(
            "height of the flange face",
            allowed="[-10, 200]",
            companions={"above": Choice("point the flange face is measured from", words=(INSIDE_CROWN, SHELL_TOP))},
            example="{value: 150 mm, above: inside crown of top head}",
        ),
    ]
    bore: Annotated[Value, Quantity("bore of the nozzle", allowed="(0, 10]", example="80 mm")]
    headroom_above_face: Annotated[
        Value, Quantity("clear height above the flange face", allowed="[0, 200]", example="4.0 m")
    ]
