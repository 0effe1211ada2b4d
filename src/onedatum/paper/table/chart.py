"""The chart of a tank table: volume across, level upwards, both with their units, plain lines."""

from collections.abc import Iterator
from math import ceil, floor, isfinite
from typing import NamedTuple

from onedatum.paper.ruler.look import PRINT
from onedatum.paper.ruler.svg import Style, Svg, fit, points
from onedatum.paper.ruler.ticks import decimal, nice_step, step_decimals
from onedatum.paper.table.model import Column, TankTable
from onedatum.paper.table.words import figure

WIDE_PX, HIGH_PX = 360.0, 300.0
LEFT_PX, RIGHT_PX, TOP_PX, BOTTOM_PX = 54.0, 18.0, 26.0, 40.0
LEVEL_STEP_PX, VOLUME_STEP_PX = 24.0, 52.0
MOST_POINTS = 400
LEAST_SHARE = 1e-9
HATCH = "not-to-be-used"
GRID = "#C3CBCF"
TICK = Style(11.0, PRINT.ink)
NAME = Style(11.5, PRINT.secondary)


class Axis(NamedTuple):
    """Values from `low` to `high` laid over the px from `start` to `end`."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """Where a value lies."""
        return self.start + (value - self.low) / (self.high - self.low) * (self.end - self.start)

    def ticks(self, apart_px: float) -> Iterator[tuple[float, str]]:
        """Where the labelled ticks stand and what they say, in steps of 1-2-5 at least so far apart."""
        step = nice_step(apart_px * (self.high - self.low) / abs(self.end - self.start))
        if not isfinite(step):
            return
        for i in range(ceil(self.low / step - 1e-6), floor(self.high / step + 1e-6) + 1):
            yield self.at(i * step), decimal(i * step, step_decimals(step))


def chart_svg(table: TankTable) -> str:
    """The chart; a sentence in its place where the table has no two levels or no two volumes."""
    pairs = drawable(table)
    level = axis_of([level for level, _ in pairs], HIGH_PX - BOTTOM_PX, TOP_PX)
    volume = axis_of([0.0, *(volume for _, volume in pairs)], LEFT_PX, WIDE_PX - RIGHT_PX)
    if level is None or volume is None:
        svg = Svg(WIDE_PX, 40, "No chart: fewer than two volumes.", PRINT.sheet)
        svg.text(LEFT_PX, 24, "No chart: fewer than two volumes.", NAME)
        return svg.done()
    svg = Svg(WIDE_PX, HIGH_PX, label_of(table, pairs), PRINT.sheet)
    draw_zones(svg, table, level)
    draw_axes(svg, level, volume)
    draw_names(svg, table)
    svg.path(points([(volume.at(v), level.at(h)) for h, v in thinned(pairs)]), PRINT.accent, 1.75)
    return svg.done()


def drawable(table: TankTable) -> list[tuple[float, float]]:
    """Level and volume of each row that has both."""
    rows = zip(table.level.values, table.volume.values, strict=True)
    return [(h, v) for h, v in rows if h is not None and v is not None and isfinite(h) and isfinite(v)]


def thinned(pairs: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """As many rows as the eye can tell apart, the first and the last among them."""
    stride = max(1, ceil(len(pairs) / MOST_POINTS))
    return [*pairs[:-1:stride], pairs[-1]]


def axis_of(values: list[float], start: float, end: float) -> Axis | None:
    """The axis that holds all values; None where they are one and the same."""
    low, high = min(values, default=0.0), max(values, default=0.0)
    span = high - low
    drawn = isfinite(span) and span > LEAST_SHARE * max(abs(low), abs(high))
    return Axis(low, high, start, end) if drawn else None


def draw_zones(svg: Svg, table: TankTable, level: Axis) -> None:
    """Levels whose volumes are not to be used, tinted and hatched."""
    svg.hatch(HATCH, 6, 45, PRINT.secondary, 0.7)
    for zone in table.zones:
        low, high = (min(max(end, level.low), level.high) for end in (zone.low, zone.high))
        box = (LEFT_PX, level.at(high), WIDE_PX - RIGHT_PX - LEFT_PX, level.at(low) - level.at(high))
        svg.rect(*box, PRINT.tint)
        svg.rect(*box, f"url(#{HATCH})")


def draw_axes(svg: Svg, level: Axis, volume: Axis) -> None:
    """Hairlines at the labelled values; both axes in ink."""
    for y, words in level.ticks(LEVEL_STEP_PX):
        svg.line(volume.start, y, volume.end, y, GRID, 0.7)
        svg.text(volume.start - 5, y + 3.8, words, TICK, "end")
    for x, words in volume.ticks(VOLUME_STEP_PX):
        svg.line(x, level.start, x, level.end, GRID, 0.7)
        svg.text(x, level.start + 14, words, TICK, "middle")
    svg.path(points([(volume.start, level.end), (volume.start, level.start), (volume.end, level.start)]), PRINT.ink)


def draw_names(svg: Svg, table: TankTable) -> None:
    """What the axes carry, with units."""
    half = (WIDE_PX - 2 * RIGHT_PX) / 2
    svg.text(4, 14, fit(axis_name(table.level), NAME, half), NAME)
    svg.text(WIDE_PX - RIGHT_PX, HIGH_PX - 8, fit(axis_name(table.volume), NAME, 2 * half), NAME, "end")


def axis_name(column: Column) -> str:
    """Name and unit of a column: "level, mm"."""
    return ", ".join(filter(None, (column.name, column.unit)))


def label_of(table: TankTable, pairs: list[tuple[float, float]]) -> str:
    """The chart in words: the volume at its lowest, middle and highest level."""
    chosen = (pairs[0], pairs[len(pairs) // 2], pairs[-1])
    said = ", ".join(f"{number(table.volume, v)} at {number(table.level, h)}" for h, v in chosen)
    return f"Volume against level: {said}."


def number(column: Column, value: float) -> str:
    """A number of a column with its unit."""
    return f"{figure(value, column.decimals)} {column.unit}".strip()
