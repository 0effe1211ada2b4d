"""How far apart two numbers of one kind are: the margin of a comparison, by what is compared."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from onedatum.foundation.working import Entry
from onedatum.physics.floats import density_margin_kg_per_m3, pressure_margin_Pa, ratio_margin, temperature_margin_K
from onedatum.physics.loop import current_margin_A
from onedatum.physics.overfill import margin_m


@dataclass(frozen=True)
class Apart:
    """The formula of a margin, and which of its parameters is the upper and which the lower number."""

    margin: Callable[..., Any]
    upper: str
    lower: str
    shown: str = ""

    def inputs(self, upper: Entry, lower: Entry) -> dict[str, Entry]:
        """The two numbers under the names that the formula calls them."""
        return {self.upper: upper, self.lower: lower}


HEIGHTS = Apart(margin_m, "limit_m", "value_m", "mm")
CURRENTS = Apart(current_margin_A, "limit_A", "value_A", "mA")
SHARES = Apart(ratio_margin, "limit", "value")
TEMPERATURES = Apart(temperature_margin_K, "limit_K", "value_K", "K")
PRESSURES = Apart(pressure_margin_Pa, "allowed_Pa_gauge", "acting_Pa_gauge", "bar")
DENSITIES = Apart(density_margin_kg_per_m3, "limit_kg_per_m3", "value_kg_per_m3")
