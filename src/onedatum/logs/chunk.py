"""What all log files are read as: chunks of record batches, strays that give no row, and spans worked in one go."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

import pyarrow as pa

from onedatum.foundation.errors import Fault, LogError
from onedatum.logs.kernel import ROW, WIDEST, missing_column
from onedatum.logs.mapping import LogMapping
from onedatum.logs.pieces import Piece
from onedatum.logs.reasons import MARK

ROWS = 1 << 15
"""Rows worked at once: few enough to stay near the processor."""


@dataclass(frozen=True)
class Stray:
    """A place of a file that gives no row."""

    row: int
    reason: str
    text: str = ""


@dataclass
class Chunk:
    """A part of a file: its batches, what of it gives no row, and how much of the file is then read."""

    number: int
    batches: Iterator[Any]
    strays: list[Stray] = field(default_factory=list)
    """Whole when the batches are through."""
    done: float = 0.0
    ends: bool = False
    """Whether all that comes after it in its file is left out."""


@dataclass(frozen=True)
class Span:
    """What of a file is worked in one go: some row groups of a Parquet file, or a piece of a CSV file or all of it."""

    groups: tuple[int, ...] = ()
    first: int = 1
    """Number of its first row."""
    done: float = 1.0
    """Share of the file that is done with it."""
    piece: Piece | None = None
    end: int | None = None
    """Bytes of a CSV file that are read: it may grow meanwhile."""

    @property
    def chunk(self) -> int | None:
        """The number of its only chunk; None where there may be more."""
        if self.groups:
            return self.groups[0]
        return self.piece.number if self.piece is not None and self.piece.stop is not None else None


def shown(path: Path | str) -> str:
    """A path as it can be written: a byte of it that is no text is a mark."""
    return re.sub("[\ud800-\udfff]", MARK, str(path))


def source_of(path: Path) -> Any:
    """What the library opens: a path, or the open file where the path is no text."""
    return path if shown(path) == str(path) else pa.OSFile(os.fsencode(path))


def must_have(there: Sequence[str], mapping: LogMapping, path: Path) -> None:
    """Raises LogError where the columns of a file lack one that the mapping names, or have it twice."""
    faults = [missing_column(name, list(there)) for name in mapping.columns if name not in there]
    faults += [
        Fault(f"the column {name}", "in the log once", "twice")
        for name in mapping.columns
        if list(there).count(name) > 1
    ]
    if faults:
        no_utf_8 = any(MARK in name for name in there)
        remedy = "Its first line is not UTF-8: save the log as UTF-8" if no_utf_8 else ""
        path_of = f"{shown(path)}: "
        raise LogError([replace(each, path=path_of + each.path, remedy=remedy) for each in faults])


def sliced(batch: Any, rows: Any) -> Iterator[Any]:
    """A batch with the numbers of its rows, in slices."""
    whole = batch.append_column(ROW, pa.array(rows, pa.int64()))
    for start in range(0, whole.num_rows, ROWS):
        yield whole.slice(start, ROWS)


def on_one_line(error: Exception) -> str:
    """What an error says, for the table of what is set aside."""
    return " ".join(str(error).split())[: 2 * WIDEST]
