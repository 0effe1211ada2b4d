"""Reading a scale's table both ways: value at a height, height of a value."""

from bisect import bisect_left
from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.paper.model import Scale
from onedatum.paper.numbers import Numbers


def usable(scale: Scale) -> bool:
    """Whether the table can be drawn: two points or more, finite, heights rising, values monotone and not all alike."""
    return scale.unknown is None and _drawable(scale.heights_m, scale.values)


@lru_cache(maxsize=256)
def _drawable(heights: tuple[float, ...], values: tuple[float, ...]) -> bool:
    if len(heights) < 2 or len(heights) != len(values):
        return False
    at, read = Numbers.of(heights).array, Numbers.of(values).array
    if not (np.isfinite(at).all() and np.isfinite(read).all()) or values[0] == values[-1]:
        return False
    way = 1.0 if values[-1] > values[0] else -1.0
    return bool((at[1:] > at[:-1]).all() and (way * read[1:] >= way * read[:-1]).all())


def value_at(scale: Scale, height_m: float) -> float | None:
    """Value at a height, or None outside the table or above the end of the scale."""
    if not usable(scale) or not scale.heights_m[0] <= height_m <= scale.heights_m[-1] or above_stop(scale, height_m):
        return None
    return interpolate(height_m, scale.heights_m, scale.values)


def above_stop(scale: Scale, height_m: float) -> bool:
    """Whether a height lies above the end of the scale (a micrometre of slack)."""
    return scale.stops_at is not None and height_m > scale.stops_at.height_m + 1e-6


def heights_of(scale: Scale, values: Reals) -> Reals:
    """Heights at which the scale shows values; the lowest such height where the table is flat."""
    way = 1.0 if scale.values[-1] > scale.values[0] else -1.0
    return interpolated(way * values, way * Numbers.of(scale.values).array, Numbers.of(scale.heights_m).array)


def interpolate(x: float, xs: Sequence[float], ys: Sequence[float]) -> float:
    """Straight line between neighbours; the end values outside."""
    i = min(max(bisect_left(xs, x), 1), len(xs) - 1)
    x0, x1, y0, y1 = xs[i - 1], xs[i], ys[i - 1], ys[i]
    share = min(max((x - x0) / (x1 - x0), 0.0), 1.0) if x1 > x0 else 0.0
    return y0 + (y1 - y0) * share


def interpolated(x: Reals, xs: Reals, ys: Reals) -> Reals:
    """The same at many places."""
    i = np.clip(np.searchsorted(xs, x), 1, len(xs) - 1)
    x0, wide = xs[i - 1], xs[i] - xs[i - 1]
    share = np.clip(np.divide(x - x0, wide, out=np.zeros(len(x)), where=wide > 0.0), 0.0, 1.0)
    found: Reals = ys[i - 1] + (ys[i] - ys[i - 1]) * share
    return found
