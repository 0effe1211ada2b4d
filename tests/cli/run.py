"""Running the command as a user does: in a process of its own."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Mapping
from os import environ, times
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[2]


class Outcome(NamedTuple):
    """What a command gave."""

    code: int
    out: str
    err: str
    work_s: float
    """Processor time it took: what a busy machine leaves as it is."""


def onedatum(*words: str, cwd: Path = ROOT, env: Mapping[str, str] | None = None) -> Outcome:
    """Run `onedatum` with these words; a traceback is never acceptable."""
    command = [sys.executable, "-m", "onedatum", *words]
    plain = {"PYTHONPATH": str(ROOT / "src"), "COLUMNS": "80"}
    whole = {**environ, **plain, **(env or {})}
    before = times()
    run = subprocess.run(command, cwd=cwd, env=whole, capture_output=True, text=True, timeout=60, check=False)
    if "Traceback" in run.stdout + run.stderr:
        raise AssertionError(run.stderr)
    after = times()
    work_s = after.children_user + after.children_system - before.children_user - before.children_system
    return Outcome(run.returncode, run.stdout, run.stderr, work_s)
