"""The states of a case by name: the numbers of a state carry its name, so each needs one that is its own."""

from __future__ import annotations

import re

from onedatum.case.model.liquid import OperatingState
from onedatum.foundation.errors import Fault

OWN_STATE = "normal"
"""The name of a state that has none."""

_ENDS = re.compile(r"(.*, )?(coldest|hottest)")


def told_apart(states: tuple[OperatingState, ...]) -> tuple[tuple[OperatingState, ...], list[Fault]]:
    """The states that can be worked, and a fault for each of the others."""
    kept: dict[str, OperatingState] = {}
    faults: list[Fault] = []
    for state in states:
        name = state.name.text if state.name.known else OWN_STATE
        complaint = _complaint(name, kept)
        if complaint is None:
            kept[name] = state
        else:
            faults.append(Fault(state.name.path, *complaint, place=state.name.place))
    return tuple(kept.values()), faults


def _complaint(name: str, taken: dict[str, OperatingState]) -> tuple[str, str, str] | None:
    """What the name must be, what it is, and why; None for a name that will do."""
    if name in taken:
        return "a name of its own", repr(name), "two states of one name cannot be told apart"
    if any(sign in name for sign in "[]"):
        return "without square brackets", repr(name), "they mark the state in the names of numbers"
    if _ENDS.fullmatch(name):
        return "another word", repr(name), "the coldest and the hottest of each state follow from the temperature"
    return None
