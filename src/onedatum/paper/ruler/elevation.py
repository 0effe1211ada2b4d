"""The half elevation: vessel, nozzle, stem and liquid, true to scale, with the conventions of the drawing board."""

from dataclasses import dataclass
from itertools import pairwise
from math import isfinite

from onedatum.paper.model import Mark, Nozzle, Ruler, Stem
from onedatum.paper.ruler.frame import Frame
from onedatum.paper.ruler.look import Look
from onedatum.paper.ruler.strokes import DEAD_HATCH, Stroke, mark_stroke
from onedatum.paper.ruler.svg import Style, Svg, number, points, text_width
from onedatum.paper.ruler.tables import interpolate
from onedatum.paper.ruler.ticks import decimal

AXIS_PX = 16.0
WIDEST_SHARE_OF_FEW = 0.5
MARKS_PX, SCALE_PX = 190.0, 58.0
VESSEL_CLIP, SHEET_CLIP = "ruler-vessel", "ruler-elevation"
LIQUID, FLOAT = "moves-liquid", "moves-float"

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Elevation:
    """Where the half section stands: its axis, its drawn width, and whether it is broken off at the wall side."""

    outline: tuple[Point, ...]
    frame: Frame
    axis_px: float
    width_px: float
    broken: bool

    def x(self, radius_m: float) -> float:
        """Where a distance from the axis lies on the sheet."""
        return self.axis_px + radius_m * self.frame.px_per_m

    def at(self, point: Point) -> Point:
        """Where a point of the section lies on the sheet."""
        return self.x(point[0]), self.frame.y(point[1])

    @property
    def right_px(self) -> float:
        """Right edge of the elevation."""
        return self.axis_px + self.width_px


def elevation_of(ruler: Ruler, frame: Frame, sheet_px: float, share: float) -> Elevation | None:
    """The elevation, or None where the outline is unknown or not drawable."""
    outline = tuple((abs(r), h) for r, h in ruler.outline if isfinite(r) and isfinite(h))
    widest = max((r for r, _ in outline), default=0.0)
    if len(outline) < 2 or widest <= 0:
        return None
    wide, room = widest * frame.px_per_m, room_px(len(ruler.scales), sheet_px, share)
    return Elevation(outline, frame, AXIS_PX, min(wide, room), wide > room)


def room_px(scales: int, sheet_px: float, share: float) -> float:
    """Room for the half section: a third of the sheet, more where few scales leave it."""
    left_over = sheet_px - MARKS_PX - SCALE_PX * scales
    return max(share * sheet_px, min(WIDEST_SHARE_OF_FEW * sheet_px, left_over))


def draw_elevation(svg: Svg, ruler: Ruler, view: Elevation, look: Look) -> None:
    """Everything of the elevation but the level line, which crosses the whole sheet."""
    top = view.frame.top_px
    right, foot = number(view.right_px + 3), number(view.frame.bottom_px + 8)
    svg.clip(SHEET_CLIP, f"M-4 {number(top - 12)}H{right}V{foot}H-4")
    svg.clip(VESSEL_CLIP, f"{points([view.at(p) for p in closed(view.outline)])}")
    svg.open_clip(SHEET_CLIP)
    draw_contents(svg, ruler, view, look)
    draw_wall_marks(svg, ruler.marks, view, look)
    draw_wall(svg, ruler, view, look)
    svg.close_group()
    draw_axis(svg, ruler.stem, view, look)
    if ruler.stem:
        draw_stem(svg, ruler.stem, ruler.level_m, view, look)
    if view.broken:
        draw_break_line(svg, view, look)
    draw_diameter(svg, ruler, view, look)


def closed(outline: tuple[Point, ...]) -> list[Point]:
    """The outline closed over the axis."""
    return [(0.0, outline[0][1]), *outline, (0.0, outline[-1][1])]


def draw_contents(svg: Svg, ruler: Ruler, view: Elevation, look: Look) -> None:
    """Liquid up to the level, dead zones hatched, both inside the vessel only."""
    frame = view.frame
    svg.open_clip(VESSEL_CLIP)
    level_y = moving_y(ruler.level_m, frame, look)
    if level_y is not None:
        svg.open_moved(LIQUID, 0.0, level_y)
        svg.rect(view.axis_px, 0.0, view.width_px + 4, frame.bottom_px - frame.top_px + 20, look.liquid)
        svg.close_group()
    for band in ruler.bands:
        if band.kind == "dead zone":
            top, foot = frame.y(band.high_m), frame.y(band.low_m)
            svg.rect(view.axis_px, top, view.width_px + 4, foot - top, f"url(#{DEAD_HATCH})", 0.55)
    svg.close_group()


def draw_wall(svg: Svg, ruler: Ruler, view: Elevation, look: Look) -> None:
    """The wall, open where the nozzle stands, and the nozzle with its flange."""
    nozzle = ruler.nozzle
    for run in wall_runs(view.outline, nozzle):
        svg.path(points([view.at(p) for p in run]), look.ink, 2)
    if nozzle:
        draw_nozzle(svg, nozzle, view, look)


def wall_runs(outline: tuple[Point, ...], nozzle: Nozzle | None) -> list[list[Point]]:
    """The wall as runs of points; in its upper half it is open over the bore of the nozzle."""
    if nozzle is None or not nozzle.bore_m > 0:
        return [list(outline)]
    left, right = nozzle.offset_m - nozzle.bore_m / 2, nozzle.offset_m + nozzle.bore_m / 2
    middle = (outline[0][1] + outline[-1][1]) / 2
    runs: list[list[Point]] = [[]]
    for before, after in pairwise(outline):
        for a, b in split_at(before, after, (left, right)):
            inside = left < (a[0] + b[0]) / 2 < right and min(a[1], b[1]) > middle
            if inside:
                runs.append([])
            else:
                runs[-1] += [b] if runs[-1] else [a, b]
    return [run for run in runs if run]


def split_at(a: Point, b: Point, radii: tuple[float, float]) -> list[tuple[Point, Point]]:
    """A piece of wall cut where it crosses the given radii."""
    shares = sorted(s for r in radii if a[0] != b[0] and 0 < (s := (r - a[0]) / (b[0] - a[0])) < 1)
    stations = [a, *((a[0] + (b[0] - a[0]) * s, a[1] + (b[1] - a[1]) * s) for s in shares), b]
    return list(pairwise(stations))


def draw_nozzle(svg: Svg, nozzle: Nozzle, view: Elevation, look: Look) -> None:
    """Nozzle walls from the head to the flange face, and the flange; on the axis only the right half."""
    half, face = nozzle.bore_m / 2, view.frame.y(nozzle.face_m)
    walls = [r for r in (nozzle.offset_m - half, nozzle.offset_m + half) if r > 0]
    for radius in walls:
        foot = min(view.frame.y(foot_height(view.outline, radius, nozzle.foot_m)), view.frame.bottom_px)
        svg.line(view.x(radius), foot, view.x(radius), face, look.ink, 2)
    flange_left = view.axis_px if nozzle.offset_m - half <= 0 else view.x(nozzle.offset_m - half) - 9
    svg.line(flange_left, face, view.x(nozzle.offset_m + half) + 9, face, look.ink, 3)


def foot_height(outline: tuple[Point, ...], radius: float, otherwise: float) -> float:
    """Height of the upper head at a distance from the axis."""
    middle = (outline[0][1] + outline[-1][1]) / 2
    crossings = [
        h0 + (h1 - h0) * (radius - r0) / (r1 - r0)
        for (r0, h0), (r1, h1) in pairwise(outline)
        if r0 != r1 and min(r0, r1) <= radius <= max(r0, r1) and min(h0, h1) >= middle
    ]
    return crossings[-1] if crossings else otherwise


def draw_stem(svg: Svg, stem: Stem, level_m: float | None, view: Elevation, look: Look) -> None:
    """Head on the flange, stem down to its tip, float at the level."""
    x, face, tip = view.x(stem.offset_m), view.frame.y(stem.face_m), view.frame.y(stem.tip_m)
    svg.line(x + 0.5, face - 9, x + 0.5, tip, look.ink, 3)
    svg.rect(x - 1, face - 13, 10, 12, look.ink)
    level_y = moving_y(level_m, view.frame, look)
    if level_y is not None and has_float(stem):
        draw_float(svg, stem, level_m, view, look)


def moving_y(level_m: float | None, frame: Frame, look: Look) -> float | None:
    """Where a part that follows the level stands; None where there is no level and nobody moves it."""
    if level_m is not None and isfinite(level_m):
        return frame.y(level_m)
    return frame.bottom_px if look.live else None


def has_float(stem: Stem) -> bool:
    """Whether all three sizes of the float are known."""
    sizes = (stem.float_diameter_m, stem.float_height_m, stem.float_immersion_m)
    return all(s is not None and isfinite(s) and s > 0 for s in sizes)


def draw_float(svg: Svg, stem: Stem, level_m: float | None, view: Elevation, look: Look) -> None:
    """The float, dipped to its immersion, never below the tip of the stem."""
    diameter, height, immersion = (
        s or 0.0 for s in (stem.float_diameter_m, stem.float_height_m, stem.float_immersion_m)
    )
    k = view.frame.px_per_m
    wide, high = max(6.0, diameter * k), max(6.0, height * k)
    foot = view.frame.y(max((stem.tip_m if level_m is None else level_m) - immersion, stem.tip_m))
    svg.open_moved(FLOAT, view.x(stem.offset_m), foot)
    corners = [(-wide / 2, -high), (wide / 2, -high), (wide / 2, 0.0), (-wide / 2, 0.0)]
    svg.path(points(corners) + "Z", look.ink, 1.5, fill=look.sheet)
    svg.close_group()


def draw_axis(svg: Svg, stem: Stem | None, view: Elevation, look: Look) -> None:
    """Centre line beyond the ends of what lies on it, with the two short strokes of symmetry at both ends."""
    x, top, foot = view.axis_px + 0.5, view.frame.top_px - 16, view.frame.bottom_px + 10
    if stem and stem.offset_m == 0:
        svg.line(x, top, x, max(top + 8, view.frame.y(stem.face_m) - 14), look.secondary)
        svg.line(x, view.frame.y(stem.tip_m) + 3, x, foot, look.secondary)
    else:
        svg.line(x, top, x, foot, look.secondary, 1, "12 3 2 3")
    for y in (top + 2, top + 6, foot - 6, foot - 2):
        svg.line(x - 5.5, y, x + 5.5, y, look.secondary)


def draw_wall_marks(svg: Svg, marks: tuple[Mark, ...], view: Elevation, look: Look) -> None:
    """Short strokes at the wall for range, alarms and critical level, in the dashes of their lines."""
    for mark in marks:
        if mark.kind not in ("range", "critical", "alarm") or not isfinite(mark.height_m):
            continue
        radius = radius_at(view.outline, mark.height_m)
        if radius > 0:
            x, y = min(view.x(radius), view.right_px), view.frame.y(mark.height_m)
            stroke: Stroke = mark_stroke(mark, look)
            svg.line(x - 13, y, x - 1, y, stroke.colour, stroke.width, stroke.dash)


def radius_at(outline: tuple[Point, ...], height_m: float) -> float:
    """Greatest inside radius at a height; 0 outside the vessel."""
    found = [
        interpolate(height_m, (min(h0, h1), max(h0, h1)), (r0, r1) if h0 <= h1 else (r1, r0))
        for (r0, h0), (r1, h1) in pairwise(outline)
        if min(h0, h1) <= height_m <= max(h0, h1)
    ]
    return max(found, default=0.0)


def draw_break_line(svg: Svg, view: Elevation, look: Look) -> None:
    """A long break line where a wide vessel is cut off, never squeezed."""
    heights = [h for _, h in view.outline]
    x, top, foot = view.right_px, view.frame.y(max(heights)), view.frame.y(min(heights))
    third = (foot - top) / 3
    way: list[Point] = [(x, top - 6)]
    for y in (top + third, top + 2 * third):
        way += [(x, y - 9), (x - 6, y - 3), (x + 6, y + 3), (x, y + 9)]
    svg.path(points([*way, (x, foot + 6)]), look.secondary)


def draw_diameter(svg: Svg, ruler: Ruler, view: Elevation, look: Look) -> None:
    """The inside diameter over the half section: one arrow at the wall, its number clear of level line and stem."""
    widest = max(r for r, _ in view.outline)
    y = diameter_y(view, ruler.level_m)
    left, right = view.axis_px + 3, view.right_px - 2
    style = Style(look.tick_size, look.ink)
    label = decimal(2000 * widest, 0)
    wide = text_width(label, style) + 13
    free_left, free_right = free_of_stem(ruler.stem, view, left, right)
    if free_right - free_left < wide + 8:
        return
    svg.line(left, y, right, y, look.secondary)
    svg.path(f"M{number(right)} {number(y)}l-7 -2.5v5z", look.secondary, 0.5, fill=look.secondary)
    start = (free_left + free_right - wide) / 2
    if ruler.is_round:
        draw_diameter_sign(svg, start + 4.5, y - 8.8, look)
    svg.text(start + 13, y - 5, label, style)


def free_of_stem(stem: Stem | None, view: Elevation, left: float, right: float) -> tuple[float, float]:
    """The wider part of the half section beside the stem."""
    x = view.x(stem.offset_m) if stem and isfinite(stem.offset_m) else left
    if not left < x < right:
        return left, right
    return (left, x - 4) if x - left > right - x else (x + 4, right)


def diameter_y(view: Elevation, level_m: float | None) -> float:
    """A third up the vessel, or a quarter where the level line would be too near."""
    low, high = min(h for _, h in view.outline), max(h for _, h in view.outline)
    choices = [view.frame.y(low + share * (high - low)) for share in (0.34, 0.5, 0.24)]
    if level_m is None or not isfinite(level_m):
        return choices[0]
    level = view.frame.y(level_m)
    return next((y for y in choices if not -4 < y - level < 26), choices[0])


def draw_diameter_sign(svg: Svg, x: float, y: float, look: Look) -> None:
    """The sign for diameter, drawn, since the main font lacks it."""
    r = 3.3
    ring = f"M{number(x - r)} {number(y)}a{r} {r} 0 1 0 {2 * r} 0a{r} {r} 0 1 0 {-2 * r} 0"
    svg.path(f"{ring}M{number(x - r - 0.8)} {number(y + r + 0.8)}l{2 * r + 1.6} {-(2 * r + 1.6)}", look.ink, 0.9)
