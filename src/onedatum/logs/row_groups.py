"""Parquet files of logs by row groups, some of them put together: a group that cannot be read is told as a stray."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pyarrow as pa
import pyarrow.parquet as pq

from onedatum.logs.chunk import Chunk, Span, Stray, must_have, on_one_line, sliced, source_of
from onedatum.logs.kernel import WIDEST
from onedatum.logs.mapping import LogMapping

READ_ROWS = 1 << 16
"""Rows read at once."""
CHUNK_ROWS = 1_000_000
"""Row groups are put together until they hold as many."""
MAGIC = b"PAR1"


def is_parquet(path: Path) -> bool:
    """Whether a file is Parquet, by its first bytes or its name."""
    with path.open("rb") as file:
        return file.read(4) == MAGIC or path.suffix.lower() in (".parquet", ".pq")


def names_of(path: Path) -> list[str]:
    """The names of the columns."""
    return list(pq.read_schema(source_of(path)).names)


def spans(path: Path, mapping: LogMapping) -> list[Span]:
    """The row groups of a file, some of them put together."""
    with pq.ParquetFile(source_of(path), pre_buffer=False) as file:
        must_have(file.schema_arrow.names, mapping, path)
        sizes = [file.metadata.row_group(number).num_rows for number in range(file.num_row_groups)]
    first, groups, found, total = 1, list[int](), list[Span](), max(sum(sizes), 1)
    for number in range(len(sizes)):
        groups.append(number)
        rows = sum(sizes[each] for each in groups)
        if rows >= CHUNK_ROWS or number == len(sizes) - 1:
            found.append(Span(tuple(groups), first, (first - 1 + rows) / total))
            first, groups = first + rows, []
    return found


def chunks(path: Path, mapping: LogMapping, span: Span, threads: bool) -> Iterator[Chunk]:
    """The one chunk of a span; the file is open while it is worked."""
    with pq.ParquetFile(source_of(path), pre_buffer=False) as file:
        chunk = Chunk(span.groups[0], iter(()), done=span.done)
        chunk.batches = _batches(file, span, list(mapping.columns), chunk.strays, threads)
        yield chunk


def _batches(file: Any, span: Span, columns: list[str], strays: list[Stray], threads: bool) -> Iterator[Any]:
    first, groups = span.first, list(span.groups)
    try:
        for batch in file.iter_batches(READ_ROWS, row_groups=groups, columns=columns, use_threads=threads):
            yield from sliced(batch, np.arange(first, first + batch.num_rows))
            first += batch.num_rows
    except (pa.ArrowException, OSError) as error:
        groups_of = f"row groups {groups[0] + 1} to {groups[-1] + 1}"
        text = f"{groups_of}: {on_one_line(error)}"[: 2 * WIDEST]
        strays.append(Stray(first, "the row group cannot be read: this row and all after it in it are left out", text))
