"""Nothing heavy is loaded before it is needed."""

from __future__ import annotations

import subprocess
import sys

import pytest

from tests.cli.run import ROOT

HEAVY = (
    "scipy",
    "pint",
    "sqlalchemy",
    "alembic",
    "psycopg",
    "fastapi",
    "typst",
    "CoolProp",
    "pyarrow",
    "pymodbus",
    "asyncua",
)


def loaded_after(statement: str) -> set[str]:
    """The heavy modules in `sys.modules` after a statement, in a fresh interpreter."""
    code = f"import sys\n{statement}\nprint(*[name for name in {HEAVY!r} if name in sys.modules])"
    run = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, timeout=60, check=True)
    return set(run.stdout.strip().splitlines()[-1].split()) if run.stdout.strip() else set()


HELP = """
import contextlib, io
from onedatum.cli.main import cli
with contextlib.redirect_stdout(io.StringIO()), contextlib.suppress(SystemExit):
    cli(['--help'])
"""
PROVE = HELP.replace("['--help']", "['prove', 'record', '--help']")
SIMULATE = HELP.replace("['--help']", "['simulate', '--help']")
STUDY = """
import onedatum as od
od.examine(od.read_case('examples/spirit_receiver.yaml'))
"""


@pytest.mark.parametrize("statement", ["import onedatum", HELP, PROVE, SIMULATE])
def test_import_and_help_load_nothing_heavy(statement: str) -> None:
    assert loaded_after(statement) == set()


def test_a_study_of_usual_units_loads_nothing_heavy_either() -> None:
    assert loaded_after(STUDY) == set()


def test_the_check_itself_can_fail() -> None:
    assert loaded_after("import typst") == {"typst"}
