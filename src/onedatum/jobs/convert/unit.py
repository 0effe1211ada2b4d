"""The unit of a conversion: a file, or a piece of one, worked by whoever has it, on this machine or another.

A unit is worked from what is known so far of the order of rows. Each part that comes of it says by its spans what it
hangs on, so that who asked can tell whether it is right or must be worked again. Parts are left under names of their
own; who asked gives them their place, so that no worker given up for lost ever changes what is done.
"""

from __future__ import annotations

import pickle
from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from functools import lru_cache
from hashlib import sha256
from pathlib import Path
from typing import Any, NamedTuple
from uuid import uuid4

import numpy as np
import pyarrow as pa

from onedatum.foundation.constants import VERSION
from onedatum.foundation.errors import Fault, LogError, OutputError
from onedatum.jobs.convert.lean import keep_what_is_freed
from onedatum.jobs.convert.writing import FOLDER, digest_of, part_written, places_of
from onedatum.logs.chunk import Chunk, Span, shown
from onedatum.logs.converter import Converter
from onedatum.logs.kernel import converted_of, schema_of
from onedatum.logs.mapping import LogMapping
from onedatum.logs.reading import chunks, no_log
from onedatum.logs.tally import Tally

FILE = pa.field("file", pa.dictionary(pa.int16(), pa.string()), nullable=False)
State = Mapping[str, int]
"""By tag, the greatest time so far in microseconds since 1970."""
Spans = Mapping[str, tuple[int, int]]
"""By tag: the time of the first row, and the greatest."""


@dataclass(frozen=True)
class Job:
    """What all units of a run have in common."""

    converter: Converter
    mapping: LogMapping
    names: tuple[str, ...]
    """Of the logs."""
    out: Path
    ending: str
    alone: bool = False
    """Whether one process has the machine to itself; else each keeps to one thread."""
    here: bool = True
    """Whether all who work are on the machine where the logs were hashed."""
    version: str = VERSION

    @property
    def schema(self) -> Any:
        """The columns of what is written."""
        return schema_of(self.converter).append(FILE)

    def key(self, source: str, number: int) -> str:
        """What a part is made from, beside the order of the rows before it."""
        return sha256(f"{self.version} {self.converter.key}\0{source}\0{number}".encode()).hexdigest()


class Log(NamedTuple):
    """A log as the parts that were made of it know it."""

    name: str
    """Of its file."""
    source: str
    """SHA-256 of it, up to its size."""
    size: int = 0
    """In bytes; 0 where it is not known."""


@dataclass(frozen=True)
class Part:
    """One part that is done."""

    name: str
    log: Log
    key: str
    """What it was made from: cases, mapping, file, number."""
    after: State
    """Of the order before it, what set rows of it aside."""
    spans: Spans
    digest: str
    """SHA-256 over its two files."""
    tally: Tally
    ends: bool = False
    """Whether all that comes after it in its file is left out."""

    def fits(self, state: State) -> bool:
        """Whether it comes out the same after this state."""
        return touching(self.spans, state) == dict(self.after)


def touching(spans: Spans, state: State) -> dict[str, int]:
    """Of a state, what can set aside a row of these spans."""
    return {tag: state[tag] for tag, (first, _) in spans.items() if tag in state and first <= state[tag]}


def later(state: State, spans: Spans) -> dict[str, int]:
    """The state after rows of these spans."""
    return {**state, **{tag: max(most, state.get(tag, most)) for tag, (_, most) in spans.items()}}


@dataclass(frozen=True)
class Unit:
    """A file or a piece of it, and what is known."""

    number: int
    """Of the file, from 0."""
    path: Path
    size: int
    source: str
    """SHA-256 of the file, up to its size."""
    span: Span
    after: State = field(default_factory=dict)
    known: Mapping[int, Part] = field(default_factory=dict)
    """Parts of it that are there already, by the number of their chunk."""
    only: Mapping[int, State] | None = None
    """Chunks to work and the state before each; None: all."""


@dataclass(frozen=True)
class Made:
    """A part that was worked, or was there."""

    number: int
    part: Part
    files: tuple[Path, ...]
    """Where its files lie; none where they have their place already."""
    done: float


@dataclass(frozen=True)
class Failed:
    """Why a unit could not be worked to its end."""

    faults: tuple[Fault, ...] = ()
    output: tuple[str, str, str] | None = None
    """Where nothing can be written: path, why, remedy."""


Outcome = Made | Failed


def name_of(file: int, chunk: int) -> str:
    """The name of a part."""
    return f"{file + 1:04}-{chunk + 1:06}"


def work(unit: Unit, job: Job) -> Iterator[Outcome]:
    """Work a unit, part by part; what goes wrong is told as data, so that it can come from another machine."""
    try:
        if job.version != VERSION:
            raise LogError(
                [Fault("the worker", f"onedatum {job.version}", f"onedatum {VERSION}", "numbers may differ")]
            )
        _same_size(unit, job)
        keep_what_is_freed()
        yield from _parts(unit, job)
    except LogError as error:
        yield Failed(error.faults)
    except OutputError as error:
        yield Failed(output=(error.path, error.why, error.remedy))
    except OSError as error:
        yield Failed((no_log(unit.path, error),))


def _same_size(unit: Unit, job: Job) -> None:
    """Raise LogError where it is another file; one of lines that grew here still begins with what was hashed."""
    size = unit.path.stat().st_size
    if size == unit.size or (job.here and size > unit.size and not unit.span.groups):
        return
    if job.here:
        raise LogError([changed(unit.path)])
    why = "its size is another where it is worked than where the run began"
    raise LogError([Fault(shown(unit.path), "one file, the same on every machine", "another", why)])


def changed(path: Path) -> Fault:
    """That a log is no longer what was hashed."""
    remedy = "Call again when it stands still: what is done of the other logs is kept"
    why = "rows from before and after the change would stand side by side"
    return Fault(
        shown(path), "a log that stays as it is while it is converted", "one that was changed", why, remedy=remedy
    )


def _parts(unit: Unit, job: Job) -> Iterator[Made]:
    alone = unit.span.chunk
    if unit.only is None and alone is not None and alone in unit.known:
        yield Made(alone, unit.known[alone], (), unit.span.done)
        return
    state = dict(unit.after)
    left = set(unit.only or ())
    for chunk in chunks(unit.path, job.mapping, unit.span, job.alone):
        known = unit.known.get(chunk.number)
        if unit.only is not None:
            if chunk.number in left:
                yield _worked(unit, job, chunk, unit.only[chunk.number])
                left.discard(chunk.number)
            if not left:
                return
            continue
        made = _worked(unit, job, chunk, state) if known is None else Made(chunk.number, known, (), chunk.done)
        state = later(state, made.part.spans)
        yield made


def _worked(unit: Unit, job: Job, chunk: Chunk, state: State) -> Made:
    name = name_of(unit.number, chunk.number)
    made = tuple(job.out / folder / f".{name}{end}.{uuid4().hex}.new" for folder, end in places_of(job.ending))
    tally, spans, names = Tally(), dict[str, tuple[int, int]](), pa.array(job.names, pa.string())
    own = dict(state)
    try:
        with part_written(made, job.schema, job.names[unit.number], chunk.strays, job.alone) as (write, reject):
            for batch in chunk.batches:
                found = converted_of(batch, job.converter, job.mapping, own)
                write(_with_file(found.converted, unit.number, names))
                reject(found.rejected)
                tally.add(found.converted, found.rejected)
                own = later(own, found.spans)
                spans = _joined(spans, found.spans)
        tally.strays(chunk.strays)
        key = job.key(unit.source, chunk.number)
        log = Log(job.names[unit.number], unit.source, unit.size)
        part = Part(name, log, key, touching(spans, state), spans, digest_of(*made), tally, chunk.ends)
    except OSError as error:
        remove(made)
        raise OutputError.of(job.out / FOLDER, error) from error
    except BaseException:
        remove(made)
        raise
    return Made(chunk.number, part, made, chunk.done)


def _joined(spans: Spans, more: Spans) -> dict[str, tuple[int, int]]:
    """The spans of rows and of those after them."""
    both = {tag: (spans[tag][0], max(spans[tag][1], most)) for tag, (_, most) in more.items() if tag in spans}
    return {**spans, **more, **both}


def _with_file(converted: Any, number: int, names: Any) -> Any:
    """The rows with the name of their file."""
    at = pa.array(np.full(converted.num_rows, number, dtype=np.int16))
    return converted.append_column(FILE, pa.DictionaryArray.from_arrays(at, names))


def remove(paths: tuple[Path, ...]) -> None:
    """Take files away that nobody needs."""
    for path in paths:
        with suppress(OSError):
            path.unlink(missing_ok=True)


# ---------------------------------------------------------------- a job that goes to workers


@dataclass(frozen=True)
class Order:
    """Where a job lies, and the hash that tells that it is the one meant."""

    path: Path
    digest: str

    @classmethod
    def of(cls, job: Job) -> Order:
        """Lay a job into its folder."""
        data = pickle.dumps(job)
        digest = sha256(data).hexdigest()
        path = job.out / f".job-{digest[:16]}"
        try:
            path.write_bytes(data)
        except OSError as error:
            remove((path,))
            raise OutputError.of(path, error) from error
        return cls(path, digest)


@lru_cache(maxsize=4)
def job_of(order: Order) -> Job:
    """The job; only what has the hash is opened."""
    data = order.path.read_bytes()
    if sha256(data).hexdigest() != order.digest:
        raise OSError("the job that lies in the folder is another")
    job: Job = pickle.loads(data)
    return job


def ordered_work(unit: Unit, order: Order) -> Iterator[Outcome]:
    """Work a unit of a job that lies in the folder."""
    try:
        job = job_of(order)
    except OSError as error:
        why = f"a worker finds no job there: {error.strerror or error}"
        yield Failed(output=(str(order.path.parent), why, "Name a folder that every machine has under that path"))
        return
    yield from work(unit, job)


def all_of(unit: Unit, order: Order) -> list[Outcome]:
    """The same at once."""
    return list(ordered_work(unit, order))
