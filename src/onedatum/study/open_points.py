"""What is open: questions to the customer, requirements of the order, assumptions, statements that move no number."""

from __future__ import annotations

from onedatum.case.leaf import Leaf
from onedatum.foundation.working import Entry
from onedatum.study.desk import Desk
from onedatum.study.result import Assumption, Question, Requirement


def questions(desk: Desk) -> tuple[Question, ...]:
    """What only the customer knows: what a number waits for, and what was wanted beside."""
    leaves = {leaf.path: leaf for leaf in desk.case.leaves()}
    found: dict[str, Question] = {}
    for path, entries in _waiting(desk).items():
        leaf = leaves.get(path)
        if leaf is not None and leaf.side == "process" and leaf.state in ("unknown", "none"):
            decides = tuple(entry.meaning for entry in entries if entry.name != path)
            found[path] = Question(path, leaf.title, decides)
    for path, want in desk.wants.items():
        if want.side == "process" and _open(leaves.get(path)):
            found.setdefault(path, Question(path, want.title, (want.decides,)))
    return tuple(found.values())


def requirements(desk: Desk) -> tuple[Requirement, ...]:
    """What is ours to choose: unknown values of the instrument, waited for, wanted, or written out as unknown."""
    waiting = _waiting(desk)
    return tuple(
        Requirement(leaf.path, leaf.title, leaf.note)
        for leaf in desk.case.leaves()
        if leaf.side == "instrument"
        and leaf.path not in desk.beside_the_point
        and leaf.state in ("unknown", "none")
        and ((leaf.asked and leaf.state == "unknown") or leaf.path in waiting or leaf.path in desk.wants)
    )


def assumptions(desk: Desk) -> tuple[Assumption, ...]:
    """What the case assumes, and what the tool counts on where nothing is stated."""
    by_case = [
        Assumption(leaf.path, leaf.title, leaf.text, "; ".join(filter(None, (_by(leaf), leaf.note, leaf.source))))
        for leaf in desk.case.leaves()
        if leaf.state == "assumed"
    ]
    told = {assumption.path for assumption in by_case}
    by_tool = [
        Assumption(entry.path, entry.meaning, entry.text, entry.note)
        for entry in desk.sheet.entries.values()
        if entry.state == "assumed" and entry.path.removesuffix(".min").removesuffix(".max") not in told
    ]
    return (*by_case, *by_tool)


def _by(leaf: Leaf) -> str:
    return f"by {leaf.by}" if leaf.by else ""


def not_read(desk: Desk) -> tuple[Leaf, ...]:
    """What was stated and is printed, but read by no chapter: it moves no number and no finding yet."""
    return tuple(
        leaf for leaf in desk.case.leaves() if leaf.known and leaf.side != "paper" and leaf.path not in desk.read
    )


def _open(leaf: Leaf | None) -> bool:
    """Whether a leaf is to be asked; a faulty one is corrected instead, and what is no leaf is always asked."""
    return leaf is None or leaf.state == "unknown"


def _waiting(desk: Desk) -> dict[str, list[Entry]]:
    """The unknown entries by the path they wait for; what the tool counts on already is not waited for."""
    waiting: dict[str, list[Entry]] = {}
    for entry in desk.sheet.entries.values():
        for path in entry.waits_for:
            if path in desk.sheet and desk.sheet[path].state == "assumed":
                continue
            waiting.setdefault(path, []).append(entry)
    return waiting
