"""What a process that converts does without, and what memory it keeps."""

from __future__ import annotations

import subprocess
import sys
from os import environ, pathsep
from pathlib import Path

import pytest

CALL = "import pyarrow, sys; {before}; pyarrow.array([1.0]); print('loaded' if 'pandas' in sys.modules else 'left out')"
LEAVE = "from onedatum.jobs.convert.lean import leave_pandas_out; leave_pandas_out()"


@pytest.mark.parametrize(("before", "told"), [("pass", "loaded"), (LEAVE, "left out")])
def test_a_library_that_is_not_needed_is_not_loaded(tmp_path: Path, before: str, told: str) -> None:
    """A package of that name stands ready; the library of columns takes it unless it is told that there is none."""
    (tmp_path / "pandas").mkdir()
    (tmp_path / "pandas" / "__init__.py").write_text("__version__ = '0'\n")
    places = pathsep.join([str(tmp_path), *sys.path])
    words = [sys.executable, "-c", CALL.format(before=before)]
    variables = {**environ, "PYTHONPATH": places}
    done = subprocess.run(words, capture_output=True, text=True, env=variables, check=False)
    assert done.stdout.split("\n")[0] == told, done.stderr


def test_what_else_is_imported_is_found_as_before() -> None:
    """Also the library itself, for whoever asks for it after that."""
    call = f"{LEAVE}; import sys; assert not [1 for each in sys.meta_path if 'Refusing' in str(each)]; import colorsys"
    assert subprocess.run([sys.executable, "-c", call], capture_output=True, check=False).returncode == 0
