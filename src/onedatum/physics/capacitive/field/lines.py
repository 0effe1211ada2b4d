"""Lines of a mesh along one axis: through every given point, their spacing as a function of place."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from onedatum.foundation.numerics import Reals

_EVEN, _NEAR = 400, 120


def graded_lines(
    points: Reals, size: Callable[[Reals], Reals], specials: Sequence[tuple[float, float]], more: Reals | None = None
) -> Reals:
    """Lines through all points, as many between two as the size asks for, each to its share.

    `points` ascending; `specials` are places with the size wanted there, near which the size is sampled closely;
    `more` are further places at which it is looked at.
    """
    places = _samples(points if more is None else np.concatenate([points, more]), specials)
    density = 1.0 / size(places)
    steps = 0.5 * (density[1:] + density[:-1]) * np.diff(places)
    count = np.concatenate([[0.0], np.cumsum(steps)])
    at_points = np.interp(points, places, count)
    wanted = np.maximum(np.ceil(np.diff(at_points) - 1e-6), 1.0).astype(int)
    parts = [
        np.interp(low + (high - low) * np.arange(number) / number, count, places)
        for low, high, number in zip(at_points[:-1], at_points[1:], wanted, strict=True)
    ]
    for part, point in zip(parts, points[:-1], strict=True):
        part[0] = point
    return np.concatenate([*parts, points[-1:]])


def _samples(points: Reals, specials: Sequence[tuple[float, float]]) -> Reals:
    low, high = np.min(points), np.max(points)
    near = [
        place + sign * np.geomspace(0.05 * size, max(high - low, size), _NEAR)
        for place, size in specials
        for sign in (-1.0, 1.0)
    ]
    found = np.unique(np.concatenate([points, np.linspace(low, high, _EVEN), *near]))
    return found[(found >= low) & (found <= high)]


def joined(first: Reals, more: Reals, apart: float) -> Reals:
    """All points in order; of `more` only those farther than `apart` from those already there."""
    found = np.unique(first)
    for point in np.unique(more):
        if np.min(np.abs(found - point)) > apart:
            found = np.append(found, point)
    return np.sort(found)
