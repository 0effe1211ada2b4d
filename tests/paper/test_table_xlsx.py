"""The workbook, read back by an independent reader: numbers are numbers, text is text, pages are set for print."""

import io
import subprocess
import sys
import zipfile
from dataclasses import replace
from math import inf, nan
from typing import Any

import pytest
from openpyxl import load_workbook

from onedatum.paper.model import Head
from onedatum.paper.table.as_xlsx import table_xlsx
from onedatum.paper.table.model import Column, TankTable
from tests.closeness import close, exact
from tests.paper import table_sample as sample
from tests.paper.test_document import HOSTILE, path_only
from tests.paper.test_table_model import empty
from tests.paper.test_table_text import filled_with


def opened(table: TankTable) -> Any:
    """The workbook of a table as the reader sees it."""
    return load_workbook(io.BytesIO(table_xlsx(table)))


def column_of(sheet: Any, index: int) -> list[Any]:
    """The values of one column under its name."""
    return [row[0] for row in sheet.iter_rows(min_row=2, min_col=index, max_col=index, values_only=True)]


def test_numbers_are_numbers_with_the_decimals_of_their_column() -> None:
    table = sample.table()
    sheet = opened(table)["Table"]
    for index, column in enumerate(table.columns, 1):
        values = [value for value in column.values if value is not None]
        found = column_of(sheet, index)[: len(values)]
        assert all(type(number) in (int, float) for number in found)
        assert close(found, values, 0.5000001 * 10.0**-column.decimals, "half a unit of the last digit")
        assert close(sum(found), sum(values), 310 * 0.5 * 10.0**-column.decimals, "half a unit for each row")
        assert {cell.number_format for cell in sheet[sheet.cell(2, index).column_letter][1:50]} == {
            "0." + "0" * column.decimals
        }
    assert sheet.cell(311, 3).value is None, "above the highest row there is no slope"
    assert sheet.max_row == 311


def test_names_stand_in_a_frozen_row_that_every_page_repeats() -> None:
    sheet = opened(sample.table())["Table"]
    names = [cell.value for cell in sheet[1]]
    assert names == ["level [mm]", "volume [L]", "per mm to the next row [L/mm]", "remark"]
    assert sheet.freeze_panes == "A2"
    assert sheet.print_title_rows == "$1:$1"
    assert sheet["D2"].value == "finer row"


@pytest.mark.parametrize(("name", "turned"), [("volume", "portrait"), ("volume-of-the-whole-tank", "landscape")])
def test_pages_are_a4_and_numbered(name: str, turned: str) -> None:
    named = replace(sample.table().volume, name=name)
    table = replace(sample.table(), volume=named, slope=named, ullage=named)
    book = opened(table)
    assert book.sheetnames == ["Table", "Conditions"]
    assert book["Table"].page_setup.orientation == turned
    for sheet in book:
        assert int(sheet.page_setup.paperSize) == 9, "A4 in ECMA-376, part 1, 18.3.1.63"
        assert (sheet.page_setup.fitToWidth or 1) == 1
        assert int(sheet.page_setup.fitToHeight) == 0
        assert sheet.oddFooter.right.text == "page &P of &N"
        assert sheet.oddFooter.left.text == "Lying tank B, invented example"


def test_the_other_sheet_says_everything_else() -> None:
    lines = [tuple(v for v in row if v) for row in opened(sample.table())["Conditions"].iter_rows(values_only=True)]
    for said in (
        ("Statement", "28274.3 L at 3000.0 mm, the highest row of 310."),
        ("tag", "Lying tank B"),
        ("checker", "not stated"),
        ("example", "invented"),
        ("Vessel",),
        ("tilt", "level, not tilted, assumed"),
        ("Conditions",),
        ("liquid density", "unknown"),
        ("the outlet", "90.0 mm", "247.2 L"),
        ("the pump's limit", "unknown", "unknown"),
        ("Rows of 0.0 to 9.0 mm are finer than the step.",),
        ("300.0 to 420.0 mm, do not use: the floating roof rests on its legs or floats",),
        ("This is no certificate of a legal calibration; where there is one, it goes before.",),
    ):
        assert said in lines, said


ATTACKS = ["=1+1", "+1", "-1", "@x", '=HYPERLINK("http://x.invalid")', "http://x.invalid", "{=1}", "_x003D_1", "12"]


@pytest.mark.parametrize("text", [*ATTACKS, *HOSTILE], ids=lambda text: ascii(text[:12]))
def test_what_the_user_wrote_stays_text(text: str) -> None:
    data = table_xlsx(filled_with(text))
    book = load_workbook(io.BytesIO(data))
    assert {cell.data_type for sheet in book for row in sheet for cell in row if cell.value is not None} <= {"s", "n"}
    words = [cell for row in book["Conditions"] for cell in row if cell.value is not None]
    assert {cell.data_type for cell in words} == {"s"}
    assert not [cell for cell in words if cell.hyperlink]
    with zipfile.ZipFile(io.BytesIO(data)) as parts:
        sheets = [parts.read(name) for name in parts.namelist() if "worksheets/sheet" in name]
    assert len(sheets) == 2
    assert not [sheet for sheet in sheets if b"<f>" in sheet or b"<hyperlink" in sheet]


def test_an_attack_reads_as_it_was_written() -> None:
    for text in ("=1+1", "@x", "_x003D_1", "日本-Ω⌀1", "a & b <c>"):
        values = [cell for row in opened(filled_with(text))["Conditions"].iter_rows(values_only=True) for cell in row]
        assert values.count(text) > 8, text


@pytest.mark.parametrize("tag", ["R&G", "&[Picture]", "&D&T&F", "12", "&" * 300])
def test_a_tag_is_no_command_in_the_foot(tag: str) -> None:
    """Fields of a foot begin with an ampersand: ECMA-376, part 1, 18.3.1.46."""
    head = Head(tag)
    foot = opened(replace(sample.table(600.0), head=head))["Table"].oddFooter
    assert foot.left.text == tag[:60].replace("&", "＆")
    assert foot.right.text == "page &P of &N"


def test_what_is_no_number_is_an_empty_cell() -> None:
    column = Column("x", "", 1, (nan, inf, None, 2.0, -3e30))
    found = column_of(opened(TankTable(sample.head(), column, column, column))["Table"], 1)
    assert found[:3] == [None, None, None]
    assert exact(found[3:], [2.0, -3e30])


def test_more_rows_than_a_sheet_holds_are_refused() -> None:
    """A sheet has 1 048 576 rows (limit of the common spreadsheets, from memory)."""
    column = Column("x", "", 0, (0.0,) * 1_048_576)
    with pytest.raises(ValueError, match="at most 1048575 rows; got 1048576"):
        table_xlsx(TankTable(sample.head(), column, column, column))


def test_a_table_without_rows_is_a_workbook() -> None:
    assert opened(empty())["Table"].max_row == 1


def test_the_same_table_gives_the_same_bytes() -> None:
    assert table_xlsx(sample.table()) == table_xlsx(sample.table())


def test_the_bytes_hold_no_moment_of_their_making() -> None:
    with zipfile.ZipFile(io.BytesIO(table_xlsx(sample.table()))) as parts:
        assert {part.date_time for part in parts.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        core = parts.read("docProps/core.xml").decode()
    assert core.count("2000-01-01T00:00:00Z") == 2


def test_importing_the_room_loads_neither_workbook_library_nor_typesetter() -> None:
    rooms = ", ".join(f"onedatum.paper.table.as_{form}" for form in ("text", "csv", "xlsx", "pdf"))
    code = f"import sys, {rooms}; print([n for n in ('xlsxwriter', 'typst') if n in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, env=path_only())
    assert done.stdout.strip() == "[]"
