"""One measurement: our way and a peer's way, in turns, in one run, judged by the ratio of their medians.

A ratio holds on any machine, a time on one only. Taking turns lets whatever else the machine does fall on both.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from statistics import median
from time import perf_counter, process_time

Work = Callable[[], object]
Clock = Callable[[], float]


@dataclass(frozen=True)
class Race:
    """Two ways to compare, and the ratio ours / peer that ours may take at most."""

    name: str
    ours: Work
    peer_name: str
    peer: Work
    goal: float
    rounds: int = 15
    clock: Clock = perf_counter
    """`process_time` for what stays in this process: what others do to the machine matters less to it."""


@dataclass(frozen=True)
class Outcome:
    """The medians of one race."""

    race: Race
    ours_s: float
    peer_s: float

    @property
    def ratio(self) -> float:
        return self.ours_s / self.peer_s

    @property
    def reached(self) -> bool:
        return self.ratio <= self.race.goal

    def line(self) -> str:
        """The outcome in one line of text."""
        verdict = "reached" if self.reached else "MISSED"
        times = f"{self.ours_s * 1e3:.1f} ms against {self.peer_s * 1e3:.1f} ms ({self.race.peer_name})"
        of = " of processor" if self.race.clock is process_time else ""
        return f"{self.race.name}: {times}{of}: {self.ratio:.2f} x, goal {self.race.goal:g} x, {verdict}"


def hold(race: Race) -> Outcome:
    """Run a race. The first round warms caches and does not count; who starts changes from round to round."""
    ours_s: list[float] = []
    peer_s: list[float] = []
    lanes = [(race.ours, ours_s), (race.peer, peer_s)]
    for number in range(race.rounds + 1):
        for work, times in lanes if number % 2 else reversed(lanes):
            times.append(duration_s(work, race.clock))
    return Outcome(race, median(ours_s[1:]), median(peer_s[1:]))


@dataclass(frozen=True)
class Figure:
    """A number that may be so large at most, such as a memory, a distance from the truth, a time that a user waits."""

    name: str
    measure: Callable[[], float]
    limit: float | None
    """None where it is told alone."""
    unit: str


@dataclass(frozen=True)
class Reading:
    """What was measured of one figure."""

    figure: Figure
    value: float

    @property
    def reached(self) -> bool:
        return self.figure.limit is None or self.value <= self.figure.limit

    def line(self) -> str:
        """The reading in one line of text."""
        said = f"{self.figure.name}: {self.value:.3g} {self.figure.unit}"
        if self.figure.limit is None:
            return said
        return f"{said}, goal {self.figure.limit:g}, {'reached' if self.reached else 'MISSED'}"


def read(figure: Figure) -> Reading:
    """Take one figure."""
    return Reading(figure, figure.measure())


def duration_s(work: Work, clock: Clock = perf_counter) -> float:
    """The time one call takes."""
    begin = clock()
    work()
    return clock() - begin
