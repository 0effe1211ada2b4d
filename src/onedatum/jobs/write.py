"""Writing results: whole or not at all, and no result over another of the same run."""

from __future__ import annotations

import json
import os
import tempfile
from collections.abc import Sequence
from itertools import count
from pathlib import Path
from typing import Any

from onedatum.foundation.errors import OutputError


def write_whole(path: Path, content: bytes) -> None:
    """Write a file so that it is always the old one or the new one, whole; raises OutputError."""
    temporary = ""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=".onedatum-", suffix=path.suffix)
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        Path(temporary).chmod(0o644)
        Path(temporary).replace(path)
    except OSError as error:
        if temporary:
            Path(temporary).unlink(missing_ok=True)
        raise OutputError(str(path), error.strerror or str(error)) from error


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
