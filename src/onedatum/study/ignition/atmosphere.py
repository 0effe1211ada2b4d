"""Whether the ratings hold at all: they are made for air at about the pressure and temperature of the atmosphere."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.model.hazard import AIR
from onedatum.foundation.working import Entry
from onedatum.physics.ignition import standard_atmosphere
from onedatum.study.desk import Desk
from onedatum.study.ignition.place import Needs
from onedatum.study.pressure import absolute_pressures
from onedatum.study.sensitivity import half_width_under
from onedatum.study.temperatures import fitted_temperatures
from onedatum.verdicts import Link


def outside_the_ratings(desk: Desk, needs: Needs) -> tuple[tuple[Link, ...], tuple[str, ...]]:
    """Why the ratings do not hold inside the vessel, and what is not known of it."""
    if needs.inside is None:
        return (), ()
    bounds = _bounds(desk)
    unknown = [entry.meaning for _, _, entries in bounds for entry in entries if not entry.known]
    return tuple(_reasons(desk, bounds)), tuple(dict.fromkeys(unknown))


Bound = tuple[Entry, str, tuple[Entry, ...]]
"""An end of the standard atmosphere, the side that lies beyond it, and what must not lie there."""


def _bounds(desk: Desk) -> list[Bound]:
    temperatures, pressures, limits = fitted_temperatures(desk), _pressures(desk), standard_atmosphere()
    ends = (
        ("coldest", limits.temperature_min_K, "K", "degC", "below", temperatures),
        ("hottest", limits.temperature_max_K, "K", "degC", "above", temperatures),
        ("least_pressure", limits.pressure_min_Pa_abs, "Pa_abs", "bar(a)", "below", pressures),
        ("greatest_pressure", limits.pressure_max_Pa_abs, "Pa_abs", "bar(a)", "above", pressures),
    )
    return [
        (
            desk.sheet.give(
                f"zone.atmosphere_{name}",
                value,
                suffix,
                f"end of the standard atmosphere, {side} it no rating holds",
                state="constant",
                shown=shown,
                source=limits.source,
            ),
            side,
            entries,
        )
        for name, value, suffix, shown, side, entries in ends
    ]


def _reasons(desk: Desk, bounds: list[Bound]) -> Iterator[Link]:
    gas = desk.said(desk.case.zone.gas_space, "whether ratings made for air hold inside the vessel")
    if gas not in ("", AIR):
        yield Link("The gas space holds", gas)
    for limit, side, entries in bounds:
        for entry in entries:
            if _beyond(entry, side, limit):
                told = f"{entry.meaning[:1].upper()}{entry.meaning[1:]}, {side} {limit.text} or not surely within it"
                yield Link(told, entry.text, entry.name)


def _pressures(desk: Desk) -> tuple[Entry, ...]:
    if desk.case.pressure.operating.state != "unknown":
        return absolute_pressures(desk)
    desk.want(desk.case.pressure.operating, "whether ratings made for the atmosphere hold inside the vessel")
    return ()


def _beyond(entry: Entry, side: str, limit: Entry) -> bool:
    """Whether a value lies beyond a limit, or within its uncertainty (k = 2) of it."""
    if entry.value is None or limit.value is None:
        return False
    half = half_width_under(entry)
    return entry.value - half < limit.value if side == "below" else entry.value + half > limit.value
