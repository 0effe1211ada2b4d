"""The page on causes: its example runs, and what it says of the table is what the table says."""

from __future__ import annotations

import re

import pytest

from onedatum.proving.causes import stated_priors
from tests.house.tree import ROOT

PAGE = (ROOT / "docs" / "causes.md").read_text(encoding="utf-8")


def test_the_example_of_the_page_runs_and_asserts_no_cause(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(ROOT)
    code = re.search(r"```python\n(.*?)```", PAGE, re.DOTALL)
    assert code is not None
    exec(compile(code[1], "docs/causes.md", "exec"), {})
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].startswith("The readings agree best with: ") and "it finds no cause" in lines[-1]


def test_the_numbers_of_the_page_are_those_of_the_table() -> None:
    held = stated_priors()
    caps = (
        f"above {100 * held.cap(1):.0f} %, on two {100 * held.cap(2):.0f} %, and never above {100 * held.cap(99):.0f} %"
    )
    assert caps in " ".join(PAGE.split())
    assert f"{100 * held.spread.constants:.0f} % of every constant" in " ".join(PAGE.split())
    assert f"({100 * held.spread.resistor:.1f} % of the test resistor)" in PAGE


def test_the_page_names_files_that_are_there() -> None:
    for name in re.findall(r"`((?:docs|src)/[\w/.]+)`", PAGE):
        assert (ROOT / name).is_file(), name
