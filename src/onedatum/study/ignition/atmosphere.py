"""Whether the ratings hold at all: they are made for air at about the pressure and temperature of the atmosphere."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.model.hazard import NOT_AIR
from onedatum.foundation.working import Entry
from onedatum.physics.ignition import standard_atmosphere
from onedatum.study.desk import Desk
from onedatum.study.ignition.place import Needs
from onedatum.study.pressure import absolute_pressure
from onedatum.study.states import StatesChapter
from onedatum.verdicts import Link


def outside_the_ratings(desk: Desk, needs: Needs, states: StatesChapter) -> tuple[Link, ...]:
    """Why the ratings do not hold inside the vessel; empty where they do or nothing is known against it."""
    if needs.inside is None:
        return ()
    return tuple(_reasons(desk, states))


def _reasons(desk: Desk, states: StatesChapter) -> Iterator[Link]:
    if desk.word(desk.case.zone.gas_space, "whether ratings made for air hold inside the vessel") == NOT_AIR:
        yield Link("The gas space holds", NOT_AIR)
    limits = standard_atmosphere()
    fitted = [each.temperature for each in states.conditions if each.fitted and each.own_liquid]
    pressure = absolute_pressure(desk) if desk.case.pressure.operating.state != "unknown" else None
    if pressure is None:
        desk.want(desk.case.pressure.operating, "whether ratings made for the atmosphere hold inside the vessel")
    bounds = (
        ("zone.atmosphere_coldest", limits.temperature_min_K, "K", "degC", "below", fitted),
        ("zone.atmosphere_hottest", limits.temperature_max_K, "K", "degC", "above", fitted),
        ("zone.atmosphere_least_pressure", limits.pressure_min_Pa_abs, "Pa_abs", "bar(a)", "below", [pressure]),
        ("zone.atmosphere_greatest_pressure", limits.pressure_max_Pa_abs, "Pa_abs", "bar(a)", "above", [pressure]),
    )
    for name, value, suffix, shown, side, entries in bounds:
        limit = desk.sheet.give(
            name,
            value,
            suffix,
            f"end of the standard atmosphere, {side} it no rating holds",
            state="constant",
            shown=shown,
            source=limits.source,
        )
        yield from (Link(*_told(entry, side, limit)) for entry in entries if _beyond(entry, side, limit))


def _beyond(entry: Entry | None, side: str, limit: Entry) -> bool:
    if entry is None or entry.value is None or limit.value is None:
        return False
    return entry.value < limit.value if side == "below" else entry.value > limit.value


def _told(entry: Entry | None, side: str, limit: Entry) -> tuple[str, str, str]:
    """The sentence of a reason, with the number it leads to."""
    if entry is None:
        return "", "", ""
    return f"{entry.meaning[:1].upper()}{entry.meaning[1:]}, {side} {limit.text}", entry.text, entry.name
