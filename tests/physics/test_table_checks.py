"""What is wrong with a table: each damage is named at its row, once, with what it was."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Reals
from onedatum.physics.vessels.table_checks import check_table
from onedatum.physics.vessels.table_faults import FaultKind, TableFault
from tests.closeness import close, exact
from tests.draws import DRAWS
from tests.physics.table_kinds import (
    LITRE_M3,
    ROUNDED_TO_M3,
    every_rounding,
    every_step,
    every_vessel,
    rounded,
    table_of,
)


def only(found: tuple[TableFault, ...], kind: FaultKind) -> TableFault:
    """The one fault there is, of the kind expected."""
    assert [fault.kind for fault in found] == [kind], [(fault.kind, fault.rows) for fault in found]
    return found[0]


# ---------------------------------------------------------------- what stops


def test_fewer_than_two_rows() -> None:
    for count in (0, 1):
        fault = only(check_table(np.zeros(count), np.zeros(count)), FaultKind.TOO_FEW_ROWS)
        assert fault.stops
        exact(fault.seen[0].value, count)


def test_rows_without_a_number() -> None:
    levels_m, volumes_m3 = (column.copy() for column in table_of("lying", 0.01, LITRE_M3))
    levels_m[7], volumes_m3[40], volumes_m3[41] = np.inf, np.nan, -np.inf
    found = check_table(levels_m, volumes_m3)
    assert [fault.rows for fault in found] == [(8,), (41,), (42,)]
    assert all(fault.kind is FaultKind.NOT_FINITE and fault.stops for fault in found)


def test_a_level_given_twice() -> None:
    levels_m, volumes_m3 = table_of("lying", 0.01, LITRE_M3)
    fault = only(check_table(np.insert(levels_m, 50, 0.5), np.insert(volumes_m3, 50, 3.0)), FaultKind.LEVEL_REPEATED)
    assert fault.stops
    assert fault.rows == (51, 52)
    exact(fault.seen[0].value, 0.5)


@pytest.mark.parametrize("wrong_m", [0.15, 1.8, 0.79, 5.1])
@pytest.mark.parametrize("row", [0, 1, 51, 100, 199, 200])
def test_a_level_that_makes_levels_fall(row: int, wrong_m: float) -> None:
    levels_m, volumes_m3 = (column.copy() for column in table_of("lying", 0.01, LITRE_M3))
    right_m, levels_m[row] = levels_m[row], wrong_m
    falling = bool(np.diff(levels_m).min() < 0.0)
    found = check_table(levels_m, volumes_m3)
    assert falling == any(fault.kind is FaultKind.LEVEL_FALLS for fault in found)
    if falling:
        fault = only(found, FaultKind.LEVEL_FALLS)
        assert fault.stops
        assert fault.rows == (row + 1,)
        exact(fault.seen[0].value, wrong_m)
        assert [round(amount.value, 9) for amount in fault.expected] == ([right_m] if 0 < row < 200 else [])


def test_a_table_written_downwards_is_one_fault() -> None:
    levels_m, volumes_m3 = table_of("lying", 0.01, LITRE_M3)
    found = check_table(levels_m[::-1], volumes_m3[::-1])
    assert [(fault.kind, fault.rows) for fault in found] == [
        (FaultKind.LEVEL_FALLS, (1, 201)),
        (FaultKind.VOLUME_FALLS, (1, 201)),
    ]
    assert all("order" in fault.remedy for fault in found)


def test_rows_in_reverse_order_are_named_by_the_first_and_the_last() -> None:
    levels_m, volumes_m3 = (column.copy() for column in table_of("lying", 0.01, LITRE_M3))
    levels_m[51:54] = levels_m[53:50:-1].copy()
    fault = only(check_table(levels_m, volumes_m3), FaultKind.LEVEL_FALLS)
    assert fault.rows == (52, 54)
    assert fault.expected == ()


@pytest.mark.parametrize("off_m3", [0.5, -0.5])
@pytest.mark.parametrize("row", [20, 51, 100, 180])
def test_a_volume_that_falls(row: int, off_m3: float) -> None:
    levels_m, volumes_m3 = (column.copy() for column in table_of("lying", 0.01, LITRE_M3))
    right_m3 = volumes_m3[row]
    volumes_m3[row] += off_m3
    fault = only(check_table(levels_m, volumes_m3), FaultKind.VOLUME_FALLS)
    assert fault.stops
    assert fault.rows == (row + 1,)
    close(
        fault.expected[0].value,
        right_m3,
        5e-3,
        "a straight line through rows 20 or 30 mm apart in a section that bends",
    )


def test_where_something_stops_smoothness_is_not_looked_at() -> None:
    levels_m, volumes_m3 = (column.copy() for column in table_of("courses", 0.01, LITRE_M3))
    volumes_m3[100] += 0.2
    assert not only(check_table(levels_m, volumes_m3), FaultKind.STICKS_OUT).stops
    volumes_m3[300] = np.nan
    only(check_table(levels_m, volumes_m3), FaultKind.NOT_FINITE)


def test_columns_of_different_length_are_refused() -> None:
    with pytest.raises(ValidityError, match=r"got \(2,\) levels and \(3,\) volumes"):
        check_table(np.zeros(2), np.zeros(3))


# ---------------------------------------------------------------- start and gaps


@pytest.mark.parametrize(("low_m", "low_m3"), [(0.05, 0.0), (-0.05, 0.0), (0.0, 0.4), (0.3, 0.4)])
def test_a_start_elsewhere(low_m: float, low_m3: float) -> None:
    levels_m = np.round(np.arange(201) * 0.01, 9)
    fault = only(check_table(levels_m + low_m, 2.0 * levels_m + low_m3), FaultKind.DATUM)
    assert not fault.stops
    assert fault.rows == (1,)
    exact([amount.value for amount in fault.seen], [low_m, low_m3])
    assert [amount.value for amount in fault.expected] == [0.0, 0.0]


def test_negative_volumes() -> None:
    levels_m = np.round(np.arange(201) * 0.01, 9)
    fault = only(check_table(levels_m, 2.0 * levels_m - 0.05), FaultKind.DATUM)
    assert fault.rows == (1, 3)
    assert "0 or more" in fault.allowed


@every_vessel
@every_rounding
def test_one_row_missing(vessel: str, grain: float) -> None:
    levels_m, volumes_m3 = table_of(vessel, 0.01, grain)
    for row in (1, 30, len(levels_m) // 2, len(levels_m) - 2):
        found = check_table(np.delete(levels_m, row), np.delete(volumes_m3, row))
        fault = only(found, FaultKind.ROWS_MISSING)
        assert fault.rows == (row, row + 1)
        exact([amount.value for amount in fault.expected], [levels_m[row]])


def test_some_rows_and_a_whole_page_missing() -> None:
    levels_m, volumes_m3 = table_of("courses", 0.01, LITRE_M3)
    gone = [100, 101, 102, *range(400, 450)]
    few, page = check_table(np.delete(levels_m, gone), np.delete(volumes_m3, gone))
    assert (few.kind, few.rows, page.kind) == (FaultKind.ROWS_MISSING, (100, 101), FaultKind.ROWS_MISSING)
    exact([amount.value for amount in few.expected], levels_m[100:103])
    exact([amount.value for amount in page.expected], levels_m[[400, 449]])
    assert "50 rows" in page.why


def test_rows_missing_one_after_the_other_but_one() -> None:
    levels_m, volumes_m3 = table_of("lying", 0.01, LITRE_M3)
    found = check_table(np.delete(levels_m, [50, 52]), np.delete(volumes_m3, [50, 52]))
    assert [fault.rows for fault in found] == [(50, 51), (51, 52)]
    assert [fault.expected[0].value for fault in found] == [0.5, 0.52]


def test_a_part_in_wider_steps_has_no_rows_missing() -> None:
    levels_m, volumes_m3 = table_of("box", 0.01, LITRE_M3)
    gone = np.arange(281, 300, 2)
    assert check_table(np.delete(levels_m, gone), np.delete(volumes_m3, gone)) == ()


@every_vessel
@pytest.mark.parametrize("grain", [LITRE_M3, 0.0])
@pytest.mark.parametrize("off", [-0.9, 0.3, 0.49, 0.9])
def test_a_level_off_its_place(vessel: str, grain: float, off: float) -> None:
    """One fault, though the volumes around run unevenly with it."""
    right_m, volumes_m3 = table_of(vessel, 0.01, grain)
    for row in (3, len(right_m) // 2, len(right_m) - 4):
        levels_m = right_m.copy()
        levels_m[row] += off * 0.01
        fault = only(check_table(levels_m, volumes_m3), FaultKind.STICKS_OUT)
        assert fault.rows == (row + 1,)
        assert (fault.seen[0].suffix, fault.expected[0].suffix) == ("m", "m")
        close(fault.expected[0].value, right_m[row], 1e-12, "rounding")


# ---------------------------------------------------------------- smoothness


@every_vessel
@every_rounding
def test_a_volume_repeated(vessel: str, grain: float) -> None:
    """At every tenth row where the rise is six last digits or more: less than four can be rounding."""
    levels_m, volumes_m3 = table_of(vessel, 0.01, grain)
    clear = np.flatnonzero(np.diff(volumes_m3) > 6.0 * grain)[10:-10:10] + 1
    assert len(clear) >= 3
    for row in clear:
        damaged = volumes_m3.copy()
        damaged[row] = damaged[row - 1]
        fault = only(check_table(levels_m, damaged), FaultKind.VOLUME_REPEATED)
        assert not fault.stops
        assert fault.rows == (row, row + 1)
        exact(fault.seen[1].value, volumes_m3[row - 1])


def test_rounding_may_repeat_a_volume() -> None:
    """A pipe of 0.3 m: 71 cm2, 0.07 L/mm, so that most rows of 1 mm repeat the litre of the row before."""
    levels_m = np.round(np.arange(2001) * 1e-3, 9)
    volumes_m3 = rounded(0.0707 * levels_m, LITRE_M3)
    assert (np.diff(volumes_m3) == 0.0).mean() > 0.9
    assert check_table(levels_m, volumes_m3) == ()


def test_a_section_that_jumps() -> None:
    """A table made up of two vessels: 12 % less from 1 m upwards."""
    levels_m = np.round(np.arange(201) * 0.01, 9)
    volumes_m3 = 3.0 * levels_m - 0.36 * np.clip(levels_m - 1.0, 0.0, None)
    fault = only(check_table(levels_m, rounded(volumes_m3, 1e-4)), FaultKind.SECTION_JUMPS)
    assert not fault.stops
    assert abs(fault.rows[0] - 101) <= 1
    assert [amount.suffix for amount in fault.seen] == ["m2", "m2"]


@pytest.mark.parametrize("share", [-0.04, -0.02, 0.02, 0.04])
def test_a_course_is_no_jump(share: float) -> None:
    """Changes of a few per cent between courses are normal: common practice, no source."""
    levels_m = np.round(np.arange(201) * 0.01, 9)
    volumes_m3 = 3.0 * levels_m + 3.0 * share * np.clip(levels_m - 1.0, 0.0, None)
    for grain in ROUNDED_TO_M3.values():
        assert check_table(levels_m, rounded(volumes_m3, grain)) == ()


def test_volumes_shifted_from_a_row_upwards() -> None:
    levels_m, volumes_m3 = table_of("courses", 0.01, LITRE_M3)
    fault = only(check_table(levels_m, volumes_m3 + np.where(levels_m > 4.0, 0.3, 0.0)), FaultKind.SECTION_JUMPS)
    assert fault.rows == (401, 402)
    close(fault.expected[0].value, np.pi * 4.96**2, 0.5, "a rise of 0.8 m3 per step rounded to whole litres")


@every_vessel
@every_rounding
def test_one_volume_off_is_named_with_what_it_was(vessel: str, grain: float) -> None:
    levels_m, volumes_m3 = table_of(vessel, 0.01, grain)
    rises_m3 = np.diff(volumes_m3)
    off_m3 = max(12.0 * grain, 0.3 * float(np.median(rises_m3)))
    clear = np.flatnonzero(rises_m3 > 1.1 * off_m3)[10:-10:10]
    assert len(clear) >= 3 or off_m3 > 0.9 * rises_m3.max()
    for row in clear:
        damaged = volumes_m3.copy()
        damaged[row] += off_m3
        fault = only(check_table(levels_m, damaged), FaultKind.STICKS_OUT)
        assert fault.rows == (row + 1,)
        exact(fault.seen[0].value, damaged[row])
        assert abs(fault.expected[0].value - volumes_m3[row]) <= 2.0 * grain + 0.05 * off_m3


@pytest.mark.parametrize(("vessel", "row", "off_m3"), [("large lying", 357, 0.04), ("courses", 300, 0.1)])
def test_one_wrong_row_is_told_once(vessel: str, row: int, off_m3: float) -> None:
    """The sections either side of it jump as well, and are not told."""
    levels_m, volumes_m3 = (column.copy() for column in table_of(vessel, 0.01, LITRE_M3))
    volumes_m3[row] += off_m3
    assert only(check_table(levels_m, volumes_m3), FaultKind.STICKS_OUT).rows == (row + 1,)


@pytest.mark.parametrize("scale", [0.01, 0.05, 1.0, 100.0])
def test_a_wrong_row_is_found_in_vessels_of_any_size(scale: float) -> None:
    """30 last digits off, in a lying cylinder of 0.16 m3 and of others up to 1570 m3, all in 5 digits."""
    levels_m, volumes_m3 = table_of("lying", 0.01, 0.0)
    damaged = rounded(volumes_m3 * scale, LITRE_M3 * scale)
    damaged[120] += 30.0 * LITRE_M3 * scale
    assert only(check_table(levels_m, damaged), FaultKind.STICKS_OUT).rows == (121,)


@pytest.mark.parametrize("off_m3", [0.009, -0.009, 0.027])
def test_a_wrong_digit_among_volumes_that_are_all_whole(off_m3: float) -> None:
    """30 L to a row: all volumes are tens of litres, which is no rounding; the row that has other digits is wrong."""
    levels_m = np.round(np.arange(201) * 0.01, 9)
    volumes_m3 = rounded(3.0 * levels_m, LITRE_M3)
    volumes_m3[77] += off_m3
    fault = only(check_table(levels_m, volumes_m3), FaultKind.STICKS_OUT)
    assert fault.rows == (78,)
    close(fault.expected[0].value, 2.31, 1e-9, "rounding")


def digits(volume_m3: float, grain: float) -> str:
    """As printed: to the last digit of the table, unrounded volumes to 0.1 mL."""
    return f"{volume_m3:.{7 if grain == 0.0 else round(-np.log10(grain))}f}"


def mistyped(text: str, place: int, digit: int) -> str:
    """One digit of a number replaced."""
    at = [index for index, sign in enumerate(text) if sign != "."]
    index = at[place % len(at)]
    return text[:index] + str(digit) + text[index + 1 :]


def swapped(text: str, place: int) -> str:
    """Two neighbouring digits of a number exchanged."""
    at = [index for index, sign in enumerate(text) if sign != "."]
    first, second = (at[(place % (len(at) - 1)) + more] for more in (0, 1))
    signs = list(text)
    signs[first], signs[second] = signs[second], signs[first]
    return "".join(signs)


def well_above_rounding(off_m3: float, volumes_m3: Reals, row: int, grain: float) -> bool:
    """More than ten last digits, and than the section bends by around the row."""
    bend_m3 = np.abs(np.diff(volumes_m3, 2))[max(row - 4, 0) : row + 3].max()
    return bool(off_m3 > max(10.0 * grain, 4.0 * bend_m3, 1e-6 * volumes_m3[-1]))


damages = st.one_of(
    st.tuples(st.just("mistyped"), st.integers(0, 12), st.integers(0, 9)),
    st.tuples(st.just("swapped"), st.integers(0, 12), st.just(0)),
)


@every_vessel
@every_step
@every_rounding
@given(share=st.floats(0.0, 1.0), damage=damages)
@settings(max_examples=3 * DRAWS // 10)
def test_one_damaged_number_is_found_at_its_row(
    vessel: str, step_m: float, grain: float, share: float, damage: tuple[str, int, int]
) -> None:
    levels_m, volumes_m3 = table_of(vessel, step_m, grain)
    row = 1 + round(share * (len(levels_m) - 3))
    how, place, digit = damage
    text = digits(volumes_m3[row], grain)
    wrong_m3 = float(mistyped(text, place, digit) if how == "mistyped" else swapped(text, place))
    assume(well_above_rounding(abs(wrong_m3 - volumes_m3[row]), volumes_m3, row, grain))
    damaged = volumes_m3.copy()
    damaged[row] = wrong_m3
    found = check_table(levels_m, damaged)
    assert any(row + 1 in fault.rows for fault in found), (row + 1, [(fault.kind, fault.rows) for fault in found])
    assert len(found) == 1
