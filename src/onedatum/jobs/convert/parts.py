"""The parts of a conversion on disk: each written whole under its own name, each known by what it was made from.

A line of the manifest is added when a part is on disk with its rejects. A run that goes on takes the parts whose line
fits what would be written now and whose files are as they were; from the first that does not, it works anew.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from hashlib import file_digest, sha256
from pathlib import Path
from typing import Any

import pyarrow as pa
import pyarrow.csv as pa_csv
import pyarrow.parquet as pq

from onedatum.foundation.errors import OutputError
from onedatum.logs.kernel import REJECTED
from onedatum.logs.reading import Stray
from onedatum.logs.tally import Tally

MANIFEST = "parts.jsonl"
FOLDER = "parts"
REJECTS, WHOLE, SUMMARY = "rejects.csv", "converted.csv", "summary.json"
RESULTS = (REJECTS, WHOLE, SUMMARY)
FORM = 1
GROUP_ROWS = 1 << 18
"""Rows of a row group: what is held in memory twice."""
LOOKED_FOR = ["row", "time", "level_m"]
"""Columns by whose least and greatest value a reader passes over a row group."""
PLAIN_WORDS = ["tag", "state", "file"]
OURS = re.compile(r"\.?\d{4}-\d{6}\.(parquet|csv|rejects\.csv)(\.new)?$")
"""Names of the files of parts."""
Write = Callable[[Any], None]


@dataclass(frozen=True)
class Part:
    """One part that is done."""

    name: str
    key: str
    """What it was made from: cases, mapping, file, number, and all parts before it."""
    digest: str
    """SHA-256 over its two files."""
    tally: Tally

    def json(self) -> str:
        """Its line of the manifest."""
        data = {"form": FORM, "name": self.name, "key": self.key, "digest": self.digest, "tally": self.tally.json()}
        return json.dumps(data, sort_keys=True)


def key_after(before: str, source: str, number: int) -> str:
    """The key of a part that follows another."""
    return sha256(f"{before}\0{source}\0{number}".encode()).hexdigest()


def digest_of(*paths: Path) -> str:
    """SHA-256 over whole files."""
    whole = sha256()
    for path in paths:
        with path.open("rb") as file:
            whole.update(file_digest(file, "sha256").digest())
    return whole.hexdigest()


class Parts:
    """The parts of one folder."""

    def __init__(self, out: Path, ending: str, schema: Any) -> None:
        self.out, self.folder, self.ending, self.schema = out, out / FOLDER, ending, schema
        try:
            taken = [name for name in (*RESULTS, FOLDER) if (out / name).exists()]
            if taken and not (out / MANIFEST).is_file():
                why = f"there lies {', '.join(taken)} of another origin"
                raise OutputError(str(out), why, "Name another folder, or that of an earlier run")
            self.folder.mkdir(parents=True, exist_ok=True)
            (out / MANIFEST).touch()
        except OSError as error:
            raise OutputError.of(self.folder, error) from error
        self.known = {part.name: part for part in self._read()}
        self.done: list[Part] = []
        self.begun = False
        """Whether the manifest tells of this run."""

    def _read(self) -> Iterator[Part]:
        """The parts that the manifest tells; a line that is broken off ends it."""
        try:
            lines = (self.out / MANIFEST).read_text(encoding="utf-8").splitlines()
        except (OSError, ValueError):
            return
        with suppress(ValueError, KeyError, TypeError, AttributeError):
            for line in lines:
                data: Mapping[str, Any] = json.loads(line)
                if data["form"] == FORM:
                    yield Part(str(data["name"]), str(data["key"]), str(data["digest"]), Tally.of(data["tally"]))

    def files(self, name: str) -> tuple[Path, Path]:
        """The converted rows of a part, and the rejected ones."""
        return self.folder / f"{name}{self.ending}", self.folder / f"{name}.rejects.csv"

    def kept(self, name: str, key: str) -> Part | None:
        """The part as it stands, where it was made from the same and is whole."""
        part = self.known.get(name)
        if part is None or part.key != key or not all(path.is_file() for path in self.files(name)):
            return None
        return part if digest_of(*self.files(name)) == part.digest else None

    def take(self, part: Part) -> None:
        """Count a part as done as it stands."""
        self.done.append(part)
        if self.begun:
            self._tell([part])

    def add(self, name: str, key: str, tally: Tally) -> None:
        """Tell the manifest of a part that was written; the first one leaves in it what is done before."""
        part = Part(name, key, digest_of(*self.files(name)), tally)
        self.done.append(part)
        self._tell([part] if self.begun else self.done)

    def _tell(self, parts: Sequence[Part]) -> None:
        try:
            with (self.out / MANIFEST).open("a" if self.begun else "w", encoding="utf-8") as file:
                file.writelines(part.json() + "\n" for part in parts)
        except OSError as error:
            raise OutputError.of(self.out / MANIFEST, error) from error
        self.begun = True

    @contextmanager
    def written(self, name: str, source: str, strays: list[Stray]) -> Iterator[tuple[Write, Write]]:
        """Writers of the converted and the rejected rows; both files take their names when all is written."""
        ends = self.files(name)
        made = [path.with_name(f".{path.name}.new") for path in ends]
        try:
            with _writer(made[0], self.schema) as converted, _Rejects(made[1], source) as rejects:
                yield converted, rejects.write
                rejects.strays(strays)
            for new, path in zip(made, ends, strict=True):
                new.replace(path)
        except OSError as error:
            raise OutputError.of(self.folder, error) from error
        finally:
            for new in made:
                with suppress(OSError):
                    new.unlink(missing_ok=True)

    def clear(self) -> None:
        """Take away what no part of this run has written."""
        named = {path for part in self.done for path in self.files(part.name)}
        for path in self.folder.iterdir():
            if path.is_file() and path not in named and OURS.match(path.name):
                path.unlink()


@contextmanager
def _writer(path: Path, schema: Any) -> Iterator[Write]:
    """A writer of record batches by the ending of the path."""
    if ".csv" in path.suffixes:
        plain = pa.schema([(each.name, pa.string() if each.name in PLAIN_WORDS else each.type) for each in schema])
        with pa_csv.CSVWriter(path, plain) as file:
            yield lambda batch: file.write_table(pa.Table.from_batches([batch]).cast(plain))
        return
    words = [*PLAIN_WORDS, *(each.name for each in schema if pa.types.is_floating(each.type))]
    packed = dict.fromkeys(("row", "time"), "DELTA_BINARY_PACKED")
    with (
        pq.ParquetWriter(
            path,
            schema,
            compression="zstd",
            use_dictionary=words,
            column_encoding=packed,
            write_statistics=LOOKED_FOR,
        ) as file,
        ThreadPoolExecutor(1) as beside,
    ):
        yield from _beside(file, schema, beside)


def _beside(file: Any, schema: Any, beside: ThreadPoolExecutor) -> Iterator[Write]:
    """A writer that encodes one row group while the next is worked; never more than one waits."""
    held: list[Any] = []
    waiting: list[Future[None]] = []

    def release() -> None:
        while waiting:
            waiting.pop().result()
        if held:
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
    """The rejected rows of one part as CSV."""

    COLUMNS = pa.schema([("file", pa.string()), *REJECTED])

    def __init__(self, path: Path, source: str) -> None:
        self.source = source
        self.file = pa_csv.CSVWriter(path, self.COLUMNS)

    def __enter__(self) -> _Rejects:
        return self

    def __exit__(self, *_: object) -> None:
        self.file.close()

    def write(self, batch: Any) -> None:
        """Rows that the kernel set aside."""
        if batch.num_rows:
            named = pa.array([self.source]).take(pa.nulls(batch.num_rows, pa.int32()).fill_null(0))
            self.file.write_batch(pa.RecordBatch.from_arrays([named, *batch.columns], schema=self.COLUMNS))

    def strays(self, strays: list[Stray]) -> None:
        """Places that give no row."""
        for stray in strays:
            row = {"file": self.source, "row": stray.row, "reason": stray.reason, "time": None, "value": stray.text}
            self.file.write_batch(pa.RecordBatch.from_pylist([row], schema=self.COLUMNS))
