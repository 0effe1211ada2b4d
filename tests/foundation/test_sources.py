"""The version of the tables that ship with the tool, and a register that cannot be trusted."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from types import SimpleNamespace

import pytest

from onedatum import data
from onedatum.foundation import sources as register
from onedatum.foundation.errors import OnedatumError
from onedatum.foundation.sources import Citation, Source, data_version

TABLES = {"one.json": "[1, 2]", "two.json": "[3]", "words.txt": "a b"}


def version_of(folder: Path, tables: Mapping[str, str], monkeypatch: pytest.MonkeyPatch) -> str:
    """The version worked anew over a folder that holds nothing but these tables and lists them in this order."""
    folder.mkdir()
    for name, text in tables.items():
        (folder / name).write_text(text, encoding="utf-8")
    listed = SimpleNamespace(iterdir=lambda: [folder / name for name in tables])
    monkeypatch.setattr(register, "files", lambda package: listed)
    return data_version.__wrapped__()


def test_the_version_is_twelve_digits_and_the_same_in_another_process() -> None:
    """Another process draws another seed for its sets and dictionaries."""
    asked = "from onedatum.foundation.sources import data_version; print(data_version())"
    paths = f"import sys; sys.path[:0] = {[path for path in sys.path if path]!r}; "
    told = subprocess.run([sys.executable, "-c", paths + asked], capture_output=True, text=True, check=True).stdout
    assert told.strip() == data_version()
    assert re.fullmatch("[0-9a-f]{12}", data_version())


def test_the_same_tables_have_the_same_version(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Wherever they lie, in whichever order they are listed, whatever code lies beside them."""
    version = version_of(tmp_path / "a", TABLES, monkeypatch)
    assert version_of(tmp_path / "b", dict(reversed(TABLES.items())), monkeypatch) == version
    assert version_of(tmp_path / "c", {**TABLES, "__init__.py": "x = 1"}, monkeypatch) == version


@pytest.mark.parametrize(
    "tables",
    [
        {**TABLES, "one.json": "[1, 3]"},
        {**TABLES, "words.txt": "a  b"},
        {**TABLES, "three.json": ""},
        {name: text for name, text in TABLES.items() if name != "two.json"},
        {**TABLES, "one.json": TABLES["two.json"], "two.json": TABLES["one.json"]},
    ],
    ids=["a number changed", "a blank added", "a table added", "a table gone", "two tables swapped"],
)
def test_other_tables_have_another_version(
    tables: dict[str, str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert version_of(tmp_path / "a", TABLES, monkeypatch) != version_of(tmp_path / "b", tables, monkeypatch)


def test_a_tag_that_is_not_known_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    rows = [{"key": "sound", "title": "t", "tag": "read"}, {"key": "hearsay", "title": "t", "tag": "seen somewhere"}]
    (tmp_path / "sources.json").write_text(json.dumps({"sources": rows}), encoding="utf-8")
    monkeypatch.setattr(data, "files", lambda package: tmp_path)
    monkeypatch.setattr(data, "table", data.table.__wrapped__)
    with pytest.raises(OnedatumError, match="hearsay: no such tag: seen somewhere"):
        register.sources.__wrapped__()


@pytest.mark.parametrize(("clause", "text"), [("4.3.7", "A guide, 4.3.7"), ("", "A guide")])
def test_a_citation_is_printed_with_its_place_and_what_it_is_worth(clause: str, text: str) -> None:
    cited = Citation(Source("guide", "A guide", "from memory"), clause)
    assert cited.text == text
    assert str(cited) == f"{text} [from memory]"
