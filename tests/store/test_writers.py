"""Several writers, and writers that are killed: nothing that was said to be written is lost, the chain stays one."""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from random import Random

import pytest

from onedatum.store.record import Head
from onedatum.store.store import Store
from soak.proofs.killed_writers import killed, wrongs_of_two
from tests.store.script import refusal

KILLS = 4


def test_two_writers_lose_nothing_and_make_one_chain(tmp_path: Path) -> None:
    """They also make the store, both at once."""
    assert wrongs_of_two(str(tmp_path / "records.sqlite"), 60) == (0, 120)


def test_a_writer_that_is_killed_loses_nothing_that_it_said(tmp_path: Path) -> None:
    assert killed(str(tmp_path / "records.sqlite"), KILLS, Random(11)).wrong == 0


HOLDING = """
import sqlite3, sys, time
connection = sqlite3.connect(sys.argv[1], isolation_level=None)
connection.execute("BEGIN IMMEDIATE")
print("held", flush=True)
time.sleep(60)
"""


@pytest.fixture
def held(file: Path) -> Iterator[None]:
    """Another process that holds the file for writing."""
    process = subprocess.Popen([sys.executable, "-c", HOLDING, str(file)], stdout=subprocess.PIPE, text=True)
    if process.stdout is None or process.stdout.readline() != "held\n":
        raise RuntimeError("the file could not be held")
    yield
    process.kill()
    process.wait()
    process.stdout.close()


@pytest.mark.usefixtures("held")
def test_a_busy_store_is_told_after_a_bounded_wait_and_can_be_read_meanwhile(file: Path) -> None:
    with Store.open(file, wait_s=0.3) as store:
        start = time.monotonic()
        said = refusal(lambda: store.append("number", "LT-0", "A", {}))
        assert 0.2 < time.monotonic() - start < 5.0
        assert said.startswith(f"{file} must be free to be written; got one that another writer holds.")
        assert "Wait until it is done, then write again" in said
        assert store.verify().whole and store.head() != Head()
