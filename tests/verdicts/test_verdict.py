"""The four words: how they merge, and what is said of a number that is not known."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.verdicts import Knowledge, Verdict, merge, of_unknown

SUITS, CONDITIONS = Verdict.SUITS, Verdict.ON_CONDITIONS
UNDECIDED, NOT = Verdict.UNDECIDED, Verdict.DOES_NOT_SUIT
VERDICTS = st.sampled_from(Verdict)

TABLE = {
    (SUITS, SUITS): SUITS,
    (SUITS, CONDITIONS): CONDITIONS,
    (SUITS, UNDECIDED): UNDECIDED,
    (SUITS, NOT): NOT,
    (CONDITIONS, SUITS): CONDITIONS,
    (CONDITIONS, CONDITIONS): CONDITIONS,
    (CONDITIONS, UNDECIDED): UNDECIDED,
    (CONDITIONS, NOT): NOT,
    (UNDECIDED, SUITS): UNDECIDED,
    (UNDECIDED, CONDITIONS): UNDECIDED,
    (UNDECIDED, UNDECIDED): UNDECIDED,
    (UNDECIDED, NOT): NOT,
    (NOT, SUITS): NOT,
    (NOT, CONDITIONS): NOT,
    (NOT, UNDECIDED): NOT,
    (NOT, NOT): NOT,
}
"""Does not suit > undecided > suits on conditions > suits, written out."""


def test_every_pair_merges_as_the_order_says() -> None:
    assert set(TABLE) == set(product(Verdict, repeat=2))
    assert {pair: merge(pair) for pair in TABLE} == TABLE


@pytest.mark.parametrize(("a", "b", "c"), list(product(Verdict, repeat=3)))
def test_merging_does_not_depend_on_order_or_grouping(a: Verdict, b: Verdict, c: Verdict) -> None:
    assert merge([a, b]) is merge([b, a])
    assert merge([merge([a, b]), c]) is merge([a, merge([b, c])]) is merge([a, b, c])
    assert merge([a, a]) is merge([a]) is a
    assert merge([a, SUITS]) is a
    assert merge([a, NOT]) is NOT


@given(st.lists(VERDICTS, min_size=1), VERDICTS)
def test_a_further_verdict_never_makes_it_better(verdicts: list[Verdict], more: Verdict) -> None:
    assert merge([*verdicts, more]).gravity >= merge(verdicts).gravity
    assert merge(verdicts) in verdicts


def test_where_nothing_was_judged_nothing_is_decided() -> None:
    assert merge([]) is UNDECIDED


@pytest.mark.parametrize(
    ("knowledge", "could_fail", "verdict"),
    [
        (Knowledge.ASK, True, UNDECIDED),
        (Knowledge.ASK, False, CONDITIONS),
        (Knowledge.OURS, True, CONDITIONS),
        (Knowledge.OURS, False, CONDITIONS),
    ],
)
def test_an_unknown_of_the_process_leaves_it_open_one_of_ours_does_not(
    knowledge: Knowledge, could_fail: bool, verdict: Verdict
) -> None:
    assert of_unknown(knowledge, could_fail) is verdict


@pytest.mark.parametrize("could_fail", [True, False])
def test_what_is_known_is_judged_by_its_value(could_fail: bool) -> None:
    with pytest.raises(ValueError, match="judged by its value"):
        of_unknown(Knowledge.KNOWN, could_fail)


def test_what_could_fail_is_supposed_unless_it_is_said_otherwise() -> None:
    assert of_unknown(Knowledge.ASK) is UNDECIDED
