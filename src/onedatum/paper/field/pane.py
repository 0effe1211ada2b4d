"""A window on the field: one scale both ways, the rod on the axis in its middle, what lies outside it cut off."""

from collections.abc import Iterable, Sequence
from math import hypot, isfinite
from typing import NamedTuple

from onedatum.paper.field.model import FieldDrawing, FieldLine, Point, Rod
from onedatum.paper.ruler.look import PRINT
from onedatum.paper.ruler.svg import Style, Svg, fit, points, text_width
from onedatum.paper.ruler.ticks import decimal, nice_step, step_decimals

TITLE, QUIET = Style(11.5, PRINT.ink, True), Style(10.5, PRINT.secondary)
LABEL = Style(10.0, PRINT.ink)
EARTH, EARTH_PX = "earth", 9.0
LEAST_STEP_PX, LEAST_APART_PX, LEAST_ROD_PX, FARTHEST_PX = 0.6, 1.9, 1.6, 1e9
BAR_SHARE, LABEL_GAP_PX = 0.38, 7.0


class Pane(NamedTuple):
    """Where a window stands on the sheet, and what of the vessel it shows."""

    name: str
    left: float
    top: float
    wide: float
    high: float
    foot_m: float
    """Height at its lower edge."""
    px_per_m: float
    labels_m: float
    """Height at which lines are named."""

    @property
    def middle(self) -> float:
        """Where the axis is drawn."""
        return self.left + 0.5 * self.wide

    def at(self, point: Point) -> Point:
        """Where a point is drawn."""
        return self.middle + point[0] * self.px_per_m, self.top + self.high - (point[1] - self.foot_m) * self.px_per_m

    @property
    def top_m(self) -> float:
        """Height at its upper edge."""
        return self.foot_m + self.high / self.px_per_m

    @property
    def frame(self) -> str:
        """Its edges as a path."""
        right, low = self.left + self.wide, self.top + self.high
        return points([(self.left, self.top), (right, self.top), (right, low), (self.left, low)])


def draw_pane(svg: Svg, pane: Pane, drawing: FieldDrawing) -> None:
    """Earth, liquid, field and rod, from behind to the front."""
    closed = outline(pane, drawing)
    svg.clip(pane.name, pane.frame)
    svg.clip(f"{pane.name}-inside", points(closed))
    svg.open_clip(pane.name)
    for line in shell(pane, drawing):
        svg.path(points(line), f"url(#{EARTH})", 2 * EARTH_PX)
    svg.path(f"{points(closed)}Z", PRINT.sheet, 0.1, fill=PRINT.sheet)
    svg.open_clip(f"{pane.name}-inside")
    surface = pane.at((0.0, drawing.level_m))[1]
    svg.rect(pane.left, surface, pane.wide, pane.top + pane.high - surface, PRINT.liquid)
    svg.line(pane.left, surface, pane.left + pane.wide, surface, PRINT.accent, 1.4)
    svg.close_group()
    draw_coating(svg, pane, drawing.rod)
    for equal in apart(pane, drawing.lines):
        for side in (-1.0, 1.0):
            svg.path(points(way(pane, equal, side)), PRINT.ink, 1.3 if equal.heavy else 0.65)
    for line in shell(pane, drawing):
        svg.path(points(line), PRINT.ink, 1.5)
    draw_core(svg, pane, drawing.rod)
    svg.close_group()
    svg.path(f"{pane.frame}Z", PRINT.hairline, 0.6)


def outline(pane: Pane, drawing: FieldDrawing) -> list[Point]:
    """The inside of the vessel, closed across floor and roof."""
    right = [pane.at(point) for point in sound(drawing.wall)]
    return [*right, *((2 * pane.middle - x, y) for x, y in reversed(right))]


def shell(pane: Pane, drawing: FieldDrawing) -> list[list[Point]]:
    """What is earthed: from the ring in the roof round to its other side; of a tube, open below, either side alone."""
    right = [pane.at(point) for point in sound(drawing.wall)]
    if drawing.rod.ring_m is not None and right:
        ring = pane.middle + drawing.rod.ring_m * pane.px_per_m
        right.append((ring, right[-1][1]))
        return [[*reversed(right), *((2 * pane.middle - x, y) for x, y in right)]]
    return [right, [(2 * pane.middle - x, y) for x, y in right]]


def sound(wall: Sequence[Point]) -> list[Point]:
    """The points that can be drawn."""
    return [(radius, height) for radius, height in wall if isfinite(radius) and isfinite(height)]


def apart(pane: Pane, lines: Sequence[FieldLine]) -> list[FieldLine]:
    """From the outermost line inwards those that the eye can tell apart where they reach the farthest."""
    kept: list[FieldLine] = []
    last = FARTHEST_PX
    for reach, line in sorted(((reach_px(pane, line), line) for line in lines), key=lambda one: -one[0]):
        if last - reach >= LEAST_APART_PX and reach >= LEAST_APART_PX:
            kept.append(line)
            last = reach
    return kept


def reach_px(pane: Pane, line: FieldLine) -> float:
    """How far from the axis a line comes within the window."""
    seen = (radius for radius, height in line.points if pane.foot_m <= height <= pane.top_m and isfinite(radius))
    return max(seen, default=0.0) * pane.px_per_m


def way(pane: Pane, line: FieldLine, side: float) -> list[Point]:
    """The line on one side of the axis, as close as it can be seen, no further than a little outside the window."""
    drawn: list[Point] = []
    for radius, height in line.points:
        if not (isfinite(radius) and isfinite(height)):
            continue
        x, y = pane.at((side * radius, height))
        if not drawn or hypot(x - drawn[-1][0], y - drawn[-1][1]) >= LEAST_STEP_PX:
            drawn.append((x, y))
    return list(inside(pane, drawn))


def inside(pane: Pane, drawn: Sequence[Point]) -> Iterable[Point]:
    """Points within the window and those next to them: what lies far outside is not written down."""
    seen = [pane.top - 1.0 <= y <= pane.top + pane.high + 1.0 for _, y in drawn]
    for number, point in enumerate(drawn):
        if any(seen[max(number - 1, 0) : number + 2]):
            yield point


def draw_coating(svg: Svg, pane: Pane, rod: Rod) -> None:
    """The coating, tinted, with its outline; none where it is too thin to be seen."""
    top = pane.top - 20.0
    if rod.outer_m > rod.core_m and rod.outer_m * pane.px_per_m > LEAST_ROD_PX:
        half, (_, foot) = rod.outer_m * pane.px_per_m, pane.at((0.0, rod.end_m))
        svg.rect(pane.middle - half, top, 2 * half, foot - top, PRINT.tint, 0.75)
        left, right = pane.middle - half, pane.middle + half
        svg.path(points([(left, top), (left, foot), (right, foot), (right, top)]), PRINT.secondary, 0.9)


def draw_core(svg: Svg, pane: Pane, rod: Rod) -> None:
    """The core in ink, never thinner than can be seen."""
    top = pane.top - 20.0
    half, (_, foot) = max(rod.core_m * pane.px_per_m, 0.5 * LEAST_ROD_PX), pane.at((0.0, rod.tip_m))
    svg.rect(pane.middle - half, top, 2 * half, foot - top, PRINT.ink)


def draw_labels(svg: Svg, pane: Pane, drawing: FieldDrawing) -> None:
    """The share of each line where it passes right of the rod, as many as stand clear of one another."""
    lines = apart(pane, drawing.lines)
    crossed = sorted((radius_at(line, pane.labels_m) * pane.px_per_m, line.words) for line in lines)
    _, y = pane.at((0.0, pane.labels_m))
    rod = max(drawing.rod.outer_m * pane.px_per_m, LEAST_ROD_PX)
    free, last = pane.middle + rod + 4.0, min(pane.left + pane.wide, pane.at((wall_at(drawing, pane.labels_m), 0.0))[0])
    for reach, words in crossed:
        half = 0.5 * text_width(words, LABEL)
        x = pane.middle + reach
        if reach > 0.0 and x - half >= free and x + half <= last - 2.0:
            svg.text(x, y + 3.5, words, LABEL, "middle", halo=PRINT.sheet)
            free = x + half + LABEL_GAP_PX


def radius_at(line: FieldLine, height_m: float) -> float:
    """Radius of a line at a height, by the nearest of its points."""
    return min(line.points, key=lambda point: abs(point[1] - height_m))[0] if line.points else 0.0


def wall_at(drawing: FieldDrawing, height_m: float) -> float:
    """Radius of the wall at a height, by the nearest of its points above it."""
    above = (radius for radius, height in sound(drawing.wall) if height >= height_m)
    return next(above, 0.0)


def draw_scale(svg: Svg, pane: Pane) -> None:
    """A bar of a round length under the window."""
    step = nice_step(BAR_SHARE * pane.wide / pane.px_per_m * 1e3)
    if not isfinite(step):
        return
    y, x, wide = pane.top + pane.high + 11.0, pane.left, step * 1e-3 * pane.px_per_m
    svg.path(points([(x, y - 4), (x, y), (x + wide, y), (x + wide, y - 4)]), PRINT.ink, 1.1)
    words = f"{decimal(step, step_decimals(step))} mm"
    room = pane.wide - wide - 8
    if text_width(words, QUIET) <= room:
        svg.text(x + wide + 6, y + 2.5, words, QUIET)
    else:
        svg.text(x, y + 14, fit(words, QUIET, pane.wide), QUIET)
