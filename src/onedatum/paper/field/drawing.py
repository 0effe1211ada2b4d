"""The field in three windows, each to its own scale: all of it, the end of the rod, its ring in the roof."""

from html import escape
from math import isfinite

from onedatum.paper.field.model import FieldDrawing
from onedatum.paper.field.pane import (
    EARTH,
    EARTH_PX,
    QUIET,
    TITLE,
    Pane,
    draw_labels,
    draw_pane,
    draw_scale,
    radius_at,
    sound,
)
from onedatum.paper.ruler.look import PRINT
from onedatum.paper.ruler.svg import Svg, fit

TOP_PX, HIGH_PX, FOOT_PX, GAP_PX, SIDE_PX = 26.0, 330.0, 32.0, 18.0, 6.0
DETAIL_SHARE, DEEPEST, LABEL_PX = 0.27, 0.62, 10.0
ROOM_PX = EARTH_PX + 3.0
TIP_RADII, RING_RADII, TUBE_RADII = (6.0, 30.0), 2.6, 1.25
"""Half a detail is at least and at most so many radii of the rod, or so many of the ring or the tube, wide."""


def field_svg(drawing: FieldDrawing, width_px: float) -> str:
    """The picture, as wide as asked for."""
    svg = Svg(width_px, TOP_PX + HIGH_PX + FOOT_PX, escape(words_of(drawing), quote=True), PRINT.sheet)
    wall = sound(drawing.wall)
    if len(wall) < 2 or not drawable(drawing):
        svg.text(8, TOP_PX, "No field to draw.", QUIET)
        return svg.done()
    svg.hatch(EARTH, 4.5, 45, PRINT.secondary, 0.8)
    shown = [(whole(drawing, width_px), drawing.level_words), (at_end(drawing, width_px), "the end of the rod")]
    if drawing.rod.ring_m is None:
        shown.append((at_surface(drawing, width_px), "the surface"))
    else:
        shown.append((at_ring(drawing, width_px), "the ring in the roof"))
    for pane, title in shown:
        draw_pane(svg, pane, drawing)
        svg.text(pane.left, pane.top - 9, fit(title, TITLE, pane.wide), TITLE)
        draw_labels(svg, pane, drawing)
        draw_scale(svg, pane)
    return svg.done()


def words_of(drawing: FieldDrawing) -> str:
    """The picture in words."""
    lines = ", ".join(line.words for line in drawing.lines)
    return f"{drawing.title}, {drawing.level_words}: lines of equal potential about the rod, {lines} of its voltage."


def drawable(drawing: FieldDrawing) -> bool:
    """Whether its measures are numbers that make a picture."""
    rod = drawing.rod
    numbers = (rod.core_m, rod.outer_m, rod.tip_m, rod.end_m, drawing.level_m)
    wide = max(radius for radius, _ in sound(drawing.wall))
    heights = [height for _, height in sound(drawing.wall)]
    return all(isfinite(number) for number in numbers) and rod.core_m > 0 and wide > 0 and heights[-1] > heights[0]


def whole(drawing: FieldDrawing, width_px: float) -> Pane:
    """All of the vessel."""
    wide = width_px - 2 * SIDE_PX - 2 * (GAP_PX + DETAIL_SHARE * width_px)
    wall = sound(drawing.wall)
    low, high, reach = wall[0][1], wall[-1][1], max(radius for radius, _ in wall)
    scale = min((HIGH_PX - 2 * ROOM_PX) / (high - low), (wide - 2 * ROOM_PX) / (2 * reach))
    foot = 0.5 * (low + high) - 0.5 * HIGH_PX / scale
    return Pane("whole", SIDE_PX, TOP_PX, wide, HIGH_PX, foot, scale, between(drawing))


def at_end(drawing: FieldDrawing, width_px: float) -> Pane:
    """The end of the rod, with the floor under it where that is near."""
    rod, floor = drawing.rod, sound(drawing.wall)[0][1]
    wide = DETAIL_SHARE * width_px
    gap, (least, most) = max(rod.end_m - floor, 0.0), (share * rod.outer_m for share in TIP_RADII)
    scale = tube_scale(drawing, wide) if rod.ring_m is None else 0.5 * wide / min(max(0.6 * gap, least), most)
    foot = rod.end_m - min(gap + ROOM_PX / scale, DEEPEST * HIGH_PX / scale)
    labels = foot + (HIGH_PX - LABEL_PX) / scale
    return Pane("end", width_px - SIDE_PX - 2 * wide - GAP_PX, TOP_PX, wide, HIGH_PX, foot, scale, labels)


def at_ring(drawing: FieldDrawing, width_px: float) -> Pane:
    """The ring that the rod passes the roof by."""
    rod, roof = drawing.rod, sound(drawing.wall)[-1][1]
    wide = DETAIL_SHARE * width_px
    scale = 0.5 * wide / max(RING_RADII * (rod.ring_m or 0.0), TIP_RADII[0] * rod.outer_m)
    foot = roof - (HIGH_PX - ROOM_PX) / scale
    labels = foot + LABEL_PX / scale
    return Pane("ring", width_px - SIDE_PX - wide, TOP_PX, wide, HIGH_PX, foot, scale, labels)


def at_surface(drawing: FieldDrawing, width_px: float) -> Pane:
    """The surface in a tube."""
    wide = DETAIL_SHARE * width_px
    scale = tube_scale(drawing, wide)
    foot = drawing.level_m - 0.5 * HIGH_PX / scale
    labels = foot + LABEL_PX / scale
    return Pane("surface", width_px - SIDE_PX - wide, TOP_PX, wide, HIGH_PX, foot, scale, labels)


def tube_scale(drawing: FieldDrawing, wide_px: float) -> float:
    """The scale at which a tube fills a detail."""
    return 0.5 * wide_px / (TUBE_RADII * max(radius for radius, _ in sound(drawing.wall)))


def between(drawing: FieldDrawing) -> float:
    """A height for the labels clear of surface and ends: half way up liquid or gas, where the lines reach farther."""
    end, roof = drawing.rod.end_m, sound(drawing.wall)[-1][1]
    level = min(max(drawing.level_m, end), roof)
    parts = (0.5 * (end + level), 0.5 * (level + roof))
    return max(parts, key=lambda height: max((radius_at(line, height) for line in drawing.lines), default=0.0))
