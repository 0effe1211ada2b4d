"""The tank table as CSV (RFC 4180): one line of names with their units, then the rows, a point as decimal mark.

Conditions are not in it: a line that is no row would break its readers. Spreadsheets take a cell that begins with
= + - or @ for a formula, also behind a semicolon where that parts their columns: an apostrophe before it keeps the
text a text.
"""

import csv
import io
import re

from onedatum.paper.table.model import TankTable
from onedatum.paper.table.words import NOTHING, column_name, figures, plain, remarks

REMARK = "remark"
FORMULA = re.compile(r"(^|;)([\s\"']*)(?=[=+\-@＝＋－＠])")


def table_csv(table: TankTable) -> str:
    """One header line and one line for each row, each ended by CR LF; a number that is missing is an empty cell."""
    file = io.StringIO(newline="")
    writer = csv.writer(file, lineterminator="\r\n")
    writer.writerow([*(safe(column_name(column)) for column in table.columns), REMARK])
    writer.writerows(zip(*map(cells, map(figures, table.columns)), map(safe, remarks(table)), strict=True))
    return file.getvalue()


def cells(numbers: list[str]) -> list[str]:
    """The numbers of a column, empty where there is none."""
    return ["" if number == NOTHING else number for number in numbers]


def safe(text: str) -> str:
    """Text that no spreadsheet takes for a formula."""
    return FORMULA.sub(r"\1\2'", plain(text))
