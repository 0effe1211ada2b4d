"""The parts of a conversion on disk: each whole under its own name, each known by what it was made from.

A line of the manifest is added when a part has its place. A run that goes on takes the parts whose line fits what would
be written now and whose files are as they were; the others are worked anew. Nothing is written or taken away before
`begin`: until then it can be seen of which logs rows lie here.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterator, Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any

import pyarrow.csv as pa_csv
import pyarrow.parquet as pq

from onedatum.foundation.errors import OutputError
from onedatum.jobs.convert.unit import Log, Made, Part, remove
from onedatum.jobs.convert.writing import ASIDE, FOLDER, digest_of, places_of
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
            lines = list(self._lines())
            self.logs = {str(line["name"]): _log(line) for line in lines}
            """Of the parts that were here, where their lines tell it."""
            self.was_csv = any(line.get("ending") == ".csv" for line in lines) or any(self.folder.glob("*-??????.csv"))
            if taken := self._of_another_origin():
                why = f"there lies {', '.join(taken)} of another origin"
                raise OutputError(str(out), why, "Name another folder, or that of an earlier run, or move it away")
            self.known = {part.name: part for part in self._read(lines)}
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
        return [name for name in names if (self.out / name).exists()]

    def begin(self) -> None:
        """Make ready for parts."""
        try:
            for folder in self.folders:
                folder.mkdir(parents=True, exist_ok=True)
            self._tell(list(self.known.values()))
            self.sweep()
        except OSError as error:
            raise OutputError.of(self.folder, error) from error

    def lying(self) -> Counter[str]:
        """The logs whose converted rows lie here, by the names of their files."""
        found: dict[str, Log] = {}
        for name, log in self.logs.items():
            at = [self.folder / f"{name}{ending}" for ending in ENDINGS]
            there = next((path for path in at if path.is_file()), None)
            if there is not None and name[:4] not in found:
                found[name[:4]] = log or Log(_log_in(there), name[:4])
        return Counter(log.name for log in set(found.values()) if log.name)

    def sweep(self) -> None:
        """Take away what somebody began to write and did not end."""
        for path in self._ours():
            if path.name.endswith(".new"):
                path.unlink(missing_ok=True)
        for path in self.out.glob(".job-*"):  # of a run that was killed
            path.unlink(missing_ok=True)

    def _ours(self) -> list[Path]:
        """Files of parts, whole or begun."""
        there = [path for folder in self.folders if folder.is_dir() for path in folder.iterdir()]
        return [path for path in there if OURS.match(path.name) and path.is_file()]

    def _lines(self) -> Iterator[Mapping[str, Any]]:
        """The lines of the manifest; one that is broken off ends it."""
        try:
            lines = (self.out / MANIFEST).read_text(encoding="utf-8").splitlines()
        except (OSError, ValueError):
            return
        with suppress(ValueError):
            for line in lines:
                data = json.loads(line)
                if isinstance(data, dict) and PART.match(str(data.get("name"))):
                    yield data

    def _read(self, lines: list[Mapping[str, Any]]) -> Iterator[Part]:
        """The parts that lines tell."""
        with suppress(ValueError, KeyError, TypeError, AttributeError):
            for data in lines:
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

    def _tell(self, parts: list[Part]) -> None:
        """Write the manifest anew, whole or not at all."""
        made = self.out / f".{MANIFEST}.new"
        try:
            made.write_text("".join(self._line(part) for part in parts), encoding="utf-8")
            made.replace(self.out / MANIFEST)
        finally:
            made.unlink(missing_ok=True)

    def close(self) -> list[Part]:
        """All parts in their order; what no part of this run is, is taken away."""
        parts = [self.done[name] for name in sorted(self.done)]
        named = {path for part in parts for path in self.files(part.name)}
        try:
            self._tell(parts)
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
        return json.dumps(data, sort_keys=True) + "\n"


def _log(line: Mapping[str, Any]) -> Log | None:
    """The log that a line names; None where it is of a form that names none."""
    found = line.get("log")
    return Log(str(found[0]), str(found[1])) if isinstance(found, list) and len(found) == 2 else None


def _log_in(path: Path) -> str:
    """The name of the log in the first converted row of a part; nothing where it has none."""
    with suppress(OSError, ValueError, LookupError, StopIteration):
        if path.suffix == ".csv":
            rows = pa_csv.open_csv(path).read_next_batch().slice(0, 1)
        else:
            with pq.ParquetFile(path) as file:
                rows = next(file.iter_batches(1, columns=["file"]))
        return str(rows.column("file")[0])
    return ""


def _of_json(data: Mapping[str, Any]) -> Part:
    after = {str(tag): int(us) for tag, us in data["after"].items()}
    spans = {str(tag): (int(first), int(most)) for tag, (first, most) in data["spans"].items()}
    name, key, digest = str(data["name"]), str(data["key"]), str(data["digest"])
    log = Log(*map(str, data["log"]))
    return Part(name, log, key, after, spans, digest, Tally.of(data["tally"]), bool(data["ends"]))
