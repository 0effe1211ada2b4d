"""The one sentence of every complaint: path must be allowed; got value. Why, clause."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.foundation.errors import (
    CaseError,
    Fault,
    OnedatumError,
    OutputError,
    Place,
    ProvingError,
    QuantityError,
    ValidityError,
    sentence,
)

WORDS = st.text(st.characters(codec="ascii", categories=["L", "N"]), min_size=1, max_size=10)
TEXTS = st.lists(WORDS, min_size=1, max_size=4).map(" ".join)


@pytest.mark.parametrize(
    ("why", "remedy", "text"),
    [
        ("", "", "a.b must be 1 m to 2 m; got 3 m."),
        ("nothing is so long", "", "a.b must be 1 m to 2 m; got 3 m. Nothing is so long."),
        ("nothing is so long.", "cut it", "a.b must be 1 m to 2 m; got 3 m. Nothing is so long. Cut it."),
        ("", "Cut it.", "a.b must be 1 m to 2 m; got 3 m. Cut it."),
    ],
)
def test_the_sentence(why: str, remedy: str, text: str) -> None:
    assert sentence("a.b", "1 m to 2 m", "3 m", why, remedy) == text


@given(TEXTS, TEXTS, TEXTS, st.one_of(st.just(""), TEXTS), st.one_of(st.just(""), TEXTS))
def test_every_part_is_said_and_every_sentence_ends(path: str, allowed: str, got: str, why: str, remedy: str) -> None:
    text = sentence(path, allowed, got, why, remedy)
    assert text.startswith(f"{path} must be {allowed}; got {got}.")
    assert text.endswith(".") and ".." not in text and "  " not in text
    for part in filter(None, (why, remedy)):
        assert f"{part[0].upper()}{part[1:]}." in text


def test_a_fault_is_printed_with_its_place() -> None:
    fault = Fault("a.b", "a length", "3", place=Place("case.yaml", 12, 7), remedy="write 3 m")
    assert str(fault) == "case.yaml:12:7: a.b must be a length; got 3. Write 3 m."
    assert str(Fault("a.b", "a length", "3")) == "a.b must be a length; got 3."


def test_errors_are_one_tree_and_carry_their_parts() -> None:
    quantity = QuantityError("a length", "3", "the unit is missing", "write 3 m")
    validity = ValidityError("room.name", "level_m", "0 m to 2 m", "3 m")
    case = CaseError([Fault("a", "b", "c"), Fault("d", "e", "f")])
    proving = ProvingError([Fault("a", "b", "c"), Fault("d", "e", "f")])
    output = OutputError("out/x.pdf", "no space is left")
    assert all(isinstance(error, OnedatumError) for error in (quantity, validity, case, proving, output))
    assert (str(proving), proving.faults) == (str(case), case.faults)
    assert str(quantity) == "the value must be a length; got 3. The unit is missing. Write 3 m."
    assert str(validity) == "level_m must be 0 m to 2 m; got 3 m. Validity of room.name."
    assert str(case) == "a must be b; got c.\nd must be e; got f."
    assert str(output) == "out/x.pdf must be a place that can be written; got an error. No space is left."
