"""A probe at one level."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.foundation.working import Entry


@dataclass(frozen=True)
class AtLevel:
    """The probe at one level."""

    name: str
    """How its entries call it: the current of a mark, now, or a point of the setting."""
    current: Entry | None
    """None at a level that is no mark of the signal."""
    level: Entry
    wetted: Entry
    capacitance: Entry
