"""Ranges of validity in bracket notation (common in mathematics: a round bracket leaves the end out)."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.foundation.errors import ExpressionError
from onedatum.foundation.working import Interval

NUMBERS = st.floats(-1e9, 1e9).map(lambda x: float(f"{x:.12g}"))


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [("[0, 1]", True, True), ("(0, 1]", False, True), ("[0, 1)", True, False), ("(0, 1)", False, False)],
)
def test_a_round_bracket_leaves_its_end_out(text: str, low: bool, high: bool) -> None:
    interval = Interval.read(text)
    assert (bool(interval.holds(0.0)), bool(interval.holds(1.0))) == (low, high)
    assert interval.holds(0.5)
    assert not interval.holds(np.nextafter(0.0, -1.0))
    assert not interval.holds(np.nextafter(1.0, 2.0))


@pytest.mark.parametrize(
    "text", ["", "0, 1", "[0; 1]", "[1, 0]", "[1, 1]", "[0, inf]", "[nan, 1]", "[-inf, 0)", "[0, 1", "[0, 1, 2]"]
)
def test_two_finite_ends_in_rising_order_or_nothing(text: str) -> None:
    with pytest.raises(ExpressionError):
        Interval.read(text)


def test_a_word_is_no_end() -> None:
    with pytest.raises(ExpressionError):
        Interval.read("[a, b]")


def test_what_is_not_a_number_lies_nowhere() -> None:
    held = Interval.read("[0, 1]").holds(np.array([np.nan, -np.inf, np.inf, 0.5]))
    assert list(np.asarray(held)) == [False, False, False, True]


@given(NUMBERS, NUMBERS, st.booleans(), st.booleans(), NUMBERS)
def test_print_and_reading_agree(one: float, other: float, open_low: bool, open_high: bool, x: float) -> None:
    if one == other:
        return
    interval = Interval(min(one, other), max(one, other), open_low, open_high)
    assert Interval.read(str(interval)) == interval
    assert bool(interval.holds(x)) == (
        (interval.low < x or (x == interval.low and not open_low))
        and (x < interval.high or (x == interval.high and not open_high))
    )


def test_all_elements_are_judged_by_the_least_and_the_greatest() -> None:
    interval = Interval.read("(0, 20]")
    assert interval.holds_all(np.array([0.1, 20.0, 3.0]))
    assert interval.holds_all(5.0)
    for outside in ([0.0, 1.0], [1.0, 20.1], [1.0, np.nan], []):
        assert not interval.holds_all(np.array(outside))
