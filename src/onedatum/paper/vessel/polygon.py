"""Plane figures: what lies below a height, where a wall is met, how thick a figure is."""

from collections.abc import Iterable, Iterator
from itertools import pairwise
from math import hypot, isfinite
from typing import NamedTuple

from onedatum.paper.vessel.model import Point, Polygon, Segment

FARTHEST_M = 1e6


class Extent(NamedTuple):
    """The upright rectangle about some points."""

    left: float
    right: float
    low: float
    high: float

    @property
    def wide(self) -> float:
        """Length of the lower side."""
        return self.right - self.left

    @property
    def tall(self) -> float:
        """Length of the upright side."""
        return self.high - self.low


def on_earth(*values: float) -> bool:
    """Whether all values are lengths that a vessel can have."""
    return all(isfinite(v) and abs(v) <= FARTHEST_M for v in values)


def extent(points: Iterable[Point]) -> Extent:
    """The rectangle about points; nothing about none."""
    known = list(points) or [(0.0, 0.0)]
    xs, zs = [x for x, _ in known], [z for _, z in known]
    return Extent(min(xs), max(xs), min(zs), max(zs))


def edges(polygon: Polygon) -> Iterator[Segment]:
    """The sides of a closed polygon."""
    if polygon:
        yield from pairwise((*polygon, polygon[0]))


def clean(polygon: Polygon) -> Polygon:
    """The points that can be drawn, without those that no eye could tell from the one before."""
    known = tuple(p for p in polygon if on_earth(*p))
    around = extent(known)
    least = 6e-4 * max(around.wide, around.tall)
    kept: list[Point] = []
    for point in known:
        if not kept or hypot(point[0] - kept[-1][0], point[1] - kept[-1][1]) > least:
            kept.append(point)
    return tuple(kept) if len(kept) > 2 else ()


def thickness(polygon: Polygon) -> float:
    """Area over half the girth: the width of a long figure, the radius of a round one."""
    area = abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in edges(polygon))) / 2
    girth = sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in edges(polygon))
    return 2 * area / girth if girth > 0 else 0.0


def cut(polygon: Polygon, along: int, limit: float, below: bool) -> Polygon:
    """The part of a polygon on one side of an upright (along 0) or level (along 1) line, by Sutherland and Hodgman."""
    sign = 1.0 if below else -1.0
    kept: list[Point] = []
    for a, b in edges(polygon):
        inside_a, inside_b = sign * (limit - a[along]) >= 0, sign * (limit - b[along]) >= 0
        if inside_a:
            kept.append(a)
        if inside_a != inside_b:
            other = between(a, b, (limit - a[along]) / (b[along] - a[along]))[1 - along]
            kept.append((limit, other) if along == 0 else (other, limit))
    return tuple(kept) if len(kept) > 2 else ()


def between(a: Point, b: Point, share: float) -> Point:
    """The point at a share of the way from a to b."""
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share


def crossings(polygon: Polygon, value: float, along: int = 1) -> list[float]:
    """Where the wall is met at a height, from the left; with along 0 the heights at which it is met at an x."""
    return sorted(
        between(a, b, (value - a[along]) / (b[along] - a[along]))[1 - along]
        for a, b in edges(polygon)
        if (a[along] <= value) != (b[along] <= value)
    )


def top_at(polygons: Iterable[Polygon], x: float, otherwise: float) -> float:
    """The highest wall over an x."""
    return max((z for polygon in polygons for z in crossings(polygon, x, 0)), default=otherwise)


def clipped(segment: Segment, low: float, high: float) -> Segment | None:
    """The part of a line between two x, or None."""
    (xa, _), (xb, _) = segment
    if max(xa, xb) < low or min(xa, xb) > high:
        return None
    if xa == xb:
        return segment
    shares = sorted(min(max((x - xa) / (xb - xa), 0.0), 1.0) for x in (low, high))
    return between(*segment, shares[0]), between(*segment, shares[1])
