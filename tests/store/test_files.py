"""Export, import and backup."""

from __future__ import annotations

import json
from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest

from onedatum.store.store import Store
from tests.store.conftest import COUNT
from tests.store.raw import altered
from tests.store.script import refusal, ticking


@pytest.fixture
def exported(file: Path) -> Path:
    """All records as one file."""
    path = file.with_name("records.jsonl")
    with Store.open(file) as store:
        assert store.export(path) == store.head()
    return path


def test_what_was_exported_comes_back_the_same(file: Path, exported: Path, tmp_path: Path) -> None:
    again = tmp_path / "again.jsonl"
    with Store.open(file) as store, Store.open(tmp_path / "new.sqlite") as new:
        assert new.import_(exported) == COUNT
        assert new.all() == store.all() and new.verify(store.head()).whole
        new.export(again)
        new.append("number", "LT-0", "A", {})
    assert again.read_bytes() == exported.read_bytes()


def test_an_empty_store_is_exported_and_imported(tmp_path: Path) -> None:
    with Store.open(tmp_path / "a") as first, Store.open(tmp_path / "b") as second:
        first.export(tmp_path / "e")
        assert second.import_(tmp_path / "e") == 0
        assert second.all() == []


def test_what_is_missing_is_appended_and_nothing_twice(file: Path, exported: Path, tmp_path: Path) -> None:
    with Store.open(file) as store, Store.open(tmp_path / "new.sqlite") as new:
        new.import_(exported)
        store.append("number", "LT-0", "A", {"later": 1}, corrects=2)
        store.append("number", "LT-0", "A", {"later": 2})
        store.export(tmp_path / "later.jsonl")
        assert new.import_(tmp_path / "later.jsonl") == 2
        assert new.import_(tmp_path / "later.jsonl") == 0
        assert new.import_(exported) == 0  # an earlier part of the same chain
        assert new.all() == store.all() and new.verify().whole


def test_a_fork_is_refused_with_both_hashes(file: Path, exported: Path, tmp_path: Path) -> None:
    with Store.open(tmp_path / "new.sqlite", clock=ticking()) as new:
        new.import_(exported)
        new.append("number", "LT-0", "A", {"way": "one"})
        mine = new.head()
        with Store.open(file) as store:
            store.append("number", "LT-0", "A", {"way": "two"})
            other = store.head()
            store.append("number", "LT-0", "A", {"way": "two"})
            store.export(tmp_path / "other.jsonl")
        said = refusal(lambda: new.import_(tmp_path / "other.jsonl"))
        assert f"got another record {COUNT + 1}: {other.hash} in the file, {mine.hash} in the store" in said
        assert new.head() == mine


def edited(change: Callable[[list[bytes]], list[bytes]]) -> Callable[[bytes], bytes]:
    """A change of the lines of a file."""
    return lambda content: b"".join(change(content.splitlines(keepends=True)))


def first(**fields: object) -> Callable[[bytes], bytes]:
    """A change of the first line."""
    return edited(lambda lines: [_line({**json.loads(lines[0]), **fields}), *lines[1:]])


def _line(fields: dict[str, object]) -> bytes:
    return json.dumps(fields, sort_keys=True, separators=(",", ":")).encode() + b"\n"


def record(number: int, **fields: object) -> Callable[[bytes], bytes]:
    """A change of the line of a record."""
    return edited(lambda lines: [_line({**json.loads(each), **fields}) if at == number else each
                                 for at, each in enumerate(lines)])  # fmt: skip


WRONG: list[tuple[str, Callable[[bytes], bytes], int]] = [
    ("empty", lambda content: b"", 1),
    ("cut in a line", lambda content: content[:-40], COUNT + 1),
    ("cut at a line", edited(lambda lines: lines[:-1]), COUNT + 1),
    ("without its last end", lambda content: content[:-1], COUNT + 1),
    ("with more", lambda content: content + b"\n", COUNT + 2),
    ("with a record twice", edited(lambda lines: [*lines[:3], lines[2], *lines[3:]]), 4),
    ("without a record", edited(lambda lines: [*lines[:3], *lines[4:]]), 4),
    ("with two swapped", edited(lambda lines: [*lines[:3], lines[4], lines[3], *lines[5:]]), 4),
    ("with other ends", lambda content: content.replace(b"\n", b"\r\n"), 1),
    ("with blanks", lambda content: content.replace(b'","', b'", "'), 1),
    ("with a mark of its encoding", lambda content: b"\xef\xbb\xbf" + content, 1),
    ("of other bytes", lambda content: content[:300] + b"\xff" + content[300:], 2),
    ("a list", lambda content: b"[]\n", 1),
    ("deep", lambda content: b"[" * 100_000 + b"\n", 1),
    ("a number without end", lambda content: b"9" * 100_000 + b"\n", 1),
    ("without end", lambda content: b"x" * 3_000_000, 1),
    ("of another format", first(format="other"), 1),
    ("with another count", first(records=COUNT - 1), COUNT + 1),
    ("with a count below nothing", first(records=-1), 1),
    ("with no count", first(records="6"), 1),
    ("with another head", first(head="a" * 64), 1),
    ("with one key more", record(2, more=1), 3),
    ("changed", record(2, who="C. Other"), 3),
    ("with a number as text", record(2, id="2"), 3),
    ("with true as a number", record(1, id=True), 2),
    ("with a text as number", record(2, who=3), 3),
    ("with a list as text", record(2, payload=[1]), 3),
    ("with half a number", record(3, corrects=1.0), 4),
]


@pytest.mark.parametrize(("change", "line"), [each[1:] for each in WRONG], ids=[each[0] for each in WRONG])
def test_a_file_that_is_wrong_is_refused_whole(
    exported: Path, tmp_path: Path, change: Callable[[bytes], bytes], line: int
) -> None:
    exported.write_bytes(change(exported.read_bytes()))
    with Store.open(tmp_path / "new.sqlite") as new:
        said = refusal(lambda: new.import_(exported))
        assert said.startswith(f"{exported}:{line} must be ")
        assert said.endswith("Nothing was written.") and len(said) < 900
        assert new.all() == []


def test_no_file_to_import(file: Path, tmp_path: Path) -> None:
    with Store.open(file) as store:
        assert f"{tmp_path} must be a file of exported records; got a folder." in refusal(
            lambda: store.import_(tmp_path)
        )
        assert "got none. See to its path." in refusal(lambda: store.import_(tmp_path / "gone"))
        assert "got a device or a pipe." in refusal(lambda: store.import_("/dev/zero"))


@pytest.mark.parametrize("way", ["export", "backup"])
def test_nothing_is_written_over_and_nothing_left_over(file: Path, way: str) -> None:
    taken = file.with_name("taken")
    taken.write_text("mine", encoding="utf-8")
    with Store.open(file) as store:
        for where in (taken, Path("/dev/full"), file.parent, file):
            said = refusal(partial(getattr(store, way), where))
            allowed = "a file that is not there yet; got one that is. Name another file; nothing is written over"
            assert said == f"{where} must be {allowed}."
        gone = file.parent / "gone" / "x"
        said = refusal(lambda: getattr(store, way)(gone))
        assert said.startswith(f"{gone} must be a place that can be read and written; got an error. No such file")
    assert taken.read_text(encoding="utf-8") == "mine"
    assert sorted(path.name for path in file.parent.iterdir()) == ["records.sqlite", "taken"]


@pytest.mark.parametrize("way", ["export", "backup"])
def test_no_copy_is_made_of_a_chain_that_is_broken(file: Path, way: str) -> None:
    altered(file, "UPDATE onedatum_records SET who = 'C. Other' WHERE id = 3")
    with Store.open(file) as store:
        said = refusal(lambda: getattr(store, way)(file.with_name("copy")))
        assert "Record 3 was changed" in said
        assert "Record 3 was changed" in refusal(lambda: store.import_(file)) or "must be" in said
    assert [path.name for path in file.parent.iterdir()] == ["records.sqlite"]


def test_a_backup_is_a_store_of_its_own(file: Path) -> None:
    copy = file.with_name("copy.sqlite")
    with Store.open(file) as store:
        head = store.backup(copy)
        records = store.all()
        store.append("number", "LT-0", "A", {})
    with Store.open(copy, existing=True) as restored:
        assert restored.all() == records and restored.verify(head).whole
        restored.append("number", "LT-0", "A", {})
    assert sorted(path.name for path in file.parent.iterdir()) == ["copy.sqlite", "records.sqlite"]
