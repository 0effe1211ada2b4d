"""A limiting value together with where it stands."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.foundation.sources import Figure


@dataclass(frozen=True)
class Limit(Figure):
    """One number that somebody else has set as a limit, with where it stands."""

    note: str = ""
