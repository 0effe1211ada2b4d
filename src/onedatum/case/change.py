"""A case with one value changed, read by the same reader as the file."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from onedatum.case.kinds import Kind
from onedatum.case.leaf import Leaf
from onedatum.case.reader import Notes
from onedatum.case.reading import Statement
from onedatum.case.safety_checks import clock_faults, rate_faults
from onedatum.case.section import Section
from onedatum.case.tree import Leaf as Scalar
from onedatum.foundation.errors import Place

LEVEL, RATE, CLOCK = "level_now", "overfill.fill_rate_now", "overfill.clock"


def with_level(statement: Statement, level: str, said_as: str) -> Statement:
    """The statement with another level now; `said_as` names the place it comes from in faults."""
    return _with(statement, LEVEL, level, said_as, "a level with its unit, for example 1.850 m")


def with_rate(statement: Statement, rate: str, said_as: str) -> Statement:
    """The statement with another filling rate now."""
    changed = _with(statement, RATE, rate, said_as, "a filling rate with its unit, for example 12 m3/h")
    return replace(changed, faults=(*changed.faults, *rate_faults(changed.case)))


def with_clock(statement: Statement, clock: str, said_as: str) -> Statement:
    """The statement with another time of day for the level now."""
    changed = _with(statement, CLOCK, clock, said_as, "a time of day, for example 14:30")
    return replace(changed, faults=(*changed.faults, *clock_faults(changed.case)))


def _with(statement: Statement, path: str, text: str, said_as: str, allowed: str) -> Statement:
    notes = Notes()
    node = Scalar(text, Place(said_as, 1, 1), path, False)
    kind, old = _kind_and_leaf(statement.case, path)
    leaf = kind.read(node, notes)
    if leaf.state in ("unknown", "none"):
        notes.fault(node, allowed, repr(text))
    faults = [fault for fault in statement.faults if fault.path != old.path]
    case = _replaced(statement.case, path.split("."), leaf)
    return replace(statement, case=case, faults=(*faults, *notes.faults))


def _kind_and_leaf(section: Section, path: str) -> tuple[Kind, Leaf]:
    """How the leaf at a path is read, and the leaf that stands there."""
    *sections, name = path.split(".")
    for each in sections:
        section = getattr(section, each)
    kind = next(item for item in type(section).model_fields[name].metadata if isinstance(item, Kind))
    return kind, getattr(section, name)


def _replaced(section: Any, names: list[str], leaf: Leaf) -> Any:
    """The section with another leaf at the path of names."""
    first, *rest = names
    part = _replaced(getattr(section, first), rest, leaf) if rest else leaf
    return section.model_copy(update={first: part})
