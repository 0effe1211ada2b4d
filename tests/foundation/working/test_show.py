"""One entry in words: value, formula, numbers put in, inputs, where it was stated, source."""

from __future__ import annotations

from onedatum.foundation.errors import Place
from onedatum.foundation.working import Plain, Sheet, Typst, Uncertainty, entry_text, formula_line, numbers_line
from tests.foundation.working.sample import rectangle_m2, rounded_m, side_m, sum_m


def sheet_of(length: float | None = 3.0) -> Sheet:
    """One number of every origin."""
    sheet = Sheet()
    a = sheet.give(
        "tank.a", length, "m", "length", as_stated="3000 mm", path="tank.a", place=Place("case.yaml", 4, 7),
        uncertainty=Uncertainty.within(0.001, "within 1 mm"), note="as drawn", state="assumed",
    )  # fmt: skip
    b = sheet.give("tank.b", 0.5, "m", "width")
    area = sheet.calc("tank.area", rectangle_m2, shown="m2", length_m=a, width_m=b)
    sheet.calc("tank.side", side_m, area_m2=area)
    sheet.calc("tank.rounded", rounded_m, length_m=a)
    sheet.decide("tank.long", "x > y", "longer than wide", x=a, y=b)
    sheet.select("tank.least", "least", "shortest", [a, b])
    sheet.record("tank.u", 0.1, "m", "spread", method="by replay", source="derived", rests_on=[a])
    return sheet


def test_a_calculated_number_shows_formula_numbers_inputs_and_source() -> None:
    assert entry_text(sheet_of()["tank.area"]).split("\n") == [
        "tank.area = 1.5000 m2",
        "  area of a rectangle",
        "  A = a * b",
        "  A = 3 m * 0.5 m",
        "  from tank.a = 3000 mm  (assumed)",
        "  from tank.b = 500.00 mm  (stated)",
        "  source: Derived from geometry or first principles [derived and checked]",
        "  rests on an assumed value",
    ]


def test_a_given_number_shows_where_and_how_well_it_was_stated() -> None:
    assert entry_text(sheet_of()["tank.a"]).split("\n") == [
        "tank.a = 3000 mm",
        "  length",
        "  assumed at case.yaml:4:7, within 1 mm",
        "  note: as drawn",
    ]


def test_a_residual_is_shown_equal_to_zero_and_the_numbers_are_its_own() -> None:
    entry = sheet_of()["tank.side"]
    assert formula_line(entry, Plain()) == "c^2 - A = 0"
    assert numbers_line(entry, Plain()) == "(1.224745 m)^2 - 1.5 m2 = 0"
    assert numbers_line(entry, Typst()) == '("1.224745 m")^(2) - "1.5 m2" = 0'


def test_a_procedure_a_choice_and_a_record_name_their_method() -> None:
    sheet = sheet_of()
    assert "  by: rounding to the nearest metre" in entry_text(sheet["tank.rounded"])
    assert "  by: the least of the inputs" in entry_text(sheet["tank.least"])
    assert "  by: by replay" in entry_text(sheet["tank.u"])
    assert formula_line(sheet["tank.rounded"], Plain()) == numbers_line(sheet["tank.rounded"], Plain()) == ""


def test_a_branch_shows_what_was_compared() -> None:
    lines = entry_text(sheet_of()["tank.long"]).split("\n")
    assert lines[:4] == ["tank.long = yes", "  longer than wide", "  x > y", "  3 m > 0.5 m"]


def test_an_unknown_number_shows_its_formula_and_what_it_waits_for() -> None:
    entry = sheet_of(None)["tank.area"]
    lines = entry_text(entry).split("\n")
    assert lines[0] == "tank.area = unknown"
    assert "  A = a * b" in lines
    assert "  waits for: tank.a" in lines
    assert numbers_line(entry, Plain()) == ""


def test_negative_numbers_are_put_in_with_a_true_minus_sign_in_brackets() -> None:
    sheet = Sheet()
    one, other = sheet.give("one", 1.0, "m", "one"), sheet.give("other", -2.5, "m", "other")
    entry = sheet.calc("sum", sum_m, one_m=one, other_m=other)
    assert numbers_line(entry, Plain()) == "s = 1 m + (−2.5 m)"
