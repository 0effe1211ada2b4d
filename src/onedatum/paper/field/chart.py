"""The chart of capacitance by level: the curve, the straight line of its setting, and beneath what that reads off."""

from collections.abc import Sequence
from html import escape
from math import isfinite

from onedatum.paper.field.model import CurveDrawing, Mark, Point
from onedatum.paper.ruler.look import PRINT
from onedatum.paper.ruler.place import place_labels
from onedatum.paper.ruler.svg import Style, Svg, fit, points, text_width
from onedatum.paper.table.chart import Axis

LEFT_PX, RIGHT_PX, TOP_PX = 62.0, 20.0, 46.0
UPPER_PX, LOWER_PX, GAP_PX, FOOT_PX = 190.0, 92.0, 30.0, 40.0
LEADER_PX, BETWEEN_PX = 8.0, 10.0
NAME_X_PX, NAME_PX = 11.0, 17.0
"""Where the name of an axis stands, and where its room ends."""
QUIET, TICK = Style(11.0, PRINT.secondary), Style(11.0, PRINT.ink)
GRID, END_DASH, LINE_DASH = "#C3CBCF", "7 3", "4 3"
SAMPLE_PX = 26.0
POINT_PX = 3.2
ROOM = 0.06
NOTHING = "No curve to draw."


def curve_svg(drawing: CurveDrawing, width_px: float) -> str:
    """The chart, as wide as asked for."""
    high = TOP_PX + UPPER_PX + GAP_PX + LOWER_PX + FOOT_PX
    svg = Svg(width_px, high, escape(words_of(drawing), quote=True), PRINT.sheet)
    curve, errors = sound(drawing.levels, drawing.held), sound(drawing.levels, drawing.errors)
    line = [point for point in drawing.line if all(map(isfinite, point))]
    if len(curve) < 2 or not curve[-1][0] > curve[0][0]:
        svg.text(8, 24, NOTHING, QUIET)
        return svg.done()
    across = Axis(curve[0][0], curve[-1][0], LEFT_PX, width_px - RIGHT_PX)
    held = roomy([value for _, value in (*curve, *line)], TOP_PX + UPPER_PX, TOP_PX)
    foot = TOP_PX + UPPER_PX + GAP_PX + LOWER_PX
    off = roomy([0.0, *(value for _, value in errors)], foot, foot - LOWER_PX)
    draw_grid(svg, across, held, f"capacitance, {drawing.held_unit}")
    draw_grid(svg, across, off, f"reads high, {drawing.unit}")
    draw_marks(svg, drawing, across, foot)
    draw_upper(svg, across, held, curve, line)
    draw_lower(svg, across, off, errors, [level for level, _ in line])
    draw_levels(svg, across, foot, f"level, {drawing.unit}")
    draw_legend(svg, drawing)
    return svg.done()


def sound(levels: Sequence[float], values: Sequence[float]) -> list[Point]:
    """The points that can be drawn, in the order of their levels."""
    return sorted((x, y) for x, y in zip(levels, values, strict=False) if isfinite(x) and isfinite(y))


def roomy(values: Sequence[float], start: float, end: float) -> Axis:
    """An axis with a little room beyond its values; about one that is the same everywhere, a unit either way."""
    low, high = min(values), max(values)
    span = high - low
    if not (isfinite(span) and span > 1e-9 * max(abs(low), abs(high), 1e-9)):
        low, high, span = low - 1.0, high + 1.0, 2.0
    return Axis(low - ROOM * span, high + ROOM * span, start, end)


def draw_grid(svg: Svg, across: Axis, up: Axis, name: str) -> None:
    """Hairlines at the labelled values, the name over the axis, the frame."""
    for y, words in up.ticks(24.0):
        svg.line(across.start, y, across.end, y, GRID, 0.7)
        svg.text(across.start - 6, y + 3.8, fit(words, TICK, across.start - NAME_PX - 6), TICK, "end")
    frame = [(across.start, up.end), (across.start, up.start), (across.end, up.start)]
    svg.path(points(frame), PRINT.ink)
    turned = fit(name, QUIET, abs(up.start - up.end))
    svg.upright_text(NAME_X_PX, 0.5 * (up.start + up.end), turned, QUIET)


def draw_levels(svg: Svg, across: Axis, foot: float, name: str) -> None:
    """Levels along the foot, as many in words as stand clear of one another and of the edge."""
    free, edge = 0.0, across.end + RIGHT_PX
    for x, words in across.ticks(64.0):
        svg.line(x, foot, x, foot + 4, PRINT.ink)
        half = 0.5 * text_width(words, TICK)
        place = min(max(x, half), edge - half)
        if place - half >= free:
            svg.text(place, foot + 17, words, TICK, "middle")
            free = place + half + BETWEEN_PX
    svg.text(across.end, foot + 33, fit(name, QUIET, across.end - across.start), QUIET, "end")


def draw_marks(svg: Svg, drawing: CurveDrawing, across: Axis, foot: float) -> None:
    """The ends of the range as dashed lines through both charts, their words in a strip above."""
    marks = sorted((mark for mark in drawing.ends if within(across, mark)), key=lambda mark: mark.level)
    wide = max((text_width(mark.words, TICK) for mark in marks), default=0.0)
    wanted = [across.at(mark.level) for mark in marks]
    places = place_labels(wanted, wide + BETWEEN_PX, across.start + wide / 2, across.end - wide / 2)
    for mark, x, place in zip(marks, wanted, places, strict=True):
        svg.line(x, TOP_PX, x, foot, PRINT.ink, 1.0, END_DASH)
        svg.line(place, TOP_PX - LEADER_PX, x, TOP_PX, PRINT.hairline, 0.8)
        svg.text(place, TOP_PX - LEADER_PX - 4, mark.words, TICK, "middle")


def within(across: Axis, mark: Mark) -> bool:
    """Whether a mark lies on the axis."""
    return isfinite(mark.level) and across.low <= mark.level <= across.high


def draw_upper(svg: Svg, across: Axis, up: Axis, curve: list[Point], line: list[Point]) -> None:
    """The straight line over the whole length, cut at the edges; the curve over it; the two points of setting."""
    ends = straight(across, up, line)
    svg.path(points(ends), PRINT.secondary, 1.0, LINE_DASH)
    svg.path(points([(across.at(x), up.at(y)) for x, y in curve]), PRINT.accent, 1.9)
    for x, y in line:
        dot(svg, across.at(x), up.at(y))


def straight(across: Axis, up: Axis, line: list[Point]) -> list[Point]:
    """The line through its two points from edge to edge of the chart."""
    if len(line) < 2 or line[0][0] == line[1][0]:
        return []
    (x_1, y_1), (x_2, y_2) = line
    slope = (y_2 - y_1) / (x_2 - x_1)
    ends = [across.low, across.high]
    if slope:
        ends = [*ends, *(x_1 + (edge - y_1) / slope for edge in (up.low, up.high))]
    kept = sorted(x for x in ends if across.low <= x <= across.high and _held(up, y_1 + slope * (x - x_1)))
    return [(across.at(x), up.at(y_1 + slope * (x - x_1))) for x in kept[:: max(len(kept) - 1, 1)]]


def _held(up: Axis, value: float) -> bool:
    slack = 1e-9 * (up.high - up.low)
    return up.low - slack <= value <= up.high + slack


def draw_lower(svg: Svg, across: Axis, up: Axis, errors: list[Point], setting: list[float]) -> None:
    """The error about its zero, which it meets at the two points of setting."""
    zero = up.at(0.0)
    svg.line(across.start, zero, across.end, zero, PRINT.ink, 0.9)
    svg.path(points([(across.at(x), up.at(y)) for x, y in errors]), PRINT.accent, 1.9)
    for level in setting:
        dot(svg, across.at(level), zero)


def dot(svg: Svg, x: float, y: float) -> None:
    """A point of setting: a small square on its corner, open in the middle."""
    r = POINT_PX
    svg.path(f"{points([(x - r, y), (x, y - r), (x + r, y), (x, y + r)])}Z", PRINT.ink, 1.2, fill=PRINT.sheet)


def draw_legend(svg: Svg, drawing: CurveDrawing) -> None:
    """What each stroke is, in one row at the top: lines first, the points of setting last."""
    x, y = LEFT_PX, 13.0
    entries = ((drawing.curve_words, PRINT.accent, 1.9, ""), (drawing.line_words, PRINT.secondary, 1.0, LINE_DASH))
    for words, colour, wide, dash in entries:
        svg.line(x, y - 4, x + SAMPLE_PX, y - 4, colour, wide, dash)
        shown = fit(words, QUIET, 230.0)
        svg.text(x + SAMPLE_PX + 5, y, shown, QUIET)
        x += SAMPLE_PX + 5 + text_width(shown, QUIET) + 18
    dot(svg, x + 4, y - 4)
    svg.text(x + 13, y, "set here", QUIET)


def words_of(drawing: CurveDrawing) -> str:
    """The chart in words."""
    errors = sound(drawing.levels, drawing.errors)
    curve = sound(drawing.levels, drawing.held)
    if not curve or not errors:
        return f"{drawing.title}: {NOTHING}"
    worst = max(errors, key=lambda point: abs(point[1]))
    (low, first), (high, last) = curve[0], curve[-1]
    return (
        f"{drawing.title}: from {first:.4g} {drawing.held_unit} at {low:.4g} {drawing.unit} to {last:.4g} "
        f"{drawing.held_unit} at {high:.4g} {drawing.unit}; set at two levels it reads off by {worst[1]:.3g} "
        f"{drawing.unit} at most, at {worst[0]:.4g} {drawing.unit}."
    )
