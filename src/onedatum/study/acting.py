"""The pressures that act on the instrument while it is fitted: in operation, in the test, in every state."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain, count

from onedatum.case.leaf import Value
from onedatum.case.model.liquid import FITTED, OperatingState
from onedatum.foundation.working import Entry
from onedatum.physics.pressure import gauge_Pa_gauge
from onedatum.study.desk import NONE, Desk, Want
from onedatum.study.pressure import gauge_pressure

OPERATION, TEST = "operation", "pressure test"


@dataclass(frozen=True)
class Acting:
    """A pressure that acts, and where."""

    state: str
    pressure: Entry


def acting_pressures(desk: Desk, bears: str) -> tuple[list[Acting], tuple[str, ...]]:
    """Every pressure under which the instrument is fitted, and the states in which it is not.

    `bears` is the part that is to bear them, as the questions call it.
    """
    names = {state.name.text for state in desk.case.states}
    found = [Acting(_unlike(names, OPERATION), each) for each in operating_pressures(desk, bears)]
    removed: list[str] = []
    test = _test(desk, bears)
    tested = False
    for state in desk.case.states:
        name = state.name.text or "normal"
        pressure = _of_state(desk, state, name, bears)
        tested = tested or _covers(pressure, test)
        if state.instrument.word not in (FITTED, ""):
            removed.append(name)
        elif pressure is not None:
            found.append(Acting(name, pressure))
    if test is not None and not tested:
        found.append(Acting(_unlike(names, TEST), test))
        title = f"whether {bears} is fitted or removed in the pressure test: a state with that pressure"
        desk.wants["states.pressure_test"] = Want(title, "process", f"whether {bears} bears the test")
    return found, tuple(removed)


def _unlike(names: set[str], own: str) -> str:
    """Our word for what is no state, with a number behind it where a state bears it."""
    numbered = (f"{own} ({number})" for number in count(2))
    return next(word for word in chain((own,), numbered) if word not in names)


def _test(desk: Desk, bears: str) -> Entry | None:
    """The test pressure above the atmosphere; None where none is spoken of, asked where it is said to be unknown."""
    stated = desk.case.pressure.test
    desk.read.add(stated.path)
    if stated.asked and not stated.known and stated.state != NONE:
        desk.want(stated, f"whether {bears} bears the test")
    return gauge_of(desk, stated, "pressure.test_gauge", "test pressure above the atmosphere") if stated.known else None


def _of_state(desk: Desk, state: OperatingState, name: str, bears: str) -> Entry | None:
    """The pressure of a state; asked where it is said to be unknown."""
    stated = state.pressure
    desk.read.add(stated.path)
    if stated.asked and not stated.known and stated.state != NONE:
        desk.want(stated, f"whether {bears} bears the pressure in the state {name}")
    meaning = f"pressure above the atmosphere, {name}"
    return gauge_of(desk, stated, f"states.pressure[{name}]", meaning) if stated.known else None


def _covers(pressure: Entry | None, test: Entry | None) -> bool:
    """Whether a state is that of the pressure test: it bears its pressure, or more, both above the atmosphere."""
    if pressure is None or test is None or pressure.value is None or test.value is None:
        return False
    return pressure.value >= test.value


def operating_pressures(desk: Desk, bears: str = "the float") -> Iterator[Entry]:
    """The operating pressure at its highest; asked where it is said to be unknown, or nothing is said of pressure."""
    stated = desk.case.pressure.operating
    silent = not stated.known and stated.state != NONE
    if silent and (stated.asked or not desk.case.pressure.kind.known):
        desk.want(stated, f"whether {bears} bears the pressure")
    base = gauge_pressure(desk)
    if stated.high is None:
        yield base
        return
    shown = "bar(a)" if stated.suffix == "Pa_abs" else "bar(g)"
    high = desk.end(stated, "high", "highest", shown)
    yield _as_gauge(desk, high, "pressure.operating_gauge[highest]", "operating pressure above the atmosphere, highest")


def gauge_of(desk: Desk, stated: Value, name: str, meaning: str) -> Entry:
    """A stated pressure above the atmosphere, whatever it was stated from."""
    entry = desk.take(stated, "bar(a)" if stated.suffix == "Pa_abs" else "bar(g)")
    return _as_gauge(desk, entry, name, meaning)


def _as_gauge(desk: Desk, entry: Entry, name: str, meaning: str) -> Entry:
    if entry.suffix != "Pa_abs":
        return entry
    return desk.once(
        name,
        gauge_Pa_gauge,
        shown="bar(g)",
        meaning=meaning,
        pressure_Pa_abs=entry,
        atmosphere_Pa_abs=desk.take(desk.case.site.atmospheric_pressure, "bar(a)"),
    )
