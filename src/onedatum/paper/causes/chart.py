"""The charts of which part may be wrong: a channel over the level, and the pattern of each explanation."""

from collections.abc import Sequence
from itertools import chain
from math import isfinite

from onedatum.paper.causes.model import LevelChart, Mark, Pattern
from onedatum.paper.ruler.look import PRINT
from onedatum.paper.ruler.svg import Style, Svg, fit, points
from onedatum.paper.table.chart import GRID, NAME, TICK, Axis
from onedatum.paper.table.words import figure

WIDE_PX, HIGH_PX = 720.0, 262.0
SMALL_WIDE_PX, SMALL_HIGH_PX = 236.0, 168.0
GAP_PX = 22.0
LEFT_PX, RIGHT_PX, TOP_PX, BOTTOM_PX = 52.0, 18.0, 44.0, 40.0
MARK_PX = 3.4
DASHES = ("6 3", "2 3", "9 3 2 3")
"""Of the explanations, in their order; a sound instrument has a plain line."""
KEY = Style(11.0, PRINT.ink)
NO_CHART = "No chart: nothing was read beside a dip."
LEAST = {"mA": 0.05, "mV": 0.5, "V": 0.1, "mm": 5.0, "m3": 0.02}
"""Of the axis of deviations on both sides, so that noise is not drawn as large as a fault."""


def level_svg(chart: LevelChart) -> str:
    """Left what was read and what was expected, right read less expected; a sentence where there is nothing to draw."""
    read = less(chart.read, chart.sound.marks)
    if not read:
        return sentence(NO_CHART, WIDE_PX)
    svg = Svg(WIDE_PX, HIGH_PX, level_words(chart), PRINT.sheet)
    middle = WIDE_PX / 2
    values = [(mark.level, mark.value) for mark in chart.read] + [(m.level, m.value) for m in chart.sound.marks]
    across, up = axes(values, LEFT_PX, middle - GAP_PX, HIGH_PX, "")
    draw_frame(svg, across, up, f"{chart.name}, {chart.unit}", HIGH_PX)
    draw_line(svg, across, up, chart.sound.marks, "", PRINT.ink)
    draw_marks(svg, across, up, chart.read)
    moved = [less(trace.marks, chart.sound.marks) for trace in chart.explained]
    drawn = [(mark.level, mark.value) for mark in chain(read, *moved)]
    across, up = axes(drawn, middle + LEFT_PX - 10, WIDE_PX - RIGHT_PX, HIGH_PX, chart.unit)
    draw_frame(svg, across, up, f"read less expected, {chart.unit}", HIGH_PX, middle)
    svg.line(across.start, up.at(0.0), across.end, up.at(0.0), PRINT.ink, 1.2)
    for marks, trace in zip(moved, chart.explained, strict=True):
        draw_line(svg, across, up, marks, DASHES[(trace.place - 1) % len(DASHES)], PRINT.accent)
    draw_marks(svg, across, up, read)
    draw_key(svg, chart)
    return svg.done()


def pattern_svg(pattern: Pattern) -> str:
    """One cause: marks as read, its line as predicted, both less what a sound instrument would read."""
    if not finite(pattern.read):
        return sentence(NO_CHART, SMALL_WIDE_PX)
    svg = Svg(SMALL_WIDE_PX, SMALL_HIGH_PX, pattern_words(pattern), PRINT.sheet)
    pairs = [(mark.level, mark.value) for mark in (*pattern.read, *pattern.predicted)]
    across, up = axes(pairs, 44.0, SMALL_WIDE_PX - 16.0, SMALL_HIGH_PX, pattern.unit)
    draw_frame(svg, across, up, f"less expected, {pattern.unit}", SMALL_HIGH_PX)
    svg.line(across.start, up.at(0.0), across.end, up.at(0.0), PRINT.ink, 1.0)
    svg.text(4, 13, fit(pattern.title, KEY, SMALL_WIDE_PX - 8), KEY)
    draw_line(svg, across, up, pattern.predicted, DASHES[(pattern.place - 1) % len(DASHES)], PRINT.accent)
    draw_marks(svg, across, up, pattern.read)
    return svg.done()


# ---------------------------------------------------------------- what is drawn


def finite(marks: Sequence[Mark]) -> list[Mark]:
    """Those that can be drawn."""
    return [mark for mark in marks if isfinite(mark.level) and isfinite(mark.value)]


def less(marks: Sequence[Mark], sound: Sequence[Mark]) -> list[Mark]:
    """Values less those of a sound instrument in the same rows."""
    pairs = zip(marks, sound, strict=True)
    return finite([Mark(mark.level, mark.value - its.value, mark.is_rising) for mark, its in pairs])


def axes(pairs: Sequence[tuple[float, float]], start: float, end: float, high: float, unit: str) -> tuple[Axis, Axis]:
    """The axis of levels and that of values; with a unit zero lies within, and no less than noise is shown."""
    kept = [pair for pair in pairs if all(map(isfinite, pair))]
    levels, values = [level for level, _ in kept], [value for _, value in kept]
    if unit:
        least = LEAST.get(unit, 0.01)
        values += [-least, least]
    room = [0.06 * (max(levels) - min(levels)) or 50.0, 0.08 * (max(values) - min(values)) or 1.0]
    across = Axis(min(levels) - room[0], max(levels) + room[0], start, end)
    return across, Axis(min(values) - room[1], max(values) + room[1], high - BOTTOM_PX, TOP_PX if high > 200 else 34.0)


def draw_frame(svg: Svg, across: Axis, up: Axis, name: str, high: float, left: float = 0.0) -> None:
    """Hairlines with their numbers, the names of the axes."""
    for y, words in up.ticks(24.0):
        svg.line(across.start, y, across.end, y, GRID, 0.7)
        svg.text(across.start - 5, y + 3.8, words.replace("-", "−"), TICK, "end")
    for x, words in across.ticks(52.0):
        svg.line(x, up.start, x, up.start + 4, PRINT.ink, 0.9)
        svg.text(x, up.start + 16, words.replace("-", "−"), TICK, "middle")
    svg.path(points([(across.start, up.end), (across.start, up.start), (across.end, up.start)]), PRINT.ink)
    svg.text(left + 4, up.end - 8, fit(name, NAME, across.end - left - 4), NAME)
    svg.text(across.end, high - 6, "level by the dip, mm", NAME, "end")


def draw_line(svg: Svg, across: Axis, up: Axis, marks: Sequence[Mark], dash: str, colour: str) -> None:
    """A line along the level, one for each way that the level came; a tick where there is one level alone."""
    for way in (True, False):
        own = sorted((m.level, m.value) for m in finite(marks) if m.is_rising is way)
        places = [(across.at(level), up.at(value)) for level, value in own]
        if len(places) == 1:
            [(x, y)] = places
            places = [(x - 9.0, y), (x + 9.0, y)]
        svg.path(points(places), colour, 1.5, dash)


def draw_marks(svg: Svg, across: Axis, up: Axis, marks: Sequence[Mark]) -> None:
    """A diamond for each reading, filled from below and open from above."""
    for mark in finite(marks):
        x, y = across.at(mark.level), up.at(mark.value)
        corners = [(x, y - MARK_PX), (x + MARK_PX, y), (x, y + MARK_PX), (x - MARK_PX, y), (x, y - MARK_PX)]
        svg.path(points(corners), PRINT.ink, 1.2, fill=PRINT.ink if mark.is_rising else PRINT.sheet)


def draw_key(svg: Svg, chart: LevelChart) -> None:
    """Which line is which."""
    svg.line(4, 10, 30, 10, PRINT.ink, 1.5)
    svg.text(36, 14, chart.sound.name, KEY)
    x = WIDE_PX / 2
    for trace in chart.explained:
        svg.line(x, 10, x + 26, 10, PRINT.accent, 1.5, DASHES[(trace.place - 1) % len(DASHES)])
        svg.text(x + 32, 14, fit(trace.name, KEY, 76), KEY)
        x += 116.0


# ---------------------------------------------------------------- the same in words


def level_words(chart: LevelChart) -> str:
    """The chart in words."""
    pairs = zip(chart.read, chart.sound.marks, strict=True)
    said = ", ".join(
        f"{figure(read.value, 3)} {chart.unit} read and {figure(own.value, 3)} expected at {figure(read.level, 0)} mm"
        for read, own in pairs
        if isfinite(read.value) and isfinite(read.level)
    )
    return f"{chart.name} over the level: {said}."


def pattern_words(pattern: Pattern) -> str:
    """A pattern in words."""
    return f"{pattern.title}. Predicted less expected: {deviations(pattern.predicted, pattern.unit)}."


def deviations(marks: Sequence[Mark], unit: str) -> str:
    """Values at their levels."""
    said = ", ".join(f"{figure(mark.value, 3)} {unit} at {figure(mark.level, 0)} mm" for mark in finite(marks))
    return said or "not known"


def sentence(words: str, wide: float) -> str:
    """A sentence in place of a chart."""
    svg = Svg(wide, 34, words, PRINT.sheet)
    svg.text(4, 22, words, NAME)
    return svg.done()
