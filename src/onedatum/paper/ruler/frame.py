"""The one height axis that vessel, marks and every scale share."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from math import isfinite

from onedatum.paper.model import Ruler

HEAD_PX = 44.0
FOOT_PX = 20.0
ABOVE, BELOW = 0.019, 0.016
FARTHEST_M = 1e6


@dataclass(frozen=True)
class Frame:
    """Heights from `low_m` to `high_m` on the px from `bottom_px` up to `top_px`."""

    low_m: float
    high_m: float
    top_px: float
    bottom_px: float

    @cached_property
    def px_per_m(self) -> float:
        """Scale of the drawing, the same both ways."""
        return (self.bottom_px - self.top_px) / (self.high_m - self.low_m)

    def y(self, height_m: float) -> float:
        """Where a height lies on the sheet; heights outside lie on the edge."""
        return self.top_px + (self.high_m - self.held(height_m)) * self.px_per_m

    def held(self, height_m: float) -> float:
        """A height held inside the frame; what is no number lies at its foot."""
        return min(max(height_m, self.low_m), self.high_m) if isfinite(height_m) else self.low_m

    def shows(self, height_m: float) -> bool:
        """Whether a height lies inside."""
        return self.low_m <= height_m <= self.high_m


def frame_of(ruler: Ruler, height_px: float) -> Frame | None:
    """The frame that holds vessel, nozzle and stem, and marks not far outside; None if there is no height to draw."""
    body = list(finite(body_heights(ruler))) or list(finite(loose_heights(ruler)))
    if not body or not isfinite(height_px) or height_px <= HEAD_PX + FOOT_PX + 100:
        return None
    low, high = min(body), max(body)
    near = (high - low) / 2
    marks = [h for h in finite(m.height_m for m in ruler.marks) if low - near <= h <= high + near]
    low, high = min([low, *marks]), max([high, *marks])
    span = high - low
    if not isfinite(span) or span <= 1e-6:
        return None
    return Frame(low - BELOW * span, high + ABOVE * span, HEAD_PX, height_px - FOOT_PX)


def body_heights(ruler: Ruler) -> Iterable[float]:
    """Heights of what is drawn true to scale."""
    yield from (h for r, h in ruler.outline if isfinite(r))
    if ruler.outline and ruler.nozzle:
        yield from (ruler.nozzle.foot_m, ruler.nozzle.face_m)
    if ruler.outline and ruler.stem:
        yield from (ruler.stem.tip_m, ruler.stem.face_m)


def loose_heights(ruler: Ruler) -> Iterable[float]:
    """Heights to fall back on where the vessel is not known."""
    yield from (m.height_m for m in ruler.marks)
    yield from (h for s in ruler.scales for h in s.heights_m)
    yield from () if ruler.level_m is None else (ruler.level_m,)


def finite(values: Iterable[float]) -> Iterable[float]:
    """The values that are heights on earth."""
    return (v for v in values if abs(v) <= FARTHEST_M)
