"""A monotone function of one variable as a short table of points and slopes, for readers that hold no model.

Between two points stands the cubic with their values and slopes (Hermite). A corner stands twice in the table, once
with the slope of either side. Slopes are held where the cubic cannot turn (0 to 3 times that of the chord; Fritsch and
Carlson, from memory). The function is sampled once on a fine grid; the table then takes as few of its stations as the
tolerance asks for, and says the largest error met at all the points sampled.
"""

from __future__ import annotations

from dataclasses import dataclass
from heapq import heapify, heappop, heappush
from itertools import pairwise

import numpy as np

from onedatum.foundation.numerics.kinds import Real, Reals

SHARES = np.array([0.0, 1e-3, 2e-3, 0.1, 0.3, 0.5, 0.7, 0.9, 1.0 - 2e-3, 1.0 - 1e-3, 1.0])
"""Where each gap between two stations is sampled; the points close to its ends give the slopes there."""
_STEP = 1e-3
STEEPEST = 3.0
ALIKE = 0.02
"""Of the tolerance: slopes of both sides of a point that differ by less are one slope."""
NEAR = 2e-6
"""Of the whole span: a corner that lies no farther from a station stands there."""
FLAT = 1e-9
"""Of the whole rise: a fall smaller than this is rounding."""


@dataclass(frozen=True)
class Hermite:
    """Points in rising order with values and slopes, and the largest error met between them."""

    x: Reals
    y: Reals
    slope: Reals
    error: float

    def __call__(self, x: Reals) -> Reals:
        """The table read at x; beyond its ends it keeps the values there."""
        held = np.clip(x, self.x[0], self.x[-1])
        at = np.clip(np.searchsorted(self.x, held, side="right") - 1, 0, len(self.x) - 2)
        return cubic(held, self.x[at], self.x[at + 1], self.y[at], self.y[at + 1], self.slope[at], self.slope[at + 1])

    def solve(self, y: float) -> float:
        """The lowest x at which the table reads y; beyond its ends the nearer end."""
        way = 1.0 if self.y[-1] > self.y[0] else -1.0
        if way * (y - self.y[0]) <= 0.0:
            return float(self.x[0])
        if way * (y - self.y[-1]) > 0.0:
            return float(self.x[-1])
        above = int(np.searchsorted(way * self.y, way * y, side="left"))
        low, high = float(self.x[above - 1]), float(self.x[above])
        while low < (middle := 0.5 * (low + high)) < high:
            if way * (float(self(np.array(middle))) - y) < 0.0:
                low = middle
            else:
                high = middle
        return high


def cubic(
    x: Reals, left: Reals, right: Reals, at_left: Reals, at_right: Reals, slope_left: Real, slope_right: Real
) -> Reals:
    """The cubic with these values and slopes at both ends."""
    wide = right - left
    t = (x - left) / wide
    rest = 1.0 - t
    value: Reals = (
        at_left * (1.0 + 2.0 * t) * rest * rest
        + at_right * (3.0 - 2.0 * t) * t * t
        + wide * t * rest * (slope_left * rest - slope_right * t)
    )
    return value


def sample_points(stations: Reals) -> Reals:
    """Where the function must be known: one row for each gap between two stations."""
    left, right = stations[:-1, None], stations[1:, None]
    points: Reals = left + (right - left) * SHARES
    points[:, -1] = stations[1:]
    return points


def fit_hermite(points: Reals, values: Reals, corners: Reals, tolerance: float, most: int) -> Hermite | None:
    """The shortest table within the tolerance, of `most` points at the most; None where the function is not monotone.

    `points` as `sample_points` gives them, `values` of the same shape; at `corners` the slope may jump.
    """
    rise = float(values[-1, -1] - values[0, 0])
    way = 1.0 if rise > 0.0 else -1.0
    if not np.isfinite(values).all() or rise == 0.0 or np.diff(way * values.ravel()).min() < -FLAT * abs(rise):
        return None
    return _Fit(points, way * values, tolerance).table(corners, most, way)


class _Fit:
    """A rising function, sampled; spans of gaps (first, end) are put together to pieces of the table."""

    def __init__(self, points: Reals, values: Reals, tolerance: float) -> None:
        self.points, self.tolerance = points, tolerance
        self.values = np.maximum.accumulate(values.ravel()).reshape(values.shape)
        step = 2.0 * _STEP * (points[:, -1] - points[:, 0])
        v = self.values
        self.begins = (-3.0 * v[:, 0] + 4.0 * v[:, 1] - v[:, 2]) / step
        self.ends = (3.0 * v[:, -1] - 4.0 * v[:, -2] + v[:, -3]) / step

    def slopes(self, first: int, end: int) -> tuple[float, float]:
        """Slopes at both ends of a span, held where the cubic cannot turn."""
        chord = (self.values[end - 1, -1] - self.values[first, 0]) / (self.points[end - 1, -1] - self.points[first, 0])
        most = STEEPEST * float(chord)
        return min(max(0.0, float(self.begins[first])), most), min(max(0.0, float(self.ends[end - 1])), most)

    def errors(self, first: int, end: int) -> Reals:
        """Error of one cubic over a span, at all its points."""
        x, y = self.points[first:end], self.values[first:end]
        low, high = self.slopes(first, end)
        found: Reals = np.abs(cubic(x, x[0, 0], x[-1, -1], y[0, 0], y[-1, -1], low, high) - y)
        return found

    def rated(self, first: int, end: int) -> tuple[float, int, int, int]:
        """A span with its error (the largest comes first out of a heap), and the station to cut it at."""
        errors = self.errors(first, end)
        row, column = divmod(int(errors.argmax()), errors.shape[1])
        cut = first + row + (1 if SHARES[column] > 0.5 else 0)
        return -float(errors.max()), first, end, min(max(cut, first + 1), end - 1)

    def spans(self, corners: Reals, most: int) -> list[tuple[int, int]]:
        """The span of every piece, in rising order; one where the function is as good as a cubic throughout."""
        whole_way = self.rated(0, len(self.points))
        if -whole_way[0] <= self.tolerance:
            return [(0, len(self.points))]
        starts = self.points[:, 0]
        stations = np.append(starts, self.points[-1, -1])
        nearest = np.abs(stations[:, None] - corners).argmin(axis=0)
        near = np.abs(stations[nearest] - corners) <= NEAR * (stations[-1] - stations[0])
        inner = np.unique(nearest[near & (nearest > 0) & (nearest < len(starts))])
        cuts = [0, *(inner.tolist() if len(inner) < most // 4 else ()), len(starts)]
        heap = [self.rated(first, end) for first, end in pairwise(cuts)] if inner.size else [whole_way]
        heapify(heap)
        whole: list[tuple[int, int]] = []
        while heap and len(heap) + len(whole) < most // 2 and -heap[0][0] > self.tolerance:
            _, first, end, cut = heappop(heap)
            if end - first == 1:
                whole.append((first, end))
                continue
            heappush(heap, self.rated(first, cut))
            heappush(heap, self.rated(cut, end))
        return sorted([*whole, *((first, end) for _, first, end, _ in heap)])

    def table(self, corners: Reals, most: int, way: float) -> Hermite:
        """The table with the largest error met at the points."""
        rows: list[tuple[float, float, float]] = []
        spans = self.spans(corners, most)
        begins = []
        for first, end in spans:
            low, high = self.slopes(first, end)
            left, right = float(self.points[first, 0]), float(self.points[end - 1, -1])
            if rows and abs(rows[-1][2] - low) * (right - left) < ALIKE * self.tolerance:
                rows[-1] = (*rows[-1][:2], min(rows[-1][2], low))
            else:
                rows.append((left, float(self.values[first, 0]), low))
            begins.append(len(rows) - 1)
            rows.append((right, float(self.values[end - 1, -1]), high))
        x, y, slope = np.array(rows).T
        at = np.repeat(begins, [end - first for first, end in spans])[:, None]
        made = cubic(self.points, x[at], x[at + 1], y[at], y[at + 1], slope[at], slope[at + 1])
        return Hermite(x, way * y, way * slope, float(np.abs(made - self.values).max()))
