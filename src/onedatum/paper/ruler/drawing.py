"""The ruler: one height, and everything that stands on it."""

from dataclasses import dataclass
from math import isfinite

from onedatum.paper.model import Ruler
from onedatum.paper.ruler.elevation import Elevation, draw_elevation, elevation_of
from onedatum.paper.ruler.frame import HEAD_PX, Frame, frame_of
from onedatum.paper.ruler.layout import READOUT_REACH, Lane, lanes_of, readout
from onedatum.paper.ruler.look import PRINT, Look
from onedatum.paper.ruler.marks import Column, column_of, draw_column, draw_mark_lines, draw_working_range
from onedatum.paper.ruler.scales import Ground, anchor, draw_scales, draw_stop_fields
from onedatum.paper.ruler.strokes import DEAD_HATCH, RESPONSE_HATCH, define_hatches, is_quiet
from onedatum.paper.ruler.svg import Style, Svg, fit, points

MARGIN_PX, BRACKET_PX, GRIP_PX = 10.0, 16.0, 28.0
LEVEL_LINE, READOUTS = "moves-line", "readouts"
NARROWEST_PX, WIDEST_PX = 240.0, 10_000.0
NO_DRAWING = "No drawing: the heights of the vessel are not known or leave nothing to draw."


@dataclass(frozen=True, slots=True)
class Placed:
    """Where the parts of a drawing stand, for whoever moves the level line over it."""

    frame: Frame
    view: Elevation | None
    column: Column
    lanes: tuple[Lane, ...]
    right_px: float


def ruler_svg(ruler: Ruler, width_px: float = 760.0, height_px: float = 720.0, look: Look = PRINT) -> str:
    """The whole drawing as SVG text; the same bytes for the same ruler."""
    return ruler_drawing(ruler, width_px, height_px, look)[0]


def ruler_drawing(ruler: Ruler, width_px: float, height_px: float, look: Look) -> tuple[str, Placed | None]:
    """The drawing, and where its parts stand; nothing stands where there is nothing to draw."""
    width_px, height_px = sheet_px(width_px), sheet_px(height_px)
    svg = Svg(width_px, height_px, description(ruler), look.sheet, look.live)
    frame = frame_of(ruler, height_px) if width_px >= NARROWEST_PX else None
    if frame is None:
        style = Style(look.mark_size, look.ink)
        svg.text(MARGIN_PX, 24, fit(NO_DRAWING, style, max(width_px - 2 * MARGIN_PX, 60)), style)
        return svg.done(), None
    placed = draw(svg, ruler, frame, width_px, look)
    return svg.done(), placed


def all_fit(ruler: Ruler, width_px: float, height_px: float, look: Look) -> bool:
    """Whether every scale has room in a drawing of this size; nothing is drawn for it."""
    width_px = sheet_px(width_px)
    frame = frame_of(ruler, sheet_px(height_px)) if width_px >= NARROWEST_PX else None
    return frame is None or len(stand_in(ruler, frame, width_px, look)[2]) == len(ruler.scales)


def stand_in(ruler: Ruler, frame: Frame, width_px: float, look: Look) -> tuple[Elevation | None, Column, list[Lane]]:
    """Where elevation, marks and scales stand beside each other."""
    view = elevation_of(ruler, frame, width_px, look.elevation_share)
    level_m = ruler.level_m if ruler.level_m is not None and frame.shows(ruler.level_m) else None
    column = column_of(ruler, frame, MARGIN_PX if view is None else view.right_px + 13, look)
    right = right_edge(ruler, width_px, look)
    return view, column, lanes_of(ruler.scales, frame, level_m, column.scales_px + 8, right, look)


def sheet_px(size: float) -> float:
    """A size of the sheet that can be drawn on."""
    return min(max(size, 100.0), WIDEST_PX) if isfinite(size) else 100.0


def draw(svg: Svg, ruler: Ruler, frame: Frame, width_px: float, look: Look) -> Placed:
    """From the back to the front: bands, lines of the marks, scales, words, vessel, level."""
    level_m = ruler.level_m if ruler.level_m is not None and frame.shows(ruler.level_m) else None
    level_y = None if level_m is None else frame.y(level_m)
    view, column, lanes = stand_in(ruler, frame, width_px, look)
    right = max([column.scales_px + 30, *(lane.left_px + lane.width_px for lane in lanes)])
    define_hatches(svg, look)
    draw_bands(svg, ruler, column, frame, right, look)
    draw_stop_fields(svg, lanes, ruler, frame, look)
    draw_mark_lines(svg, column, ruler, frame, right, look)
    draw_scales(svg, lanes, ruler, frame, ground_of(ruler, frame, level_y, look), look)
    svg.line(column.scales_px, HEAD_PX - 3.5, right, HEAD_PX - 3.5, look.ink, 0.9)
    draw_working_range(svg, ruler, column, frame, level_y, look)
    if view is not None:
        draw_elevation(svg, ruler, view, look)
    line_y = frame.bottom_px if level_y is None and look.live else level_y
    if line_y is not None:
        draw_level_line(svg, view, column, line_y, look)
    draw_column(svg, column, level_y, look)
    if level_y is not None:
        draw_readouts(svg, lanes, column, frame, level_y, right, level_m, look)
    draw_heads(svg, ruler, view, column, frame, look)
    draw_brackets(svg, ruler, frame, right, look)
    return Placed(frame, view, column, tuple(lanes), right)


def right_edge(ruler: Ruler, width_px: float, look: Look) -> float:
    """Right edge of the scales; brackets stand beyond it, and what a reader moves the level line by."""
    beyond = max(BRACKET_PX if ruler.brackets else 0.0, GRIP_PX if look.live else 0.0)
    return width_px - MARGIN_PX - beyond


def draw_brackets(svg: Svg, ruler: Ruler, frame: Frame, right_px: float, look: Look) -> None:
    """A bracket with its letter beside the span of each detail."""
    for bracket in ruler.brackets:
        top, foot = frame.y(bracket.span.high_m) - 4, frame.y(bracket.span.low_m) + 4
        way = [(right_px + 3, top), (right_px + 7, top), (right_px + 7, foot), (right_px + 3, foot)]
        svg.path(points(way), look.ink, 1)
        svg.text(right_px + 11, (top + foot) / 2 + 4, bracket.letter, Style(look.mark_size, look.ink, True))


def draw_heads(svg: Svg, ruler: Ruler, view: Elevation | None, column: Column, frame: Frame, look: Look) -> None:
    """What the two left columns are, and from where heights are measured."""
    bold, soft = Style(look.mark_size, look.ink, True), Style(look.tick_size, look.secondary)
    if view is not None:
        svg.text(view.axis_px + 14, 15, "Elevation", bold)
        svg.text(view.axis_px + 14, 29, fit(f"{ruler.section}, mm", soft, column.left_px - view.axis_px - 18), soft)
    svg.text(column.left_px, 15, "Marks", bold)
    svg.text(column.left_px, 29, "mm over datum", soft)
    left = column.scales_px + 8 if view is None else view.axis_px + 14
    room = 200.0 if view is None else column.left_px - left - 6
    if ruler.datum:
        svg.text(left, frame.bottom_px + 11, fit(f"datum: {ruler.datum}", soft, room), soft)


def draw_bands(svg: Svg, ruler: Ruler, column: Column, frame: Frame, right_px: float, look: Look) -> None:
    """Tint outside the range, hatch in the dead zones, counter-hatch for what comes in during the response time."""
    wide = right_px - column.scales_px
    for kind in ("outside range", "dead zone", "response time"):
        for band in ruler.bands:
            if band.kind != kind or not (isfinite(band.low_m) and isfinite(band.high_m)):
                continue
            top, high = frame.y(band.high_m), frame.y(band.low_m) - frame.y(band.high_m)
            if kind == "outside range":
                svg.rect(column.scales_px, top, wide, high, look.tint)
            elif kind == "dead zone":
                svg.rect(column.scales_px, top, wide, high, f"url(#{DEAD_HATCH})", 0.5)
            else:
                svg.rect(column.scales_px, top, 7, high, f"url(#{RESPONSE_HATCH})")


def ground_of(ruler: Ruler, frame: Frame, level_y: float | None, look: Look) -> Ground:
    """What the numbers of the scales stand on."""
    lines = tuple(frame.y(m.height_m) for m in ruler.marks if frame.shows(m.height_m))
    spans = {
        kind: tuple((frame.y(b.high_m), frame.y(b.low_m)) for b in ruler.bands if b.kind == kind and b.low_m < b.high_m)
        for kind in ("dead zone", "outside range")
    }
    covered = (0.0, 0.0) if level_y is None else readout_span(frame, level_y, look)
    return Ground(lines, spans["dead zone"], spans["outside range"], covered)


def readout_span(frame: Frame, level_y: float, look: Look) -> tuple[float, float]:
    """The readouts stand on the level line, below it where there is no room above."""
    above = level_y - look.band_height >= frame.top_px - 2
    return (level_y - look.band_height, level_y) if above else (level_y, level_y + look.band_height)


def draw_level_line(svg: Svg, view: Elevation | None, column: Column, level_y: float, look: Look) -> None:
    """The hairline at the level, from the axis into the scales."""
    left = column.scales_px if view is None else view.axis_px + 6
    svg.open_moved(LEVEL_LINE, 0.0, level_y)
    svg.line(left, 0.0, column.scales_px, 0.0, look.accent, 1.4)
    svg.close_group()


def draw_readouts(
    svg: Svg,
    lanes: list[Lane],
    column: Column,
    frame: Frame,
    level_y: float,
    right_px: float,
    level_m: float | None,
    look: Look,
) -> None:
    """The band that carries the readout of every scale, like the cursor of a slide rule."""
    top, foot = readout_span(frame, level_y, look)
    svg.open_group(READOUTS)
    svg.rect(column.scales_px, top, right_px - column.scales_px, foot - top, look.accent)
    style = Style(look.readout_size, look.on_accent, True)
    for lane in lanes:
        x, y = lane.spine_px + lane.side * READOUT_REACH, (top + foot) / 2 + 4.3
        svg.text(x, y, readout(lane.scale, level_m), style, anchor(lane))
        svg.line(lane.spine_px, top + 3, lane.spine_px, foot - 3, look.on_accent, 0.5)
    svg.close_group()


def description(ruler: Ruler) -> str:
    """The drawing in words, for who cannot see it; the table of marks says the rest."""
    marks = [f"{m.name} {m.height_m * 1000:.0f} mm" for m in ruler.marks if not is_quiet(m) and isfinite(m.height_m)]
    level = f" Level {ruler.level_m * 1000:.0f} mm." if ruler.level_m is not None and isfinite(ruler.level_m) else ""
    scales = ", ".join(s.name for s in ruler.scales)
    what = f"Elevation of the vessel, {ruler.section}, beside its scales ({scales}), heights over {ruler.datum}."
    return f"{what}{level} Marks: {', '.join(marks)}."
