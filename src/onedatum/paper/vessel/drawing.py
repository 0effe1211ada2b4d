"""The vessel from the side and in section across, as SVG: true to scale, one height, nothing squeezed."""

from onedatum.paper.ruler.drawing import MARGIN_PX, NARROWEST_PX, sheet_px
from onedatum.paper.ruler.look import PRINT, Look
from onedatum.paper.ruler.svg import Style, fit
from onedatum.paper.ruler.ticks import decimal
from onedatum.paper.vessel.camera import Bounds
from onedatum.paper.vessel.model import VesselDrawing
from onedatum.paper.vessel.plan import TITLE, TITLE_ACROSS, UNDER_ACROSS, Plan, fitted, under
from onedatum.paper.vessel.polygon import on_earth
from onedatum.paper.vessel.sheet import Sheet
from onedatum.paper.vessel.shown import Shown, shown_of
from onedatum.paper.vessel.strokes import draw_across, draw_elevation, draw_slope_sign

HEAD_PX, FOOT_PX, LOWEST_PX = 42.0, 10.0, 160.0
SLOPE_PX = 24.0
THINNEST_PX = 5.0
LEAST_HEIGHT_PX, MOST_HEIGHT_PX = 190.0, 620.0
LEAST_RISE_PX = 24.0
NO_DRAWING = "No drawing: the shape of the vessel is not known or leaves nothing to draw."
TOO_SLENDER = "No drawing: true to scale, the vessel would be too slender or its words too many for this sheet."
TRUE_TO_SCALE = "slope drawn true to scale"


def vessel_svg(drawing: VesselDrawing, width_px: float = 760.0, height_px: float = 420.0, look: Look = PRINT) -> str:
    """The whole drawing as SVG text; the same bytes for the same vessel."""
    width_px, height_px = sheet_px(width_px), sheet_px(height_px)
    sheet = Sheet(width_px, height_px, description(drawing), look.sheet)
    shown = shown_of(drawing)
    plan = None if shown is None else planned(shown, width_px, height_px, look)
    if shown is None or plan is None:
        style = Style(look.mark_size, look.ink)
        said = NO_DRAWING if shown is None else TOO_SLENDER
        sheet.text(MARGIN_PX, 24, fit(said, style, max(width_px - 2 * MARGIN_PX, 60)), style)
        return sheet.done()
    draw(sheet, shown, plan, height_px, look)
    return sheet.done()


def vessel_height_px(drawing: VesselDrawing, width_px: float = 760.0, look: Look = PRINT) -> float:
    """The height of sheet that the drawing fills at a width."""
    shown = shown_of(drawing)
    plan = None if shown is None else planned(shown, sheet_px(width_px), MOST_HEIGHT_PX, look)
    if shown is None or plan is None:
        return LEAST_HEIGHT_PX / 4
    return min(max(plan.whole.high + HEAD_PX + foot_px(shown), LEAST_HEIGHT_PX), MOST_HEIGHT_PX)


def planned(shown: Shown, width_px: float, height_px: float, look: Look) -> Plan | None:
    """The plan for a sheet; None where nothing could be seen."""
    if width_px < NARROWEST_PX or height_px < LOWEST_PX:
        return None
    room = Bounds(MARGIN_PX, HEAD_PX, width_px - MARGIN_PX, height_px - foot_px(shown))
    plan = fitted(shown, room, look)
    seen = plan is not None and shown.thickness_m * plan.camera.px_per_m >= THINNEST_PX
    return plan if seen else None


def foot_px(shown: Shown) -> float:
    """Height that the foot takes, more where it says the slope."""
    return FOOT_PX + (SLOPE_PX if shown.slope else 0.0)


def draw(sheet: Sheet, shown: Shown, plan: Plan, height_px: float, look: Look) -> None:
    """Both views under their titles, and the slope at the foot."""
    draw_title(sheet, plan.frame.left, TITLE, under(shown), look)
    draw_elevation(sheet, shown, plan, look)
    if plan.across is not None:
        draw_title(sheet, plan.across.frame.left, TITLE_ACROSS, UNDER_ACROSS, look)
        draw_across(sheet, shown, plan.across, look)
    if shown.slope:
        draw_slope(sheet, shown, plan, height_px - FOOT_PX, look)


def draw_title(sheet: Sheet, left_px: float, title: str, words: str, look: Look) -> None:
    """What a view is."""
    sheet.text(left_px, 15, title, Style(look.mark_size, look.ink, True))
    sheet.text(left_px, 29, words, Style(look.tick_size, look.secondary))


def draw_slope(sheet: Sheet, shown: Shown, plan: Plan, base_px: float, look: Look) -> None:
    """A small triangle that leans as the vessel does, and the words; where the eye cannot see it, that it is true."""
    (xa, za), (xb, zb) = sorted(shown.sloping) if shown.sloping else ((0.0, 0.0), (1.0, 0.0))
    slope, around = (zb - za) / max(xb - xa, 1e-9), shown.elevation.around
    wide = draw_slope_sign(sheet, plan.frame.left, base_px, slope, look)
    rise_m = abs(slope) * around.wide if abs(slope) < 1 else around.tall / abs(slope)
    unseen = shown.sloping and rise_m * plan.camera.px_per_m < LEAST_RISE_PX
    words = f"{shown.slope}; {TRUE_TO_SCALE}" if unseen else shown.slope
    style = Style(look.tick_size, look.ink)
    left = plan.frame.left + wide + 7
    sheet.text(left, base_px, fit(words, style, max(sheet.width_px - MARGIN_PX - left, 40)), style)


def caption(drawing: VesselDrawing) -> str:
    """What stands under the drawing."""
    view = "The vessel from the side"
    if drawing.across:
        view += " and in section across at the gauge"
    return f"{view}. Inside dimensions; one scale, the same both ways."


def description(drawing: VesselDrawing) -> str:
    """The drawing in words, for who cannot see it."""
    said = [
        "Side elevation of the vessel, true to scale" + (", with its plumb section across." if drawing.across else ".")
    ]
    if drawing.level_m is not None and on_earth(drawing.level_m):
        said.append(f"{drawing.level_words.capitalize()} at {height_text(drawing.level_m)}.")
    measured = [f"{d.name} {d.text}".strip() for d in drawing.dimensions]
    marks = [f"{name} {height_text(z)}" for name, z in drawing.marks if on_earth(z)]
    spans = [f"{name} {height_text(a)} to {height_text(b)}" for name, a, b in drawing.deadwood if on_earth(a, b)]
    for title, items in (("Dimensions", measured), ("Marks", marks), ("Deadwood", spans)):
        said += [f"{title}: {', '.join(items)}."] if items else []
    said += [f"{drawing.slope[:1].upper()}{drawing.slope[1:]}."] if drawing.slope else []
    return " ".join(said)


def words_of(drawing: VesselDrawing) -> list[str]:
    """Every word that someone wrote."""
    named = [name for name, _ in drawing.marks] + [name for name, _, _ in drawing.deadwood]
    return [drawing.slope, drawing.level_words, *named, *(w for d in drawing.dimensions for w in (d.text, d.name))]


def height_text(height_m: float) -> str:
    """A height in whole millimetres."""
    return f"{decimal(height_m * 1000, 0)} mm"
