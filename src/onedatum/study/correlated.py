"""Inputs whose errors go together: the correlations a case states, checked and put into a matrix."""

from __future__ import annotations

from collections.abc import Sequence

from onedatum.case.model.statement import Correlation
from onedatum.foundation.errors import Fault
from onedatum.foundation.numerics import Reals
from onedatum.foundation.working import Entry
from onedatum.physics.uncertainty import correlation_matrix, is_correlation
from onedatum.study.desk import Desk


def correlation_of(desk: Desk, uncertain: Sequence[Entry]) -> Reals | None:
    """The correlations among these inputs as a matrix; None where they are independent, as far as stated.

    A matrix that no errors can have is a fault of the case, and the inputs are then taken as independent.
    """
    numbers = {_path(entry): number for number, entry in enumerate(uncertain)}
    pairs, stated = [], []
    for each in _listed(desk):
        one, other, r = numbers.get(each.between.text), numbers.get(each.and_.text), each.r.si
        if one is not None and other is not None and one != other and r is not None:
            pairs.append((one, other, r))
            stated.append(each)
    if not pairs:
        return None
    matrix = correlation_matrix(len(uncertain), pairs)
    if is_correlation(matrix):
        return matrix
    leaf = desk.case.correlations
    fault = Fault(
        leaf.path,
        "such that the matrix of them all is positive definite",
        ", ".join(f"{each.between.text} with {each.and_.text}: {each.r.text}" for each in stated),
        "no errors can go together like this; they are counted as independent",
        leaf.place,
    )
    if fault not in desk.faults:
        desk.faults.append(fault)
    return None


def refuse_strange_correlations(desk: Desk) -> None:
    """A correlation of what is no uncertain input would be lost silently."""
    known = {_path(entry): entry for entry in desk.sheet.entries.values() if entry.uncertainty is not None}
    for each in _listed(desk):
        for leaf in (each.between, each.and_):
            if leaf.known and leaf.text not in known:
                offered = "; ".join(known) or "none here"
                desk.faults.append(
                    leaf.fault(f"the path of an input with an uncertainty: {offered}", "it moves nothing")
                )
        if each.between.known and each.between.text == each.and_.text:
            desk.faults.append(each.and_.fault("another input", "an input goes with itself in any case"))


def _listed(desk: Desk) -> Sequence[Correlation]:
    leaf = desk.case.correlations
    desk.read.add(leaf.path)
    for each in leaf.items:
        desk.read.update((each.between.path, each.and_.path, each.r.path))
    return leaf.items


def _path(entry: Entry) -> str:
    """What a case calls an input: its path."""
    return entry.path or entry.name
