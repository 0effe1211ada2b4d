"""A capacitive probe: its rod, what its circuit closes through, what the liquid leaves on it."""

from __future__ import annotations

from typing import Annotated

from onedatum.case.kinds import Choice, FreeText, Quantity
from onedatum.case.leaf import Text, Value, Word
from onedatum.case.model.probe_build import Bleed, Gland, ProbeBuild
from onedatum.case.model.reference_section import ReferenceSection
from onedatum.case.section import Section

BARE, COATED, BARE_TIP = "bare", "coated all over", "coated but for a bare tip"
BY_WALL, BY_ROD, BY_TUBE = "wall of the vessel", "earthed rod beside it", "concentric earthed tube"
STRIP_INSIDE, STRIP_OUTSIDE = "earthed strip inside on the wall", "earthed strip outside on the wall"
BY_STRIP = (STRIP_INSIDE, STRIP_OUTSIDE)
CONDUCTS, INSULATES, CONCRETE = "metal, earthed", "plastic", "concrete"
YES, NO = "yes", "no"


class Earth(Section):
    """The other plate: what the circuit of the probe closes through."""

    kind: Annotated[
        Word,
        Choice(
            "what the circuit of the probe closes through", "instrument", words=(BY_WALL, BY_ROD, BY_TUBE, *BY_STRIP)
        ),
    ]
    rod_diameter: Annotated[
        Value, Quantity("diameter of the earthed rod", "instrument", allowed="(0, 1]", example="16 mm")
    ]
    apart: Annotated[
        Value,
        Quantity("distance of the earthed rod, axis to axis", "instrument", allowed="(0, 10]", example="150 mm"),
    ]
    tube_bore: Annotated[Value, Quantity("bore of the earthed tube", "instrument", allowed="(0, 2]", example="25 mm")]
    strip_width: Annotated[
        Value, Quantity("width of the earthed strip", "instrument", allowed="(0, 100]", example="100 mm")
    ]
    to_strip: Annotated[
        Value,
        Quantity("axis of the probe from the earthed strip", "instrument", allowed="(0, 10]", example="150 mm"),
    ]
    reaches_to: Annotated[
        Value,
        Quantity("height that the earthed rod reaches down to", "instrument", allowed="[-20, 200]", example="30 mm"),
    ]
    vented: Annotated[
        Word, Choice("whether the earthed tube is vented above the highest level", "instrument", words=(YES, NO))
    ]
    drained: Annotated[
        Word, Choice("whether the earthed tube is open or drains at its lower end", "instrument", words=(YES, NO))
    ]


class Wall(Section):
    """The wall of the vessel as the probe meets it."""

    kind: Annotated[Word, Choice("wall of the vessel, for the probe", words=(CONDUCTS, INSULATES, CONCRETE))]
    off_axis: Annotated[
        Value, Quantity("axis of the probe from the axis of the vessel", allowed="[0, 100)", example="600 mm")
    ]
    equivalent_radius: Annotated[
        Value,
        Quantity(
            "radius of the round tank with the same capacitance, where the section is not round",
            allowed="(0, 1000]",
            example="0.96 m",
        ),
    ]
    thickness: Annotated[
        Value, Quantity("thickness of the plastic wall before earth", allowed="(0, 1]", example="20 mm")
    ]
    permittivity: Annotated[
        Value,
        Quantity("relative permittivity of the plastic wall", dimension="number", allowed="[1, 1000]", example="2.3"),
    ]
    outside_permittivity: Annotated[
        Value,
        Quantity(
            "relative permittivity of what lies outside the plastic wall, such as 1 of air",
            dimension="number",
            allowed="[1, 1000]",
            example="1",
        ),
    ]
    earthed_area: Annotated[
        Value,
        Quantity(
            "area of the plastic wall that the liquid wets and earth lies close behind",
            dimension="area",
            allowed="(0, 1e5]",
            example="4.15 m2",
        ),
    ]


class Film(Section):
    """What stays on the rod above the level."""

    stays: Annotated[
        Word,
        Choice("whether a continuous film stays above the level, by a test of hysteresis", words=(YES, NO)),
    ]
    thickness: Annotated[Value, Quantity("thickness of the film", allowed="(0, 0.1]", example="0.3 mm")]
    drained_for: Annotated[
        Value,
        Quantity(
            "time the film has drained for, in place of its thickness",
            dimension="time",
            allowed="(0, 1e7]",
            example="60 s",
        ),
    ]
    drained_height: Annotated[
        Value,
        Quantity("height over which it has drained, in place of its thickness", allowed="(0, 100]", example="1 m"),
    ]
    conductivity: Annotated[
        Value,
        Quantity(
            "conductivity of the film, where it is not that of the liquid",
            dimension="conductivity",
            allowed="(0, 1000]",
            example="1 mS/cm",
        ),
    ]


class Layer(Section):
    """A layer on the rod that insulates, such as wax or scale, after the probe was set."""

    thickness: Annotated[
        Value, Quantity("thickness of a layer on the rod that insulates", allowed="(0, 0.1]", example="0.5 mm")
    ]
    permittivity: Annotated[
        Value,
        Quantity("relative permittivity of a layer on the rod", dimension="number", allowed="[1, 1000]", example="2.3"),
    ]


class Probe(Section):
    """A capacitive probe; heights count from the datum."""

    rod: Annotated[Word, Choice("rod of the probe", "instrument", words=(BARE, COATED, BARE_TIP))]
    core_diameter: Annotated[
        Value, Quantity("diameter of the metal core", "instrument", allowed="(0, 1]", example="10 mm")
    ]
    coating_diameter: Annotated[
        Value, Quantity("outside diameter of the coating", "instrument", allowed="(0, 1]", example="14 mm")
    ]
    coating_permittivity: Annotated[
        Value,
        Quantity(
            "relative permittivity of the coating", "instrument", dimension="number", allowed="[1, 1000]", example="2.1"
        ),
    ]
    coating_material: Annotated[Text, FreeText("material of the coating")]
    length_confirmed: Annotated[
        Word,
        Choice("whether the length of a coated rod is confirmed by the drawing of the vessel", words=(YES, NO)),
    ]
    active_from: Annotated[
        Value, Quantity("height at which the active length begins", "instrument", allowed="[-20, 200]", example="50 mm")
    ]
    active_to: Annotated[
        Value, Quantity("height at which the active length ends", "instrument", allowed="[-20, 200]", example="2500 mm")
    ]
    inactive_length: Annotated[
        Value,
        Quantity(
            "length of the inactive part, down from the sealing face", "instrument", allowed="[0, 20]", example="300 mm"
        ),
    ]
    splash: Annotated[
        Value,
        Quantity("how far below the inside top splash and condensate wet the rod", allowed="[0, 20]", example="100 mm"),
    ]
    constant: Annotated[
        Value,
        Quantity(
            "capacitance of gland, head and inactive length, the same at every level",
            "instrument",
            dimension="capacitance",
            allowed="[0, 1e-6]",
            example="30 pF",
        ),
    ]
    gland_diameter: Annotated[
        Value,
        Quantity(
            "diameter of the insulating ring through which the rod passes the roof",
            "instrument",
            allowed="(0, 2]",
            example="40 mm",
        ),
    ]
    frequency: Annotated[
        Value,
        Quantity(
            "frequency of the measurement", "instrument", dimension="frequency", allowed="(0, 1e10]", example="100 kHz"
        ),
    ]
    takes_off_loss: Annotated[
        Word, Choice("whether the transmitter takes the loss off the capacitance", "instrument", words=(YES, NO))
    ]
    set_low: Annotated[
        Value, Quantity("lower level at which it is set", "instrument", allowed="[-20, 200]", example="150 mm")
    ]
    set_high: Annotated[
        Value, Quantity("upper level at which it is set", "instrument", allowed="[-20, 200]", example="2200 mm")
    ]
    table_entered: Annotated[
        Word,
        Choice(
            "whether the table that bends the line back is entered in the transmitter", "instrument", words=(YES, NO)
        ),
    ]
    earth: Earth
    wall: Wall
    film: Film
    layer: Layer
    reference_section: ReferenceSection
    build: ProbeBuild
    gland: Gland
    bleed: Bleed
