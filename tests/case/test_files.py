"""Files that are no cases, through the command: a clear error, exit code 2, soon, and never a traceback."""

from __future__ import annotations

import os
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import pytest

from tests.cli.run import onedatum

SECONDS = 5.0
BAD_INPUT = 2


def large(path: Path) -> None:
    with path.open("wb") as file:
        file.truncate(100_000_000)


def bomb(path: Path) -> None:
    lines = ["a: &a [x, x]"]
    lines += [f"{name}: &{name} [{', '.join([f'*{before}'] * 9)}]" for before, name in pairwise("abcdefghi")]
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")


Maker = Callable[[Path], object]
FILES: dict[str, tuple[Maker, str]] = {
    "100 MB": (large, "at most 100,000 bytes"),
    "deep rows": (lambda path: path.write_text("a: " + "[" * 50_000), "levels deep"),
    "deep branches": (lambda path: path.write_text("a: " + "{a: " * 20_000), "levels deep"),
    "aliases": (bomb, "Values are not shared by name"),
    "a tag": (
        lambda path: path.write_text("onedatum: !!python/object/apply:os.system ['true']\n"),
        "Tags are not read",
    ),
    "a merge": (lambda path: path.write_text("onedatum: 1\nx: &x {a: 1}\n<<: *x\n"), "Values are not shared by name"),
    "UTF-16": (lambda path: path.write_bytes("onedatum: 1\n".encode("utf-16")), "UTF-8"),
    "latin-1": (lambda path: path.write_bytes("onedatum: 1\nservice: größer\n".encode("latin-1")), "byte 0xF6"),
    "NUL": (lambda path: path.write_bytes(b"onedatum: 1\ntag: a\x00b\n"), "U+0000"),
    "only NUL": (lambda path: path.write_bytes(b"\x00" * 1000), "zero bytes"),
    "empty": (lambda path: path.write_bytes(b""), "got nothing"),
    "a picture": (lambda path: path.write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 20), "UTF-8"),
    "two documents": (lambda path: path.write_text("onedatum: 1\n---\nonedatum: 1\n"), "one document"),
    "a pipe": (lambda path: os.mkfifo(path), "a pipe or a device"),
    "a link to /dev/zero": (lambda path: path.symlink_to("/dev/zero"), "a pipe or a device"),
    "a link to itself": (lambda path: path.symlink_to(path), "a file that can be read"),
    "missing": (lambda path: None, "a file that exists"),
    "keys without end": (lambda path: path.write_text("".join(f"k{n}:\n" for n in range(9_000))), "known here"),
}


@pytest.mark.parametrize(("make", "said"), FILES.values(), ids=FILES)
def test_a_file_that_is_no_case_is_answered(make: Maker, said: str, tmp_path: Path) -> None:
    path = tmp_path / "case.yaml"
    make(path)
    outcome = onedatum("check", str(path))
    assert outcome.work_s < SECONDS
    assert outcome.code == BAD_INPUT
    flat = " ".join((outcome.out + outcome.err).split())
    assert said in flat
    assert "an error of ours" not in flat


@pytest.mark.parametrize("command", ["check", "study"])
def test_a_device_itself_is_answered(command: str) -> None:
    outcome = onedatum(command, "/dev/zero")
    assert outcome.work_s < SECONDS
    assert outcome.code == BAD_INPUT
    assert "a pipe or a device" in " ".join((outcome.out + outcome.err).split())


def test_a_folder_without_cases_says_so(tmp_path: Path) -> None:
    outcome = onedatum("check", str(tmp_path))
    assert "no case in this folder" in outcome.out


def test_one_bad_file_of_a_folder_does_not_stop_the_others(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").write_text("onedatum: 1\ntag: LT-1\n", encoding="utf-8")
    (tmp_path / "b.yaml").write_text("onedatum: 1\ntag: [\n", encoding="utf-8")
    (tmp_path / "c.yaml").write_text("onedatum: 1\ntag: LT-3\n", encoding="utf-8")
    outcome = onedatum("check", str(tmp_path))
    assert outcome.code == BAD_INPUT
    assert outcome.out.count("no fault") == 2
