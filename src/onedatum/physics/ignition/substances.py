"""Flammable substances: flash point, ignition temperature, explosive limits, group and safe gap by two tables.

Tables differ by up to 100 K; both figures are kept, and the one on the safe side counts.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from typing import Any

from onedatum import data
from onedatum.foundation.errors import QuantityError
from onedatum.physics.ignition.words import said, tidied

_ZERO_K = 273.15
_TITLE = "table of flammable substances"
_REMEDY = "State group and ignition temperature by the safety data sheet"


@dataclass(frozen=True)
class Figures:
    """What one table says of a substance, with where it stands; None where it says nothing."""

    ignition_temperature_K: float
    flash_point_K: float | None
    """None of a gas."""
    lower_explosive_limit: float | None
    """Share of the volume in air."""
    upper_explosive_limit: float | None
    source: str
    tag: str


@dataclass(frozen=True)
class Substance:
    """A flammable substance by both tables."""

    name: str
    cas: str
    iec: Figures
    nfpa: Figures | None
    group: str
    safe_gap_m: float | None
    group_source: str
    group_tag: str
    """How far group and safe gap were seen."""
    notes: tuple[str, ...]

    @property
    def figures(self) -> tuple[Figures, ...]:
        """What each table says that has the substance."""
        return tuple(figures for figures in (self.iec, self.nfpa) if figures)

    @property
    def deciding(self) -> Figures:
        """The figures that the ignition temperature is taken from: those with the lower one."""
        return min(self.figures, key=lambda figures: figures.ignition_temperature_K)

    @property
    def ignition_temperature_K(self) -> float:
        """The lower of the ignition temperatures."""
        return self.deciding.ignition_temperature_K

    @property
    def flash_point_K(self) -> float | None:
        """The lower of the flash points; None of a gas."""
        return min(_said(figures.flash_point_K for figures in self.figures), default=None)

    @property
    def lower_explosive_limit(self) -> float | None:
        """The lower of the lower explosive limits, as a share of the volume in air."""
        return min(_said(figures.lower_explosive_limit for figures in self.figures), default=None)

    @property
    def upper_explosive_limit(self) -> float | None:
        """The higher of the upper explosive limits, as a share of the volume in air; None where neither says it."""
        return max(_said(figures.upper_explosive_limit for figures in self.figures), default=None)


@dataclass(frozen=True)
class FlashPoint:
    """Flash point of ethanol with water at one strength."""

    strength: float
    """Share of the volume."""
    flash_point_K: float


@dataclass(frozen=True)
class AqueousEthanol:
    """Flash points of ethanol with water by strength, to be shown. No area is declassified by them."""

    rows: tuple[FlashPoint, ...]
    rule: str
    source: str
    tag: str


def substance(name: str) -> Substance:
    """What the tables say of a flammable substance.

    Formula
    -------
    looked up by name; of two ignition temperatures the lower counts

    Parameters
    ----------
    name : str
        name of the substance, or its usual name in the trade; capitals do not matter

    Returns
    -------
    Substance
        temperatures [K], explosive limits [share of volume], safe gap [m], group, each with source and tag

    Validity
    --------
    pure substances; a name that is not listed, or stands for several, is refused with the nearest ones

    Source
    ------
    IS/IEC 60079-20-1:2010 [read], NFPA 497:2008 [read]; groups and safe gaps [from memory]

    Example
    -------
    >>> ethanol = substance("ethanol")
    >>> round(ethanol.iec.ignition_temperature_K - 273.15), round(ethanol.ignition_temperature_K - 273.15)
    (400, 363)
    """
    asked = tidied(name)
    known = _substances()
    if asked in known:
        return known[asked]
    several: dict[str, list[str]] = _table()["several"]
    if asked in several:
        why = f"the name stands for several substances or grades in the {_TITLE}"
        raise QuantityError(f"one substance, for example {' or '.join(several[asked])}", said(name), why, _REMEDY)
    near = dict.fromkeys(known[word].name for word in get_close_matches(asked, known, n=5, cutoff=0.6))
    allowed = f"one of {', '.join(near)}" if near else f"a name of the {_TITLE}"
    raise QuantityError(allowed, said(name), f"not in the {_TITLE}", _REMEDY)


def substance_names() -> tuple[str, ...]:
    """The names of the substances of the tables, in alphabetical order."""
    return tuple(sorted({found.name for found in _substances().values()}))


def aqueous_ethanol() -> AqueousEthanol:
    """Flash points of ethanol with water by strength.

    Formula
    -------
    read from substances.json: no value between two rows

    Parameters
    ----------
    none

    Returns
    -------
    AqueousEthanol
        strengths [share of volume] with flash points [K], the rule for their use, source and tag

    Validity
    --------
    to be shown: an area is never declassified by strength

    Source
    ------
    Published list of flash points of ethanol with water by strength [read second-hand]

    Example
    -------
    >>> [round(row.flash_point_K - 273.15) for row in aqueous_ethanol().rows if row.strength == 0.4]
    [26]
    """
    table = _table()["aqueous_ethanol"]
    rows = tuple(FlashPoint(row["strength"], row["flash_point_degC"] + _ZERO_K) for row in table["rows"])
    return AqueousEthanol(rows, table["rule"], table["source"], table["tag"])


def _said(values: Iterator[float | None]) -> list[float]:
    return [value for value in values if value is not None]


@cache
def _substances() -> dict[str, Substance]:
    """The substances by all their names in small letters."""
    found = [(row, _substance(row)) for row in _table()["substances"]]
    return {name.casefold(): one for row, one in found for name in (row["name"], *row["also"])}


def _substance(row: dict[str, Any]) -> Substance:
    table = _table()
    return Substance(
        name=row["name"],
        cas=row["cas"],
        iec=_figures(row["iec"], "iec"),
        nfpa=_figures(row["nfpa"], "nfpa") if row["nfpa"] else None,
        group=row["group"],
        safe_gap_m=row["safe_gap_m"],
        group_source=table["group_source"],
        group_tag=table["group_tag"],
        notes=tuple(row["notes"]),
    )


def _figures(row: dict[str, Any], which: str) -> Figures:
    table = _table()
    flash_degC = row["flash_point_degC"]
    return Figures(
        ignition_temperature_K=row["ignition_temperature_degC"] + _ZERO_K,
        flash_point_K=None if flash_degC is None else flash_degC + _ZERO_K,
        lower_explosive_limit=row["lower_explosive_limit"],
        upper_explosive_limit=row["upper_explosive_limit"],
        source=table[f"{which}_source"],
        tag=table[f"{which}_tag"],
    )


@cache
def _table() -> dict[str, Any]:
    table: dict[str, Any] = data.table("substances.json")
    return table
