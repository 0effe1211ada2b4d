"""One writer at a time in a folder, whatever processes there are.

The system holds the lock for as long as the process lives: that of a process that died is free at once, whatever file
it left. Where a folder lies on another machine, it is as good as the locks of that file system.
"""

from __future__ import annotations

import os
import socket
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from onedatum.foundation.errors import OutputError

WAIT_S = 10.0
"""Longest wait for another writer; one save takes some hundredths of a second."""
LOCK = ".lock"
"""The file that is locked in a folder of results."""
_PAUSE_S = 0.01


@contextmanager
def locked(folder: Path, wait_s: float = WAIT_S, name: str = "lock") -> Iterator[None]:
    """Hold the folder for writing, which is made where it is missing; raises OutputError where it cannot be had.

    `name` is that of the file that is locked; it tells who holds it, and is taken away at the end.
    """
    lock = folder / name
    try:
        folder.mkdir(parents=True, exist_ok=True)
        handle = _held(lock, time.monotonic() + wait_s)
    except OSError as error:
        raise OutputError.of(folder, error) from error
    try:
        with suppress(OSError):  # a full disk: who holds it is not told then
            os.ftruncate(handle, 0)
            os.write(handle, f"{os.getpid()} on {socket.gethostname()}".encode())
        yield
    finally:
        with suppress(OSError):
            lock.unlink()
        os.close(handle)  # the lock ends with its handle


def _held(lock: Path, end: float) -> int:
    """The handle of the file, locked; waits until `end` for whoever holds it."""
    while True:
        handle = os.open(lock, os.O_RDWR | os.O_CREAT, 0o644)
        try:
            _take(handle)
        except (BlockingIOError, PermissionError):  # held; other errors are of a place that knows no locks
            who = os.read(handle, 200).decode("utf-8", "replace").strip()
            os.close(handle)
            if time.monotonic() > end:
                why = f"another run writes into it: process {who}" if who else "another run writes into it"
                raise OutputError(
                    str(lock.parent), why, "Wait until that run has ended, or name another folder"
                ) from None
            time.sleep(_PAUSE_S)
            continue
        except OSError:
            os.close(handle)
            raise
        with suppress(OSError):
            if os.path.samestat(os.fstat(handle), os.stat(lock)):
                return handle
        os.close(handle)  # whoever held it took its file away: that of today is another


if sys.platform == "win32":
    import msvcrt

    def _take(handle: int) -> None:
        os.lseek(handle, 1 << 20, os.SEEK_SET)
        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        os.lseek(handle, 0, os.SEEK_SET)

else:
    import fcntl

    def _take(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
