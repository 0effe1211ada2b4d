"""The files of a part: the converted rows as Parquet or CSV, the rejected ones as CSV, and their hash."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import contextmanager, nullcontext
from hashlib import file_digest, sha256
from pathlib import Path
from typing import Any

import pyarrow as pa
import pyarrow.compute as pc
import pyarrow.csv as pa_csv
import pyarrow.parquet as pq

from onedatum.logs.chunk import Stray
from onedatum.logs.kernel import REJECTED

FOLDER, ASIDE = "parts", "rejects"
"""Of the converted rows of each part, and of the rejected ones: a reader of Parquet takes all of a folder."""
GROUP_ROWS = 1 << 17
"""Rows of a row group: what is held in memory twice."""
LOOKED_FOR = ["row", "time", "level_m"]
"""Columns by whose least and greatest value a reader passes over a row group."""
PLAIN_WORDS = ["tag", "state", "file"]
QUICK = -3
"""Level of zstd: where levels come again, 3 % to 9 % less time than 1 for a file at most 3 % larger; half where not."""
USUAL = 1
"""For uncertainties, whose last digits are all zero: at the quick level they take five times the room."""
LOT = 1 << 20
"""Bytes that are hashed at once."""
Write = Callable[[Any], None]


def places_of(ending: str) -> tuple[tuple[str, str], tuple[str, str]]:
    """Folder and ending of the two files of a part."""
    return (FOLDER, ending), (ASIDE, ".csv")


def digest_of(*paths: Path) -> str:
    """SHA-256 over whole files."""
    whole = sha256()
    for path in paths:
        with path.open("rb") as file:
            whole.update(file_digest(file, "sha256").digest())
    return whole.hexdigest()


def digest_up_to(path: Path, size: int) -> str:
    """SHA-256 over the first bytes of a file."""
    whole = sha256()
    with path.open("rb") as file:
        while size > 0 and (lot := file.read(min(size, LOT))):
            whole.update(lot)
            size -= len(lot)
    return whole.hexdigest()


@contextmanager
def part_written(
    paths: tuple[Path, ...], schema: Any, source: str, strays: list[Stray], alone: bool
) -> Iterator[tuple[Write, Write]]:
    """Writers of the converted and the rejected rows; `alone`: this process has the machine to itself."""
    with _writer(paths[0], schema, alone) as converted, _Rejects(paths[1], source, strays) as rejects:
        yield converted, rejects.write
        rejects.rest()


@contextmanager
def _writer(path: Path, schema: Any, alone: bool) -> Iterator[Write]:
    """A writer of record batches by the ending of the path."""
    if ".csv" in path.suffixes:
        plain = pa.schema([(each.name, pa.string() if each.name in PLAIN_WORDS else each.type) for each in schema])
        with pa_csv.CSVWriter(path, plain) as file:
            yield lambda batch: file.write_table(pa.Table.from_batches([batch]).cast(plain))
        return
    file = pq.ParquetWriter(path, schema, write_statistics=LOOKED_FOR, **encoding(schema.names))
    with file, ThreadPoolExecutor(1) if alone else nullcontext() as beside:
        yield from _grouped(file, schema, beside)


def encoding(names: Sequence[str]) -> dict[str, Any]:
    """How columns are written: the quickest way of those that were tried whose file stays about the smallest.

    Dictionaries of numbers make it larger, and take up to four times as long where levels do not come again.
    """
    packed = dict.fromkeys(("row", "time"), "DELTA_BINARY_PACKED")
    levels = {name: USUAL if name.startswith("u_") else QUICK for name in names}
    how = {"compression": "zstd", "compression_level": levels, "column_encoding": packed}
    return {**how, "use_dictionary": PLAIN_WORDS}


def _grouped(file: Any, schema: Any, beside: ThreadPoolExecutor | None) -> Iterator[Write]:
    """A writer of row groups; beside, one is encoded while the next is worked, and never more than one waits."""
    held: list[Any] = []
    waiting: list[Future[None]] = []

    def release() -> None:
        while waiting:
            waiting.pop().result()
        if held and beside is None:
            file.write_table(pa.Table.from_batches(held, schema))
        elif held and beside is not None:
            waiting.append(beside.submit(file.write_table, pa.Table.from_batches(held, schema)))
        held.clear()

    def write(batch: Any) -> None:
        held.append(batch)
        if sum(each.num_rows for each in held) >= GROUP_ROWS:
            release()

    yield write
    release()
    release()


class _Rejects:
    """The rejected rows of one part as CSV, with the places that give no row, by their numbers."""

    COLUMNS = pa.schema([("file", pa.string()), *REJECTED])

    def __init__(self, path: Path, source: str, strays: list[Stray]) -> None:
        self.source, self.found = source, strays
        self.told = 0
        """So many of the strays are written."""
        self.file = pa_csv.CSVWriter(path, self.COLUMNS)

    def __enter__(self) -> _Rejects:
        return self

    def __exit__(self, *_: object) -> None:
        self.file.close()

    def write(self, batch: Any) -> None:
        """Rows that the kernel set aside, each stray before the first of a greater number."""
        if batch.num_rows:
            last = batch.column("row")[-1].as_py()
            until = bisect_left(self.found, last, self.told, key=lambda stray: stray.row)
            if until > self.told:
                both = pa.concat_batches([self._strays(until), batch])
                batch = both.take(pc.sort_indices(both.column("row")))
            self._write(batch)

    def rest(self) -> None:
        """Strays after all rows."""
        if self.told < len(self.found):
            self._write(self._strays(len(self.found)))

    def _strays(self, until: int) -> Any:
        """The strays that are not written yet, up to one of them, as rows."""
        told, self.told = self.found[self.told : until], until
        rows = [{"row": each.row, "reason": each.reason, "value": each.text} for each in told]
        return pa.RecordBatch.from_pylist(rows, schema=REJECTED)

    def _write(self, batch: Any) -> None:
        named = pa.array([self.source]).take(pa.nulls(batch.num_rows, pa.int32()).fill_null(0))
        self.file.write_batch(pa.RecordBatch.from_arrays([named, *batch.columns], schema=self.COLUMNS))
