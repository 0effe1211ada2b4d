"""From metres to the sheet: one scale, the same both ways, and one height for every view."""

from collections.abc import Iterable
from typing import NamedTuple

from onedatum.paper.vessel.boxes import Corners
from onedatum.paper.vessel.model import Point


class Camera(NamedTuple):
    """Scale, and where x = 0 and the height 0 lie on the sheet."""

    px_per_m: float
    left_px: float = 0.0
    datum_px: float = 0.0

    def x(self, x_m: float) -> float:
        """Where an x lies."""
        return self.left_px + x_m * self.px_per_m

    def y(self, z_m: float) -> float:
        """Where a height lies."""
        return self.datum_px - z_m * self.px_per_m

    def at(self, point: Point) -> Point:
        """Where a point lies."""
        return self.x(point[0]), self.y(point[1])

    def all(self, points: Iterable[Point]) -> Corners:
        """Where points lie."""
        return tuple(self.at(p) for p in points)


class Bounds(NamedTuple):
    """The part of the sheet that something takes."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def wide(self) -> float:
        """Its width."""
        return self.right - self.left

    @property
    def high(self) -> float:
        """Its height."""
        return self.bottom - self.top


def bounds(shapes: Iterable[Corners]) -> Bounds:
    """What shapes take together; there must be one."""
    points = [p for shape in shapes for p in shape]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return Bounds(min(xs), min(ys), max(xs), max(ys))
