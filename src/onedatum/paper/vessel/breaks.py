"""Long break lines: which lengths of a long lying vessel are left out, so that its ends and fittings can be seen.

Only lengths along the sheet are left out, never heights: a height is the same on both sides of a break.
"""

from collections.abc import Iterable
from itertools import pairwise
from typing import NamedTuple

from onedatum.paper.vessel.model import Polygon, Segment
from onedatum.paper.vessel.polygon import Extent, clipped, cut, extent, thickness

LONGEST, KEPT, AROUND, GAP = 12.0, 8.0, 0.75, 0.3
"""In thicknesses: length from which a vessel is broken, length kept, length kept at each fitting, width of a gap."""
STEEPEST = 0.35
"""Greatest rise of a vessel over its length at which a break still shows it as it is."""


class Figure(NamedTuple):
    """A figure to be drawn: one piece, or those between breaks, and the x at which pieces end at a break."""

    pieces: tuple[Polygon, ...]
    cuts: tuple[float, ...]

    @property
    def points(self) -> Polygon:
        """All points of all pieces."""
        return tuple(p for piece in self.pieces for p in piece)

    @property
    def around(self) -> Extent:
        """The rectangle about the figure."""
        return extent(self.points)

    @property
    def thickness_m(self) -> float:
        """How thick the thinnest piece is."""
        return min(thickness(piece) for piece in self.pieces)


class Breaks(NamedTuple):
    """The lengths left out, each from x to x, and the gap each leaves."""

    spans: tuple[tuple[float, float], ...]
    gap_m: float

    def moved(self, x_m: float) -> float:
        """Where an x stands once the lengths before it are left out."""
        return x_m - sum(min(max(x_m - a, 0.0), b - a) * (1 - self.gap_m / (b - a)) for a, b in self.spans)

    def strips(self) -> list[tuple[float, float]]:
        """The lengths that are kept, from x to x."""
        ends = [-float("inf"), *(x for span in self.spans for x in span), float("inf")]
        return list(zip(ends[::2], ends[1::2], strict=True))

    def cuts(self) -> tuple[float, ...]:
        """Where the breaks stand once moved together, both sides of each."""
        return tuple(self.moved(x) for span in self.spans for x in span)

    def pieces(self, polygon: Polygon) -> tuple[Polygon, ...]:
        """What is kept of a figure, moved together."""
        kept = (cut(cut(polygon, 0, left, False), 0, right, True) for left, right in self.strips())
        return tuple(tuple((self.moved(x), z) for x, z in piece) for piece in kept if piece)

    def figure(self, polygon: Polygon) -> Figure:
        """A figure with its lengths left out."""
        return Figure(self.pieces(polygon), self.cuts())

    def lines(self, segment: Segment) -> tuple[Segment, ...]:
        """What is kept of a line, moved together."""
        kept = (clipped(segment, left, right) for left, right in self.strips())
        return tuple(((self.moved(a[0]), a[1]), (self.moved(b[0]), b[1])) for a, b in (s for s in kept if s))

    def between(self, a_m: float, b_m: float) -> bool:
        """Whether a length is left out between two x."""
        return any(min(a_m, b_m) < right and max(a_m, b_m) > left for left, right in self.spans)


UNBROKEN = Breaks((), 0.0)


def breaks_of(contour: Polygon, fittings: Iterable[float]) -> Breaks:
    """The longest stretches without fittings, shortened evenly until the vessel is short enough; none if it is."""
    around, thick = extent(contour), thickness(contour)
    if thick <= 0 or around.wide <= LONGEST * thick or around.tall > STEEPEST * around.wide:
        return UNBROKEN
    stations = sorted({around.left, around.right, *(x for x in fittings if around.left < x < around.right)})
    lengths = [b - a for a, b in pairwise(stations)]
    longest = max(shortened(lengths, KEPT * thick), 2 * AROUND * thick)
    spans = tuple(
        ((a + b - (b - a - longest)) / 2, (a + b + (b - a - longest)) / 2)
        for a, b in pairwise(stations)
        if b - a > longest + 2 * GAP * thick
    )
    return Breaks(spans, GAP * thick)


def shortened(lengths: list[float], total: float) -> float:
    """The length to which all longer ones are shortened so that their sum becomes the total."""
    left = total
    for i, length in enumerate(sorted(lengths)):
        share = left / (len(lengths) - i)
        if length >= share:
            return share
        left -= length
    return max(lengths)
