"""Tagging a function, and calling it from outside within its validity."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from onedatum.foundation.errors import ExpressionError, OnedatumError, ValidityError
from onedatum.foundation.working import Interval, Symbol, apply, formula, interval_text, registry, tag_of
from tests.closeness import exact
from tests.foundation.working.sample import rectangle_m2, rounded_m, side_m, slack_m

Tagging = dict[str, Any]
GOOD: Tagging = {
    "gives": ("A", "area"),
    "where": {"length_m": ("a", "length", "[0, 1]"), "width_m": ("b", "width", "[0, 1]")},
    "equation": "A = a*b",
    "source": "derived",
}


def area_m2(length_m: Any, width_m: Any) -> Any:
    """Area."""
    return length_m * width_m


WRONG: dict[str, Tagging] = {
    "two texts": {**GOOD, "residual": "A - a*b"},
    "no text": {key: value for key, value in GOOD.items() if key != "equation"},
    "parameters in another order": {**GOOD, "where": dict(reversed(GOOD["where"].items()))},
    "a parameter missing": {**GOOD, "where": {"length_m": ("a", "length", "[0, 1]")}},
    "a symbol unknown": {**GOOD, "equation": "A = a*c"},
    "another result": {**GOOD, "equation": "B = a*b"},
    "no equation": {**GOOD, "equation": "a*b"},
    "outside the language": {**GOOD, "equation": "A = a.real*b"},
    "no interval": {**GOOD, "where": {"length_m": ("a", "length", "0..1"), "width_m": ("b", "width", "[0, 1]")}},
    "a requirement of strangers": {**GOOD, "requires": (("a < z", "why"),)},
    "a residual of strangers": {
        **{key: value for key, value in GOOD.items() if key != "equation"},
        "residual": "A - a*z",
    },
}


@pytest.mark.parametrize("tagging", WRONG.values(), ids=WRONG)
def test_a_tag_that_does_not_fit_its_function_is_refused(tagging: Tagging) -> None:
    before = set(registry())
    tag: Callable[..., Any] = formula(**tagging)
    with pytest.raises(ExpressionError):
        tag(area_m2)
    assert set(registry()) == before


def test_a_source_that_is_not_registered_is_refused() -> None:
    before = set(registry())
    with pytest.raises(OnedatumError, match="not in the register"):
        formula(**{**GOOD, "source": "hearsay: p. 1"})(area_m2)
    assert set(registry()) == before


def test_a_function_without_a_tag_is_no_formula() -> None:
    with pytest.raises(ExpressionError, match="carries no @formula"):
        tag_of(len)


def test_a_tagged_function_stays_a_plain_function() -> None:
    exact(rectangle_m2(100.0, 50.0), 5000.0)  # outside the validity: nobody is asked


def test_the_tag_knows_units_and_kind() -> None:
    tag = tag_of(rectangle_m2)
    assert (tag.kind, tag.result.unit) == ("explicit", "m2")
    assert [(s.parameter, s.symbol, s.unit, s.key) for s in tag.symbols] == [
        ("length_m", "a", "m", "length"),
        ("width_m", "b", "m", "width"),
    ]
    assert tag_of(side_m).kind == "implicit"
    assert tag_of(rounded_m).kind == "procedure"


def test_scalars_within_the_validity_are_worked() -> None:
    applied = apply(rectangle_m2, {"length_m": 3.0, "width_m": 2.0})
    exact(applied.value, 6.0)
    assert applied.outside == 0
    assert np.ndim(applied.value) == 0


@pytest.mark.parametrize(
    ("length", "width", "parameter", "allowed", "got"),
    [
        (0.0, 0.1, "length_m", "above 0 mm up to 20000 mm", "0 mm"),
        (20.001, 1.0, "length_m", "above 0 mm up to 20000 mm", "20001 mm"),
        (20.0, 10.0, "width_m", "from 100 mm and below 10000 mm", "10000 mm"),
        (20.0, 0.05, "width_m", "from 100 mm and below 10000 mm", "50 mm"),
        (2.0, 3.0, "width_m", "at most 2000 mm", "3000 mm"),
    ],
)
def test_a_scalar_outside_is_refused_with_parameter_range_and_value(
    length: float, width: float, parameter: str, allowed: str, got: str
) -> None:
    with pytest.raises(ValidityError) as refused:
        apply(rectangle_m2, {"length_m": length, "width_m": width})
    error = refused.value
    assert error.formula == tag_of(rectangle_m2).name
    assert (error.parameter, error.allowed, error.got) == (parameter, allowed, got)
    assert str(error).startswith(f"{parameter} must be {allowed}; got {got}. ")


def test_what_is_not_a_number_is_refused() -> None:
    with pytest.raises(ValidityError):
        apply(rectangle_m2, {"length_m": float("nan"), "width_m": 1.0})


def test_the_reason_of_a_refusal_is_the_source_or_the_requirement() -> None:
    with pytest.raises(ValidityError, match=r"\[derived and checked\]"):
        apply(rectangle_m2, {"length_m": 21.0, "width_m": 1.0})
    with pytest.raises(ValidityError, match="The width is the shorter side"):
        apply(rectangle_m2, {"length_m": 1.0, "width_m": 2.0})


def test_a_requirement_of_several_numbers_is_said_as_it_is_written() -> None:
    """The parameter named first in it is the one that is told."""
    exact(apply(slack_m, {"rope_m": 5.0, "one_m": 2.0, "other_m": 2.0}).value, 1.0)
    with pytest.raises(ValidityError) as refused:
        apply(slack_m, {"rope_m": 3.0, "one_m": 2.0, "other_m": 2.0})
    error = refused.value
    assert (error.parameter, error.got) == ("one_m", "2000 mm")
    assert (error.allowed, error.why) == ("such that x + y <= l", "the rope reaches round both")
    found = apply(slack_m, {"rope_m": np.array([3.0, 4.0, 6.0]), "one_m": 2.0, "other_m": 2.0})
    exact(found.value, [np.nan, 0.0, 2.0])


@pytest.mark.parametrize(
    ("interval", "text"),
    [
        ("[0, 1]", "0 mm to 1000 mm"),
        ("(0, 1]", "above 0 mm up to 1000 mm"),
        ("[0, 1)", "from 0 mm and below 1000 mm"),
        ("(-1, 1)", "above −1000 mm and below 1000 mm"),
    ],
)
def test_a_range_of_validity_in_words(interval: str, text: str) -> None:
    assert interval_text(Symbol("length_m", "a", "length", Interval.read(interval))) == text


def test_where_no_range_is_declared_any_value_will_do() -> None:
    assert interval_text(tag_of(rectangle_m2).result) == "any"


def test_elements_outside_become_nan_and_are_counted() -> None:
    applied = apply(rectangle_m2, {"length_m": np.array([3.0, 0.0, 21.0, 1.0, np.nan, 20.0]), "width_m": np.array(2.0)})
    exact(applied.value, [6.0, np.nan, np.nan, np.nan, np.nan, 40.0])
    assert applied.outside == 4


def test_arrays_broadcast_and_the_count_is_of_the_result() -> None:
    lengths, widths = np.array([[2.0], [30.0]]), np.array([1.0, 2.0, 3.0])
    applied = apply(rectangle_m2, {"length_m": lengths, "width_m": widths})
    exact(applied.value, [[2.0, 4.0, np.nan], [np.nan, np.nan, np.nan]])
    assert applied.outside == 4


def test_a_scalar_outside_beside_an_array_spoils_every_element() -> None:
    applied = apply(rectangle_m2, {"length_m": 30.0, "width_m": np.array([1.0, 2.0])})
    assert np.isnan(applied.value).all()
    assert applied.outside == 2


@pytest.mark.parametrize(
    ("function", "line"),
    [(rectangle_m2, "A = a*b"), (side_m, "c**2 - A = 0"), (rounded_m, "rounding to the nearest metre")],
)
def test_the_sections_of_the_docstring_stand_in_order(function: Callable[..., Any], line: str) -> None:
    text = function.__doc__ or ""
    found = re.findall(r"^(\w+)\n-+$", text, flags=re.MULTILINE)
    assert found == ["Formula", "Parameters", "Returns", "Validity", "Source"]
    assert f"Formula\n-------\n{line}\n" in text


def test_remarks_stand_above_the_sections_and_the_example_below() -> None:
    text = slack_m.__doc__ or ""
    parts = ["Slack of a rope.", "What is left over.", "Formula\n", "Source\n", "Example\n-------\n>>> slack_m(5.0"]
    places = [text.index(part) for part in parts]
    assert places == sorted(places)
    assert text.count("Example\n") == 1


def test_the_docstring_is_put_together_from_the_tag() -> None:
    text = rectangle_m2.__doc__ or ""
    for part in ("Area of a rectangle.", "A = a*b", "length_m in (0, 20] m", "b <= a: the width is", "[m2]"):
        assert part in text
