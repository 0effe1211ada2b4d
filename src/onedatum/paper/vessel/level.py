"""The sign of the liquid surface: an open triangle standing on the line of the level."""

from collections.abc import Sequence

from onedatum.paper.vessel.boxes import Corners, hits, upright
from onedatum.paper.vessel.model import Point, Segment

HALF_PX, TALL_PX, AIR_PX = 4.5, 7.5, 2.5
RIPPLES = ((3.0, 4.5), (5.6, 2.2))
"""The two short lines under the surface: how deep, and half as long."""
SHARES = (0.12, 0.88, 0.2, 0.8, 0.3, 0.7, 0.4, 0.6)


def level_sign(surfaces: Sequence[Segment], taken: Sequence[Corners]) -> Point | None:
    """A point of the longest surface on which the sign has room; None if there is none."""
    if not surfaces:
        return None
    (left, y), (right, _) = max(surfaces, key=lambda s: s[1][0] - s[0][0])
    for share in SHARES:
        x = left + share * (right - left)
        box = upright(x - HALF_PX - AIR_PX, y - TALL_PX - AIR_PX, x + HALF_PX + AIR_PX, y + RIPPLES[-1][0] + AIR_PX)
        if not hits(box, taken):
            return x, y
    return None


def triangle(at: Point) -> Corners:
    """The triangle with its tip on the surface."""
    x, y = at
    return (x, y), (x + HALF_PX, y - TALL_PX), (x - HALF_PX, y - TALL_PX)


def ripples(at: Point) -> list[Segment]:
    """The two short lines under it."""
    x, y = at
    return [((x - half, y + deep), (x + half, y + deep)) for deep, half in RIPPLES]
