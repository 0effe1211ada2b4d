"""The tank table as a workbook: numbers as numbers on one sheet, what they hold on on the other.

Text is always written as text, so nothing the user wrote becomes a formula or a link. The numbers are those that the
other papers print, rounded alike. The workbook library is imported on first use.
"""

import io
from collections.abc import Iterable
from datetime import datetime
from itertools import count
from typing import TYPE_CHECKING, Any

from onedatum.paper.table.model import Column, TankTable
from onedatum.paper.table.words import column_name, held_decimals, plain, printed, remarks, sections, statement

if TYPE_CHECKING:
    from xlsxwriter import Workbook
    from xlsxwriter.worksheet import Worksheet

TABLE, CONDITIONS, REMARK = "Table", "Conditions", "remark"
CREATED = datetime(2000, 1, 1)  # a fixed day: the same bytes for the same table
A4 = 9
LEAST_WIDTH, MOST_WIDTH = 11, 24
REMARK_WIDTH = 26
UPRIGHT_WIDTH = 90  # what A4 takes upright, in widths of a digit
LABEL_WIDTH, VALUE_WIDTH, LAST_WIDTH = 30, 46, 22
LONGEST_IN_FOOT = 60
MOST_ROWS = 2**20 - 1  # a sheet has 2^20 rows, one of which bears the names
OPTIONS = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}


def table_xlsx(table: TankTable) -> bytes:
    """The whole workbook; the same bytes for the same table. Raises ValueError where a sheet cannot hold the rows."""
    if len(table.level.values) > MOST_ROWS:
        raise ValueError(f"a sheet must be of at most {MOST_ROWS} rows; got {len(table.level.values)}")
    from xlsxwriter import Workbook

    file = io.BytesIO()
    with Workbook(file, OPTIONS) as book:
        book.set_properties({"title": "Tank table", "subject": plain(table.head.tag), "created": CREATED})
        rows, conditions = book.add_worksheet(TABLE), book.add_worksheet(CONDITIONS)
        wide = fill_rows(book, rows, table)
        fill_conditions(book, conditions, table)
        for sheet in (rows, conditions):
            set_page(sheet, table)
        if wide > UPRIGHT_WIDTH:
            rows.set_landscape()
    return file.getvalue()


def fill_rows(book: "Workbook", sheet: "Worksheet", table: TankTable) -> int:
    """Names in the first row, which stays in view and stands on every page; then the numbers and the remarks.

    Gives how wide the columns are together.
    """
    head = book.add_format({"bold": True, "text_wrap": True, "align": "right", "valign": "bottom", "bottom": 1})
    words = book.add_format({"bold": True, "valign": "bottom", "bottom": 1, "indent": 1})
    wide = REMARK_WIDTH
    for index, column in enumerate(table.columns):
        numbers = printed(column)
        width = width_of(column, numbers)
        wide += width
        sheet.write_string(0, index, column_name(column), head)
        sheet.set_column(index, index, width)
        write_numbers(sheet, index, numbers, book.add_format({"num_format": number_format(column.decimals)}))
    last = len(table.columns)
    sheet.write_string(0, last, REMARK, words)
    sheet.set_column(last, last, REMARK_WIDTH)
    write_words(sheet, last, remarks(table), book.add_format({"indent": 1}))
    sheet.freeze_panes(1, 0)
    sheet.repeat_rows(0)
    return wide


def write_numbers(sheet: "Worksheet", index: int, numbers: Iterable[float | None], style: Any) -> None:
    """The numbers of one column from the second row on; an empty cell where there is none."""
    for row, number in enumerate(numbers, 1):
        if number is not None:
            sheet.write_number(row, index, number, style)


def write_words(sheet: "Worksheet", index: int, words: Iterable[str], style: Any) -> None:
    """The words of one column from the second row on."""
    for row, said in enumerate(words, 1):
        if said:
            sheet.write_string(row, index, said, style)


def fill_conditions(book: "Workbook", sheet: "Worksheet", table: TankTable) -> None:
    """Everything but the rows: a title for each section, labels in the first column, what is said beside them."""
    title = book.add_format({"bold": True, "bottom": 1})
    body = book.add_format({"text_wrap": True, "valign": "top"})
    for index, width in enumerate((LABEL_WIDTH, VALUE_WIDTH, LAST_WIDTH)):
        sheet.set_column(index, index, width)
    rows = count()
    write_line(sheet, next(rows), ("Statement", statement(table)), body)
    for section in sections(table):
        next(rows)
        write_line(sheet, next(rows), (section.title, "", ""), title)
        for cells in section.lines:
            write_line(sheet, next(rows), cells if len(cells) > 1 else ("", *cells), body)


def write_line(sheet: "Worksheet", row: int, cells: tuple[str, ...], style: Any) -> None:
    """One line of text cells."""
    for index, words in enumerate(cells):
        sheet.write_string(row, index, plain(words), style)


def set_page(sheet: "Worksheet", table: TankTable) -> None:
    """A4, as wide as the sheet, with the tag and the number of the page at its foot."""
    sheet.set_paper(A4)
    sheet.set_portrait()
    sheet.fit_to_pages(1, 0)
    invented = ", invented example" if table.head.invented else ""
    # An ampersand is a command in a foot of a page and cannot be written safely in all places: its wide form is.
    tag = plain(table.head.tag)[:LONGEST_IN_FOOT].replace("&", "＆")
    sheet.set_footer(f"&L{tag}{invented}&Rpage &P of &N")


def width_of(column: Column, numbers: Iterable[float | None]) -> int:
    """How wide a column of the sheet is: as its longest number and the longest word of its name, within reason."""
    needed = [len(f"{number:.{held_decimals(column.decimals)}f}") for number in numbers if number is not None]
    return min(max([LEAST_WIDTH, *needed, *map(len, column_name(column).split())]) + 1, MOST_WIDTH)


def number_format(decimals: int) -> str:
    """The format of a spreadsheet for so many decimals."""
    places = held_decimals(decimals)
    return "0." + "0" * places if places else "0"
