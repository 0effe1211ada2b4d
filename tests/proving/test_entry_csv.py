"""Files of readings: what is well written is taken, everything else is told with line and column."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.foundation.errors import Fault
from onedatum.proving import ProvingError, Reading, read_readings, write_form
from tests.closeness import close, exact
from tests.proving.runs import plan_of

HEAD = "cycle,direction,reference level [mm],shown current [mA],time"
SOUND = f"{HEAD}\n1,up,100.5,4.002,2026-11-20T09:40+00:00\n1,down,100,4,\n"


def test_readings_are_in_si() -> None:
    first, second = read_readings(SOUND.encode())
    close([first.reference_m or 0.0, first.shown_A or 0.0], [0.1005, 0.004002], 1e-15, "rounding")
    assert first.at == datetime(2026, 11, 20, 9, 40, tzinfo=UTC)
    assert (second.cycle, second.direction, second.at, second.shown_m) == (1, "down", None, None)


@pytest.mark.parametrize(
    "text",
    [
        SOUND.replace(",", ";"),
        "\ufeff" + SOUND,
        SOUND.replace("\n", "\r\n"),
        SOUND.replace("1,up", "1, UP "),
        SOUND + "\n\n,,,,\n",
        "Cycle,Direction,Reference Level [mm],Shown Current [mA],Time" + SOUND[len(HEAD) :],
    ],
)
def test_the_same_written_otherwise(text: str) -> None:
    assert read_readings(text.encode()) == read_readings(SOUND)


def test_columns_in_another_order_with_other_units_and_others_beside() -> None:
    text = "remark,shown level [in],direction,cycle,reference current [A]\ncalm,10,up,2,0.012\n"
    (reading,) = read_readings(text)
    exact([reading.shown_m or 0.0, reading.reference_A or 0.0], [0.254, 0.012])


def test_the_empty_form_of_a_plan() -> None:
    plan = plan_of(cycles=2)
    lines = write_form(plan, ";", level=True).splitlines()
    assert lines[0] == (
        "cycle;direction;reference level [mm];shown current [mA];shown level [mm];time;planned level [mm]"
    )
    assert len(lines) == 1 + 2 * 2 * 5
    assert lines[1] == "1;up;;;;;100.0" and lines[5] == "1;up;;;;;2800.0" and lines[6] == "1;down;;;;;2800.0"
    with pytest.raises(ProvingError, match="a comma or a semicolon"):
        write_form(plan, "\t")


def test_a_filled_form_comes_back() -> None:
    head, *rows = write_form(plan_of(cycles=1)).splitlines()
    filled = [",".join([*row.split(",")[:2], row.split(",")[-1], "12.000", "", ""]) for row in rows]
    found = read_readings("\n".join([head, *filled]))
    close([r.reference_m or 0.0 for r in found[:5]], [0.1, 0.775, 1.45, 2.125, 2.8], 1e-12, "rounding")
    assert [r.direction for r in found] == ["up"] * 5 + ["down"] * 5


@pytest.mark.parametrize(
    ("text", "line", "column", "words"),
    [
        ("", 1, 1, "a line of names first"),
        ("a,b\n1,2\n", 1, 1, "a line of names first with cycle"),
        (SOUND.replace("[mm]", ""), 1, 3, "reference level [mm]"),
        (SOUND.replace("[mm]", "[mA]"), 1, 3, "a length with its unit"),
        (SOUND.replace("[mm]", "[furlong]"), 1, 3, "a length with its unit"),
        (SOUND.replace(",time", ",cycle"), 1, 5, "each column once"),
        (HEAD + "\n", 2, 1, "one line or more"),
        (HEAD + "\n0,up,100,4,\n", 2, 1, "a whole number of a cycle"),
        (HEAD + "\n1e3,up,100,4,\n", 2, 1, "a whole number of a cycle"),
        (HEAD + "\n\u0662,up,100,4,\n", 2, 1, "a whole number of a cycle"),
        (HEAD + "\n1,left,100,4,\n", 2, 2, "up or down"),
        (HEAD + "\n1,up,100 mm,4,\n", 2, 3, "no unit in the rows"),
        (HEAD + "\n1,up,nan,4,\n", 2, 3, "a plain number"),
        (HEAD + "\n1,up,1e999,4,\n", 2, 3, "a plain number"),
        (HEAD + "\n1,up,1_0,4,\n", 2, 3, "a plain number"),
        (HEAD + "\n1,up,=1+1,4,\n", 2, 3, "a plain number"),
        (HEAD + "\n1,up,,4,\n", 2, 3, "nothing"),
        (HEAD + "\n1,up,100,4,yesterday\n", 2, 5, "a time with its offset"),
        (HEAD + "\n1,up,100,4,2026-11-20T09:40\n", 2, 5, "a time with its offset"),
        (HEAD + "\n1,up,100,5,4,002,\n", 2, 6, "decimal comma"),
        (HEAD.replace(",", ";") + "\n1;up;100,5;4;\n", 2, 3, "A decimal point"),
        (HEAD + '\n1,up,"100,4\n', 2, 1, "parted by commas"),
        (HEAD + "\n1,up,\0,4,\n", 2, 1, "a zero byte"),
    ],
)
def test_what_cannot_be_read_is_told_with_its_place(text: str, line: int, column: int, words: str) -> None:
    with pytest.raises(ProvingError) as caught:
        read_readings(text.encode(), "found.csv")
    fault = caught.value.faults[0]
    assert fault.place == ("found.csv", line, column)
    assert words in fault.sentence()


def test_all_lines_are_read_before_it_is_told() -> None:
    with pytest.raises(ProvingError) as caught:
        read_readings(HEAD + "\n1,up,x,4,\n1,up,100,y,\n")
    assert [fault.place[1:] for fault in caught.value.faults if fault.place] == [(2, 3), (3, 4)]


def test_sizes_are_limited() -> None:
    with pytest.raises(ProvingError, match="bytes"):
        read_readings(b"x" * 2_000_000)
    with pytest.raises(ProvingError, match="at most 1000 readings"):
        read_readings(HEAD + "\n1,up,100,4," * 2000)
    with pytest.raises(ProvingError) as caught:
        read_readings(HEAD + "\n1,up,x,4," * 2000)
    assert len(caught.value.faults) <= 52
    with pytest.raises(ProvingError) as caught:
        read_readings(HEAD + f"\n1,up,{'9' * 500_000}x,4,")
    assert len(str(caught.value)) < 1000


def test_letters_that_are_no_text() -> None:
    with pytest.raises(ProvingError, match="UTF-8") as caught:
        read_readings(HEAD.encode() + b"\n1,up,\xff,4,\n")
    assert caught.value.faults[0].place == ("readings.csv", 2, 1)


def readings_or_faults(content: bytes | str) -> tuple[Reading, ...] | tuple[Fault, ...]:
    try:
        return read_readings(content)
    except ProvingError as error:
        return error.faults


@given(st.binary(max_size=300))
def test_whatever_comes_is_read_or_refused(content: bytes) -> None:
    assert readings_or_faults(content)


@given(st.text(alphabet='0123456789,;.\n"up doncyle[]mA-+eT:', max_size=200))
def test_whatever_follows_the_names_is_read_or_refused(rows: str) -> None:
    assert readings_or_faults(f"{HEAD}\n{rows}")
