"""CSV files of logs by blocks of text, all read as texts: so a text among numbers is a row set aside, not the end.

What no row can be made of (too few or too many cells) is told as a stray; where a file ends in ruin, what stands before
it is kept.
"""

from __future__ import annotations

import csv
from codecs import getincrementaldecoder
from collections import deque
from collections.abc import Iterator
from pathlib import Path
from typing import Any, BinaryIO

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc
import pyarrow.csv as pa_csv

from onedatum.foundation.errors import Fault, LogError
from onedatum.logs.chunk import Chunk, Span, Stray, must_have, on_one_line, shown, sliced
from onedatum.logs.kernel import WIDEST
from onedatum.logs.mapping import LogMapping
from onedatum.logs.pieces import pieces

BLOCK = 16 << 20
"""Bytes of text read at once, and of a piece of a CSV file."""
PACKED = (".gz", ".bz2", ".zst", ".lz4")
HEAD = 1 << 20
"""Bytes in which the first line must end."""
CELLS = "the row has another number of cells than the first line"
CHANGED = "the columns change here: this row and all after it in the file are left out"
RUIN = "the file cannot be read from here on: this row and all after it are left out"
UNCLOSED = "a quote is opened before here and never closed: all after it was read as one cell"
LOT = 1 << 16
"""So many strays without a row between them make a chunk of their own."""
END = "\x04end\x04"
"""A row put behind a file: it comes out as a row of one cell where no quote is open at the end of the file."""


def names_of(path: Path, separator: str) -> list[str]:
    """The names in the first line."""
    with path.open("rb") as raw:
        file = _unpacked(raw, path) if path.suffix in PACKED else raw
        return _names(file.read(HEAD), separator)


def _names(text: bytes, separator: str) -> list[str]:
    lines = text.decode("utf-8-sig", "replace").splitlines()
    row = next(csv.reader(lines[:1], delimiter=separator), []) if lines else []
    return [name for name in row if name]


def spans(path: Path, mapping: LogMapping, end: int) -> Iterator[Span]:
    """The pieces of a plain file; one span of a packed one, and of one that cannot be cut."""
    look(path, mapping)
    cut = False
    for piece in pieces(path, mapping.separator, BLOCK, end) if path.suffix not in PACKED else ():
        cut = True
        yield Span((), piece.first, 1.0 if piece.stop is None else piece.stop / end, piece, end)
    if not cut:
        yield Span(end=end)


def look(path: Path, mapping: LogMapping) -> None:
    """Raise LogError where the first line is none of a log of the mapping."""
    names = names_of(path, mapping.separator)
    if any("\0" in name for name in names):
        why, remedy = "bytes of zero stand in its first line, as UTF-16 has them", "Save it as UTF-8"
        raise LogError([Fault(shown(path), "a log as UTF-8", "another coding", why, remedy=remedy)])
    if not names:
        raise LogError([Fault(shown(path), "a log with the names of its columns in the first line", "no such line")])
    must_have(names, mapping, path)


def chunks(path: Path, mapping: LogMapping, span: Span) -> Iterator[Chunk]:
    """The chunks of a span: one of a piece, one for each block of all else."""
    end, piece = path.stat().st_size if span.end is None else span.end, span.piece
    with path.open("rb") as raw:
        head = raw.read(piece.head) if piece is not None else b""
        names = _names(head, mapping.separator) if head else names_of(path, mapping.separator)
        raw.seek(piece.start if piece is not None else 0)
        if piece is not None and piece.stop is not None:
            text = _Clean().text(head + raw.read(piece.stop - piece.start), True)
            yield from _Blocks(pa.BufferReader(text), mapping, names, span).chunks()
            return
        counted = _UpTo(raw, end)
        file: Any = counted
        if path.suffix in PACKED:
            file = _unpacked(file, path)
        yield from _Blocks(_After(head, file, counted), mapping, names, span).chunks()


def _unpacked(file: Any, path: Path) -> Any:
    return pa.CompressedInputStream(pa.PythonFile(file, mode="r"), pa.Codec.detect(path.suffix).name)


class _UpTo:
    """The first bytes of a file."""

    closed = False

    def __init__(self, file: BinaryIO, end: int) -> None:
        self.file, self.end = file, end

    def read(self, size: int) -> bytes:
        """The next bytes, so many of them or what is left."""
        return self.file.read(max(min(size, self.end - self.file.tell()), 0))

    @property
    def done(self) -> float:
        """The share of them that is read."""
        return min(self.file.tell() / max(self.end, 1), 1.0)

    def close(self) -> None:
        """Whoever opened the file closes it."""


class _Clean:
    """Bytes in lots as UTF-8, a mark in place of what is none: no row that has it could be told as a stray."""

    def __init__(self) -> None:
        self.decoder = getincrementaldecoder("utf-8")("replace")

    def text(self, lot: bytes, is_last: bool) -> bytes:
        """The next lot; a sign that the lots part is held back until it is whole."""
        if lot.isascii() and not self.decoder.getstate()[0]:
            return lot
        return self.decoder.decode(lot, is_last).encode()


class _After:
    """A file from some place on, with its first line before it and a row behind it that tells its end."""

    closed = False

    def __init__(self, head: bytes, file: Any, counted: _UpTo) -> None:
        self.file, self.counted = file, counted
        self.clean = _Clean()
        self.ready = self.clean.text(head, False)
        """Read, and not handed over yet."""
        self.behind = f"\n{END}\n".encode()
        self.ended = False
        """Whether the file is through."""

    def read(self, size: int) -> bytes:
        """The next bytes, so many of them or what is left."""
        while len(self.ready) < size and not self.ended:
            more = self.file.read(size - len(self.ready))
            self.ended = not more
            self.ready += self.clean.text(more, self.ended)
        text, self.ready = self.ready[:size], self.ready[size:]
        left = size - len(text)
        text, self.behind = text + self.behind[:left], self.behind[left:]
        return text

    def close(self) -> None:
        """Whoever opened the file closes it."""


class _Blocks:
    """One CSV file or a piece of one, block by block.

    Blocks are looked at ahead, on other threads, so that strays may be known before the rows that stand before them.
    Each is told with the rows that it stands among, whatever was known when: a run that is taken up again, or done by
    others, falls into the same chunks.
    """

    def __init__(self, source: Any, mapping: LogMapping, names: list[str], span: Span) -> None:
        self.source, self.mapping, self.names, self.span = source, mapping, names, span
        self.is_piece = not isinstance(source, _After)
        """Whether it is one block, known as a whole with its rows, and one chunk."""
        self.closed = self.is_piece
        """Whether it ends outside of quotes: of a piece that is sure."""
        self.found = deque[Stray]()
        """Put in from other threads."""
        self.waiting: list[Stray] = []
        """From the next row on."""
        self.is_ruined = False
        self.next_row = span.first

    def _open(self) -> Any:
        columns = list(self.mapping.columns)
        return pa_csv.open_csv(
            self.source if self.is_piece else pa.PythonFile(self.source, mode="r"),
            pa_csv.ReadOptions(use_threads=False, block_size=self.source.size() if self.is_piece else BLOCK),
            pa_csv.ParseOptions(
                delimiter=self.mapping.separator, newlines_in_values=True, invalid_row_handler=self._skip
            ),
            pa_csv.ConvertOptions(
                check_utf8=False,
                column_types={name: pa.string() for name in columns},
                include_columns=columns,
                strings_can_be_null=False,
            ),
        )

    def _skip(self, row: Any) -> str:
        if not self.is_piece and self.source.ended and row.text == END:
            self.closed = True
            return "skip"
        at = row.number - 2 + self.span.first if row.number else 0
        self.found.append(Stray(at, CELLS, str(row.text)[:WIDEST]))
        return "skip"

    @property
    def _done(self) -> float:
        return self.span.done if self.is_piece else self.source.counted.done

    def chunks(self) -> Iterator[Chunk]:
        """A chunk for each block with rows, and for strays without any; one without both where there is nothing."""
        first = number = self.span.piece.number if self.span.piece is not None else 0
        for batch in self._batches(first):
            for strays in self._lots():
                yield Chunk(number, iter(()), strays, self._done)
                number += 1
            if batch is not None and batch.num_rows:
                chunk = self._filled(number, batch)
                yield chunk
                number += 1
                if chunk.ends:
                    return
        if self.waiting or number == first:
            yield Chunk(number, iter(()), self.waiting, self._done, self.is_ruined)

    def _batches(self, number: int) -> Iterator[Any]:
        """The batches, and at last None; what ends the reading is a stray after all others."""
        reader = None
        try:
            reader = self._open()
            while True:
                batch = reader.read_next_batch()
                self._gather()
                yield batch
        except StopIteration:
            self._gather("" if self.closed else UNCLOSED)
        except (pa.ArrowException, OSError) as error:
            if reader is None and number == 0:
                raise
            self._gather(RUIN, _ruin(error))
            self.is_ruined = True
        yield None

    def _gather(self, reason: str = "", text: str = "") -> None:
        """Let strays that were found wait for their rows; with a reason, put a last one after all of them."""
        while self.found:
            self.waiting.append(self.found.popleft())
        if reason:
            row = max([self.next_row, *(each.row + 1 for each in self.waiting)])
            self.waiting.append(Stray(row, reason, text))

    def _lots(self) -> Iterator[list[Stray]]:
        """Strays in lots, where so many stand before the next row that they are not kept until it comes."""
        while not self.is_piece and len(self.waiting) > LOT and self.waiting[LOT - 1].row == self.next_row + LOT - 1:
            self.next_row += LOT
            yield self._taken()

    def _taken(self) -> list[Stray]:
        """The strays before the next row; of a piece all, since no rows come after."""
        taken = [each for each in self.waiting if self.is_piece or each.row < self.next_row]
        self.waiting = self.waiting[len(taken) :]
        return taken

    def _filled(self, number: int, batch: Any) -> Chunk:
        """The chunk of a batch, up to where the columns change."""
        rows, cut = self._rows(batch.num_rows), self._change(batch)
        chunk = Chunk(number, sliced(batch.slice(0, cut), rows[:cut]), self._taken(), self._done)
        if cut < batch.num_rows:
            before = [each for each in chunk.strays if each.row < rows[cut]]
            chunk.strays, chunk.ends = [*before, Stray(int(rows[cut]), CHANGED)], True
        return chunk

    def _rows(self, count: int) -> Any:
        """The numbers of so many rows, strays left out."""
        passed = np.array([each.row for each in self.waiting], dtype=np.int64)
        rows = np.arange(self.next_row, self.next_row + count + len(passed))
        rows = rows[~np.isin(rows, passed)][:count] if len(passed) else rows
        self.next_row = int(rows[-1]) + 1
        return rows

    def _change(self, batch: Any) -> int:
        """The first row that names the columns in another order; the count of rows where there is none."""
        texts = [batch.column(name) for name in self.mapping.columns]
        named = pc.index_in(texts[0], pa.array(self.names))
        for row in pc.indices_nonzero(named.is_valid()).to_pylist():
            if [text[row].as_py() for text in texts] != list(self.mapping.columns):
                return int(row)
        return int(batch.num_rows)


def _ruin(error: Exception) -> str:
    """Why a file cannot be read on; a block that the end of a row is not in is told in our words."""
    if "straddl" in str(error):
        return f"a row is longer than {BLOCK >> 20} MB, or a quote in it is never closed"
    return on_one_line(error)
