"""The rows of a reviewed log kept on a disk, so that any part of it is drawn without reading the log again.

Rows are kept in files of plain numbers, and beside them the least and the greatest of every 256 rows; of a very long
log these alone. Numbers are kept with seven figures: a picture has four.
"""

from __future__ import annotations

from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
from numpy.typing import NDArray

from onedatum.foundation.numerics import Reals

if TYPE_CHECKING:
    from onedatum.logs.review.rows import Rows

What = Literal["level_m", "current_A"]
VALUES: tuple[What, ...] = ("level_m", "current_A")
MOST = 40_000_000
"""Rows kept one by one; of a longer log the groups alone."""
GROUP = 256
DIRECT = 1_000_000
"""Rows of a picture that are read one by one; of more the groups are read, each a small part of a column."""
POINTS_PER_COLUMN = 2
"""Where there are no more rows than this to a column, each stands at its own time."""
TIMES, KINDS = "time_us", "kinds"
_ROW, _OF_GROUP = "row-", "group-"
Bits = NDArray[np.uint8]


@dataclass(frozen=True)
class Strokes:
    """Least and greatest at times in order; NaN where there is no value, which breaks the line."""

    at_us: Reals
    low: Reals
    high: Reals
    kinds: Bits
    """What rows say of themselves, a bit for each kind of `rows`."""
    is_rows: bool
    """Whether each is a row of the log; else each is a column of the picture."""


class Keeping:
    """Takes converted batches in the order of time into a new folder; raises OSError where the disk does not."""

    def __init__(self, folder: Path) -> None:
        folder.mkdir(parents=True)
        self.folder, self.rows = folder, 0
        self._open = ExitStack()
        self._files: dict[str, Any] = {}

    def add(self, converted: Any) -> None:
        """Keep the rows of a batch."""
        from onedatum.logs.review.rows import rows_of  # it loads the library of record batches; drawing does without

        self.put(rows_of(converted))

    def put(self, rows: Rows) -> None:
        """Keep rows."""
        if not len(rows):
            return
        starts = np.arange(0, len(rows), GROUP)
        middle = (starts + np.minimum(starts + GROUP, len(rows))) // 2
        kinds = np.left_shift(1, rows.kind).astype(np.uint8)
        parts = {TIMES: rows.time_us, KINDS: kinds}
        groups = {TIMES: rows.time_us[middle], KINDS: np.bitwise_or.reduceat(kinds, starts)}
        for name in VALUES:
            parts[name] = value = getattr(rows, name).astype(np.float32)
            groups[f"{name}-low"] = np.fmin.reduceat(value, starts)
            groups[f"{name}-high"] = np.fmax.reduceat(value, starts)
        self._write(_OF_GROUP, groups)
        if self.rows <= MOST < self.rows + len(rows):
            self._forget(parts)
        self.rows += len(rows)
        if self.rows <= MOST:
            self._write(_ROW, parts)

    def done(self) -> None:
        """All rows are in."""
        self._open.close()

    def _write(self, head: str, columns: dict[str, Any]) -> None:
        for name, values in columns.items():
            file = self._files.get(head + name)
            if file is None:
                file = self._files[head + name] = self._open.enter_context((self.folder / (head + name)).open("wb"))
            file.write(values.tobytes())

    def _forget(self, parts: dict[str, Any]) -> None:
        """Of a log that is too long the rows go again."""
        for name in parts:
            if head := self._files.pop(_ROW + name, None):
                head.close()
            (self.folder / (_ROW + name)).unlink(missing_ok=True)


class Kept:
    """The rows kept in a folder; raises OSError where it is gone."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.has_rows = (folder / (_ROW + TIMES)).exists()

    def strokes(self, what: What, from_us: int, to_us: int, columns: int) -> Strokes:
        """What is drawn of a value between two times, in so many columns, or row by row where there are few."""
        if self.has_rows:
            time_us = self._read(_ROW, TIMES, np.int64)
            start, end = np.searchsorted(time_us, [from_us, to_us + 1]).tolist()
            if end - start <= POINTS_PER_COLUMN * columns:
                return self._points(what, max(start - 1, 0), end + 1)
            if end - start <= DIRECT:
                value, kinds = self._read(_ROW, what, np.float32), self._read(_ROW, KINDS, np.uint8)
                part = slice(start, end)
                own = np.asarray(value[part])
                return _columns(np.asarray(time_us[part]), own, own, np.asarray(kinds[part]), from_us, to_us, columns)
        return self._of_groups(what, from_us, to_us, columns)

    def _points(self, what: What, start: int, end: int) -> Strokes:
        """Rows one by one, with a neighbour on either side."""
        part = slice(start, end)
        value = np.asarray(self._read(_ROW, what, np.float32)[part], dtype=np.float64)
        time_us, kinds = self._read(_ROW, TIMES, np.int64)[part], self._read(_ROW, KINDS, np.uint8)[part]
        return Strokes(np.array(time_us, dtype=np.float64), value, value, np.asarray(kinds), True)

    def _of_groups(self, what: What, from_us: int, to_us: int, columns: int) -> Strokes:
        time_us = self._read(_OF_GROUP, TIMES, np.int64)
        start, end = np.searchsorted(time_us, [from_us, to_us + 1]).tolist()
        part = slice(start, end)
        low, high = (self._read(_OF_GROUP, f"{what}-{which}", np.float32)[part] for which in ("low", "high"))
        kinds = self._read(_OF_GROUP, KINDS, np.uint8)[part]
        return _columns(np.asarray(time_us[part]), low, high, np.asarray(kinds), from_us, to_us, columns)

    def _read(self, head: str, name: str, kind: Any) -> Any:
        return np.memmap(self.folder / (head + name), dtype=kind, mode="r")


def _columns(time_us: Any, low: Any, high: Any, kinds: Any, from_us: int, to_us: int, columns: int) -> Strokes:
    """Least and greatest of each column."""
    wide = (to_us - from_us) / columns
    lows, highs = np.full(columns, np.nan), np.full(columns, np.nan)
    bits = np.zeros(columns, np.uint8)
    if len(time_us):
        place = np.minimum(((time_us - from_us) / wide).astype(np.int64), columns - 1)
        starts = np.concatenate([[0], np.flatnonzero(np.diff(place)) + 1])
        lows[place[starts]] = np.fmin.reduceat(low, starts)
        highs[place[starts]] = np.fmax.reduceat(high, starts)
        bits[place[starts]] = np.bitwise_or.reduceat(kinds, starts)
    middle: Reals = np.asarray(from_us + (np.arange(columns) + 0.5) * wide, dtype=np.float64)
    return Strokes(middle, lows, highs, bits, False)
