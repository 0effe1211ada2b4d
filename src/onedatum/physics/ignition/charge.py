"""Static charge on the instrument: what is too large, too thick or isolated. A reason to warn, never to pass."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Any

from onedatum import data
from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula
from onedatum.physics.ignition.facts import Fact, facts_of
from onedatum.physics.ignition.words import one_of

GAS_EPLS, DUST_EPLS = ("Ga", "Gb", "Gc"), ("Da", "Db", "Dc")
GAS_GROUPS, DUST_GROUPS = ("IIA", "IIB", "IIC"), ("IIIA", "IIIB", "IIIC")
_DUST = "no limit known here for dust: thin layers on metal with strong charging are the danger"
_MIXED = "protection level and group are not of one kind: gas does not serve dust, nor dust gas"


@dataclass(frozen=True)
class SurfaceLimits:
    """How large an insulating surface may be, and how thick a layer on earthed metal; None where not known."""

    area_m2: float | None
    """Largest area exposed, by projection."""
    width_m: float | None
    """Largest width or diameter of a long thin part."""
    layer_m: float | None
    """Thickest layer on earthed metal, without strong charging."""
    reason: str
    """Why there is no limit; empty where there is one."""
    source: str
    tag: str


@dataclass(frozen=True)
class StatedCapacitance:
    """Largest capacitance of isolated metal by one document."""

    capacitance_F: float
    source: str
    tag: str


@dataclass(frozen=True)
class IsolatedMetalLimit:
    """Largest capacitance of metal that is not bonded, by both documents; the smaller is taken."""

    equipment: StatedCapacitance | None
    guidance: StatedCapacitance | None
    """Stated for IIA; a more demanding group has no larger limit."""
    reason: str
    """Why there is no limit; empty where there is one."""

    @property
    def deciding(self) -> StatedCapacitance | None:
        """The smaller of the two; None where there is no limit."""
        stated = [limit for limit in (self.equipment, self.guidance) if limit and not self.reason]
        return min(stated, key=lambda limit: limit.capacitance_F, default=None)

    @property
    def capacitance_F(self) -> float | None:
        """The smaller limit; None where there is none."""
        return self.deciding.capacitance_F if self.deciding else None


@formula(
    equation="A = d*l",
    gives=("A", "projection of the surface that gives the largest area"),
    where={
        "diameter_m": ("d", "diameter over the layer", "[0, 10]"),
        "length_m": ("l", "length exposed", "[0, 1000]"),
    },
    source="iec-60079-14: a curved object counts with its largest projection",
)
def projected_area_m2(diameter_m: Real, length_m: Real) -> Real:
    """Area that a round rod counts with: its shadow, not its skin.

    Example
    -------
    >>> round(projected_area_m2(0.016, 2.0), 6)
    0.032
    """
    return diameter_m * length_m


def surface_limits(epl: str, group: str) -> SurfaceLimits:
    """Limits of insulating surfaces and layers by protection level and group.

    A part passes by area or by width; a layer on earthed metal by its thickness, where nothing charges it strongly.

    Formula
    -------
    looked up

    Parameters
    ----------
    epl : str
        equipment protection level: "Ga", "Gb", "Gc", "Da", "Db", "Dc"
    group : str
        "IIA", "IIB", "IIC", "IIIA", "IIIB", "IIIC"

    Returns
    -------
    SurfaceLimits
        area [m2], width [m], layer [m], source and tag; None with the reason for dust

    Validity
    --------
    gas; for a warning, never for a pass

    Source
    ------
    IEC 60079-0, insulating surfaces, layers and isolated metal [from memory]

    Example
    -------
    >>> surface_limits("Ga", "IIB").area_m2, surface_limits("Db", "IIIB").area_m2
    (0.0025, None)
    """
    table = _table()["surfaces"]
    reason = _no_limit(epl, group)
    if reason:
        return SurfaceLimits(None, None, None, reason, table["source"], table["tag"])
    row = next(row for row in table["limits"] if (row["epl"], row["group"]) == (epl, group))
    return SurfaceLimits(row["area_m2"], row["width_m"], row["layer_m"], "", table["source"], table["tag"])


def isolated_metal_limit(epl: str, group: str) -> IsolatedMetalLimit:
    """Largest capacitance of metal that is not bonded; bonding it is the rule, this is the exception.

    Formula
    -------
    looked up: the smaller of the standard for equipment and the guidance for installation

    Parameters
    ----------
    epl : str
        equipment protection level: "Ga", "Gb", "Gc", "Da", "Db", "Dc"
    group : str
        "IIA", "IIB", "IIC", "IIIA", "IIIB", "IIIC"

    Returns
    -------
    IsolatedMetalLimit
        both capacitances [F] with source and tag, and which is taken; none with the reason where none is known

    Validity
    --------
    gas; for a warning, never for a pass

    Source
    ------
    IEC 60079-0 [from memory], IEC TS 60079-32-1 for group IIA [read second-hand]

    Example
    -------
    >>> isolated_metal_limit("Gb", "IIA").equipment.capacitance_F, isolated_metal_limit("Gb", "IIA").capacitance_F
    (1e-11, 6e-12)
    """
    table = _table()["isolated_metal"]
    reason = _no_limit(epl, group)
    if reason:
        return IsolatedMetalLimit(None, None, reason)
    equipment = _stated(table["equipment"], lambda row: (row["epl"], row["group"]) == (epl, group))
    guidance = _stated(table["guidance"], lambda row: row["epl"] == epl)
    own = group == table["guidance"]["group"]
    return IsolatedMetalLimit(equipment, guidance, "" if equipment or own else f"no limit known for {epl} {group}")


def charge_facts() -> tuple[Fact, ...]:
    """What is to be said about static charge on an instrument, each sentence with its source."""
    return facts_of(_table()["facts"])


def _no_limit(epl: str, group: str) -> str:
    """Why these two have no limit, empty where they are of gas both; an unknown word is refused."""
    one_of(epl, (*GAS_EPLS, *DUST_EPLS), "equipment protection level")
    one_of(group, (*GAS_GROUPS, *DUST_GROUPS), "group of gas or dust")
    if (epl in DUST_EPLS) != (group in DUST_GROUPS):
        return _MIXED
    return _DUST if epl in DUST_EPLS else ""


def _stated(table: dict[str, Any], fits: Callable[[dict[str, Any]], bool]) -> StatedCapacitance | None:
    row = next(filter(fits, table["limits"]), None)
    return StatedCapacitance(row["capacitance_F"], table["source"], table["tag"]) if row else None


@cache
def _table() -> dict[str, Any]:
    table: dict[str, Any] = data.table("ignition_surfaces.json")
    return table
