"""Lines of a file with named columns: what every file of readings has in common, whatever its columns are.

Columns by name with their unit in brackets, parted by commas or by semicolons, in any order; a decimal point, never a
comma. Everything that cannot be read is told with its line and column.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from io import StringIO
from math import isfinite

from onedatum.foundation.errors import Fault, Place, ProvingError, QuantityError
from onedatum.foundation.units import read_quantity

MOST_BYTES = 1_000_000
MOST_FAULTS = 50
_POINT = "a decimal point, no comma and no unit in the rows"
_USUAL = {"length": "mm", "current": "mA", "voltage": "V", "temperature": "degC", "volume": "m3"}


@dataclass(frozen=True)
class Column:
    """A column by its place: what it is called, the field it fills, how its numbers become SI."""

    index: int
    name: str
    field: str
    factor: float = 1.0
    offset: float = 0.0
    """In SI, of zero in the unit of the column: that of a temperature in degC."""


@dataclass(frozen=True)
class Lines:
    """A file being read, and what is wrong with it."""

    file: str
    path: str
    """What the readings are called in a complaint."""
    measured: Mapping[str, tuple[str, str]]
    """Columns with a unit, by name: the field that each fills and its kind of quantity."""
    plain: Mapping[str, str]
    """Columns without a unit, by name: the field that each fills."""
    faults: list[Fault] = field(default_factory=list)

    def parsed(self, content: bytes | str, most: int) -> tuple[list[str], list[tuple[int, list[str]]]]:
        """The names of the first line, and the lines that say something with their numbers, one more than `most`."""
        text = self._text(content)
        first = text.partition("\n")[0]
        delimiter = ";" if first.count(";") > first.count(",") else ","
        lines = csv.reader(StringIO(text, newline=""), delimiter=delimiter, strict=True)
        head: list[str] = []
        rows: list[tuple[int, list[str]]] = []
        try:
            head = next(lines, [])
            for row in lines:
                if any(cell.strip() for cell in row):
                    rows.append((lines.line_num, row))
                if len(rows) > most:
                    break
        except csv.Error as error:
            parted = "semicolons" if delimiter == ";" else "commas"
            self.tell((max(lines.line_num, 1), 1), f"lines of values parted by {parted}", str(error))
        return head, rows

    def _text(self, content: bytes | str) -> str:
        size = len(content)
        if size > MOST_BYTES:
            self.tell((1, 1), f"a file of at most {MOST_BYTES} bytes", f"{size} bytes")
        else:
            try:
                text = content.decode("utf-8-sig") if isinstance(content, bytes) else content.removeprefix("\ufeff")
                if "\0" not in text:
                    return text
                self.tell((1 + text[: text.index("\0")].count("\n"), 1), "text", "a zero byte")
            except UnicodeDecodeError as error:
                line = 1 + bytes(content[: error.start]).count(b"\n")  # type: ignore[arg-type]
                self.tell((line, 1), "text in UTF-8", "letters that cannot be read", remedy="Save it as UTF-8")
        raise ProvingError(self.faults)

    # ------------------------------------------------------------ columns

    def columns(self, head: Sequence[str]) -> list[Column]:
        """The known columns of the first line; those that stand twice are told."""
        found: list[Column] = []
        for index, cell in enumerate(head):
            column = self._column(index, cell)
            if column is not None and any(column.field == other.field for other in found):
                self.tell((1, index + 1), "each column once", f"{column.name} twice")
            elif column is not None:
                found.append(column)
        return found

    def _column(self, index: int, cell: str) -> Column | None:
        name, bracket, stated = (part.strip() for part in cell.strip().partition("["))
        name = name.lower()
        if name in self.plain and not bracket:
            return Column(index, name, self.plain[name])
        if name not in self.measured:
            return None
        filled, kind = self.measured[name]
        place, got = (1, index + 1), repr(cell[:40])
        if not stated.endswith("]"):
            self.tell(place, f"the name with its unit in brackets, as {name} [{_USUAL[kind]}]", got)
            return None
        unit = stated[:-1].strip()[:20]
        try:
            zero, one = read_quantity(f"0 {unit}", kind), read_quantity(f"1 {unit}", kind)
        except QuantityError as error:
            self.tell(place, error.allowed, got, error.why)
            return None
        return Column(index, name, filled, one - zero, zero)

    # ------------------------------------------------------------ cells

    def is_too_wide(self, row: Sequence[str], width: int, line: int) -> bool:
        """Whether a line has more values than the first one has names, which is told."""
        if len(row) > width:
            why = "a decimal comma parts a number in two"
            allowed = f"{width} values, as the first line has"
            self.tell((line, width + 1), allowed, f"{len(row)}", why, "Write a point")
        return len(row) > width

    def number(self, cell: str, column: Column, line: int) -> float | None:
        """A number in SI; None where it cannot be read, which is told."""
        try:
            value = float(cell) if cell.isascii() and set(cell) <= set("0123456789+-.eE") else float("nan")
        except ValueError:
            value = float("nan")
        if isfinite(value):
            return value * column.factor + column.offset
        place = line, column.index + 1
        self.tell(place, f"a plain number in the column {column.name}", repr(cell[:40]), _POINT)
        return None

    # ------------------------------------------------------------ faults

    def tell(self, place: tuple[int, int], allowed: str, got: str, why: str = "", remedy: str = "") -> None:
        """Something wrong at a line and a column, both counted from 1."""
        self.faults.append(Fault(self.path, allowed, got, why, Place(self.file, *place), remedy))

    def stop(self) -> None:
        """Raise ProvingError where something is wrong."""
        if self.faults:
            raise ProvingError(self.faults)


def cell_of(row: Sequence[str], column: Column) -> str:
    """The cell of a column; empty where the line is shorter."""
    return row[column.index].strip() if column.index < len(row) else ""
