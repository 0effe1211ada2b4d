"""A shell measured by strapping: its courses, the tape, what was in the tank, and a floating roof."""

from __future__ import annotations

from typing import Annotated

from onedatum.case.kinds import Quantity
from onedatum.case.leaf import Value
from onedatum.case.section import Section


class Course(Section):
    """One course of the shell."""

    height: Annotated[Value, Quantity("height of the course", allowed="(0, 20]", example="2 m")]
    circumference: Annotated[
        Value, Quantity("circumference as read on the tape", allowed="(0, 400]", example="62.9135 m")
    ]
    strapped_at: Annotated[
        Value, Quantity("height of the strap over the foot of the course", allowed="[0, 20]", example="1 m")
    ]
    plate: Annotated[Value, Quantity("thickness of the plate", allowed="(0, 0.2]", example="8 mm")]
    paint: Annotated[Value, Quantity("thickness of the paint", allowed="[0, 0.05]", example="0.4 mm")]
    drawing_diameter: Annotated[
        Value, Quantity("inside diameter by the drawing", allowed="(0, 120]", example="20.00 m")
    ]


class Strapping(Section):
    """How the straps were taken, and what the table shall hold for."""

    tape_error: Annotated[
        Value,
        Quantity(
            "correction of the tape by its certificate, as share", dimension="share of value", allowed="[-0.01, 0.01]"
        ),
    ]
    tape_expansion: Annotated[
        Value, Quantity("linear expansion of the tape", dimension="expansion", allowed="[0, 0.001]")
    ]
    tape_temperature: Annotated[
        Value, Quantity("temperature of the tape", dimension="temperature", allowed="[200, 400]")
    ]
    tape_certified_at: Annotated[
        Value, Quantity("temperature the tape is certified at", dimension="temperature", allowed="[200, 400]")
    ]
    shell_temperature: Annotated[
        Value, Quantity("temperature of the shell at strapping", dimension="temperature", allowed="[200, 800]")
    ]
    straps_over: Annotated[
        Value,
        Quantity(
            "number of butt straps or laps the tape rises over",
            dimension="number",
            allowed="[0, 200]",
            whole=True,
            example="2",
        ),
    ]
    strap_thickness: Annotated[Value, Quantity("thickness of each of them", allowed="(0, 0.2]", example="8 mm")]
    strap_width: Annotated[Value, Quantity("width of each of them", allowed="[0, 5]", example="200 mm")]
    liquid_level: Annotated[
        Value, Quantity("level of the liquid in the tank at strapping", allowed="[0, 200]", example="8.4 m")
    ]
    liquid_density: Annotated[
        Value, Quantity("density of that liquid", dimension="density", allowed="(0, 20000]", example="850 kg/m3")
    ]
    modulus: Annotated[
        Value, Quantity("elastic modulus of the shell", dimension="stress", allowed="[1e9, 1e12]", example="206 GPa")
    ]
    table_density: Annotated[
        Value, Quantity("density of the liquid the table holds for", dimension="density", allowed="(0, 20000]")
    ]
    lean: Annotated[
        Value, Quantity("lean of the shell over its height", dimension="number", allowed="[0, 0.03]", example="0.004")
    ]


class Batch(Section):
    """One batch of a liquid calibration; the first may be of no volume, for the level before it."""

    level: Annotated[Value, Quantity("level after the batch", allowed="[-50, 200]", example="120 mm")]
    metered: Annotated[
        Value, Quantity("volume of the batch on the meter", dimension="volume", allowed="[0, 1e6]", example="1.85 m3")
    ]
    meter_temperature: Annotated[
        Value, Quantity("temperature of the liquid in the meter", dimension="temperature", allowed="[250, 370]")
    ]
    tank_temperature: Annotated[
        Value,
        Quantity(
            "temperature of the liquid in the tank after the batch", dimension="temperature", allowed="[250, 370]"
        ),
    ]


class Metering(Section):
    """The meter and the liquid of a liquid calibration."""

    meter_factor: Annotated[
        Value, Quantity("meter factor by its certificate", dimension="number", allowed="[0.9, 1.1]", example="1.0012")
    ]
    liquid_expansion: Annotated[
        Value,
        Quantity(
            "cubic expansion of that liquid", dimension="expansion", allowed="[-0.0001, 0.002]", example="2.1e-4 1/K"
        ),
    ]


class FloatingRoof(Section):
    """A roof that floats on the liquid."""

    mass: Annotated[Value, Quantity("mass of the floating roof", dimension="mass", allowed="(0, 1e7]", example="85 t")]
    lands_at: Annotated[
        Value, Quantity("level below which the roof stands on its legs", allowed="[0, 50]", example="1.6 m")
    ]
    floats_at: Annotated[Value, Quantity("level above which it floats freely", allowed="[0, 50]", example="1.9 m")]
