"""Writing results: whole or not at all."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

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
