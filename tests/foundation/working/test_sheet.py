"""The sheet: numbers joined by name and unit; what is unknown or outside stays so and says on what it waits."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import pytest

from onedatum.foundation.errors import Place, SheetError
from onedatum.foundation.working import Entry, Sheet, Uncertainty, Whole, entry_text
from tests.closeness import close, exact
from tests.foundation.working.sample import quotient, rectangle_m2, side_m, sum_m


def lengths(sheet: Sheet, *values: float | None) -> list[Entry]:
    """Stated lengths, called tank.a, tank.b, ..., each on a line of its own."""
    return [
        sheet.give(f"tank.{name}", value, "m", f"length {name}", path=f"tank.{name}", place=Place("case.yaml", line, 6))
        for line, (name, value) in enumerate(zip("abcdef", values, strict=False), start=1)
    ]


def test_what_is_given_is_what_was_stated() -> None:
    sheet = Sheet()
    entry = sheet.give("a", 2, "m", "length", as_stated="2000 mm", source="derived: by hand", note="as drawn")
    assert (entry.unit, entry.state, entry.known, entry.text, entry.path) == ("m", "stated", True, "2000 mm", "a")
    assert str(entry.source) == "Derived from geometry or first principles, by hand [derived and checked]"
    assert isinstance(entry.value, float)
    assert sheet["a"] is entry and "a" in sheet and "b" not in sheet
    with pytest.raises(SheetError, match="no entry 'b'"):
        _ = sheet["b"]


def test_a_calculated_entry_knows_formula_inputs_unit_and_source() -> None:
    sheet = Sheet()
    a, b = lengths(sheet, 3.0, 2.0)
    entry = sheet.calc("tank.area", rectangle_m2, length_m=a, width_m=b)
    exact(entry.value, 6.0)
    assert (entry.state, entry.unit, entry.meaning) == ("computed", "m2", "area of a rectangle")
    assert entry.function is rectangle_m2
    assert dict(entry.inputs) == {"length_m": a, "width_m": b}
    assert entry.source is not None and entry.waits_for == () and sheet.faults == []
    assert list(sheet.entries) == ["tank.a", "tank.b", "tank.area"]


def test_an_entry_of_another_unit_does_not_fit() -> None:
    sheet = Sheet()
    (a,) = lengths(sheet, 3.0)
    mass = sheet.give("mass", 2.0, "kg", "mass")
    area = sheet.give("area", 2.0, "m2", "area")
    number = sheet.give("number", 2.0, "", "number")
    for wrong in (mass, area, number):
        with pytest.raises(SheetError, match="cannot take"):
            sheet.calc("x", rectangle_m2, length_m=a, width_m=wrong)
    assert "x" not in sheet


def test_gauge_does_not_fit_where_absolute_is_wanted() -> None:
    sheet = Sheet()
    gauge, absolute = sheet.give("g", 1e5, "Pa_gauge", "gauge"), sheet.give("a", 1e5, "Pa_abs", "absolute")
    with pytest.raises(SheetError, match="different units"):
        sheet.decide("above", "a < b", "compared", a=gauge, b=absolute)
    with pytest.raises(SheetError, match="one unit"):
        sheet.select("least", "least", "least of them", [gauge, absolute])


@pytest.mark.parametrize("inputs", [("length_m",), ("length_m", "width_m", "height_m"), ("width_m", "height_m")])
def test_inputs_are_those_of_the_formula(inputs: tuple[str, ...]) -> None:
    sheet = Sheet()
    (a,) = lengths(sheet, 3.0)
    with pytest.raises(SheetError, match="takes"):
        sheet.calc("x", rectangle_m2, shown="", meaning="", **dict.fromkeys(inputs, a))


@dataclass(frozen=True)
class Row(Whole):
    """A row of lengths."""

    lengths_m: tuple[float, ...] = (3.0, 2.0)

    def told(self, shown: str = "") -> str:
        return f"{len(self.lengths_m)} lengths"


def test_what_is_gathered_knows_what_it_is_made_of() -> None:
    sheet = Sheet()
    a, b = lengths(sheet, 3.0, 2.0)
    entry = sheet.gather("row", Row(), "both lengths", method="one after the other", rests_on=[a, b])
    assert (entry.text, entry.state, entry.known, list(entry.inputs.values())) == (
        "2 lengths",
        "computed",
        True,
        [a, b],
    )
    assert "by: one after the other" in entry_text(entry)


JOINS: dict[str, Callable[[Sheet, Entry], object]] = {
    "give": lambda sheet, a: sheet.give("tank.a", 1.0, "m", "again"),
    "calc": lambda sheet, a: sheet.calc("tank.a", rectangle_m2, length_m=a, width_m=a),
    "decide": lambda sheet, a: sheet.decide("tank.a", "a <= b", "again", a=a, b=a),
    "select": lambda sheet, a: sheet.select("tank.a", "least", "again", [a]),
    "record": lambda sheet, a: sheet.record("tank.a", 1.0, "m", "again", method="m", source="derived", rests_on=[a]),
    "gather": lambda sheet, a: sheet.gather("tank.a", Row(), "again", method="m", rests_on=[a]),
}
FOREIGN: dict[str, Callable[[Sheet, Entry], object]] = {
    "calc": lambda sheet, a: sheet.calc("x", rectangle_m2, length_m=a, width_m=a),
    "decide": lambda sheet, a: sheet.decide("x", "a <= b", "again", a=a, b=a),
    "select": lambda sheet, a: sheet.select("x", "least", "again", [a]),
    "record": lambda sheet, a: sheet.record("x", 1.0, "m", "again", method="m", source="derived", rests_on=[a]),
    "gather": lambda sheet, a: sheet.gather("x", Row(), "again", method="m", rests_on=[a]),
}


@pytest.mark.parametrize("join", JOINS)
def test_a_name_stands_once(join: str) -> None:
    sheet = Sheet()
    (a,) = lengths(sheet, 3.0)
    with pytest.raises(SheetError, match="stands on the sheet already"):
        JOINS[join](sheet, a)


@pytest.mark.parametrize("join", FOREIGN)
def test_an_entry_of_another_sheet_is_refused(join: str) -> None:
    """Also one of the same name and number: its working would not be on this sheet."""
    (foreign,) = lengths(Sheet(), 3.0)
    sheet = Sheet()
    lengths(sheet, 3.0)
    with pytest.raises(SheetError, match="no entry of this sheet"):
        FOREIGN[join](sheet, foreign)


def test_unknown_flows_and_waits_for_the_stated_values_each_once() -> None:
    sheet = Sheet()
    a, b, c = lengths(sheet, None, 2.0, None)
    assert (a.state, a.waits_for) == ("unknown", ("tank.a",))
    one = sheet.calc("one", sum_m, one_m=a, other_m=b)
    both = sheet.calc("both", sum_m, one_m=one, other_m=c)
    again = sheet.calc("again", sum_m, one_m=both, other_m=a)
    assert (one.value, one.state, one.waits_for, one.text) == (None, "unknown", ("tank.a",), "unknown")
    assert both.waits_for == again.waits_for == ("tank.a", "tank.c")
    assert sheet.decide("larger", "x > y", "x above y", x=again, y=b) is None
    assert sheet["larger"].waits_for == ("tank.a", "tank.c")
    assert sheet["larger"].text == "unknown"
    assert sheet.select("least", "least", "least of both", [b, c]).waits_for == ("tank.c",)
    recorded = sheet.record("r", None, "m", "recorded", method="m", source="derived", rests_on=[again])
    assert (recorded.state, recorded.waits_for) == ("unknown", ("tank.a", "tank.c"))
    assert sheet.faults == []


def test_a_value_outside_is_a_fault_at_its_place_and_what_rests_on_it_is_unknown() -> None:
    sheet = Sheet()
    a, b, c = lengths(sheet, 21.0, 2.0, 1.0)
    area = sheet.calc("area", rectangle_m2, length_m=a, width_m=b)
    side = sheet.calc("side", side_m, area_m2=area)
    healthy = sheet.calc("healthy", rectangle_m2, length_m=b, width_m=c)
    assert (area.value, area.waits_for, side.waits_for) == (None, ("tank.a",), ("tank.a",))
    exact(healthy.value, 2.0)
    (fault,) = sheet.faults
    assert (fault.path, fault.place, fault.kind) == ("tank.a", Place("case.yaml", 1, 6), "validity")
    assert fault.got == "21000 mm"
    sheet.calc("once more", rectangle_m2, length_m=a, width_m=b)
    assert len(sheet.faults) == 1


def test_a_computed_value_outside_is_led_back_to_what_was_stated() -> None:
    sheet = Sheet()
    a, b, c = lengths(sheet, 15.0, 10.0, 1.0)
    total = sheet.calc("total", sum_m, one_m=a, other_m=b)
    area = sheet.calc("area", rectangle_m2, length_m=total, width_m=c)
    (fault,) = sheet.faults
    assert (fault.path, fault.place) == ("tank.a", Place("case.yaml", 1, 6))
    assert fault.got == "total = 25000 mm"
    assert area.waits_for == ("tank.a", "tank.b")


def test_a_broken_requirement_is_a_fault_too() -> None:
    sheet = Sheet()
    a, b = lengths(sheet, 1.0, 2.0)
    sheet.calc("area", rectangle_m2, length_m=a, width_m=b)
    assert [(fault.path, fault.why) for fault in sheet.faults] == [("tank.b", "the width is the shorter side")]


@pytest.mark.parametrize(("over", "under"), [(1.0, 0.0), (0.0, 0.0)], ids=["infinite", "not a number"])
def test_a_result_that_is_no_finite_number_is_a_fault_and_never_a_number(over: float, under: float) -> None:
    sheet = Sheet()
    a, b = lengths(sheet, over, under)
    entry = sheet.calc("share", quotient, over_m=a, under_m=b)
    assert (entry.value, entry.state, entry.text) == (None, "unknown", "unknown")
    assert entry.waits_for
    (fault,) = sheet.faults
    assert (fault.path, fault.place, fault.kind) == ("tank.a", Place("case.yaml", 1, 6), "validity")
    assert "finite" in fault.sentence()


def test_what_was_worked_from_a_stated_value_is_spelt_anew() -> None:
    """Only the stated value itself keeps the words of the case."""
    sheet = Sheet()
    a = sheet.give("a", 0.0254, "m", "length", as_stated="1 in")
    total = sheet.calc("total", sum_m, one_m=a, other_m=a)
    assert (a.text, total.text) == ("1 in", "50.80 mm")
    assert sheet.give("gone", None, "m", "length", as_stated="1 in").text == "unknown"


def test_a_branch_is_recorded_as_it_was_taken() -> None:
    sheet = Sheet()
    a, b = lengths(sheet, 1.0, 2.0)
    assert sheet.decide("smaller", "x < y", "a below b", x=a, y=b) is True
    assert sheet.decide("larger", "x > y", "a above b", x=a, y=b) is False
    assert (sheet["smaller"].text, sheet["larger"].text) == ("yes", "no")
    with pytest.raises(SheetError, match="compares"):
        sheet.decide("other", "x < z", "a below nothing", x=a, y=b)


def test_the_least_and_the_greatest_of_several() -> None:
    sheet = Sheet()
    entries = lengths(sheet, 0.0, -2.0, 3.0)
    exact(sheet.select("least", "least", "least", entries).value, -2.0)
    exact(sheet.select("greatest", "greatest", "greatest", entries).value, 3.0)
    exact(sheet.select("alone", "greatest", "of one", entries[:1]).value, 0.0)
    with pytest.raises(SheetError, match="at least one"):
        sheet.select("none", "least", "of none", [])


def test_what_rests_on_an_assumption_says_so() -> None:
    sheet = Sheet()
    (a,) = lengths(sheet, 1.0)
    guess = sheet.give("guess", 2.0, "m", "guessed", state="assumed")
    stated = sheet.calc("stated", sum_m, one_m=a, other_m=a)
    over = sheet.calc("over", sum_m, one_m=sheet.calc("under", sum_m, one_m=guess, other_m=a), other_m=a)
    sheet.decide("branch", "x < y", "compared", x=a, y=over)
    assert [e.rests_on_assumed for e in (a, guess, stated, over, sheet["branch"])] == [False, True, False, True, True]


def test_an_uncertainty_is_brought_to_one_standard_deviation() -> None:
    """JCGM 100:2008, 4.3.7: half-width over root three; 4.3.3: expanded over k."""
    close(Uncertainty.within(0.5, "").standard, 0.28867513459481288, 1e-15, "rounding of one division")
    exact(Uncertainty.expanded(0.5, 2.0, "").standard, 0.25)
    assert (Uncertainty.within(1.0, "").form, Uncertainty.expanded(1.0, 2.0, "").form) == ("rectangular", "normal")
