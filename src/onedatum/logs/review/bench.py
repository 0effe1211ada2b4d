"""What every detector is handed: what was seen of the log, what stands beside it, the tank, and which blocks rest."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from onedatum.foundation.numerics import Reals
from onedatum.logs.review.beside import Dip, Movement
from onedatum.logs.review.blocks import spread_of
from onedatum.logs.review.rows import SECOND_us, Whole
from onedatum.logs.review.seen import Seen

HOUR_us = 3600 * SECOND_us
QUICK_SHARE = 0.03
"""Of the quickest movement of the log: what is slower may be a rest."""
NOISE_OF_SLOPE = 12.0
"""Times the slope that white noise gives to a block: what is less is no movement."""
WINDOW_us = 20 * HOUR_us
"""Least time of a balance."""
IDLE_us = HOUR_us // 3
"""Least time without a movement, in whose middle a balance may be cut."""


@dataclass(frozen=True)
class Tank:
    """What a review knows of the case."""

    tag: str
    lower_m: float
    upper_m: float
    """Levels at 4 and 20 mA; NaN where they are not known."""
    levels_m: Reals
    volumes_m3: Reals
    """The tank table; empty where it is not known."""
    is_float: bool = False
    is_spirit: bool = False
    sensor: str = ""
    high_high_m: float = float("nan")
    """Where HH stands, or may stand at most; NaN where that is not known."""
    is_high_high_set: bool = False

    @property
    def has_table(self) -> bool:
        """Whether a level tells a volume."""
        return len(self.levels_m) > 1

    def volume_m3(self, level_m: Reals | float) -> Reals:
        """By the table; NaN beyond it."""
        return np.asarray(np.interp(level_m, self.levels_m, self.volumes_m3, np.nan, np.nan))

    def level_m(self, volume_m3: Reals | float) -> Reals:
        """The other way; what is beyond stands at the ends."""
        return np.asarray(np.interp(volume_m3, self.volumes_m3, self.levels_m))

    def area_m2(self, level_m: float) -> float:
        """Volume to a length of level about a level."""
        half = 0.005 * (self.levels_m[-1] - self.levels_m[0])
        low, high = np.clip([level_m - half, level_m + half], self.levels_m[0], self.levels_m[-1])
        return float((self.volume_m3(high) - self.volume_m3(low)) / (high - low))


@dataclass(frozen=True)
class Bench:
    """All of it."""

    seen: Seen
    tank: Tank
    dips: Sequence[Dip] = ()
    movements: Sequence[Movement] = ()
    cuts_us: Sequence[int] = field(default_factory=tuple)
    has_dips: bool = False
    has_movements: bool = False

    @cached_property
    def moving(self) -> NDArray[np.bool_]:
        """Blocks in which the level is moved."""
        series = self.seen.series
        slope = np.abs(series.slope_m_per_s)
        known = slope[np.isfinite(slope)]
        if not len(known):
            return np.zeros(len(series), dtype=bool)
        with np.errstate(invalid="ignore", divide="ignore"):
            of_noise = series.noise_m * np.sqrt(12.0 / np.maximum(series.count, 1.0)) / series.length_s
        usual = np.nanmedian(of_noise) if np.isfinite(of_noise).any() else 0.0
        least = self.seen.grain_m / series.length_s
        quick = max(QUICK_SHARE * float(np.quantile(known, 0.99)), NOISE_OF_SLOPE * float(usual), least)
        moving = np.nan_to_num(slope, nan=np.inf) > quick
        found: NDArray[np.bool_] = moving | self._booked
        return found

    @cached_property
    def _booked(self) -> NDArray[np.bool_]:
        """Blocks of which a part lies in a movement, or next to one."""
        series = self.seen.series
        found = np.zeros(len(series), dtype=bool)
        for each in self.movements:
            begin, end = (each.from_us // series.length_us, each.to_us // series.length_us)
            low, high = np.searchsorted(series.index, [begin, end + 1])
            found[low:high] = True
        return found

    @property
    def left_alone(self) -> NDArray[np.bool_]:
        """Blocks in which and beside which nothing is booked."""
        booked = self._booked
        beside = np.concatenate([[False], booked[:-1]]) | np.concatenate([booked[1:], [False]])
        found: NDArray[np.bool_] = ~(booked | beside)
        return found

    @cached_property
    def resting(self) -> NDArray[np.bool_]:
        """Blocks whose level rests, and so do their neighbours."""
        still = ~self.moving & (self.seen.series.count >= 3)
        beside = np.concatenate([[True], still[:-1]]) & np.concatenate([still[1:], [True]])
        resting: NDArray[np.bool_] = still & beside
        return resting

    @cached_property
    def rests(self) -> list[tuple[int, int]]:
        """Runs of resting blocks without a gap: the first and the last."""
        index, rest = self.seen.series.index, self.resting
        if not rest.any():
            return []
        joined = rest[1:] & rest[:-1] & (np.diff(index) == 1)
        cuts = np.flatnonzero(~np.concatenate([[False], joined]))
        ends = np.concatenate([cuts[1:], [len(rest)]]) - 1
        return [(int(a), int(b)) for a, b in zip(cuts, ends, strict=True) if rest[a]]

    @cached_property
    def noise_at_rest_m(self) -> float:
        """By the second differences of all resting blocks together; NaN where none rests.

        The noise of a block is too small on the average where it holds few of them, and so is the middle of blocks.
        """
        return spread_of(self.seen.series.noise[self.resting].sum(axis=0))

    @cached_property
    def quick_m_per_s(self) -> float:
        """The quickest movement of the log."""
        slope = np.abs(self.seen.series.slope_m_per_s)
        slope = slope[np.isfinite(slope)]
        return float(np.quantile(slope, 0.999)) if len(slope) else 0.0

    def level_at(self, at_us: int) -> float:
        """The level at a time that was asked for; NaN where there was none."""
        spot = self.seen.spots.get(at_us)
        return spot.level_m if spot is not None else float("nan")

    def slope_at(self, at_us: int) -> float:
        """Its slope."""
        spot = self.seen.spots.get(at_us)
        return spot.slope_m_per_s if spot is not None else float("nan")


def cuts_of(movements: Sequence[Movement]) -> list[int]:
    """Times at which balances are cut: between movements, a day or so apart."""
    if not movements:
        return []
    cuts = [movements[0].from_us - IDLE_us // 2]
    reach = movements[0].to_us
    for each in movements[1:]:
        middle = (reach + each.from_us) // 2
        if each.from_us - reach >= IDLE_us and middle - cuts[-1] >= WINDOW_us:
            cuts.append(middle)
        reach = max(reach, each.to_us)
    return [*cuts, reach + IDLE_us // 2]


def asked_times(dips: Sequence[Dip], movements: Sequence[Movement]) -> Whole:
    """Every time at which the level is wanted."""
    edges = [at for each in movements for at in edges_of(each)]
    return np.array([*(dip.time_us for dip in dips), *cuts_of(movements), *edges], dtype=np.int64)


def edges_of(movement: Movement) -> tuple[int, int]:
    """A while before a movement and after it."""
    return movement.from_us - IDLE_us // 4, movement.to_us + IDLE_us // 4
