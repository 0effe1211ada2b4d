"""Limits of the law and of standards for level gauges and tank tables, row by row as the data files hold them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import ceil

from onedatum import data

_ROUND_UP = 1e-9
"""A height that misses a whole metre by rounding alone is that metre."""


@dataclass(frozen=True, kw_only=True)
class Limit:
    """A limit of a document: where it stands, and how far its text was seen."""

    key: str
    country: str
    document: str
    article: str
    stage: str
    tag: str
    source: str
    note: str = ""

    @property
    def citation(self) -> str:
        """Its source, with the place there."""
        return f"{self.source}: {self.article}" if self.article else self.source


@dataclass(frozen=True, kw_only=True)
class GaugeLimit(Limit):
    """A limit for the error of a level gauge."""

    words: str
    least_m: float = 0.0
    above_m: float | None = None
    least_above_m: float = 0.0
    share: float = 0.0
    fixed_m: float = 0.0
    per_metre_m: float = 0.0

    def limit_m(self, height_m: float) -> float:
        """The limit at a height: the largest of its parts; metres are counted as begun."""
        above = self.above_m is not None and height_m > self.above_m
        metres = max(ceil(height_m - _ROUND_UP), 0)
        by_metres = self.fixed_m + self.per_metre_m * metres
        return max(self.share * height_m, self.least_above_m if above else self.least_m, by_metres)

    @property
    def rule(self) -> str:
        """The limit in words."""
        parts = [f"{1000 * self.least_m:g} mm"] if self.least_m else []
        if self.above_m is not None:
            parts = [f"{1000 * self.least_m:g} mm up to {self.above_m:g} m, {1000 * self.least_above_m:g} mm above"]
        if self.share:
            parts.append(f"{100 * self.share:g} % of the height")
        if self.per_metre_m:
            parts.append(f"{1000 * self.fixed_m:g} mm and {1000 * self.per_metre_m:g} mm for each metre begun")
        return parts[0] if len(parts) == 1 else f"the larger of {' and '.join(parts)}"


@dataclass(frozen=True, kw_only=True)
class TableLimit(Limit):
    """A limit for the uncertainty of a tank table, as a share of what `basis` names."""

    tank: str
    limit: float
    basis: str

    @property
    def words(self) -> str:
        """What it limits."""
        return f"{self.tank}, {self.stage}, of the {self.basis}"


@cache
def gauge_limits() -> tuple[GaugeLimit, ...]:
    """Every limit for level gauges."""
    return tuple(GaugeLimit(**row) for row in data.table("gauge_limits.json")["limits"])


@cache
def table_limits() -> tuple[TableLimit, ...]:
    """Every limit for tank tables."""
    return tuple(TableLimit(**row) for row in data.table("table_limits.json")["limits"])
