"""Values of several numbers in one piece: their shape, what is missing in them, and their way over the sheet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest

from onedatum.foundation.errors import SheetError, ValidityError
from onedatum.foundation.numerics import Real
from onedatum.foundation.working import Sheet, Whole, apply, formula, replay, tag_of


@dataclass(frozen=True)
class Pair(Whole):
    """Two lengths."""

    called = "pair"

    first_m: Any
    second_m: Any

    def told(self, shown: str = "") -> str:
        return f"{self.first_m} and {self.second_m}"


@dataclass(frozen=True)
class Nest(Whole):
    """Pairs in a tuple, and a word."""

    pairs: tuple[Any, ...]
    word: str = "nest"


@dataclass(frozen=True)
class Other(Whole):
    """Another kind."""

    size_m: Any

    def told(self, shown: str = "") -> str:
        return f"size {self.size_m}"


@formula(
    method="put together",
    gives=("P", "pair", Pair),
    where={"first_m": ("a", "first", "[0, 10]"), "second_m": ("b", "second", "[0, 10]")},
    requires=(("a <= b", "the first is not the longer"),),
    source="derived",
)
def pair_of(first_m: Real, second_m: Real) -> Pair:
    """A pair."""
    return Pair(first_m, second_m)


def _longest(pair: Pair) -> Any:
    return pair.second_m


@formula(
    method="they add",
    gives=("L", "length"),
    where={"share": ("s", "share", "[0, 2]"), "pair": ("P", "pair", Pair)},
    requires=(("s <= T(P)", "no more than the second"),),
    calls={"T": _longest},
    source="derived",
)
def length_m(share: Real, pair: Pair) -> Real:
    """Length of a pair."""
    return share * (pair.first_m + pair.second_m)


def sheet() -> Sheet:
    found = Sheet()
    found.give("a", 1.0, "m", "first", source="derived")
    found.give("b", 2.0, "m", "second", source="derived")
    found.give("s", 0.5, "", "share", source="derived")
    found.calc("pair", pair_of, first_m=found["a"], second_m=found["b"])
    found.calc("length", length_m, share=found["s"], pair=found["pair"])
    return found


# ---------------------------------------------------------------- alone


def test_it_has_the_shape_of_its_numbers() -> None:
    pair = Pair(np.ones((3, 1)), np.array([1.0, np.nan]))
    assert (pair.shape, pair.ndim, pair.size, np.shape(pair), np.ndim(pair)) == ((3, 2), 2, 6, (3, 2), 2)
    assert pair.missing().tolist() == [[False, True]] * 3
    nest = Nest((Pair(1.0, 2.0), Pair(3.0, 4.0)))
    assert list(nest.numbers()) == [1.0, 2.0, 3.0, 4.0]
    assert nest.shape == ()


def test_masked_leaves_what_lies_inside() -> None:
    nest = Nest((Pair(1.0, 2.0), Pair(3.0, 4.0))).masked(np.array([True, False]))
    assert np.isnan(nest.missing()).sum() == 0
    assert nest.missing().tolist() == [False, True]
    assert nest.word == "nest"
    whole = Pair(1.0, 2.0)
    assert whole.masked(np.True_) is whole


# ---------------------------------------------------------------- in formulas and on the sheet


def test_a_formula_says_what_kind_it_takes_and_gives() -> None:
    assert tag_of(pair_of).result.measured_in == "pair"
    assert tag_of(length_m).symbols[1].measured_in == "pair"
    assert "pair : Pair" in (length_m.__doc__ or "")
    assert "Pair, shape by broadcasting" in (pair_of.__doc__ or "")


def test_elements_outside_become_no_numbers_within_it() -> None:
    applied = apply(pair_of, {"first_m": np.array([1.0, 11.0, 3.0]), "second_m": 2.0})
    assert applied.outside == 2
    assert applied.value.missing().tolist() == [False, True, True]
    with pytest.raises(ValidityError) as caught:
        apply(length_m, {"share": 1.5, "pair": Pair(0.5, 1.0)})
    assert caught.value.parameter == "share"


def test_the_sheet_hands_it_on_and_shows_it() -> None:
    found = sheet()
    assert found["pair"].known
    assert found["pair"].value is None
    assert found["pair"].text == "1.0 and 2.0"
    assert found["length"].value == 1.5


def test_the_sheet_refuses_a_joint_that_does_not_fit() -> None:
    found = sheet()
    held = found.hold("other", Other(1.0), "another kind")
    with pytest.raises(SheetError, match="cannot take other"):
        found.calc("wrong", length_m, share=found["s"], pair=held)
    with pytest.raises(SheetError, match="cannot take s"):
        found.calc("wrong", length_m, share=found["s"], pair=found["s"])
    with pytest.raises(SheetError, match="cannot take pair"):
        found.calc("wrong", pair_of, first_m=found["pair"], second_m=found["b"])


def test_what_is_unknown_flows_through_it() -> None:
    found = Sheet()
    found.give("a", None, "m", "first", path="case.a")
    found.give("b", 2.0, "m", "second", source="derived")
    found.give("s", 0.5, "", "share", source="derived")
    pair = found.calc("pair", pair_of, first_m=found["a"], second_m=found["b"])
    length = found.calc("length", length_m, share=found["s"], pair=pair)
    assert (pair.known, pair.text, length.waits_for) == (False, "unknown", ("case.a",))
    held = found.hold("points", None, "points", path="case.points")
    assert held.waits_for == ("case.points",)


def test_replay_puts_arrays_through_it_and_counts_what_leaves_its_validity() -> None:
    again = replay(sheet(), ["length"], {"a": np.array([0.5, 1.5, 2.5, 11.0])})
    assert again.results["length"][:2].tolist() == [1.25, 1.75]
    assert np.isnan(again.results["length"][2:]).all()
    assert again.outside == 0.5
