"""Rows of readings from a file of lines, and the empty form to be filled in at the tank.

    direction,dip [mm],current [mA],voltage on resistor [mV],temperature [degC]
    up,602,6.953,69.54,21

Columns by name with their unit in brackets, in any order; what was not read stays empty, and a line on which nothing
was read does not count. `direction` says how the level came there: up from below, down from above. The columns `remark`
and `planned level` are read over; any other name is told, so that none is lost by a slip of the pen.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from io import StringIO

from onedatum.foundation.errors import Fault, ProvingError
from onedatum.foundation.units import in_unit
from onedatum.proving.causes.rows import ALLOWED, MOST_ROWS, Row, allowed
from onedatum.proving.csv_lines import MOST_FAULTS, Column, Lines, cell_of

_PATH = "readings"
MEASURED: Mapping[str, tuple[str, str]] = {
    "dip": ("dip_m", "length"),
    "current": ("current_A", "current"),
    "voltage on resistor": ("voltage_V", "voltage"),
    "voltage at transmitter": ("supply_V", "voltage"),
    "temperature": ("temperature_K", "temperature"),
    "shown level": ("shown_m", "length"),
    "shown volume": ("volume_m3", "volume"),
}
"""Columns by name: the field that each fills and its kind of quantity."""
UNITS = {"voltage_V": "mV", "supply_V": "V", "dip_m": "mm", "current_A": "mA", "temperature_K": "degC"} | {
    "shown_m": "mm",
    "volume_m3": "m3",
}
"""The unit of each column in the form."""
DIRECTION = "direction"
WAYS = {"up": True, "down": False}
_READ_OVER = ("remark", "planned level")


def read_rows(content: bytes | str, file: str = "readings.csv") -> tuple[Row, ...]:
    """The rows of a file; raises ProvingError with all that cannot be read."""
    lines = Lines(file, _PATH, MEASURED, {DIRECTION: "is_rising"})
    head, rows = lines.parsed(content, 10 * MOST_ROWS)
    columns = _columns(lines, head)
    lines.stop()
    found: list[Row] = []
    for line, cells in rows:
        row = None if lines.is_too_wide(cells, len(head), line) else _row(lines, line, cells, columns)
        found += [] if row is None else [row]
        if len(found) > MOST_ROWS:
            lines.tell((line, 1), f"at most {MOST_ROWS} rows", "more", "a level is read once or a few times")
        if len(found) > MOST_ROWS or len(lines.faults) > MOST_FAULTS:
            break
    if not found and not lines.faults:
        lines.tell((2, 1), "one line or more with readings", "none", remedy="Write down what was read, then ask again")
    lines.stop()
    return tuple(found)


def heads_of(fields: Sequence[str]) -> list[str]:
    """The first line of a file: the direction, and the columns of these fields with their units."""
    named = {field: name for name, (field, _) in MEASURED.items()}
    return [DIRECTION, *(f"{named[field]} [{UNITS[field]}]" for field in fields)]


def write_rows_form(levels_m: Sequence[float], fields: Sequence[str], delimiter: str = ",") -> str:
    """The empty form: a line for each level on the way up, then on the way down, with the columns of these fields."""
    if delimiter not in (",", ";"):
        raise ProvingError([Fault("delimiter", "a comma or a semicolon", repr(delimiter)[:20])])
    out = StringIO()
    lines = csv.writer(out, delimiter=delimiter, lineterminator="\n")
    lines.writerow([*heads_of(fields), "remark", "planned level [mm]"])
    rising = sorted(levels_m)
    for way, levels in (("up", rising), ("down", rising[::-1])):
        lines.writerows([way, *("" for _ in fields), "", f"{in_unit(level, 'mm'):.0f}"] for level in levels)
    return out.getvalue()


def _columns(lines: Lines, head: Sequence[str]) -> list[Column]:
    columns = lines.columns(head)
    example = ",".join(heads_of(("dip_m", "current_A")))
    known = (*MEASURED, DIRECTION, *_READ_OVER)
    if not any(column.field in ALLOWED for column in columns) and not lines.faults:
        got = "; ".join(head)[:120] or "nothing"
        lines.tell((1, 1), f"a line of names first, as {example}", got)
        return columns
    for index, cell in enumerate(head):
        name = cell.partition("[")[0].strip().lower()
        if name and name not in known:
            lines.tell((1, index + 1), f"one of {', '.join(known)}", repr(cell[:40]))
        elif name == DIRECTION and "[" in cell:
            lines.tell((1, index + 1), f"{DIRECTION} without a unit", repr(cell[:40]))
    return columns


def _row(lines: Lines, line: int, cells: Sequence[str], columns: Sequence[Column]) -> Row | None:
    before = len(lines.faults)
    values: dict[str, float | bool | None] = {}
    for column in columns:
        cell = cell_of(cells, column)
        if not cell:
            continue
        if column.field == "is_rising":
            if cell.lower() not in WAYS:
                why = "it says how the level came there; leave it empty where nobody knows"
                lines.tell((line, column.index + 1), "up or down", repr(cell[:40]), why)
            values[column.field] = WAYS.get(cell.lower())
        else:
            values[column.field] = _value(lines, cell, column, line)
    has_read = any(field in ALLOWED for field in values)
    return Row(**values) if has_read and len(lines.faults) == before else None  # type: ignore[arg-type]


def _value(lines: Lines, cell: str, column: Column, line: int) -> float | None:
    value = lines.number(cell, column, line)
    low, high, _ = ALLOWED[column.field]
    if value is not None and not low <= value <= high:
        why = "leave out what was not read, and look at the unit of the column"
        lines.tell((line, column.index + 1), allowed(column.field), repr(cell[:40]), why)
        return None
    return value
