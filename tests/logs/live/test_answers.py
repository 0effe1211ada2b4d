"""Answers to the readings: worked cases, layouts made by struct, and numbers that are not available."""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.foundation.errors import QuantityError
from onedatum.foundation.sources import citation
from onedatum.foundation.units import read_quantity
from onedatum.logs.live.hart import (
    READING_COMMANDS,
    AdditionalStatus,
    AnswerFault,
    DeviceStatus,
    Frame,
    Identity,
    Label,
    LongTag,
    LoopReading,
    OutputRange,
    PrimaryVariable,
    Unique,
    Unit,
    Value,
    Variables,
    decode,
    read_answer,
)
from onedatum.logs.live.hart.codes import answer_words, communication_errors, is_warning, table, time_s
from onedatum.logs.live.hart.packed import pack, unpack
from tests.closeness import close, exact
from tests.logs.live.line import ANSWERS, IDENTITY, NOT_AVAILABLE, number
from tests.reference import case

METRE = Unit(45)
SINGLES = st.floats(width=32, allow_nan=False, allow_infinity=False)
SIXTY_FOUR = "".join(chr(code) for code in range(0x20, 0x60))


def test_the_worked_answer_with_two_variables() -> None:
    stated = case("loop-H04")
    frame = decode(bytes.fromhex(stated.value("frame_hex")))
    assert isinstance(frame, Frame)
    found = read_answer(frame.command, frame.data)
    assert isinstance(found, Variables) and found.current_A is not None
    level, temperature = found.values
    assert (level.unit.code, temperature.unit.code) == (
        stated.expected["pv_unit_code"],
        stated.expected["sv_unit_code"],
    )
    assert (level.unit.name, temperature.unit.name) == (stated.unit["pv"], stated.unit["sv"])
    exact(found.current_A * 1000, stated.expected["current_mA"])
    exact([level.number, temperature.number], [stated.expected["pv"], stated.expected["sv"]])
    exact([level.in_si, temperature.in_si], [1.5, 294.4])


# ---------------------------------------------------------------- packed text


def test_the_worked_tag_is_packed_and_read() -> None:
    stated = case("loop-H03")
    assert pack(stated.value("text")).hex().upper() == stated.expected
    assert unpack(bytes.fromhex(stated.expected)) == stated.value("text")


@given(st.text(SIXTY_FOUR, max_size=40).map(lambda text: text.ljust(-(-len(text) // 4) * 4)))
def test_packed_text_comes_back(text: str) -> None:
    assert len(pack(text)) * 4 == len(text) * 3
    assert unpack(pack(text)) == text


@given(st.binary(max_size=30))
def test_any_bytes_are_a_text_of_the_64_characters(sent: bytes) -> None:
    text = unpack(sent)
    assert set(text) <= set(SIXTY_FOUR) and len(text) == len(sent) // 3 * 4
    assert pack(text) == sent[: len(sent) // 3 * 3]


@pytest.mark.parametrize("text", ["abcd", "LT-1\n   ", "TÄNK", "{}  "])
def test_what_has_no_six_bits_is_refused(text: str) -> None:
    with pytest.raises(QuantityError, match="capital letters"):
        pack(text)


def test_a_broken_length_is_refused() -> None:
    with pytest.raises(QuantityError, match="multiple of four"):
        pack("LT-10")


# ---------------------------------------------------------------- layouts


def test_identity_of_revision_5_and_of_revision_7() -> None:
    found = read_answer(0, IDENTITY)
    assert found == Identity(Unique(0x2606, 12345678), 5, 7, 3, 2, 1, 0)
    later = read_answer(0, IDENTITY + bytes([5, 4, 1, 2, 0x20]) + bytes(5))
    assert isinstance(later, Identity)
    assert (later.answer_preambles, later.configuration_counter, later.extended_status) == (5, 0x0102, 0x20)
    fault = read_answer(0, b"\0" + IDENTITY[1:])
    assert isinstance(fault, AnswerFault) and "must be 254; got 0" in str(fault)


@given(SINGLES, st.integers(0, 249))
def test_a_primary_variable_of_any_number_and_unit(sent: float, code: int) -> None:
    assert read_answer(1, bytes([code]) + number(sent)) == PrimaryVariable(Value(sent, Unit(code)))


@given(SINGLES, SINGLES)
def test_loop_current_and_per_cent(current_mA: float, per_cent: float) -> None:
    found = read_answer(2, number(current_mA) + number(per_cent))
    assert found == LoopReading(current_mA / 1000, per_cent / 100)


@given(st.lists(st.tuples(st.integers(0, 249), SINGLES), max_size=4))
def test_a_device_with_fewer_variables_answers_shorter(sent: list[tuple[int, float]]) -> None:
    found = read_answer(3, number(4.0) + b"".join(bytes([code]) + number(value) for code, value in sent))
    assert isinstance(found, Variables)
    assert found == Variables(0.004, tuple(Value(value, Unit(code)) for code, value in sent))
    assert (found.primary is None) is (not sent)


@pytest.mark.parametrize("count", [5, 8, 13, 23])
def test_a_variable_cut_short_is_a_fault(count: int) -> None:
    assert isinstance(read_answer(3, bytes(count)), AnswerFault)


def test_tag_descriptor_and_date() -> None:
    found = read_answer(13, ANSWERS[13])
    assert found == Label("LT-101", "", date(2026, 11, 26))
    never = read_answer(13, ANSWERS[13][:18] + bytes([31, 2, 126]))
    assert isinstance(never, Label) and never.day is None


def test_range_damping_and_protection() -> None:
    found = read_answer(15, ANSWERS[15])
    assert found == OutputRange(Value(3.0, METRE), Value(0.0, METRE), 2.0, "high", 0, "not protected")
    strange = read_answer(15, bytes([77, 9, 200]) + ANSWERS[15][3:15] + bytes([88, 250, 0]))
    assert isinstance(strange, OutputRange)
    assert (strange.alarm_direction, strange.transfer_function, strange.write_protection) == ("code 77", 9, "code 88")
    assert strange.upper.unit.name == "unit code 200" and strange.upper.in_si is None


def test_long_tag_and_additional_status() -> None:
    assert read_answer(20, ANSWERS[20]) == LongTag("invented tank, level")
    assert read_answer(20, b"T\xfcr".ljust(32, b"\0")) == LongTag("Tür")
    found = read_answer(48, b"\x00\x81\x00")
    assert isinstance(found, AdditionalStatus) and found.bits == ((1, 0), (1, 7))
    assert read_answer(48, b"") == AdditionalStatus(b"")


# ---------------------------------------------------------------- unknown is not zero


@pytest.mark.parametrize("sent", [NOT_AVAILABLE, bytes.fromhex("7FC00000"), number(math.inf), number(-math.inf)])
def test_a_number_that_is_not_available_is_unknown(sent: bytes) -> None:
    unknown = Value(None, METRE)
    assert read_answer(1, b"\x2d" + sent) == PrimaryVariable(unknown)
    assert unknown.in_si is None and str(unknown) == "unknown m"
    assert read_answer(2, sent + sent) == LoopReading(None, None)
    assert read_answer(3, sent + b"\x2d" + sent) == Variables(None, (unknown,))
    output = read_answer(15, bytes([0, 0, 45]) + sent * 3 + bytes([0, 250]))
    assert isinstance(output, OutputRange)
    assert (output.upper, output.lower, output.damping_s) == (unknown, unknown, None)


def test_a_variable_that_is_not_used_is_unknown_even_with_a_number() -> None:
    found = read_answer(3, number(4.0) + b"\x2d" + number(1.0) + b"\xfa" + number(0.0))
    assert isinstance(found, Variables)
    assert [value.number for value in found.values] == [1.0, None]
    assert str(found.values[1]) == "unknown not used"


# ---------------------------------------------------------------- any bytes


@given(st.integers(0, 255), st.binary(max_size=255))
def test_any_bytes_are_an_answer_or_a_named_fault(command: int, sent: bytes) -> None:
    found = read_answer(command, sent)
    if isinstance(found, AnswerFault):
        assert str(found).startswith(f"command {command}: ")
    else:
        assert command in READING_COMMANDS


@pytest.mark.parametrize("command", [each for each in READING_COMMANDS if each != 48])
def test_every_answer_that_is_too_short_is_a_fault(command: int) -> None:
    whole = ANSWERS[command]
    assert not isinstance(read_answer(command, whole), AnswerFault)
    least = {3: 4, 15: 16}.get(command, len(whole))
    for count in range(least):
        assert isinstance(read_answer(command, whole[:count]), AnswerFault)
    assert not isinstance(read_answer(command, whole[:least]), AnswerFault)


# ---------------------------------------------------------------- codes


def test_units_of_the_reference_and_the_unknown() -> None:
    """From memory: 45 m, 48 cm, 49 mm, 47 in, 44 ft, 39 mA, 32 degC, 41 L, 43 m3, 40 US gal."""
    names = {45: "m", 48: "cm", 49: "mm", 47: "in", 44: "ft", 39: "mA", 32: "degC", 41: "L", 43: "m3", 40: "US gal"}
    assert {code: Unit(code).name for code in names} == names
    assert Unit(199).name == "unit code 199" and Unit(199).in_si(1.0) is None and Unit(199).si == ""


def test_every_unit_of_the_table_is_read_by_the_units_of_the_tool() -> None:
    for code, row in table()["units"].items():
        unit = Unit(int(code))
        assert unit.in_si(300.0) == read_quantity(f"300 {row['unit']}", row["dimension"])
    assert Unit(45).si == "m" and Unit(57).in_si(50.0) == 0.5


@pytest.mark.parametrize("sent", [1e-30, 3.4e38, -1e20, 1.401298464324817e-45])
def test_strange_numbers_are_told_in_si_or_not_at_all(sent: float) -> None:
    found = Value(sent, Unit(49)).in_si
    assert found is None or math.isclose(found, sent / 1000, rel_tol=1e-9)


def test_below_absolute_zero_there_is_no_temperature() -> None:
    assert Value(-300.0, Unit(32)).in_si is None


def test_bits_of_the_device_status() -> None:
    """From memory: bits 7 to 0."""
    keys = (
        "malfunction configuration_changed cold_start more_status current_fixed current_saturated "
        "other_out_of_limits primary_out_of_limits"
    ).split()
    assert DeviceStatus(0xFF).keys == tuple(keys)
    assert [DeviceStatus(1 << bit).keys for bit in range(8)] == [(key,) for key in reversed(keys)]
    assert DeviceStatus(0).words == () and not DeviceStatus(0x08).has("malfunction")


def test_communication_errors_and_answer_codes() -> None:
    assert communication_errors(0x7F) == ()
    assert communication_errors(0x88) == ("the check byte",) and communication_errors(0x80) == ("not told",)
    assert answer_words(64) == "command not implemented" and answer_words(63) == "answer code 63"
    assert is_warning(8) and not is_warning(6) and not is_warning(64)


def test_every_source_of_the_table_is_in_the_register_and_carries_its_tag() -> None:
    def rows(node: object) -> Iterator[dict[str, str]]:
        if isinstance(node, dict):
            if "source" in node:
                yield node
            node = list(node.values())
        for each in node if isinstance(node, list) else ():
            yield from rows(each)

    found = list(rows(table()))
    assert len(found) >= 30
    for row in found:
        assert row["tag"] == citation(row["source"]).source.tag, row["source"]
    assert table()["tag"] == "from memory"


def test_the_rows_that_were_seen_and_no_others_have_a_source_of_their_own() -> None:
    """Frames recorded from devices; tables of a communications manual and of a gateway's manual (2015, by excerpt)."""
    seen = {
        "commands": ({"0", "1", "2", "3", "13", "15", "20"}, "hart-recorded hart-tables-2015"),
        "answer_codes": ({"0", "2", "3", "4", "5", "6", "64"}, "hart-recorded hart-gateway-2015"),
        "device_status": ({6, 5, 3, 2}, "hart-recorded"),
        "units": ({"39"}, "hart-recorded"),
        "communication_errors": ({6, 5, 4, 3, 1}, "hart-gateway-2015"),
    }
    for name, (keys, sources) in seen.items():
        held = table()[name]
        rows = held if isinstance(held, dict) else {row["bit"]: row for row in held}
        assert {key for key, row in rows.items() if "source" in row} == keys, name
        assert {row["source"].partition(":")[0] for row in rows.values() if "source" in row} == set(sources.split())
    for name in ("write_protection", "alarm_directions", "no_value_units"):
        assert all("source" not in row for row in table()[name].values()), "from memory, as the head says"


def test_times_of_the_data_link_are_characters_of_eleven_bits() -> None:
    """1200 bit/s; 33, 41, 28 and 8 characters (from memory of the standard), which rounds them."""
    character_s = 11 / 1200
    close(time_s("character_s"), character_s, 1e-8, "digits of the table")
    for key, count in {"quiet_primary_s": 33, "quiet_secondary_s": 41, "answer_s": 28, "other_master_s": 8}.items():
        close(time_s(key), count * character_s, 0.03 * count * character_s, "rounded in the standard")
