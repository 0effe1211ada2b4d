"""One conversion: cases and logs in, parts, rejects and a summary out; it goes on where an earlier run was stopped."""

from __future__ import annotations

import shutil
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from itertools import groupby
from pathlib import Path
from time import time

from onedatum.foundation.errors import Fault, LogError, OutputError
from onedatum.jobs.cases import cases_of
from onedatum.jobs.convert.cases import studies_of
from onedatum.jobs.convert.engines import Engine
from onedatum.jobs.convert.engines.here import Here
from onedatum.jobs.convert.engines.processes import Processes
from onedatum.jobs.convert.logs import Overlap, fewer, keep_rows, last_is_open, overlaps
from onedatum.jobs.convert.parts import REJECTS, WHOLE, Parts
from onedatum.jobs.convert.unit import Failed, Job, Log, Made, Order, Part, State, Unit, changed, later, name_of, remove
from onedatum.jobs.convert.writing import digest_up_to
from onedatum.jobs.keeping.lock import LOCK, locked
from onedatum.logs.chunk import Span, shown
from onedatum.logs.converter import Converter
from onedatum.logs.mapping import missing_mapping, read_mapping
from onedatum.logs.reading import columns_of, no_log, spans
from onedatum.logs.reasons import BEYOND
from onedatum.logs.tally import Tally
from onedatum.logs.texts import DAY_us

Progress = Callable[[int, float], None]
"""Told after every part: rows done, share of all files done."""

GREW = (
    "it grew while it was converted: what stands behind its first %d bytes is left out, and the last row may be cut off"
)


REPLACED = (
    "%s: %d rows lay here of another log of this name, or of this one before it was changed: "
    "the rows of the log that is given have taken their place"
)
OPEN = "its last line has no end: where the log was cut off there, so may be the last number, and it is wrong"


@dataclass(frozen=True)
class Asked:
    """What is to be converted."""

    logs: tuple[Path, ...]
    case: Path | None
    cases: Path | None
    mapping: Path | None
    out: Path
    as_csv: bool = False
    workers: int = 1
    """Processes of this machine."""
    scheduler: str = ""
    """Address of a scheduler whose workers are taken in their place."""


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
    overlaps: list[Overlap] = field(default_factory=list)
    stated: bool = False
    """Whether the mapping states the latest time."""


def run(asked: Asked, progress: Progress, now_s: float | None = None) -> Converted:
    """Convert; raises LogError where nothing can be begun or no worker is left, OutputError where nothing can be kept.

    `now_s`: seconds since 1970 in place of the clock; a day after it is the latest time where the mapping states none.
    """
    if asked.mapping is None:
        raise LogError([missing_mapping(columns_of(asked.logs[0]) if asked.logs else ())])
    mapping = read_mapping(asked.mapping)
    paths = cases_of(asked.cases) if asked.cases is not None else [asked.case] if asked.case is not None else []
    if not paths:
        raise LogError([Fault("--cases", "a folder with cases", str(asked.cases), "no case lies in it")])
    studies = studies_of(paths, mapping)
    converter = Converter.of(studies, mapping)
    found = Converted(asked.out, Tally(), remarks=_remarks(converter), stated=mapping.latest_us is not None)
    found.faults += [fault for each in studies for fault in each.statement.faults]
    if mapping.latest_us is None:
        mapping = replace(mapping, latest_us=int((time() if now_s is None else now_s) * 1e6) + DAY_us)
    ending = ".csv" if asked.as_csv else ".parquet"
    alone = asked.workers == 1 and not asked.scheduler
    names, here = tuple(shown(path.name) for path in asked.logs), not asked.scheduler
    job = Job(converter, mapping, names, asked.out.absolute(), ending, alone, here)
    is_new = _is_missing(asked.out)
    try:
        with locked(asked.out, 0.0, LOCK):
            _written(asked, job, found, progress)
    except LogError:
        if is_new:
            with suppress(OSError):  # where something lies in it
                asked.out.rmdir()
        raise
    return found


def _written(asked: Asked, job: Job, found: Converted, progress: Progress) -> None:
    """Work all logs in the folder, which is locked; raises LogError where nothing comes of them."""
    parts, told = Parts(asked.out, job.ending), len(found.faults)
    keep_rows(parts, asked.logs, job.mapping)
    work = _Work(job, asked.logs, parts, found, progress)
    engine = _engine(asked, job)
    try:
        parts.begin()
        work.all(engine)
        work.look_again()
    finally:
        engine.cancel()
        with suppress(OSError):
            parts.sweep()
    if not parts.done:
        parts.give_up()
        none = Fault("the logs", "logs with rows", "none with any", "nothing is written")
        raise LogError(found.faults if len(found.faults) > told else [*found.faults, none])
    done = parts.close()
    for part in done:
        found.tally.join(part.tally)
    before = [part for part in parts.known.values() if part.log.name not in work.left]
    lost = fewer(before, done)
    found.remarks += [*lost.values(), *work.replaced([part for part in before if part.log.name not in lost])]
    found.overlaps = overlaps(done)
    found.files = _put_together(parts, done, asked)


def _engine(asked: Asked, job: Job) -> Engine:
    """What the units are worked by."""
    if asked.scheduler:
        from onedatum.jobs.convert.engines.scheduler import Scheduler

        return Scheduler(job, asked.scheduler)
    return Here(job) if asked.workers == 1 else Processes(Order.of(job), asked.workers)


def _remarks(converter: Converter) -> list[str]:
    """What must be said of the cases, with the tag before it where there are several."""
    several = len(converter.tanks) > 1
    found = [f"{tank.tag}: {each}" if several else each for tank in converter.tanks for each in tank.remarks]
    without = [tank.tag for tank in converter.tanks if not tank.values]
    return [*found, *(f"{tag}: no quantity is known, levels alone are told" for tag in without)]


@dataclass(frozen=True)
class _Again:
    """A part that was worked after another order of rows than it stands in."""

    unit: Unit
    number: int
    after: State


@dataclass(frozen=True)
class _Hashed:
    """A log as it was hashed."""

    stamp: tuple[int, int, int]
    source: str


class _Work:
    """The units of all files: handed to an engine, judged in their order, put in their place."""

    def __init__(self, job: Job, logs: Sequence[Path], parts: Parts, found: Converted, progress: Progress) -> None:
        self.job, self.logs, self.parts, self.found, self.progress = job, logs, parts, found, progress
        self.sizes = [_size(path) for path in logs]
        self.state: dict[str, int] = {}
        self.again: list[_Again] = []
        self.rows = 0
        self.hashed: dict[int, _Hashed] = {}
        self.ended: set[int] = set()
        """Files of which all that comes now is left out."""
        self.left: set[str] = set()
        """Names of logs of which nothing is taken, since they were changed."""

    def all(self, engine: Engine) -> None:
        """Convert every file; one that cannot be read is told and passed over."""
        for unit, outcome in engine.map(self._units()):
            if isinstance(outcome, Failed):
                self._fail(outcome)
            else:
                self._judge(unit, outcome)
        for unit, outcome in engine.map(self._units_again()):
            if isinstance(outcome, Failed):
                self._fail(outcome)
            else:
                self._put(unit, outcome)

    def look_again(self) -> None:
        """Of a log that was changed meanwhile nothing is taken; one that grew is told."""
        for number, was in self.hashed.items():
            path = self.logs[number]
            try:
                now = _stamp(path)
                if now == was.stamp:
                    continue
                same = now[0] >= was.stamp[0] and digest_up_to(path, was.stamp[0]) == was.source
            except OSError:
                same = False
            if not same:
                self.parts.leave_out(_names_of(number))
                self.left.add(self.job.names[number])
                self._fail(Failed((changed(path),)))
            elif now[0] > was.stamp[0]:
                self.found.remarks.append(f"{shown(path)}: {GREW % was.stamp[0]}")

    def replaced(self, before: Sequence[Part]) -> list[str]:
        """Logs whose rows lay here and that begin no log that is given, though one has the name."""
        had = Counter[Log]()
        for part in before:
            had[part.log] += part.tally.rows
        return [REPLACED % (log.name, rows) for log, rows in sorted(had.items()) if rows and not self._goes_on(log)]

    def _goes_on(self, log: Log) -> bool:
        """Whether a log of a name begins with what the log was, or that is not known."""
        if not log.size or any(log.source == was.source for was in self.hashed.values()):
            return True
        named = [number for number in self.hashed if self.job.names[number] == log.name]
        longer = [self.logs[number] for number in named if self.hashed[number].stamp[0] > log.size]
        with suppress(OSError):
            return any(digest_up_to(path, log.size) == log.source for path in longer)
        return False

    def _judge(self, unit: Unit, made: Made) -> None:
        """Take a part that stands in the order it was worked after; else note that order."""
        if unit.number in self.ended:
            remove(made.files)
            return
        if made.part.ends:
            self.ended.add(unit.number)
        if made.part.fits(self.state):
            self.found.kept_parts += not made.files
            self._put(unit, made)
        else:
            remove(made.files)
            self.again.append(_Again(unit, made.number, dict(self.state)))
        self.state = later(self.state, made.part.spans)

    def _put(self, unit: Unit, made: Made) -> None:
        self.parts.put(made)
        self.rows += made.part.tally.rows
        before, total = sum(self.sizes[: unit.number]), max(sum(self.sizes), 1)
        self.progress(self.rows, (before + made.done * self.sizes[unit.number]) / total)

    def _fail(self, failed: Failed) -> None:
        if failed.output is not None:
            raise OutputError(*failed.output)
        self.found.faults += [fault for fault in failed.faults if fault not in self.found.faults]

    def _units(self) -> Iterator[Unit]:
        """The units of all files, each with what is known of the order before it when it is asked for."""
        seen: dict[str, Path] = {}
        for number, path in enumerate(self.logs):
            try:
                stamp = _stamp(path)
                size, source = stamp[0], digest_up_to(path, stamp[0])
                self.hashed[number] = _Hashed(stamp, source)
                if source in seen:
                    why = f"it holds the same as {shown(seen[source])}"
                    self.found.faults.append(Fault(shown(path), "a log of its own", "the same again", why))
                    continue
                seen[source] = path
                for place, span in enumerate(spans(path, self.job.mapping, size)):
                    if not place and last_is_open(path, size):
                        self.found.remarks.append(f"{shown(path)}: {OPEN}")
                    if number in self.ended:
                        break
                    known = self._known(number, source, span)
                    yield Unit(number, path.absolute(), size, source, span, dict(self.state), known)
            except OSError as error:
                self.found.faults.append(no_log(path, error))
            except LogError as error:
                self.found.faults += error.faults

    def _known(self, number: int, source: str, span: Span) -> dict[int, Part]:
        """The parts of a unit that are there and whole."""
        found: dict[int, Part] = {}
        named = [name for name in self.parts.known if name.startswith(_names_of(number))]
        chunks = [int(name[5:]) - 1 for name in named] if span.chunk is None else [span.chunk]
        for chunk in chunks:
            part = self.parts.whole(name_of(number, chunk), self.job.key(source, chunk))
            if part is not None and (self.found.stated or not part.tally.rejected[BEYOND]):
                found[chunk] = part
        return found

    def _units_again(self) -> Iterator[Unit]:
        """What was worked after another order than it stands in, with the order that it stands in."""
        for unit, group in groupby(self.again, key=lambda each: each.unit):
            yield replace(unit, known={}, only={each.number: each.after for each in group})


def _names_of(number: int) -> str:
    """With what the names of the parts of a log begin."""
    return name_of(number, 0).partition("-")[0] + "-"


def _stamp(path: Path) -> tuple[int, int, int]:
    """Size, time of the last change and number of a file."""
    found = path.stat()
    return found.st_size, found.st_mtime_ns, found.st_ino


def _is_missing(path: Path) -> bool:
    with suppress(OSError):
        return not path.exists()
    return False


def _size(path: Path) -> int:
    try:
        return path.stat().st_size
    except OSError:
        return 0


def _put_together(parts: Parts, done: Sequence[Part], asked: Asked) -> tuple[Path, ...]:
    """The rejects of all parts in one file, and the converted rows where they are CSV; Parquet stays a folder."""
    rejects = asked.out / REJECTS
    _joined(rejects, [parts.files(part.name)[1] for part in done])
    if not asked.as_csv:
        return parts.folder, rejects
    whole = asked.out / WHOLE
    _joined(whole, [parts.files(part.name)[0] for part in done])
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
