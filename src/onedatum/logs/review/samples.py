"""Rows kept as they are: at times that are asked for, and stretches spread over the log for its spectrum and memory."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.logs.review.rows import Rows, Whole, Window
from onedatum.physics.detection import median_slope

AROUND = 6
"""Rows on either side of a time that is asked for."""
STRETCH = 1024
"""Rows of a stretch."""
MOST = 128
"""Stretches that are kept."""
AROUND_us = 600_000_000
"""And no farther from it than this: a movement may be near."""
HELD_us = 10_800_000_000
"""A log that stores on change alone has rows that far apart."""
SAME_m = 0.005
"""Rows farther apart than that tell a level between them where they differ by no more."""


@dataclass(frozen=True)
class Spot:
    """The level at a time."""

    level_m: float
    slope_m_per_s: float


class Spots:
    """Levels at times that are asked for: the median line of the rows around each."""

    def __init__(self, asked_us: Whole) -> None:
        self.asked_us = np.unique(asked_us)
        self.found: dict[int, Spot] = {}

    def add(self, window: Window, usual_us: float) -> None:
        """Those that lie among the rows to be judged."""
        rows, known = window.rows, np.flatnonzero(np.isfinite(window.rows.level_m))
        if len(known) < 4 or window.high <= window.low:
            return
        begin, end = rows.time_us[max(window.low - 1, 0)], rows.time_us[window.high - 1]
        first, last = np.searchsorted(self.asked_us, [begin, end], side="right")
        for at in self.asked_us[max(first - 1, 0) : last].tolist():
            if at not in self.found:
                self._one(int(at), rows, known, usual_us)

    def _one(self, at: int, rows: Rows, known: Whole, usual_us: float) -> None:
        place = int(np.searchsorted(rows.time_us[known], at))
        near = known[max(place - AROUND, 0) : place + AROUND]
        near = near[np.abs(rows.time_us[near] - at) <= AROUND_us]
        if len(near) < 4:
            self._between(at, rows, known[max(place - 1, 0) : place + 1], usual_us)
            return
        t, x = (rows.time_us[near] - at) / 1e6, rows.level_m[near]
        slope = median_slope(t, x, 0.9).slope
        self.found[at] = Spot(float(np.median(x - slope * t)), slope)

    def _between(self, at: int, rows: Rows, pair: Whole, usual_us: float) -> None:
        """Of rows far apart: the level between the two about it, where they tell nearly the same."""
        if len(pair) < 2:
            return
        (before, after), (low, high) = rows.time_us[pair].tolist(), rows.level_m[pair].tolist()
        if before <= at <= after and after - before <= max(2.0 * usual_us, HELD_us) and abs(high - low) <= SAME_m:
            slope = (high - low) / (after - before) * 1e6
            self.found[at] = Spot(low + slope * (at - before) / 1e6, slope)


class Stretches:
    """Stretches of rows without a gap, spread evenly over what has been seen."""

    def __init__(self) -> None:
        self.kept: list[tuple[int, Rows]] = []
        self._every, self._seen = 1, 0

    def add(self, window: Window) -> None:
        """Take the stretches that begin among the rows to be judged."""
        for start in range(window.low, window.high, STRETCH):
            if self._seen % self._every == 0:
                self.kept.append((self._seen, window.rows.cut(start, min(start + STRETCH, window.high))))
            self._seen += 1
            if len(self.kept) > MOST:
                self._every *= 2
                self.kept = [each for each in self.kept if each[0] % self._every == 0]

    def whole(self, usual_us: float, least: int) -> list[tuple[Whole, Reals]]:
        """Those with even times and levels throughout: each cut to its longest such part."""
        found = []
        for _, rows in self.kept:
            sound = np.isfinite(rows.level_m)
            even = np.abs(np.diff(rows.time_us, prepend=rows.time_us[:1] - int(usual_us)) - usual_us) < 0.2 * usual_us
            cuts = np.flatnonzero(~(sound & even))
            edges = np.concatenate([[-1], cuts, [len(rows)]])
            widest = int(np.argmax(np.diff(edges)))
            start, end = int(edges[widest]) + 1, int(edges[widest + 1])
            if end - start >= least:
                found.append((rows.time_us[start:end], rows.level_m[start:end]))
        return found
