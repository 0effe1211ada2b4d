"""A limiting value together with where it stands."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Limit:
    """One number that somebody else has set, with where it stands."""

    value: float
    """In the unit that the name of the limit ends in."""
    source: str
    """Key and place in the register of sources."""
    tag: str
    """How far the text was seen."""
    note: str = ""
