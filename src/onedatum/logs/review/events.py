"""What happens within a few rows: a spike, a jump that stays, a gap. Bounded lists; what is beyond is counted."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from onedatum.foundation.numerics import Reals
from onedatum.logs.review.rows import SECOND_us, Whole, Window
from onedatum.physics.detection import common_step, difference_noise, hampel

MOST = 2000
SPIKE_WINDOW = 11
SIDE = 8
"""Rows on either side of a jump that tell the level there."""
LEAST_JUMP = 8.0
"""Of a jump that is kept, in standard deviations of single readings, and in steps of the readings."""
LEAST_OF_SIDES = 4.0
"""Times the change from row to row on either side: a movement has no jump."""
LEAST_WITHOUT = 0.6
"""Share of a jump that is still there with either of its two rows passed over; with a spike among them it is not."""
AT_ONCE = 4096
GAP = 3.5
"""Of a gap that is kept, in usual times from row to row."""
FEWEST = 3 * SPIKE_WINDOW
FINEST_m = 1e-6
"""No reading is written in finer steps."""
COARSE_m = 0.005
"""Of the smallest change from row to row: what is more is a movement, unless readings are written in such steps."""


@dataclass(frozen=True)
class Event:
    """One of them."""

    at_us: int
    to_us: int
    size_m: float
    score: float
    """Size over the standard deviation of a reading; of a jump how far its sides move by themselves."""
    level_m: float = float("nan")
    """The reading itself, of a spike."""
    is_bound: bool = False
    """Whether level and size are at least so far out: the row stands at an end of the signal."""


@dataclass
class Events:
    """Events of one sort."""

    kept: list[Event] = field(default_factory=list)
    found: int = 0

    def add(self, more: list[Event]) -> None:
        """Keep the largest."""
        self.found += len(more)
        self.kept += more
        if len(self.kept) > 2 * MOST:
            self.kept = sorted(self.kept, key=lambda event: -abs(event.size_m))[:MOST]

    def done(self) -> list[Event]:
        """In the order of time."""
        largest = sorted(self.kept, key=lambda event: -abs(event.size_m))[:MOST]
        return sorted(largest, key=lambda event: event.at_us)


@dataclass
class Watched:
    """The events of a log, found window by window."""

    spikes: Events = field(default_factory=Events)
    jumps: Events = field(default_factory=Events)
    gaps: Events = field(default_factory=Events)
    usual_us: float = 0.0
    """From row to row, by the first rows."""
    grain_m: float = 0.0
    """The smallest change that is usual from row to row."""
    step_m: float | None = None
    """Of which all readings lie whole multiples apart; 0 where there is no such step, None while none has changed."""

    def add(self, window: Window, threshold: float) -> None:
        """Judge the rows of a window; spikes from so many standard deviations on."""
        rows = window.rows
        if len(rows) < 2:
            return
        apart = np.diff(rows.time_us)
        if not self.usual_us:
            self.usual_us = float(np.median(apart))
        self._gaps(rows.time_us, apart, window)
        known = np.flatnonzero(np.isfinite(rows.level_m))
        level, time_us = rows.level_m[known], rows.time_us[known]
        if len(known):
            self._step(level)
        if len(known) < FEWEST:
            return
        self._grain(level)
        noise = max(difference_noise(level), 0.3 * self.grain_m, 1e-6)
        judged = (known >= window.low) & (known < window.high)
        spiked = self._spikes(level, time_us, judged, threshold, noise)
        self._jumps(level, time_us, judged & ~spiked, noise)

    def _step(self, level: Reals) -> None:
        """The step in which the readings so far were written."""
        if self.step_m == 0.0 or np.ptp(level) <= 1e-3 * FINEST_m:
            return
        own, before = common_step(level, FINEST_m), self.step_m
        self.step_m = own if before is None or not own else common_step([0.0, before, before + own], FINEST_m)

    def _grain(self, level: Reals) -> None:
        """The smallest change so far; where every change is a movement, no more than a reading is written in."""
        steps = np.abs(np.diff(level))
        steps = steps[steps > 1e-9]
        if len(steps):
            least = float(np.partition(steps, len(steps) // 50)[len(steps) // 50])
            least = min(least, max(self.step_m or 0.0, COARSE_m))
            self.grain_m = min(self.grain_m, least) if self.grain_m else least

    def _gaps(self, time_us: Whole, apart: Whole, window: Window) -> None:
        ends = np.flatnonzero(apart > GAP * self.usual_us)
        ends = ends[(ends + 1 >= window.low) & (ends + 1 < window.high)]
        self.gaps.add([Event(int(time_us[i]), int(time_us[i + 1]), apart[i] / SECOND_us, 0.0) for i in ends.tolist()])

    def _spikes(
        self, level: Reals, time_us: Whole, judged: NDArray[np.bool_], threshold: float, noise: float
    ) -> NDArray[np.bool_]:
        found = hampel(level, SPIKE_WINDOW, threshold, self.grain_m)
        off = level - found.medians
        outside = np.asarray(found.outside) & (np.abs(off) > threshold * noise)
        outside &= ~_steep(level, off)
        places = np.flatnonzero(outside & judged)
        self.spikes.add(
            [
                Event(int(time_us[i]), int(time_us[i]), float(off[i]), float(abs(off[i]) / noise), float(level[i]))
                for i in places.tolist()
            ]
        )
        return outside

    def _jumps(self, level: Reals, time_us: Whole, judged: NDArray[np.bool_], noise: float) -> None:
        """Differences from one row to the next that stay: medians of the rows on either side differ by as much."""
        step = np.diff(level)
        places = np.flatnonzero(np.abs(step) > LEAST_JUMP * max(noise, self.grain_m / 2.0))
        places = places[judged[places + 1] & (places >= SIDE - 1) & (places < len(step) - SIDE + 1)]
        for start in range(0, len(places), AT_ONCE):
            part = places[start : start + AT_ONCE]
            around = level[part[:, None] + np.arange(1 - SIDE, SIDE + 1)]
            before, after = around[:, :SIDE], around[:, SIDE:]
            size = np.median(after, axis=1) - np.median(before, axis=1)
            moved = np.maximum(_moved(before), _moved(after))
            own = step[part]
            stays = (size * own > 0.0) & (np.abs(size) >= 0.6 * np.abs(own))
            stays &= np.abs(size) <= 1.6 * np.abs(own) + SIDE * moved
            stays &= np.abs(own) > LEAST_OF_SIDES * moved
            stays &= _without_either(around, own) >= LEAST_WITHOUT * np.abs(own)
            kept = np.flatnonzero(stays).tolist()
            at = [(int(time_us[part[i]]), int(time_us[part[i] + 1])) for i in kept]
            found = zip(at, own[kept].tolist(), moved[kept].tolist(), strict=True)
            self.jumps.add([Event(*times, jump, sides) for times, jump, sides in found])


def _moved(level: Reals) -> Reals:
    """By how much levels move from row to row, in the middle of their differences."""
    return np.asarray(np.median(np.abs(np.diff(level, axis=1)), axis=1))


def _without_either(around: Reals, own: Reals) -> Reals:
    """The lesser of the changes over three rows, with the row before the jump passed over and with the row after."""
    before, after = around[:, SIDE] - around[:, SIDE - 2], around[:, SIDE + 1] - around[:, SIDE - 1]
    return np.asarray(np.minimum(before * np.sign(own), after * np.sign(own)))


def _steep(level: Reals, off: Reals) -> NDArray[np.bool_]:
    """Where the neighbours on either side lie apart by as much: the edge of a jump or a bend, no spike."""
    padded = np.pad(level, 2, mode="edge")
    sides = np.abs(np.minimum(padded[:-4], padded[1:-3]) - np.maximum(padded[3:-1], padded[4:]))
    sides = np.minimum(sides, np.abs(np.maximum(padded[:-4], padded[1:-3]) - np.minimum(padded[3:-1], padded[4:])))
    return np.asarray(sides > 0.5 * np.abs(off))
