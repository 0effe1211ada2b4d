"""The sketch of a bypass chamber beside its vessel."""

from html import escape

from onedatum.paper.columns.model import ChamberSketch
from onedatum.paper.columns.scene import QUIET, TOP_PX, Scene
from onedatum.paper.ruler.look import PRINT

CHAMBER_LEFT_PX, CHAMBER_WIDE_PX, STEM_GAP_PX, STEM_WIDE_PX = 372.0, 46.0, 10.0, 9.0


def chamber_svg(sketch: ChamberSketch, width_px: float) -> str:
    """The picture, as wide as asked for; heights are to scale, widths are not."""
    heights = [0.0, sketch.tap_distance_m, sketch.bottom_m, sketch.top_m, *(sketch.stem_m or ())]
    scene = Scene(width_px, escape(words_of(sketch), quote=True), heights)
    scene.vessel(sketch.level_m, (0.0, sketch.tap_distance_m))
    scene.pipe(0.0, CHAMBER_LEFT_PX, filled=True)
    scene.pipe(sketch.tap_distance_m, CHAMBER_LEFT_PX, filled=False)
    _chamber(scene, sketch)
    _float(scene, sketch)
    _stem(scene, sketch)
    scene.labels_left(sketch.left)
    edge = CHAMBER_LEFT_PX + CHAMBER_WIDE_PX + STEM_GAP_PX + STEM_WIDE_PX + 8
    scene.labels_right(sketch.right, edge)
    return scene.svg.done()


def words_of(sketch: ChamberSketch) -> str:
    """The picture in words."""
    told = [mark.text for mark in (*sketch.left, *sketch.right)]
    return f"{sketch.title}. {'; '.join(told)}."


def _chamber(scene: Scene, sketch: ChamberSketch) -> None:
    svg, left, right = scene.svg, CHAMBER_LEFT_PX, CHAMBER_LEFT_PX + CHAMBER_WIDE_PX
    top, foot = scene.y(sketch.top_m), scene.y(sketch.bottom_m)
    if sketch.in_chamber_m is not None:
        surface = scene.y(sketch.in_chamber_m)
        svg.rect(left, surface, CHAMBER_WIDE_PX, foot - surface, PRINT.liquid)
        svg.line(left, surface, right, surface, PRINT.accent, 1.6)
    if sketch.level_m is not None:
        svg.line(scene.wall_px, scene.y(sketch.level_m), right, scene.y(sketch.level_m), PRINT.accent, 0.8, "4 3")
    edge = top
    for gap in (scene.y(sketch.tap_distance_m), scene.y(0.0)):
        svg.line(left, edge, left, gap - 4, PRINT.ink, 1.6)
        edge = gap + 4
    svg.line(left, edge, left, foot, PRINT.ink, 1.6)
    svg.line(right, top, right, foot, PRINT.ink, 1.6)
    svg.line(left, top, right, top, PRINT.ink, 1.6)
    svg.line(left, foot, right, foot, PRINT.ink, 1.6)
    svg.text((left + right) / 2, TOP_PX - 8, "chamber", QUIET, "middle")


def _float(scene: Scene, sketch: ChamberSketch) -> None:
    if sketch.float_m is None:
        return
    bottom, top = (scene.y(height) for height in sketch.float_m)
    left, wide = CHAMBER_LEFT_PX + 6, CHAMBER_WIDE_PX - 12
    scene.svg.rect(left, top, wide, bottom - top, PRINT.sheet)
    for ends in (((left, top), (left + wide, top)), ((left, bottom), (left + wide, bottom))):
        scene.svg.line(*ends[0], *ends[1], PRINT.ink)
    for x in (left, left + wide):
        scene.svg.line(x, top, x, bottom, PRINT.ink)
    if sketch.magnet_m is not None:
        y = scene.y(sketch.magnet_m)
        scene.svg.rect(left + 2, y - 3, wide - 4, 6, PRINT.accent)


def _stem(scene: Scene, sketch: ChamberSketch) -> None:
    if sketch.stem_m is None:
        return
    foot, top = (scene.y(height) for height in sketch.stem_m)
    left = CHAMBER_LEFT_PX + CHAMBER_WIDE_PX + STEM_GAP_PX
    scene.svg.rect(left, top, STEM_WIDE_PX, foot - top, PRINT.tint)
    for x in (left, left + STEM_WIDE_PX):
        scene.svg.line(x, top, x, foot, PRINT.ink)
    for y in (top, foot):
        scene.svg.line(left, y, left + STEM_WIDE_PX, y, PRINT.ink)
    scene.svg.text(left - 2, max(top - 6, TOP_PX - 8), "stem", QUIET)
