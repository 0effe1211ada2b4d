"""Converted rows as plain arrays, and a window that walks over them with some rows of context on either side."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
import pyarrow.compute as pc
from numpy.typing import NDArray

from onedatum.foundation.numerics import Reals
from onedatum.logs.reasons import FLAGS
from onedatum.logs.tanks import LIMITS

Whole = NDArray[np.int64]
SECOND_us = 1_000_000
CONTEXT = 32
"""Rows before and after a row that are at hand when it is judged."""
MEASURED, FAILED_LOW, BETWEEN_LOW, BETWEEN_HIGH, FAILED_HIGH, AT_LOW, AT_HIGH = range(7)
"""What a row says of itself: a level, failure information or neither, a bound."""
_OF_STATE = {"failure_low": FAILED_LOW, "undefined_low": BETWEEN_LOW, "undefined_high": BETWEEN_HIGH}
_OF_STATE["failure_high"] = FAILED_HIGH


@dataclass(frozen=True)
class Rows:
    """Rows of one tag in the order of time."""

    time_us: Whole
    level_m: Reals
    """NaN where the row is no level: failure information, or a bound."""
    kind: NDArray[np.int8]
    current_A: Reals

    def __len__(self) -> int:
        return len(self.time_us)

    def cut(self, start: int, end: int) -> Rows:
        """The rows from `start` to before `end`."""
        part = slice(start, end)
        return Rows(self.time_us[part], self.level_m[part], self.kind[part], self.current_A[part])

    def then(self, other: Rows) -> Rows:
        """These rows and the others after them."""
        pairs = zip(self._columns(), other._columns(), strict=True)
        time_us, level_m, kind, current_A = (np.concatenate(pair) for pair in pairs)
        return Rows(time_us, level_m, kind, current_A)

    def _columns(self) -> tuple[Any, ...]:
        return self.time_us, self.level_m, self.kind, self.current_A


def no_rows() -> Rows:
    """None at all."""
    return Rows(np.zeros(0, np.int64), np.zeros(0), np.zeros(0, np.int8), np.zeros(0))


def rows_of(batch: Any) -> Rows:
    """The rows of a converted batch."""
    time_us = batch.column("time").to_numpy(zero_copy_only=False).astype("datetime64[us]").astype(np.int64)
    level = np.array(batch.column("level_m").to_numpy(zero_copy_only=False), dtype=np.float64)
    current = np.array(batch.column("current_A").to_numpy(zero_copy_only=False), dtype=np.float64)
    flags = np.asarray(batch.column("flags"))
    state = np.asarray(pc.fill_null(batch.column("state").indices, -1)).astype(np.int64)
    code = np.array([*(_OF_STATE.get(word, MEASURED) for word in LIMITS), MEASURED], dtype=np.int8)[state]
    followed = (flags & FLAGS["not_followed"]) == 0
    code[((flags & FLAGS["at_or_below"]) > 0) & followed] = AT_LOW
    code[((flags & FLAGS["at_or_above"]) > 0) & followed] = AT_HIGH
    level[code != MEASURED] = np.nan
    return Rows(time_us, level, code, current)


@dataclass(frozen=True)
class Window:
    """Rows with their context: those from `low` to before `high` are to be judged, each once."""

    rows: Rows
    low: int
    high: int


class Walk:
    """Cuts batches into windows so that every row is judged once, with its neighbours at hand."""

    def __init__(self) -> None:
        self._kept, self._judged = no_rows(), 0

    def on(self, rows: Rows) -> Iterator[Window]:
        """The window that these rows complete."""
        whole = self._kept.then(rows)
        high = len(whole) - CONTEXT
        if high <= self._judged:
            self._kept = whole
            return
        yield Window(whole, self._judged, high)
        start = max(high - CONTEXT, 0)
        self._kept, self._judged = whole.cut(start, len(whole)), high - start

    def end(self) -> Iterator[Window]:
        """The last window."""
        if len(self._kept) > self._judged:
            yield Window(self._kept, self._judged, len(self._kept))
