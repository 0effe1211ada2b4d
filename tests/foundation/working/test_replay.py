"""Working a sheet again with other numbers gives what a new sheet with those numbers gives."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.foundation.errors import SheetError
from onedatum.foundation.working import Sheet, replay
from tests.closeness import exact
from tests.foundation.working.sample import rectangle_m2, side_m, sum_m


def worked(length: float | None, width: float) -> Sheet:
    """A small working: two sides, area, side of the square, the longest and the shortest, one branch."""
    sheet = Sheet()
    a = sheet.give("a", length, "m", "length")
    b = sheet.give("b", width, "m", "width")
    area = sheet.calc("area", rectangle_m2, length_m=a, width_m=b)
    side = sheet.calc("side", side_m, area_m2=area)
    longest = sheet.select("longest", "greatest", "longest", [a, side])
    sheet.select("shortest", "least", "shortest", [a, b, side])
    sheet.calc("total", sum_m, one_m=side, other_m=longest)
    sheet.decide("long", "x > y", "the length is above the side", x=a, y=side)
    sheet.calc("apart", sum_m, one_m=b, other_m=b)
    return sheet


LENGTHS = st.floats(5.0, 20.0)
WIDTHS = st.floats(0.1, 5.0)


@given(LENGTHS, WIDTHS, st.lists(st.tuples(LENGTHS, WIDTHS), min_size=1, max_size=5))
def test_replay_equals_a_new_working(length: float, width: float, trials: list[tuple[float, float]]) -> None:
    lengths, widths = (np.array(column) for column in zip(*trials, strict=True))
    names = ["area", "side", "longest", "shortest", "total"]
    found = replay(worked(length, width), names, {"a": lengths, "b": widths})
    assert found.outside == 0.0
    for name in names:
        exact(found.results[name], [worked(*trial)[name].value for trial in trials])
    otherwise = [worked(*trial)["long"].value != worked(length, width)["long"].value for trial in trials]
    exact(found.branched_otherwise, np.mean(otherwise))


def test_one_input_varied_leaves_the_others_where_they_are() -> None:
    found = replay(worked(8.0, 2.0), ["area", "apart"], {"a": np.array([8.0, 10.0])})
    exact(found.results["area"], [16.0, 20.0])
    exact(found.results["apart"], [4.0, 4.0])


def test_what_is_varied_may_be_asked_for_itself() -> None:
    found = replay(worked(8.0, 2.0), ["a", "b"], {"a": np.array([9.0, 10.0])})
    exact(found.results["a"], [9.0, 10.0])
    exact(found.results["b"], [2.0, 2.0])


def test_a_computed_entry_may_be_varied_itself() -> None:
    found = replay(worked(8.0, 2.0), ["side"], {"area": np.array([9.0, 25.0])})
    exact(found.results["side"], [3.0, 5.0])


def test_a_branch_that_would_go_the_other_way_is_counted_not_followed() -> None:
    """The length is above the side of the square of equal area where it is above the width."""
    found = replay(worked(8.0, 2.0), ["side"], {"area": np.array([16.0, 64.0, 81.0, 100.0])})
    exact(found.branched_otherwise, 0.75)
    exact(found.results["side"], [4.0, 8.0, 9.0, 10.0])


def test_a_part_of_the_trials_is_as_if_it_had_been_worked_alone() -> None:
    sheet, trials = worked(8.0, 2.0), np.array([16.0, 64.0, 81.0, 100.0])
    part = replay(sheet, ["side"], {"area": trials}).part(slice(0, 2))
    alone = replay(sheet, ["side"], {"area": trials[:2]})
    exact(part.results["side"], alone.results["side"])
    exact(part.branched_otherwise, alone.branched_otherwise)
    exact(part.outside, alone.outside)


def test_what_lies_outside_becomes_nan_and_is_counted() -> None:
    found = replay(worked(8.0, 2.0), ["total"], {"a": np.array([8.0, 21.0, 1.0, 10.0])})
    exact(np.isnan(found.results["total"]).astype(float), [0.0, 1.0, 1.0, 0.0])
    exact(found.outside, 0.5)
    both = replay(worked(8.0, 2.0), ["total", "apart"], {"a": np.array([8.0, 21.0, 1.0, 10.0])})
    exact(both.outside, 0.5)


def test_only_what_is_beneath_is_worked() -> None:
    """An unknown number elsewhere on the sheet, and values outside it, do not matter."""
    sheet = worked(8.0, 2.0)
    sheet.calc("open", sum_m, one_m=sheet.give("gone", None, "m", "not stated"), other_m=sheet["a"])
    found = replay(sheet, ["apart"], {"b": np.array([30.0, 40.0])})
    exact(found.results["apart"], [60.0, 80.0])
    exact(found.outside, 0.0)


def test_what_a_procedure_gave_keeps_its_value() -> None:
    sheet = worked(8.0, 2.0)
    sheet.record("u", 0.25, "m", "spread", method="by replay", source="derived", rests_on=[sheet["a"]])
    sheet.calc("with u", sum_m, one_m=sheet["a"], other_m=sheet["u"])
    exact(replay(sheet, ["with u"], {"a": np.array([8.0, 9.0])}).results["with u"], [8.25, 9.25])


def test_an_unknown_number_cannot_be_worked_again() -> None:
    with pytest.raises(SheetError, match="unknown"):
        replay(worked(None, 2.0), ["side"], {"b": np.array([1.0, 2.0])})


def test_arrays_are_of_one_length_and_names_of_the_sheet() -> None:
    sheet = worked(8.0, 2.0)
    with pytest.raises(SheetError, match="one length"):
        replay(sheet, ["area"], {"a": np.array([8.0, 9.0]), "b": np.array([1.0])})
    with pytest.raises(SheetError, match="no entry"):
        replay(sheet, ["area"], {"z": np.array([8.0])})
    with pytest.raises(SheetError, match="no entry"):
        replay(sheet, ["z"], {"a": np.array([8.0])})
