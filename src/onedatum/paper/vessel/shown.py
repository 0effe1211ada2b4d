"""What of a vessel can be drawn: wild numbers are left out, long lengths broken."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from onedatum.paper.vessel.breaks import Breaks, Figure, breaks_of
from onedatum.paper.vessel.model import Dimension, Point, Polygon, Segment, Side, VesselDrawing, View
from onedatum.paper.vessel.polygon import Extent, clean, extent, on_earth, thickness


@dataclass(frozen=True, slots=True)
class Nozzle:
    """A plumb nozzle."""

    x_m: float
    bore_m: float
    foot_m: float
    face_m: float


@dataclass(frozen=True, slots=True)
class Stem:
    """A plumb stem from the flange face to its tip."""

    x_m: float
    tip_m: float
    face_m: float


@dataclass(frozen=True, slots=True)
class Float:
    """The float on the stem."""

    x_m: float
    width_m: float
    low_m: float
    high_m: float


@dataclass(frozen=True, slots=True)
class Measure:
    """A dimension that can be drawn; `level` where it runs over a break and so is drawn along the sheet."""

    start_m: Point
    end_m: Point
    side: Side
    text: str
    view: View
    level: bool = False


@dataclass(frozen=True, slots=True)
class Shown:
    """A vessel ready for the drawing board."""

    elevation: Figure
    across: Figure | None
    axis: tuple[Segment, ...]
    sloping: tuple[Point, ...]
    """The two ends of the axis, or of the floor where there is no axis; nothing left out between them."""
    tangents: tuple[Segment, ...]
    stem: Stem | None
    nozzle: Nozzle | None
    float_body: Float | None
    level_m: float | None
    level_words: str
    datum_at: Point | None
    deadwood: tuple[tuple[str, float, float], ...]
    marks: tuple[tuple[str, float], ...]
    measures: tuple[Measure, ...]
    slope: str

    @property
    def thickness_m(self) -> float:
        """How thick the thinnest figure is."""
        return min(figure.thickness_m for figure in (self.elevation, self.across) if figure is not None)


def shown_of(drawing: VesselDrawing) -> Shown | None:
    """The vessel ready for drawing, or None where there is nothing to draw."""
    contour = clean(drawing.contour)
    around = extent(contour)
    if not contour or thickness(contour) <= 1e-6 * max(around.wide, around.tall) or around.wide <= 1e-6:
        return None
    near = Near(around)
    across = section_of(drawing.across, near)
    axis = drawing.axis if drawing.axis and near.holds(*drawing.axis) else ()
    near_across = Near(extent(across))
    breaks = breaks_of(contour, fittings(drawing, near))
    breaks_across = breaks_of(across, fittings_across(drawing, near_across))
    return Shown(
        elevation=breaks.figure(contour),
        across=breaks_across.figure(across) if across else None,
        axis=breaks.lines(axis) if axis else (),
        sloping=axis or (drawing.floor if drawing.floor and near.holds(*drawing.floor) else ()),
        tangents=tuple(kept for line in drawing.tangents if near.holds(*line) for kept in breaks.lines(line)),
        stem=stem_of(drawing, near, breaks),
        nozzle=nozzle_of(drawing, near, breaks),
        float_body=float_of(drawing, near, breaks),
        level_m=drawing.level_m if drawing.level_m is not None and on_earth(drawing.level_m) else None,
        level_words=drawing.level_words,
        datum_at=datum_of(drawing, near, breaks),
        deadwood=tuple(d for d in drawing.deadwood if near.high(d[1]) and near.high(d[2]) and d[1] <= d[2]),
        marks=tuple(m for m in drawing.marks if near.high(m[1])),
        measures=(
            *measures_of("elevation", drawing.dimensions, near, breaks),
            *(measures_of("across", drawing.dimensions, near_across, breaks_across) if across else ()),
        ),
        slope=drawing.slope,
    )


class Near:
    """What lies so near the vessel that it can be drawn with it: within its own length about it."""

    def __init__(self, around: Extent) -> None:
        reach = max(around.wide, around.tall)
        self._span = (around.left - reach, around.right + reach), (around.low - reach, around.high + reach)

    def high(self, z_m: float) -> bool:
        """Whether a height is near."""
        return self._span[1][0] <= z_m <= self._span[1][1]

    def holds(self, *points: Point) -> bool:
        """Whether all points are near."""
        (left, right), _ = self._span
        return all(left <= x <= right and self.high(z) for x, z in points)


def fittings(drawing: VesselDrawing, near: Near) -> list[float]:
    """Every x at which something is to be seen."""
    points = [p for line in drawing.tangents for p in line]
    points += [] if drawing.datum_at is None else [drawing.datum_at]
    points += [p for d in drawing.dimensions if d.view == "elevation" for p in (d.start_m, d.end_m)]
    stations = [part[0] for part in (drawing.stem, drawing.nozzle, drawing.float_body) if part is not None]
    return [x for x, z in points if near.holds((x, z))] + [x for x in stations if on_earth(x)]


def fittings_across(drawing: VesselDrawing, near: Near) -> list[float]:
    """The middle of the section across and the ends of its dimensions."""
    points = (p for d in drawing.dimensions if d.view == "across" for p in (d.start_m, d.end_m))
    return [0.0, *(y for y, z in points if near.holds((y, z)))]


def section_of(across: Polygon, near: Near) -> Polygon:
    """The section across, if it is a figure and stands where the vessel does."""
    figure = clean(across)
    around = extent(figure)
    fits = figure and near.high(around.low) and near.high(around.high)
    return figure if fits and thickness(figure) > 1e-6 * max(around.wide, around.tall) else ()


def stem_of(drawing: VesselDrawing, near: Near, breaks: Breaks) -> Stem | None:
    """The stem, if its ends are near and in order."""
    if drawing.stem is None:
        return None
    x, tip, face = drawing.stem
    return Stem(breaks.moved(x), tip, face) if near.holds((x, tip), (x, face)) and tip < face else None


def nozzle_of(drawing: VesselDrawing, near: Near, breaks: Breaks) -> Nozzle | None:
    """The nozzle, if it has a bore and its ends are near and in order."""
    if drawing.nozzle is None:
        return None
    x, bore, foot, face = drawing.nozzle
    held = near.holds((x - bore / 2, foot), (x + bore / 2, face)) and bore > 0 and foot <= face
    return Nozzle(breaks.moved(x), bore, foot, face) if held else None


def float_of(drawing: VesselDrawing, near: Near, breaks: Breaks) -> Float | None:
    """The float, if it has a size and is near."""
    if drawing.float_body is None:
        return None
    x, width, low, high = drawing.float_body
    held = near.holds((x - width / 2, low), (x + width / 2, high)) and width > 0 and low < high
    return Float(breaks.moved(x), width, low, high) if held else None


def datum_of(drawing: VesselDrawing, near: Near, breaks: Breaks) -> Point | None:
    """The point of the datum, if it is near."""
    if drawing.datum_at is None or not near.holds(drawing.datum_at):
        return None
    return breaks.moved(drawing.datum_at[0]), drawing.datum_at[1]


def measures_of(view: View, dimensions: Iterable[Dimension], near: Near, breaks: Breaks) -> Iterator[Measure]:
    """The dimensions of a view that measure something near, moved with it."""
    for item in dimensions:
        if item.view == view and near.holds(item.start_m, item.end_m):
            (xa, za), (xb, zb) = item.start_m, item.end_m
            over = breaks.between(xa, xb) and abs(xb - xa) > abs(zb - za)
            yield Measure((breaks.moved(xa), za), (breaks.moved(xb), zb), item.side, item.text, view, over)
