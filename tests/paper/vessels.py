"""Vessels of an invented works, laid out by hand: what the drawing of vessels is tried on."""

from collections.abc import Callable
from dataclasses import replace
from math import asin, cos, pi, radians, sin, sqrt

from onedatum.paper.vessel.model import Dimension, Point, Polygon, VesselDrawing

ONE_IN_100 = asin(0.01) * 180 / pi

Turn = Callable[[float, float], Point]


def turn(angle_deg: float, lift_m: float = 0.0) -> Turn:
    """A point given along and square to the axis, as it stands once the vessel is tilted."""
    c, s = cos(radians(angle_deg)), sin(radians(angle_deg))
    return lambda a, q: (a * c - q * s, a * s + q * c + lift_m)


def dished(length_m: float, radius_m: float, count: int = 24) -> list[Point]:
    """Right half of a lying vessel with 2:1 elliptical heads, from the lower middle of the shell to the upper."""
    quarter = [pi / count * i for i in range(count + 1)]
    return [(length_m / 2 + radius_m / 2 * sin(t), -radius_m * cos(t)) for t in quarter]


def lying(angle_deg: float = 0.0, length_m: float = 4.0, radius_m: float = 0.9) -> VesselDrawing:
    """A dished vessel lying at a slope; its datum is the wall under the gauge."""
    half, r, slope = length_m / 2, radius_m, radians(angle_deg)
    right = dished(length_m, r)
    plain = right + [(-a, -q) for a, q in right]
    to = turn(angle_deg)
    gauge = to(half * 0.6, 0.0)
    low = gauge[1] - r / cos(slope)
    lift = -low
    to = turn(angle_deg, lift)
    centre, top = gauge[1] + lift, 2 * r / cos(slope)
    turns = [2 * pi * i / 72 for i in range(72)]
    return VesselDrawing(
        contour=tuple(to(a, q) for a, q in plain),
        across=tuple((r * sin(t), centre + r / cos(slope) * cos(t)) for t in turns),
        axis=(to(-half - r / 2, 0), to(half + r / 2, 0)),
        tangents=((to(-half, -r), to(-half, r)), (to(half, -r), to(half, r))),
        stem=(gauge[0], 0.05, top + 0.3),
        nozzle=(gauge[0], 0.15, top, top + 0.3),
        float_body=(gauge[0], 0.07, 0.95, 1.05),
        level_m=1.0,
        datum_at=(gauge[0], 0.0),
        deadwood=(("heating coil", 0.1, 0.45), ("baffle", 0.0, 1.3)),
        marks=(("outlet", 0.12), ("pump limit", 0.25), ("HH", top * 0.88), ("CH", top * 0.94)),
        dimensions=(
            Dimension(to(-half, 0), to(half, 0), "below", "4000 mm", "length between tangent lines"),
            Dimension(to(-half - r / 2, 0), to(-half, 0), "below", "450 mm", "depth of the left head"),
            Dimension(to(-half, -r), to(-half, r), "left", "Ø 1800 mm", "inside diameter"),
            Dimension(to(half * 0.6, 0), to(half, 0), "above", "800 mm", "station of the gauge"),
        ),
        slope=said_slope(angle_deg),
    )


def said_slope(angle_deg: float) -> str:
    """What is said of a slope; nothing of none."""
    if angle_deg == ONE_IN_100:
        return "axis rises 1:100"
    return f"axis {'rises' if angle_deg > 0 else 'falls'} {abs(angle_deg):.0f}°" if angle_deg else ""


def upright(length_m: float = 2.4, radius_m: float = 0.8) -> VesselDrawing:
    """A dished vessel standing on its own bottom."""
    r, depth = radius_m, radius_m / 2
    top = length_m + 2 * depth
    side = [(q, a + length_m / 2 + depth) for a, q in dished(length_m, r)]
    lower = [(-q, length_m + 2 * depth - z) for q, z in side]
    z0, z1 = depth, depth + length_m
    contour = (*side, *lower)
    return VesselDrawing(
        contour=contour,
        axis=((0.0, 0.0), (0.0, top)),
        tangents=(((-r, z0), (r, z0)), ((-r, z1), (r, z1))),
        stem=(0.0, 0.02, top + 0.15),
        nozzle=(0.0, 0.08, top, top + 0.15),
        float_body=(0.0, 0.0525, 1.82, 1.87),
        level_m=1.85,
        datum_at=(0.0, 0.0),
        deadwood=(("stirrer", 0.3, 2.6),),
        marks=(("outlet", 0.05), ("HH 2717 mm", 2.717), ("CH 2900 mm", 2.9)),
        dimensions=(
            Dimension((-r, z0), (r, z0), "below", "Ø 1600 mm", "inside diameter"),
            Dimension((-r, z0), (-r, z1), "left", "2400 mm", "length between tangent lines"),
            Dimension((0.0, 0.0), (0.0, z0), "left", "400 mm", "depth of the lower head"),
            Dimension((0.0, 0.0), (0.0, top), "left", "3200 mm", "inside height"),
        ),
    )


def hopper() -> VesselDrawing:
    """A rectangular tank on a hopper, 3000 by 2000, with its section across."""
    shape = ((-0.2, 0.0), (0.2, 0.0), (1.5, 1.0), (1.5, 3.0), (-1.5, 3.0), (-1.5, 1.0))
    section = tuple((y * 2 / 3 if abs(y) > 1 else y, z) for y, z in shape)
    return VesselDrawing(
        contour=shape,
        across=section,
        stem=(0.9, 0.65, 3.2),
        nozzle=(0.9, 0.1, 3.0, 3.2),
        level_m=2.1,
        datum_at=(0.0, 0.0),
        deadwood=(("brace", 1.2, 1.3), ("brace", 2.2, 2.3)),
        marks=(("outlet", 0.0), ("HH", 2.75)),
        dimensions=(
            Dimension((-1.5, 1.0), (1.5, 1.0), "below", "3000 mm", "length"),
            Dimension((-0.2, 0.0), (0.2, 0.0), "below", "400 mm", "outlet of the hopper"),
            Dimension((-1.5, 1.0), (-1.5, 3.0), "left", "2000 mm", "height of the walls"),
            Dimension((-0.2, 0.0), (-1.5, 1.0), "left", "1640 mm", "side of the hopper"),
            Dimension((0.9, 3.0), (1.5, 3.0), "above", "600 mm", "station of the gauge"),
            Dimension((-1.0, 1.0), (1.0, 1.0), "below", "2000 mm", "width", "across"),
        ),
    )


def ring(radius_m: float, count: int = 96) -> Polygon:
    """A circle standing on the height 0."""
    turns = (2 * pi * i / count for i in range(count))
    return tuple((radius_m * sin(t), radius_m - radius_m * cos(t)) for t in turns)


def sphere(radius_m: float = 3.0) -> VesselDrawing:
    """A sphere, its gauge off the axis."""
    station = 1.5
    chord = sqrt(radius_m**2 - station**2)
    return VesselDrawing(
        contour=ring(radius_m),
        across=tuple((y, z + radius_m - chord) for y, z in ring(chord)),
        axis=((0.0, 0.0), (0.0, 2 * radius_m)),
        stem=(station, radius_m - chord + 0.1, 6.1),
        nozzle=(station, 0.2, radius_m + chord, 6.1),
        level_m=3.9,
        datum_at=(0.0, 0.0),
        marks=(("outlet", 0.1), ("HH", 5.2), ("CH", 5.5)),
        dimensions=(
            Dimension((-radius_m, radius_m), (radius_m, radius_m), "below", "Ø 6000 mm", "inside diameter"),
            Dimension((0.0, 2 * radius_m), (station, 2 * radius_m), "above", "1500 mm", "station of the gauge"),
        ),
    )


def cone() -> VesselDrawing:
    """A cone with its apex down."""
    return VesselDrawing(
        contour=((0.0, 0.0), (1.2, 2.4), (-1.2, 2.4)),
        axis=((0.0, 0.0), (0.0, 2.4)),
        stem=(0.0, 0.1, 2.6),
        nozzle=(0.0, 0.1, 2.4, 2.6),
        level_m=1.4,
        datum_at=(0.0, 0.0),
        marks=(("outlet", 0.02), ("HH", 2.2), ("CH", 2.3)),
        dimensions=(
            Dimension((-1.2, 2.4), (1.2, 2.4), "above", "Ø 2400 mm", "inside diameter"),
            Dimension((0.0, 0.0), (0.0, 2.4), "left", "2400 mm", "inside height"),
            Dimension((0.0, 0.0), (1.2, 2.4), "right", "2683 mm", "side of the cone"),
        ),
    )


def pipe(length_m: float = 40.0, bore_m: float = 0.4, angle_deg: float = 0.0) -> VesselDrawing:
    """A long pipe used as a vessel, its gauge in a stand pipe."""
    r, to = bore_m / 2, turn(angle_deg)
    plain = ((0.0, -r), (length_m, -r), (length_m, r), (0.0, r))
    x, z = to(length_m * 0.1, 0.0)
    low = z - r / cos(radians(angle_deg))
    turns = [2 * pi * i / 72 for i in range(72)]

    def lifted(a: float, q: float) -> Point:
        return to(a, q)[0], to(a, q)[1] - low

    return VesselDrawing(
        contour=tuple(lifted(a, q) for a, q in plain),
        across=tuple((r * sin(t), r / cos(radians(angle_deg)) * (1 + cos(t))) for t in turns),
        axis=(lifted(0, 0), lifted(length_m, 0)),
        stem=(x, 0.02, bore_m + 0.2),
        nozzle=(x, 0.08, bore_m, bore_m + 0.2),
        level_m=0.22,
        datum_at=(x, 0.0),
        marks=(("HH", 0.35),),
        dimensions=(
            Dimension(lifted(0, 0), lifted(length_m, 0), "below", f"{length_m:.0f} m", "length"),
            Dimension(lifted(0, 0), lifted(length_m * 0.1, 0), "above", f"{length_m * 0.1:.2f} m", "station"),
            Dimension(lifted(0, -r), lifted(0, r), "left", "Ø 400 mm", "inside diameter"),
        ),
        slope="axis rises 1:100" if angle_deg else "",
    )


def bare(drawing: VesselDrawing) -> VesselDrawing:
    """The same vessel without level, gauge and float."""
    return replace(drawing, level_m=None, stem=None, nozzle=None, float_body=None)


SHAPES: dict[str, VesselDrawing] = {
    "upright": upright(),
    "lying 1:100": lying(ONE_IN_100),
    "lying 45": lying(45.0),
    "lying -30": lying(-30.0),
    "hopper": hopper(),
    "sphere": sphere(),
    "cone": cone(),
    "pipe": pipe(),
    "pipe 1:100": pipe(angle_deg=ONE_IN_100),
}
SHAPES |= {f"{name}, bare": bare(vessel) for name, vessel in list(SHAPES.items())}
