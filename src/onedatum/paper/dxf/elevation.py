"""Draw the elevation: every shape on a layer that says what it is, every size as a dimension of the shape itself."""

from collections.abc import Iterator
from io import StringIO
from math import isfinite
from typing import TYPE_CHECKING, Any

from onedatum.paper.dxf.model import Elevation, InterfaceFloat
from onedatum.paper.dxf.words import line_of, spaced
from onedatum.paper.model import Nozzle, Ruler, Stem

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

MM = 1000.0
MILLIMETRES = 4
"""The unit of the file, in the code of the format."""
LAYERS: tuple[tuple[str, int], ...] = (
    ("VESSEL", 7),
    ("NOZZLE", 7),
    ("STEM", 5),
    ("FLOAT", 5),
    ("DEAD ZONES", 1),
    ("LEVELS", 3),
    ("DIMENSIONS", 8),
    ("TEXT", 7),
)
"""Layers with their colour numbers."""
STYLE = "ELEVATION"
TEXT_SHARE = 1 / 70
"""Height of the text over the height of the drawing."""


def elevation_dxf(elevation: Elevation) -> bytes:
    """The elevation as a DXF file of the release of 2010; the same bytes for the same elevation."""
    from ezdxf._options import options
    from ezdxf.filemanagement import new

    fixed = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        document = new("R2010", units=MILLIMETRES)
        _draw(document, elevation)
        written = StringIO()
        document.write(written)
    finally:
        options.write_fixed_meta_data_for_testing = fixed
    return written.getvalue().encode("utf-8")


def _draw(document: "Drawing", elevation: Elevation) -> None:
    ruler = elevation.ruler
    for name, colour in LAYERS:
        document.layers.add(name, color=colour)
    size = _text_mm(ruler)
    _dimension_style(document, size)
    space = document.modelspace()
    widest = _vessel(space, ruler)
    if ruler.nozzle is not None:
        _nozzle(space, ruler.nozzle)
    if ruler.stem is not None:
        _stem(space, ruler.stem, size, ruler.level_m)
        _sizes(space, ruler.stem, ruler.nozzle, size)
        if elevation.interface_float is not None:
            _between(space, ruler.stem, elevation.interface_float, size, ruler.level_m)
    _bands(space, ruler, widest)
    right = _levels(space, ruler, widest, size)
    _order(space, elevation, right, size)


def _text_mm(ruler: Ruler) -> float:
    heights = [height for _, height in ruler.outline if isfinite(height)]
    heights += [mark.height_m for mark in ruler.marks if isfinite(mark.height_m)]
    return max((max(heights, default=1.0) - min(heights, default=0.0)) * MM * TEXT_SHARE, 5.0)


def _dimension_style(document: "Drawing", size: float) -> None:
    """Sizes as measured, in whole millimetres: no factor on the length."""
    style: Any = document.dimstyles.new(STYLE)
    style.dxf.dimtxt, style.dxf.dimasz, style.dxf.dimexo, style.dxf.dimexe = size, size * 0.8, size * 0.4, size * 0.4
    style.dxf.dimgap, style.dxf.dimlfac, style.dxf.dimdec, style.dxf.dimtad = size * 0.3, 1.0, 1, 1
    style.dxf.dimzin = 8


def _vessel(space: "Modelspace", ruler: Ruler) -> float:
    """Both halves of the section; gives its greatest half width."""
    half = [(abs(r) * MM, h * MM) for r, h in ruler.outline if isfinite(r) and isfinite(h)]
    if len(half) >= 2:
        for side in (1.0, -1.0):
            space.add_lwpolyline([(side * x, y) for x, y in half], dxfattribs={"layer": "VESSEL"})
    return max((x for x, _ in half), default=100.0)


def _nozzle(space: "Modelspace", nozzle: Nozzle) -> None:
    middle, half = nozzle.offset_m * MM, nozzle.bore_m * MM / 2
    foot, face = nozzle.foot_m * MM, nozzle.face_m * MM
    attributes = {"layer": "NOZZLE"}
    for side in (-1.0, 1.0):
        space.add_line((middle + side * half, foot), (middle + side * half, face), dxfattribs=attributes)
    space.add_line((middle - 1.6 * half, face), (middle + 1.6 * half, face), dxfattribs=attributes)


def _stem(space: "Modelspace", stem: Stem, size: float, level_m: float | None) -> None:
    """The axis of the stem, and the float where it rides at the level."""
    middle = stem.offset_m * MM
    space.add_line((middle, stem.tip_m * MM), (middle, stem.face_m * MM), dxfattribs={"layer": "STEM"})
    tick = size * 0.6
    for height in (stem.tip_m * MM, stem.face_m * MM):
        space.add_line((middle - tick, height), (middle + tick, height), dxfattribs={"layer": "STEM"})
    wide, high, sunk = stem.float_diameter_m, stem.float_height_m, stem.float_immersion_m
    if wide is not None and high is not None and sunk is not None and level_m is not None:
        _float(space, middle, level_m - sunk, wide, high)


def _float(space: "Modelspace", middle: float, foot_m: float, wide_m: float, high_m: float) -> None:
    """The outline of a float that stands on a height, about the axis of the stem."""
    half, low, high = wide_m * MM / 2, foot_m * MM, (foot_m + high_m) * MM
    corners = [(middle - half, low), (middle + half, low), (middle + half, high), (middle - half, high)]
    space.add_lwpolyline(corners, close=True, dxfattribs={"layer": "FLOAT"})


def _between(space: "Modelspace", stem: Stem, lower: InterfaceFloat, size: float, level_m: float | None) -> None:
    """The float at the interface under the least upper layer, and that layer as a dimension.

    Nothing is drawn where that place is below the end of the stem: the level of this elevation is too low for it.
    """
    if level_m is None or level_m - lower.layer_m - lower.immersion_m < stem.tip_m:
        return
    middle, half = stem.offset_m * MM, lower.diameter_m * MM / 2
    interface = level_m - lower.layer_m
    _float(space, middle, interface - lower.immersion_m, lower.diameter_m, lower.height_m)
    ends = ((middle - half, interface * MM), (middle - half, level_m * MM))
    _measured(space, *ends, (middle - half - 2 * size, 0.0), 90.0)


def _sizes(space: "Modelspace", stem: Stem, nozzle: Nozzle | None, size: float) -> None:
    """Length of the stem from face to tip, and bore of the nozzle, as dimensions."""
    middle = stem.offset_m * MM
    _measured(space, (middle, stem.tip_m * MM), (middle, stem.face_m * MM), (middle - 6 * size, 0.0), 90.0)
    if nozzle is not None:
        half, face = nozzle.bore_m * MM / 2, nozzle.face_m * MM
        at = nozzle.offset_m * MM
        _measured(space, (at - half, face), (at + half, face), (0.0, face + 4 * size), 0.0)


def _measured(
    space: "Modelspace",
    first: tuple[float, float],
    second: tuple[float, float],
    base: tuple[float, float],
    angle: float,
) -> None:
    dimension = space.add_linear_dim(
        base=base, p1=first, p2=second, angle=angle, dimstyle=STYLE, dxfattribs={"layer": "DIMENSIONS"}
    )
    dimension.render()


def _bands(space: "Modelspace", ruler: Ruler, widest: float) -> None:
    """The dead zones as bars beside the stem."""
    middle = ruler.stem.offset_m * MM if ruler.stem is not None else 0.0
    wide = 0.04 * widest
    for band in ruler.bands:
        if band.kind == "dead zone" and isfinite(band.low_m) and isfinite(band.high_m):
            low, high = band.low_m * MM, band.high_m * MM
            corners = [(middle + wide, low), (middle + 2 * wide, low), (middle + 2 * wide, high), (middle + wide, high)]
            space.add_lwpolyline(corners, close=True, dxfattribs={"layer": "DEAD ZONES"})


def _levels(space: "Modelspace", ruler: Ruler, widest: float, size: float) -> float:
    """Every mark with its name and height; names that would cover each other are moved apart. Gives the right edge."""
    marks = sorted((m for m in ruler.marks if isfinite(m.height_m)), key=lambda mark: mark.height_m)
    start = widest + 2 * size
    end = start
    for mark, at in zip(marks, spaced([m.height_m * MM for m in marks], 1.5 * size), strict=True):
        height = mark.height_m * MM
        space.add_lwpolyline(
            [(widest, height), (start, height), (start + 2 * size, at)], dxfattribs={"layer": "LEVELS"}
        )
        words = line_of(f"{mark.name} {height:.1f}")
        _text(space, words, (start + 2.5 * size, at - size / 2), size, "LEVELS")
        end = max(end, start + 2.5 * size + len(words) * size)
    return end


def _order(space: "Modelspace", elevation: Elevation, left: float, size: float) -> None:
    """Whose drawing it is, what it counts from, and the lines of the order."""
    top = max((mark.height_m for mark in elevation.ruler.marks if isfinite(mark.height_m)), default=1.0) * MM
    for number, words in enumerate(_lines(elevation)):
        _text(space, line_of(words), (left + 3 * size, top - number * 1.8 * size), size, "TEXT")


def _lines(elevation: Elevation) -> Iterator[str]:
    head = elevation.head
    yield f"{head.tag}  {head.service}".strip()
    if head.invented:
        yield "invented example"
    yield f"revision {head.revision}, {head.date}; author {head.author}, checker {head.checker}"
    yield f"drawn in mm, heights above {elevation.ruler.datum}; the lines below in the units of the case"
    yield "It supports the competent person; it replaces neither certificate nor inspection."
    yield ""
    for what, value in elevation.order:
        yield f"{what}: {value}"


def _text(space: "Modelspace", words: str, at: tuple[float, float], size: float, layer: str) -> None:
    if words:
        space.add_text(words, height=size, dxfattribs={"layer": layer, "insert": at})
