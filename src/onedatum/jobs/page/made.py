"""A case as it is kept, with what is tried on it, studied once for all parts of the page that ask."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from onedatum.case.edit import edited
from onedatum.case.reading import Statement, read_case_text
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
    stated = read_case_text(case.text, f"{case.name}.yaml", case.folder)
    wanted = tuple(sorted(changes.items()))
    key = case, wanted, stated.content_hash
    if key in _made:
        _made.move_to_end(key)
        return _made[key]
    good, refused = sound_changes(case, stated, changes)
    statement = stated if not good else _with(case, good)
    found = _made[key] = Made(case, study(statement), tuple(sorted(good.items())), refused)
    while len(_made) > KEPT:
        _made.popitem(last=False)
    return found


def sound_changes(
    case: CaseText, stated: Statement, changes: Mapping[str, str | None]
) -> tuple[dict[str, str | None], dict[str, Fault]]:
    """The changes that can be read, and the fault of each that cannot."""
    good: dict[str, str | None] = dict(changes)
    refused: dict[str, Fault] = {}
    before = {fault.path for fault in stated.faults}
    while good:
        attempt = edited(case.text, good)
        found = list(attempt.faults)
        if not found:
            read = _with(case, good)
            found = [fault for fault in read.faults if fault.path in unread(read)]
        bad = {fault.path: fault for fault in found if fault.path in good}
        if not bad:
            break
        refused.update(bad)
        for path in bad:
            del good[path]
    return good, {path: fault for path, fault in refused.items() if path not in before or path in changes}


def unread(statement: Statement) -> frozenset[str]:
    """The paths that hold something which could not be read."""
    return frozenset(leaf.path for leaf in statement.case.leaves() if leaf.state == "faulty")


def _with(case: CaseText, changes: Mapping[str, str | None]) -> Statement:
    text = edited(case.text, changes).text
    return read_case_text(text, f"{case.name}.yaml", Path(case.folder))
