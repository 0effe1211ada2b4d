"""Log files as chunks of record batches, whatever their form, and never a whole file at once."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pyarrow as pa

from onedatum.foundation.errors import Fault, LogError
from onedatum.logs import csv_blocks, row_groups
from onedatum.logs.chunk import Chunk, Span, shown
from onedatum.logs.mapping import LogMapping


def spans(path: Path, mapping: LogMapping, size: int | None = None) -> Iterator[Span]:
    """What a file falls into, as it is found; raises LogError where it is no log of the mapping.

    `size`: bytes of a CSV file to which it is read, where it is not to be read whole.
    """
    try:
        end = path.stat().st_size if size is None else size
        if row_groups.is_parquet(path):
            yield from row_groups.spans(path, mapping)
        else:
            yield from csv_blocks.spans(path, mapping, end)
    except (pa.ArrowException, OSError) as error:
        raise LogError([no_log(path, error)]) from error


def chunks(path: Path, mapping: LogMapping, span: Span, threads: bool = True) -> Iterator[Chunk]:
    """The chunks of a span, to be worked one after the other; raises LogError where it is no log of the mapping."""
    try:
        if span.groups:
            yield from row_groups.chunks(path, mapping, span, threads)
        else:
            yield from csv_blocks.chunks(path, mapping, span)
    except (pa.ArrowException, OSError) as error:
        raise LogError([no_log(path, error)]) from error


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
        return row_groups.names_of(path) if row_groups.is_parquet(path) else csv_blocks.names_of(path, separator)
    except (pa.ArrowException, OSError):
        return []


def look(path: Path, mapping: LogMapping) -> None:
    """Raise LogError where a file can be seen to be no log of the mapping by its beginning."""
    try:
        if row_groups.is_parquet(path):
            row_groups.spans(path, mapping)
        else:
            csv_blocks.look(path, mapping)
    except (pa.ArrowException, OSError) as error:
        raise LogError([no_log(path, error)]) from error


def no_log(path: Path, error: Exception) -> Fault:
    """That a file cannot be read, and why."""
    if path.is_dir():
        remedy = f"Name the logs in it, as {shown(path)}/*.csv"
        return Fault(shown(path), "a log as CSV or Parquet", "a folder", remedy=remedy)
    why = (error.strerror if isinstance(error, OSError) else "") or " ".join(str(error).split())[:200]
    return Fault(shown(path), "a log as CSV or Parquet, whole", "one that cannot be read", why)
