"""Lengths and times cut off, not rounded, as commands and sheets say them."""

from __future__ import annotations

from math import floor

from onedatum.foundation.units import in_print, in_unit
from onedatum.foundation.working import Entry

NOT_KNOWN = "not known"
ROUNDING = 1e-6
"""Share of the last place by which a number may miss it and still count as that."""


def cut(entry: Entry | None, unit: str, places: int = 0) -> str:
    """A length or a time cut off: never more room or time than there is."""
    if entry is None or entry.value is None:
        return NOT_KNOWN
    scale = 10.0**places
    return in_print(f"{floor(in_unit(entry.value, unit) * scale + ROUNDING) / scale:.{places}f} {unit}")
