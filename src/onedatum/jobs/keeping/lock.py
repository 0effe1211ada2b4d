"""One writer at a time in a folder, whatever processes there are; a process that ends lets go of the lock."""

from __future__ import annotations

import os
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from onedatum.foundation.errors import OutputError

try:
    import fcntl

    FILE_LOCKS = True
except ImportError:  # no such locks on this system
    FILE_LOCKS = False

WAIT_S = 10.0
"""Longest wait for another writer; one save takes some hundredths of a second."""
STALE_S = 30.0
"""Age from which a lock file is that of a process that has ended."""
_PAUSE_S = 0.01


@contextmanager
def locked(folder: Path, wait_s: float = WAIT_S) -> Iterator[None]:
    """Hold the folder for writing; raises OutputError where it cannot be had."""
    lock = folder / "lock"
    try:
        handle = _by_file_lock(lock, wait_s) if FILE_LOCKS else _by_lock_file(lock, wait_s)
    except OSError as error:
        raise OutputError.of(folder, error) from error
    try:
        yield
    finally:
        os.close(handle)  # a file lock ends with its handle
        if not FILE_LOCKS:
            with suppress(OSError):
                lock.unlink()


def _by_file_lock(lock: Path, wait_s: float) -> int:
    handle = os.open(lock, os.O_RDWR | os.O_CREAT, 0o644)
    end = time.monotonic() + wait_s
    while True:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            if time.monotonic() > end:
                os.close(handle)
                raise TimeoutError(0, f"another process has been writing for {wait_s:g} s") from None
            time.sleep(_PAUSE_S)
        except OSError:
            os.close(handle)
            raise
        else:
            return handle


def _by_lock_file(lock: Path, wait_s: float) -> int:
    end = time.monotonic() + wait_s
    while True:
        try:
            return os.open(lock, os.O_RDWR | os.O_CREAT | os.O_EXCL, 0o644)
        except (FileExistsError, PermissionError) as error:  # the second while the other takes it away
            if time.monotonic() > end:
                raise TimeoutError(0, f"another process has been writing for {wait_s:g} s") from error
            with suppress(OSError):
                if time.time() - lock.stat().st_mtime > STALE_S:
                    lock.unlink()
            time.sleep(_PAUSE_S)
