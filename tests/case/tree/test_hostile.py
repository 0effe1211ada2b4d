"""Files that are no cases: each is answered soon, with faults and never with a traceback."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.case.tree import Leaf, Tree, parse_text, read_tree
from onedatum.case.tree.limits import MAX_BYTES, MAX_FAULTS
from onedatum.foundation.errors import Place
from tests.soon import soon

SECONDS = 2.0
WORST_SECONDS = 5.0
"""For what is within the limits and only just: it takes up to a second, as `limits` says."""


def timed(path: str | Path) -> Tree:
    with soon(SECONDS):
        return read_tree(path)


def faulty(tree: Tree) -> list[str]:
    return [key for key, leaf in tree.root.items.items() if isinstance(leaf, Leaf) and leaf.faulty]


def only_fault(tree: Tree) -> str:
    assert len(tree.faults) == 1
    assert not tree.root.items
    assert tree.broken
    return tree.faults[0].sentence()


def test_a_file_of_100_MB_is_refused_unread(tmp_path: Path) -> None:
    path = tmp_path / "large.yaml"
    with path.open("wb") as file:
        file.truncate(100_000_000)
    assert only_fault(timed(path)).startswith(f"{path} must be at most 100,000 bytes; got 100,000,000 bytes")


def test_a_pipe_is_refused_unopened(tmp_path: Path) -> None:
    path = tmp_path / "pipe.yaml"
    os.mkfifo(path)
    assert "a regular file; got a pipe or a device" in only_fault(timed(path))


def test_a_device_is_refused(tmp_path: Path) -> None:
    link = tmp_path / "case.yaml"
    link.symlink_to("/dev/zero")
    assert "got a pipe or a device" in only_fault(timed("/dev/zero"))
    assert "got a pipe or a device" in only_fault(timed(link))


def test_missing_files_and_folders(tmp_path: Path) -> None:
    (tmp_path / "LT-201.yaml").write_text("a: 1\n")
    assert "got a folder" in only_fault(timed(tmp_path))
    missing = only_fault(timed(tmp_path / "LT-210.yaml"))
    assert "a file that exists; got nothing there" in missing
    assert "The nearest name in that folder is LT-201.yaml" in missing
    assert "cannot be read" in only_fault(timed(tmp_path / "no" / "where.yaml"))
    assert "Embedded null" in only_fault(timed("a\x00b"))
    loop = tmp_path / "loop.yaml"
    loop.symlink_to(loop)
    assert "a file that can be read" in only_fault(timed(loop))


def test_a_file_that_may_not_be_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The system's refusal is simulated: the tests may run as a user who may read everything."""
    path = tmp_path / "a.yaml"
    path.write_text("a: 1\n")

    def refuse(*_: object) -> int:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "open", refuse)
    assert "Permission denied" in only_fault(read_tree(path))


def test_a_sound_file_is_read(tmp_path: Path) -> None:
    path = tmp_path / "LT-201.yaml"
    path.write_bytes(b"\xef\xbb\xbfa: 20 \xc2\xb0C\n")
    tree = read_tree(path)
    assert tree.sound and tree.file == str(path) and tree.text == "a: 20 °C\n"
    assert tree.root.items["a"].place == Place(str(path), 1, 4)


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be", "utf-32"])
def test_two_byte_encodings_are_named(encoding: str) -> None:
    assert "UTF-8 is needed" in only_fault(parse_text("a: 1\n".encode(encoding), "f.yaml"))


def test_latin_1_is_named_with_its_byte_and_the_rest_is_read() -> None:
    tree = parse_text("a: 1\nb: größer\nc: 3\n".encode("latin-1"), "f.yaml")
    assert [str(fault) for fault in tree.faults] == [
        "f.yaml:2:6: f.yaml must be text in UTF-8; got byte 0xF6 at position 11. UTF-8 is needed. "
        "Save the file as UTF-8 in the editor."
    ]
    assert faulty(tree) == ["b"]


@pytest.mark.parametrize(
    "sign", ["\x00", "\x07", "\x1b", "\x7f", "\x85", "\u2028", "\u202e", "\u2066", "\ud800", "\uffff"]
)
def test_invisible_characters_are_named(sign: str) -> None:
    tree = parse_text(f"a: 1\nb: x{sign}y\nc: 3\n", "f.yaml")
    assert len(tree.faults) == 1
    assert str(tree.faults[0]).startswith("f.yaml:2:5: f.yaml must be text without control characters; got U+")
    assert faulty(tree) == ["b"]


def test_bombs_do_not_go_off() -> None:
    bomb = "a: &a [x, x]\n" + "".join(
        f"{name}: &{name} [{', '.join([f'*{before}'] * 9)}]\n"
        for before, name in zip("abcdefgh", "bcdefghi", strict=True)
    )
    tree = parse_text(bomb)
    assert MAX_FAULTS >= len(tree.faults) > 50
    assert all("written out" in fault.allowed for fault in tree.faults)


def test_faults_are_told_up_to_a_limit() -> None:
    assert len(parse_text("a: 1\n" * 1000).faults) == MAX_FAULTS


FULL = {
    "rows": "a:\n" + "- a\n" * 19_990,
    "empty lists": "a: [" + "[]," * 19_990 + "]",
    "small branches": "a: [" + "{a: 1}," * 6_600 + "]",
    "keys": "".join(f"k{i}:\n" for i in range(9_990)),
    "deep rows": "a:\n" + "".join("- " + "[" * 17 + "]" * 17 + "\n" for _ in range(1_150)),
    "quotes": "a: [" + "''," * 19_990 + "]",
    "one text": "a: " + "a b " * 24_000,
    "comments": "#\n" * 49_000 + "a: 1",
    "open brackets": "[" * MAX_BYTES,
    "open braces": "a: " + "{a: " * 20_000,
    "dashes": "- " * 49_000,
    "question marks": "? " * 49_000,
    "colons": "a: " + ":" * 99_000,
    "exclamation marks": "!" * 99_000,
    "ampersands": "a: " + "&a " * 30_000,
    "open quotes": "".join(f"k{i}: '\n" for i in range(9_000)),
    "directives": "%FOO bar\n" * 10_000 + "---\na: 1",
    "documents": "---\n" * 24_000,
    "lines in quotes": 'a: "' + "\n" * 99_000 + '"',
    "escapes": 'a: "' + "\\x41" * 24_000 + '"',
    "long key": "? " + "a" * 99_000 + "\n: 1",
    "folded": "a: >\n" + "  a\n\n" * 19_000,
}

LEGAL = {
    "rows",
    "empty lists",
    "small branches",
    "keys",
    "deep rows",
    "quotes",
    "comments",
    "open quotes",
    "directives",
}


@pytest.mark.parametrize("name", FULL)
def test_the_worst_file_within_the_limits_is_soon_done(name: str) -> None:
    with soon(WORST_SECONDS):
        tree = parse_text(FULL[name])
    assert tree.sound == (name in LEGAL)


ALPHABET = st.sampled_from(
    ["a", "b: ", "c:\n", "\n", "\n  ", "- ", "[", "]", "{", "}", ",", ": ", "'", '"', "&a ", "*a", "!t ", "!!", "? ",
     "|", ">", "#", "%", "---\n", "...\n", "\t", "\\", "\\U", "\\x0", "~", "<<: ", "\r", "\ufeff", "%YAML 1.1\n",
     "%TAG ! x\n", "@", "0"]
)  # fmt: skip


def checked(tree: Tree) -> None:
    for fault in tree.faults:
        assert fault.sentence().startswith(f"{fault.path} must be ")
        assert str(fault).isprintable()
    assert len(tree.faults) <= MAX_FAULTS + 1


@given(st.binary(max_size=400))
def test_any_bytes_give_a_tree(data: bytes) -> None:
    checked(parse_text(data, "f.yaml"))


@given(st.text(st.characters(codec=None), max_size=300))
def test_any_text_gives_a_tree(text: str) -> None:
    checked(parse_text(text, "f.yaml"))


@given(st.lists(ALPHABET, max_size=40).map("".join))
def test_anything_like_yaml_gives_a_tree(text: str) -> None:
    checked(parse_text(text, "f.yaml"))


def test_importing_the_room_loads_no_yaml() -> None:
    code = (
        "import sys; import onedatum.case.tree;"
        "print([name for name in ('ruamel.yaml', 'pint', 'numpy', 'scipy') if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
