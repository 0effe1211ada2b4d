"""The probe at the highest level of its range: what every change of the liquid is told for."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.foundation.working import Entry


@dataclass(frozen=True)
class Full:
    """The rod at that level."""

    dry: Entry
    """Capacitance per length where it is dry."""
    active: Entry
    wetted: Entry
    constant: Entry
    """What it holds at every level."""
