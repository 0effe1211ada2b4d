"""The column of marks: names, numbers and leaders, moved apart where they are close."""

from dataclasses import dataclass
from itertools import pairwise

from onedatum.paper.model import Mark, Ruler
from onedatum.paper.ruler.frame import Frame
from onedatum.paper.ruler.look import Look
from onedatum.paper.ruler.place import place_labels
from onedatum.paper.ruler.strokes import is_quiet, mark_stroke, name_colour
from onedatum.paper.ruler.svg import Style, Svg, fit, points, text_width
from onedatum.paper.ruler.ticks import decimal

LEADER_PX = 17.0
LONGEST_NAME_PX = 120.0
GIVEN_UP_FIRST = ("datum", "geometry", "dead zone")


@dataclass(frozen=True, slots=True)
class Label:
    """A mark with where its words stand and where its line lies."""

    mark: Mark
    words_y: float
    line_y: float


@dataclass(frozen=True, slots=True)
class Column:
    """The column of marks, from its left edge to where the scales begin."""

    left_px: float
    numbers_px: float
    scales_px: float
    labels: tuple[Label, ...]


def column_of(ruler: Ruler, frame: Frame, left_px: float, look: Look) -> Column:
    """All marks inside the frame, from the top, as many as fit."""
    marks = sorted((m for m in ruler.marks if frame.shows(m.height_m)), key=lambda m: -m.height_m)
    top, bottom = frame.top_px - 2, frame.bottom_px + 10
    kept = as_many_as_fit(marks, int((bottom - top) / look.row_gap) + 1)
    lines = [frame.y(m.height_m) for m in kept]
    places = place_labels(lines, look.row_gap, top, bottom)
    names = max((min(text_width(m.name, name_style(m, look)), LONGEST_NAME_PX) for m in kept), default=30.0)
    numbers = max((text_width(height_text(m), name_style(m, look)) for m in kept), default=20.0)
    right = left_px + max(names, 34.0) + 9 + numbers
    return Column(left_px, right, right + LEADER_PX, tuple(map(Label, kept, places, lines)))


def as_many_as_fit(marks: list[Mark], room: int) -> list[Mark]:
    """Drop the datum, then geometry, then dead zones until the rest fits; what the order asks for stays."""
    for kind in GIVEN_UP_FIRST:
        if len(marks) > room:
            marks = [m for m in marks if m.kind != kind or m.blocks]
    return marks[:room]


def height_text(mark: Mark) -> str:
    """The height of a mark in whole millimetres."""
    return decimal(mark.height_m * 1000, 0)


def name_style(mark: Mark, look: Look) -> Style:
    """How a mark's words are set."""
    return Style(look.mark_size, name_colour(mark, look), not is_quiet(mark))


def draw_mark_lines(svg: Svg, column: Column, ruler: Ruler, frame: Frame, right_px: float, look: Look) -> None:
    """Each mark's line over all scales, those without words too."""
    for mark in sorted(ruler.marks, key=lambda m: (m.blocks, not is_quiet(m))):
        if frame.shows(mark.height_m):
            y, stroke = frame.y(mark.height_m), mark_stroke(mark, look)
            svg.line(column.scales_px, y, right_px, y, stroke.colour, stroke.width, stroke.dash)


def draw_column(svg: Svg, column: Column, level_y: float | None, look: Look) -> None:
    """Names left, numbers right-aligned, leaders into the lines."""
    for label in column.labels:
        near = look.live or (level_y is not None and abs(label.words_y - level_y) < look.row_gap / 2 + 2)
        draw_label(svg, label, column, look.sheet if near else "", look)


def draw_label(svg: Svg, label: Label, column: Column, halo: str, look: Look) -> None:
    """One label; an assumed mark has its number underlined with dashes."""
    style, y = name_style(label.mark, look), label.words_y + 4
    leader = look.blocks if label.mark.blocks else look.secondary
    way = [
        (column.numbers_px + 2, label.words_y),
        (column.scales_px - 4, label.line_y),
        (column.scales_px, label.line_y),
    ]
    svg.path(points(way), leader, 0.8)
    room = column.numbers_px - column.left_px - text_width(height_text(label.mark), style) - 5
    svg.text(column.left_px, y, fit(label.mark.name, style, room), style, halo=halo)
    svg.text(column.numbers_px, y, height_text(label.mark), style, "end", halo)
    if label.mark.assumed:
        left = column.numbers_px - text_width(height_text(label.mark), style)
        svg.line(left, y + 2.6, column.numbers_px, y + 2.6, look.assumed, 1.1, "3 2")


def draw_working_range(svg: Svg, ruler: Ruler, column: Column, frame: Frame, level_y: float | None, look: Look) -> None:
    """The bar from LRV to URV, its words upright in the widest gap between leaders."""
    span = ruler.working_range
    if span is None:
        return
    top, foot = frame.y(span.high_m), frame.y(span.low_m)
    svg.rect(column.scales_px, top, 3, foot - top, look.ink)
    style = Style(look.tick_size, look.secondary)
    wide = text_width(span.text, style)
    taken = [y for label in column.labels for y in (label.words_y, label.line_y)]
    stations = sorted([top, foot, *(y for y in taken + ([] if level_y is None else [level_y]) if top < y < foot)])
    gap = max(pairwise(stations), key=lambda ab: ab[1] - ab[0], default=(top, top))
    if gap[1] - gap[0] > wide + 16:
        svg.upright_text(column.scales_px - 7, (gap[0] + gap[1]) / 2, span.text, style)
