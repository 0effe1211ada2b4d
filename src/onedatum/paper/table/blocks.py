"""The rows of a tank table laid out in blocks that stand beside each other on A4, each under its own head."""

from math import ceil
from typing import NamedTuple

from onedatum.paper.table.model import Column, TankTable
from onedatum.paper.table.words import LONGEST_NAME, LONGEST_UNIT, figures, marks, shortened
from onedatum.paper.text import printable, width

SHEET_PT, GUTTER_PT = 521.0, 13.0
SIZE_PT = 8.0
PAD_PT = 2.5
SIGN_PT = 7.0
ROWS_PER_BLOCK = 60
LEAST_ROWS = 10
GROUP = 5
MOST_BLOCKS = 5
LONGEST_WORD = 14

Row = tuple[str, ...]
Block = list[Row]


class Layout(NamedTuple):
    """Widths of the columns of one block, how many blocks stand beside each other, the pages of blocks."""

    widths_pt: tuple[float, ...]
    beside: int
    pages: list[list[Block]]


def layout_of(table: TankTable) -> Layout:
    """As many blocks beside each other as their numbers and names leave room for."""
    cells = [[true_minus(text) for text in figures(column)] for column in table.columns]
    widths = tuple(column_width(*pair) for pair in zip(table.columns, cells, strict=True))
    block_pt = sum(widths) + SIGN_PT
    beside = int((SHEET_PT + GUTTER_PT) // (block_pt + GUTTER_PT))
    beside = min(max(beside, 1), MOST_BLOCKS)
    level, *others = cells
    rows: Block = list(zip(level, marks(table), *others, strict=True))
    level_pt, *other_pt = widths
    return Layout((level_pt, SIGN_PT, *other_pt), beside, pages_of(rows, beside))


def pages_of(rows: Block, beside: int) -> list[list[Block]]:
    """Full pages, then one whose blocks are of one length."""
    full = ROWS_PER_BLOCK * beside
    pages = [rows[i : i + full] for i in range(0, len(rows), full)]
    return [blocks_of(page, beside) for page in pages]


def blocks_of(page: Block, beside: int) -> list[Block]:
    """The rows of one page in blocks of one length, a whole number of groups; only the last may be shorter."""
    length = max(LEAST_ROWS, ceil(len(page) / beside / GROUP) * GROUP)
    return [page[i : i + length] for i in range(0, len(page), length)]


def column_width(column: Column, cells: list[str]) -> float:
    """The width that the longest number and the longest word of the name need, in points."""
    longest = sorted(cells, key=len)[-1:]
    name, unit = head_of(column)
    words = [width(word, SIZE_PT, bold=True) for word in name.replace("\u200b", " ").split()]
    return max([*words, width(unit, SIZE_PT), *(width(text, SIZE_PT) for text in longest), SIZE_PT]) + 2 * PAD_PT


def head_of(column: Column) -> tuple[str, str]:
    """Name and unit of a column, short enough to stand over it; a long word may break."""
    name = shortened(printable(column.name).text, LONGEST_NAME)
    words = (
        "\u200b".join(word[i : i + LONGEST_WORD] for i in range(0, len(word), LONGEST_WORD)) for word in name.split()
    )
    return " ".join(words), shortened(printable(column.unit).text, LONGEST_UNIT)


def true_minus(text: str) -> str:
    """A number with a true minus."""
    return text.replace("-", "−")
