"""A store of a few records of an invented works, and where it lies."""

from __future__ import annotations

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
