"""The shapes of the vessel on the sheet: walls open under the nozzle, nozzle, stem, centre lines, liquid."""

from collections.abc import Iterator
from itertools import pairwise
from math import hypot

from onedatum.paper.vessel.boxes import Corners, upright
from onedatum.paper.vessel.breaks import Figure
from onedatum.paper.vessel.camera import Camera
from onedatum.paper.vessel.model import Point, Polygon, Segment
from onedatum.paper.vessel.polygon import between, crossings, edges, top_at
from onedatum.paper.vessel.shown import Shown

AXIS_PX, HEAD_WIDE_PX, HEAD_TALL_PX, STAND_PX, FLANGE_PX, FLOAT_PX = 9.0, 11.0, 12.0, 3.0, 7.0, 5.0
"""Centre line beyond the vessel; head of the gauge and its stand; flange beyond its nozzle; least size of a float."""
ZIGZAG_PX, OVER_PX = 5.0, 5.0
LYING = 0.1
"""Run over rise from which an axis is no longer plumb."""


def walls_of(figure: Figure, camera: Camera) -> list[Segment]:
    """Every side of a figure, on the sheet."""
    return [(camera.at(a), camera.at(b)) for piece in figure.pieces for a, b in edges(piece)]


def nozzle_box(shown: Shown, camera: Camera) -> Corners | None:
    """The nozzle with its flange, from where it leaves the vessel."""
    nozzle = shown.nozzle
    if nozzle is None:
        return None
    half = nozzle.bore_m * camera.px_per_m / 2 + FLANGE_PX
    x, face = camera.x(nozzle.x_m), camera.y(nozzle.face_m)
    return upright(x - half, face - 1.5, x + half, max(camera.y(foot_m(shown, nozzle.x_m)), face))


def foot_m(shown: Shown, x_m: float) -> float:
    """Height at which a wall of the nozzle meets the vessel."""
    otherwise = shown.nozzle.foot_m if shown.nozzle is not None else 0.0
    face = shown.nozzle.face_m if shown.nozzle is not None else 0.0
    return min(top_at(shown.elevation.pieces, x_m, otherwise), face)


def head_box(shown: Shown, camera: Camera) -> Corners | None:
    """The head of the gauge on its flange face."""
    if shown.stem is None:
        return None
    x, face = camera.x(shown.stem.x_m), camera.y(shown.stem.face_m)
    return upright(x - HEAD_WIDE_PX / 2, face - STAND_PX - HEAD_TALL_PX, x + HEAD_WIDE_PX / 2, face - STAND_PX)


def float_box(shown: Shown, camera: Camera) -> Corners | None:
    """The float, true to scale but never too small to be seen."""
    body = shown.float_body
    if body is None:
        return None
    wide, tall = (max(FLOAT_PX, size * camera.px_per_m) for size in (body.width_m, body.high_m - body.low_m))
    x, y = camera.x(body.x_m), camera.y((body.low_m + body.high_m) / 2)
    return upright(x - wide / 2, y - tall / 2, x + wide / 2, y + tall / 2)


def stem_line(shown: Shown, camera: Camera) -> Segment | None:
    """The stem from its head down to its tip."""
    stem = shown.stem
    return None if stem is None else (camera.at((stem.x_m, stem.face_m)), camera.at((stem.x_m, stem.tip_m)))


def fixtures(shown: Shown, camera: Camera) -> list[Corners]:
    """What stands on the vessel."""
    return [box for box in (nozzle_box(shown, camera), head_box(shown, camera)) if box is not None]


def wall_runs(figure: Figure, bore: tuple[float, ...]) -> list[list[Point]]:
    """The walls in metres as runs of points, open at the top over the bore and at the ends of a broken length."""
    return [run for piece in figure.pieces for run in runs_of(piece, figure, bore)]


def runs_of(piece: Polygon, figure: Figure, bore: tuple[float, ...]) -> list[list[Point]]:
    """The wall of one piece, its last run joined to its first."""
    runs: list[list[Point]] = [[]]
    for a, b in (part for edge in edges(piece) for part in split(edge, bore)):
        if is_open(figure, bore, a, b):
            runs.append([])
        else:
            runs[-1] += [b] if runs[-1] else [a, b]
    whole = [run for run in runs if run]
    if len(whole) > 1 and whole[0][0] == whole[-1][-1]:
        whole[0] = whole.pop() + whole[0][1:]
    return whole


def break_ways(figure: Figure, camera: Camera) -> list[list[Point]]:
    """The long break line at each end of what is left out, on the sheet: straight but for one turn to and fro."""
    found: list[list[Point]] = []
    for x_m in figure.cuts:
        met = [z for x, z in figure.points if x == x_m]
        if met:
            x, top, foot = camera.x(x_m), camera.y(max(met)) - OVER_PX, camera.y(min(met)) + OVER_PX
            middle, half = (top + foot) / 2, min(ZIGZAG_PX, (foot - top) / 6)
            turns = (
                (x, middle - 2 * half),
                (x - half, middle - half),
                (x + half, middle + half),
                (x, middle + 2 * half),
            )
            found.append([(x, top), *turns, (x, foot)])
    return found


def bore_of(shown: Shown) -> tuple[float, ...]:
    """The two x of the walls of the nozzle."""
    nozzle = shown.nozzle
    return () if nozzle is None else (nozzle.x_m - nozzle.bore_m / 2, nozzle.x_m + nozzle.bore_m / 2)


def split(edge: Segment, stations: tuple[float, ...]) -> Iterator[Segment]:
    """A side cut where it crosses any of the given x."""
    a, b = edge
    shares = sorted(s for x in stations if a[0] != b[0] and 0 < (s := (x - a[0]) / (b[0] - a[0])) < 1)
    return pairwise([a, *(between(a, b, s) for s in shares), b])


def is_open(figure: Figure, bore: tuple[float, ...], a: Point, b: Point) -> bool:
    """Whether a piece of wall is missing: under the nozzle, or where a length is cut out."""
    x, z = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    if a[0] == b[0] and x in figure.cuts:
        return True
    return bool(bore) and bore[0] < x < bore[1] and z >= top_at(figure.pieces, x, z) - 1e-9 * (1 + abs(z))


def surface(figure: Figure, level_m: float | None, camera: Camera) -> list[Segment]:
    """The surface of the liquid, on the sheet."""
    if level_m is None:
        return []
    met = (crossings(piece, level_m) for piece in figure.pieces)
    ends = (pair for xs in met for pair in zip(xs[::2], xs[1::2], strict=True))
    return [(camera.at((a, level_m)), camera.at((b, level_m))) for a, b in ends]


def axes_of(shown: Shown, camera: Camera) -> list[Segment]:
    """The centre line of the vessel, a little beyond both its ends, left out where the stem lies on it."""
    lines = [(camera.at(a), camera.at(b)) for a, b in shown.axis]
    if not lines:
        return []
    lines[0] = (longer(lines[0][1], lines[0][0]), lines[0][1])
    lines[-1] = (lines[-1][0], longer(lines[-1][0], lines[-1][1]))
    return [part for line in lines for part in beside_stem(line, shown, camera)]


def longer(start: Point, end: Point) -> Point:
    """The end of a line a little further out."""
    size = max(hypot(end[0] - start[0], end[1] - start[1]), 1e-9)
    return end[0] + (end[0] - start[0]) / size * AXIS_PX, end[1] + (end[1] - start[1]) / size * AXIS_PX


def beside_stem(line: Segment, shown: Shown, camera: Camera) -> list[Segment]:
    """What of an upright centre line can be seen beside a stem on it: the part below its tip."""
    if shown.stem is None or abs(line[0][0] - line[1][0]) > 1 or abs(camera.x(shown.stem.x_m) - line[0][0]) > 2.5:
        return [line]
    (x, low), tip = max(line, key=lambda p: p[1]), camera.y(shown.stem.tip_m) + 4
    return [((x, tip), (x, low))] if low - tip > 4 else []


def cross_axes(shown: Shown, figure: Figure, camera: Camera) -> list[Segment]:
    """The centre lines of the section across: plumb through its middle, level where the axis of the vessel passes."""
    around, reach = figure.around, AXIS_PX / camera.px_per_m
    middle, z = (around.left + around.right) / 2, axis_height(shown)
    found = [((middle, around.low - reach), (middle, around.high + reach))]
    if z is not None and around.low < z < around.high:
        found.append(((around.left - reach, z), (around.right + reach, z)))
    return [(camera.at(a), camera.at(b)) for a, b in found]


def axis_height(shown: Shown) -> float | None:
    """Height of a lying axis at the gauge."""
    gauge = shown.stem or shown.nozzle
    for (xa, za), (xb, zb) in shown.axis:
        lying = abs(xb - xa) > LYING * abs(zb - za)
        if gauge is not None and lying and min(xa, xb) <= gauge.x_m <= max(xa, xb):
            return za + (zb - za) * (gauge.x_m - xa) / (xb - xa)
    return None
