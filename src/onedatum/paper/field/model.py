"""What is drawn of the field of a probe: radii and heights in metres, charts in the units they are read in."""

from dataclasses import dataclass

Point = tuple[float, float]
"""Radius and height, or level and capacitance."""


@dataclass(frozen=True, slots=True)
class Rod:
    """The rod on its axis, from its end up through the roof."""

    core_m: float
    outer_m: float
    """Radius with the coating; that of the core where it is bare."""
    tip_m: float
    """Where the core ends."""
    end_m: float
    """Where the coating ends."""
    ring_m: float | None = None
    """Radius of the insulating ring in the roof; None in a tube that goes on above."""


@dataclass(frozen=True, slots=True)
class FieldLine:
    """A line of equal potential from its lowest point up: its share of the voltage of the rod in words, and its way."""

    words: str
    points: tuple[Point, ...]
    heavy: bool = False


@dataclass(frozen=True, slots=True)
class FieldDrawing:
    """A rod in its wall, the liquid up to a level, and the field between them, half of it drawn on either side."""

    title: str
    rod: Rod
    wall: tuple[Point, ...]
    """Radius and height from the bottom up."""
    lines: tuple[FieldLine, ...]
    level_m: float
    level_words: str
    caption: str = ""


@dataclass(frozen=True, slots=True)
class Mark:
    """A level with its words."""

    level: float
    words: str


@dataclass(frozen=True, slots=True)
class CurveDrawing:
    """Capacitance by level with the straight line of its setting, and beneath it what that line reads too high by."""

    title: str
    levels: tuple[float, ...]
    held: tuple[float, ...]
    errors: tuple[float, ...]
    line: tuple[Point, Point]
    """Its two points of setting."""
    unit: str
    """Of levels and errors."""
    held_unit: str
    curve_words: str
    line_words: str
    ends: tuple[Mark, ...] = ()
    """Ends of the range."""
    caption: str = ""
