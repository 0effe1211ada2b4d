"""Bonding, breakdown of layers and light metals: single limits beside those of surfaces."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from onedatum import data
from onedatum.physics.ignition.words import one_of


@dataclass(frozen=True)
class BondingLimit:
    """Largest resistance to earth of metal that counts as bonded."""

    resistance_ohm: float
    source: str
    tag: str


@dataclass(frozen=True)
class BreakdownLimits:
    """Breakdown voltage of a layer up to which no propagating brush discharge arises."""

    sheet_V: float
    woven_V: float
    source: str
    tag: str


@dataclass(frozen=True)
class LightMetalLimits:
    """Largest share of the mass of light metals; None where there is no limit or none is known."""

    with_aluminium: float | None
    """Aluminium, magnesium, titanium and zirconium together."""
    without_aluminium: float | None
    """Magnesium, titanium and zirconium together."""
    reason: str
    """Why there is no limit; empty where there is one."""
    note: str
    source: str
    tag: str


def bonding_limit() -> BondingLimit:
    """Largest resistance to earth of metal that counts as bonded.

    Formula
    -------
    read from ignition_surfaces.json

    Parameters
    ----------
    none

    Returns
    -------
    BondingLimit
        resistance [ohm], source and tag

    Validity
    --------
    static charge; lightning and protective earth ask for less

    Source
    ------
    TRGS 727, 8.3 and 8.5 [read second-hand]

    Example
    -------
    >>> bonding_limit().resistance_ohm
    1000000.0
    """
    return BondingLimit(**_table()["bonding"])


def breakdown_limits() -> BreakdownLimits:
    """Breakdown voltages of a layer up to which strong charging brings no propagating brush discharge.

    Formula
    -------
    read from ignition_surfaces.json

    Parameters
    ----------
    none

    Returns
    -------
    BreakdownLimits
        of a sheet and of a woven layer [V], source and tag

    Validity
    --------
    layers on earthed metal with strong charging

    Source
    ------
    IEC TS 60079-32-1 electrostatic hazards, guidance [read second-hand]

    Example
    -------
    >>> breakdown_limits().sheet_V, breakdown_limits().woven_V
    (4000, 6000)
    """
    return BreakdownLimits(**_table()["breakdown"])


def light_metal_limits(epl: str) -> LightMetalLimits:
    """Largest share of light metals in what may be struck, by protection level.

    Formula
    -------
    looked up

    Parameters
    ----------
    epl : str
        equipment protection level: "Ga", "Gb", "Gc", "Da", "Db", "Dc"

    Returns
    -------
    LightMetalLimits
        shares of the mass [1], note, source and tag; None with the reason where there is no limit

    Validity
    --------
    enclosures; for a float it is a yardstick

    Source
    ------
    IEC 60079-0 explosive atmospheres, general requirements, 8.3 [read]

    Example
    -------
    >>> light_metal_limits("Ga").with_aluminium, light_metal_limits("Ga").without_aluminium
    (0.1, 0.075)
    """
    table = _table()["light_metals"]
    one_of(epl, ("Ga", "Gb", "Gc", "Da", "Db", "Dc"), "equipment protection level")
    rows = {row["epl"]: row for row in table["limits"]}
    with_aluminium, without = (rows.get(epl, {}).get(key) for key in ("with_aluminium", "without_aluminium"))
    reason = "" if without is not None else "no limit in this clause" if epl in rows else "dust: not read"
    return LightMetalLimits(with_aluminium, without, reason, table["note"], table["source"], table["tag"])


@cache
def _table() -> dict[str, Any]:
    table: dict[str, Any] = data.table("ignition_surfaces.json")
    return table
