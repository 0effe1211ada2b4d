"""A log for the eye: least and greatest level in each column of a picture, from any time to any other."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.logs.review.blocks import Series
from onedatum.logs.review.rows import rows_of

MOST_COLUMNS = 4096


@dataclass(frozen=True)
class Columns:
    """Least and greatest of each column; NaN where it holds no level."""

    from_us: int
    to_us: int
    low_m: Reals
    high_m: Reals

    @classmethod
    def empty(cls, from_us: int, to_us: int, columns: int) -> Columns:
        """Columns that nothing has been put into."""
        count = min(max(columns, 1), MOST_COLUMNS)
        return cls(from_us, max(to_us, from_us + 1), np.full(count, np.inf), np.full(count, -np.inf))

    def put(self, at_us: Reals, low_m: Reals, high_m: Reals) -> None:
        """Add levels at times; those outside are passed over."""
        count = len(self.low_m)
        place = np.floor((at_us - self.from_us) / (self.to_us - self.from_us) * count)
        place = np.where(at_us == self.to_us, count - 1, place)
        inside = (place >= 0) & (place < count) & np.isfinite(low_m) & np.isfinite(high_m)
        where = place[inside].astype(np.int64)
        np.minimum.at(self.low_m, where, low_m[inside])
        np.maximum.at(self.high_m, where, high_m[inside])

    def add(self, converted: Any) -> None:
        """Add a converted batch."""
        rows = rows_of(converted)
        self.put(rows.time_us.astype(float), rows.level_m, rows.level_m)

    def done(self) -> Columns:
        """The same with no number where there is none."""
        none = ~np.isfinite(self.low_m)
        low, high = np.where(none, np.nan, self.low_m), np.where(none, np.nan, self.high_m)
        return Columns(self.from_us, self.to_us, low, high)


def of_blocks(series: Series, from_us: int, to_us: int, columns: int) -> Columns:
    """From the blocks of a review: exact where no block is wider than a column."""
    found = Columns.empty(from_us, to_us, columns)
    middle = series.start_us + 0.5 * series.length_us
    at = np.clip(middle, series.columns["first_us"], series.columns["last_us"])
    found.put(at, series.columns["min_m"], series.columns["max_m"])
    return found.done()
