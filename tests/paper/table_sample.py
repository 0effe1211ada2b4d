"""Tables of a lying tank of an invented works: a circular cylinder with flat ends, whose volumes are known in closed
form: V = L (r^2 acos((r - h) / r) - (r - h) sqrt(2 r h - h^2)), the segment of a circle (elementary geometry).
The sentences on interpolation and uncertainty are words to print only; nothing here works them out.
"""

from math import acos, sqrt

from onedatum.paper.model import Head
from onedatum.paper.table.model import Column, Heel, Line, TankTable, Zone

RADIUS_MM, LENGTH_MM = 1500.0, 4000.0
MM3_PER_L = 1e6


def volume_L(level_mm: float) -> float:
    """Litres up to a level."""
    r, h = RADIUS_MM, level_mm
    segment = r * r * acos((r - h) / r) - (r - h) * sqrt(max(0.0, 2 * r * h - h * h))
    return LENGTH_MM * segment / MM3_PER_L


FINE_ROWS = 10


def levels_mm(step_mm: float) -> tuple[float, ...]:
    """Levels from the bottom to the top: ten rows that are finer up to the first step, then the steps."""
    fine = [step_mm * i / FINE_ROWS for i in range(FINE_ROWS)]
    return (*fine, *(step_mm * i for i in range(1, round(2 * RADIUS_MM / step_mm) + 1)))


def table(step_mm: float = 10.0) -> TankTable:
    """The table of the lying tank, one zone of it not to be used."""
    levels = levels_mm(step_mm)
    volumes = tuple(map(volume_L, levels))
    count = len(levels)
    slopes = tuple(
        (volumes[i + 1] - volumes[i]) / (levels[i + 1] - levels[i]) if i + 1 < count else None for i in range(count)
    )
    return TankTable(
        head=head(),
        level=Column("level", "mm", 1, levels),
        volume=Column("volume", "L", 1, volumes),
        slope=Column("per mm to the next row", "L/mm", 3, slopes),
        vessel=vessel(),
        conditions=conditions(),
        interpolation=(
            "Linear between neighbouring rows: at most 0.21 L or 0.05 mm off, at 4 mm.",
            "Rows of 1 mm at the bottom brought it down from 1.9 L.",
        ),
        heels=heels(),
        cautions=(
            "This is no certificate of a legal calibration; where there is one, it goes before.",
            "What the law of the place asks of a table is not checked here.",
        ),
        fine=tuple(i < FINE_ROWS for i in range(count)),
        zones=(Zone(300.0, 420.0, "the floating roof rests on its legs or floats"),),
    )


def head() -> Head:
    """Whose table it is."""
    return Head(
        "Lying tank B",
        "gas oil, stock record",
        author="A. Example",
        revision="2",
        date="2026-11-02",
        case_hash="0a1b2c3d4e5f6071",
        tool_version="0.1.0",
        datum="lowest inside point",
        invented=True,
    )


def vessel() -> tuple[Line, ...]:
    """What is said of the vessel."""
    return (
        Line("shape", "lying cylinder, flat ends", "stated"),
        Line("inside diameter", "3000 mm", "stated"),
        Line("inside length", "4000 mm", "stated"),
        Line("tilt", "level, not tilted", "assumed"),
        Line("gauge station", "1200 mm from the left end", "stated"),
        Line("deadwood", "none", "stated"),
    )


def conditions() -> tuple[Line, ...]:
    """What the table rests on."""
    return (
        Line("basis", "drawing", "stated"),
        Line("datum", "lowest inside point", "stated"),
        Line("table temperature", "20 °C", "assumed"),
        Line("liquid density", "", "unknown"),
        Line("deadwood", "none to take off"),
        Line("lowest and highest level", "0 mm and 3000 mm"),
        Line("date", "2026-11-02"),
        Line("between rows", "linear between neighbouring rows"),
        Line("expanded uncertainty", "42 L at 3000 mm, k = 2"),
    )


def heels() -> tuple[Heel, ...]:
    """What stays in the vessel."""
    return (
        Heel("the lowest measurable level", "150.0 mm", "528.5 L"),
        Heel("the outlet", "90.0 mm", "247.2 L"),
        Heel("the pump's limit", "", ""),
    )
