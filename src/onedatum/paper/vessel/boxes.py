"""Whether two things on the sheet are in each other's way: upright or turned boxes, and lines."""

from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import pairwise

from onedatum.paper.vessel.model import Point

Corners = tuple[Point, ...]


def upright(left: float, top: float, right: float, bottom: float) -> Corners:
    """A box with its sides along the sheet."""
    return (left, top), (right, top), (right, bottom), (left, bottom)


def turned(along: Point, across: Point, reach: tuple[float, float], depth: tuple[float, float]) -> Corners:
    """A box given by its reach along one direction and its depth along the direction square to it."""
    return tuple(
        (along[0] * t + across[0] * s, along[1] * t + across[1] * s)
        for t, s in ((reach[0], depth[0]), (reach[1], depth[0]), (reach[1], depth[1]), (reach[0], depth[1]))
    )


def hit(a: Corners, b: Corners) -> bool:
    """Whether two convex shapes (two corners are a line) share more than their edge, by separating axes."""
    left, top, right, foot = around(a)
    other_left, other_top, other_right, other_foot = around(b)
    if right <= other_left or other_right <= left or foot <= other_top or other_foot <= top:
        return False
    for shape in (a, b):
        for axis in axes(shape):
            if apart(a, b, axis):
                return False
    return True


@lru_cache(maxsize=4096)
def around(shape: Corners) -> tuple[float, float, float, float]:
    """Left, top, right and foot of a shape; most are looked at many times."""
    xs, ys = [x for x, _ in shape], [y for _, y in shape]
    return min(xs), min(ys), max(xs), max(ys)


def hits(shape: Corners, others: Iterable[Corners]) -> bool:
    """Whether a shape is in the way of any other."""
    return any(hit(shape, other) for other in others)


def axes(shape: Corners) -> Iterator[Point]:
    """The directions along and square to the sides."""
    for (xa, ya), (xb, yb) in pairwise(shape):
        yield ya - yb, xb - xa
        if len(shape) == 2:
            yield xb - xa, yb - ya


def apart(a: Corners, b: Corners, axis: Point) -> bool:
    """Whether the shadows of two shapes on an axis do not overlap."""
    on_a = [x * axis[0] + y * axis[1] for x, y in a]
    on_b = [x * axis[0] + y * axis[1] for x, y in b]
    return max(on_a) <= min(on_b) or max(on_b) <= min(on_a)
