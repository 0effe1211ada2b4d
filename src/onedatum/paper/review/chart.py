"""The picture of a log: least and greatest level of each column as one upright stroke, findings as numbered bars."""

from math import isfinite

from onedatum.paper.causes.chart import sentence
from onedatum.paper.review.model import LogChart
from onedatum.paper.ruler.look import PRINT
from onedatum.paper.ruler.svg import Style, Svg, number, points
from onedatum.paper.table.chart import GRID, NAME, TICK, Axis

WIDE_PX, LEFT_PX, RIGHT_PX, TOP_PX, LEVEL_PX, BOTTOM_PX = 1040.0, 62.0, 14.0, 24.0, 260.0, 34.0
BAR_PX = 13.0
MOST_LANES = 14
NO_CHART = "No chart: no row tells a level."
KEY = Style(10.5, PRINT.ink, True)
LEAST_mm = 2.0


def log_svg(chart: LogChart) -> str:
    """The whole log; a sentence where no row tells a level."""
    known = [value for band in chart.bands for value in band_ends(band.low, band.high)]
    if not known:
        return sentence(NO_CHART, WIDE_PX)
    lanes = lanes_of(chart)
    bottom = TOP_PX + LEVEL_PX
    high_px = bottom + BOTTOM_PX + BAR_PX * max((lane for lane, _ in lanes), default=-1) + BAR_PX + 6
    svg = Svg(WIDE_PX, high_px, words_of(chart, min(known), max(known)), PRINT.sheet)
    room = 0.06 * (max(known) - min(known)) + LEAST_mm
    up = Axis(min(known) - room, max(known) + room, bottom, TOP_PX)
    across = Axis(0.0, max(chart.days, 1e-6), LEFT_PX, WIDE_PX - RIGHT_PX)
    draw_frame(svg, across, up, chart)
    draw_level(svg, across, up, chart)
    for dot in chart.dips:
        x, y = across.at(dot.day), up.at(dot.level)
        if LEFT_PX <= x <= WIDE_PX - RIGHT_PX and TOP_PX <= y <= bottom:
            corners = [(x, y - 3.2), (x + 3.2, y), (x, y + 3.2), (x - 3.2, y), (x, y - 3.2)]
            svg.path(points(corners), PRINT.ink, 0.9, fill=PRINT.sheet)
    for lane, at in lanes:
        mark = chart.marks[at]
        y = bottom + BOTTOM_PX + BAR_PX * lane
        start = min(max(across.at(mark.begin), LEFT_PX), WIDE_PX - RIGHT_PX)
        end = min(max(across.at(mark.end), start + 2.0), WIDE_PX - RIGHT_PX)
        svg.rect(start, y, max(end - start, 2.0), 7.0, PRINT.blocks)
        svg.text(start - 3.0, y + 7.5, str(mark.number), KEY, "end")
    return svg.done()


def band_ends(low: float, high: float) -> list[float]:
    """Both ends of a column that tells a level."""
    return [low, high] if isfinite(low) and isfinite(high) else []


def lanes_of(chart: LogChart) -> list[tuple[int, int]]:
    """The lane and the place of each finding, so that no two bars lie over each other."""
    free: list[float] = []
    found = []
    least = 0.035 * chart.days
    for at, mark in enumerate(chart.marks):
        lane = next((i for i, until in enumerate(free) if until <= mark.begin), len(free))
        if lane >= MOST_LANES:
            continue
        until = max(mark.end, mark.begin) + least
        free[lane : lane + 1] = [until]
        found.append((lane, at))
    return found


def draw_frame(svg: Svg, across: Axis, up: Axis, chart: LogChart) -> None:
    """Hairlines, numbers, names."""
    for y, words in up.ticks(26.0):
        svg.line(across.start, y, across.end, y, GRID, 0.7)
        svg.text(across.start - 5, y + 3.8, words, TICK, "end")
    for x, words in across.ticks(58.0):
        svg.line(x, up.start, x, up.start + 4, PRINT.ink, 0.9)
        svg.text(x, up.start + 16, words, TICK, "middle")
    svg.path(points([(across.start, up.end), (across.start, up.start), (across.end, up.start)]), PRINT.ink)
    svg.text(4, 14, "level, mm", NAME)
    svg.text(across.end, up.start + 30, f"days since {chart.begin}", NAME, "end")


def draw_level(svg: Svg, across: Axis, up: Axis, chart: LogChart) -> None:
    """One stroke for each column, joined to the next where both are known."""
    count = len(chart.bands)
    wide = (across.end - across.start) / count
    data, before = [], ""
    for at, band in enumerate(chart.bands):
        if not band_ends(band.low, band.high):
            before = ""
            continue
        x = across.start + (at + 0.5) * wide
        low, high = number(up.at(band.low)), number(up.at(band.high))
        data.append(f"{'L' if before else 'M'}{number(x)} {low}L{number(x)} {high}")
        before = high
    svg.path("".join(data), PRINT.accent, 1.1)


def words_of(chart: LogChart, low: float, high: float) -> str:
    """The picture in words."""
    marks = ", ".join(f"{mark.number} from day {mark.begin:.3g} to {mark.end:.3g}" for mark in chart.marks)
    said = f"Level over {chart.days:.3g} days since {chart.begin}, between {low:.0f} mm and {high:.0f} mm."
    return f"{said} Findings: {marks}." if marks else f"{said} No finding."
