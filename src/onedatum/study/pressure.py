"""The operating pressure, from vacuum or from the atmosphere."""

from __future__ import annotations

from math import inf

from onedatum.case.model.liquid import OperatingState
from onedatum.foundation.working import Entry
from onedatum.physics.pressure import absolute_Pa_abs, gauge_Pa_gauge
from onedatum.study.desk import Desk


def _operating(desk: Desk) -> Entry:
    """The operating pressure; where none is spoken of, that of the atmosphere, and that is said."""
    stated = desk.case.pressure.operating
    desk.read.add(stated.path)
    if stated.path in desk.sheet:
        return desk.sheet[stated.path]
    if stated.state != "unknown":
        return desk.take(stated, "bar(a)" if stated.suffix == "Pa_abs" else "bar(g)", none=0.0)
    return desk.sheet.give(
        stated.path,
        0.0,
        "Pa_gauge",
        stated.title,
        state="assumed",
        shown="bar(g)",
        path=stated.path,
        note="no pressure is stated: counted as open to the atmosphere",
    )


def gauge_pressure(desk: Desk) -> Entry:
    """The operating pressure above the atmosphere."""
    pressure = _operating(desk)
    if pressure.suffix == "Pa_gauge":
        return pressure
    if "pressure.operating_gauge" in desk.sheet:
        return desk.sheet["pressure.operating_gauge"]
    inputs = {"pressure_Pa_abs": pressure, "atmosphere_Pa_abs": _atmosphere(desk)}
    return desk.worked("pressure.operating_gauge", gauge_Pa_gauge, inputs, shown="bar(g)")


def absolute_pressure(desk: Desk) -> Entry:
    """The operating pressure above vacuum."""
    pressure = _operating(desk)
    if pressure.suffix == "Pa_abs":
        return pressure
    if "pressure.operating_absolute" in desk.sheet:
        return desk.sheet["pressure.operating_absolute"]
    inputs = {"pressure_Pa_gauge": pressure, "atmosphere_Pa_abs": _atmosphere(desk)}
    return desk.worked("pressure.operating_absolute", absolute_Pa_abs, inputs, shown="bar(a)")


def pressure_of_state(desk: Desk, name: str, state: OperatingState | None) -> Entry | None:
    """The pressure of a state above vacuum: as it states it, else in operation; None where neither is stated."""
    if state is None or not state.pressure.known:
        return absolute_pressure(desk) if desk.case.pressure.operating.known else None
    stated = state.pressure
    entry = desk.take(stated, "bar(a)" if stated.suffix == "Pa_abs" else "bar(g)")
    if entry.suffix == "Pa_abs":
        return entry
    return desk.once(
        f"states.pressure_absolute[{name}]",
        absolute_Pa_abs,
        shown="bar(a)",
        meaning=f"pressure above vacuum, {name}",
        pressure_Pa_gauge=entry,
        atmosphere_Pa_abs=_atmosphere(desk),
    )


def gas_pressures(desk: Desk) -> tuple[tuple[str, Entry], ...]:
    """The operating pressure above the atmosphere in words: as stated, or at both ends where it is a range."""
    stated = desk.case.pressure.operating
    shown = "bar(a)" if stated.suffix == "Pa_abs" else "bar(g)"
    found = []
    for which, word in (("low", "lowest"), ("high", "highest")):
        if (stated.low if which == "low" else stated.high) is None:
            continue
        entry = desk.end(stated, which, word, shown)
        if entry.suffix == "Pa_abs":
            inputs = {"pressure_Pa_abs": entry, "atmosphere_Pa_abs": _atmosphere(desk)}
            name, meaning = f"pressure.operating_gauge[{word}]", f"operating pressure above the atmosphere, {word}"
            entry = (
                desk.sheet[name]
                if name in desk.sheet
                else desk.worked(name, gauge_Pa_gauge, inputs, shown="bar(g)", meaning=meaning)
            )
        found.append((f"under the {word} pressure of the gas", entry))
    return tuple(found) or (("under the pressure of the gas", gauge_pressure(desk)),)


def lowest_of_state(desk: Desk, name: str, state: OperatingState | None) -> Entry | None:
    """The lowest pressure of a state above vacuum: its own, else the low end in operation."""
    if state is not None and state.pressure.known:
        return pressure_of_state(desk, name, state)
    if not desk.case.pressure.operating.known:
        return None
    return min(absolute_pressures(desk), key=lambda entry: entry.value if entry.value is not None else inf)


def atmosphere(desk: Desk) -> Entry:
    """The pressure of the atmosphere at the site."""
    return _atmosphere(desk)


def absolute_pressures(desk: Desk) -> tuple[Entry, ...]:
    """The operating pressure above vacuum, and its lowest and highest where it is a range."""
    stated, found = desk.case.pressure.operating, [absolute_pressure(desk)]
    for which, end in (("low", "lowest"), ("high", "highest")):
        if (stated.low if which == "low" else stated.high) is None:
            continue
        shown = "bar(a)" if stated.suffix == "Pa_abs" else "bar(g)"
        entry = desk.end(stated, which, end, shown)
        if entry.suffix == "Pa_gauge":
            inputs = {"pressure_Pa_gauge": entry, "atmosphere_Pa_abs": _atmosphere(desk)}
            worked, meaning = f"pressure.operating_absolute[{end}]", f"operating pressure above vacuum, {end}"
            entry = desk.once(worked, absolute_Pa_abs, shown="bar(a)", meaning=meaning, **inputs)
        found.append(entry)
    return tuple(found)


def _atmosphere(desk: Desk) -> Entry:
    return desk.take(desk.case.site.atmospheric_pressure, "bar(a)")
