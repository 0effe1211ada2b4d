"""Canonical JSON, the hash of a record and the head, against the text written out by hand."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from onedatum.foundation.constants import VERSION
from onedatum.foundation.errors import StoreError
from onedatum.store.canonical import DEEPEST, LARGEST, LONGEST, payload_text
from onedatum.store.record import START, Head
from onedatum.store.store import Store
from tests.store.script import BEGINNING, ticking

NUMBERS = st.integers(-LARGEST, LARGEST) | st.floats(allow_nan=False, allow_infinity=False)
PLAIN = st.recursive(
    st.none() | st.booleans() | NUMBERS | st.text(),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(), inner, max_size=4),
    max_leaves=12,
)  # fmt: skip


@settings(max_examples=60)
@given(PLAIN)
def test_a_payload_reads_back_as_it_was_and_is_written_the_same_again(value: Any) -> None:
    text = payload_text(value)
    assert json.loads(text) == value
    assert payload_text(json.loads(text)) == text
    assert text.isascii() and "\n" not in text


def test_the_order_of_keys_and_the_blanks_of_who_wrote_do_not_matter() -> None:
    """The form of RFC 8785 (from memory), where keys and texts are ASCII and numbers whole."""
    text = '{"a":[1,"x",true,null],"b":{"c":-7,"d":""}}'
    assert payload_text(json.loads('{ "b": {"d": "", "c": -7},\n "a": [1, "x", true, null] }')) == text


@pytest.mark.parametrize(
    ("value", "words"),
    [
        ({"a": [0, float("nan")]}, "payload.a.1 must be a finite number; got nan."),
        ({"a": float("-inf")}, "payload.a must be a finite number; got -inf."),
        ({1: 2}, "payload must be an object whose keys are texts; got a key of type int."),
        ({"a": b"x"}, "got a value of type bytes."),
        ({"a": {1}}, "got a value of type set."),
        ({"a": BEGINNING}, "got a value of type datetime."),
        (LARGEST + 1, "payload must be a whole number of at most 63 bits; got a larger one."),
        ("x" * LONGEST, f"payload must be at most {LONGEST} characters of JSON; got {LONGEST + 2}."),
    ],
)
def test_what_json_would_change_is_refused(value: Any, words: str) -> None:
    with pytest.raises(StoreError) as caught:
        payload_text(value)
    assert words in str(caught.value)


def test_a_payload_without_end_is_refused() -> None:
    deep: list[Any] = []
    for _ in range(DEEPEST + 1):
        deep = [deep]
    deep_or_round: list[Any] = []
    deep_or_round.append(deep_or_round)
    for value in (deep, deep_or_round):
        with pytest.raises(StoreError, match=f"at most {DEEPEST} levels"):
            payload_text(value)


def test_the_hash_is_that_of_the_text_written_out_by_hand(tmp_path: Path) -> None:
    """The rule as docs/records.md states it, followed without any code of the tool."""
    with Store.open(tmp_path / "r", clock=ticking()) as store:
        first = store.append("calibration", "LT-101", "A. Author", {"b": "é", "a": 4.0}, case="0f" * 32)
        second = store.append("review", "LT-101", "B", 1, corrects=1)
    written = (
        '{"at":"2026-11-26T14:05:01.000000Z","case":"' + "0f" * 32 + '","corrects":null,"format":"onedatum record 1",'
        '"id":1,"kind":"calibration","payload":"{\\"a\\":4.0,\\"b\\":\\"\\\\u00e9\\"}","previous":"' + "0" * 64 + '",'
        '"tag":"LT-101","tool":"' + VERSION + '","who":"A. Author","written":"2026-11-26T14:05:01.000000Z"}'
    )
    assert first.hash == sha256(written.encode()).hexdigest()
    assert first.previous == START == "0" * 64
    assert second.previous == first.hash and second.corrects == 1
    assert first.content == {"a": 4.0, "b": "é"}
    assert first.at_utc == first.written_utc == datetime(2026, 11, 26, 14, 5, 1, tzinfo=UTC)


@given(st.integers(0, 10**17), st.binary(min_size=32, max_size=32))
def test_a_head_is_read_as_it_was_noted(number: int, digest: bytes) -> None:
    head = Head(number, digest.hex())
    assert Head.read(str(head)) == head
    assert Head.read(f"\t{number} :{digest.hex().upper()}\n") == head


@pytest.mark.parametrize(
    "noted", ["", "7", "7:abc", "x: " + "a" * 64, "7: " + "g" * 64, "7: " + "a" * 65, "-1:" + "a" * 64]
)
def test_what_is_no_head_is_refused(noted: str) -> None:
    with pytest.raises(StoreError, match="the head must be the number of a record"):
        Head.read(noted)
