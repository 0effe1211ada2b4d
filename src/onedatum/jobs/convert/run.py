"""One conversion: cases and logs in, parts, rejects and a summary out; it goes on where an earlier run was stopped."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np
import pyarrow as pa

from onedatum.case.reading import Statement, read_case
from onedatum.foundation.constants import VERSION
from onedatum.foundation.errors import Fault, LogError, OutputError
from onedatum.jobs.cases import cases_of
from onedatum.jobs.convert.parts import REJECTS, WHOLE, Parts, digest_of, key_after
from onedatum.jobs.reading import for_sensors
from onedatum.logs.converter import Converter
from onedatum.logs.kernel import convert, schema_of
from onedatum.logs.mapping import LogMapping, missing_mapping, read_mapping
from onedatum.logs.reading import Chunk, chunks, columns_of
from onedatum.logs.tally import Tally
from onedatum.study.result import Study
from onedatum.study.study import study

FILE = pa.field("file", pa.dictionary(pa.int16(), pa.string()))
Progress = Callable[[int, float], None]
"""Told after every batch: rows done, share of all files done."""


@dataclass(frozen=True)
class Asked:
    """What is to be converted."""

    logs: tuple[Path, ...]
    case: Path | None
    cases: Path | None
    mapping: Path | None
    out: Path
    as_csv: bool = False


@dataclass
class Converted:
    """What came of it."""

    out: Path
    tally: Tally
    faults: list[Fault] = field(default_factory=list)
    """Files that could not be read, and what is wrong with the cases."""
    remarks: list[str] = field(default_factory=list)
    kept_parts: int = 0
    files: tuple[Path, ...] = ()


def run(asked: Asked, progress: Progress) -> Converted:
    """Convert; raises LogError where nothing can be begun, OutputError where nothing can be written."""
    if asked.mapping is None:
        raise LogError([missing_mapping(columns_of(asked.logs[0]) if asked.logs else ())])
    mapping = read_mapping(asked.mapping)
    studies = _studies(asked, mapping)
    converter = Converter.of(studies, mapping)
    found = Converted(asked.out, Tally(), remarks=_remarks(converter))
    found.faults += [fault for each in studies for fault in each.statement.faults]
    parts = Parts(asked.out, ".csv" if asked.as_csv else ".parquet", schema_of(converter).append(FILE))
    _Work(asked, converter, parts, found, progress).all()
    parts.clear()
    found.files = _put_together(parts, asked)
    return found


def _studies(asked: Asked, mapping: LogMapping) -> list[Study]:
    """The studies of the cases, every tag once."""
    paths = cases_of(asked.cases) if asked.cases is not None else [asked.case] if asked.case is not None else []
    if not paths:
        raise LogError([Fault("--cases", "a folder with cases", str(asked.cases), "no case lies in it")])
    if len(paths) > 1 and not mapping.tag:
        why = f"{len(paths)} cases are named: which row is of which is not guessed"
        raise LogError([Fault("tag.column", "stated in the mapping, where there are several cases", "nothing", why)])
    studies = [study_of(path) for path in paths]
    tags = [each.statement.case.tag.text for each in studies]
    faults = [
        Fault("--cases", "cases with tags of their own", f"{tag!r} twice", "a row could belong to either")
        for tag in sorted({tag for tag in tags if tags.count(tag) > 1})
    ]
    strange = sorted(set(mapping.names.values()) - set(tags))
    faults += [Fault("tag.names", f"tags of the cases: {', '.join(tags)[:200]}", repr(name)) for name in strange]
    if faults:
        raise LogError(faults)
    return studies


def study_of(path: Path) -> Study:
    """The study of a case whose rows can be worked; raises LogError where neither range nor level is known."""
    return study_with_level(read_case(path), str(path))


def study_with_level(statement: Statement, name: str) -> Study:
    """The study of a case that was read; raises LogError where neither range nor level is known."""
    found = for_sensors(statement, study(statement))
    if not found.sheet["level_now"].known:
        why = "; ".join(map(str, statement.faults[:3])) or "neither a range nor a level is stated"
        remedy = "State the range of the case"
        raise LogError([Fault(name, "a case whose range or level now is known", "neither", why, remedy=remedy)])
    return found


def _remarks(converter: Converter) -> list[str]:
    """What must be said of the cases, with the tag before it where there are several."""
    several = len(converter.tanks) > 1
    found = [f"{tank.tag}: {each}" if several else each for tank in converter.tanks for each in tank.remarks]
    without = [tank.tag for tank in converter.tanks if not tank.values]
    return [*found, *(f"{tag}: no quantity is known, levels alone are told" for tag in without)]


class _Work:
    """The files one after the other."""

    def __init__(self, asked: Asked, converter: Converter, parts: Parts, found: Converted, progress: Progress) -> None:
        self.asked, self.converter, self.parts, self.found, self.progress = asked, converter, parts, found, progress
        self.key = f"{VERSION} {converter.key}"
        self.names = pa.array([path.name for path in asked.logs], pa.string())
        self.sizes = [_size(path) for path in asked.logs]

    def all(self) -> None:
        """Convert every file; one that cannot be read is told and passed over."""
        seen: dict[str, Path] = {}
        for number, path in enumerate(self.asked.logs):
            try:
                source = digest_of(path)
                if source in seen:
                    why = f"it holds the same as {seen[source]}"
                    self.found.faults.append(Fault(str(path), "a log of its own", "the same again", why))
                    continue
                seen[source] = path
                for chunk in chunks(path, self.converter.mapping):
                    self._chunk(chunk, number, source)
            except OSError as error:
                got, why = "one that cannot be read", error.strerror or str(error)
                self.found.faults.append(Fault(str(path), "a log as CSV or Parquet", got, why))
            except LogError as error:
                self.found.faults += error.faults

    def _chunk(self, chunk: Chunk, number: int, source: str) -> None:
        name = f"{number + 1:04}-{chunk.number + 1:06}"
        self.key = key_after(self.key, source, chunk.number)
        part = self.parts.kept(name, self.key)
        if part is not None:
            self.parts.take(part)
            self.found.kept_parts += 1
            self._join(part.tally, chunk, number)
            return
        tally = Tally(last_us=dict(self.found.tally.last_us))
        with self.parts.written(name, self.asked.logs[number].name, chunk.strays) as (write, reject):
            for batch in chunk.batches:
                converted, rejected = convert(batch, self.converter, self.converter.mapping, tally.last_us)
                write(_with_file(converted, number, self.names))
                reject(rejected)
                tally.add(converted, rejected)
                self.progress(self.found.tally.rows + tally.rows, self._share(number, 0.0))
        tally.strays(chunk.strays)
        self.parts.add(name, self.key, tally)
        self._join(tally, chunk, number)

    def _join(self, tally: Tally, chunk: Chunk, number: int) -> None:
        self.found.tally.join(tally)
        self.progress(self.found.tally.rows, self._share(number, chunk.done))

    def _share(self, number: int, done: float) -> float:
        return (sum(self.sizes[:number]) + done * self.sizes[number]) / max(sum(self.sizes), 1)


def _with_file(converted: Any, number: int, names: Any) -> Any:
    """The rows with the name of their file."""
    at = pa.array(np.full(converted.num_rows, number, dtype=np.int16))
    return converted.append_column(FILE, pa.DictionaryArray.from_arrays(at, names))


def _size(path: Path) -> int:
    try:
        return path.stat().st_size
    except OSError:
        return 0


def _put_together(parts: Parts, asked: Asked) -> tuple[Path, ...]:
    """The rejects of all parts in one file, and the converted rows where they are CSV; Parquet stays a folder."""
    rejects = asked.out / REJECTS
    _joined(rejects, [parts.files(part.name)[1] for part in parts.done])
    if not asked.as_csv:
        return parts.folder, rejects
    whole = asked.out / WHOLE
    _joined(whole, [parts.files(part.name)[0] for part in parts.done])
    return whole, rejects


def _joined(path: Path, sources: Sequence[Path]) -> None:
    """CSV files end to end, the first line once."""
    made = path.with_name(f".{path.name}.new")
    try:
        with made.open("wb") as whole:
            for number, source in enumerate(sources):
                with source.open("rb") as part:
                    head = part.readline()
                    if number == 0:
                        whole.write(head)
                    shutil.copyfileobj(part, whole, 1 << 20)
        made.replace(path)
    except OSError as error:
        made.unlink(missing_ok=True)
        raise OutputError.of(path, error) from error
