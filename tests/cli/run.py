"""Running the command: in this process, which is quick, or in one of its own, as a user does."""

from __future__ import annotations

import io
import subprocess
import sys
from collections.abc import Iterator
from contextlib import chdir, contextmanager, redirect_stderr, redirect_stdout
from os import environ, times
from pathlib import Path
from time import process_time
from typing import NamedTuple
from unittest.mock import patch

from onedatum.cli.main import main

ROOT = Path(__file__).resolve().parents[2]
NAME = "onedatum"
PLAIN = {"COLUMNS": "80"}


class Outcome(NamedTuple):
    """What a command gave, and what it cost."""

    code: int
    out: str
    err: str
    work_s: float
    """Processor time it took: what a busy machine leaves as it is."""


def onedatum(*words: str, cwd: Path = ROOT) -> Outcome:
    """Run `onedatum` with these words in this process; a traceback is never acceptable."""
    before, code = process_time(), 0
    with _streams() as (out, err), chdir(cwd), patch.dict(environ, PLAIN), patch.object(sys, "argv", [NAME, *words]):
        try:
            main()
        except SystemExit as done:
            code = done.code if isinstance(done.code, int) else int(done.code is not None)
    return _without_traceback(Outcome(code, _text(out), _text(err), process_time() - before))


def in_a_process(*words: str) -> Outcome:
    """The same in a process of its own, its start counted in."""
    command = [sys.executable, "-m", NAME, *words]
    whole = {**environ, **PLAIN, "PYTHONPATH": str(ROOT / "src")}
    before = times()
    run = subprocess.run(command, cwd=ROOT, env=whole, capture_output=True, text=True, timeout=60, check=False)
    after = times()
    work_s = after.children_user + after.children_system - before.children_user - before.children_system
    return _without_traceback(Outcome(run.returncode, run.stdout, run.stderr, work_s))


def _without_traceback(outcome: Outcome) -> Outcome:
    if "Traceback" in outcome.out + outcome.err:
        raise AssertionError(outcome.err)
    return outcome


@contextmanager
def _streams() -> Iterator[tuple[io.TextIOWrapper, io.TextIOWrapper]]:
    """Both streams of the command, which may write text or bytes."""
    out, err = (io.TextIOWrapper(io.BytesIO(), encoding="utf-8", newline="") for _ in range(2))
    with redirect_stdout(out), redirect_stderr(err):
        yield out, err


def _text(stream: io.TextIOWrapper) -> str:
    stream.flush()
    held = stream.buffer
    return held.getvalue().decode() if isinstance(held, io.BytesIO) else ""
