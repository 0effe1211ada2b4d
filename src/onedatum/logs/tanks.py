"""What a converter knows of a tag: tables as numbers alone, so that who converts needs nothing of how they are made."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np

from onedatum.foundation.numerics import Reals

PIVOT = "quantity.table_volume"
LIMITS = ("failure_low", "undefined_low", "measuring", "undefined_high", "failure_high")


class Quantity(NamedTuple):
    """A quantity of a log: its column, the entry of the sheet, the last digit it is told to in SI."""

    column: str
    entry: str
    digit: float


QUANTITIES = (
    Quantity("volume_m3", PIVOT, 1e-3),
    Quantity("standard_volume_m3", "quantity.gross_standard_volume", 1e-3),
    Quantity("mass_kg", "quantity.mass", 1.0),
    Quantity("pure_alcohol_m3", "quantity.pure_alcohol", 1e-4),
)


@dataclass(frozen=True)
class ByTemperature:
    """Quantity = at_0 + slope*volume, both over the temperature in even steps."""

    low_K: float
    high_K: float
    at_0: Mapping[str, Reals]
    slope: Mapping[str, Reals]


@dataclass(frozen=True)
class TankTables:
    """What a converter knows of one tag."""

    tag: str
    content_hash: str
    lower_m: float
    """Level at 4 mA; NaN where the range is not known."""
    upper_m: float
    edges_A: tuple[float, float, float, float]
    """Least current of each state above the lowest."""
    ends_A: tuple[float, float]
    """Where the current stops; infinite where that is not known."""
    follows_m: tuple[float, float] = (-np.inf, np.inf)
    """The readings between which the instrument follows the level: at its end a float rests, whatever that does."""
    low_m: float = np.nan
    high_m: float = np.nan
    values: Mapping[str, Reals] = field(default_factory=dict)
    off: Mapping[str, float] = field(default_factory=dict)
    """The largest distance of a table from the sheet, half way between its steps."""
    u: Mapping[str, Reals] = field(default_factory=dict)
    """Standard uncertainty by column, `level_m` among them, in the same steps."""
    by_temperature: ByTemperature | None = None
    remarks: tuple[str, ...] = ()
