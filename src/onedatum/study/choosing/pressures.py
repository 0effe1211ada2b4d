"""Pressures that act in a state, above the atmosphere and above vacuum, at both ends of a range."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.model.liquid import OperatingState
from onedatum.foundation.working import Entry
from onedatum.study.acting import gauge_of
from onedatum.study.choosing.bench import Bench, Number, every, given, one
from onedatum.study.pressure import absolute_pressures, gas_pressures, pressure_of_state


def pressure_numbers(bench: Bench) -> Iterator[Number]:
    """Of the state where it states its own, else of the operation."""
    yield from given("pressure.max", acting_above_atmosphere(bench))
    yield from given("pressure.min", _acting_above_vacuum(bench))


def acting_in(bench: Bench) -> Entry | None:
    """What acts above the atmosphere in this state: its own pressure, else the highest in operation."""
    return max(acting_above_atmosphere(bench), key=lambda entry: entry.value or 0.0, default=None)


def acting_above_atmosphere(bench: Bench) -> tuple[Entry, ...]:
    """One pressure, or the ends of its range; none where one of them is not known."""
    desk, state = bench.desk, _own(bench)
    if state is not None:
        name = state.name.text or "normal"
        meaning = f"pressure above the atmosphere, {name}"
        found = one(gauge_of(desk, state.pressure, f"states.pressure[{name}]", meaning))
    elif desk.case.pressure.operating.known:
        found = tuple(entry for _, entry in gas_pressures(desk))
    else:
        return ()
    return every(entry if entry.known else None for entry in found)


def _acting_above_vacuum(bench: Bench) -> tuple[Entry, ...]:
    """The same above vacuum."""
    desk, state = bench.desk, _own(bench)
    if state is not None:
        found = one(pressure_of_state(desk, bench.state, state))
    elif desk.case.pressure.operating.known:
        found = absolute_pressures(desk)
    else:
        return ()
    return every(entry if entry.known else None for entry in found)


def _own(bench: Bench) -> OperatingState | None:
    """The state, where it states a pressure of its own."""
    state = bench.conditions[0].state
    return state if state is not None and state.pressure.known else None
