"""The scripts of the ruler read its tables as closed forms say: their own tests, run by node."""

from __future__ import annotations

import subprocess
from pathlib import Path

TESTS = Path(__file__).with_name("ruler.test.mjs")


def test_the_tables_are_read_as_closed_forms_say() -> None:
    run = subprocess.run(["node", "--test", str(TESTS)], capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stdout + run.stderr
    assert "# fail 0" in run.stdout
    assert "# pass 8" in run.stdout
