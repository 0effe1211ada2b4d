"""Where everything stands on the sheet: the greatest scale at which both views and all their words fit."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from onedatum.paper.ruler.look import Look
from onedatum.paper.ruler.svg import Style, text_width
from onedatum.paper.vessel.body import (
    axes_of,
    break_ways,
    cross_axes,
    fixtures,
    float_box,
    stem_line,
    surface,
    walls_of,
)
from onedatum.paper.vessel.boxes import Corners
from onedatum.paper.vessel.breaks import Figure
from onedatum.paper.vessel.camera import Bounds, Camera, bounds
from onedatum.paper.vessel.datum import Sign, sign_at
from onedatum.paper.vessel.dimensions import Draft, Drawn, Outline, drafts_of, draw_up, rays_of, shapes
from onedatum.paper.vessel.level import level_sign
from onedatum.paper.vessel.model import Point, Segment
from onedatum.paper.vessel.names import Column, Tie, brackets_of, column_of, dashes_of, leads_of, ties_of
from onedatum.paper.vessel.shown import Shown

TITLE, TITLE_ACROSS = "Side elevation", "Section across"
UNDER, UNDER_ACROSS = "inside, true to scale", "plumb, at the gauge"
UNDER_BROKEN = f"{UNDER}, part of the length left out"
APART_PX, EDGE_PX, LEANING = 30.0, 2.0, 0.3
"""Between the views; for the width of strokes; how far a direction leans to a side before it counts for that side."""
STEPS, SMALLEST_SHARE = 11, 0.02
"""Halvings of the search for the scale, and the smallest scale tried as a share of the greatest."""


@dataclass(frozen=True, slots=True)
class Across:
    """The section across in place."""

    figure: Figure
    camera: Camera
    drawn: tuple[Drawn, ...]
    level_at: Point | None
    axes: tuple[Segment, ...]
    frame: Bounds


@dataclass(frozen=True, slots=True)
class Plan:
    """Both views in place."""

    camera: Camera
    ties: tuple[Tie, ...]
    column: Column
    drawn: tuple[Drawn, ...]
    sign: Sign | None
    level_at: Point | None
    """Where the sign of the level stands."""
    axes: tuple[Segment, ...]
    frame: Bounds
    """What the elevation takes, its words included."""
    across: Across | None

    @property
    def whole(self) -> Bounds:
        """What both views take."""
        frames = [self.frame] if self.across is None else [self.frame, self.across.frame]
        return bounds([((f.left, f.top), (f.right, f.bottom)) for f in frames])


def fitted(shown: Shown, room: Bounds, look: Look) -> Plan | None:
    """The plan at the greatest scale that fits, in the middle of the room; None if not even a small scale fits."""
    around = shown.elevation.around
    high = min(room.wide / around.wide, room.high / around.tall)
    low = SMALLEST_SHARE * high
    best = plan_of(shown, Camera(low), look)
    if not fits(best, room):
        return None
    for _ in range(STEPS):
        middle = (low + high) / 2
        tried = plan_of(shown, Camera(middle), look)
        if fits(tried, room):
            low, best = middle, tried
        else:
            high = middle
    whole = best.whole
    left = room.left + (room.wide - whole.wide) / 2 - whole.left
    return plan_of(shown, Camera(low, left, room.top + (room.high - whole.high) / 2 - whole.top), look)


def fits(plan: Plan, room: Bounds) -> bool:
    """Whether a plan has room."""
    return plan.whole.wide <= room.wide and plan.whole.high <= room.high


def plan_of(shown: Shown, camera: Camera, look: Look) -> Plan:
    """Body first, then the datum, the dimensions, the names, and at last the section across beside them."""
    outline = outline_of(shown, camera)
    drafts = drafts_of((m for m in shown.measures if m.view == "elevation"), camera, outline, look)
    side = side_of(drafts)
    ties, axes, standing = ties_of(shown, camera, side, look), axes_of(shown, camera), fixtures(shown, camera)
    brackets = brackets_of(shown, camera, side)
    leads, beside = leads_of(ties, brackets, side), [b.box for b in brackets]
    inside, surfaces = inside_of(shown, camera, axes, ties), surface(shown.elevation, shown.level_m, camera)
    sign = None
    if shown.datum_at is not None:
        around = [*inside, *outline.edges, *surfaces, *beside, *leads, *rays_of(drafts)]
        sign = sign_at(camera.at(shown.datum_at), around, look)
    levelled: list[Corners] = [] if sign is None else [sign.taken, sign.line]
    drawn = draw_up(drafts, [*standing, *levelled[:1]], [*leads, *axes, *levelled[1:]], look, beside)
    body = [outline.hull, *standing, *beside, *axes, *shapes(drawn), *levelled]
    inner = bounds(body)
    column = column_of(shown, camera, ties, brackets, inner.right if side > 0 else inner.left, side, look)
    frame = titled(bounds([*body, *(label.box for label in column.labels)]), TITLE, under(shown), look)
    level_at = level_sign(surfaces, [*outline.edges, *inside, *levelled])
    across = None if shown.across is None else across_of(shown, shown.across, camera, frame.right + APART_PX, look)
    return Plan(camera, tuple(ties), column, tuple(drawn), sign, level_at, tuple(axes), frame, across)


def outline_of(shown: Shown, camera: Camera) -> Outline:
    """The walls, and what stands on them."""
    standing = [edge for box in fixtures(shown, camera) for edge in pairwise((*box, box[0]))]
    return Outline(camera.all(shown.elevation.points), [*walls_of(shown.elevation, camera), *standing])


def side_of(drafts: Sequence[Draft]) -> int:
    """Names stand on the side with fewer dimensions, else on the right: 1 right, -1 left."""
    outs = [d.out[0] for d in drafts if abs(d.out[0]) > LEANING]
    return -1 if sum(1 for x in outs if x > 0) > sum(1 for x in outs if x < 0) else 1


def inside_of(shown: Shown, camera: Camera, axes: Sequence[Segment], ties: Sequence[Tie]) -> list[Corners]:
    """Everything that is drawn within the walls but the liquid."""
    found: list[Corners] = [*axes, *(camera.all(tangent) for tangent in shown.tangents), *dashes_of(ties)]
    found += [piece for way in break_ways(shown.elevation, camera) for piece in pairwise(way)]
    stem, body = stem_line(shown, camera), float_box(shown, camera)
    return [*found, *fixtures(shown, camera), *(box for box in (stem, body) if box is not None)]


def across_of(shown: Shown, figure: Figure, camera: Camera, left_px: float, look: Look) -> Across:
    """The section across, its left edge where it is told, on the height of the elevation."""
    there = across_at(shown, figure, camera._replace(left_px=0.0), look)
    return across_at(shown, figure, there.camera._replace(left_px=left_px - there.frame.left), look)


def across_at(shown: Shown, figure: Figure, camera: Camera, look: Look) -> Across:
    """The section across with its dimensions."""
    hull, axes, walls = camera.all(figure.points), cross_axes(shown, figure, camera), walls_of(figure, camera)
    drafts = drafts_of((m for m in shown.measures if m.view == "across"), camera, Outline(hull, walls), look)
    drawn = draw_up(drafts, [], axes, look)
    surfaces = surface(figure, shown.level_m, camera)
    breaks = [piece for way in break_ways(figure, camera) for piece in pairwise(way)]
    frame = titled(bounds([hull, *axes, *shapes(drawn)]), TITLE_ACROSS, UNDER_ACROSS, look)
    return Across(figure, camera, tuple(drawn), level_sign(surfaces, [*walls, *breaks, *axes]), tuple(axes), frame)


def under(shown: Shown) -> str:
    """What stands under the title of the elevation."""
    return UNDER_BROKEN if shown.elevation.cuts else UNDER


def titled(frame: Bounds, title: str, under_it: str, look: Look) -> Bounds:
    """A frame wide enough for its title, with the width of its strokes."""
    wide = max(
        text_width(title, Style(look.mark_size, look.ink, True)),
        text_width(under_it, Style(look.tick_size, look.secondary)),
    )
    left, right = frame.left - EDGE_PX, frame.right + EDGE_PX
    return Bounds(left, frame.top - EDGE_PX, max(right, left + wide), frame.bottom + EDGE_PX)
