"""Every mark and the level in every scale: the accessible equal of the drawing."""

from math import isfinite

from onedatum.paper.model import Mark, Ruler, Scale, Table
from onedatum.paper.ruler.layout import readout
from onedatum.paper.ruler.tables import above_stop, usable
from onedatum.paper.ruler.ticks import decimal

LEVEL_NAME = "level line"
NO_SIGNAL = "no signal"


def marks_table(ruler: Ruler) -> Table:
    """One row per mark, from the top; the level line among them."""
    level = () if ruler.level_m is None else (Mark(LEVEL_NAME, ruler.level_m, "geometry"),)
    marks = sorted((m for m in (*ruler.marks, *level) if isfinite(m.height_m)), key=lambda m: -m.height_m)
    has_height = any(s.name == "mm" for s in ruler.scales)
    head = ("mark", *(() if has_height else ("mm",)), *(s.name for s in ruler.scales))
    rows = tuple(row(m, ruler.scales, has_height) for m in marks)
    return Table(
        head=head,
        rows=rows,
        level_row=next((i for i, m in enumerate(marks) if level and m is level[0]), None),
        blocking_rows=tuple(i for i, m in enumerate(marks) if m.blocks),
        assumed_rows=tuple(i for i, m in enumerate(marks) if m.assumed),
    )


def row(mark: Mark, scales: tuple[Scale, ...], has_height: bool) -> tuple[str, ...]:
    """Name, height if no scale shows it, and the value of each scale."""
    height = () if has_height else (decimal(mark.height_m * 1000, 0),)
    return (mark.name, *height, *(cell(s, mark.height_m) for s in scales))


def cell(scale: Scale, height_m: float) -> str:
    """The value of a scale at a height, or why there is none."""
    return NO_SIGNAL if usable(scale) and above_stop(scale, height_m) else readout(scale, height_m)
