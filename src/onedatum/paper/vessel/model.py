"""What is drawn of a vessel: plain records in metres, with the words of the dimensions already formatted."""

from dataclasses import dataclass
from typing import Literal

Point = tuple[float, float]
Polygon = tuple[Point, ...]
Segment = tuple[Point, Point]
Side = Literal["above", "below", "left", "right"]
View = Literal["elevation", "across"]


@dataclass(frozen=True, slots=True)
class Dimension:
    """The straight distance between two points, drawn parallel to it on the given side of the vessel.

    `text` is what is printed, number and unit; `name` says in the alternative text what is measured. In the view
    "across" the points are (y, height) of the section.
    """

    start_m: Point
    end_m: Point
    side: Side
    text: str
    name: str = ""
    view: View = "elevation"


@dataclass(frozen=True, slots=True)
class VesselDrawing:
    """The inside of a vessel from the side, true to scale, and its plumb section at the gauge.

    Points are (x, height over the datum), of the section (y, height over the datum), all in metres.
    """

    contour: Polygon
    """The inside seen from the side, closed by itself; a tilted vessel is already tilted."""
    across: Polygon = ()
    """The plumb section at the gauge, closed by itself; empty if there is none to show."""
    axis: Segment | None = None
    floor: Segment | None = None
    """The floor of a vessel without an axis, where it slopes."""
    tangents: tuple[Segment, ...] = ()
    """The tangent lines, each by its two ends on the wall."""
    stem: tuple[float, float, float] | None = None
    """x, height of the tip, height of the flange face."""
    nozzle: tuple[float, float, float, float] | None = None
    """x, bore, height of the foot, height of the flange face; plumb."""
    float_body: tuple[float, float, float, float] | None = None
    """x, width, lower and upper height of the float."""
    level_m: float | None = None
    level_words: str = "level"
    datum_at: Point | None = None
    deadwood: tuple[tuple[str, float, float], ...] = ()
    """Name, lower and upper height."""
    marks: tuple[tuple[str, float], ...] = ()
    """Name and height: outlet, limit of the pump, CH, HH."""
    dimensions: tuple[Dimension, ...] = ()
    slope: str = ""
    """For instance "axis rises 1:100"; empty for a vessel that stands or lies true."""
