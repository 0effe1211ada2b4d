"""The rows of a watch on the disk: parts of Parquet, each whole under its own name or not there at all.

A part is written beside, brought to the disk and only then named: a row counts as kept when its part has its name.
Rows without a level are kept like any other, with the reason. A watch that begins again goes on with the next number.
"""

from __future__ import annotations

import io
import json
import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NamedTuple

import pyarrow as pa
import pyarrow.parquet as pq

from onedatum.foundation.errors import OutputError
from onedatum.foundation.moments import MICRO
from onedatum.jobs.keeping.lock import LOCK, locked
from onedatum.jobs.write import write_whole
from onedatum.logs.live.follower import BESIDE, Row
from onedatum.logs.live.levelling import Amount
from onedatum.logs.tanks import QUANTITIES

FOLDER, MARK = "parts", "watch.json"
NAME = re.compile(r"\d{8}\.parquet$")
WRITING = ".writing"
FORM = 1
MOST_HELD = 200_000
"""Rows that wait at most while the disk takes none."""
LOCK_WAIT_s = 0.5

_AMOUNTS = [column for each in QUANTITIES for column in (each.column, f"u_{each.column}")]
SCHEMA = pa.schema(
    [
        ("time", pa.timestamp("us", "UTC")),
        ("tag", pa.string()),
        ("value", pa.float64()),
        ("unit", pa.string()),
        ("doubt", pa.string()),
        ("state", pa.string()),
        ("flags", pa.uint16()),
        ("current_A", pa.float64()),
        ("level_m", pa.float64()),
        ("u_level_m", pa.float64()),
        *((column, pa.float64()) for column in _AMOUNTS),
        ("source_time", pa.timestamp("us", "UTC")),
        ("primary", pa.float64()),
        ("primary_unit", pa.string()),
    ]
)
"""The same for every case, so that all parts are one set of data."""


@dataclass
class Tally:
    """What a run has kept."""

    parts: int = 0
    rows: int = 0
    levels: int = 0
    """Rows that tell a level."""


class Still(NamedTuple):
    """A number of a tag as it was read, and since when it was the very same, as if what was no reading took no time."""

    tag: str
    value: float
    unit: str
    source_us: int | None
    since_us: int


class _Line(NamedTuple):
    """What a row tells of standing still."""

    tag: str
    value: float | None
    unit: str
    source_us: int | None
    time_us: int
    doubt: str | None

    @property
    def is_read(self) -> bool:
        """Whether it tells a number that its source does not disown."""
        return self.value is not None and BESIDE not in (self.doubt or "")


@dataclass
class _Back:
    """How long one tag stood still, from its last row back; counted as in a watch that goes on."""

    is_over: bool = False
    _last_us: int | None = None
    _number: tuple[str, float, str, int | None] | None = None
    _still_us: int = 0
    _open_us: int = 0
    """Before the earliest row of the number found so far: it counts when the number is found again."""
    _after_us: int | None = None
    """Time of the row after, where it was one of the number."""

    def take(self, line: _Line) -> None:
        """The row before."""
        if self.is_over:
            return
        if line.value is not None:
            number = line.tag, line.value, line.unit, line.source_us
            self._number = self._number or number
            if self._number != number:
                self.is_over = True
                return
        if self._last_us is None:
            self._last_us = line.time_us
        if self._after_us is not None:
            self._open_us += max(self._after_us - line.time_us, 0)
        if line.is_read:
            self._still_us, self._open_us = self._still_us + self._open_us, 0
        self._after_us = line.time_us if line.is_read else None

    def still(self) -> Still | None:
        """What was found; None where there was no number."""
        if self._number is None or self._last_us is None:
            return None
        return Still(*self._number, self._last_us - self._still_us)


class Kept:
    """The parts of one folder, held by one watch."""

    def __init__(self, out: Path) -> None:
        self.out, self.folder = out, out / FOLDER
        self.tally = Tally()
        self.trouble = ""
        """Why the last part could not be written; its rows are still held."""
        self._held: list[dict[str, Any]] = []
        self._next = 1 + max((int(path.stem) for path in self._parts()), default=0)

    @classmethod
    @contextmanager
    def of(cls, out: Path) -> Iterator[Kept]:
        """Hold a folder for this watch alone; raises OutputError."""
        try:
            out.mkdir(parents=True, exist_ok=True)
            foreign = (out / FOLDER).exists() and not (out / MARK).is_file()
        except OSError as error:
            raise OutputError.of(out, error) from error
        if foreign:
            raise OutputError(str(out), f"there lies {FOLDER} of another origin", "Name another folder")
        with locked(out, LOCK_WAIT_s, LOCK):
            write_whole(out / MARK, json.dumps({"watch": FORM}).encode() + b"\n")
            try:
                (out / FOLDER).mkdir(exist_ok=True)
                (out / FOLDER / WRITING).unlink(missing_ok=True)  # of a watch that was killed
            except OSError as error:
                raise OutputError.of(out, error) from error
            yield cls(out)

    def _parts(self) -> list[Path]:
        return [path for path in self.folder.iterdir() if NAME.match(path.name)]

    @property
    def waiting(self) -> int:
        """Rows that are not on the disk yet."""
        return len(self._held)

    def last_us(self) -> int | None:
        """The latest time of the last part; None where there is none, or where it cannot be read."""
        paths = sorted(self._parts())
        if not paths:
            return None
        with suppress(OSError, pa.ArrowException):
            times = pq.read_table(paths[-1], columns=["time"]).column("time").cast(pa.int64()).to_pylist()
            return max(times, default=None)
        return None

    def stood_still(self, up_to_s: Mapping[str, float], now_us: int) -> dict[str, Still]:
        """How long the last number of each tag has stood still, as far back as up to so long; from the last part on."""
        found = {tag: _Back() for tag in up_to_s}
        since_us = now_us - int(max(up_to_s.values(), default=0.0) * MICRO)
        for path in sorted(self._parts(), reverse=True):
            lines = _lines(path)
            for line in lines:
                if line.tag in found:
                    found[line.tag].take(line)
            if all(each.is_over for each in found.values()) or (lines and lines[-1].time_us < since_us):
                break
        told = {tag: each.still() for tag, each in found.items()}
        return {tag: still for tag, still in told.items() if still is not None}

    def add(self, row: Row) -> None:
        """Take a row; it is kept with the next part. Raises OutputError where too many wait."""
        self._held.append(line_of(row))
        if len(self._held) > MOST_HELD:
            raise OutputError(str(self.folder), f"{len(self._held)} rows wait and none can be written: {self.trouble}")

    def commit(self) -> bool:
        """Write what waits as a part; where that fails the rows are held, and `trouble` says why."""
        if not self._held:
            return True
        content = io.BytesIO()
        pq.write_table(pa.Table.from_pylist(self._held, SCHEMA), content, compression="zstd")
        path = self.folder / f"{self._next:08}.parquet"
        try:
            write_whole(path, content.getvalue(), self.folder / WRITING)
        except OutputError as error:
            self.trouble = str(error)
            return False
        self.trouble = ""
        self._next += 1
        self.tally.parts += 1
        self.tally.rows += len(self._held)
        self.tally.levels += sum(line["level_m"] is not None for line in self._held)
        self._held = []
        return True


def _lines(path: Path) -> list[_Line]:
    """The rows of a part, the last one first; none of a part that cannot be read."""
    with suppress(OSError, pa.ArrowException, KeyError):
        table = pq.read_table(path, columns=["tag", "value", "unit", "source_time", "time", "doubt"])
        columns = [table.column(name) for name in ("tag", "value", "unit")]
        columns += [table.column(name).cast(pa.int64()) for name in ("source_time", "time")]
        columns.append(table.column("doubt"))
        rows = zip(*(each.to_pylist() for each in columns), strict=True)
        return [_Line(*row) for row in rows][::-1]
    return []


def line_of(row: Row) -> dict[str, Any]:
    """A row by its columns."""
    sample, amount = row.sample, Amount() if row.unconfirmed else row.amount
    quantities: Mapping[str, float | None] = amount.quantities
    return {
        "time": sample.time_us,
        "tag": sample.tag,
        "value": sample.reading.value,
        "unit": row.unit,
        "doubt": row.kept_doubt,
        "state": amount.state,
        "flags": amount.flags,
        "current_A": amount.current_A,
        "level_m": amount.level_m,
        "u_level_m": amount.u_level_m,
        **{column: quantities.get(column) for column in _AMOUNTS},
        "source_time": sample.reading.source_us,
        "primary": sample.reading.primary,
        "primary_unit": sample.reading.primary_unit or None,
    }
