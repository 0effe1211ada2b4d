"""The parts of a conversion on disk: each whole under its own name, each known by what it was made from.

A line of the manifest is added when a part has its place. A run that goes on takes the parts whose line fits what would
be written now and whose files are as they were; the others are worked anew.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any

from onedatum.foundation.errors import OutputError
from onedatum.jobs.convert.unit import Made, Part, remove
from onedatum.jobs.convert.writing import FOLDER, digest_of, ends_of
from onedatum.logs.tally import Tally

MANIFEST = "parts.jsonl"
REJECTS, WHOLE, SUMMARY = "rejects.csv", "converted.csv", "summary.json"
RESULTS = (REJECTS, WHOLE, SUMMARY)
FORM = 4
"""Of a line of the manifest, and of what a part is: one of another form is worked again."""
OURS = re.compile(r"\.?\d{4}-\d{6}\.(parquet|csv|rejects\.csv)(\.[0-9a-f]{32})?(\.new)?$")
"""Names of the files of parts."""


class Parts:
    """The parts of one folder."""

    def __init__(self, out: Path, ending: str) -> None:
        self.out, self.folder, self.ending = out, out / FOLDER, ending
        try:
            taken = [name for name in (*RESULTS, FOLDER) if (out / name).exists()]
            if taken and not (out / MANIFEST).is_file():
                why = f"there lies {', '.join(taken)} of another origin"
                raise OutputError(str(out), why, "Name another folder, or that of an earlier run")
            self.folder.mkdir(parents=True, exist_ok=True)
            self.known = {part.name: part for part in self._read()}
            self._tell(list(self.known.values()))
            self.sweep()
        except OSError as error:
            raise OutputError.of(self.folder, error) from error
        self.done: dict[str, Part] = {}

    def sweep(self) -> None:
        """Take away what somebody began to write and did not end."""
        for path in self.folder.iterdir():
            if path.name.endswith(".new") and OURS.match(path.name):
                path.unlink(missing_ok=True)
        for path in self.out.glob(".job-*"):  # of a run that was killed
            path.unlink(missing_ok=True)

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
                    yield _of_json(data)

    def files(self, name: str) -> tuple[Path, ...]:
        """The converted rows of a part, and the rejected ones."""
        return tuple(self.folder / f"{name}{ending}" for ending in ends_of(self.ending))

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
            for new, path in zip(made.files, self.files(part.name), strict=False):
                new.replace(path)
            if made.files:
                with (self.out / MANIFEST).open("a", encoding="utf-8") as file:
                    file.write(_line(part))
        except OSError as error:
            remove(made.files)
            raise OutputError.of(self.out / MANIFEST, error) from error
        self.done[part.name] = part

    def leave_out(self, names: str) -> None:
        """Of the parts whose names begin so none is taken."""
        self.done = {name: part for name, part in self.done.items() if not name.startswith(names)}

    def _tell(self, parts: list[Part]) -> None:
        """Write the manifest anew, whole or not at all."""
        made = self.out / f".{MANIFEST}.new"
        try:
            made.write_text("".join(_line(part) for part in parts), encoding="utf-8")
            made.replace(self.out / MANIFEST)
        finally:
            made.unlink(missing_ok=True)

    def close(self) -> list[Part]:
        """All parts in their order; what no part of this run is, is taken away."""
        parts = [self.done[name] for name in sorted(self.done)]
        named = {path for part in parts for path in self.files(part.name)}
        try:
            self._tell(parts)
            for path in self.folder.iterdir():
                if path.is_file() and path not in named and OURS.match(path.name):
                    path.unlink(missing_ok=True)
        except OSError as error:
            raise OutputError.of(self.folder, error) from error
        return parts


def _line(part: Part) -> str:
    """The line of a part in the manifest."""
    data = {"form": FORM, "name": part.name, "key": part.key, "digest": part.digest, "tally": part.tally.json()}
    data |= {"ends": part.ends}
    data |= {"after": dict(part.after), "spans": {tag: list(span) for tag, span in part.spans.items()}}
    return json.dumps(data, sort_keys=True) + "\n"


def _of_json(data: Mapping[str, Any]) -> Part:
    after = {str(tag): int(us) for tag, us in data["after"].items()}
    spans = {str(tag): (int(first), int(most)) for tag, (first, most) in data["spans"].items()}
    name, key, digest = str(data["name"]), str(data["key"]), str(data["digest"])
    return Part(name, key, after, spans, digest, Tally.of(data["tally"]), bool(data["ends"]))
