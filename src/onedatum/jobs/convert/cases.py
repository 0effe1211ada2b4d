"""Which cases the rows of a log belong to."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from onedatum.case.reading import Statement, read_case
from onedatum.foundation.errors import Fault, LogError
from onedatum.jobs.reading import for_sensors
from onedatum.logs.converter import Converter
from onedatum.logs.mapping import LogMapping
from onedatum.study.result import Study
from onedatum.study.study import study


def converter_of(paths: Sequence[Path], mapping: LogMapping) -> Converter:
    """The tables of these cases, for whoever calls the one function itself."""
    return Converter.of(studies_of(paths, mapping), mapping)


def studies_of(paths: Sequence[Path], mapping: LogMapping) -> list[Study]:
    """The studies of these cases, every tag once; raises LogError where a row could belong to several or to none."""
    if len(paths) > 1 and not mapping.tag:
        why = f"{len(paths)} cases are named: which row is of which is not guessed"
        raise LogError([Fault("tag.column", "stated in the mapping, where there are several cases", "nothing", why)])
    studies = [study_of(path) for path in paths]
    tags = [each.statement.case.tag.text for each in studies]
    faults = [
        Fault("--cases", "cases with tags of their own", f"{tag!r} twice", "a row could belong to either")
        for tag in sorted({tag for tag in tags if tags.count(tag) > 1})
    ]
    strange = sorted(set(mapping.names.values()) - set(tags))
    faults += [Fault("tag.names", f"tags of the cases: {', '.join(tags)[:200]}", repr(name)) for name in strange]
    if faults:
        raise LogError(faults)
    return studies


def study_of(path: Path) -> Study:
    """The study of a case whose rows can be worked; raises LogError where neither range nor level is known."""
    statement = read_case(path)
    if not path.is_file():
        raise LogError(statement.faults)
    return study_with_level(statement, str(path))


def study_with_level(statement: Statement, name: str) -> Study:
    """The study of a case that was read; raises LogError where neither range nor level is known."""
    found = for_sensors(statement, study(statement))
    if not found.sheet["level_now"].known:
        why = "; ".join(map(str, statement.faults[:3])) or "neither a range nor a level is stated"
        remedy = "Mend that first" if statement.faults else "State the range of the case"
        raise LogError([Fault(name, "a case whose range or level now is known", "neither", why, remedy=remedy)])
    return found
