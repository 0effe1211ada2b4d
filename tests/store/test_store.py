"""Appending, reading and correcting records."""

from __future__ import annotations

import json
import re
import threading
from datetime import datetime
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest

from onedatum.store.record import Head
from onedatum.store.store import Store
from tests.store.conftest import COUNT
from tests.store.script import outcome, refusal

ROOT = Path(__file__).resolve().parents[2]


def test_the_script_gives_what_it_should(tmp_path: Path) -> None:
    """The same script runs on PostgreSQL in the system tests and must give the same."""
    found: dict[str, Any] = outcome(tmp_path / "records.sqlite", tmp_path)
    assert [record.id for record in found["all"]] == [1, 2, 3, 4]
    assert found["all"] == found["as found"]
    assert [record.id for record in found["tag"]] == [1, 3]
    assert [record.id for record in found["kind"]] == [2]
    assert [record.id for record in found["corrected"]] == [2, 3, 4]
    assert [record.id for record in found["corrected of a tag"]] == [3]
    assert [record.id for record in found["corrected of a kind"]] == [2]
    assert found["chain"].whole and found["chain"].head == found["head"]
    assert found["head"].id == 4 and found["again"] == 0
    assert found["all"][1].at == "2026-11-26T04:30:00.000000Z"  # half past eleven at night, five hours behind
    assert found["all"][0].content["by"] == "Ü ∆ 液 \u0000 \ud83d"
    assert found["refusals"] == [
        "corrects must be a record that none corrects yet; got 1. Record 3 corrects record 1 already. "
        "Correct record 3.",
        "corrects must be the number of a record before 5; got 9.",
        "kind must be 2 to 40 of a to z, 0 to 9, blank, - and _, beginning with a letter; got 'Calibration'.",
        "tag must be 1 to 200 printable characters without a blank at its ends; got 'LT\\n101'.",
        "who must be 1 to 200 printable characters without a blank at its ends; got ''.",
        "payload.x must be a finite number; got nan. JSON has no word for it. Leave it out or say null.",
    ]


def test_the_export_can_be_checked_with_sha_256_and_json_alone(tmp_path: Path) -> None:
    exported = outcome(tmp_path / "records.sqlite", tmp_path)["export"]
    assert isinstance(exported, bytes)
    first, *lines = [json.loads(line) for line in exported.splitlines()]
    previous = "0" * 64
    for number, fields in enumerate(lines, 1):
        own = fields.pop("hash")
        assert (fields["id"], fields["previous"]) == (number, previous)
        text = json.dumps({"format": "onedatum record 1", **fields}, sort_keys=True, separators=(",", ":"))
        assert sha256(text.encode()).hexdigest() == own
        previous = own
    assert first == {"format": "onedatum records 1", "records": len(lines), "head": previous}


def test_the_python_of_the_page_runs(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (code,) = re.findall(
        r"```python\n(.*?)```", (ROOT / "docs/records.md").read_text(encoding="utf-8"), flags=re.DOTALL
    )
    monkeypatch.chdir(tmp_path)
    exec(code, {})
    with Store.open("records.sqlite") as store:
        assert f"{store.head()}\n" == capsys.readouterr().out
        assert store.verify().head.id == 2


def test_an_empty_store_is_whole(tmp_path: Path) -> None:
    with Store.open(tmp_path / "records.sqlite") as store:
        assert store.all() == store.corrected() == store.as_found() == []
        assert store.head() == Head()
        assert store.verify(Head()).whole


def test_records_stay_when_the_store_is_closed(file: Path) -> None:
    with Store.open(file, existing=True) as store:
        assert [record.content["number"] for record in store.all()] == list(range(COUNT))
        assert store.verify().head == store.head() == Head(COUNT, store.all()[-1].hash)


def test_a_correction_is_corrected_by_the_next_and_all_stay(file: Path) -> None:
    with Store.open(file) as store:
        store.append("calibration", "LT-0", "B", {"number": 10}, corrects=1)
        store.append("calibration", "LT-9", "B", {"number": 11}, corrects=COUNT + 1)
        assert [record.id for record in store.corrected()] == [2, 3, 4, 5, 6, COUNT + 2]
        assert [record.id for record in store.corrected(tag="LT-0", kind="calibration")] == [3, 5]
        assert len(store.all()) == COUNT + 2


@pytest.mark.parametrize("corrects", [0, -1, COUNT + 1, True, 1.0, "1"])
def test_a_correction_of_what_is_not_there_is_refused(file: Path, corrects: Any) -> None:
    with Store.open(file) as store:
        said = refusal(lambda: store.append("calibration", "LT-0", "B", {}, corrects=corrects))
        assert said.startswith(f"corrects must be the number of a record before {COUNT + 1}; got {corrects!r}.")
        assert store.verify().head.id == COUNT


@pytest.mark.parametrize(
    ("stated", "words"),
    [
        ({"kind": "x" * 41}, "kind must be 2 to 40"),
        ({"kind": None}, "kind must be 2 to 40"),
        ({"tag": " LT"}, "tag must be 1 to 200"),
        ({"tag": "LT\0"}, "tag must be 1 to 200"),
        ({"tag": "LT\ud800"}, "tag must be 1 to 200"),
        ({"tag": "x" * 201}, "tag must be 1 to 200"),
        ({"who": 7}, "who must be 1 to 200"),
        ({"case": "A" * 64}, "case must be the version of a case"),
        ({"case": "../x"}, "case must be the version of a case"),
        ({"at": datetime(2026, 11, 26)}, "at must be a time with its zone"),
    ],
)
def test_a_field_that_is_not_as_it_must_be_is_refused(file: Path, stated: dict[str, Any], words: str) -> None:
    given: dict[str, Any] = {"kind": "calibration", "tag": "LT-0", "who": "A", "payload": {}} | stated
    with Store.open(file) as store:
        assert refusal(lambda: store.append(**given)).startswith(words)
        assert store.head().id == COUNT


def test_a_tag_is_no_statement_of_the_database(file: Path) -> None:
    tag = "'; DROP TABLE onedatum_records; --"
    with Store.open(file) as store:
        store.append("calibration", tag, tag, tag)
        assert [record.tag for record in store.by_tag(tag)] == [tag]
        assert store.by_tag("' OR '1'='1") == []
        assert store.verify().whole


def test_threads_share_a_store(file: Path) -> None:
    with Store.open(file) as store:

        def write() -> None:
            for number in range(20):
                store.append("calibration", threading.current_thread().name, "A", number)

        threads = [threading.Thread(target=write, name=f"thread {number}") for number in range(8)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        assert store.verify().head.id == COUNT + 160
        for thread in threads:
            assert [record.content for record in store.by_tag(thread.name)] == list(range(20))


def test_a_record_is_written_after_the_head_that_was_looked_at_or_not_at_all(file: Path) -> None:
    with Store.open(file) as store:
        looked_at = store.head()
        store.append("number", "LT-9", "B", {}, after=looked_at)
        said = refusal(lambda: store.append("number", "LT-0", "A", {}, after=looked_at))
        assert said == (
            f"the record must be the next after record {COUNT}; got one after record {COUNT + 1}. Another one came "
            "first. Look at the records again, then write; nothing was written."
        )
        assert store.head().id == COUNT + 1
        same_number = Head(COUNT + 1, looked_at.hash)
        assert "must be the next after" in refusal(lambda: store.append("number", "LT-0", "A", {}, after=same_number))
