"""A tank table kept in a file beside the case: one line of names with their units, then a row a line.

    level [mm],volume [L]
    0,0
    10,12.4

Other columns are passed over. Every number that cannot be read is told with its line and column.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from io import StringIO
from math import isfinite
from pathlib import Path

from onedatum.case.leaf import Text
from onedatum.case.reader import Notes
from onedatum.case.tree import beside
from onedatum.foundation.errors import Fault, Place, QuantityError
from onedatum.foundation.units import read_quantity

MOST_BYTES = 20_000_000
MOST_ROWS = 200_000
_COLUMNS = (("level", "length"), ("volume", "volume"))
_LINE = 1


@dataclass(frozen=True)
class TableFile:
    """The rows of a table in SI, as they stand in the file."""

    file: str
    levels_m: tuple[float, ...]
    volumes_m3: tuple[float, ...]
    lines: tuple[int, ...]
    """The line each row stands in."""


@dataclass(frozen=True)
class _Column:
    """A column by its place in the row, and what one of its unit is in SI."""

    index: int
    factor: float
    name: str


def read_table(leaf: Text, folder: Path, notes: Notes, files: dict[str, str]) -> TableFile | None:
    """The table a case names; None where it names none, or where what is wrong stands in the notes."""
    if not leaf.known:
        return None
    text = _text(leaf, folder, notes)
    if text is None:
        return None
    files[leaf.text] = text
    lines = csv.reader(StringIO(text), strict=True)
    try:
        head = next(lines, [])
        columns = list(_columns(head, leaf, notes))
        if len(columns) < len(_COLUMNS):
            return None
        return _rows(lines, columns, leaf, notes)
    except csv.Error as error:
        _tell(notes, leaf, lines.line_num or _LINE, 1, "lines of values parted by commas", str(error))
        return None


def _text(leaf: Text, folder: Path, notes: Notes) -> str | None:
    name = leaf.text
    file = beside(folder, name)
    if file is None:
        why = "no path leads out of its folder"
        notes.tell(Fault(leaf.path, "the name of a file beside the case", repr(name), why, leaf.place))
        return None
    try:
        if not file.is_file():
            notes.tell(Fault(leaf.path, "the name of a file beside the case", repr(name), "there is none", leaf.place))
            return None
        if file.stat().st_size > MOST_BYTES:
            got = f"{file.stat().st_size} bytes"
            notes.tell(Fault(leaf.path, f"a file of at most {MOST_BYTES} bytes", got, "", leaf.place))
            return None
        return file.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError:
        notes.tell(Fault(leaf.path, "a text file in UTF-8", repr(name), "its letters cannot be read", leaf.place))
    except OSError as error:
        notes.tell(Fault(leaf.path, "a file that can be read", repr(name), error.strerror or "", leaf.place))
    return None


def _columns(head: Sequence[str], leaf: Text, notes: Notes) -> Iterator[_Column]:
    """The two columns by their names; a unit stands in brackets behind the name."""
    for wanted, dimension in _COLUMNS:
        found = [(index, name) for index, name in enumerate(head) if name.strip().lower().split(" ")[0] == wanted]
        example = f"a column named {wanted} with its unit, as level [mm] or volume [L]"
        if len(found) != 1:
            got = "; ".join(head) or "nothing"
            _tell(notes, leaf, _LINE, 1, f"one line of names first, with {example}", got[:120])
            continue
        index, name = found[0]
        unit = name.strip()[len(wanted) :].strip()
        if len(unit) < 3 or (unit[0], unit[-1]) not in (("[", "]"), ("(", ")")):
            _tell(notes, leaf, _LINE, index + 1, example, repr(name))
            continue
        try:
            yield _Column(index, read_quantity(f"1 {unit[1:-1].strip()}", dimension), wanted)
        except QuantityError as error:
            _tell(notes, leaf, _LINE, index + 1, error.allowed, repr(name), error.why)


def _rows(lines: Iterator[list[str]], columns: Sequence[_Column], leaf: Text, notes: Notes) -> TableFile | None:
    found: list[tuple[float, ...]] = []
    numbers: list[int] = []
    before = notes.count
    for row in lines:
        line = getattr(lines, "line_num", _LINE)
        if not any(cell.strip() for cell in row):
            continue
        if len(found) >= MOST_ROWS:
            _tell(notes, leaf, line, 1, f"a table of at most {MOST_ROWS} rows", "more")
            break
        values = tuple(_number(row, column, line, leaf, notes) for column in columns)
        found.append(values)
        numbers.append(line)
    if notes.count > before:
        return None
    levels, volumes = zip(*found, strict=True) if found else ((), ())
    return TableFile(leaf.text, levels, volumes, tuple(numbers))


def _number(row: Sequence[str], column: _Column, line: int, leaf: Text, notes: Notes) -> float:
    cell = row[column.index].strip() if column.index < len(row) else ""
    try:
        value = float(cell) if cell.replace("_", "") == cell else float("nan")
    except ValueError:
        value = float("nan")
    if not isfinite(value):
        why = "a decimal point, no comma and no unit in the rows"
        _tell(notes, leaf, line, column.index + 1, f"a plain number in the column {column.name}", repr(cell), why)
    return value * column.factor


def _tell(notes: Notes, leaf: Text, line: int, column: int, allowed: str, got: str, why: str = "") -> None:
    notes.tell(Fault(leaf.path, allowed, got, why, Place(leaf.text, line, column)))
