"""Rows of readings from a file: what is well written is taken, everything else is told with line and column."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.foundation.errors import Fault, ProvingError
from onedatum.proving.causes import ALLOWED, MEASURED, MOST_ROWS, Row, read_rows, write_rows_form
from tests.closeness import close

HEAD = "direction,dip [mm],current [mA],voltage on resistor [mV],temperature [degC]"
SOUND = f"{HEAD}\nup,602,6.953,69.54,21\n,1451,,,\ndown,2299,17.009,,\n"


def test_rows_are_in_si_and_what_was_not_read_is_none() -> None:
    first, second, third = read_rows(SOUND.encode())
    found = [first.dip_m, first.current_A, first.voltage_V, first.temperature_K]
    close([value or 0.0 for value in found], [0.602, 0.006953, 0.06954, 294.15], 1e-15, "rounding")
    assert (first.is_rising, second, third.is_rising) == (True, Row(dip_m=1.451), False)


@pytest.mark.parametrize(
    "text",
    [
        SOUND.replace(",", ";"),
        "\ufeff" + SOUND,
        SOUND.replace("\n", "\r\n"),
        SOUND + ",,,,\nup,,,,\n",
        SOUND.replace("dip", "DIP").replace("up", " UP "),
    ],
)
def test_the_same_written_otherwise(text: str) -> None:
    assert read_rows(text.encode()) == read_rows(SOUND)


def test_a_temperature_in_degrees_of_fahrenheit() -> None:
    # 68 degF are 20 degC: the definition of the scale.
    (row,) = read_rows("dip [in],temperature [degF]\n10,68\n")
    close([row.dip_m or 0.0, row.temperature_K or 0.0], [0.254, 293.15], 1e-12, "rounding")


def test_the_empty_form_holds_no_row_and_a_filled_one_comes_back() -> None:
    form = write_rows_form([0.5, 1.45], ("dip_m", "current_A"))
    head, *lines = form.splitlines()
    assert head == "direction,dip [mm],current [mA],remark,planned level [mm]"
    assert lines == ["up,,,,500", "up,,,,1450", "down,,,,1450", "down,,,,500"]
    with pytest.raises(ProvingError, match="one line or more with readings"):
        read_rows(form)
    filled = [f"{line.split(',')[0]},{line.split(',')[-1]},12,calm,9" for line in lines]
    found = read_rows("\n".join([head, *filled]))
    assert [(row.dip_m, row.is_rising) for row in found] == [(0.5, True), (1.45, True), (1.45, False), (0.5, False)]
    with pytest.raises(ProvingError, match="a comma or a semicolon"):
        write_rows_form([0.5], ("dip_m",), "\t")


@pytest.mark.parametrize(
    ("text", "line", "column", "words"),
    [
        ("", 1, 1, "a line of names first"),
        ("direction,remark\nup,1\n", 1, 1, "a line of names first"),
        ("dip [mm],curent [mA]\n1,2\n", 1, 2, "one of dip, current"),
        ("dip,current [mA]\n1,2\n", 1, 1, "dip [mm]"),
        ("dip [kg],current [mA]\n1,2\n", 1, 1, "a length with its unit"),
        ("dip [mm],dip [m]\n1,2\n", 1, 2, "each column once"),
        ("dip [mm],direction [mm]\n1,2\n", 1, 2, "direction without a unit"),
        (f"{HEAD}\nside,1,2,3,4\n", 2, 1, "up or down"),
        (f"{HEAD}\nup,1;2,2,3,4\n", 2, 2, "a plain number"),
        (f"{HEAD}\nup,=1+1,2,3,4\n", 2, 2, "a plain number"),
        (f"{HEAD}\nup,nan,2,3,4\n", 2, 2, "a plain number"),
        (f"{HEAD}\nup,1e999,2,3,4\n", 2, 2, "a plain number"),
        (f"{HEAD}\nup,1350 mm,2,3,4\n", 2, 2, "a plain number"),
        (f"{HEAD}\nup,1350,115.2,3,4\n", 2, 3, "a number from 0 A to 0.1 A"),
        (f"{HEAD}\nup,1350,-1,3,4\n", 2, 3, "a number from 0 A to 0.1 A"),
        (f"{HEAD}\nup,1350,11.5,3,-273\n", 2, 5, "a number from 50 K"),
        (f"{HEAD}\nup,1350,11,5,3,4\n", 2, 6, "5 values"),
        (HEAD + "\n" + "up,1,2,3,4\n" * (MOST_ROWS + 1), MOST_ROWS + 2, 1, f"at most {MOST_ROWS} rows"),
        (HEAD + '\nup,"1\n', 2, 1, "lines of values"),
        ("dip [mm]\n1\0\n", 2, 1, "text"),
        ("dip [mm]\n" + "1" * 1_000_001, 1, 1, "a file of at most"),
    ],
)
def test_what_cannot_be_read_is_told_with_line_and_column(text: str, line: int, column: int, words: str) -> None:
    with pytest.raises(ProvingError) as told:
        read_rows(text, "r.csv")
    (fault, *_) = told.value.faults
    assert fault.place is not None
    assert (fault.place.file, fault.place.line, fault.place.column) == ("r.csv", line, column)
    assert words in fault.allowed


def test_many_faults_are_told_at_once_and_not_without_end() -> None:
    with pytest.raises(ProvingError) as told:
        read_rows(HEAD + "\n" + "side,x,y,z,w\n" * 500)
    assert 5 < len(told.value.faults) <= 60


@given(st.binary(max_size=300) | st.text(max_size=300).map(lambda text: f"{HEAD}\n{text}".encode()))
def test_any_file_is_read_or_refused_with_its_place(content: bytes) -> None:
    rows, faults = read_or_refused(content)
    assert bool(rows) is not bool(faults)
    assert all(fault.place is not None for fault in faults)
    assert all(any(getattr(row, field) is not None for field in ALLOWED) for row in rows)


def read_or_refused(content: bytes) -> tuple[tuple[Row, ...], tuple[Fault, ...]]:
    """The rows, or what is wrong."""
    try:
        return read_rows(content), ()
    except ProvingError as error:
        return (), error.faults


def test_every_column_has_a_field_that_is_checked() -> None:
    assert {field for field, _ in MEASURED.values()} == set(ALLOWED)
