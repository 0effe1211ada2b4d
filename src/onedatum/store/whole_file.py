"""Files that are there whole or not at all, and never over another one: exports and backups."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from itertools import count
from pathlib import Path

from onedatum.foundation.errors import OutputError, StoreError
from onedatum.store.place import connected
from onedatum.store.told import telling


@contextmanager
def new_file(target: Path) -> Iterator[Path]:
    """A file beside the target to be written; it becomes the target when all went well. Raises StoreError."""
    with telling(str(target)):
        if target.exists() or target.is_symlink():
            remedy = "name another file; nothing is written over"
            raise StoreError(str(target), "a file that is not there yet", "one that is", remedy=remedy)
        handle, name = tempfile.mkstemp(dir=target.absolute().parent, prefix=".onedatum-", suffix=target.suffix)
        os.close(handle)
    made = Path(name)
    try:
        yield made
        with telling(str(target)):
            _settle(made, target)
    finally:
        for ending in ("", "-wal", "-shm", "-journal"):
            with suppress(OSError):
                made.with_name(made.name + ending).unlink(missing_ok=True)


def _settle(made: Path, target: Path) -> None:
    """Have content and name on the disk, without writing over what came meanwhile."""
    with made.open("rb+") as file:
        os.fsync(file.fileno())
    made.chmod(0o644)
    if target.exists():
        raise FileExistsError(0, "it has come to be there meanwhile")
    made.replace(target)
    if hasattr(os, "O_DIRECTORY"):
        handle = os.open(target.absolute().parent, os.O_RDONLY | os.O_DIRECTORY)
        try:
            with suppress(OSError):  # some file systems refuse it
                os.fsync(handle)
        finally:
            os.close(handle)


def copy_to(file: Path, made: Path, wait_s: float) -> None:
    """Copy a file of SQLite as it is at one moment, while others read and write it. Raises StoreError."""
    with (
        telling(str(file)),
        closing(connected(file, wait_s, "ro")) as source,
        telling(str(made.parent)),
        closing(connected(made, wait_s, "rw")) as copy,
    ):
        source.backup(copy)


def free_path(file: Path, word: str) -> Path:
    """A name beside a file that nothing has yet."""
    names = (f"{file.stem}-{word}{'' if number == 1 else f'-{number}'}{file.suffix}" for number in count(1))
    return next(path for name in names if not (path := file.with_name(name)).exists())


def read_error(path: Path, error: OSError) -> StoreError:
    """What the system says against reading a file."""
    return StoreError(str(path), "a file that can be read", "an error", OutputError.of(path, error).why)
