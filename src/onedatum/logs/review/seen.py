"""The one pass over a log: converted batches in, what the detectors need out; memory does not grow with the log."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pyarrow.compute as pc

from onedatum.logs.mapping import LogMapping
from onedatum.logs.reasons import AGAIN, LATE
from onedatum.logs.review.blocks import Blocks, Series
from onedatum.logs.review.events import Event, Watched
from onedatum.logs.review.rows import Rows, Walk, Whole, Window, rows_of
from onedatum.logs.review.runs import LEAST_EQUAL, Run, Runs, states_key
from onedatum.logs.review.samples import Spot, Spots, Stretches
from onedatum.logs.texts import times


@dataclass(frozen=True)
class Seen:
    """What a log looks like."""

    series: Series
    equal: list[Run]
    states: list[Run]
    spikes: list[Event]
    spikes_found: int
    jumps: list[Event]
    gaps: list[Event]
    """Their size is the length in seconds."""
    late_us: tuple[int, int, int]
    """First and last time of the rows set aside for their time, and how many there are."""
    spots: dict[int, Spot]
    stretches: Stretches
    rows: int
    first_us: int
    last_us: int
    usual_us: float
    grain_m: float
    """The smallest change that is usual from row to row."""
    step_m: float | None
    """The step in which readings were written; 0 where there is none, None where no reading changes."""
    tells_state: bool
    rejected: Counter[str]

    @property
    def span_s(self) -> float:
        """From the first row to the last."""
        return (self.last_us - self.first_us) / 1e6

    @property
    def usual_s(self) -> float:
        """From row to row."""
        return self.usual_us / 1e6


@dataclass
class Pass:
    """The pass, batch by batch."""

    mapping: LogMapping
    asked_us: Whole
    """Times at which the level is wanted."""
    threshold: float
    """Of spikes, in standard deviations."""
    blocks: Blocks = field(default_factory=Blocks)
    equal: Runs = field(default_factory=lambda: Runs(LEAST_EQUAL))
    states: Runs = field(default_factory=lambda: Runs(1))
    watched: Watched = field(default_factory=Watched)
    stretches: Stretches = field(default_factory=Stretches)
    rejected: Counter[str] = field(default_factory=Counter)

    def __post_init__(self) -> None:
        self._walk, self._spots = Walk(), Spots(self.asked_us)
        self._rows, self._first, self._last, self._tells = 0, 0, 0, False
        self._late: list[int] = []
        self._late_count = 0

    def add(self, converted: Any, rejected: Any) -> None:
        """Take one batch of each."""
        self._set_aside(rejected)
        rows = rows_of(converted)
        if not len(rows):
            return
        self._first = self._first if self._rows else int(rows.time_us[0])
        self._last, self._rows = int(rows.time_us[-1]), self._rows + len(rows)
        self._tells = self._tells or bool(np.isfinite(rows.current_A).any())
        self.blocks.add(rows)
        self.equal.add(rows, rows.level_m)
        self.states.add(rows, states_key(rows.kind))
        for window in self._walk.on(rows):
            self._judge(window)

    def done(self) -> Seen:
        """What was seen."""
        for window in self._walk.end():
            self._judge(window)
        late = (min(self._late), max(self._late)) if self._late else (0, 0)
        return Seen(
            self.blocks.done(),
            self.equal.done(),
            self.states.done(),
            self.watched.spikes.done(),
            self.watched.spikes.found,
            self.watched.jumps.done(),
            self.watched.gaps.done(),
            (*late, self._late_count),
            self._spots.found,
            self.stretches,
            self._rows,
            self._first,
            self._last,
            self.watched.usual_us or 60e6,
            self.watched.grain_m,
            self.watched.step_m,
            self._tells,
            self.rejected,
        )

    def _judge(self, window: Window) -> None:
        self.watched.add(window, self.threshold)
        self._spots.add(window, self.watched.usual_us or 60e6)
        self.stretches.add(window)

    def _set_aside(self, rejected: Any) -> None:
        reasons = rejected.column("reason")
        self.rejected.update({row["values"]: row["counts"] for row in pc.value_counts(reasons).to_pylist()})
        late = pc.is_in(reasons, value_set=_strings((LATE, AGAIN)))
        texts = rejected.column("time").filter(late)
        if len(texts):
            found, codes = times(texts, self.mapping)
            sound = found[codes == 0]
            self._late_count += len(sound)
            if len(sound):
                self._late += [int(sound.min()), int(sound.max())]


def _strings(words: tuple[str, ...]) -> Any:
    import pyarrow as pa

    return pa.array(words, pa.string())


def no_times() -> Whole:
    """None asked for."""
    return np.zeros(0, np.int64)


__all__ = ["Pass", "Rows", "Seen", "no_times"]
