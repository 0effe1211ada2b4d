"""The strokes of the drawing: what the plan has placed is drawn from the back to the front."""

from math import hypot

from onedatum.paper.ruler.look import Look
from onedatum.paper.ruler.svg import Style, points
from onedatum.paper.vessel.body import (
    FLANGE_PX,
    bore_of,
    break_ways,
    float_box,
    foot_m,
    head_box,
    stem_line,
    surface,
    wall_runs,
)
from onedatum.paper.vessel.breaks import Figure
from onedatum.paper.vessel.camera import Camera
from onedatum.paper.vessel.datum import WORD, Sign
from onedatum.paper.vessel.dimensions import ARROW_PX, Drawn
from onedatum.paper.vessel.level import ripples, triangle
from onedatum.paper.vessel.model import Point, Segment
from onedatum.paper.vessel.names import Bracket, Column, dashes_of
from onedatum.paper.vessel.plan import Across, Plan
from onedatum.paper.vessel.polygon import cut
from onedatum.paper.vessel.sheet import Sheet
from onedatum.paper.vessel.shown import Shown

CHAIN, SHORT_DASH, TANGENT_DASH = "12 3 2 3", "4 2.5", "5 3"
SLOPE_SIGN_PX, LEAST_SIGN_PX, MOST_SIGN_PX = 26.0, 7.0, 20.0
STOUT_PX = 30.0
"""Thickness of a vessel from which its walls are drawn with the full stroke."""


def draw_elevation(sheet: Sheet, shown: Shown, plan: Plan, look: Look) -> None:
    """The vessel from the side with everything that belongs to it."""
    camera, weight = plan.camera, weight_of(shown, plan.camera)
    draw_liquid(sheet, shown.elevation, shown.level_m, camera, look)
    for tangent in shown.tangents:
        sheet.segment((camera.at(tangent[0]), camera.at(tangent[1])), look.hairline, 0.9, TANGENT_DASH)
    for line in plan.axes:
        sheet.segment(line, look.secondary, 0.9, CHAIN)
    draw_column(sheet, plan.column, look)
    for dash in dashes_of(plan.ties):
        sheet.segment(dash, look.ink, 1.3, SHORT_DASH)
    draw_surface(sheet, surface(shown.elevation, shown.level_m, camera), plan.level_at, look)
    draw_walls(sheet, shown.elevation, bore_of(shown), camera, weight, look)
    draw_nozzle(sheet, shown, camera, weight, look)
    draw_stem(sheet, shown, camera, weight, look)
    if plan.sign is not None:
        draw_datum(sheet, plan.sign, look)
    draw_dimensions(sheet, plan.drawn, look)


def draw_across(sheet: Sheet, shown: Shown, across: Across, look: Look) -> None:
    """The section across: wall, liquid and centre lines on the height of the elevation."""
    draw_liquid(sheet, across.figure, shown.level_m, across.camera, look)
    for line in across.axes:
        sheet.segment(line, look.secondary, 0.9, CHAIN)
    draw_surface(sheet, surface(across.figure, shown.level_m, across.camera), across.level_at, look)
    draw_walls(sheet, across.figure, (), across.camera, weight_of(shown, across.camera), look)
    draw_dimensions(sheet, across.drawn, look)


def weight_of(shown: Shown, camera: Camera) -> float:
    """Share of the full stroke with which a vessel is drawn: thin ones take thinner strokes."""
    return min(max(shown.thickness_m * camera.px_per_m / STOUT_PX, 0.5), 1.0)


def draw_liquid(sheet: Sheet, figure: Figure, level_m: float | None, camera: Camera, look: Look) -> None:
    """What lies below the level."""
    for piece in () if level_m is None else figure.pieces:
        sheet.shape(camera.all(cut(piece, 1, level_m or 0.0, True)), look.liquid, 0.0, look.liquid)


def draw_surface(sheet: Sheet, surfaces: list[Segment], sign_at: Point | None, look: Look) -> None:
    """The line of the level through the whole figure, with its sign."""
    for line in surfaces:
        sheet.segment(line, look.accent, 1.4)
    if sign_at is not None:
        sheet.shape(triangle(sign_at), look.accent, 1.0, look.sheet)
        for line in ripples(sign_at):
            sheet.segment(line, look.accent, 0.9)


def draw_walls(
    sheet: Sheet, figure: Figure, bore: tuple[float, ...], camera: Camera, weight: float, look: Look
) -> None:
    """The walls, and a long break line at each end of what is left out."""
    for run in wall_runs(figure, bore):
        closed = "Z" if len(run) > 2 and run[0] == run[-1] else ""
        sheet.path(points([camera.at(p) for p in run]) + closed, look.ink, 2 * weight)
    for way in break_ways(figure, camera):
        sheet.path(points(way), look.secondary, 0.9)


def draw_nozzle(sheet: Sheet, shown: Shown, camera: Camera, weight: float, look: Look) -> None:
    """Both walls of the nozzle from the vessel to the flange, and the flange."""
    nozzle = shown.nozzle
    if nozzle is None:
        return
    half, face = nozzle.bore_m / 2, camera.y(nozzle.face_m)
    for x_m in (nozzle.x_m - half, nozzle.x_m + half):
        x = camera.x(x_m)
        sheet.line(x, camera.y(foot_m(shown, x_m)), x, face, look.ink, 2 * weight)
    reach = half * camera.px_per_m + FLANGE_PX
    sheet.line(camera.x(nozzle.x_m) - reach, face, camera.x(nozzle.x_m) + reach, face, look.ink, 1 + 2 * weight)


def draw_stem(sheet: Sheet, shown: Shown, camera: Camera, weight: float, look: Look) -> None:
    """Head of the gauge on its flange, stem down to its tip, float on it."""
    line, head, body = stem_line(shown, camera), head_box(shown, camera), float_box(shown, camera)
    if line is not None and head is not None:
        (x, face), tip = line[0], line[1]
        sheet.segment(((x, face - 4), tip), look.ink, 1 + 2 * weight)
        sheet.rect(head[0][0], head[0][1], head[2][0] - head[0][0], head[2][1] - head[0][1], look.ink)
    if body is not None:
        sheet.shape(body, look.ink, 1.3, look.sheet)


def draw_datum(sheet: Sheet, sign: Sign, look: Look) -> None:
    """The levelling sign: half of the triangle filled, as on the drawing board."""
    sheet.segment(sign.line, look.ink, 0.9)
    sheet.shape(sign.triangle, look.ink, 0.9, look.sheet)
    (x, y), right, _ = sign.triangle
    sheet.shape(((x, y), right, (x, right[1])), look.ink, 0.9, look.ink)
    sheet.text(*sign.word_at, WORD, Style(look.tick_size, look.ink))


def draw_dimensions(sheet: Sheet, drawn: tuple[Drawn, ...], look: Look) -> None:
    """Thin lines with slim arrows, words over the line."""
    for item in drawn:
        for line in item.extensions:
            sheet.segment(line, look.secondary, 0.7)
        sheet.segment(item.line, look.secondary, 0.9)
        for tip, heel in item.arrows:
            draw_arrow(sheet, tip, heel, look)
        sheet.turned_text(item.text_at, item.angle_deg, item.text, Style(look.tick_size, look.ink))


def draw_arrow(sheet: Sheet, tip: Point, heel: Point, look: Look) -> None:
    """A slim filled arrow with its tip on the extension line."""
    size = hypot(heel[0] - tip[0], heel[1] - tip[1]) or 1.0
    ux, uy = (heel[0] - tip[0]) / size, (heel[1] - tip[1]) / size
    x, y = tip[0] + ARROW_PX * ux, tip[1] + ARROW_PX * uy
    barbs = (tip, (x - 2.3 * uy, y + 2.3 * ux), (x + 2.3 * uy, y - 2.3 * ux))
    sheet.shape(barbs, look.secondary, 0.3, look.secondary)


def draw_column(sheet: Sheet, column: Column, look: Look) -> None:
    """Brackets, leaders and names."""
    for bracket in column.brackets:
        draw_bracket(sheet, bracket, look)
    for label in column.labels:
        colour = look.accent if label.level else look.secondary
        sheet.path(points(list(label.leader)), colour, 0.8)
        sheet.text(*label.at, label.text, label.style)


def draw_bracket(sheet: Sheet, bracket: Bracket, look: Look) -> None:
    """A light bracket whose lips point at the vessel."""
    x, lip, top, foot = bracket.x_px, bracket.x_px - bracket.lip_px, bracket.top_px, bracket.foot_px
    sheet.path(points([(lip, top), (x, top), (x, foot), (lip, foot)]), look.secondary, 0.9)


def draw_slope_sign(sheet: Sheet, left_px: float, base_px: float, slope: float, look: Look) -> float:
    """A small right triangle that leans as the vessel does, but never too little to be seen; its width."""
    wide, high = SLOPE_SIGN_PX, max(abs(slope) * SLOPE_SIGN_PX, LEAST_SIGN_PX)
    if high > MOST_SIGN_PX:
        wide, high = max(MOST_SIGN_PX / abs(slope), LEAST_SIGN_PX), MOST_SIGN_PX
    right = left_px + wide
    corners = ((left_px, base_px), (right, base_px), (right if slope >= 0 else left_px, base_px - high))
    sheet.shape(corners, look.ink, 1.0, "none")
    return wide
