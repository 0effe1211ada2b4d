"""The plain text: 80 columns, every number under its like, everything that was said."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.paper.model import Head
from onedatum.paper.table.as_text import table_text
from onedatum.paper.table.lines import columns_of, wrapped
from onedatum.paper.table.model import Column, Heel, Line, TankTable, Zone
from onedatum.paper.table.words import figures
from tests.closeness import close
from tests.paper import table_sample as sample
from tests.paper.test_document import HOSTILE
from tests.paper.test_table_model import empty


def filled_with(text: str, table: TankTable | None = None) -> TankTable:
    """A table that carries the text wherever text can stand."""
    base = table or sample.table(50.0)
    level = replace(base.level, name=text, unit=text)
    return replace(
        base,
        head=Head(text, text, text, text, text, text, text, text, text, text, True),
        level=level,
        volume=replace(base.volume, name=text, unit=text),
        slope=replace(base.slope, name=text, unit=text),
        ullage=level,
        vessel=(Line(text, text, "assumed"), Line(text, text, "unknown")),
        conditions=(Line(text, text, "stated"),),
        interpolation=(text,),
        heels=(Heel(text, text, text),),
        cautions=(text,),
        zones=(Zone(300.0, 420.0, text),),
        statement=text,
    )


def is_row(line: str) -> bool:
    """Whether a line holds three figures, a sign aside."""
    words = [word for word in line.split() if word not in "•×"]
    return len(words) == 3 and all(word.replace(".", "", 1).isdigit() for word in words)


def test_the_rows_are_those_of_the_record() -> None:
    table = sample.table()
    rows = [
        [float(w) for w in line.split() if w not in "•×"] for line in table_text(table).splitlines() if is_row(line)
    ]
    assert len(rows) == 309, "all but the last, which has no slope"
    for i, column in enumerate(table.columns):
        exact = [value for value in column.values[:-1] if value is not None]
        unit = 10.0**-column.decimals
        assert close([row[i] for row in rows], exact, 0.5000001 * unit, "half a unit of the last digit")
        assert close(sum(row[i] for row in rows), sum(exact), 309 * 0.5 * unit, "half a unit for each row")
    assert "\n    3000.0     28274.3         –\n" in table_text(table)


def test_figures_stand_under_each_other_at_the_point() -> None:
    lines = [line for line in table_text(sample.table()).splitlines() if is_row(line)]
    places = {tuple(i for i, char in enumerate(line) if char == ".") for line in lines}
    assert len(places) == 1
    assert len(places.pop()) == 3


def test_names_and_units_stand_over_every_fifty_rows() -> None:
    lines = table_text(sample.table()).splitlines()
    heads = [i for i, line in enumerate(lines) if line.split() == ["[mm]", "[L]", "[L/mm]"]]
    assert len(heads) == 7, "310 rows"
    ends = [*heads[1:], len(lines)]
    counts = [sum(map(is_row, lines[a:b])) for a, b in zip(heads, ends, strict=True)]
    assert counts == [50, 50, 50, 50, 50, 50, 9]
    assert all(b > a for a, b in pairwise(heads))


def test_it_says_everything_it_was_given() -> None:
    text = " ".join(table_text(sample.table()).split())
    for said in (
        "28274.3 L at 3000.0 mm, the highest row of 310.",
        "tag Lying tank B",
        "checker not stated",
        "example invented",
        "heights over lowest inside point",
        "tilt level, not tilted, assumed",
        "liquid density unknown",
        "between rows linear between neighbouring rows",
        "expanded uncertainty 42 L at 3000 mm, k = 2",
        "at most 0.21 L or 0.05 mm off",
        "Rows of 0.0 to 9.0 mm are finer than the step.",
        "• finer row than the step, × do not use",
        "300.0 to 420.0 mm, do not use: the floating roof",
        "the outlet 90.0 mm, 247.2 L",
        "the pump's limit unknown",
        "no certificate of a legal calibration",
    ):
        assert said in text, said


def test_a_row_not_to_be_used_bears_its_sign() -> None:
    lines = {line.split()[0]: line for line in table_text(sample.table()).splitlines() if is_row(line)}
    assert "300.0 ×" in lines["300.0"]
    assert "9.0 •" in lines["9.0"]
    assert not {"×", "•"} & set(lines["1000.0"])


@pytest.mark.parametrize("text", HOSTILE, ids=lambda text: ascii(text[:12]))
def test_no_line_is_wider_than_80_columns(text: str) -> None:
    for table in (filled_with(text), filled_with(text, sample.table(600.0))):
        assert max(map(columns_of, table_text(table).splitlines())) <= 80


@given(st.floats(allow_nan=True, allow_infinity=True), st.integers(-2, 30), st.text(max_size=90))
def test_no_number_makes_a_line_wider_than_80_columns(value: float, decimals: int, text: str) -> None:
    column = Column(text, text, decimals, (value, None, -value))
    table = TankTable(sample.head(), column, column, column, column, statement=text)
    lines = table_text(table).splitlines()
    assert max(map(columns_of, lines)) <= 80
    assert figures(column)[0] in " ".join(lines)


@given(st.text(), st.integers(2, 80))
def test_wrapping_loses_no_letter(text: str, columns: int) -> None:
    lines = wrapped(text, columns)
    assert all(columns_of(line) <= columns for line in lines)
    assert "".join(lines).replace(" ", "") == "".join(text.split())


def test_wide_letters_take_two_columns() -> None:
    """Unicode Standard Annex 11: ideographs are wide; a combining mark takes no column (common practice)."""
    assert columns_of("日本") == 4
    assert columns_of("e\u0301m³") == 3


def test_a_table_without_rows_and_conditions_is_a_text() -> None:
    assert table_text(empty()).startswith("The table has no rows.\n")


def test_the_same_table_gives_the_same_text() -> None:
    assert table_text(sample.table()) == table_text(sample.table())
