"""Log files as chunks of record batches: CSV by blocks of text, Parquet by row groups, never a whole file at once.

A CSV file is read as texts, so that a text among numbers is a row set aside, not an end of the reading. What no row can
be made of (too few or too many cells) is told as a stray; where a file ends in ruin, what stands before it is kept.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, BinaryIO

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc
import pyarrow.csv as pa_csv
import pyarrow.parquet as pq

from onedatum.foundation.errors import Fault, LogError
from onedatum.logs.kernel import ROW, WIDEST, missing_column
from onedatum.logs.mapping import LogMapping
from onedatum.logs.pieces import Piece, pieces

BLOCK = 16 << 20
"""Bytes of text read at once, and of a piece of a CSV file."""
PACKED = (".gz", ".bz2", ".zst", ".lz4")
ROWS = 1 << 15
"""Rows worked at once: few enough to stay near the processor."""
READ_ROWS = 1 << 16
"""Rows read at once."""
CHUNK_ROWS = 1_000_000
"""Row groups are put together until they hold as many."""
HEAD = 1 << 20
MAGIC = b"PAR1"
CELLS = "the row has another number of cells than the first line"
CHANGED = "the columns change here: this row and all after it in the file are left out"
RUIN = "the file cannot be read from here on: this row and all after it are left out"
UNCLOSED = "a quote is opened before here and never closed: all after it was read as one cell"
END = "\x04end\x04"
"""A row put behind a file: it comes out as a row of one cell where no quote is open at the end of the file."""


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


def is_parquet(path: Path) -> bool:
    """Whether a file is Parquet, by its first bytes or its name."""
    with path.open("rb") as file:
        return file.read(4) == MAGIC or path.suffix.lower() in (".parquet", ".pq")


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


def spans(path: Path, mapping: LogMapping, size: int | None = None) -> Iterator[Span]:
    """What a file falls into, as it is found; raises LogError where it is no log of the mapping.

    `size`: bytes of a CSV file to which it is read, where it is not to be read whole.
    """
    try:
        end = path.stat().st_size if size is None else size
        yield from _row_groups(path, mapping) if is_parquet(path) else _pieces(path, mapping, end)
    except (pa.ArrowException, OSError) as error:
        raise LogError([_no_log(path, error)]) from error


def chunks(path: Path, mapping: LogMapping, span: Span, threads: bool = True) -> Iterator[Chunk]:
    """The chunks of a span, to be worked one after the other; raises LogError where it is no log of the mapping."""
    try:
        yield from _parquet(path, mapping, span, threads) if span.groups else _csv(path, mapping, span)
    except (pa.ArrowException, OSError) as error:
        raise LogError([_no_log(path, error)]) from error


def all_chunks(path: Path, mapping: LogMapping) -> Iterator[Chunk]:
    """The chunks of a whole file, one after the other, up to where the rest of it is left out."""
    for span in spans(path, mapping):
        for chunk in chunks(path, mapping, span):
            yield chunk
            if chunk.ends:
                return


def columns_of(path: Path, separator: str = ",") -> list[str]:
    """The names of the columns of a file; none where it cannot be read."""
    try:
        return list(pq.read_schema(path).names) if is_parquet(path) else _head(path, separator)
    except (pa.ArrowException, OSError):
        return []


def _no_log(path: Path, error: Exception) -> Fault:
    why = " ".join(str(error).split())[:200]
    return Fault(str(path), "a log as CSV or Parquet, whole", "one that cannot be read", why)


def _must_have(there: Sequence[str], mapping: LogMapping, path: Path) -> None:
    faults = [missing_column(name, list(there)) for name in mapping.columns if name not in there]
    faults += [
        Fault(f"the column {name}", "in the log once", "twice")
        for name in mapping.columns
        if list(there).count(name) > 1
    ]
    if faults:
        raise LogError([Fault(f"{path}: {each.path}", each.allowed, each.got, each.why) for each in faults])


def _sliced(batch: Any, rows: Any) -> Iterator[Any]:
    """A batch with the numbers of its rows, in slices."""
    whole = batch.append_column(ROW, pa.array(rows, pa.int64()))
    for start in range(0, whole.num_rows, ROWS):
        yield whole.slice(start, ROWS)


# ---------------------------------------------------------------- Parquet


def _row_groups(path: Path, mapping: LogMapping) -> list[Span]:
    with pq.ParquetFile(path, pre_buffer=False) as file:
        _must_have(file.schema_arrow.names, mapping, path)
        sizes = [file.metadata.row_group(number).num_rows for number in range(file.num_row_groups)]
    first, groups, found, total = 1, list[int](), list[Span](), max(sum(sizes), 1)
    for number in range(len(sizes)):
        groups.append(number)
        rows = sum(sizes[each] for each in groups)
        if rows >= CHUNK_ROWS or number == len(sizes) - 1:
            found.append(Span(tuple(groups), first, (first - 1 + rows) / total))
            first, groups = first + rows, []
    return found


def _parquet(path: Path, mapping: LogMapping, span: Span, threads: bool) -> Iterator[Chunk]:
    with pq.ParquetFile(path, pre_buffer=False) as file:
        chunk = Chunk(span.groups[0], iter(()), done=span.done)
        chunk.batches = _of_groups(file, span, list(mapping.columns), chunk.strays, threads)
        yield chunk


def _of_groups(file: Any, span: Span, columns: list[str], strays: list[Stray], threads: bool) -> Iterator[Any]:
    first, groups = span.first, list(span.groups)
    try:
        for batch in file.iter_batches(READ_ROWS, row_groups=groups, columns=columns, use_threads=threads):
            rows = np.arange(first, first + batch.num_rows)
            yield from _sliced(batch, rows)
            first += batch.num_rows
    except (pa.ArrowException, OSError) as error:
        groups_of = f"row groups {groups[0] + 1} to {groups[-1] + 1}"
        text = f"{groups_of}: {' '.join(str(error).split())}"[: 2 * WIDEST]
        strays.append(Stray(first, "the row group cannot be read: this row and all after it in it are left out", text))


# ---------------------------------------------------------------- CSV


def _head(path: Path, separator: str) -> list[str]:
    """The names in the first line."""
    with pa.input_stream(path, compression="detect") as file:
        return _names(file.read(HEAD), separator)


def _names(text: bytes, separator: str) -> list[str]:
    lines = text.decode("utf-8-sig", "replace").splitlines()
    row = next(csv.reader(lines[:1], delimiter=separator), []) if lines else []
    return [name for name in row if name]


def _pieces(path: Path, mapping: LogMapping, end: int) -> Iterator[Span]:
    """The pieces of a plain file; one span of a packed one, and of one that cannot be cut."""
    names = _head(path, mapping.separator)
    if any("\0" in name for name in names):
        why, remedy = "bytes of zero stand in its first line, as UTF-16 has them", "Save it as UTF-8"
        raise LogError([Fault(str(path), "a log as UTF-8", "another coding", why, remedy=remedy)])
    if not names:
        raise LogError([Fault(str(path), "a log with the names of its columns in the first line", "no such line")])
    _must_have(names, mapping, path)
    cut = False
    for piece in pieces(path, mapping.separator, BLOCK, end) if path.suffix not in PACKED else ():
        cut = True
        yield Span((), piece.first, 1.0 if piece.stop is None else piece.stop / end, piece, end)
    if not cut:
        yield Span(end=end)


def _csv(path: Path, mapping: LogMapping, span: Span) -> Iterator[Chunk]:
    end, piece = path.stat().st_size if span.end is None else span.end, span.piece
    with path.open("rb") as raw:
        head = raw.read(piece.head) if piece is not None else b""
        names = _names(head, mapping.separator) if head else _head(path, mapping.separator)
        raw.seek(piece.start if piece is not None else 0)
        if piece is not None and piece.stop is not None:
            text = head + raw.read(piece.stop - piece.start)
            yield from _CsvReader(pa.BufferReader(text), mapping, names, span, len(text)).chunks(lambda: span.done)
            return
        file: Any = _UpTo(raw, end)
        if path.suffix in PACKED:
            file = pa.CompressedInputStream(pa.PythonFile(file, mode="r"), pa.Codec.detect(str(path)).name)
        reader = _CsvReader(_After(head, file), mapping, names, span, BLOCK)
        yield from reader.chunks(lambda: min(raw.tell() / max(end, 1), 1.0))


class _UpTo:
    """The first bytes of a file."""

    closed = False

    def __init__(self, file: BinaryIO, end: int) -> None:
        self.file, self.end = file, end

    def read(self, size: int) -> bytes:
        """The next bytes, so many of them or what is left."""
        return self.file.read(max(min(size, self.end - self.file.tell()), 0))

    def close(self) -> None:
        """Whoever opened the file closes it."""


class _After:
    """A file from some place on, with its first line before it and a row behind it that tells its end."""

    closed = False

    def __init__(self, head: bytes, file: Any) -> None:
        self.head, self.file = head, file
        self.behind = f"\n{END}\n".encode()
        self.ended = False
        """Whether the file is through."""

    def read(self, size: int) -> bytes:
        """The next bytes, so many of them or what is left."""
        text, self.head = self.head[:size], self.head[size:]
        while len(text) < size and not self.ended:
            more = self.file.read(size - len(text))
            text, self.ended = text + more, not more
        left = size - len(text)
        text, self.behind = text + self.behind[:left], self.behind[left:]
        return text

    def close(self) -> None:
        """Whoever opened the file closes it."""


class _CsvReader:
    """One CSV file or a piece of one, block by block."""

    def __init__(self, source: Any, mapping: LogMapping, names: list[str], span: Span, block: int) -> None:
        self.source, self.mapping, self.names, self.block = source, mapping, names, block
        self.wrong: list[Stray] = []
        self.passed: list[int] = []
        """Rows that were passed over, from the next row on."""
        self.closed = not isinstance(source, _After)
        """Whether it ends outside of quotes: of a piece that is sure."""
        self.first = self.next_row = span.first
        self.number = span.piece.number if span.piece is not None else 0

    def _open(self) -> Any:
        columns = list(self.mapping.columns)
        return pa_csv.open_csv(
            pa.PythonFile(self.source, mode="r") if isinstance(self.source, _After) else self.source,
            pa_csv.ReadOptions(use_threads=False, block_size=self.block),
            pa_csv.ParseOptions(
                delimiter=self.mapping.separator, newlines_in_values=True, invalid_row_handler=self._skip
            ),
            pa_csv.ConvertOptions(
                check_utf8=False,
                column_types={name: pa.binary() for name in columns},
                include_columns=columns,
                strings_can_be_null=False,
            ),
        )

    def _skip(self, row: Any) -> str:
        if isinstance(self.source, _After) and self.source.ended and row.text == END:
            self.closed = True
            return "skip"
        at = row.number - 2 + self.first if row.number else 0
        self.wrong.append(Stray(at, CELLS, str(row.text)[:WIDEST]))
        return "skip"

    @property
    def _after_all(self) -> int:
        """The number of the row after all that were read or passed over."""
        return max([self.next_row, *(row + 1 for row in self.passed), *(each.row + 1 for each in self.wrong)])

    def chunks(self, done: Any) -> Iterator[Chunk]:
        """A chunk for each block."""
        number, reader = self.number, None
        while True:
            chunk = Chunk(number, iter(()))
            try:
                reader = reader or self._open()
                batch = reader.read_next_batch()
            except StopIteration:
                batch = None
                if not self.closed:
                    chunk.strays.append(Stray(self._after_all, UNCLOSED))
            except (pa.ArrowException, OSError) as error:
                if reader is None and number == 0:
                    raise
                chunk.strays.append(Stray(self._after_all, RUIN, _ruin(error)))
                batch, chunk.ends = None, True
            chunk.strays += self.wrong
            self.passed += [each.row for each in self.wrong]
            self.wrong.clear()
            chunk.done = done()
            if batch is not None:
                self._fill(chunk, _as_text(batch))
            if (batch is not None and (batch.num_rows or number == self.number)) or chunk.strays:
                yield chunk
                number += 1
            if batch is None or chunk.ends:
                return

    def _fill(self, chunk: Chunk, batch: Any) -> None:
        """Give a chunk its rows, up to where the columns change."""
        rows, cut = self._rows(batch.num_rows), self._change(batch)
        chunk.batches = _sliced(batch.slice(0, cut), rows[:cut])
        if cut < batch.num_rows:
            before = [each for each in chunk.strays if each.row < rows[cut]]
            chunk.strays, chunk.ends = [*before, Stray(int(rows[cut]), CHANGED)], True

    def _rows(self, count: int) -> Any:
        """The numbers of so many rows, those passed over left out."""
        passed = np.array(self.passed, dtype=np.int64)
        rows = np.setdiff1d(np.arange(self.next_row, self.next_row + count + len(passed)), passed)[:count]
        self.next_row = int(rows[-1]) + 1 if len(rows) else self.next_row
        self.passed = [row for row in self.passed if row >= self.next_row]
        return rows

    def _change(self, batch: Any) -> int:
        """The first row that names the columns in another order; the count of rows where there is none."""
        texts = [batch.column(name) for name in self.mapping.columns]
        named = pc.index_in(texts[0], pa.array(self.names))
        for row in np.flatnonzero(~np.asarray(named.is_null())).tolist():
            if [text[row].as_py() for text in texts] != list(self.mapping.columns):
                return int(row)
        return int(batch.num_rows)


def _ruin(error: Exception) -> str:
    """Why a file cannot be read on; a block that the end of a row is not in is told in our words."""
    if "straddl" in str(error):
        return f"a row is longer than {BLOCK >> 20} MB, or a quote in it is never closed"
    return " ".join(str(error).split())[: 2 * WIDEST]


def _as_text(batch: Any) -> Any:
    """Bytes as texts; what is no UTF-8 gets a mark in place of it."""
    columns = []
    for column in batch.columns:
        try:
            columns.append(column.cast(pa.string()))
        except pa.ArrowInvalid:
            columns.append(pa.array([each.decode("utf-8", "replace") for each in column.to_pylist()], pa.string()))
    return pa.RecordBatch.from_arrays(columns, names=batch.schema.names)
