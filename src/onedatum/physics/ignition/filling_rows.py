"""Which row of the filling velocities holds: by vessel, sulphur and conductivity, the lowest where one is not known."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from onedatum import data
from onedatum.physics.ignition.facts import Fact, facts_of
from onedatum.physics.ignition.words import above_zero, one_of


@dataclass(frozen=True)
class ConductivityClasses:
    """Where conductivity is called low and high, with where it stands."""

    low_below_S_per_m: float
    high_above_S_per_m: float
    source: str
    tag: str


@dataclass(frozen=True)
class FillingVelocities:
    """Velocities that hold for every vessel, with where they stand."""

    start_m_per_s: float
    """Until the inlet is covered, and while a second phase is present."""
    max_m_per_s: float
    source: str
    tag: str


@dataclass(frozen=True)
class VelocityRow:
    """One row of the table: largest product of velocity and bore."""

    kind: str
    sulphur: str | None
    """Band of sulphur; None where it does not matter."""
    above_S_per_m: float | None
    """The conductivity lies above this; None where any low one does."""
    up_to_S_per_m: float | None
    """The conductivity lies not above this; None where any high one does."""
    velocity_diameter_m2_per_s: float
    sized: bool
    """Whether the factor by the size of the tank goes on it."""
    source: str
    tag: str
    asks: tuple[str, ...] = ()
    """What was not known and would decide between rows: sulphur, conductivity."""


def conductivity_classes() -> ConductivityClasses:
    """Where the conductivity of a liquid is called low and high.

    Formula
    -------
    read from filling_velocities.json

    Parameters
    ----------
    none

    Returns
    -------
    ConductivityClasses
        both bounds [S/m], source and tag

    Validity
    --------
    liquids; more exactly low is below 25 pS/m times the relative permittivity

    Source
    ------
    IEC TS 60079-32-1 and API RP 2003, conductivity of liquids [from memory]

    Example
    -------
    >>> conductivity_classes().low_below_S_per_m, conductivity_classes().high_above_S_per_m
    (5e-11, 1e-08)
    """
    return ConductivityClasses(**_table()["conductivity"])


def conductivity_word(conductivity_S_per_m: float) -> str:
    """Whether the conductivity of a liquid is low, medium or high for static charge."""
    value = _conductivity(conductivity_S_per_m)
    classes = conductivity_classes()
    if value < classes.low_below_S_per_m:
        return "low"
    return "high" if value > classes.high_above_S_per_m else "medium"


def filling_velocities() -> FillingVelocities:
    """Velocity at the start of filling and the highest of all, whatever the vessel.

    Formula
    -------
    read from filling_velocities.json

    Parameters
    ----------
    none

    Returns
    -------
    FillingVelocities
        both velocities [m/s], source and tag

    Validity
    --------
    liquids of low conductivity

    Source
    ------
    NFPA 77:2000 recommended practice on static electricity, 7.6; TRGS 727, 4.4.1 [read]

    Example
    -------
    >>> filling_velocities().start_m_per_s, filling_velocities().max_m_per_s
    (1.0, 7.0)
    """
    return FillingVelocities(**_table()["velocity"])


def velocity_row(kind: str, sulphur: str | None, conductivity_S_per_m: float | None) -> VelocityRow:
    """Row of the filling velocities for a vessel and a liquid; where one is not known, the lowest that is possible.

    Formula
    -------
    looked up: of the rows that what is known admits, the one with the lowest product

    Parameters
    ----------
    kind : str
        kind of vessel, by `vessel_kinds`
    sulphur : str or None
        "above 50 ppm", "at most 50 ppm", None where not known
    conductivity_S_per_m : float or None
        conductivity of the liquid, None where not known [S/m]

    Returns
    -------
    VelocityRow
        product of velocity and bore [m2/s], what it holds for, what was not known, source and tag

    Validity
    --------
    liquids of low conductivity, with the inlet covered and one phase

    Source
    ------
    IEC TS 60079-32-1 as restated by a specialist [read second-hand]; rail cars [from memory]

    Example
    -------
    >>> velocity_row("road tanker", None, None).velocity_diameter_m2_per_s
    0.25
    """
    table = _table()
    one_of(kind, table["kinds"], "vessel that is filled")
    if sulphur is not None:
        one_of(sulphur, table["sulphur"], "sulphur in the liquid", "Leave it out where it is not known")
    value = None if conductivity_S_per_m is None else _conductivity(conductivity_S_per_m)
    possible = [row for row in _rows() if row.kind == kind and _fits(row, sulphur, value)]
    lowest = min(possible, key=lambda row: row.velocity_diameter_m2_per_s)
    return VelocityRow(**{**vars(lowest), "asks": _asks(kind, sulphur, value)})


def vessel_kinds() -> tuple[str, ...]:
    """The kinds of vessel that have a filling velocity."""
    return tuple(_table()["kinds"])


def sulphur_bands() -> tuple[str, ...]:
    """The bands of sulphur that decide for road tankers."""
    return tuple(_table()["sulphur"])


def filling_facts() -> tuple[Fact, ...]:
    """What is to be said about filling beside the velocity, each sentence with its source."""
    return facts_of(_table()["facts"])


def _fits(row: VelocityRow, sulphur: str | None, value: float | None) -> bool:
    if sulphur is not None and row.sulphur not in (None, sulphur):
        return False
    if value is None:
        return True
    above = row.above_S_per_m is None or value > row.above_S_per_m
    return above and (row.up_to_S_per_m is None or value <= row.up_to_S_per_m)


def _asks(kind: str, sulphur: str | None, value: float | None) -> tuple[str, ...]:
    """What is not known though rows of the kind differ by it."""
    rows = [row for row in _rows() if row.kind == kind]
    by_sulphur = sulphur is None and any(row.sulphur for row in rows)
    by_conductivity = value is None and any(row.above_S_per_m or row.up_to_S_per_m for row in rows)
    return (*(["sulphur"] if by_sulphur else []), *(["conductivity"] if by_conductivity else []))


def _conductivity(value: float) -> float:
    return above_zero(value, "a conductivity of 0 S/m or more", "conductivity of the liquid", or_zero=True)


@cache
def _rows() -> tuple[VelocityRow, ...]:
    table = _table()
    common = {"source": table["rows_source"], "tag": table["rows_tag"]}
    return tuple(VelocityRow(**{**common, **row}) for row in table["rows"])


@cache
def _table() -> dict[str, Any]:
    table: dict[str, Any] = data.table("filling_velocities.json")
    return table
