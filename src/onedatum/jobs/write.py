"""Writing results: whole or not at all, and no result over another of the same run."""

from __future__ import annotations

import json
import os
import stat
import tempfile
from collections.abc import Sequence
from contextlib import suppress
from errno import EACCES
from itertools import count
from pathlib import Path
from typing import Any

from onedatum.foundation.errors import OutputError

NEW_MODE = 0o644
"""Who may read a file that was not there before: everyone, as papers are for handing on."""


def write_whole(path: Path, content: bytes, temporary: Path | None = None) -> None:
    """Write a file so that it is always the old one or the new one, whole; raises OutputError.

    A file that is there keeps its mode, and one that is not to be written to is refused. `temporary` is where the new
    file is made, on the same disk, for a caller that lets nobody else write there: what a killed process leaves is then
    written over by the next.
    """
    made = temporary
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        mode = _mode_of(path)
        if made is None:
            handle, name = tempfile.mkstemp(dir=path.parent, prefix=".onedatum-", suffix=path.suffix)
            made = Path(name)
        else:
            handle = os.open(made, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        made.chmod(mode)
        made.replace(path)
        _settle(path.parent)
    except OSError as error:
        if made is not None:
            _without(made)
        raise OutputError.of(path, error) from error


def _mode_of(path: Path) -> int:
    """The mode of the file as it is, that of papers for a new one."""
    try:
        mode = stat.S_IMODE(path.stat().st_mode)
    except FileNotFoundError:
        return NEW_MODE
    if not os.access(path, os.W_OK):
        raise PermissionError(EACCES, "it is not to be written to")
    return mode


def _settle(folder: Path) -> None:
    """Have the new name on the disk too, where a folder can be told to."""
    if not hasattr(os, "O_DIRECTORY"):
        return
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        with suppress(OSError):  # some file systems refuse it; the file itself is whole
            os.fsync(handle)
    finally:
        os.close(handle)


def _without(made: Path) -> None:
    with suppress(OSError):
        made.unlink(missing_ok=True)


def write_new(path: Path, content: bytes) -> None:
    """Write a file that must not exist yet; raises OutputError."""
    if path.exists():
        raise OutputError(str(path), "it exists already and is not overwritten")
    write_whole(path, content)


def write_json(path: Path, data: Any) -> None:
    """Write data as JSON, readable and in a fixed order; raises OutputError."""
    write_whole(path, json_bytes(data))


def json_bytes(data: Any) -> bytes:
    """Data as JSON, readable and in a fixed order."""
    text = json.dumps(data, ensure_ascii=False, indent=1, allow_nan=False)
    return (text + "\n").encode("utf-8", "replace")


def free_name(stem: str, taken: set[str], endings: Sequence[str] = ("",)) -> str:
    """A name that no other paper of this run has, with any of its endings; all of them join the taken ones."""
    names = (stem if number == 1 else f"{stem}-{number}" for number in count(1))
    free = next(name for name in names if not any(f"{name}{ending}" in taken for ending in endings))
    taken.update(f"{free}{ending}" for ending in endings)
    return free
