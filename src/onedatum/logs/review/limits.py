"""What a review looks for, with its limits: the table `log_review.json`, read once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from onedatum.data import table
from onedatum.simulate import kind as fault_of

TABLE = "log_review.json"
LATE = "The clock of the log is in doubt: from then on, until that is settled, "


@dataclass(frozen=True)
class Kind:
    """One signature."""

    key: str
    title: str
    competing: tuple[str, ...]
    next_check: str
    delay_s: float
    ceiling_per_year: float
    size: str
    why: str
    wanted_per_year: float = 0.05
    chance: float = 0.001
    alike: tuple[str, ...] = ()
    """Faults of the simulated instrument that look like it, which readings alone do not tell apart."""


@cache
def kinds() -> Mapping[str, Kind]:
    """All signatures by their keys."""
    found = {}
    for key, row in table(TABLE)["kinds"].items():
        found[key] = Kind(
            key,
            row["title"],
            tuple(row["competing"]),
            row["next"],
            float(row["delay_s"]),
            float(row["ceiling_per_year"]),
            row["size"],
            row["why"],
            float(row.get("wanted_per_year", 0.05)),
            float(row.get("chance", 0.001)),
            tuple(fault_of(each).words for each in row["causes"]),
        )
    return found


def setting(key: str) -> float:
    """A number of the table."""
    return float(table(TABLE)["settings"][key]["value"])


def simulated() -> str:
    """The log that delays and ceilings hold of."""
    return str(table(TABLE)["simulated"])
