"""A section of a probe that stays wetted and tells what the liquid is."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from onedatum.case.kinds import Choice, Quantity
from onedatum.case.leaf import Value, Word
from onedatum.case.section import Section

EVEN, UNEVEN = "yes", "no"


class ReferenceSection(Section):
    """The lowest part of a rod, of the same build, with a measurement of its own."""

    from_: Annotated[
        Value,
        Field(alias="from"),
        Quantity("height at which the reference section begins", "instrument", allowed="[-20, 200]", example="50 mm"),
    ]
    to: Annotated[
        Value,
        Quantity("height at which the reference section ends", "instrument", allowed="[-20, 200]", example="150 mm"),
    ]
    even: Annotated[
        Word,
        Choice("whether the liquid is one and even from the reference section up to its surface", words=(EVEN, UNEVEN)),
    ]
