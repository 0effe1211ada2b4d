"""The levelling sign of the datum: a triangle with its tip on the height, and the word, where nothing is in the way."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from onedatum.paper.ruler.look import Look
from onedatum.paper.ruler.svg import Style, text_width
from onedatum.paper.vessel.boxes import Corners, hit, hits, upright
from onedatum.paper.vessel.model import Point, Segment

WORD = "datum"
HALF_PX, TALL_PX, GAP_PX, SHIFT_PX = 5.0, 8.5, 4.0, 22.0
MOST_SHIFTS = 16


@dataclass(frozen=True, slots=True)
class Sign:
    """The sign in its place: tip, three corners, the line at its height, and the word."""

    triangle: Corners
    line: Segment
    word_at: Point
    taken: Corners
    """Triangle and word."""


def sign_at(point: Point, taken: Sequence[Corners], look: Look) -> Sign:
    """The sign below its height, else above, moved along it if need be; where all is taken, where least is."""
    free = next((s for s in signs(point, look) if not hits(s.taken, taken)), None)
    return free or min(signs(point, look), key=lambda s: sum(hit(s.taken, other) for other in taken))


def signs(point: Point, look: Look) -> Iterator[Sign]:
    """All places of the sign, the best first."""
    wide = text_width(WORD, Style(look.tick_size, look.ink))
    for shift in (0.0, *(way * n * SHIFT_PX for n in range(1, MOST_SHIFTS) for way in (1, -1))):
        for down in (1.0, -1.0):
            for side in (1.0, -1.0):
                yield sign(point, shift, down, side, wide, look)


def sign(point: Point, shift: float, down: float, side: float, wide: float, look: Look) -> Sign:
    """One place: `shift` along the height, `down` 1 below it and -1 above, the word on the given side."""
    x, y = point[0] + shift, point[1]
    foot = y + down * TALL_PX
    triangle = ((x, y), (x + HALF_PX, foot), (x - HALF_PX, foot))
    start = x + side * (HALF_PX + GAP_PX)
    left = start if side > 0 else start - wide
    base = y + 0.72 * look.tick_size + 2.5 if down > 0 else y - 3.0
    ends = [point[0], x - side * (HALF_PX + 3), start + side * wide]
    box = upright(
        min(left, x - HALF_PX) - 1,
        min(y + down * 1.2, foot, base - 0.74 * look.tick_size),
        max(left + wide, x + HALF_PX) + 1,
        max(y + down * 1.2, foot, base + 0.2 * look.tick_size),
    )
    return Sign(triangle, ((min(ends), y), (max(ends), y)), (left, base), box)
