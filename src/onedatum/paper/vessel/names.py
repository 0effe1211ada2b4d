"""Names beside the vessel: marks and level with leaders to the wall, deadwood with brackets, in one column."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from onedatum.paper.ruler.look import Look
from onedatum.paper.ruler.place import place_labels
from onedatum.paper.ruler.svg import Style, fit, text_width
from onedatum.paper.vessel.boxes import Corners, upright
from onedatum.paper.vessel.camera import Camera
from onedatum.paper.vessel.model import Point, Segment
from onedatum.paper.vessel.polygon import crossings
from onedatum.paper.vessel.shown import Shown

DASH_PX, LEAD_PX, BEND_PX, CLEAR_PX = 18.0, 12.0, 12.0, 4.0
BESIDE_PX, LANE_PX, LIP_PX = 14.0, 7.0, 4.0
LONGEST_NAME_PX, MOST_NAMES, FAR_PX = 170.0, 40, 20_000.0


class Tie(NamedTuple):
    """A name and the point of the wall it belongs to; from there its stroke runs `dash_px` to the left."""

    name: str
    style: Style
    wall: Point
    dash_px: float
    level: bool = False


@dataclass(frozen=True, slots=True)
class Bracket:
    """A span of heights in its lane beside the vessel; its two lips, to the left by `lip_px`, point at the vessel."""

    name: str
    x_px: float
    lip_px: float
    top_px: float
    foot_px: float

    @property
    def middle(self) -> Point:
        """Where its leader begins."""
        return self.x_px, (self.top_px + self.foot_px) / 2

    @property
    def box(self) -> Corners:
        """What it takes of the sheet."""
        ends = sorted((self.x_px - self.lip_px, self.x_px))
        return upright(ends[0] - 1, self.top_px - 1, ends[1] + 1, self.foot_px + 1)


@dataclass(frozen=True, slots=True)
class Label:
    """A name in its place, with its leader."""

    text: str
    style: Style
    at: Point
    leader: tuple[Point, ...]
    level: bool
    box: Corners


@dataclass(frozen=True, slots=True)
class Column:
    """All names, in a column on one side of the vessel."""

    labels: tuple[Label, ...]
    brackets: tuple[Bracket, ...]


def ties_of(shown: Shown, camera: Camera, side: int, look: Look) -> list[Tie]:
    """Marks and level that lie inside the vessel, with where they meet its wall on the side of the names."""
    strong, level = Style(look.mark_size, look.ink, True), Style(look.mark_size, look.accent, True)
    named = [(name, z, strong, False) for name, z in shown.marks]
    if shown.level_m is not None and shown.elevation.around.low <= shown.level_m <= shown.elevation.around.high:
        named.append((shown.level_words, shown.level_m, level, True))
    return [tie(shown, camera, side, item) for item in named[:MOST_NAMES]]


def tie(shown: Shown, camera: Camera, side: int, item: tuple[str, float, Style, bool]) -> Tie:
    """A name tied to the wall at its height; outside the vessel to the side of the whole."""
    name, z, style, level = item
    around = shown.elevation.around
    height = held(z, around.low, around.high)
    met = sorted(x for piece in shown.elevation.pieces for x in crossings(piece, height))
    inside = bool(met) and around.low <= z <= around.high
    x = (max(met) if side > 0 else min(met)) if inside else (around.right if side > 0 else around.left)
    chord = abs(met[-1] - met[-2] if side > 0 else met[1] - met[0]) if inside else 0.0
    dash = 0.0 if level else side * min(DASH_PX, chord * camera.px_per_m / 2)
    return Tie(name, style, camera.at((x, z)), dash, level)


def held(z: float, low: float, high: float) -> float:
    """A height held just inside, so that a wall that only touches it is met."""
    slack = 1e-6 * (high - low)
    return min(max(z, low + slack), high - slack)


def leads_of(ties: Sequence[Tie], brackets: Sequence[Bracket], side: int) -> list[Corners]:
    """The ways that leaders will take, as far as they could go."""
    starts = [*(t.wall for t in ties), *(b.middle for b in brackets)]
    return [((x, y), (x + side * FAR_PX, y)) for x, y in starts]


def dashes_of(ties: Sequence[Tie]) -> list[Segment]:
    """The short strokes inside the wall at the heights of the marks."""
    return [(t.wall, (t.wall[0] - t.dash_px, t.wall[1])) for t in ties if t.dash_px]


def column_of(
    shown: Shown,
    camera: Camera,
    ties: Sequence[Tie],
    brackets: Sequence[Bracket],
    edge_px: float,
    side: int,
    look: Look,
) -> Column:
    """The names in a column beyond an edge, as near to their heights as they can stand."""
    bend, soft = edge_px + side * LEAD_PX, Style(look.mark_size, look.secondary)
    rows = [(t.name, t.style, t.wall, t.level) for t in ties]
    rows += [(b.name, soft, b.middle, False) for b in brackets]
    rows.sort(key=lambda row: row[2][1])
    top, foot = camera.y(shown.elevation.around.high), camera.y(shown.elevation.around.low)
    spare = max(0.0, (len(rows) - 1) * look.row_gap - (foot - top)) / 2
    places = place_labels([wall[1] for _, _, wall, _ in rows], look.row_gap, top - spare, foot + spare)
    labels = [label(row, place, bend, side) for row, place in zip(rows, places, strict=True)]
    return Column(tuple(labels), tuple(brackets))


def label(row: tuple[str, Style, Point, bool], place: float, bend: float, side: int) -> Label:
    """A name beside the end of its leader."""
    name, style, (x, y), level = row
    text = fit(name, style, LONGEST_NAME_PX)
    start, wide = bend + side * (BEND_PX + CLEAR_PX), text_width(text, style)
    left = start if side > 0 else start - wide
    box = upright(left, place - 0.4 * style.size, left + wide, place + 0.55 * style.size)
    leader: tuple[Point, ...] = ((x, y), (bend, y), (bend + side * BEND_PX, place))
    return Label(text, style, (left, place + 0.35 * style.size), leader, level, box)


def brackets_of(shown: Shown, camera: Camera, side: int) -> list[Bracket]:
    """The spans beside the vessel, each in the first lane in which it covers no other."""
    around = shown.elevation.around
    edge = camera.x(around.right if side > 0 else around.left) + side * BESIDE_PX
    lanes: list[float] = []
    found: list[Bracket] = []
    for name, low, high in sorted(shown.deadwood, key=lambda d: (-d[2], d[1]))[:MOST_NAMES]:
        top, foot = camera.y(high), camera.y(low)
        free = next((i for i, taken in enumerate(lanes) if taken < top - 2), len(lanes))
        lanes[free : free + 1] = [foot]
        found.append(Bracket(name, edge + side * LANE_PX * free, side * LIP_PX, top, foot))
    return found
