"""Runs in a log: of one and the same level, of one and the same state; the longest are kept, all are counted."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from onedatum.foundation.numerics import Reals
from onedatum.logs.review.rows import Rows

MOST = 400
"""Runs of one kind that are kept."""
LEAST_EQUAL = 8
"""Readings of a run of one level that is kept."""


@dataclass(frozen=True)
class Run:
    """Rows in a row that say the same."""

    from_us: int
    to_us: int
    count: int
    value: float
    """The level; of a state its number."""
    low_A: float = np.nan
    high_A: float = np.nan

    @property
    def length_us(self) -> int:
        """From its first row to its last."""
        return self.to_us - self.from_us


@dataclass
class Runs:
    """The longest runs of a key, found batch by batch."""

    least: int
    kept: list[Run] = field(default_factory=list)
    found: int = 0
    _open: Run | None = None

    def add(self, rows: Rows, key: Reals) -> None:
        """Runs of equal keys; NaN belongs to no run."""
        if not len(rows):
            return
        same = key[1:] == key[:-1]
        starts = np.concatenate([[0], np.flatnonzero(~same) + 1])
        ends = np.concatenate([starts[1:], [len(key)]]) - 1
        if self._open is not None and key[0] == self._open.value:
            first = _run(rows, key, 0, int(ends[0]))
            self._open = _together(self._open, first)
            starts, ends = starts[1:], ends[1:]
        if not len(starts):
            return
        self._close()
        long = np.flatnonzero(ends[:-1] - starts[:-1] + 1 >= self.least)
        for start, end in zip(starts[long].tolist(), ends[long].tolist(), strict=True):
            if not np.isnan(key[start]):
                self._keep(_run(rows, key, start, end))
        last = int(starts[-1])
        self._open = None if np.isnan(key[last]) else _run(rows, key, last, int(ends[-1]))

    def done(self) -> list[Run]:
        """The runs in the order of time."""
        self._close()
        self._prune(0)
        return sorted(self.kept, key=lambda run: run.from_us)

    def _close(self) -> None:
        if self._open is not None and self._open.count >= self.least:
            self._keep(self._open)
        self._open = None

    def _keep(self, run: Run) -> None:
        self.kept.append(run)
        self.found += 1
        self._prune(MOST)

    def _prune(self, slack: int) -> None:
        if len(self.kept) > MOST + slack:
            self.kept = sorted(self.kept, key=lambda run: -run.length_us)[:MOST]


def _run(rows: Rows, key: Reals, start: int, end: int) -> Run:
    current = rows.current_A[start : end + 1]
    told = current[np.isfinite(current)]
    low, high = (float(told.min()), float(told.max())) if len(told) else (np.nan, np.nan)
    return Run(int(rows.time_us[start]), int(rows.time_us[end]), end - start + 1, float(key[start]), low, high)


def _together(first: Run, second: Run) -> Run:
    low, high = np.fmin(first.low_A, second.low_A), np.fmax(first.high_A, second.high_A)
    return Run(first.from_us, second.to_us, first.count + second.count, first.value, float(low), float(high))


def states_key(kind: NDArray[np.int8]) -> Reals:
    """The states that are runs of their own; a level is none."""
    return np.where(kind > 0, kind.astype(np.float64), np.nan)
