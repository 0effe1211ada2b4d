"""Calibrations that several write at once, and what a refusal leaves: one record of one run, no empty file.

That a check and the writing that rests on it must be one is the definition of a transaction that can be put in a row
(SQL, ISO/IEC 9075, from memory).
"""

from __future__ import annotations

import threading
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from onedatum.foundation.errors import Overtaken, StoreError
from onedatum.jobs.proving import records
from onedatum.jobs.proving.entry import EntryError
from onedatum.jobs.proving.keep import imported
from onedatum.jobs.proving.records import FILE, Correction, opened
from tests.jobs.test_proving import YEAR, record, rows
from tests.proving_desk import BEGIN


def test_of_two_writers_of_one_run_one_records_it(tmp_path: Path) -> None:
    """Both look before either writes: who comes second looks again and finds it there."""
    where = tmp_path / FILE
    record(where, begin=BEGIN - YEAR)
    ready = threading.Barrier(2)
    told: list[str] = []

    def write() -> None:
        ready.wait()
        try:
            told.append(f"record {record(where).calibration.record.id}")
        except EntryError as error:
            told.append(str(error))

    writers = [threading.Thread(target=write) for _ in range(2)]
    for each in writers:
        each.start()
    for each in writers:
        each.join()
    assert sorted(told) == [
        "record 2",
        "the run must be one that is not recorded yet; got the same as record 2. Nothing more is to be done; a form "
        "that was sent twice is recorded once.",
    ]
    assert rows(where) == 2


def test_what_came_between_the_check_and_the_writing_is_checked_as_well(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another writes a later run of the tag right after the check: the earlier one is then refused, not written."""
    where, checked, own = tmp_path / FILE, [], records._check_history
    record(where, begin=BEGIN - YEAR)

    def check(held: Any, run: Any, *rest: Any) -> None:
        own(held, run, *rest)
        checked.append(len(held))
        if len(checked) == 1:
            record(where, begin=BEGIN)

    monkeypatch.setattr(records, "_check_history", check)
    with pytest.raises(EntryError, match="the begin of this run must be no earlier than 2026-11-20"):
        record(where, begin=BEGIN - timedelta(days=30))
    assert (checked, rows(where)) == ([1, 1], 2)  # of the first and of the other; the second look refuses


def test_writers_without_end_do_not_hold_up_without_end(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    where, own = tmp_path / FILE, records._check_history
    record(where, begin=BEGIN - YEAR)

    def check(held: Any, *rest: Any) -> None:
        own(held, *rest)
        with opened(where) as store:
            store.append("other", "LT-999", "Somebody", {})

    monkeypatch.setattr(records, "_check_history", check)
    with pytest.raises(Overtaken, match="at rest for a moment; got 20 records of others in between"):
        record(where)
    assert rows(where) == 1 + records.MOST_TRIES


def test_a_first_record_that_is_refused_leaves_no_empty_records(tmp_path: Path) -> None:
    with pytest.raises(EntryError, match="a calibration of LT-201"):
        record(tmp_path / FILE, correction=Correction(1, "typing error"))
    broken = tmp_path / "broken.jsonl"
    broken.write_text('{"format": "other"}\n', encoding="ascii")
    with pytest.raises(StoreError, match="canonical JSON"):
        imported(tmp_path / FILE, broken)
    assert [path.name for path in tmp_path.iterdir()] == ["broken.jsonl"]
