"""Two cases beside each other: what changed in inputs, numbers, verdicts, findings and the fields of the order."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import PurePath
from typing import Any

from onedatum.jobs.choosing.order import order_blocks
from onedatum.jobs.examine import examine
from onedatum.study.compare import ABSENT, Changed, ChangedNumber, Comparison, compare, says_anything
from onedatum.study.form import fault_json
from onedatum.study.result import Study

FORM = 1
"""Version of the form of a comparison."""


@dataclass(frozen=True)
class Compared:
    """Two studies with everything that changed between them."""

    new: Study
    old: Study
    found: Comparison
    order: tuple[Changed, ...]
    """The lines of the order that changed, by block and label."""

    @property
    def unread(self) -> tuple[str, ...]:
        """The files that hold nothing to compare."""
        return tuple(study.statement.file for study in (self.new, self.old) if not says_anything(study))

    @property
    def same(self) -> bool:
        """Whether nothing changed."""
        return self.found.same and not self.order


def compare_cases(new: str | os.PathLike[str], old: str | os.PathLike[str]) -> Compared:
    """Study both files and compare them; faults of either stand in its study.

    A file that could not be read at all is compared with nothing.
    """
    return compare_studies(examine(new), examine(old))


def compare_studies(after: Study, before: Study) -> Compared:
    """Compare two studies; one of a file that could not be read at all is compared with nothing."""
    if not (says_anything(after) and says_anything(before)):
        return Compared(after, before, Comparison((), (), (), ()), ())
    return Compared(after, before, compare(after, before), tuple(_order(after, before)))


def _order(new: Study, old: Study) -> Iterator[Changed]:
    after, before = _lines(new), _lines(old)
    for name in dict.fromkeys((*after, *before)):
        was, now = before.get(name, ABSENT), after.get(name, ABSENT)
        if was != now:
            yield Changed(name, name, was, now)


def _lines(study: Study) -> Mapping[str, str]:
    return {f"{block.title}: {line.label}": line.value for block in order_blocks(study) for line in block.lines}


def compared_json(compared: Compared) -> dict[str, Any]:
    """The comparison as plain data; every dimensional key ends in its unit."""
    found = compared.found
    return {
        "form": FORM,
        "new": _case(compared.new),
        "old": _case(compared.old),
        "compared": not compared.unread,
        "inputs": [_changed(each) for each in found.inputs],
        "numbers": [_number(each) for each in found.numbers],
        "verdicts": [_changed(each) for each in found.verdicts],
        "findings": [_changed(each) for each in found.findings],
        "order": [_changed(each) for each in compared.order],
    }


def _case(study: Study) -> dict[str, Any]:
    return {
        "file": PurePath(study.statement.file).name,
        "content_hash": study.statement.content_hash,
        "faults": [fault_json(fault) for fault in study.faults],
    }


def _changed(each: Changed) -> dict[str, Any]:
    return {"name": each.name, "title": each.title, "old": each.old, "new": each.new}


def _number(each: ChangedNumber) -> dict[str, Any]:
    ending = f"_{each.suffix}" if each.suffix else ""
    return _changed(each) | {f"old_value{ending}": each.old_si, f"new_value{ending}": each.new_si}
