"""Expected numbers from outside, with their sources: one JSON file per room, a list of cases in each.

A case has `id`, `title`, `inputs` (name: value and unit), `expected`, `unit`, `tolerance` ({"rel": r}, {"abs": a} or
{"printed": digits as they stand in print}) and `source`; `tag` says how far the source was seen. A case with several
results has mappings for `expected`, `unit` and `tolerance`; one worked from a whole case file states no `inputs`.
A file that is no list, such as the verdicts of the scenarios, has its own reader.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from tests.closeness import close, printed

FOLDER = Path(__file__).resolve().parent


@dataclass(frozen=True)
class Case:
    """One published or independently worked case."""

    id: str
    title: str
    expected: Any
    unit: Any
    tolerance: Any
    source: str
    inputs: Mapping[str, Any] = field(default_factory=dict)
    method: str = ""
    tag: str = ""

    def value(self, name: str) -> Any:
        """The value of an input, in the unit stated with it."""
        given = self.inputs[name]
        return given["value"] if isinstance(given, Mapping) and "value" in given else given

    def check(self, actual: Any, result: str = "") -> None:
        """Compare with what is expected, within the tolerance of the case; `result` names one of several."""
        expected, tolerance = (part[result] if result else part for part in (self.expected, self.tolerance))
        (form, size), *_ = tolerance.items()
        if form == "printed":
            assert actual == printed(size), f"{self.id}: {actual!r} is not {size}"
            return
        largest = float(np.max(np.abs(expected)))
        close(actual, expected, size * largest if form == "rel" else size, f"{self.id}: tolerance of the case")


@cache
def cases() -> Mapping[str, Case]:
    """All cases of the folder, by id."""
    files = [json.loads(file.read_text(encoding="utf-8")) for file in sorted(FOLDER.glob("*.json"))]
    rows = [row for table in files if isinstance(table, list) for row in table]
    known = set(Case.__dataclass_fields__)
    found = {row["id"]: Case(**{key: value for key, value in row.items() if key in known}) for row in rows}
    if len(found) != len(rows):
        raise ValueError("two cases share an id")
    return found


def case(identity: str) -> Case:
    """The case of this id."""
    return cases()[identity]
