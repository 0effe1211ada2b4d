"""Whether the ratings hold at all: they are made for air at about the pressure and temperature of the atmosphere."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.model.hazard import AIR
from onedatum.foundation.working import Entry
from onedatum.physics.ignition import standard_atmosphere
from onedatum.physics.uncertainty import expanded
from onedatum.study.desk import Desk
from onedatum.study.ignition.place import Needs
from onedatum.study.pressure import absolute_pressures
from onedatum.study.sensitivity import uncertain_under
from onedatum.study.states import StatesChapter
from onedatum.verdicts import Link

COVERAGE = 2.0


def outside_the_ratings(desk: Desk, needs: Needs, states: StatesChapter) -> tuple[Link, ...]:
    """Why the ratings do not hold inside the vessel; empty where they do or nothing is known against it."""
    if needs.inside is None:
        return ()
    return tuple(_reasons(desk, states))


def _reasons(desk: Desk, states: StatesChapter) -> Iterator[Link]:
    gas = desk.said(desk.case.zone.gas_space, "whether ratings made for air hold inside the vessel")
    if gas not in ("", AIR):
        yield Link("The gas space holds", gas)
    temperatures = [each.temperature for each in states.conditions if each.fitted]
    pressures = _pressures(desk)
    limits = standard_atmosphere()
    bounds = (
        ("zone.atmosphere_coldest", limits.temperature_min_K, "K", "degC", "below", temperatures),
        ("zone.atmosphere_hottest", limits.temperature_max_K, "K", "degC", "above", temperatures),
        ("zone.atmosphere_least_pressure", limits.pressure_min_Pa_abs, "Pa_abs", "bar(a)", "below", pressures),
        ("zone.atmosphere_greatest_pressure", limits.pressure_max_Pa_abs, "Pa_abs", "bar(a)", "above", pressures),
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
        for entry in entries:
            if _beyond(desk, entry, side, limit):
                told = f"{entry.meaning[:1].upper()}{entry.meaning[1:]}, {side} {limit.text} or not surely within it"
                yield Link(told, entry.text, entry.name)


def _pressures(desk: Desk) -> tuple[Entry, ...]:
    if desk.case.pressure.operating.state != "unknown":
        return absolute_pressures(desk)
    desk.want(desk.case.pressure.operating, "whether ratings made for the atmosphere hold inside the vessel")
    return ()


def _beyond(desk: Desk, entry: Entry, side: str, limit: Entry) -> bool:
    """Whether a value lies beyond a limit, or within its uncertainty (k = 2) of it."""
    if entry.value is None or limit.value is None:
        return False
    uncertain = uncertain_under(entry)
    standard = max((each.uncertainty.standard for each in uncertain if each.uncertainty), default=0.0)
    half = float(expanded(standard, COVERAGE))
    return entry.value - half < limit.value if side == "below" else entry.value + half > limit.value
