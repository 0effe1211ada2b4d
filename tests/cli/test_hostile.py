"""Files that want to break the tool, through every command that reads one: a clear error, within two seconds."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.cli.run import onedatum

SECONDS = 2.0
"""For reading and refusing; the start of the process, about a third of a second, is counted in."""


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
    "deep maps": written(b"".join(b" " * i + b"a:\n" for i in range(400))),
    "aliases": written(b"a: &a [x, x]\nb: &b [*a, *a]\nc: &c [*b, *b]\nd: [*c, *c]\n"),
    "tag": written(b"onedatum: !!python/object/apply:os.system ['true']\n"),
    "utf-16": written("onedatum: 1\n".encode("utf-16")),
    "latin-1": written("onedatum: 1\nservice: Gefäß\n".encode("latin-1")),
    "nul": written(b"onedatum: 1\nservice: a\x00b\n"),
    "nan": written(b"onedatum: 1\nvessel: {inside_diameter: .nan}\n"),
    "1e400": written(b"onedatum: 1\nvessel: {inside_diameter: 1e400 m}\n"),
    "wrong dimension": written(b"onedatum: 1\nvessel: {inside_diameter: 3 kg}\n"),
    "syntax": written(b"onedatum: 1\nvessel: {inside_diameter: 3 m\n"),
    "tab": written(b"onedatum: 1\nvessel:\n\tinside_diameter: 3 m\n"),
    "list": written(b"- 1\n- 2\n"),
    "text": written(b"just words"),
    "empty": written(b""),
    "missing": lambda path: None,
    "two documents": written(b"onedatum: 1\n---\nonedatum: 1\n"),
}


@pytest.mark.parametrize("kind", FILES)
def test_check_refuses_it_with_place_and_remedy(kind: str, tmp_path: Path) -> None:
    file = tmp_path / "case.yaml"
    FILES[kind](file)
    start = time.monotonic()
    outcome = onedatum("check", str(file))
    assert time.monotonic() - start < SECONDS
    assert outcome.code == 2
    assert "must be" in outcome.err
    assert "case.yaml" in outcome.err


@pytest.mark.parametrize("device", ["/dev/zero", "/dev/null"])
def test_a_device_is_no_case(device: str) -> None:
    start = time.monotonic()
    outcome = onedatum("check", device)
    assert time.monotonic() - start < SECONDS
    assert outcome.code == 2


@pytest.mark.parametrize("kind", ["100 MB", "deep", "latin-1", "1e400", "missing"])
@pytest.mark.parametrize("command", [("study",), ("signal", "--level", "1 m")], ids=lambda words: words[0])
def test_other_commands_say_the_same(command: tuple[str, ...], kind: str, tmp_path: Path) -> None:
    file = tmp_path / "case.yaml"
    FILES[kind](file)
    outcome = onedatum(command[0], str(file), *command[1:])
    assert outcome.code == 2


def test_papers_of_a_broken_file_name_what_is_wrong(tmp_path: Path) -> None:
    file = tmp_path / "case.yaml"
    FILES["syntax"](file)
    outcome = onedatum("document", str(file), "--out", str(tmp_path / "papers"))
    assert outcome.code == 2
    assert "must be" in outcome.err
    assert (tmp_path / "papers" / "case.pdf").exists()
