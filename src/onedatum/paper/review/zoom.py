"""A part of a log for the page: least and greatest over time, what rows say of themselves, findings as ranges to open.

Nothing rests on colour alone: gaps and failures have a hatch of their own, bounds a bar at their edge, findings a
number and a name.
"""

from dataclasses import dataclass, field
from html import escape
from math import isfinite

from onedatum.paper.causes.chart import sentence
from onedatum.paper.review.times import time_ticks
from onedatum.paper.ruler.look import SCREEN
from onedatum.paper.ruler.svg import Style, Svg, fit, number, points, text_width
from onedatum.paper.table.chart import Axis

LEFT_PX, RIGHT_PX, TOP_PX, HIGH_PX, FOOT_PX = 58.0, 12.0, 22.0, 270.0, 26.0
LANE_PX, BAR_PX = 26.0, 7.0
MOST_LANES = 12
ROOM_FOR_WORDS_PX = 64.0
TICK, WORDS = Style(11.5, SCREEN.secondary), Style(12.0, SCREEN.ink)
KEY = Style(12.0, SCREEN.ink, True)
GAPS, FAILED = "log-gap", "log-failed"
NOTHING = "No row between these times."


@dataclass(frozen=True, slots=True)
class Shade:
    """A while in which there is no value, or one that is a bound."""

    from_us: float
    to_us: float
    is_high: bool = False


@dataclass(frozen=True, slots=True)
class Range:
    """A finding: its number, what it is called, when, and where it leads."""

    number: int
    title: str
    from_us: float
    to_us: float
    href: str


@dataclass(frozen=True, slots=True)
class Zoom:
    """What is drawn."""

    from_us: float
    to_us: float
    name: str
    """Of the value, with its unit."""
    at_us: tuple[float, ...]
    lows: tuple[float, ...]
    highs: tuple[float, ...]
    joined_us: float
    """Values nearer than this are joined."""
    is_rows: bool
    least: float
    """Least height of the picture, in the unit of the value."""
    gaps: tuple[Shade, ...] = ()
    failed: tuple[Shade, ...] = ()
    bounds: tuple[Shade, ...] = ()
    ranges: tuple[Range, ...] = ()
    dips: tuple[tuple[float, float], ...] = field(default=())
    wide_px: float = 1040.0


class _Linked(Svg):
    """A drawing with links in it."""

    def open_link(self, href: str, words: str) -> None:
        """Everything until `close_link` leads there."""
        self._parts.append(f'<a href="{escape(href)}" data-zoom=""><title>{escape(words)}</title>')

    def close_link(self) -> None:
        """End a link."""
        self._parts.append("</a>")

    def done(self) -> str:
        """The whole drawing; a group of parts, as there are links among them."""
        return super().done().replace('role="img"', 'role="group"', 1)


def plot_px(wide_px: float) -> tuple[float, float]:
    """From where to where times are drawn."""
    return LEFT_PX, wide_px - RIGHT_PX


def zoom_svg(zoom: Zoom) -> str:
    """The picture; a sentence where there is nothing."""
    known = [each for each in (*zoom.lows, *zoom.highs, *_seen_dips(zoom)) if isfinite(each)]
    if not (known or zoom.failed or zoom.bounds or zoom.ranges or zoom.gaps):
        return sentence(NOTHING, zoom.wide_px)
    low, high = (min(known), max(known)) if known else (0.0, zoom.least)
    room = 0.06 * (high - low) + max(0.0, zoom.least - (high - low)) / 2.0
    bottom = TOP_PX + HIGH_PX
    up = Axis(low - room, high + room, bottom, TOP_PX)
    left, right = plot_px(zoom.wide_px)
    across = Axis(zoom.from_us, zoom.to_us, left, right)
    lanes = lanes_of(zoom, across)
    high_px = bottom + FOOT_PX + LANE_PX * (1 + max((lane for lane, _ in lanes), default=-1)) + 6.0
    svg = _Linked(zoom.wide_px, high_px, _said(zoom, known), SCREEN.sheet)
    svg.hatch(GAPS, 7.0, 45.0, SCREEN.hairline, 1.0)
    svg.hatch(FAILED, 5.0, -45.0, SCREEN.secondary, 1.4)
    svg.clip("log-plot", points([(left, TOP_PX), (right, TOP_PX), (right, bottom), (left, bottom)]))
    _shades(svg, zoom, across, bottom)
    _frame(svg, zoom, across, up)
    _values(svg, zoom, across, up)
    for lane, each in lanes:
        _range(svg, each, across, bottom + FOOT_PX + LANE_PX * lane)
    return svg.done()


def lanes_of(zoom: Zoom, across: Axis) -> list[tuple[int, Range]]:
    """The lane of each finding that reaches into the picture, so that no two lie over each other."""
    free: list[float] = []
    found = []
    for each in zoom.ranges:
        if each.to_us < zoom.from_us or each.from_us > zoom.to_us:
            continue
        begin, end = _ends(each, across)
        words = text_width(_name(each), WORDS)
        start = min(begin, across.end - words)
        lane = next((at for at, until in enumerate(free) if until <= start), len(free))
        if lane >= MOST_LANES:
            continue
        free[lane : lane + 1] = [max(end, start + words) + 10.0]
        found.append((lane, each))
    return found


def _name(each: Range) -> str:
    return f"{each.number} {each.title}"


def _ends(each: Range, across: Axis) -> tuple[float, float]:
    begin = min(max(across.at(each.from_us), across.start), across.end - 3.0)
    return begin, max(min(across.at(each.to_us), across.end), begin + 3.0)


def _range(svg: _Linked, each: Range, across: Axis, top: float) -> None:
    """A bar as long as the finding, its number and name above it."""
    begin, end = _ends(each, across)
    words = fit(_name(each), WORDS, across.end - across.start)
    start = max(across.start, min(begin, across.end - text_width(words, WORDS)))
    svg.open_link(each.href, f"Finding {_name(each)}: show its time")
    svg.rect(start, top, max(end, start + text_width(words, WORDS)) - start, LANE_PX - 1.0, SCREEN.sheet)
    svg.text(start, top + 12.0, words, WORDS)
    svg.rect(begin, top + 15.0, end - begin, BAR_PX, SCREEN.blocks)
    svg.close_link()


def _shades(svg: Svg, zoom: Zoom, across: Axis, bottom: float) -> None:
    svg.open_clip("log-plot")
    for tinted in zoom.ranges:
        if tinted.from_us <= zoom.from_us and tinted.to_us >= zoom.to_us:
            continue  # where everything is tinted nothing is
        begin, end = across.at(tinted.from_us), across.at(tinted.to_us)
        svg.rect(begin, TOP_PX, max(end - begin, 1.0), HIGH_PX, SCREEN.tint)
    for hatch, words, shades in ((GAPS, "no rows", zoom.gaps), (FAILED, "no level", zoom.failed)):
        for each in shades:
            begin, end = max(across.at(each.from_us), across.start), min(across.at(each.to_us), across.end)
            wide = max(end - begin, 1.5)
            svg.rect(begin, TOP_PX, wide, HIGH_PX, SCREEN.sheet)
            svg.rect(begin, TOP_PX, wide, HIGH_PX, f"url(#{hatch})")
            if wide >= ROOM_FOR_WORDS_PX:
                svg.text((begin + end) / 2.0, TOP_PX + HIGH_PX / 2.0, words, WORDS, "middle", SCREEN.sheet)
    svg.close_group()
    for each in zoom.bounds:
        begin, end = max(across.at(each.from_us), across.start), min(across.at(each.to_us), across.end)
        edge = TOP_PX if each.is_high else bottom - 6.0
        svg.rect(begin, edge, max(end - begin, 2.0), 6.0, SCREEN.ink)
        if end - begin >= 2.0 * ROOM_FOR_WORDS_PX:
            words, y = ("this or higher", TOP_PX + 20.0) if each.is_high else ("this or lower", bottom - 12.0)
            svg.text((begin + end) / 2.0, y, words, WORDS, "middle", SCREEN.sheet)


def _frame(svg: Svg, zoom: Zoom, across: Axis, up: Axis) -> None:
    """Hairlines, ticks, names."""
    for y, words in up.ticks(30.0):
        svg.line(across.start, y, across.end, y, SCREEN.hairline, 0.6)
        svg.text(across.start - 6, y + 4, words, TICK, "end")
    px_per_us = (across.end - across.start) / (zoom.to_us - zoom.from_us)
    for us, words in time_ticks(zoom.from_us, zoom.to_us, px_per_us, 78.0):
        x = across.at(us)
        svg.line(x, up.start, x, up.start + 5, SCREEN.ink, 0.9)
        half = text_width(words, TICK) / 2.0
        if x + half <= across.end + RIGHT_PX - 2.0:
            svg.text(x, up.start + 18, words, TICK, "middle")
    svg.path(points([(across.start, up.end), (across.start, up.start), (across.end, up.start)]), SCREEN.ink)
    svg.text(2, 13, zoom.name, WORDS)
    svg.text(across.end, 13, "time in UTC", TICK, "end")


def _values(svg: Svg, zoom: Zoom, across: Axis, up: Axis) -> None:
    """One stroke for each column or one point for each row, joined to the next where that is near; then the dips."""
    data, before, before_us = [], "", -1e30
    for us, low, high in zip(zoom.at_us, zoom.lows, zoom.highs, strict=True):
        if not (isfinite(low) and isfinite(high)):
            before = "" if zoom.is_rows else before
            continue
        x, foot, head = number(across.at(us)), number(up.at(low)), number(up.at(high))
        joined = before and us - before_us <= zoom.joined_us
        data.append(f"{'L' if joined else 'M'}{x} {foot}" + ("" if foot == head and joined else f"L{x} {head}"))
        before, before_us = head, us
    svg.open_clip("log-plot")
    svg.path("".join(data), SCREEN.accent, 1.3)
    if zoom.is_rows and len(zoom.at_us) <= (across.end - across.start) / 6.0:
        for us, value in zip(zoom.at_us, zoom.lows, strict=True):
            if isfinite(value):
                svg.rect(across.at(us) - 1.8, up.at(value) - 1.8, 3.6, 3.6, SCREEN.accent)
    for us, value in zoom.dips:
        at, y = across.at(us), up.at(value)
        corners = [(at, y - 5), (at + 5, y), (at, y + 5), (at - 5, y), (at, y - 5)]
        svg.path(points(corners), SCREEN.ink, 1.2, fill=SCREEN.sheet)
    svg.close_group()


def _seen_dips(zoom: Zoom) -> list[float]:
    return [value for us, value in zoom.dips if zoom.from_us <= us <= zoom.to_us]


def _said(zoom: Zoom, known: list[float]) -> str:
    """The picture in words."""
    said = f"Between {min(known):.4g} and {max(known):.4g}" if known else "No value"
    within = [each for each in zoom.ranges if each.to_us >= zoom.from_us and each.from_us <= zoom.to_us]
    findings = f"findings {', '.join(str(each.number) for each in within)}" if within else "no finding"
    return f"{zoom.name} over time. {said}; {findings}; dips: {len(_seen_dips(zoom))}."
