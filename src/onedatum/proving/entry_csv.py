"""Readings from a file of lines, and the empty form of a plan to be filled in at the tank.

    cycle;direction;reference level [mm];shown current [mA];time
    1;up;100.0;4.002;2026-11-20T09:40+00:00

Columns by name with their unit in brackets, parted by commas or by semicolons, in any order; a decimal point, never a
comma. Everything that cannot be read is told with its line and column, and then nothing is taken.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from datetime import datetime
from io import StringIO
from typing import Any

from onedatum.foundation.errors import Fault, ProvingError
from onedatum.foundation.units import in_unit
from onedatum.proving.csv_lines import MOST_FAULTS, Column, Lines, cell_of
from onedatum.proving.points import Plan
from onedatum.proving.readings import MOST_READINGS, Reading

_PATH = "readings"
_MEASURED: Mapping[str, tuple[str, str]] = {
    "reference level": ("reference_m", "length"),
    "reference current": ("reference_A", "current"),
    "shown current": ("shown_A", "current"),
    "shown level": ("shown_m", "length"),
}
_PLAIN = {"cycle": "cycle", "direction": "direction", "time": "at"}
_NEEDED = (("cycle",), ("direction",), ("reference_m", "reference_A"), ("shown_A", "shown_m"))


def read_readings(content: bytes | str, file: str = "readings.csv") -> tuple[Reading, ...]:
    """The readings of a file; raises ProvingError with all that cannot be read."""
    lines = Lines(file, _PATH, _MEASURED, _PLAIN)
    head, rows = lines.parsed(content, MOST_READINGS)
    columns = _columns(lines, head)
    lines.stop()
    found: list[Reading] = []
    for line, row in rows:
        _row(lines, line, row, columns, len(head), found)
        if len(lines.faults) > MOST_FAULTS:
            break
    if len(rows) > MOST_READINGS:
        lines.tell((rows[-1][0], 1), f"at most {MOST_READINGS} readings", "more")
    if not found and not lines.faults:
        lines.tell((2, 1), "one line or more for the readings", "none", remedy="Fill in the form of the plan")
    lines.stop()
    return tuple(found)


def write_form(plan: Plan, delimiter: str = ",", level: bool = False) -> str:
    """The empty form of a plan: one line for every reading, in the order in which the level goes.

    level: whether the level that the instrument shows is noted beside the loop current.
    """
    if delimiter not in (",", ";"):
        raise ProvingError([Fault("delimiter", "a comma or a semicolon", repr(delimiter)[:20])])
    out = StringIO()
    rows = csv.writer(out, delimiter=delimiter, lineterminator="\n")
    shown = ["shown current [mA]", *(["shown level [mm]"] if level else [])]
    rows.writerow(["cycle", "direction", "reference level [mm]", *shown, "time", "planned level [mm]"])
    points = sorted(plan.points, key=lambda point: point.level_m)
    for cycle in range(1, plan.cycles + 1):
        for direction in plan.directions:
            for point in points if direction == "up" else reversed(points):
                planned = f"{in_unit(point.level_m, 'mm'):.1f}"
                rows.writerow([cycle, direction, "", *("" for _ in shown), "", planned])
    return out.getvalue()


def _columns(lines: Lines, head: Sequence[str]) -> list[Column]:
    columns = lines.columns(head)
    fields = {column.field for column in columns}
    example = "cycle,direction,reference level [mm],shown current [mA]"
    got = "; ".join(head)[:120] or "nothing"
    for wanted in _NEEDED:
        if not fields & set(wanted) and not lines.faults:
            words = " or ".join(_named(each) for each in wanted)
            lines.tell((1, 1), f"a line of names first with {words}, as {example}", got)
    return columns


def _row(
    lines: Lines, line: int, row: Sequence[str], columns: Sequence[Column], width: int, found: list[Reading]
) -> None:
    if lines.is_too_wide(row, width, line):
        return
    before = len(lines.faults)
    values = {column.field: _cell(lines, cell_of(row, column), column, line) for column in columns}
    if values.get("reference_m") is None and values.get("reference_A") is None and len(lines.faults) == before:
        column = next(each for each in columns if each.field in ("reference_m", "reference_A"))
        allowed = f"a number in the column {column.name}"
        lines.tell((line, column.index + 1), allowed, "nothing", "", "Read it, or take the line out")
    if len(lines.faults) == before:
        found.append(Reading(**values))


def _cell(lines: Lines, cell: str, column: Column, line: int) -> Any:
    place = line, column.index + 1
    if column.field == "cycle":
        if cell.isascii() and cell.isdigit() and len(cell) < 4 and int(cell) > 0:
            return int(cell)
        lines.tell(place, "a whole number of a cycle, from 1", repr(cell[:40]))
    elif column.field == "direction":
        if cell.lower() in ("up", "down"):
            return cell.lower()
        lines.tell(place, "up or down", repr(cell[:40]), "it says how the level came there")
    elif column.field == "at":
        return _time(lines, cell, place) if cell else None
    elif cell:
        return lines.number(cell, column, line)
    return None


def _time(lines: Lines, cell: str, place: tuple[int, int]) -> datetime | None:
    try:
        at = datetime.fromisoformat(cell)
    except ValueError:
        at = None
    if at is None or at.tzinfo is None:
        lines.tell(place, "a time with its offset, as 2026-11-20T09:40+00:00", repr(cell[:40]))
        return None
    return at


def _named(field: str) -> str:
    return next((name for name, (filled, _) in _MEASURED.items() if filled == field), field)
