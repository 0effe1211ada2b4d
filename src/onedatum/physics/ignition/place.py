"""The place: what a zone asks of equipment, which group serves which, the atmosphere all of it holds for."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from typing import Any

from onedatum import data
from onedatum.foundation.errors import QuantityError
from onedatum.physics.ignition.words import one_of

_ZERO_K = 273.15


@dataclass(frozen=True)
class ZoneNeeds:
    """What a zone asks of equipment, with where it stands."""

    zone: str
    kind: str
    """What is explosive there: gas (vapour and mist as well), or dust."""
    epls: tuple[str, ...]
    """Equipment protection levels that serve, the highest first."""
    levels: tuple[str, ...]
    """Levels of protection of intrinsic safety that serve, the highest first."""
    category: str
    """Least category by number and letter, as Europe marks it."""
    source: str
    tag: str

    @property
    def least_epl(self) -> str:
        """The lowest protection level that serves."""
        return self.epls[-1]

    @property
    def least_level(self) -> str:
        """The lowest level of protection of intrinsic safety that serves."""
        return self.levels[-1]


@dataclass(frozen=True)
class StandardAtmosphere:
    """The atmosphere that zones, groups and classes hold for, and the ambient range where none is marked."""

    temperature_min_K: float
    temperature_max_K: float
    pressure_min_Pa_abs: float
    pressure_max_Pa_abs: float
    ambient_min_K: float
    ambient_max_K: float
    source: str
    tag: str


def zone_needs(zone: str) -> ZoneNeeds:
    """What a zone asks of equipment; zones are written 0, 1, 2 for gas and 20, 21, 22 for dust."""
    zones = _zones()
    return zones[one_of(zone, zones, "zones of gas are 0, 1 and 2, of dust 20, 21 and 22")]


def epl_serves(epl: str, zone: str) -> bool:
    """Whether equipment of a protection level may stand in a zone; gas and dust never serve one another."""
    known = dict.fromkeys(level for needs in _zones().values() for level in needs.epls)
    return one_of(epl, known, "equipment protection level") in zone_needs(zone).epls


def level_serves(level: str, zone: str) -> bool:
    """Whether an intrinsically safe circuit of a level of protection may stand in a zone."""
    return one_of(level, _table()["levels_rising"], "level of protection") in zone_needs(zone).levels


def lowest_level(levels: Iterable[str]) -> str:
    """The level of protection of a circuit: the lowest among those of its parts."""
    rising: list[str] = _table()["levels_rising"]
    return min(_some(levels, "level"), key=lambda level: rising.index(one_of(level, rising, "level of protection")))


def group_serves(certified: str, needed: str) -> bool:
    """Whether equipment certified for one group may stand where another is needed.

    A more demanding group serves the less demanding ones of its kind; gas and dust never serve one another.
    """
    kind, rank = _place_of(certified)
    kind_needed, rank_needed = _place_of(needed)
    return kind == kind_needed and rank >= rank_needed


def least_group(groups: Iterable[str]) -> str:
    """The group of a circuit: the least demanding among those its parts are certified for."""
    stated = _some(groups, "group")
    if len({_place_of(group)[0] for group in stated}) > 1:
        raise QuantityError("groups of gas alone or of dust alone", ", ".join(stated), "neither serves the other")
    return min(stated, key=lambda group: _place_of(group)[1])


def harder_zone(first: str, second: str) -> str:
    """The zone of the two that asks for more; both of gas or both of dust."""
    needs = [zone_needs(first), zone_needs(second)]
    if needs[0].kind != needs[1].kind:
        why = "equipment for gas does not serve dust: each zone is looked at by itself"
        raise QuantityError("two zones of gas or two of dust", f"{first} and {second}", why)
    return min(needs, key=lambda need: len(need.epls)).zone


def standard_atmosphere() -> StandardAtmosphere:
    """The atmosphere that zones, groups and temperature classes hold for.

    Outside it, or with more oxygen than air has, no simple check is valid.

    Formula
    -------
    read from ignition_zones.json

    Parameters
    ----------
    none

    Returns
    -------
    StandardAtmosphere
        temperatures [K], pressures [Pa(a)], source and tag

    Validity
    --------
    air with its usual share of oxygen

    Source
    ------
    IEC 60079-0 explosive atmospheres, general requirements, standard atmosphere [read]

    Example
    -------
    >>> standard_atmosphere().temperature_max_K, standard_atmosphere().pressure_max_Pa_abs
    (333.15, 110000)
    """
    row = _table()["atmosphere"]
    kelvin = {f"{key.removesuffix('_degC')}_K": row[key] + _ZERO_K for key in row if key.endswith("_degC")}
    return StandardAtmosphere(**kelvin, **{key: row[key] for key in row if not key.endswith("_degC")})


def _some(words: Iterable[str], what: str) -> list[str]:
    stated = list(words)
    if not stated:
        raise QuantityError(f"at least one {what}", "none", f"a circuit without parts has no {what}")
    return stated


def _place_of(group: str) -> tuple[str, int]:
    """Kind of a group, and how demanding it is among its kind."""
    rising: dict[str, list[str]] = _table()["groups_rising"]
    one_of(group, [each for groups in rising.values() for each in groups], "group of gas or dust")
    return next((kind, groups.index(group)) for kind, groups in rising.items() if group in groups)


@cache
def _zones() -> dict[str, ZoneNeeds]:
    table = _table()
    return {
        row["zone"]: ZoneNeeds(
            row["zone"],
            row["kind"],
            tuple(row["epls"]),
            tuple(row["levels"]),
            row["category"],
            table["zones_source"],
            table["zones_tag"],
        )
        for row in table["zones"]
    }


@cache
def _table() -> dict[str, Any]:
    table: dict[str, Any] = data.table("ignition_zones.json")
    return table
