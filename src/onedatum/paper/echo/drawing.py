"""The received record as two curves over time: what came in, what the matched filter makes of it."""

from collections.abc import Sequence
from html import escape
from math import isfinite

from onedatum.paper.echo.model import EchoDrawing
from onedatum.paper.ruler.look import PRINT
from onedatum.paper.ruler.svg import Style, Svg, fit, points
from onedatum.paper.table.chart import Axis

LEFT_PX, RIGHT_PX, TOP_PX, CURVE_PX, GAP_PX, FOOT_PX = 74.0, 14.0, 26.0, 88.0, 30.0, 40.0
NAME = Style(11.5, PRINT.ink, True)
QUIET = Style(11.0, PRINT.secondary)
WINDOW, GRID = "#E4EDF2", "#C3CBCF"
MOST_POINTS = 3000
LINE_PX = 14.0


def echo_svg(drawing: EchoDrawing, width_px: float) -> str:
    """The picture, as wide as asked for."""
    height = TOP_PX + 2 * CURVE_PX + GAP_PX + FOOT_PX
    svg = Svg(width_px, height, escape(words_for(drawing), quote=True), PRINT.sheet)
    times = [time for time in drawing.times_us if isfinite(time)]
    if len(times) < 2:
        svg.text(8, TOP_PX, "No record to draw.", QUIET)
        return svg.done()
    across = Axis(min(times), max(times), LEFT_PX, width_px - RIGHT_PX)
    upper, lower = TOP_PX + CURVE_PX, TOP_PX + 2 * CURVE_PX + GAP_PX
    draw_windows(svg, drawing, across, upper, lower)
    draw_curve(svg, drawing.times_us, drawing.received, across, upper, "received")
    draw_curve(svg, drawing.times_us, drawing.filtered, across, lower, "filtered")
    draw_threshold(svg, drawing, across, lower)
    draw_taken(svg, drawing, across, lower)
    draw_axis(svg, across, lower)
    if drawing.fault:
        svg.text(LEFT_PX, TOP_PX - 10, fit(drawing.fault, NAME, width_px - LEFT_PX - RIGHT_PX), NAME)
    return svg.done()


def words_for(drawing: EchoDrawing) -> str:
    """The picture in words."""
    taken = "; ".join(f"{one.words} at {one.time_us:.2f} us" for one in drawing.taken)
    outcome = drawing.fault or f"taken: {taken or 'nothing'}"
    return f"{drawing.title}: the received record and the filtered one over time. {outcome}."


def draw_windows(svg: Svg, drawing: EchoDrawing, across: Axis, upper: float, lower: float) -> None:
    """Where each echo was looked for, behind both curves."""
    for window in drawing.windows:
        left, right = across.at(window.low_us), across.at(window.high_us)
        for foot in (upper, lower):
            svg.rect(left, foot - CURVE_PX, max(right - left, 1.0), CURVE_PX, WINDOW)
        if not drawing.fault:
            svg.text((left + right) / 2, TOP_PX - 8, fit(window.name, QUIET, 160), QUIET, "middle")


def draw_curve(svg: Svg, times: Sequence[float], values: Sequence[float], across: Axis, foot: float, name: str) -> None:
    """One curve about its middle line."""
    middle = foot - CURVE_PX / 2
    svg.line(across.start, middle, across.end, middle, GRID, 0.7)
    step = max(len(times) // MOST_POINTS, 1)
    held = [
        (across.at(time), middle - 0.5 * CURVE_PX * min(max(value, -1.0), 1.0))
        for time, value in list(zip(times, values, strict=False))[::step]
        if isfinite(time) and isfinite(value)
    ]
    svg.path(points(held), PRINT.ink, 0.8)
    svg.text(LEFT_PX - 8, middle + 4, name, QUIET, "end")


def draw_threshold(svg: Svg, drawing: EchoDrawing, across: Axis, foot: float) -> None:
    """The height that an echo must reach."""
    if isfinite(drawing.threshold):
        height = foot - CURVE_PX / 2 - 0.5 * CURVE_PX * min(max(drawing.threshold, 0.0), 1.0)
        svg.line(across.start, height, across.end, height, PRINT.secondary, 0.8, "4 3")
        svg.text(across.end, height - 4, "threshold", QUIET, "end", halo=PRINT.sheet)


def draw_taken(svg: Svg, drawing: EchoDrawing, across: Axis, foot: float) -> None:
    """A line where each echo was taken, with its words beside it."""
    for row, one in enumerate(drawing.taken):
        if isfinite(one.time_us):
            x = across.at(one.time_us)
            svg.line(x, TOP_PX, x, foot, PRINT.accent, 1.4)
            right = x < (across.start + across.end) / 2
            side = 5.0 if right else -5.0
            height = foot - 6 - row * LINE_PX
            svg.text(x + side, height, one.words, NAME, "start" if right else "end", halo=PRINT.sheet)


def draw_axis(svg: Svg, across: Axis, foot: float) -> None:
    """Time along the foot."""
    for x, words in across.ticks(90.0):
        svg.line(x, foot, x, foot + 4, PRINT.ink)
        svg.text(x, foot + 17, words, QUIET, "middle")
    svg.line(across.start, foot, across.end, foot, PRINT.ink)
    svg.text(across.end, foot + 32, "time of flight, us", QUIET, "end")
