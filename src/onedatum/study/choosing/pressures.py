"""Pressures that act in a state."""

from __future__ import annotations

from onedatum.foundation.working import Entry
from onedatum.study.acting import gauge_of, operating_pressures
from onedatum.study.choosing.bench import Bench


def acting_in(bench: Bench) -> Entry | None:
    """What acts above the atmosphere in this state: its own pressure, else the highest in operation."""
    desk, state = bench.desk, bench.conditions[0].state
    stated = desk.case.pressure.operating
    own = state is not None and state.pressure.known
    if state is not None and own:
        stated = state.pressure
    if not stated.known or (stated.suffix == "Pa_abs" and not desk.case.site.atmospheric_pressure.known):
        return None
    if state is not None and own:
        name = state.name.text or "normal"
        entry = gauge_of(desk, stated, f"states.pressure[{name}]", f"pressure above the atmosphere, {name}")
    else:
        entry = next(operating_pressures(desk))
    return entry if entry.known else None
