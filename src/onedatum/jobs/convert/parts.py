"""The parts of a conversion on disk: each whole under its own name, each known by what it was made from.

A line of the manifest is added when a part has its place. A run that goes on takes the parts whose line fits what would
be written now and whose files are as they were; the others are worked anew. Nothing is written or taken away before
`begin`: until then it can be seen of which logs rows lie here, by the line of each part or by its rows. A line stays,
of whatever form it is, until its part is replaced.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any

import pyarrow as pa
import pyarrow.compute as pc
import pyarrow.csv as pa_csv
import pyarrow.parquet as pq

from onedatum.foundation.errors import Fault, LogError, OutputError
from onedatum.jobs.convert.unit import Log, Made, Part, remove
from onedatum.jobs.convert.writing import ASIDE, FOLDER, digest_of, places_of
from onedatum.logs.chunk import shown
from onedatum.logs.tally import Tally

MANIFEST = "parts.jsonl"
REJECTS, WHOLE, SUMMARY = "rejects.csv", "converted.csv", "summary.json"
RESULTS = (REJECTS, WHOLE, SUMMARY)
FORM = 5
"""Of a line of the manifest, and of what a part is: one of another form is worked again."""
ENDINGS = (".parquet", ".csv")
"""Of the converted rows."""
PART = re.compile(r"\d{4}-\d{6}$")
"""Names of parts."""
OURS = re.compile(r"\.?\d{4}-\d{6}\.(parquet|csv|rejects\.csv)(\.[0-9a-f]{32})?(\.new)?$")
"""Names of the files of parts."""


class Parts:
    """The parts of one folder."""

    def __init__(self, out: Path, ending: str) -> None:
        self.out, self.folder, self.ending = out, out / FOLDER, ending
        self.folders = (self.folder, out / ASIDE)
        try:
            self.is_new = not (out / MANIFEST).is_file()
            self.lines = {str(line["name"]): line for line in self._lines()}
            """Of the parts that were here, of every form."""
            csv = any(line.get("ending") == ".csv" for line in self.lines.values())
            self.was_csv = csv or any(self.folder.glob("*-??????.csv"))
            if taken := self._of_another_origin():
                why = f"there lies {', '.join(taken)} of another origin"
                raise OutputError(str(out), why, "Name another folder, or that of an earlier run, or move it away")
            self.known = {part.name: part for part in self._read()}
        except OSError as error:
            raise OutputError.of(self.folder, error) from error
        self.done: dict[str, Part] = {}
        self.is_touched = False
        """Whether a part was put here."""

    def _of_another_origin(self) -> list[str]:
        """What no run left here and this one would write over."""
        names: tuple[str, ...] = (*RESULTS, FOLDER, ASIDE)
        if not self.is_new:
            names = (WHOLE,) if self.ending == ".csv" and not self.was_csv else ()
        return [name for name in names if _is_something(self.out / name)]

    def begin(self) -> None:
        """Make ready for parts; what cannot be begun in a new folder leaves nothing there."""
        try:
            self._tell(map(_text, self.lines.values()))
            for folder in self.folders:
                folder.mkdir(exist_ok=True)
            self._begun_gone()
        except OSError as error:
            with suppress(OSError):
                self._nothing_left()
            raise OutputError.of(self.folder, error) from error

    def lying(self) -> Counter[str]:
        """The logs whose converted rows lie here, by the names of their files; raises LogError where none can tell.

        Two logs of one name are told apart by their place in the run and by their contents; one that a run began to
        replace differs from itself in one of the two.
        """
        places, sources = dict[str, set[str]](), dict[str, set[str]]()
        for path in sorted(self._ours()):
            if path.parent == self.folder and PART.fullmatch(path.stem) and path.suffix in ENDINGS:
                for log in self._logs_of(path):
                    places.setdefault(log.name, set()).add(path.name[:4])
                    sources.setdefault(log.name, set()).add(log.source)
        return Counter({name: min(len(places[name]), len(sources[name])) for name in places})

    def _logs_of(self, path: Path) -> list[Log]:
        """The logs of a part: of its line, or of its rows where no line tells it."""
        line = self.lines.get(path.stem, {})
        log = _log(line) if line.get("ending") == path.suffix else None
        return [log] if log is not None else [Log(name, path.name[:4]) for name in _logs_in(path)]

    def sweep(self) -> None:
        """Take away what somebody began to write and did not end, and the job of a run that was killed."""
        self._begun_gone()
        for path in self.out.glob(".job-*"):
            path.unlink(missing_ok=True)

    def _begun_gone(self) -> None:
        for path in self._ours():
            if path.name.endswith(".new"):
                path.unlink(missing_ok=True)

    def _ours(self) -> list[Path]:
        """Files of parts, whole or begun."""
        there = [path for folder in self.folders if folder.is_dir() for path in folder.iterdir()]
        return [path for path in there if OURS.match(path.name) and path.is_file()]

    def _lines(self) -> Iterator[Mapping[str, Any]]:
        """The lines of the manifest; one that cannot be read is passed over."""
        if self.is_new:
            return
        for line in (self.out / MANIFEST).read_text(encoding="utf-8", errors="replace").splitlines():
            with suppress(ValueError, RecursionError):
                data = json.loads(line)
                if isinstance(data, dict) and PART.fullmatch(str(data.get("name"))):
                    yield data

    def _read(self) -> Iterator[Part]:
        """The parts that lines of this form tell."""
        for data in self.lines.values():
            with suppress(ValueError, KeyError, TypeError, AttributeError, OverflowError):
                if data.get("form") == FORM:
                    yield _of_json(data)

    def files(self, name: str) -> tuple[Path, ...]:
        """The converted rows of a part, and the rejected ones."""
        return tuple(self.out / folder / f"{name}{end}" for folder, end in places_of(self.ending))

    def whole(self, name: str, key: str) -> Part | None:
        """The part as it stands, where it was made from the same and its files are as they were."""
        part = self.known.get(name)
        if part is None or part.key != key or not all(path.is_file() for path in self.files(name)):
            return None
        return part if digest_of(*self.files(name)) == part.digest else None

    def put(self, made: Made) -> None:
        """Give a part its place; it is told when it has it."""
        part = made.part
        try:
            if made.files and not self.is_touched:
                self._results_gone()
            for new, path in zip(made.files, self.files(part.name), strict=False):
                new.replace(path)
            if made.files:
                with (self.out / MANIFEST).open("a", encoding="utf-8") as file:
                    file.write(self._line(part))
        except OSError as error:
            remove(made.files)
            raise OutputError.of(self.out / MANIFEST, error) from error
        self.done[part.name] = part

    def _results_gone(self) -> None:
        """Take away what was put together of the parts that are replaced now."""
        self.is_touched = True
        for name in RESULTS:
            if name != WHOLE or self.was_csv:
                (self.out / name).unlink(missing_ok=True)

    def leave_out(self, names: str) -> None:
        """Of the parts whose names begin so none is taken."""
        self.done = {name: part for name, part in self.done.items() if not name.startswith(names)}

    def _tell(self, lines: Iterable[str]) -> None:
        """Write the manifest anew, whole or not at all."""
        made = self.out / f".{MANIFEST}.new"
        try:
            made.write_text("".join(lines), encoding="utf-8")
            made.replace(self.out / MANIFEST)
        finally:
            made.unlink(missing_ok=True)

    def close(self) -> list[Part]:
        """All parts in their order; what no part of this run is, is taken away."""
        parts = [self.done[name] for name in sorted(self.done)]
        named = {path for part in parts for path in self.files(part.name)}
        try:
            self._tell(map(self._line, parts))
            for path in self._ours():
                if path not in named:
                    path.unlink(missing_ok=True)
        except OSError as error:
            raise OutputError.of(self.folder, error) from error
        return parts

    def give_up(self) -> None:
        """Nothing came of the run: leave what an earlier one made, and nothing of this one."""
        if self.is_touched:
            self.close()
        self._nothing_left()

    def _nothing_left(self) -> None:
        """Of a new folder, take away what was made ready."""
        if self.is_new:
            (self.out / MANIFEST).unlink(missing_ok=True)
            for folder in self.folders:
                with suppress(OSError):  # where something else lies in it
                    folder.rmdir()

    def _line(self, part: Part) -> str:
        """The line of a part in the manifest."""
        data = {"form": FORM, "name": part.name, "key": part.key, "digest": part.digest, "tally": part.tally.json()}
        data |= {"ends": part.ends, "log": list(part.log), "ending": self.ending}
        data |= {"after": dict(part.after), "spans": {tag: list(span) for tag, span in part.spans.items()}}
        return _text(data)


def _text(line: Mapping[str, Any]) -> str:
    return json.dumps(line, sort_keys=True) + "\n"


def _is_something(path: Path) -> bool:
    """Whether a path is there and no empty folder."""
    return any(path.iterdir()) if path.is_dir() else path.exists()


def _log(line: Mapping[str, Any]) -> Log | None:
    """The log that a line names; None where it is of a form that names none."""
    found = line.get("log")
    if not isinstance(found, list) or len(found) not in (2, 3):
        return None
    size = found[2] if len(found) == 3 and isinstance(found[2], int) else 0
    return Log(str(found[0]), str(found[1]), max(size, 0))


def _logs_in(path: Path) -> list[str]:
    """The names of the logs in the converted rows of a part."""
    try:
        if path.suffix == ".csv":
            only = pa_csv.ConvertOptions(include_columns=["file"], column_types={"file": pa.string()})
            rows = pa_csv.read_csv(path, convert_options=only)
        else:
            rows = pq.read_table(path, columns=["file"], partitioning=None)
        return sorted(map(str, pc.unique(rows.column("file")).to_pylist()))
    except (OSError, ValueError, LookupError) as error:
        why = "no line of parts.jsonl tells of which log its rows are, and they would be taken away"
        remedy = "Move it away, or name another folder"
        raise LogError(
            [Fault(shown(path), "a part that can be read", "one that cannot", why, remedy=remedy)]
        ) from error


def _of_json(data: Mapping[str, Any]) -> Part:
    after = {str(tag): int(us) for tag, us in data["after"].items()}
    spans = {str(tag): (int(first), int(most)) for tag, (first, most) in data["spans"].items()}
    name, key, digest = str(data["name"]), str(data["key"]), str(data["digest"])
    if (log := _log(data)) is None:
        raise ValueError("no log is named")
    return Part(name, log, key, after, spans, digest, Tally.of(data["tally"]), bool(data["ends"]))
