"""The build of a capacitive probe: its form, its dead lengths, its gland, and how its core is earthed."""

from __future__ import annotations

from typing import Annotated

from onedatum.case.kinds import PRESSURE, Choice, Quantity
from onedatum.case.leaf import Value, Word
from onedatum.case.model.build import COMPACT, NO, REMOTE, WITH_DISPLAY, YES
from onedatum.case.section import Section

ROD, ROPE = "rod", "rope"


class ProbeBuild(Section):
    """The concrete form of the probe beside its rod and its earth; each word brings limits that can be overruled."""

    form: Annotated[Word, Choice("form of the probe", "instrument", words=(ROD, ROPE))]
    hot_neck: Annotated[Word, Choice("neck and gland of the probe for high temperature", "instrument", words=(YES, NO))]
    head: Annotated[Word, Choice("head of the probe", "instrument", words=(WITH_DISPLAY, COMPACT, REMOTE))]
    guard_section: Annotated[
        Word,
        Choice(
            "guard section below the gland, driven along so that it measures nothing", "instrument", words=(YES, NO)
        ),
    ]
    coating_adheres: Annotated[
        Word,
        Choice(
            "whether the coating adheres to the core all over, so that vacuum does not lift it",
            "instrument",
            words=(YES, NO),
        ),
    ]
    anchor_length: Annotated[
        Value,
        Quantity(
            "length of weight or anchor below the active length of a rope",
            "instrument",
            allowed="[0, 2]",
            example="150 mm",
        ),
    ]
    rope_stretch: Annotated[
        Value,
        Quantity(
            "how much lower the end of the rope comes by its pull and the warmth, its sag counted",
            "instrument",
            allowed="[0, 2]",
            example="10 mm",
        ),
    ]
    capacitance_max: Annotated[
        Value,
        Quantity(
            "greatest capacitance that the head reads",
            "instrument",
            dimension="capacitance",
            allowed="(0, 1e-3]",
            example="3000 pF",
        ),
    ]
    temperature_max: Annotated[
        Value,
        Quantity(
            "highest temperature of the probe, in place of the usual limit",
            "instrument",
            dimension="temperature",
            allowed="[73, 1300]",
            example="150 degC",
        ),
    ]
    temperature_min: Annotated[
        Value,
        Quantity(
            "lowest temperature of the probe, in place of the usual limit",
            "instrument",
            dimension="temperature",
            allowed="[0, 1300]",
            example="-40 degC",
        ),
    ]
    pressure_max: Annotated[
        Value,
        Quantity(
            "highest pressure of the probe, in place of the usual limit",
            "instrument",
            dimension=PRESSURE,
            allowed="[0, 1e9]",
            example="25 bar(g)",
        ),
    ]
    pressure_min: Annotated[
        Value,
        Quantity(
            "lowest pressure of the probe, in place of the usual limit",
            "instrument",
            dimension="pressure (absolute)",
            allowed="[0, 1e6]",
            example="0.9 bar(a)",
        ),
    ]
    length_max: Annotated[
        Value,
        Quantity(
            "greatest length of the probe, in place of the usual limit", "instrument", allowed="(0, 200]", example="4 m"
        ),
    ]


class Gland(Section):
    """What can settle where the rod comes through the wall: a film that conducts, from the rod to the nozzle."""

    bridge: Annotated[
        Word, Choice("whether a film that conducts can bridge rod and nozzle at the gland", words=(YES, NO))
    ]
    film_thickness: Annotated[
        Value, Quantity("thickness of the film at the gland", allowed="(0, 0.1]", example="0.3 mm")
    ]
    film_conductivity: Annotated[
        Value,
        Quantity(
            "conductivity of the film at the gland",
            dimension="conductivity",
            allowed="(0, 1000]",
            example="100 uS/cm",
        ),
    ]
    film_length: Annotated[
        Value,
        Quantity("length of a coated rod that the film covers below the gland", allowed="(0, 100]", example="150 mm"),
    ]


class Bleed(Section):
    """The way of the core's static charge to earth."""

    resistance: Annotated[
        Value,
        Quantity(
            "resistance from the core to earth for direct current",
            "instrument",
            dimension="resistance",
            allowed="[0, 1e15]",
            example="500 kohm",
        ),
    ]
    head_removed: Annotated[
        Word,
        Choice("whether that way to earth stays with the head removed", "instrument", words=(YES, NO)),
    ]
