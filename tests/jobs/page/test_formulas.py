"""The page of formulas: the list, one formula, and one worked alone with what a user types."""

from __future__ import annotations

import pytest

from onedatum.foundation.units import in_print
from onedatum.jobs.formula import formulas
from onedatum.jobs.page.formulas import LONGEST, FormulaView, UnknownFormula, formula_view, formulas_view
from tests.foundation.working.test_mathml import refused

RANGE = {"level": "1.85 m", "lower_range_value": "100 mm", "upper_range_value": "2.8 m"}


def faults_of(view: FormulaView) -> dict[str, str]:
    return {field.key: field.fault for field in view.fields if field.fault}


def test_the_list_holds_every_formula_once_by_room() -> None:
    view = formulas_view()
    names = [line.name for room in view.rooms for line in room.lines]
    assert names == list(formulas()) and view.count == view.of == len(names)
    assert all(line.name.startswith(f"{room.name}.") for room in view.rooms for line in room.lines)
    assert all(bool(line.formula) != bool(line.method) for room in view.rooms for line in room.lines)


def test_a_search_finds_what_holds_every_word() -> None:
    view = formulas_view("  BARRIER loop ")
    assert 0 < view.count < view.of
    for line in (line for room in view.rooms for line in room.lines):
        tag = formulas()[line.name]
        told = " ".join(
            [tag.name, tag.what, tag.text, *(f"{s.symbol} {s.meaning}" for s in (tag.result, *tag.symbols))]
        )
        assert "barrier" in told.lower() and "loop" in f"{told} {tag.source}".lower()
    assert formulas_view("no formula says this").rooms == ()
    assert formulas_view("<script>").count == 0


def test_every_formula_can_be_shown() -> None:
    for name, tag in formulas().items():
        view = formula_view(name)
        assert [field.key for field in view.fields] == [symbol.key for symbol in tag.symbols], name
        assert refused(view.formula.mathml) == [] and bool(view.formula) != bool(view.method), name
        assert view.source is not None and view.source.tag, name
        assert [need.why for need in view.needs] == [in_print(need.why) for need in tag.requires], name
        assert bool(view.not_alone) == any(symbol.whole for symbol in tag.symbols), name
        assert (view.value, view.faults, faults_of(view)) == ("", (), {}), name


def test_a_formula_worked_alone_gives_the_current_of_a_level() -> None:
    """By hand: 4 mA + 16 mA (1.85 - 0.1)/(2.8 - 0.1) = 14.370 mA."""
    view = formula_view("loop.current", RANGE)
    assert view.value == "14.370 mA"
    assert view.numbers.text == "I = 0.004 + 0.016 * (1.85 m - 0.1 m) / (2.8 m - 0.1 m)"
    assert refused(view.numbers.mathml) == []
    assert [field.text for field in view.fields] == list(RANGE.values())
    assert formula_view("loop.current", RANGE, "A").value.endswith(" A")


@pytest.mark.parametrize(
    ("key", "text", "says"),
    [
        ("level", "", "must be given"),
        ("level", "1.85", "The unit is missing"),
        ("level", "14 mA", "is a unit of"),
        ("level", "@stem.length", "has no case to take it from"),
        ("level", "<b>1 m</b>", "must be a length with its unit"),
        ("level", "1 m" * LONGEST, "must be of at most 200 characters"),
        ("level", "1e300 m", "must be "),
        ("upper_range_value", "100 mm", "A range without span has no scale"),
    ],
)
def test_what_is_wrong_stands_beside_its_field_and_the_rest_is_kept(key: str, text: str, says: str) -> None:
    view = formula_view("loop.current", {**RANGE, key: text})
    assert list(faults_of(view)) == [key] and says in faults_of(view)[key]
    assert view.value == "" and not view.numbers
    assert {field.key: field.text for field in view.fields} == {**RANGE, key: text}


def test_a_unit_that_measures_something_else_is_refused_beside_the_unit() -> None:
    for unit in ("kg", "furlong", "x" * 1000):
        view = formula_view("loop.current", RANGE, unit)
        assert view.unit_fault.startswith("the unit must be ") and view.value == ""
        assert len(view.unit_fault) < 300


def test_a_formula_that_takes_a_vessel_says_that_it_cannot_be_worked_alone() -> None:
    name = next(name for name, tag in formulas().items() if any(symbol.whole for symbol in tag.symbols))
    view = formula_view(name, {symbol.key: "1 m" for symbol in formulas()[name].symbols})
    assert "only a case can give" in view.not_alone and view.value == ""


@pytest.mark.parametrize("number", ["0", "1e308", "-1", "1e-300", "nan"])
def test_no_number_breaks_a_formula(number: str) -> None:
    """Every formula that can be worked alone either has a result or says what is wrong."""
    for name, tag in formulas().items():
        view = formula_view(name, {symbol.key: f"{number} {symbol.unit}".strip() for symbol in tag.symbols})
        assert view.not_alone or view.value or view.faults or faults_of(view)


@pytest.mark.parametrize(("name", "end"), [("loop.curent", "Nearest: loop.current."), ("", "The list shows them all.")])
def test_an_unknown_formula_is_refused_with_the_nearest(name: str, end: str) -> None:
    with pytest.raises(UnknownFormula) as refusal:
        formula_view(name)
    assert str(refusal.value).endswith(end)
