"""Small work for the worker of the tests, in a module that loads little: each process of a test loads it."""

from __future__ import annotations

import os
import tempfile
import time
from pathlib import Path

from onedatum.web.bench import Refused


def nothing() -> None:
    """What a worker of the tests gets ready."""


def slow(case: object, seconds: float = 0.3) -> object:
    """Work that takes a while, and leaves a file for a while."""
    Path(tempfile.mkdtemp(prefix="test-")).joinpath("left").write_text("x", encoding="utf-8")
    time.sleep(seconds)
    return case


def long(case: object) -> object:
    """Work that nobody waits for to the end."""
    return slow(case, 60.0)


def quick(case: object) -> object:
    """Work that is done at once."""
    return case


def noted(place: str) -> None:
    """Work that leaves a note of the process that did it."""
    Path(place, str(os.getpid())).touch()


def refusing(case: object) -> object:
    """Work that is refused, with an error that does not find its way between processes by itself."""
    raise Refused(f"{case} must be something else; got this.")


def broken(case: object) -> object:
    """Work with a mistake of ours in it."""
    raise ZeroDivisionError(str(case))


def dying(case: object) -> object:
    """Work in which the process dies."""
    os._exit(3)
