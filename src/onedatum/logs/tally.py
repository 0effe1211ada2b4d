"""What came of the rows of a log, counted: added up from part to part, kept as plain data."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pyarrow.compute as pc

from onedatum.logs.chunk import Stray
from onedatum.logs.reasons import FLAGS

LONGEST = 5
"""Of the gaps: how many are told."""


@dataclass
class Tally:
    """Counts of a log, or of a part of it."""

    rows: int = 0
    converted: int = 0
    rejected: Counter[str] = field(default_factory=Counter)
    flags: Counter[str] = field(default_factory=Counter)
    states: Counter[str] = field(default_factory=Counter)
    first_us: dict[str, int] = field(default_factory=dict)
    last_us: dict[str, int] = field(default_factory=dict)
    gaps: list[tuple[int, int, str]] = field(default_factory=list)
    """Longest first: length and begin in microseconds, tag."""

    def add(self, converted: Any, rejected: Any) -> None:
        """Count a batch, rows in the order of the log."""
        self.rows += converted.num_rows + rejected.num_rows
        self.converted += converted.num_rows
        self.rejected.update(_counts(rejected.column("reason")))
        self.states.update(_counts(converted.column("state")))
        flags = np.asarray(converted.column("flags"))
        if flags.any():
            self.flags.update({word: n for word, bit in FLAGS.items() if (n := int(np.count_nonzero(flags & bit)))})
        self._times(converted)

    def strays(self, strays: Iterable[Stray]) -> None:
        """Count places that give no row."""
        for stray in strays:
            self.rows += 1
            self.rejected[stray.reason] += 1

    def _times(self, converted: Any) -> None:
        if not converted.num_rows:
            return
        tag = converted.column("tag")
        time = np.asarray(converted.column("time").view("int64"))
        at = np.asarray(tag.indices)
        if np.all(at == at[0]):
            self._of_tag(tag.dictionary[int(at[0])].as_py(), time)
            return
        order = np.argsort(at, kind="stable")
        for part in np.split(order, np.flatnonzero(np.diff(at[order])) + 1):
            self._of_tag(tag.dictionary[int(at[part[0]])].as_py(), time[part])

    def _of_tag(self, name: str, own: Any) -> None:
        self.first_us.setdefault(name, int(own[0]))
        before = self.last_us.get(name, own[0])
        self.last_us[name] = int(own[-1])
        whole = np.empty(len(own) + 1, dtype=np.int64)
        whole[0], whole[1:] = before, own
        apart = np.diff(whole)
        at = int(np.argmax(apart))
        foremost = int(apart[at]), int(whole[at]), name
        if len(self.gaps) == LONGEST and _place(foremost) >= _place(self.gaps[-1]):
            return
        least = np.partition(apart, -LONGEST)[-LONGEST] if len(apart) > LONGEST else 0
        longest = np.flatnonzero(apart > least)
        longest = np.concatenate([longest, np.flatnonzero(apart == least)[:LONGEST]])
        self._gaps((int(apart[each]), int(whole[each]), name) for each in longest.tolist() if apart[each] > 0)

    def _gaps(self, found: Iterable[tuple[int, int, str]]) -> None:
        self.gaps = sorted([*self.gaps, *found], key=_place)[:LONGEST]

    def join(self, other: Tally) -> None:
        """Add a later part, counted by itself: the gap between the two is added."""
        self.rows += other.rows
        self.converted += other.converted
        self.rejected += other.rejected
        self.flags += other.flags
        self.states += other.states
        between = [
            (us - self.last_us[tag], self.last_us[tag], tag)
            for tag, us in other.first_us.items()
            if tag in self.last_us
        ]
        self.first_us = {**other.first_us, **self.first_us}
        self.last_us = {**self.last_us, **other.last_us}
        self._gaps([*other.gaps, *between])

    def json(self) -> dict[str, Any]:
        """As plain data."""
        counted = {key: dict(sorted(getattr(self, key).items())) for key in ("rejected", "flags", "states")}
        times = {"first_us": self.first_us, "last_us": self.last_us, "gaps": [list(gap) for gap in self.gaps]}
        return {"rows": self.rows, "converted": self.converted, **counted, **times}

    @classmethod
    def of(cls, data: Mapping[str, Any]) -> Tally:
        """From its plain data."""
        counted = [Counter({str(w): int(n) for w, n in data[key].items()}) for key in ("rejected", "flags", "states")]
        first, last = ({str(tag): int(us) for tag, us in data[key].items()} for key in ("first_us", "last_us"))
        gaps = [(int(length), int(begin), str(tag)) for length, begin, tag in data["gaps"]]
        return cls(int(data["rows"]), int(data["converted"]), counted[0], counted[1], counted[2], first, last, gaps)


def _place(gap: tuple[int, int, str]) -> tuple[int, int, str]:
    """By what gaps are sorted: the longest first, of equals the earliest."""
    return -gap[0], gap[1], gap[2]


def _counts(column: Any) -> dict[str, int]:
    if column.null_count == len(column):
        return {}
    found = pc.value_counts(column)
    return {row["values"]: row["counts"] for row in found.to_pylist() if row["values"] is not None}
