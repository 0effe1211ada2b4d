"""The case file as text: its lines, and beside each what is wrong there."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.jobs.page.made import CaseText, made_of
from onedatum.jobs.paper_of_study import head_of
from onedatum.paper.model import Head


@dataclass(frozen=True)
class LineView:
    """One line and what is wrong in it."""

    number: int
    text: str
    faults: tuple[str, ...]


@dataclass(frozen=True)
class FileView:
    """The text of a case file; `apart` holds the faults that belong to no line of it."""

    head: Head
    lines: tuple[LineView, ...]
    apart: tuple[str, ...]
    faults: int


def file_view(case: CaseText) -> FileView:
    """The lines of a case file with the faults beside them."""
    study = made_of(case, {}).study
    lines = case.text.split("\n")
    if len(lines) > 1 and not lines[-1]:
        lines = lines[:-1]
    beside: dict[int, list[str]] = {}
    apart: list[str] = []
    for fault in study.faults:
        place = fault.place
        if place is not None and place.file == f"{case.name}.yaml" and place.line >= 1:
            beside.setdefault(min(place.line, len(lines)), []).append(fault.sentence())
        else:
            apart.append(f"{place.by_name}: {fault.sentence()}" if place is not None else fault.sentence())
    shown = tuple(LineView(i, text, tuple(beside.get(i, ()))) for i, text in enumerate(lines, 1))
    return FileView(head_of(study), shown, tuple(apart), len(study.faults))
