"""Numbers out of registers: the worked case, the orders, and that a wrong one is named and not used."""

from __future__ import annotations

import math
import struct

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from onedatum.foundation.errors import QuantityError
from onedatum.logs.live.registers import Form, Order, Point, number_of, read_point
from tests.closeness import close, exact
from tests.reference import case

ORDERS: tuple[Order, ...] = ("high first", "low first")
FORMS: dict[Form, str] = {
    "uint16": "H",
    "int16": "h",
    "uint32": "I",
    "int32": "i",
    "uint64": "Q",
    "int64": "q",
    "float32": "f",
    "float64": "d",
}
LEVEL = Point("level", "float32", 0.0, 3.0)


def worked() -> list[int]:
    return [int(each, 16) for each in case("loop-M01").value("registers_hex")]


@pytest.mark.parametrize(("result", "words"), [("high_word_first", "high first"), ("low_word_first", "low first")])
def test_the_worked_case_in_both_orders(result: str, words: Order) -> None:
    stated, found = case("loop-M01"), number_of(worked(), "float32", words)
    close(found, stated.expected[result], stated.tolerance["rel"] * stated.expected[result], "tolerance of the case")


def test_the_worked_case_read_in_the_wrong_order_is_unknown_and_the_right_order_named() -> None:
    wrong = Point("level", "float32", 0.0, 3.0, words="low first")
    found = read_point(wrong, worked())
    assert found.value is None
    assert found.likely == ("words high first",)
    assert "too small" in found.doubt and "likely stated wrongly" in found.hint and not found.is_told_none
    exact(read_point(LEVEL, worked()).value, 1.5)


def test_bytes_swapped_are_named() -> None:
    """1.5 is 3FC00000: with the bytes of each word turned C03F 0000, which reads as -2.98 instead."""
    found = read_point(LEVEL, [0xC03F, 0x0000])
    assert found.value is None and found.likely == ("bytes low first",)
    found = read_point(LEVEL, [0x0000, 0xC03F])
    assert found.value is None and found.likely == ("words low first and bytes low first",)


def test_what_no_order_explains_is_only_outside() -> None:
    found = read_point(Point("level", "int16", 0.0, 3.0), [0x7F7F])
    assert found.value is None and found.likely == () and found.doubt == "32639 is outside the limits 0 to 3"


def test_several_orders_that_fit_are_all_named() -> None:
    """By hand: 1 with the words turned, 256 with the bytes turned too; as stated it would be 65536."""
    found = read_point(Point("level", "uint32", 0.0, 3.0, factor=0.001), [0x0001, 0x0000])
    assert found.value is None and "65.536 is outside" in found.doubt
    assert found.likely == ("words low first", "words low first and bytes low first")


def test_integers_are_scaled() -> None:
    """1234 counts of 1 mm with a datum of 0.1 m are 1.334 m; -5 counts are 0.095 m."""
    point = Point("level", "int16", 0.0, 3.0, factor=0.001, offset=0.1)
    assert read_point(point, [1234]).value == pytest.approx(1.334, abs=1e-12)
    assert read_point(point, [0xFFFB]).value == pytest.approx(0.095, abs=1e-12)


def test_the_integer_of_no_value_is_unknown_and_never_a_number() -> None:
    point = Point("level", "int16", -40000.0, 40000.0, unknown_if=(-32768,))
    found = read_point(point, [0x8000])
    assert found.value is None and "no value" in found.doubt


@pytest.mark.parametrize("registers", [[0x7FA0, 0], [0x7FC0, 0], [0x7F80, 0], [0xFF80, 0]])
def test_no_number_and_infinity_are_unknown(registers: list[int]) -> None:
    found = read_point(LEVEL, registers)
    assert found.value is None and "no number" in found.doubt


def test_zero_is_a_level_and_no_other_order_explains_it() -> None:
    exact(read_point(LEVEL, [0, 0]).value, 0.0)
    assert read_point(Point("level", "float32", 1.0, 3.0), [0, 0]).likely == ()


@given(st.sampled_from(sorted(FORMS)), st.sampled_from(ORDERS), st.sampled_from(ORDERS), st.data())
def test_registers_made_by_struct_are_read_back(form: Form, words: Order, bytes_: Order, data: st.DataObject) -> None:
    sent = data.draw(st.binary(min_size=struct.calcsize(FORMS[form]), max_size=struct.calcsize(FORMS[form])))
    (number,) = struct.unpack(">" + FORMS[form], sent)
    assume(number == number)
    registers = [int.from_bytes(sent[at : at + 2], "big") for at in range(0, len(sent), 2)]
    if words == "low first":
        registers.reverse()
    if bytes_ == "low first":
        registers = [(each & 0xFF) << 8 | each >> 8 for each in registers]
    assert number_of(registers, form, words, bytes_) == number


@given(st.sampled_from(sorted(FORMS)), st.lists(st.integers(0, 0xFFFF), max_size=5))
def test_whatever_a_device_sends_is_a_number_within_its_limits_or_unknown(form: Form, registers: list[int]) -> None:
    found = read_point(Point("level", form, -1.0, 3.0), registers)
    assert (found.value is None) == bool(found.doubt)
    assert found.value is None or -1.0 <= found.value <= 3.0


@pytest.mark.parametrize("registers", [[], [1], [1, 2, 3], [1, 65536], [-1, 0], [True, 0], [1.5, 0], ["1", "2"]])
def test_what_are_no_registers_is_unknown_with_the_reason(registers: list[int]) -> None:
    found = read_point(LEVEL, registers)
    assert found.value is None and found.doubt.startswith("cannot be read: it must be")
    with pytest.raises(QuantityError, match="register"):
        number_of(registers, "float32")


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"form": "float16"}, "float32"),
        ({"words": "middle first"}, "high first, low first"),
        ({"bytes_": ""}, "high first, low first"),
        ({"factor": 0.0}, "factor other than zero"),
        ({"factor": math.nan}, "factor other than zero"),
        ({"offset": math.inf}, "offset"),
        ({"least": 3.0}, "limits in order"),
        ({"most": math.inf}, "limits in order"),
        ({"least": math.nan}, "limits in order"),
    ],
)
def test_a_point_that_cannot_be_read_by_is_refused(more: dict[str, object], words: str) -> None:
    stated = {"name": "level", "form": "float32", "least": 0.0, "most": 3.0, **more}
    with pytest.raises(QuantityError, match=words):
        Point(**stated)  # type: ignore[arg-type]
