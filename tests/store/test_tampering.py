"""What was changed, taken away, put in or swapped is found, and what cannot be found is shown too."""

from __future__ import annotations

import random
import sqlite3
from dataclasses import asdict, replace
from pathlib import Path

import pytest

from onedatum.foundation.errors import StoreError
from onedatum.store.record import FIELDS, Head, Record, hash_of
from onedatum.store.store import Store
from tests.store.conftest import COUNT
from tests.store.raw import altered
from tests.store.script import refusal

OTHER = {"id": "90", "corrects": "1", "case": f"'{'b' * 64}'", "at": "'2026-11-26T14:05:09.000000Z'"}


def bad(file: Path) -> int | None:
    """The first record that is not as it was written; nothing is returned that was changed without a word."""
    with Store.open(file, existing=True) as store:
        found = store.verify()
        assert found.whole is (found.bad is None)
        return found.bad


@pytest.mark.parametrize("number", [1, 3, COUNT])
@pytest.mark.parametrize("name", FIELDS)
def test_a_change_of_any_field_is_found(file: Path, name: str, number: int) -> None:
    value = OTHER.get(name, "'altered'")
    altered(file, f'UPDATE onedatum_records SET "{name}" = {value} WHERE id = {number}')
    assert bad(file) == number


@pytest.mark.parametrize("value", ["x'00ff'", "CAST(x'c328' AS TEXT)", "2.5", "''"])
def test_a_value_of_another_kind_is_found(file: Path, value: str) -> None:
    altered(file, f"UPDATE onedatum_records SET payload = {value} WHERE id = 2")
    assert bad(file) == 2
    with Store.open(file) as store:
        assert [record.whole for record in store.as_found()] == [True, False, True, True, True, True]
        said = refusal(store.all)
        assert "must be a store whose records are as they were written; got a changed record 2." in said


@pytest.mark.parametrize("number", [1, 3, COUNT])
def test_a_record_taken_away_is_found_and_the_last_too(file: Path, number: int) -> None:
    altered(file, f"DELETE FROM onedatum_records WHERE id = {number}")
    assert bad(file) == number


def test_all_records_taken_away_are_found(file: Path) -> None:
    altered(file, "DELETE FROM onedatum_records")
    assert bad(file) == 1


def columns() -> str:
    """Every field but the number."""
    return ", ".join(f'"{name}"' for name in FIELDS if name != "id")


def test_a_record_put_in_is_found(file: Path) -> None:
    rest = columns().replace('"hash"', "'1' || hash").replace('"previous"', "'1' || previous")
    altered(
        file,
        *(f"UPDATE onedatum_records SET id = {number + 1} WHERE id = {number}" for number in range(COUNT, 2, -1)),
        f"INSERT INTO onedatum_records (id, {columns()}) SELECT 3, {rest} FROM onedatum_records WHERE id = 2",
    )
    assert bad(file) == 3


def test_two_swapped_records_are_found(file: Path) -> None:
    swap = [(3, 99), (4, 3), (99, 4)]
    altered(file, *(f"UPDATE onedatum_records SET id = {to} WHERE id = {at}" for at, to in swap))
    assert bad(file) == 3


def rewritten(records: list[Record]) -> list[Record]:
    """A chain of its own with every hash made again, which is what a chain cannot tell from a true one."""
    made: list[Record] = []
    for record in records:
        changed = replace(record, who="C. Other", previous=made[-1].hash if made else record.previous)
        made.append(replace(changed, hash=hash_of(asdict(changed))))
    return made


def test_a_chain_rewritten_as_a_whole_is_found_by_a_noted_head_only(file: Path) -> None:
    with Store.open(file) as store:
        noted, records = store.head(), store.all()
    made = rewritten(records)
    updates = [
        f"UPDATE onedatum_records SET who = '{each.who}', previous = '{each.previous}', hash = '{each.hash}' "
        f"WHERE id = {each.id}"
        for each in made
    ]
    altered(file, *updates, f"UPDATE onedatum_head SET hash = '{made[-1].hash}'")
    with Store.open(file) as store:
        assert store.verify().whole
        found = store.verify(noted)
        assert found.bad == noted.id and not found.whole
        assert "is not the one that was noted" in found.fault


def test_the_last_records_taken_away_with_the_head_are_found_by_a_noted_head_only(file: Path) -> None:
    with Store.open(file) as store:
        noted, before = store.head(), store.all()[-2]
    head = f"UPDATE onedatum_head SET id = {before.id}, hash = '{before.hash}'"
    altered(file, f"DELETE FROM onedatum_records WHERE id = {noted.id}", head)
    with Store.open(file) as store:
        assert store.verify().whole
        assert store.verify(Head(before.id, before.hash)).whole
        assert "was noted and is not there" in store.verify(noted).fault


def test_an_older_head_holds_while_the_chain_grows(file: Path) -> None:
    with Store.open(file) as store:
        noted = store.head()
        store.append("calibration", "LT-0", "A", {})
        assert store.verify(noted).whole
        assert not store.verify(Head(noted.id, "f" * 64)).whole


@pytest.mark.parametrize(
    ("statement", "words"),
    [
        ("UPDATE onedatum_records SET who = 'x' WHERE id = 1", "a record is never changed"),
        ("DELETE FROM onedatum_records WHERE id = 6", "a record is never taken away"),
        (
            f"INSERT INTO onedatum_records SELECT 8, {columns()} FROM onedatum_records WHERE id = 6",
            "follows the last one",
        ),
        (
            f"REPLACE INTO onedatum_records SELECT 1, {columns()} FROM onedatum_records WHERE id = 1",
            "follows the last one",
        ),
    ],
)
def test_the_database_itself_refuses_a_change(file: Path, statement: str, words: str) -> None:
    with pytest.raises(sqlite3.IntegrityError, match=words):
        altered(file, statement, guarded=True)
    assert bad(file) is None


@pytest.mark.parametrize("name", ["onedatum_no_update", "onedatum_no_delete", "onedatum_follow", "onedatum_lead"])
def test_triggers_taken_away_are_found(file: Path, name: str) -> None:
    altered(file, f"DROP TRIGGER {name}", guarded=True)
    with Store.open(file) as store:
        found = store.verify()
        assert found.bad is None and not found.whole
        assert found.fault == "the records are sound, but the triggers that refuse a change are gone"
        said = refusal(lambda: store.append("calibration", "LT-0", "A", {}))
        assert said.startswith("the last record must be") is (name == "onedatum_lead")
        assert store.verify().bad is None


def test_nothing_is_appended_to_a_chain_that_lost_its_end(file: Path) -> None:
    altered(file, f"DELETE FROM onedatum_records WHERE id = {COUNT}")
    with Store.open(file) as store:
        assert "the last record must be the one that the database noted as its head" in refusal(
            lambda: store.append("calibration", "LT-0", "A", {})
        )
        assert len(store.all()) == COUNT - 1


def test_a_flipped_bit_is_found_or_no_record_is_changed_by_it(file: Path, tmp_path: Path) -> None:
    """Bits drawn at random over the whole file; in room that is not in use a flip changes no record."""
    whole = file.read_bytes()
    with Store.open(file) as store:
        records = store.all()
    drawn = random.Random(5)
    at = [drawn.randrange(len(whole)) for _ in range(60)] + [whole.index(record.hash.encode()) for record in records]
    found = 0
    for number, position in enumerate(at):
        flipped = bytearray(whole)
        flipped[position] ^= 1 << drawn.randrange(8)
        path = tmp_path / f"{number}.sqlite"
        path.write_bytes(flipped)
        try:
            with Store.open(path, existing=True) as store:
                if not store.verify().whole:
                    found += 1
                    continue
                assert store.all() == records
        except StoreError:
            found += 1
    assert found >= len(records)
