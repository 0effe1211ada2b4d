"""One script for every database: what it gives must not depend on the database. Names and data are invented."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

from onedatum.foundation.errors import StoreError
from onedatum.store.record import Clock
from onedatum.store.store import Store

BEGINNING = datetime(2026, 11, 26, 14, 5, tzinfo=UTC)


def ticking() -> Clock:
    """A clock that is one second on each time it is read."""
    ticks = 0

    def clock() -> datetime:
        nonlocal ticks
        ticks += 1
        return BEGINNING + timedelta(seconds=ticks)

    return clock


def refusal(deed: Callable[[], object]) -> str:
    """The sentence against a deed; "" where it was done."""
    try:
        deed()
    except StoreError as error:
        return str(error)
    return ""


def outcome(where: str | Path, folder: Path) -> dict[str, object]:
    """Write, correct, be refused, read, verify, export; everything that can be seen."""
    with Store.open(where, clock=ticking()) as store:
        store.append("calibration", "LT-101", "A. Author", {"points": [4.0, 12.001, 20], "by": "Ü ∆ 液 \u0000 \ud83d"})
        at = datetime(2026, 11, 25, 23, 30, tzinfo=timezone(timedelta(hours=-5)))
        store.append("review", "LT-102", "B. Checker", None, at=at, case="a" * 64)
        store.append("calibration", "LT-101", "Ünal Ä.", {"points": [4.0, 12.0, 20]}, corrects=1)
        store.append("calibration", "LT-103", "A. Author", [1e-300, 0.1, -0.0, 2**62])
        refusals = [
            refusal(lambda: store.append("calibration", "LT-101", "A", {}, corrects=1)),
            refusal(lambda: store.append("calibration", "LT-101", "A", {}, corrects=9)),
            refusal(lambda: store.append("Calibration", "LT-101", "A", {})),
            refusal(lambda: store.append("calibration", "LT\n101", "A", {})),
            refusal(lambda: store.append("calibration", "LT-101", "", {})),
            refusal(lambda: store.append("calibration", "LT-101", "A", {"x": float("nan")})),
        ]
        exported = folder / "exported.jsonl"
        store.export(exported)
        return {
            "all": store.all(),
            "tag": store.by_tag("LT-101"),
            "kind": store.by_kind("review"),
            "corrected": store.corrected(),
            "corrected of a tag": store.corrected(tag="LT-101"),
            "corrected of a kind": store.corrected(kind="review"),
            "as found": store.as_found(),
            "head": store.head(),
            "chain": store.verify(store.head()),
            "refusals": refusals,
            "export": exported.read_bytes(),
            "again": store.import_(exported),
        }
