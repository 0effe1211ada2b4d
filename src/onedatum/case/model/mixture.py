"""What decides the permittivity of a medium that is no single liquid: two liquids, or grains with air and moisture."""

from __future__ import annotations

from typing import Annotated

from onedatum.case.kinds import Choice, FreeText, Quantity
from onedatum.case.leaf import Text, Value, Word
from onedatum.case.section import Section

BIND, KEEP_APART = "yes", "no"


class Mixture(Section):
    """Another liquid in the medium; the medium itself is the one that kind and substance name."""

    other: Annotated[
        Text, FreeText("liquid mixed in, by its name or CAS number in the handbook", "process", longest=80)
    ]
    other_permittivity: Annotated[
        Value,
        Quantity(
            "relative permittivity of the liquid mixed in, in place of its name",
            dimension="number",
            allowed="[1, 250]",
            example="2.4",
        ),
    ]
    share: Annotated[
        Value,
        Quantity(
            "volume of the liquid mixed in, in the volumes before mixing",
            dimension="volume fraction",
            allowed="[0, 1]",
            ranged=True,
            why="no mixture holds more than all of it",
            example="{value: 5 %vol, min: 2 %vol, max: 8 %vol}",
        ),
    ]
    bind: Annotated[
        Word,
        Choice(
            "whether the two bind to one another, as water does to alcohols, glycols and acids",
            words=(BIND, KEEP_APART),
        ),
    ]


class Bulk(Section):
    """Grain or powder: read where the permittivity of a probe is worked, and nowhere else."""

    solid_permittivity: Annotated[
        Value,
        Quantity(
            "relative permittivity of the dry solid itself, without air",
            dimension="number",
            allowed="[1, 250]",
            example="3.0",
        ),
    ]
    solid_density: Annotated[
        Value,
        Quantity(
            "density of the dry solid itself, without air",
            dimension="density",
            allowed="[400, 3000]",
            example="1400 kg/m3",
        ),
    ]
    packing: Annotated[
        Value,
        Quantity(
            "volume of the grains in the volume of the bulk",
            dimension="volume fraction",
            allowed="[0, 1]",
            ranged=True,
            why="the rest is air",
            example="{value: 58 %vol, min: 54 %vol, max: 62 %vol}",
        ),
    ]
    moisture: Annotated[
        Value,
        Quantity(
            "mass of water in the mass of the moist grain",
            dimension="mass fraction",
            allowed="[0, 1]",
            ranged=True,
            why="no grain holds more than all water",
            example="{value: 12 %mass, min: 10 %mass, max: 16 %mass}",
        ),
    ]
