"""The CSV: read back by the reader of the standard library, safe to open in a spreadsheet."""

import csv
import io
from dataclasses import replace
from math import nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.paper.table.as_csv import safe, table_csv
from onedatum.paper.table.model import Column, TankTable, Zone
from tests.closeness import close
from tests.paper import table_sample as sample
from tests.paper.test_document import HOSTILE
from tests.paper.test_table_text import filled_with


def read(text: str) -> list[list[str]]:
    """All lines by the strict reader."""
    return list(csv.reader(io.StringIO(text, newline=""), strict=True))


def test_one_header_line_then_the_rows() -> None:
    head, *rows = read(table_csv(sample.table()))
    assert head == ["level [mm]", "volume [L]", "per mm to the next row [L/mm]", "remark"]
    assert len(rows) == 310
    assert {len(row) for row in rows} == {4}


def test_the_numbers_are_those_of_the_record() -> None:
    table = replace(sample.table(), ullage=Column("ullage", "mm", 0, tuple(3000 - h for h in sample.levels_mm(10.0))))
    _, *rows = read(table_csv(table))
    for i, column in enumerate(table.columns):
        found = [float(row[i]) for row in rows if row[i]]
        exact = [value for value in column.values if value is not None]
        unit = 10.0**-column.decimals
        assert close(found, exact, 0.5000001 * unit, "half a unit of the last digit")
        assert close(sum(found), sum(exact), 310 * 0.5 * unit, "half a unit for each row")
    assert rows[-1][2] == "", "above the highest row there is none"


def test_every_line_ends_in_cr_lf_and_the_mark_is_a_point() -> None:
    """RFC 4180, section 2, rules 1 and 2."""
    text = table_csv(sample.table())
    assert text.endswith("\r\n")
    assert text.count("\r\n") == text.count("\n") == text.count("\r") == 311
    assert text.splitlines()[1] == "0.0,0.0,0.292,finer row"


def test_a_cell_with_commas_and_quotes_is_one_cell() -> None:
    table = replace(sample.table(), zones=(Zone(300.0, 300.0, 'roof, "landed"\nhere'),))
    rows = read(table_csv(table))
    assert [row[3] for row in rows if row[0] == "300.0"] == ['do not use: roof, "landed" here']


@pytest.mark.parametrize(
    "text", ["=1+1", "+1", "-1", "@x", " =1+1", "\t=1+1", "＝1", '="a"', "a;=1+1", 'a;"=1+1', "a; @x"]
)
def test_no_cell_can_be_a_formula(text: str) -> None:
    """As the OWASP page on CSV injection lists them; the parting at semicolons is common practice, no source."""
    for cell in safe(text).replace('"', "").split(";"):
        assert not cell.strip().startswith(("=", "+", "-", "@", "＝", "＋", "－", "＠"))
    cells = [cell for row in read(table_csv(filled_with(text))) for cell in row if not is_number(cell)]
    assert len(cells) > 4
    assert not [cell for cell in cells if cell.startswith(("=", "+", "-", "@", "\t", "\r"))]


def is_number(cell: str) -> bool:
    """Whether a cell reads as a number."""
    try:
        float(cell)
    except ValueError:
        return False
    return True


def test_harmless_text_keeps_its_letters() -> None:
    assert safe("do not use: -5 to 3 mm") == "do not use: -5 to 3 mm"


def test_a_negative_level_stays_a_number() -> None:
    column = Column("level", "mm", 0, (-120.0, nan, 0.0))
    rows = read(table_csv(TankTable(sample.head(), column, column, column)))
    assert [row[0] for row in rows[1:]] == ["-120", "", "0"]


@pytest.mark.parametrize("text", HOSTILE, ids=lambda text: ascii(text[:12]))
def test_hostile_text_breaks_no_row(text: str) -> None:
    rows = read(table_csv(filled_with(text)))
    assert {len(row) for row in rows} == {5}
    assert len(rows) == 71, "one header, ten finer rows, sixty steps"


@given(st.text())
def test_any_text_comes_back_as_one_cell(text: str) -> None:
    table = replace(sample.table(600.0), zones=(Zone(600.0, 600.0, text),))
    found = [row[3] for row in read(table_csv(table)) if row[0] == "600.0"]
    assert found == [safe(f"do not use: {text}")]


def test_the_same_table_gives_the_same_text() -> None:
    assert table_csv(sample.table()) == table_csv(sample.table())
