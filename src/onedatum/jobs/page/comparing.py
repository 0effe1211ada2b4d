"""Two cases, or two versions of one, beside each other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from onedatum.foundation.units import in_print
from onedatum.jobs.compare import compare_studies, compared_json
from onedatum.jobs.page.made import CaseText, made_of
from onedatum.jobs.paper_of_study import head_of
from onedatum.paper.model import Head
from onedatum.study.compare import Changed


@dataclass(frozen=True)
class ChangeView:
    """One thing that is no longer what it was."""

    title: str
    name: str
    old: str
    new: str


@dataclass(frozen=True)
class GroupView:
    """Changes of one kind."""

    title: str
    changes: tuple[ChangeView, ...]


@dataclass(frozen=True)
class CompareView:
    """What changed from the old case to the new one; where one of them says nothing, that."""

    head: Head
    words: str
    groups: tuple[GroupView, ...]


def compare_view(new: CaseText, old: CaseText) -> CompareView:
    """What changed from the old to the new."""
    compared = compare_studies(made_of(new, {}).study, made_of(old, {}).study)
    found = compared.found
    groups = (
        _group("Inputs", found.inputs),
        _group("Verdicts", found.verdicts),
        _group("Findings", found.findings),
        _group("Order", compared.order),
        _group("Numbers", found.numbers),
    )
    words = "Nothing changed." if compared.same else ""
    if compared.unread:
        words = f"Nothing compared: {', '.join(dict.fromkeys(compared.unread))} says nothing that can be read."
    return CompareView(head_of(compared.new), words, tuple(group for group in groups if group.changes))


def compare_data(new: CaseText, old: CaseText) -> dict[str, Any]:
    """The same as plain data; every dimensional key ends in its unit."""
    return compared_json(compare_studies(made_of(new, {}).study, made_of(old, {}).study))


def _group(title: str, changes: Sequence[Changed]) -> GroupView:
    shown = (ChangeView(in_print(each.title), each.name, in_print(each.old), in_print(each.new)) for each in changes)
    return GroupView(title, tuple(shown))
