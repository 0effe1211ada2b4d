"""A case as it is kept, with what is tried on it, studied once for all parts of the page that ask."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from onedatum.case.reading import Statement
from onedatum.case.trying import read_tried
from onedatum.foundation.errors import Fault
from onedatum.study.result import Study
from onedatum.study.study import study

KEPT = 24
"""Studies kept, the last used last."""


@dataclass(frozen=True)
class CaseText:
    """A case as its file holds it: the folder it stands in, its name, its text and the version of that text."""

    folder: str
    name: str
    text: str
    version: str
    records: str = field(default="", repr=False)
    """File or URL of the records, where they are not those of the folder; a URL may hold a password."""


@dataclass(frozen=True)
class Made:
    """The study of a case with what was tried on it, and what of that could not be read."""

    case: CaseText
    study: Study
    changes: tuple[tuple[str, str | None], ...]
    """What is tried and stands in no file yet."""
    refused: Mapping[str, Fault]
    """What was typed and cannot be read, by path; the study rests on the last good value."""


_made: OrderedDict[tuple[CaseText, tuple[tuple[str, str | None], ...], str], Made] = OrderedDict()


def made_of(case: CaseText, changes: Mapping[str, str | None]) -> Made:
    """The study of the case with the changes; what is wrong with a change leaves the value as it is in the file."""
    good, refused, statement = sound_changes(case, changes)
    key = case, tuple(sorted(good.items())), statement.content_hash
    found = _made.pop(key, None)
    if found is None:
        found = Made(case, study(statement), key[1], refused)
    _made[key] = found
    while len(_made) > KEPT:
        _made.popitem(last=False)
    return replace(found, refused=refused)


def sound_changes(
    case: CaseText, changes: Mapping[str, str | None]
) -> tuple[dict[str, str | None], dict[str, Fault], Statement]:
    """The changes that can be read, the fault of each that cannot, and the statement with those that can."""
    good: dict[str, str | None] = dict(changes)
    refused: dict[str, Fault] = {}
    while True:
        statement = read_tried(case.text, f"{case.name}.yaml", Path(case.folder), good)
        bad = _unreadable(statement, good)
        if not bad:
            return good, refused, statement
        refused.update(bad)
        good = {path: text for path, text in good.items() if path not in bad}


def _unreadable(statement: Statement, changes: Mapping[str, str | None]) -> dict[str, Fault]:
    """Those of the changes that hold something which could not be read, each with its fault."""
    if not statement.faults:
        return {}
    read = {leaf.path for leaf in statement.case.leaves() if leaf.state != "faulty"}
    found: dict[str, Fault] = {}
    for fault in statement.faults:
        at = next((path for path in changes if _is_of(fault, path)), None)
        if at is not None and fault.path not in read:
            found.setdefault(at, fault)
    return found


def _is_of(fault: Fault, path: str) -> bool:
    """Whether a fault is of a change: at its place, at the number of its long form, or of what it stands in."""
    return fault.path in (path, f"{path}.value") or path.startswith(f"{fault.path}.")
