"""Readings from a file of lines, and the empty form of a plan to be filled in at the tank.

    cycle;direction;reference level [mm];shown current [mA];time
    1;up;100.0;4.002;2026-11-20T09:40+00:00

Columns by name with their unit in brackets, parted by commas or by semicolons, in any order; a decimal point, never a
comma. Everything that cannot be read is told with its line and column, and then nothing is taken.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from io import StringIO
from math import isfinite
from typing import Any

from onedatum.foundation.errors import Fault, Place, ProvingError, QuantityError
from onedatum.foundation.units import in_unit, read_quantity
from onedatum.proving.points import Plan
from onedatum.proving.readings import MOST_READINGS, Reading

MOST_BYTES = 1_000_000
_PATH = "readings"
_MEASURED: Mapping[str, tuple[str, str]] = {
    "reference level": ("reference_m", "length"),
    "reference current": ("reference_A", "current"),
    "shown current": ("shown_A", "current"),
    "shown level": ("shown_m", "length"),
}
_PLAIN = ("cycle", "direction", "time")
_POINT = "a decimal point, no comma and no unit in the rows"


@dataclass(frozen=True)
class _Column:
    """A column by its place: what it is called, the field it fills, what one of its unit is in SI."""

    index: int
    name: str
    field: str
    factor: float = 1.0


def read_readings(content: bytes | str, file: str = "readings.csv") -> tuple[Reading, ...]:
    """The readings of a file; raises ProvingError with all that cannot be read."""
    return _File(file, []).readings(content)


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


@dataclass(frozen=True)
class _File:
    """A file being read, and what is wrong with it."""

    file: str
    faults: list[Fault]

    def readings(self, content: bytes | str) -> tuple[Reading, ...]:
        text = self._text(content)
        first = text.partition("\n")[0]
        delimiter = ";" if first.count(";") > first.count(",") else ","
        lines = csv.reader(StringIO(text, newline=""), delimiter=delimiter, strict=True)
        found: list[Reading] = []
        try:
            head = next(lines, [])
            columns = self._columns(head)
            self._stop()
            for row in lines:
                if any(cell.strip() for cell in row):
                    self._row(row, lines.line_num, columns, len(head), found)
                if len(found) > MOST_READINGS or len(self.faults) > 50:
                    break
        except csv.Error as error:
            parted = "semicolons" if delimiter == ";" else "commas"
            self._tell(max(lines.line_num, 1), 1, f"lines of values parted by {parted}", str(error))
        if len(found) > MOST_READINGS:
            self._tell(lines.line_num, 1, f"at most {MOST_READINGS} readings", "more")
        if not found and not self.faults:
            self._tell(2, 1, "one line or more for the readings", "none", remedy="Fill in the form of the plan")
        self._stop()
        return tuple(found)

    def _text(self, content: bytes | str) -> str:
        size = len(content)
        if size > MOST_BYTES:
            self._tell(1, 1, f"a file of at most {MOST_BYTES} bytes", f"{size} bytes")
        else:
            try:
                text = content.decode("utf-8-sig") if isinstance(content, bytes) else content.removeprefix("\ufeff")
                if "\0" not in text:
                    return text
                self._tell(1 + text[: text.index("\0")].count("\n"), 1, "text", "a zero byte")
            except UnicodeDecodeError as error:
                line = 1 + bytes(content[: error.start]).count(b"\n")  # type: ignore[arg-type]
                self._tell(line, 1, "text in UTF-8", "letters that cannot be read", remedy="Save it as UTF-8")
        raise ProvingError(self.faults)

    def _columns(self, head: Sequence[str]) -> list[_Column]:
        columns: list[_Column] = []
        for index, cell in enumerate(head):
            column = self._column(index, cell)
            if column is not None and any(column.field == other.field for other in columns):
                self._tell(1, index + 1, "each column once", f"{column.name} twice")
            elif column is not None:
                columns.append(column)
        fields = {column.field for column in columns}
        example = "cycle,direction,reference level [mm],shown current [mA]"
        got = "; ".join(head)[:120] or "nothing"
        for wanted in (("cycle",), ("direction",), ("reference_m", "reference_A"), ("shown_A", "shown_m")):
            if not fields & set(wanted) and not self.faults:
                words = " or ".join(_named(each) for each in wanted)
                self._tell(1, 1, f"a line of names first with {words}, as {example}", got)
        return columns

    def _column(self, index: int, cell: str) -> _Column | None:
        name, bracket, _ = (part.strip() for part in cell.strip().lower().partition("["))
        if name in _PLAIN and not bracket:
            return _Column(index, name, "at" if name == "time" else name)
        if name not in _MEASURED:
            return None
        field, kind = _MEASURED[name]
        stated = cell.strip().partition("[")[2]
        if not stated.endswith("]"):
            self._tell(1, index + 1, f"the name with its unit in brackets, as {name} [{_unit(kind)}]", repr(cell[:40]))
            return None
        try:
            return _Column(index, name, field, read_quantity(f"1 {stated[:-1].strip()[:20]}", kind))
        except QuantityError as error:
            self._tell(1, index + 1, error.allowed, repr(cell[:40]), error.why)
            return None

    def _row(self, row: Sequence[str], line: int, columns: Sequence[_Column], width: int, found: list[Reading]) -> None:
        if len(row) > width:
            why = "a decimal comma parts a number in two"
            self._tell(line, width + 1, f"{width} values, as the first line has", f"{len(row)}", why, "Write a point")
            return
        before = len(self.faults)
        values: dict[str, Any] = {}
        for column in columns:
            cell = row[column.index].strip() if column.index < len(row) else ""
            values[column.field] = self._cell(cell, column, line)
        if values.get("reference_m") is None and values.get("reference_A") is None and len(self.faults) == before:
            column = next(each for each in columns if each.field in ("reference_m", "reference_A"))
            self._tell(
                line,
                column.index + 1,
                f"a number in the column {column.name}",
                "nothing",
                "",
                "Read it, or take the line out",
            )
        if len(self.faults) == before:
            found.append(Reading(**values))

    def _cell(self, cell: str, column: _Column, line: int) -> Any:
        place = line, column.index + 1
        if column.field == "cycle":
            if cell.isascii() and cell.isdigit() and len(cell) < 4 and int(cell) > 0:
                return int(cell)
            self._tell(*place, "a whole number of a cycle, from 1", repr(cell[:40]))
        elif column.field == "direction":
            if cell.lower() in ("up", "down"):
                return cell.lower()
            self._tell(*place, "up or down", repr(cell[:40]), "it says how the level came there")
        elif column.field == "at":
            return self._time(cell, place) if cell else None
        elif cell:
            return self._number(cell, column, place)
        return None

    def _number(self, cell: str, column: _Column, place: tuple[int, int]) -> float | None:
        try:
            value = float(cell) if cell.isascii() and set(cell) <= set("0123456789+-.eE") else float("nan")
        except ValueError:
            value = float("nan")
        if isfinite(value):
            return value * column.factor
        self._tell(*place, f"a plain number in the column {column.name}", repr(cell[:40]), _POINT)
        return None

    def _time(self, cell: str, place: tuple[int, int]) -> datetime | None:
        try:
            at = datetime.fromisoformat(cell)
        except ValueError:
            at = None
        if at is None or at.tzinfo is None:
            self._tell(*place, "a time with its offset, as 2026-11-20T09:40+00:00", repr(cell[:40]))
            return None
        return at

    def _tell(self, line: int, column: int, allowed: str, got: str, why: str = "", remedy: str = "") -> None:
        self.faults.append(Fault(_PATH, allowed, got, why, Place(self.file, line, column), remedy))

    def _stop(self) -> None:
        if self.faults:
            raise ProvingError(self.faults)


def _named(field: str) -> str:
    return next((name for name, (filled, _) in _MEASURED.items() if filled == field), field)


def _unit(kind: str) -> str:
    return {"length": "mm", "current": "mA"}[kind]
