"""The documentation is under test: pages made from the code are current, and the README names every command."""

from __future__ import annotations

import re
from importlib import util
from pathlib import Path
from types import ModuleType

import pytest

from onedatum.case.reading import read_case
from onedatum.cli.main import COMMANDS
from tests.cli.run import onedatum
from tests.readme import commands

ROOT = Path(__file__).resolve().parents[1]


def tool(name: str) -> ModuleType:
    """A script of tools/ as a module."""
    spec = util.spec_from_file_location(name, ROOT / "tools" / f"{name}.py")
    if spec is None or spec.loader is None:
        raise FileNotFoundError(name)
    module = util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("page", ["formulas.md", "case.md"])
def test_pages_made_from_the_code_are_current(page: str) -> None:
    made = tool("make_docs").PAGES[page]()
    assert (ROOT / "docs" / page).read_text(encoding="utf-8") == made, "run python3 tools/make_docs.py"


def test_the_readme_names_every_command() -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    missing = [name for name in COMMANDS if f"onedatum {name}" not in text]
    assert missing == []


WRITES_PAPERS = "document"
"""Commands of this name take seconds each: tests/jobs/test_readme_papers.py runs them and looks at what they wrote."""


@pytest.mark.parametrize("words", [words for words in commands() if words[0] != WRITES_PAPERS], ids=" ".join)
def test_the_commands_of_the_readme_run(words: tuple[str, ...], tmp_path: Path) -> None:
    moved = [str(tmp_path / "papers") if word == "papers" else word for word in words]
    if moved[0] == "new":
        moved[1] = str(tmp_path / moved[1])
    assert onedatum(*moved).code == 0


def test_there_are_commands_in_the_readme() -> None:
    assert len(list(commands())) >= 5


@pytest.mark.parametrize("example", sorted((ROOT / "examples").glob("*.yaml")), ids=lambda path: path.stem)
def test_every_example_is_sound_and_marked_as_invented(example: Path) -> None:
    statement = read_case(example)
    assert statement.faults == ()
    assert statement.case.invented.word == "yes"
    assert "invented" in statement.case.service.text


def test_the_python_of_the_readme_runs(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    (code,) = re.findall(r"```python\n(.*?)```", (ROOT / "README.md").read_text(encoding="utf-8"), flags=re.DOTALL)
    monkeypatch.chdir(ROOT)
    exec(code, {})
    assert "overfill.high_high = 2717.31 mm" in capsys.readouterr().out
