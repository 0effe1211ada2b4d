"""A folder that one run at a time writes into: a lock held by the system for as long as the process lives.

The lock of a process that died is free at once, whatever file it left. Where a folder lies on another machine, it is
as good as the locks of that file system.
"""

from __future__ import annotations

import os
import socket
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from onedatum.foundation.errors import OutputError

LOCK = ".lock"


@contextmanager
def locked(out: Path) -> Iterator[None]:
    """Hold the lock of a folder, which is made where it is missing; raises OutputError where another run holds it."""
    path = out / LOCK
    try:
        out.mkdir(parents=True, exist_ok=True)
        file = _held(path)
    except OSError as error:
        raise OutputError.of(path, error) from error
    try:
        os.ftruncate(file, 0)
        os.write(file, f"{os.getpid()} on {socket.gethostname()}".encode())
        yield
    finally:
        with suppress(OSError):
            path.unlink()
        os.close(file)


def _held(path: Path) -> int:
    while True:
        file = os.open(path, os.O_RDWR | os.O_CREAT, 0o666)
        try:
            _take(file)
        except OSError:
            who = os.read(file, 200).decode("utf-8", "replace").strip()
            os.close(file)
            why = f"another run writes into it: process {who}" if who else "another run writes into it"
            raise OutputError(str(path.parent), why, "Wait until that run has ended, or name another folder") from None
        with suppress(OSError):
            if os.path.samestat(os.fstat(file), os.stat(path)):
                return file
        os.close(file)  # whoever held it took its file away: that of today is another


if sys.platform == "win32":
    import msvcrt

    def _take(file: int) -> None:
        os.lseek(file, 1 << 20, os.SEEK_SET)
        msvcrt.locking(file, msvcrt.LK_NBLCK, 1)
        os.lseek(file, 0, os.SEEK_SET)

else:
    import fcntl

    def _take(file: int) -> None:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
