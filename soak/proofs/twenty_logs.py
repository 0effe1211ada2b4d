"""Twenty histories that no detector was made for, and what the review said of each the first time."""

from __future__ import annotations

import json
import sys
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from onedatum.jobs.review import Asked, review
from onedatum.jobs.review_told import review_text
from onedatum.simulate.history import HOUR_s, written
from soak.histories import made
from soak.twenty import TWENTY, Tried

FIRST = Path(__file__).resolve().parent.parent / "twenty_first.json"


@dataclass(frozen=True)
class Said:
    """What a review said: of each finding its signature, its time after the start, and its sentence."""

    kind: str
    from_s: float
    to_s: float
    words: str


def said_of(tried: Tried, folder: Path) -> tuple[list[Said], list[str]]:
    """Findings of one log, and its notes."""
    place = written(made(tried.log), folder / tried.log.name.replace(" ", "_"), tried.log.case_text)
    beside = place / "movements.csv"
    asked = Asked((place / "log.csv",), place / "case.yaml", place / "map.yaml", place / "dips.csv")
    asked = Asked(asked.logs, asked.case, asked.mapping, asked.dips, beside if beside.exists() else None)
    found = review(asked)
    begin_us = tried.log.plan.start.timestamp() * 1e6
    said = [
        Said(each.kind, (each.from_us - begin_us) * 1e-6, (each.to_us - begin_us) * 1e-6, each.said)
        for each in found.judged.findings
    ]
    return said, list(found.judged.notes)


def all_said() -> dict[str, Any]:
    """Of each log what is said, as data."""
    told: dict[str, Any] = {}
    with TemporaryDirectory() as folder:
        for tried in TWENTY:
            said, notes = said_of(tried, Path(folder))
            told[tried.log.name] = {"findings": [vars(each) for each in said], "notes": notes}
            print(tried.log.name, [each.kind for each in said], flush=True)
    return told


if __name__ == "__main__":
    FIRST.write_text(json.dumps(all_said(), indent=1) + "\n", encoding="utf-8")
