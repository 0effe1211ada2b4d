"""What stands beside a log: dips and movements, from files of lines; what cannot be read is told with its place."""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from io import StringIO
from math import inf
from pathlib import Path

from onedatum.foundation.errors import Fault, LogError, Place, QuantityError
from onedatum.foundation.moments import us_of
from onedatum.foundation.units import read_quantity

DIP_COLUMNS = ("time", "level")
MOVEMENT_COLUMNS = ("from", "to", "volume")
MORE = ("tag", "half_width")
MOST_LINES = 100_000
MOST_BYTES = 20_000_000
MOST_FAULTS = 50
TIME_REMEDY = "Write it as 2026-03-02T14:30:00+01:00"


@dataclass(frozen=True)
class Dip:
    """A level by tape or stick."""

    time_us: int
    level_m: float
    half_width_m: float | None = None


@dataclass(frozen=True)
class Movement:
    """What was moved into the vessel (above 0) or out of it, by its meter or paper."""

    from_us: int
    to_us: int
    volume_m3: float
    half_width_m3: float | None = None


def read_dips(path: Path, tag: str, low_m: float = -inf, high_m: float = inf) -> list[Dip]:
    """Dips in the order of time; lines of another tag are passed over.

    Raises LogError with every fault; a level that the vessel, from `low_m` to `high_m`, cannot hold is one.
    """
    lines = _Lines(path, DIP_COLUMNS, tag)
    found = []
    for row in lines:
        at = lines.time(row, "time")
        level = lines.quantity(row, "level", "length")
        half = lines.half_width(row, "length")
        if level is not None and not low_m <= level <= high_m:
            allowed, why = f"from {low_m:.3f} m to {high_m:.3f} m", "the vessel of the case holds no other level"
            lines.tell(row, "level", allowed, row.texts["level"], why, "Look at number, unit and datum of this dip")
            continue
        if at is not None and level is not None:
            found.append(Dip(at, level, half))
    lines.end()
    return sorted(found, key=lambda dip: dip.time_us)


def read_movements(path: Path, tag: str, most_m3: float = inf) -> list[Movement]:
    """Movements in the order of time; lines of another tag are passed over.

    Raises LogError with every fault. One that moves more than a vessel of `most_m3` holds is a fault, unless as much
    went the other way at the same time.
    """
    lines = _Lines(path, MOVEMENT_COLUMNS, tag)
    found: list[tuple[_Row, Movement]] = []
    for row in lines:
        begin, end = lines.time(row, "from"), lines.time(row, "to")
        volume = lines.quantity(row, "volume", "volume")
        half = lines.half_width(row, "volume")
        if begin is None or end is None or volume is None:
            continue
        if end <= begin:
            lines.tell(row, "to", f"a time after {row.texts['from']}", row.texts["to"], "a movement takes time")
            continue
        found.append((row, Movement(begin, end, volume, half)))
    for row, movement in found:
        if abs(movement.volume_m3) > most_m3 + _other_way_m3(movement, found):
            allowed, got = f"at most {most_m3:.4g} m3, what the vessel of the case holds", row.texts["volume"]
            why = "nothing went the other way at the same time that would make room for it"
            lines.tell(row, "volume", allowed, got, why, "Look at number and unit, or add what went the other way")
    lines.end()
    return sorted((movement for _, movement in found), key=lambda movement: movement.from_us)


@dataclass(frozen=True)
class _Row:
    number: int
    texts: Mapping[str, str]


def _other_way_m3(movement: Movement, found: list[tuple[_Row, Movement]]) -> float:
    """What was moved the other way by movements that overlap one."""
    return sum(
        abs(each.volume_m3)
        for _, each in found
        if each.volume_m3 * movement.volume_m3 < 0.0 and each.from_us < movement.to_us and movement.from_us < each.to_us
    )


class _Lines:
    """The lines of one file, by the names of their columns."""

    def __init__(self, path: Path, needed: Sequence[str], tag: str) -> None:
        self.path, self.needed, self.tag = path, needed, tag
        self.faults: list[Fault] = []

    def __iter__(self) -> Iterator[_Row]:
        reader = csv.reader(StringIO(self._text(), newline=""), strict=True)
        try:
            head = [name.strip().lower() for name in next(reader, [])]
            self._head(head)
            for cells in reader:
                if len(self.faults) >= MOST_FAULTS or reader.line_num > MOST_LINES:
                    break
                row = _Row(reader.line_num, dict(zip(head, (cell.strip() for cell in cells), strict=False)))
                if not any(row.texts.values()):
                    continue
                if len(cells) != len(head):
                    self.tell(row, "line", f"{len(head)} cells, as in the first line", f"{len(cells)}")
                elif row.texts.get("tag", "") in ("", self.tag):
                    yield row
        except csv.Error as error:
            self.faults.append(self._fault("lines", "lines of cells", "one that cannot be read", str(error)))
            raise LogError(self.faults) from error
        if reader.line_num > MOST_LINES:
            self.faults.append(self._fault("lines", f"at most {MOST_LINES} lines", "more", "split the file"))

    def _text(self) -> str:
        try:
            content = self.path.read_bytes()
        except OSError as error:
            remedy = f"Its first line is: {','.join(self.needed)}"
            fault = self._fault("file", "one that can be read", "another", error.strerror or str(error), remedy)
            raise LogError([fault]) from error
        if len(content) > MOST_BYTES or b"\0" in content:
            raise LogError([self._fault("file", f"text of at most {MOST_BYTES} bytes", "another")])
        return content.decode("utf-8-sig", "replace")

    def _head(self, head: Sequence[str]) -> None:
        known = (*self.needed, *MORE)
        remedy = f"The first line is: {','.join(self.needed)}, with {' and '.join(MORE)} if you like"
        lacking = [name for name in self.needed if name not in head]
        strange = [name for name in head if name not in known]
        twice = sorted({name for name in head if head.count(name) > 1})
        faults = [self._fault(name, "a column of the first line", "none", "", remedy) for name in lacking]
        faults += [
            self._fault(repr(name)[:60], "a column that is known here", "another", "", remedy) for name in strange
        ]
        faults += [self._fault(name, "a column once", "twice", "", remedy) for name in twice]
        if faults:
            raise LogError(faults)

    def _fault(self, path: str, allowed: str, got: str, why: str = "", remedy: str = "", line: int = 1) -> Fault:
        return Fault(path, allowed, got, why, Place(str(self.path), line, 1), remedy)

    def tell(self, row: _Row, name: str, allowed: str, got: str, why: str = "", remedy: str = "") -> None:
        """Note a fault of a line."""
        self.faults.append(self._fault(name, allowed, repr(got[:60]), why, remedy, row.number))

    def time(self, row: _Row, name: str) -> int | None:
        """A time with its offset, in microseconds since 1970."""
        text = row.texts.get(name, "")
        try:
            at = datetime.fromisoformat(text)
            if at.tzinfo is not None:
                return us_of(at)
            self.tell(row, name, "a time that states its offset", text, "a local time alone comes twice", TIME_REMEDY)
        except (ValueError, OverflowError):
            self.tell(row, name, "a time as ISO 8601 writes it", text, "", TIME_REMEDY)
        return None

    def quantity(self, row: _Row, name: str, kind: str) -> float | None:
        """A number with its unit."""
        return self._read(row, name, lambda text: read_quantity(text, kind))

    def half_width(self, row: _Row, kind: str) -> float | None:
        """The half-width of the line, where it states one."""
        if not row.texts.get("half_width"):
            return None
        half = self.quantity(row, "half_width", kind)
        if half is not None and not half > 0.0:
            self.tell(row, "half_width", "above 0", row.texts["half_width"])
        return half

    def _read(self, row: _Row, name: str, read: Callable[[str], float]) -> float | None:
        try:
            return read(row.texts.get(name, ""))
        except QuantityError as error:
            self.faults.append(self._fault(name, error.allowed, error.got, error.why, error.remedy, row.number))
            return None

    def end(self) -> None:
        """Raise what was found wrong."""
        if self.faults:
            raise LogError(self.faults)
