"""Dimension lines: outside the vessel, parallel to what they measure, stacked outward, words clear of all lines."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain
from math import atan2, degrees, hypot
from typing import NamedTuple

from onedatum.paper.ruler.look import Look
from onedatum.paper.ruler.svg import Style, fit, text_width
from onedatum.paper.vessel.boxes import Corners, axes, hit, hits, turned
from onedatum.paper.vessel.camera import Camera
from onedatum.paper.vessel.model import Point, Segment, Side
from onedatum.paper.vessel.shown import Measure

ARROW_PX, TAIL_PX, AIR_PX, BEYOND_PX = 7.0, 11.0, 3.0, 4.0
FIRST_PX, ROW_PX, WORDS_PX = 20.0, 3.0, 3.5
SHARES = (0.0, *(way * share / 4 for share in range(1, 5) for way in (-1, 1)))
"""How far words are moved along their line, as a share of the room there is."""
STEEP = 0.17
"""Run over length below which words read upwards, whichever way the line leans."""
MOST_ROWS, LONGEST_WORDS_PX, FAR_PX = 36, 240.0, 20_000.0

Reach = tuple[float, float]
"""From and to along one direction."""

WANTED: dict[Side, Point] = {"above": (0.0, -1.0), "below": (0.0, 1.0), "left": (-1.0, 0.0), "right": (1.0, 0.0)}


@dataclass(frozen=True, slots=True)
class Drawn:
    """A dimension in its place; `taken` is what nothing else may cover, `words` the box of its words."""

    line: Segment
    arrows: tuple[Segment, Segment]
    """Each from its tip against the way it points."""
    extensions: tuple[Segment, Segment]
    text: str
    text_at: Point
    angle_deg: float
    taken: Corners
    words: Corners


class Slot(NamedTuple):
    """Where along its line the words of a dimension could stand, how long the line then is, where its arrows are."""

    middle: float
    start: float
    end: float
    arrows_outside: bool


@dataclass(frozen=True, slots=True)
class Draft:
    """A dimension that has its direction but no place yet; distances along the line and outward from the origin."""

    text: str
    wide: float
    along: Point
    up: Point
    out: Point
    start: float
    end: float
    clear: float
    """How far out the vessel reaches."""
    feet: tuple[Point, Point]
    """Where the extension lines leave the vessel."""

    @property
    def words_inward(self) -> bool:
        """Whether the words stand between line and vessel: words are always over their line."""
        return dot(self.up, self.out) < 0

    @property
    def rise(self) -> float:
        """1 where the words stand outward of the line, -1 where they stand inward."""
        return -1.0 if self.words_inward else 1.0

    def point(self, t: float, s: float) -> Point:
        """The point at a distance along the line and outward."""
        return self.along[0] * t + self.out[0] * s, self.along[1] * t + self.out[1] * s


class Outline(NamedTuple):
    """What is measured: dimensions stand outside its hull, extension lines begin where they leave its edges."""

    hull: Corners
    edges: Sequence[Segment]


def drafts_of(measures: Iterable[Measure], camera: Camera, outline: Outline, look: Look) -> list[Draft]:
    """All dimensions that have a length, the short ones first: they stand nearest to the vessel."""
    drafts = (draft(m, camera, outline, look) for m in measures)
    return sorted((d for d in drafts if d is not None), key=lambda d: d.end - d.start)


def rays_of(drafts: Iterable[Draft]) -> list[Corners]:
    """The ways that extension lines will take, as far as they could go."""
    return [(foot, (foot[0] + d.out[0] * FAR_PX, foot[1] + d.out[1] * FAR_PX)) for d in drafts for foot in d.feet]


def draw_up(
    drafts: Sequence[Draft],
    taken: Sequence[Corners],
    lines: Sequence[Corners],
    look: Look,
    shy_of: Sequence[Corners] = (),
) -> list[Drawn]:
    """All dimensions placed, clear of what is taken and their words clear of lines; what finds no place is left out.

    The short ones stand nearest to the vessel. Where that leaves one without a place, the long ones do, or a
    dimension line may cross what it is shy of, though its words may not, whichever helps more.
    """
    ways = (
        (drafts, [*taken, *shy_of], lines),
        (drafts[::-1], [*taken, *shy_of], lines),
        (drafts, taken, [*lines, *shy_of]),
    )
    best: list[Drawn] = []
    for order, boxes, barred in ways:
        found = stacked(order, boxes, barred, look)
        best = found if len(found) > len(best) else best
        if len(best) == len(drafts):
            break
    return best


def stacked(drafts: Sequence[Draft], taken: Sequence[Corners], lines: Sequence[Corners], look: Look) -> list[Drawn]:
    """Dimensions placed in order; what finds no place clear of those to come gets one after all others."""
    placed: list[Drawn] = []
    late: list[Draft] = []
    for i, item in enumerate(drafts):
        found = place(item, placed, taken, [*lines, *rays_of([item, *drafts[i + 1 :], *late])], look)
        if found is None:
            late.append(item)
        else:
            placed.append(found)
    for item in late:
        found = place(item, placed, taken, [*lines, *rays_of([item])], look)
        placed += [] if found is None else [found]
    return placed


def outward(measure: Measure, camera: Camera) -> tuple[Point, Point, Point] | None:
    """Direction along the line (words read along it), up over the words, and out of the vessel."""
    (xa, ya), (xb, yb) = camera.at(measure.start_m), camera.at(measure.end_m)
    wide, high = xb - xa, 0.0 if measure.level else yb - ya
    size = hypot(wide, high)
    if size < 0.5:
        return None
    upright = abs(wide) < STEEP * size
    sign = -1.0 if (high > 0 if upright else wide < 0) else 1.0
    along = (sign * wide / size + 0.0, sign * high / size + 0.0)
    up = (along[1], -along[0])
    lean = dot(up, WANTED[measure.side])
    return along, up, up if lean > -1e-6 else (-up[0], -up[1])


def draft(measure: Measure, camera: Camera, outline: Outline, look: Look) -> Draft | None:
    """A dimension with its directions, its ends, and how far out it must stand."""
    ways = outward(measure, camera)
    style = Style(look.tick_size, look.ink)
    text = fit(measure.text, style, LONGEST_WORDS_PX)
    if ways is None:
        return None
    along, up, out = ways
    a, b = sorted((camera.at(measure.start_m), camera.at(measure.end_m)), key=lambda p: dot(p, along))
    clear = max(dot(p, out) for p in (a, b, *outline.hull))
    feet = leave(a, out, outline.edges), leave(b, out, outline.edges)
    return Draft(text, text_width(text, style), along, up, out, dot(a, along), dot(b, along), clear, feet)


def dot(a: Point, b: Point) -> float:
    """Product of two directions."""
    return a[0] * b[0] + a[1] * b[1]


def leave(start: Point, out: Point, edges: Sequence[Segment]) -> Point:
    """Where the way out through a point leaves the outlines for good; the point itself where it meets none."""
    found: list[float] = []
    for (xa, ya), (xb, yb) in edges:
        ex, ey = xb - xa, yb - ya
        cross = out[0] * ey - out[1] * ex
        if abs(cross) < 1e-9:
            continue
        dx, dy = xa - start[0], ya - start[1]
        if -1e-6 <= (dx * out[1] - dy * out[0]) / cross <= 1 + 1e-6:
            found.append((dx * ey - dy * ex) / cross)
    farthest = max(found, default=0.0)
    return start[0] + out[0] * farthest, start[1] + out[1] * farthest


def place(
    item: Draft, placed: Sequence[Drawn], taken: Sequence[Corners], lines: Sequence[Corners], look: Look
) -> Drawn | None:
    """The place nearest to the vessel at which nothing is in the way, neither of the dimension nor of its words."""
    first = item.clear + FIRST_PX + (look.tick_size * 0.5 if item.words_inward else 0.0)
    swept = sweep(item, first, look)
    boxes = barriers(item, swept, (*taken, *(done.taken for done in placed)))
    barred = barriers(item, swept, (*lines, *(way for done in placed for way in done.extensions)))
    stalls = tuple(slots(item))
    for row in range(MOST_ROWS):
        out = first + row * ROW_PX
        ways = extensions_at(item, out)
        if any(hits(done.words, ways) for done in placed):
            continue
        deep, tall = taken_depth(item, out, look), words_depth(item, out, look)
        for slot in stalls:
            covers = in_the_way(taken_reach(slot), deep, boxes)
            if not covers and not in_the_way(words_reach(item, slot), tall, barred):
                return drawn_at(item, slot, out, look)
    return None


class Square(NamedTuple):
    """A direction square to a side of a shape: what it has of the line and of outward, and the shape's reach on it."""

    line: float
    out: float
    low: float
    high: float


class Barrier(NamedTuple):
    """What could be in the way of a dimension: its reach along the line, outward, and on the axes of its sides."""

    along: Reach
    outward: Reach
    sides: tuple[Square, ...]


def barriers(item: Draft, swept: Corners, shapes: Iterable[Corners]) -> list[Barrier]:
    """The shapes within the sweep, each measured once for all places that are tried."""
    return [
        Barrier(
            shadow(shape, item.along),
            shadow(shape, item.out),
            tuple(Square(dot(axis, item.along), dot(axis, item.out), *shadow(shape, axis)) for axis in axes(shape)),
        )
        for shape in shapes
        if hit(swept, shape)
    ]


def shadow(shape: Corners, axis: Point) -> Reach:
    """From and to of a shape along a direction."""
    found = [dot(corner, axis) for corner in shape]
    return min(found), max(found)


def in_the_way(reach: Reach, depth: Reach, others: Iterable[Barrier]) -> bool:
    """Whether any of them hits a box in this place, by separating axes."""
    (left, right), (near, far) = reach, depth
    for other in others:
        if other.along[0] < right and left < other.along[1] and other.outward[0] < far and near < other.outward[1]:
            for line, out, low, high in other.sides:
                least = line * (left if line > 0 else right) + out * (near if out > 0 else far)
                most = line * (right if line > 0 else left) + out * (far if out > 0 else near)
                if most <= low or high <= least:
                    break
            else:
                return True
    return False


def sweep(item: Draft, first: float, look: Look) -> Corners:
    """Everywhere a dimension could stand: what lies outside is never in its way."""
    reach = item.wide + 4 * TAIL_PX
    depth = MOST_ROWS * ROW_PX + 2 * look.tick_size
    return turned(
        item.along, item.out, (item.start - reach, item.end + reach), (first - 2 * look.tick_size, first + depth)
    )


def slots(item: Draft) -> Iterator[Slot]:
    """Words between the arrows, else between the extension lines with arrows outside, else beyond either end."""
    a, b, wide = item.start, item.end, item.wide
    outside = b - a < 2 * ARROW_PX + AIR_PX
    ends = (a - TAIL_PX, b + TAIL_PX) if outside else (a, b)
    slack = (b - a - wide) / 2 - AIR_PX
    if slack >= (0.0 if outside else ARROW_PX):
        room = slack - (0.0 if outside else ARROW_PX)
        for share in SHARES:
            yield Slot((a + b) / 2 + share * room, *ends, outside)
    elif slack >= 0:
        yield Slot((a + b) / 2, a - TAIL_PX, b + TAIL_PX, True)
    if slack < 0 or outside:
        reach = BEYOND_PX + AIR_PX + wide
        tail = TAIL_PX if outside else 0.0
        yield Slot(b + reach - wide / 2, ends[0], b + reach + AIR_PX, outside)
        yield Slot(b + tail + reach - wide / 2, ends[0], b + tail + reach, outside)
        yield Slot(a - reach + wide / 2, a - reach - AIR_PX, ends[1], outside)


def taken_reach(slot: Slot) -> Reach:
    """Of what nothing else may cover, along the line."""
    return slot.start + 1, slot.end - 1


def taken_depth(item: Draft, out: float, look: Look) -> Reach:
    """The same outward, the line being so far out."""
    return in_order(out - item.rise * AIR_PX, out + item.rise * (WORDS_PX + look.tick_size))


def words_reach(item: Draft, slot: Slot) -> Reach:
    """Of the words along the line."""
    half = (item.wide + AIR_PX) / 2
    return slot.middle - half, slot.middle + half


def words_depth(item: Draft, out: float, look: Look) -> Reach:
    """The same outward, the line being so far out."""
    size = look.tick_size
    return in_order(out + item.rise * (WORDS_PX - 0.22 * size), out + item.rise * (WORDS_PX + 0.76 * size))


def in_order(one: float, other: float) -> Reach:
    """Two numbers, the smaller first."""
    return (one, other) if one <= other else (other, one)


def extensions_at(item: Draft, out: float) -> tuple[Segment, Segment]:
    """The lines from the vessel to a little beyond a dimension line so far out."""
    ends = item.point(item.start, out), item.point(item.end, out)
    first, last = (
        (
            (foot[0] + item.out[0] * AIR_PX, foot[1] + item.out[1] * AIR_PX),
            (end[0] + item.out[0] * BEYOND_PX, end[1] + item.out[1] * BEYOND_PX),
        )
        for foot, end in zip(item.feet, ends, strict=True)
    )
    return first, last


def drawn_at(item: Draft, slot: Slot, out: float, look: Look) -> Drawn:
    """A dimension drawn so far out, its words in the slot."""
    ends = item.point(item.start, out), item.point(item.end, out)
    way = -1.0 if slot.arrows_outside else 1.0
    heels = item.point(item.start + way, out), item.point(item.end - way, out)
    return Drawn(
        line=(item.point(slot.start, out), item.point(slot.end, out)),
        arrows=((ends[0], heels[0]), (ends[1], heels[1])),
        extensions=extensions_at(item, out),
        text=item.text,
        text_at=item.point(slot.middle, out + item.rise * WORDS_PX),
        angle_deg=degrees(atan2(item.along[1], item.along[0])),
        taken=turned(item.along, item.out, taken_reach(slot), taken_depth(item, out, look)),
        words=turned(item.along, item.out, words_reach(item, slot), words_depth(item, out, look)),
    )


def shapes(drawn: Sequence[Drawn]) -> list[Corners]:
    """All that dimensions take of the sheet."""
    return [shape for d in drawn for shape in chain((d.taken, d.words), d.extensions)]
