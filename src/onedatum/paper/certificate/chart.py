"""The charts of a calibration: errors over the level between their limits, and errors over the years."""

from collections.abc import Iterator, Sequence
from math import isfinite

from onedatum.paper.certificate.model import DriftChart, ErrorChart, Trace
from onedatum.paper.ruler.look import PRINT
from onedatum.paper.ruler.svg import Style, Svg, fit, points
from onedatum.paper.table.chart import GRID, NAME, TICK, Axis
from onedatum.paper.table.words import figure

WIDE_PX, HIGH_PX = 720.0, 250.0
LEFT_PX, RIGHT_PX, TOP_PX, BOTTOM_PX = 56.0, 16.0, 30.0, 40.0
DRIFT_RIGHT_PX = 92.0
MARK_PX, APART_PX = 3.6, 5.0
DASHES = ("", "5 3", "2 3", "9 3 2 3", "1 3", "7 2 1 2")
"""Of the lines, one after the other: colour alone tells nothing apart."""
MOST_LINES = 6
QUIET = Style(10.5, PRINT.secondary)
KEY = Style(11.0, PRINT.ink)


def error_svg(chart: ErrorChart) -> str:
    """Least, greatest and average error of every point over the level; a sentence where there is none."""
    levels = [point[0] for trace in chart.traces for point in trace.points]
    errors = [error for trace in chart.traces for point in trace.points for error in point[1:]]
    if len(levels) < 2 or max(levels) - min(levels) <= 0.0 or not all(map(isfinite, errors)):
        return sentence("No chart: no errors of two levels or more.")
    svg = Svg(WIDE_PX, HIGH_PX, error_words(chart), PRINT.sheet)
    margin = 0.04 * (max(levels) - min(levels))
    across = Axis(min(levels) - margin, max(levels) + margin, LEFT_PX, WIDE_PX - RIGHT_PX)
    up = error_axis([*errors, *ends(chart.low, chart.high)])
    draw_frame(svg, across, up, "level, mm", list(across.ticks(70.0)))
    draw_limits(svg, up, chart.low, chart.high, WIDE_PX - RIGHT_PX)
    for limit, inward in ((chart.low, 1.0), (chart.high, -1.0)):
        if limit is not None and chart.guard > 0.0:
            y = up.at(limit + inward * chart.guard)
            svg.line(across.start, y, across.end, y, PRINT.secondary, 0.9, "2 3")
    for number, trace in enumerate(chart.traces):
        draw_trace(svg, across, up, trace, number, len(chart.traces))
    return svg.done()


def ends(low: float | None, high: float | None) -> list[float]:
    """The limits there are."""
    return [limit for limit in (low, high) if limit is not None]


def error_axis(values: Sequence[float]) -> Axis:
    """The axis of errors, zero within it."""
    low, high = min(0.0, *values), max(0.0, *values)
    room = 0.12 * (high - low) or 1.0
    return Axis(low - room, high + room, HIGH_PX - BOTTOM_PX, TOP_PX)


def draw_frame(svg: Svg, across: Axis, up: Axis, name: str, ticks: Sequence[tuple[float, str]]) -> None:
    """Hairlines with their numbers, the line of no error, the names of the axes."""
    for y, words in up.ticks(24.0):
        svg.line(across.start, y, across.end, y, GRID, 0.7)
        svg.text(across.start - 5, y + 3.8, words.replace("-", "−"), TICK, "end")
    for x, words in ticks:
        svg.line(x, up.start, x, up.start + 4, PRINT.ink, 0.9)
        svg.text(x, up.start + 16, words, TICK, "middle")
    svg.line(across.start, up.at(0.0), across.end, up.at(0.0), PRINT.ink, 0.9)
    svg.path(points([(across.start, up.end), (across.start, up.start), (across.end, up.start)]), PRINT.ink)
    svg.text(4, 14, "error, mm", NAME)
    svg.text(across.end, HIGH_PX - 6, name, NAME, "end")


def draw_limits(svg: Svg, up: Axis, low: float | None, high: float | None, right: float) -> None:
    """The limits of the error."""
    for limit, words in ((low, "least error allowed"), (high, "greatest error allowed")):
        if limit is not None:
            y = up.at(limit)
            svg.line(LEFT_PX, y, right, y, PRINT.ink, 1.6)
            svg.text(LEFT_PX + 6, y - 4 if limit > 0.0 else y + 12, words, QUIET, halo=PRINT.sheet)


def draw_trace(svg: Svg, across: Axis, up: Axis, trace: Trace, number: int, of: int) -> None:
    """A run: a bar from least to greatest, a mark at the average, a line along the averages."""
    aside = APART_PX * (number - (of - 1) / 2)
    line = [(across.at(level) + aside, up.at(average)) for level, _, _, average in trace.points]
    svg.path(points(line), PRINT.accent, 1.3, DASHES[number % len(DASHES)])
    for (x, y), (_, least, greatest, _) in zip(line, trace.points, strict=True):
        svg.line(x, up.at(least), x, up.at(greatest), PRINT.accent, 2.2)
        draw_mark(svg, x, y, filled=number == 0)
    x = WIDE_PX - RIGHT_PX - 190.0 * (of - number) + 60.0
    svg.line(x, 10, x + 26, 10, PRINT.accent, 1.3, DASHES[number % len(DASHES)])
    draw_mark(svg, x + 13, 10, filled=number == 0)
    svg.text(x + 32, 14, fit(trace.name, KEY, 90), KEY)


def draw_mark(svg: Svg, x: float, y: float, *, filled: bool) -> None:
    """A diamond, filled as found and open as left."""
    corners = [(x, y - MARK_PX), (x + MARK_PX, y), (x, y + MARK_PX), (x - MARK_PX, y), (x, y - MARK_PX)]
    svg.path(points(corners), PRINT.accent, 1.2, fill=PRINT.accent if filled else PRINT.sheet)


def error_words(chart: ErrorChart) -> str:
    """The chart in words."""
    said = "; ".join(f"{trace.name}: {trace_words(trace)}" for trace in chart.traces)
    return f"Errors over the level. {said}."


def trace_words(trace: Trace) -> str:
    """A run in words."""
    return ", ".join(f"{figure(a, 1)} mm at {figure(level, 0)} mm" for level, _, _, a in trace.points)


# ---------------------------------------------------------------- over the years


def drift_svg(chart: DriftChart) -> str:
    """The average error of every point over time; a sentence where there are not two runs."""
    errors = [error for row in chart.errors for error in row if error is not None]
    if len(chart.days) < 2 or chart.days[-1] <= chart.days[0] or not errors or not all(map(isfinite, errors)):
        return sentence("No chart: fewer than two runs.")
    svg = Svg(WIDE_PX, HIGH_PX, drift_words(chart), PRINT.sheet)
    margin = 0.03 * (chart.days[-1] - chart.days[0])
    across = Axis(chart.days[0] - margin, chart.days[-1] + margin, LEFT_PX, WIDE_PX - DRIFT_RIGHT_PX)
    up = error_axis([*errors, *ends(chart.low, chart.high)])
    draw_frame(svg, across, up, "begin of the run", list(date_ticks(chart, across)))
    draw_limits(svg, up, chart.low, chart.high, across.end)
    chosen = shown_points(chart)
    bottoms = placed([last_of(up, chart.errors[number]) for number in chosen])
    for place, (number, y) in enumerate(zip(chosen, bottoms, strict=True)):
        draw_point(svg, across, up, chart, number, DASHES[place % len(DASHES)])
        svg.text(across.end + 6, y + 3.8, fit(chart.names[number], KEY, DRIFT_RIGHT_PX - 8), KEY)
    return svg.done()


def shown_points(chart: DriftChart) -> list[int]:
    """As many points as can be told apart: the ends among them."""
    every = [number for number, row in enumerate(chart.errors) if any(error is not None for error in row)]
    if len(every) <= MOST_LINES:
        return every
    step = (len(every) - 1) / (MOST_LINES - 1)
    return [every[round(place * step)] for place in range(MOST_LINES)]


def date_ticks(chart: DriftChart, across: Axis) -> Iterator[tuple[float, str]]:
    """The dates of the runs, those left out that would touch the one before."""
    last = -1e9
    for day, date in zip(chart.days, chart.dates, strict=True):
        x = across.at(day)
        if x - last >= 66.0:
            last = x
            yield x, date


def last_of(up: Axis, row: Sequence[float | None]) -> float:
    """Where the last error of a point stands."""
    return up.at(next(error for error in reversed(row) if error is not None))


def placed(wanted: Sequence[float]) -> list[float]:
    """Base lines of the names: in the order of the lines, a line of text apart."""
    order = sorted(range(len(wanted)), key=lambda number: wanted[number])
    found = [0.0] * len(wanted)
    last = -1e9
    for number in order:
        last = found[number] = max(wanted[number], last + 13.0)
    return found


def draw_point(svg: Svg, across: Axis, up: Axis, chart: DriftChart, number: int, dash: str) -> None:
    """One point over time: a line from run to run, a mark that tells as found from as left."""
    row = zip(chart.days, chart.kinds, chart.errors[number], strict=True)
    marks = [(across.at(day), up.at(error), kind) for day, kind, error in row if error is not None]
    svg.path(points([(x, y) for x, y, _ in marks]), PRINT.accent, 1.2, dash)
    for x, y, kind in marks:
        draw_mark(svg, x, y, filled=kind == "as found")


def drift_words(chart: DriftChart) -> str:
    """The chart in words."""
    said = []
    for name, row in zip(chart.names, chart.errors, strict=True):
        known = [error for error in row if error is not None]
        if known:
            said.append(f"{name} from {figure(known[0], 1)} mm to {figure(known[-1], 1)} mm")
    return f"Average errors from {chart.dates[0]} to {chart.dates[-1]}: {'; '.join(said)}. Filled marks as found."


def sentence(words: str) -> str:
    """A sentence in place of a chart."""
    svg = Svg(WIDE_PX, 34, words, PRINT.sheet)
    svg.text(4, 22, words, NAME)
    return svg.done()
