"""How fast a level moves, how sure that is, and when it would reach an alarm if it went on so.

The window is parted into blocks of even length and each gives its median, so that spikes and ripple count for little;
the rate is the median of the slopes between all blocks with the interval of that. Where the interval holds zero there
is no rate to speak of, and no forecast. A forecast is a span of time: from the shortest way at the fastest rate to the
longest way at the slowest. It supposes that what flows goes on as over the window; nothing tells that it will.
"""

from __future__ import annotations

from dataclasses import dataclass
from statistics import median

from onedatum.foundation.moments import MICRO, DAY_s
from onedatum.physics.detection import median_slope
from onedatum.physics.overfill import time_to_level_s

BLOCKS = 20
LEAST_BLOCKS = 8
COVERED = 0.95
"""Probability that the interval of a rate covers it, where the blocks are independent."""
COVERAGE = 2.0
"""Of the uncertainty of the level in a forecast."""
HORIZON_s = 7.0 * DAY_s
NEWEST_BLOCKS = 3
"""The newest block is no older than so many blocks, else the rate is of a time that is over."""


@dataclass(frozen=True)
class Rate:
    """A rate with the interval that covers it, per second."""

    middle: float
    low: float
    high: float

    @property
    def is_noise(self) -> bool:
        """Whether the interval holds zero."""
        return self.low <= 0.0 <= self.high


class Window:
    """Numbers of the last while in blocks of even length."""

    def __init__(self, over_s: float) -> None:
        self.over_us = int(over_s * MICRO)
        self.block_us = max(self.over_us // BLOCKS, 1)
        self._blocks: list[tuple[float, float]] = []
        """Middle of the times and median of the numbers, of whole blocks."""
        self._open: list[tuple[int, float]] = []
        self._rate: Rate | None = None

    def add(self, time_us: int, value: float) -> None:
        """One more number; times go forward."""
        number = time_us // self.block_us
        if self._open and self._open[0][0] // self.block_us != number:
            self._blocks.append(_of_block(self._open))
            self._open = []
            self._forget(time_us)
            self._rate = self._worked()
        self._open.append((time_us, value))

    def rate(self, now_us: int) -> Rate | None:
        """The rate, where enough of the window is filled, up to now."""
        self._forget(now_us)
        if len(self._blocks) < LEAST_BLOCKS or self._blocks[-1][0] < (now_us - NEWEST_BLOCKS * self.block_us) / MICRO:
            return None
        return self._rate

    def clear(self) -> None:
        """Forget everything."""
        self._blocks, self._open, self._rate = [], [], None

    def _forget(self, now_us: int) -> None:
        since_s = (now_us - self.over_us - self.block_us) / MICRO
        kept = [block for block in self._blocks if block[0] >= since_s]
        if len(kept) != len(self._blocks):
            self._blocks = kept
            self._rate = self._worked()

    def _worked(self) -> Rate | None:
        if len(self._blocks) < LEAST_BLOCKS:
            return None
        begin = self._blocks[0][0]
        found = median_slope([at - begin for at, _ in self._blocks], [value for _, value in self._blocks], COVERED)
        return Rate(found.slope, found.low, found.high)


def _of_block(held: list[tuple[int, float]]) -> tuple[float, float]:
    return sum(at for at, _ in held) / len(held) / MICRO, median(value for _, value in held)


@dataclass(frozen=True)
class Outlook:
    """When an alarm level is reached: a span from now, or why there is none."""

    name: str
    level_m: float
    earliest_s: float | None = None
    latest_s: float | None = None
    why: str = ""


@dataclass(frozen=True)
class Way:
    """Volumes now, least and most by the uncertainty of the level, and at the alarm; None where not known."""

    least_m3: float | None
    most_m3: float | None
    alarm_m3: float | None


def outlook(name: str, level_m: float, way: Way, rate: Rate | None, rising: bool, age_s: float = 0.0) -> Outlook:
    """When a level above (`rising`) or below is reached at a rate of volume, counted from now.

    The level of the way was read `age_s` ago, and what flows has gone on since then.
    """
    if way.alarm_m3 is None or way.least_m3 is None or way.most_m3 is None:
        return Outlook(name, level_m, why="no volume is known there")
    if rate is None:
        return Outlook(name, level_m, why="the rate is not known yet")
    if rate.is_noise:
        return Outlook(name, level_m, why="the rate is within its noise")
    if (rate.middle > 0.0) is not rising:
        return Outlook(name, level_m, why="the level moves away from it")
    slow, fast = sorted((abs(rate.low), abs(rate.high)))
    near, far = (way.most_m3, way.least_m3) if rising else (way.least_m3, way.most_m3)
    earliest, latest = (
        float(time_to_level_s(way.alarm_m3, each, pace) if rising else time_to_level_s(each, way.alarm_m3, pace))
        for each, pace in ((near, fast), (far, slow))
    )
    if latest < 0.0:
        return Outlook(name, level_m, why="it is passed")
    if earliest > HORIZON_s:
        return Outlook(name, level_m, why="not within 7 days at this rate")
    return Outlook(name, level_m, max(earliest - age_s, 0.0), max(latest - age_s, 0.0))
