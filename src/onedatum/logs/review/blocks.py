"""A log of any length as fixed blocks of time, so many at most: what a block holds can be joined with the next.

Blocks are whole parts of one another (a minute, five, ten ...): when there are too many they become longer, and every
number of the longer block is that which its rows would have given.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.logs.review.rows import AT_HIGH, AT_LOW, MEASURED, Rows, SECOND_us, Whole

LADDER_S = (1, 5, 10, 30, 60, 300, 600, 1800, 3600, 7200, 21600, 43200, 86400, 604800, 6048000, 60480000)
"""Lengths of a block; each is a whole number of the one before."""
ROWS_OF_A_BLOCK, FEWEST_ROWS = 24, 4
"""Of the first rows: so many come into a block, fewer where it would be longer than an hour."""
HOUR_us = 3600 * SECOND_us
MOST = 16_384
BINS, FINEST_m = 48, 1e-6
"""Classes of second differences, two to each doubling, from the finest on."""
MEDIAN_TO_STANDARD = 1.482602218505602 / np.sqrt(6.0)
"""The median size of second differences of white noise, made the standard deviation of one reading."""
ADDED = ("rows", "silent", "low", "high", "n", "t", "tt", "x", "xx", "tx", "pairs", "equal")
LEAST, GREATEST, FIRST, LAST = ("min_m",), ("max_m",), ("first_m", "first_us"), ("last_m", "last_us")
WITHIN = 4.0
"""Standard deviations of second differences beyond which they are no noise."""
Columns = dict[str, Reals]


class Blocks:
    """The blocks of one log, in the making."""

    def __init__(self) -> None:
        self.step = -1
        self.zero_m = 0.0
        """Levels are summed less the first one."""
        self.index: Whole = np.zeros(0, np.int64)
        self.columns: Columns = {}
        self.noise: Reals = np.zeros((0, BINS))

    @property
    def length_us(self) -> int:
        """The length of a block."""
        return LADDER_S[self.step] * SECOND_us

    def add(self, rows: Rows) -> None:
        """Add rows that follow those before."""
        if not len(rows):
            return
        if self.step < 0:
            self._begin(rows)
        index, columns, noise = self._of(rows)
        if len(self.index):
            index = np.concatenate([self.index, index])
            columns = {key: np.concatenate([self.columns[key], each]) for key, each in columns.items()}
            noise = np.concatenate([self.noise, noise])
        self._keep(index, columns, noise)
        while len(self.index) > MOST and self.step < len(LADDER_S) - 1:
            self._coarsen()

    def _begin(self, rows: Rows) -> None:
        apart = np.median(np.diff(rows.time_us)) if len(rows) > 1 else 60 * SECOND_us
        wanted = max(min(ROWS_OF_A_BLOCK * apart, HOUR_us), FEWEST_ROWS * apart)
        fits = [step for step, length in enumerate(LADDER_S) if length * SECOND_us >= wanted]
        self.step = fits[0] if fits else len(LADDER_S) - 1
        known = rows.level_m[np.isfinite(rows.level_m)]
        self.zero_m = float(known[0]) if len(known) else 0.0

    def _of(self, rows: Rows) -> tuple[Whole, Columns, Reals]:
        """Every row as a block of its own."""
        index = rows.time_us // self.length_us
        known = np.isfinite(rows.level_m)
        t = np.where(known, (rows.time_us - index * self.length_us) / SECOND_us, 0.0)
        x = np.where(known, rows.level_m - self.zero_m, 0.0)
        n = known.astype(np.float64)
        pair = np.concatenate([[False], known[1:] & known[:-1]])
        same = pair & (np.diff(rows.level_m, prepend=np.nan) == 0.0)
        silent = ~known & (rows.kind != AT_LOW) & (rows.kind != AT_HIGH) & (rows.kind != MEASURED)
        columns = {
            "rows": np.ones(len(rows)),
            "silent": silent.astype(float),
            "low": (rows.kind == AT_LOW).astype(float),
            "high": (rows.kind == AT_HIGH).astype(float),
            "n": n,
            "t": t,
            "tt": t * t,
            "x": x,
            "xx": x * x,
            "tx": t * x,
            "pairs": pair.astype(float),
            "equal": same.astype(float),
            "min_m": np.where(known, rows.level_m, np.inf),
            "max_m": np.where(known, rows.level_m, -np.inf),
            "first_m": rows.level_m,
            "last_m": rows.level_m,
            "first_us": rows.time_us.astype(float),
            "last_us": rows.time_us.astype(float),
        }
        return self._joined(index, columns, _second_differences(rows))

    def _keep(self, index: Whole, columns: Columns, noise: Reals) -> None:
        self.index, self.columns, self.noise = self._joined(index, columns, noise)

    def _coarsen(self) -> None:
        """Make the blocks as long as the next length says."""
        longer = LADDER_S[self.step + 1] // LADDER_S[self.step]
        index = self.index // longer
        later_s = (self.index - index * longer) * float(LADDER_S[self.step])
        own = self.columns
        moved = dict(own)
        moved["t"] = own["t"] + own["n"] * later_s
        moved["tt"] = own["tt"] + 2.0 * later_s * own["t"] + own["n"] * later_s**2
        moved["tx"] = own["tx"] + later_s * own["x"]
        self.step += 1
        self._keep(index, moved, self.noise)

    def _joined(self, index: Whole, columns: Columns, noise: Reals) -> tuple[Whole, Columns, Reals]:
        """Neighbours of one index made one."""
        starts = np.concatenate([[0], np.flatnonzero(np.diff(index)) + 1])
        if len(starts) == len(index) and noise.ndim == 2:
            return index, columns, noise
        ends = np.concatenate([starts[1:], [len(index)]]) - 1
        made: Columns = {key: np.add.reduceat(columns[key], starts) for key in ADDED}
        made |= {key: np.minimum.reduceat(columns[key], starts) for key in LEAST}
        made |= {key: np.maximum.reduceat(columns[key], starts) for key in GREATEST}
        made |= {key: columns[key][starts] for key in FIRST} | {key: columns[key][ends] for key in LAST}
        if noise.ndim == 2:
            return index[starts], made, np.add.reduceat(noise, starts, axis=0)
        return index[starts], made, _counted(noise, np.repeat(np.arange(len(starts)), np.diff([*starts, len(index)])))

    def done(self) -> Series:
        """The blocks, to be looked at."""
        return Series(self.index, self.columns, self.noise, self.length_us, self.zero_m)


class Series:
    """Blocks of a log as arrays over the time."""

    def __init__(self, index: Whole, columns: Mapping[str, Reals], noise: Reals, length_us: int, zero_m: float) -> None:
        self.index, self.columns, self.noise, self.length_us, self.zero_m = index, columns, noise, length_us, zero_m

    def __len__(self) -> int:
        return len(self.index)

    @property
    def length_s(self) -> float:
        """The length of a block."""
        return self.length_us / SECOND_us

    @cached_property
    def start_us(self) -> Whole:
        """When each begins."""
        starts: Whole = self.index * self.length_us
        return starts

    @cached_property
    def count(self) -> Reals:
        """Levels in each."""
        return self.columns["n"]

    @cached_property
    def mean_m(self) -> Reals:
        """Mean level; NaN without a level."""
        with np.errstate(invalid="ignore", divide="ignore"):
            return np.asarray(self.zero_m + self.columns["x"] / self.count)

    @cached_property
    def mid_s(self) -> Reals:
        """Mean time of the levels, in seconds since the first block."""
        with np.errstate(invalid="ignore", divide="ignore"):
            within = self.columns["t"] / self.count
        return np.asarray((self.start_us - self.start_us[0]) / SECOND_us + within)

    @cached_property
    def slope_m_per_s(self) -> Reals:
        """Slope by least squares; NaN where fewer than three levels tell it."""
        own = self.columns
        with np.errstate(invalid="ignore", divide="ignore"):
            square = own["tt"] - own["t"] ** 2 / self.count
            slope = (own["tx"] - own["t"] * own["x"] / self.count) / square
        return np.where((self.count >= 3) & (square > 0.0), slope, np.nan)

    @cached_property
    def noise_m(self) -> Reals:
        """Standard deviation of single readings from their second differences, of which a slope is no part."""
        return noise_of(self.noise)

    @cached_property
    def noise_count(self) -> Reals:
        """Second differences of each block."""
        counts: Reals = self.noise.sum(axis=1)
        return counts

    @cached_property
    def equal_share(self) -> Reals:
        """Share of readings that repeat the one before; NaN where there are no pairs."""
        with np.errstate(invalid="ignore", divide="ignore"):
            return np.asarray(self.columns["equal"] / self.columns["pairs"])


def _second_differences(rows: Rows) -> Reals:
    """The class of the second difference at each row, -1 where there is none or the times are not even."""
    found = np.full(len(rows), -1.0)
    if len(rows) < 3:
        return found
    steps, level = np.diff(rows.time_us), rows.level_m
    even = np.abs(steps[1:] - steps[:-1]) <= 0.5 * steps[:-1]
    second = np.abs(level[2:] - 2.0 * level[1:-1] + level[:-2])
    with np.errstate(divide="ignore", invalid="ignore"):
        place = np.clip(np.floor(2.0 * np.log2(second / FINEST_m)) + 1.0, 0, BINS - 1)
    found[1:-1] = np.where(even & np.isfinite(second), place, -1.0)
    return found


def _counted(classes: Reals, block: Whole) -> Reals:
    """Second differences of each block by class."""
    count = int(block[-1]) + 1 if len(block) else 0
    kept = classes >= 0
    place = block[kept] * BINS + classes[kept].astype(np.int64)
    return np.bincount(place, minlength=count * BINS).astype(np.float64).reshape(count, BINS)


def noise_of(counts: Reals) -> Reals:
    """Noise from the classes of second differences: the median size, between its class by logarithm."""
    total = counts.sum(axis=1)
    sums = np.cumsum(counts, axis=1)
    half = 0.5 * total
    at = np.argmax(sums >= half[:, None], axis=1)
    rows = np.arange(len(counts))
    own = counts[rows, at]
    with np.errstate(invalid="ignore", divide="ignore"):
        share = np.where(own > 0, (half - (sums[rows, at] - own)) / own, 0.5)
    median = FINEST_m * 2.0 ** ((at - 1.0 + share) / 2.0)
    return np.where(total > 0, np.where(at == 0, 0.0, median * MEDIAN_TO_STANDARD), np.nan)


def spread_of(counts: Reals) -> float:
    """Noise from the classes of many second differences: their mean square, less those far off; NaN without any.

    The middle of noise that is rounded to steps as wide as itself lies on one of few values; the mean square does not.
    """
    median_m = float(noise_of(counts[None, :])[0])
    if not median_m > 0.0:
        return median_m
    low_m = FINEST_m * 2.0 ** ((np.arange(BINS) - 1.0) / 2.0)
    square = low_m**2 / np.log(2.0)  # the mean of the squares of a class that is even over the logarithm
    square[0] = 0.0
    size_m = median_m * np.sqrt(6.0)
    for _ in range(3):
        kept = np.where(low_m <= WITHIN * size_m, counts, 0.0)
        size_m = float(np.sqrt(kept @ square / kept.sum()))
    return float(size_m / np.sqrt(6.0))
