"""A store of a few records of an invented works, and where it lies."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from onedatum.store.store import Store
from tests.store.script import ticking

COUNT = 6


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A store of six records that is closed, so that all is in the one file."""
    made = tmp_path / "records.sqlite"
    with Store.open(made, clock=ticking()) as store:
        for number in range(COUNT):
            store.append("calibration", f"LT-{number % 2}", "A. Author", {"number": number})
    return made


@contextmanager
def open_to_others() -> Iterator[Path]:
    """A folder that other users may enter: a process that gives up its rights would be stopped on the way else.

    Not beneath `tmp_path`: every run of pytest that begins takes from the folder of all runs of its user the right to
    be entered by others (`TempPathFactory.getbasetemp`), also from under a run that is at work.
    """
    with tempfile.TemporaryDirectory(prefix="onedatum-") as place:
        folder = Path(place)
        for path in (folder, *folder.parents):
            if path.stat().st_uid == os.getuid() and len(path.parts) > 2:
                path.chmod(path.stat().st_mode | 0o055)
        yield folder


@pytest.fixture
def reached(file: Path) -> Iterator[Path]:
    """The store where another user comes to."""
    with open_to_others() as folder:
        yield Path(shutil.copy(file, folder / file.name))
