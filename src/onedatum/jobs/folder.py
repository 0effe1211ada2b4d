"""The folder of cases as a store: list, read, save without losing an edit, earlier versions, undo.

A case is known by the name of its file without the ending, a state of it by the hash of its bytes. Whoever saves says
which state the edit was made on; where the file says something else by now, nothing is written and both are given
back. What was there before is kept in the hidden folder `.onedatum`, so an edit can be undone after a restart too.
Nothing is ever deleted but the oldest of more than 200 versions.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import lru_cache
from pathlib import Path

from onedatum.case.leaf import Leaf, Value
from onedatum.case.reading import read_case_text
from onedatum.case.skeleton import skeleton
from onedatum.case.tree import parse_text
from onedatum.case.tree.node import Leaf as Scalar
from onedatum.case.tree.source import Refused, check_size, decoded, read_bytes
from onedatum.foundation.errors import CaseError, Fault, LogError, OutputError
from onedatum.foundation.units import hint
from onedatum.foundation.units.grammar import quoted
from onedatum.jobs.cases import cases_of
from onedatum.jobs.keeping.history import History, Version, version_of
from onedatum.jobs.keeping.lock import locked
from onedatum.jobs.keeping.logs import new_log
from onedatum.jobs.keeping.names import file_of, name_of_file, refused
from onedatum.jobs.write import write_whole

HIDDEN = ".onedatum"


@dataclass(frozen=True)
class Listed:
    """A case in the list of a folder."""

    name: str
    tag: str = ""
    service: str = ""
    time: str = ""
    """When the file was last changed, in universal time."""
    version: str = ""
    why_not: str = ""
    """Why it cannot be read; "" for one that can."""


@dataclass(frozen=True)
class Saved:
    """A case as it stands in its file."""

    name: str
    text: str
    version: str


@dataclass(frozen=True)
class Difference:
    """A value that two states of a case say differently."""

    path: str
    title: str
    mine: str
    theirs: str


@dataclass(frozen=True)
class Conflict:
    """An edit that was not saved, for the file says something else than what it was made on."""

    name: str
    mine: str
    theirs: str
    version: str
    """Of the text that stands in the file."""
    differences: tuple[Difference, ...]


class NotThere(CaseError):
    """There is no case of that name, or no version that is kept of it."""


class Folder:
    """A folder of cases. Methods raise CaseError for what cannot be read, OutputError for what cannot be written."""

    def __init__(self, path: Path) -> None:
        self.path = path.resolve()

    def cases(self) -> tuple[Listed, ...]:
        """Every case of the folder in the order of names, those too that cannot be read; raises NotThere."""
        self._check()
        return tuple(_listed(self.path, file) for file in cases_of(self.path) if self.path.is_dir())

    def read(self, name: str) -> Saved:
        """A case by its name."""
        self._check()
        file = file_of(self.path, name)
        if not file.exists():
            near = hint(name, [each.stem for each in cases_of(self.path)])
            raise NotThere([Fault("the case", "one of the folder", quoted(name), near)])
        content = self._bytes(file)
        return Saved(name, _text(content, name), version_of(content))

    def save(self, name: str, text: str, version: str) -> Saved | Conflict:
        """Save an edit made on a version; where the file has another by now, both are given back instead."""
        content = _content(text, name)
        with self._held() as temporary:
            file = file_of(self.path, name)
            old = self._bytes(file)
            if old == content:
                return Saved(name, text, version_of(content))
            if version_of(old) != version:
                return self._conflict(name, text, old)
            history = self._history(name, temporary)
            steps = history.steps()
            steps.back.append(history.put_away(steps, old))
            steps.ahead.clear()
            history.write(steps)
            write_whole(file, content, temporary)
        return Saved(name, text, version_of(content))

    def new(self, name: str) -> Saved:
        """A new case with every value asked for."""
        return self._add(name, skeleton().encode("utf-8"))

    def upload(self, name: str, content: bytes) -> Saved:
        """Take a case in by the name of its file, ending or not, if it can be read and no case has that name."""
        name = name_of_file(name)
        with _told():
            check_size(len(content), name)
            _, faults = decoded(content, name)
        tree = parse_text(content, name)
        if faults or tree.broken:
            raise CaseError(list(tree.faults) or faults)
        if "onedatum" not in tree.root.items:
            raise CaseError([Fault(name, "a case, starting with onedatum: 1", "a file without that key")])
        return self._add(name, content)

    def add_log(self, name: str, content: bytes) -> str:
        """Take a file of a log into the folder `logs`, never over another; raises LogError, OutputError."""
        file = new_log(self.path, name, content)
        with self._held() as temporary:
            if file.exists() or file.is_symlink():
                raise LogError([Fault(file.name, "a new name", "one that is there", "nothing is overwritten")])
            write_whole(file, content, temporary)
        return file.name

    def versions(self, name: str) -> tuple[Version, ...]:
        """The earlier versions kept of a case, the oldest first."""
        file_of(self.path, name)
        return tuple(self._history(name, self.path).steps().kept)

    def version(self, name: str, version: str) -> Saved:
        """A version of a case, the one that stands in its file or an earlier one; raises NotThere."""
        now = self.read(name)
        if now.version == version:
            return now
        content = self._history(name, self.path).content(version)
        if content is None:
            why = "at most 200 versions are kept of a case"
            raise NotThere([Fault("the version", "one that is kept", quoted(version), why)])
        return Saved(name, _text(content, name), version)

    def undo(self, name: str, version: str) -> Saved | Conflict | None:
        """Go back by one step from a version; None where there is no step."""
        return self._step(name, version, back=True)

    def redo(self, name: str, version: str) -> Saved | Conflict | None:
        """Go ahead again by one step that was undone; None where there is none."""
        return self._step(name, version, back=False)

    def _step(self, name: str, version: str, back: bool) -> Saved | Conflict | None:
        with self._held() as temporary:
            file = file_of(self.path, name)
            old = self._bytes(file)
            if version_of(old) != version:
                return self._conflict(name, _text(old, name), old)
            history = self._history(name, temporary)
            steps = history.steps()
            here, there = (steps.back, steps.ahead) if back else (steps.ahead, steps.back)
            wanted = steps.to(here, version)
            content = history.content(wanted) if wanted else None
            if content is None:
                return None
            here.append(wanted)  # passed over once the case says it; kept, should this be broken off
            there.append(history.put_away(steps, old))
            history.write(steps)
            write_whole(file, content, temporary)
        return Saved(name, _text(content, name), wanted)

    def _check(self) -> None:
        """The folder is there and can be read; raises NotThere."""
        try:
            os.scandir(self.path).close()
        except OSError as error:
            remedy = "Bring it back to its place, or serve another"
            why = error.strerror or str(error)
            raise NotThere(
                [Fault("the folder", "one that can be read", quoted(str(self.path)), why, None, remedy)]
            ) from error

    def _add(self, name: str, content: bytes) -> Saved:
        with self._held() as temporary:
            file = file_of(self.path, name)
            if file.exists():
                raise OutputError(file.name, "it exists already and is not overwritten")
            write_whole(file, content, temporary)
        return Saved(name, _text(content, name), version_of(content))

    @contextmanager
    def _held(self) -> Iterator[Path]:
        """Hold the folder for writing; gives the place of the temporary file."""
        hidden = self.path / HIDDEN
        try:
            hidden.mkdir(exist_ok=True)
        except OSError as error:
            raise OutputError.of(self.path, error) from error
        if hidden.is_symlink():
            raise OutputError(str(hidden), "it is a link, and versions are kept in the folder itself")
        with locked(hidden):
            yield hidden / "writing"

    def _history(self, name: str, temporary: Path) -> History:
        return History(self.path / HIDDEN / "versions" / name, temporary)

    def _bytes(self, file: Path) -> bytes:
        with _told():
            return read_bytes(file)

    def _conflict(self, name: str, mine: str, old: bytes) -> Conflict:
        theirs = _text(old, name)
        return Conflict(name, mine, theirs, version_of(old), differences(mine, theirs, self.path))


@contextmanager
def _told() -> Iterator[None]:
    """What a source refuses, as an error of the case."""
    try:
        yield
    except Refused as error:
        raise CaseError([error.fault]) from None


def differences(mine: str, theirs: str, folder: Path) -> tuple[Difference, ...]:
    """The values that two texts of a case say differently; none where only comments or the order differ."""
    one, other = (_said(text, folder) for text in (mine, theirs))
    paths = dict.fromkeys([*one, *other])
    nothing = ("", "unknown")
    return tuple(
        Difference(path, one.get(path, other.get(path, nothing))[0], here, there)
        for path in paths
        if (here := one.get(path, nothing)[1]) != (there := other.get(path, nothing)[1])
    )


def _said(text: str, folder: Path) -> dict[str, tuple[str, str]]:
    """Title and statement of every leaf."""
    leaves = read_case_text(text, folder=folder).case.leaves()
    return {leaf.path: (leaf.title, _statement(leaf)) for leaf in leaves}


def _statement(leaf: Leaf) -> str:
    parts = [leaf.text or leaf.state]
    if isinstance(leaf, Value):
        parts += [f"{key} {each.text}" for key, each in leaf.companions.items()]
        parts += [leaf.uncertainty.text] if leaf.uncertainty is not None else []
        parts += [f"{leaf.low} to {leaf.high} in SI"] if (leaf.low, leaf.high) != (None, None) else []
    said = [f"{key}: {word}" for key, word in (("by", leaf.by), ("note", leaf.note), ("source", leaf.source)) if word]
    return ", ".join([*parts, *(["assumed"] if leaf.state == "assumed" else []), *said])


def _content(text: str, name: str) -> bytes:
    try:
        content = text.encode("utf-8")
    except UnicodeEncodeError:
        raise CaseError([Fault(name, "text in UTF-8", "half of a character", "It cannot be written")]) from None
    with _told():
        check_size(len(content), name)
    return content


def _text(content: bytes, name: str) -> str:
    """The text of a case with its byte order mark and line ends as they are."""
    with _told():
        _, faults = decoded(content, name)
    if faults:
        raise CaseError(faults)
    return content.decode("utf-8")


def _listed(folder: Path, file: Path) -> Listed:
    name = file.stem
    why = refused(name)
    if why:
        return Listed(name, why_not=Fault("the name of the case", "a plain file name", repr(name), why).sentence())
    try:
        real = file_of(folder, name)
        status = real.stat()
        seen = _seen(real, status.st_mtime_ns, status.st_size, name)
    except CaseError as error:
        return Listed(name, why_not=error.faults[0].sentence())
    except OSError as error:
        why = error.strerror or str(error)
        return Listed(name, why_not=Fault(file.name, "a file that can be read", "an error", why).sentence())
    return seen


@lru_cache(maxsize=500)
def _seen(file: Path, changed_ns: int, size: int, name: str) -> Listed:
    """What a list shows of a case; looked at again when the file has changed."""
    time = datetime.fromtimestamp(changed_ns / 1e9, UTC).isoformat(timespec="seconds")
    try:
        content = read_bytes(file)
    except Refused as error:
        return Listed(name, time=time, why_not=error.fault.sentence())
    tree = parse_text(content, file.name)
    why = tree.faults[0].sentence() if tree.broken or not tree.root.items else ""
    tag, service = (
        each.text.strip() if isinstance(each := tree.root.items.get(key), Scalar) else "" for key in ("tag", "service")
    )
    return Listed(name, tag, service, time, version_of(content), why)
