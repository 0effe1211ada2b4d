"""Files that want to break the tool, through the commands beside `check`: a clear error, within two seconds."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.cli.run import onedatum

SECONDS = 2.0
"""Of processor time, for reading and refusing."""


def large(path: Path) -> None:
    """100 MB, most of it a hole."""
    with path.open("wb") as file:
        file.write(b"onedatum: 1\n")
        file.truncate(100_000_000)


def written(content: bytes) -> Callable[[Path], None]:
    """A file of this content."""
    return lambda path: path.write_bytes(content) and None


FILES: dict[str, Callable[[Path], None]] = {
    "100 MB": large,
    "deep": written(b"onedatum: 1\na: " + b"[" * 30_000),
    "latin-1": written("onedatum: 1\nservice: Gefäß\n".encode("latin-1")),
    "1e400": written(b"onedatum: 1\nvessel: {inside_diameter: 1e400 m}\n"),
    "syntax": written(b"onedatum: 1\nvessel: {inside_diameter: 3 m\n"),
    "missing": lambda path: None,
}


@pytest.mark.parametrize("kind", FILES)
@pytest.mark.parametrize(
    "command",
    [
        ("study",), ("signal", "--level", "1 m"), ("signal", "--reading", "12 mA"), ("signal", "--reading", "300 us"),
        ("signal", "--known", "dip 1 m, 12 mA"), ("signal", "--table", "100 mm"),
    ],
    ids=lambda words: " ".join(words[:2]),
)  # fmt: skip
def test_they_are_refused(command: tuple[str, ...], kind: str, tmp_path: Path) -> None:
    file = tmp_path / "case.yaml"
    FILES[kind](file)
    outcome = onedatum(command[0], str(file), *command[1:])
    assert outcome.work_s < SECONDS
    assert outcome.code == 2


def test_papers_of_a_broken_file_name_what_is_wrong(tmp_path: Path) -> None:
    file = tmp_path / "case.yaml"
    FILES["syntax"](file)
    outcome = onedatum("document", str(file), "--out", str(tmp_path / "papers"))
    assert outcome.code == 2
    assert "must be" in outcome.err
    assert (tmp_path / "papers" / "case.pdf").exists()
