"""Sections kept in files beside the case: taken in once, never followed further, each fault in its own file."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from onedatum.case.reading import Statement, read_case, read_case_text
from onedatum.study.study import study
from tests.closeness import exact
from tests.soon import soon

REFERENCE = "onedatum: 1\ninstrument:\n  float: {file: floats.yaml, entry: F-52}\n"
FLOATS = "F-52:\n  mass: 72 g\n  height: {value: 60 mm, within: 0.1 mm}\nF-44:\n  mass: 40 g\n"


def read(folder: Path, **files: str) -> Statement:
    """The case `case` of a folder with these files."""
    for name, text in files.items():
        (folder / f"{name}.yaml").write_text(text, encoding="utf-8")
    loaded()
    with soon(8.0):
        statement = read_case(folder / "case.yaml")
        study(statement)
    return statement


@cache
def loaded() -> None:
    """All that a study loads when it is first used: that is no time of the file."""
    study(read_case_text("onedatum: 1\n"))


def told(statement: Statement) -> str:
    """All faults as printed."""
    return "\n".join(str(fault) for fault in statement.faults)


def test_an_entry_is_taken_in_with_its_own_places(tmp_path: Path) -> None:
    statement = read(tmp_path, case=REFERENCE, floats=FLOATS)
    assert told(statement) == ""
    taken = statement.case.instrument.float_
    exact(taken.mass.si, 0.072)
    assert taken.mass.path == "instrument.float.mass"
    assert taken.mass.place is not None
    assert (Path(taken.mass.place.file).name, taken.mass.place.line, taken.mass.place.column) == ("floats.yaml", 2, 9)
    assert taken.height.uncertainty is not None
    assert statement.own_files == ("floats.yaml",)


def test_what_the_case_states_comes_first_and_replaces_whole_leaves(tmp_path: Path) -> None:
    case = REFERENCE.replace("entry: F-52", "entry: F-52, height: 61 mm")
    taken = read(tmp_path, case=case, floats=FLOATS).case.instrument.float_
    exact(taken.height.si, 0.061)
    assert taken.height.uncertainty is None
    exact(taken.mass.si, 0.072)


def test_two_sections_share_a_file_that_is_read_once(tmp_path: Path) -> None:
    case = REFERENCE + "loop:\n  cable: {file: floats.yaml, entry: C-1}\n"
    statement = read(tmp_path, case=case, floats=FLOATS + "C-1:\n  length: 120 m\n")
    assert told(statement) == ""
    exact(statement.case.loop.cable.length.si, 120.0)
    assert statement.own_files == ("floats.yaml",)


def test_a_fault_in_the_file_is_at_its_line(tmp_path: Path) -> None:
    statement = read(tmp_path, case=REFERENCE, floats=FLOATS.replace("72 g", "72 mm").replace("height", "hight"))
    places = [(Path(f.place.file).name, f.place.line, f.path) for f in statement.faults if f.place]
    assert sorted(places) == [
        ("floats.yaml", 2, "instrument.float.mass"),
        ("floats.yaml", 3, "instrument.float.hight"),
    ]


def test_a_file_that_is_no_yaml_is_told_where_it_breaks(tmp_path: Path) -> None:
    statement = read(tmp_path, case=REFERENCE, floats="F-52: [1\n")
    assert "floats.yaml" in told(statement)


@pytest.mark.parametrize(
    ("file", "said"),
    [
        ("gone.yaml", "a file that exists"),
        ("../floats.yaml", "No path leads out of its folder"),
        ("/etc/hostname", "No path leads out of its folder"),
        ("sub/floats.yaml", "No path leads out of its folder"),
        ("..", "No path leads out of its folder"),
        (".", "No path leads out of its folder"),
        ("''", "No path leads out of its folder"),
        ("sub", "a folder"),
        ("[floats.yaml]", "a list or a mapping"),
        ("pipe.yaml", "a pipe or a device"),
    ],
)
def test_a_file_that_cannot_be_used_is_told_where_it_is_named(file: str, said: str, tmp_path: Path) -> None:
    (tmp_path / "sub").mkdir()
    (tmp_path / "pipe.yaml").symlink_to("/dev/zero")
    statement = read(tmp_path, case=REFERENCE.replace("floats.yaml", file), floats=FLOATS)
    assert said in told(statement)
    for fault in statement.faults:
        assert fault.place is not None
        assert (Path(fault.place.file).name, fault.place.line) == ("case.yaml", 3)
    assert not statement.case.instrument.float_.mass.known


def test_an_entry_that_is_missing_is_told_with_the_nearest(tmp_path: Path) -> None:
    statement = read(tmp_path, case=REFERENCE.replace("F-52", "F-53"), floats=FLOATS)
    assert "case.yaml:3:37: instrument.float.entry must be an entry of floats.yaml; got 'F-53'. Nearest" in told(
        statement
    )


LOOPS = {
    "itself": "F-52: {file: floats.yaml, entry: F-52}\n",
    "itself, deeper": "F-52:\n  mass: {file: floats.yaml, entry: F-52}\n",
    "itself, beside values": "F-52: {mass: 72 g, file: floats.yaml, entry: F-44}\nF-44: {mass: 40 g}\n",
    "the case": "F-52: {file: case.yaml, entry: instrument}\n",
    "the case, deeper": "F-52:\n  height: {file: case.yaml, entry: instrument}\n",
}


@pytest.mark.parametrize("floats", LOOPS.values(), ids=LOOPS)
def test_a_file_that_refers_to_files_again_ends_in_a_fault(floats: str, tmp_path: Path) -> None:
    statement = read(tmp_path, case=REFERENCE, floats=floats)
    assert "left away in a file that is taken in" in told(statement)
    assert statement.own_files == ("floats.yaml",)


def test_a_reference_in_a_list_of_the_file_is_not_followed(tmp_path: Path) -> None:
    statement = read(tmp_path, case=REFERENCE, floats="F-52:\n  parts: [{file: floats.yaml, entry: F-52}]\n")
    assert [fault.path for fault in statement.faults] == ["instrument.float.parts"]


def test_a_case_that_takes_in_itself_ends_in_a_fault(tmp_path: Path) -> None:
    for entry in ("instrument", "onedatum", "float"):
        statement = read(tmp_path, case=REFERENCE.replace("floats.yaml, entry: F-52", f"case.yaml, entry: {entry}"))
        assert statement.faults


def test_a_large_file_taken_in_many_times_is_soon_refused(tmp_path: Path) -> None:
    """Some hundred references to one entry of some thousand values would be millions of values."""
    large = "E:\n" + "".join(f"  k{number}: 1\n" for number in range(4_000))
    case = "onedatum: 1\nstates:\n" + "- {file: large.yaml, entry: E}\n" * 500
    assert "one of at most 50 sections kept in files" in told(read(tmp_path, case=case, large=large))


def test_the_hash_counts_what_is_read_and_nothing_else(tmp_path: Path) -> None:
    first = read(tmp_path, case=REFERENCE, floats=FLOATS).content_hash
    assert read(tmp_path, other="F: {}\n").content_hash == first
    assert read(tmp_path, floats=FLOATS + "# a note\n").content_hash != first
    assert read(tmp_path, floats=FLOATS, case=REFERENCE + "tag: LT-1\n").content_hash != first
    assert read(tmp_path, case=REFERENCE).content_hash == first
