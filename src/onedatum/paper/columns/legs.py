"""The sketch of a vessel with the legs of a pressure transmitter, every column with its sign."""

from html import escape

from onedatum.paper.columns.model import LegsSketch
from onedatum.paper.columns.scene import LABEL, QUIET, STRONG, TOP_PX, Scene
from onedatum.paper.ruler.look import PRINT
from onedatum.paper.ruler.svg import fit

LOWER_PX, UPPER_PX, CELL_PX, LINES_PX, LINE_PX = 346.0, 410.0, 22.0, 462.0, 17.0


def legs_svg(sketch: LegsSketch, width_px: float) -> str:
    """The picture, as wide as asked for; heights are to scale, widths are not."""
    heights = [0.0, -sketch.below_m, *([sketch.tap_distance_m] if sketch.tap_distance_m is not None else [])]
    heights += [mark.height_m for mark in sketch.left]
    scene = Scene(width_px, escape(words_of(sketch), quote=True), heights)
    taps = [0.0, *([sketch.tap_distance_m] if sketch.tap_distance_m is not None else [])]
    scene.vessel(sketch.level_m, taps)
    _leg(scene, 0.0, LOWER_PX, sketch, filled=True)
    if sketch.tap_distance_m is not None:
        dry = sketch.upper_filling == "the gas above"
        _leg(scene, sketch.tap_distance_m, UPPER_PX, sketch, filled=not dry)
    _cell(scene, sketch)
    scene.labels_left(sketch.left)
    _fillings(scene, sketch)
    for row, line in enumerate(sketch.lines):
        style = STRONG if row == len(sketch.lines) - 1 else LABEL
        text = fit(line, style, width_px - LINES_PX - 8)
        scene.svg.text(LINES_PX, TOP_PX + 10 + row * LINE_PX, text, style)
    return scene.svg.done()


def words_of(sketch: LegsSketch) -> str:
    """The picture in words."""
    told = [mark.text for mark in sketch.left]
    return f"{sketch.title}. {'; '.join((*told, *sketch.lines))}."


def _leg(scene: Scene, tap_m: float, at_px: float, sketch: LegsSketch, filled: bool) -> None:
    """From a tap along to its place and down or up to the transmitter."""
    svg, tap, cell = scene.svg, scene.y(tap_m), scene.y(-sketch.below_m)
    low, high = max(tap, cell), min(tap, cell)
    if filled:
        svg.rect(scene.wall_px, tap - 3, at_px - scene.wall_px, 6, PRINT.liquid)
        svg.rect(at_px - 3, high, 6, low - high, PRINT.liquid)
    svg.line(scene.wall_px, tap, at_px, tap, PRINT.ink, 1.4)
    svg.line(at_px, tap, at_px, cell, PRINT.ink, 1.4, "" if filled else "5 3")


def _cell(scene: Scene, sketch: LegsSketch) -> None:
    """The transmitter with its two sides named."""
    svg, y = scene.svg, scene.y(-sketch.below_m)
    right = UPPER_PX if sketch.tap_distance_m is not None else LOWER_PX + 46
    svg.rect(LOWER_PX - 10, y - CELL_PX / 2, right - LOWER_PX + 20, CELL_PX, PRINT.tint)
    left, wide = LOWER_PX - 10, right - LOWER_PX + 20
    for edge in (y - CELL_PX / 2, y + CELL_PX / 2):
        svg.line(left, edge, left + wide, edge, PRINT.ink)
    for edge in (left, left + wide):
        svg.line(edge, y - CELL_PX / 2, edge, y + CELL_PX / 2, PRINT.ink)
    high, low = ("high", "low") if sketch.high_at_lower else ("low", "high")
    svg.text(LOWER_PX - 5, y + 4, high, STRONG)
    svg.text(left + wide - 5, y + 4, low if sketch.tap_distance_m is not None else "air", STRONG, "end")


def _fillings(scene: Scene, sketch: LegsSketch) -> None:
    """What stands in each leg, written along it."""
    middle = scene.y(-sketch.below_m / 2)
    if abs(scene.y(0.0) - scene.y(-sketch.below_m)) > 60:
        scene.svg.upright_text(LOWER_PX - 8, middle, fit(sketch.lower_filling, QUIET, 120), QUIET)
    if sketch.tap_distance_m is not None and sketch.upper_filling:
        height = scene.y((sketch.tap_distance_m - sketch.below_m) / 2)
        scene.svg.upright_text(UPPER_PX - 8, height, fit(sketch.upper_filling, QUIET, 150), QUIET)
