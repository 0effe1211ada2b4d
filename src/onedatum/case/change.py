"""A case with one value changed, read by the same reader as the file."""

from __future__ import annotations

from dataclasses import replace

from onedatum.case.kinds import Kind
from onedatum.case.model import Case
from onedatum.case.reader import Notes
from onedatum.case.reading import Statement
from onedatum.case.tree import Leaf
from onedatum.foundation.errors import Place


def with_level(statement: Statement, level: str, said_as: str) -> Statement:
    """The statement with another level now; `said_as` names the place it comes from in faults."""
    notes = Notes()
    kind = next(item for item in Case.model_fields["level_now"].metadata if isinstance(item, Kind))
    node = Leaf(level, Place(said_as, 1, 1), "level_now", False)
    value = kind.read(node, notes)
    if value.state in ("unknown", "none"):
        notes.fault(node, "a level with its unit, for example 1.850 m", repr(level))
    old = statement.case.level_now.path or "level_now"
    faults = [fault for fault in statement.faults if fault.path != old]
    case = statement.case.model_copy(update={"level_now": value})
    return replace(statement, case=case, faults=(*faults, *notes.faults))
