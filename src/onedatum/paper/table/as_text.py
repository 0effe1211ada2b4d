"""The tank table as plain text of at most 80 columns: whose it is, its conditions, the rows, the notes."""

from collections.abc import Iterator

from onedatum.paper.table.lines import columns_of, left, right, wrapped
from onedatum.paper.table.model import Column, TankTable
from onedatum.paper.table.words import (
    FINE_MARK,
    FINE_WORDS,
    LONGEST_NAME,
    LONGEST_UNIT,
    ZONE_MARK,
    ZONE_WORDS,
    Section,
    figures,
    marks,
    plain,
    sections,
    shortened,
    statement,
)

WIDTH = 80
LABEL = 28
INDENT = "  "
BULLET = "  - "
LEAST_COLUMN, LONGEST_NAME_WORD = 8, 14
ROWS_APART, ROWS_UNDER_ONE_HEAD = 10, 50
BEFORE_THE_ROWS = ("Tank table", "Vessel", "Conditions")


def table_text(table: TankTable) -> str:
    """The whole table; numbers stand under each other at the decimal point."""
    parts = sections(table)
    lines = wrapped(plain(statement(table)), WIDTH)
    for part in parts:
        if part.title in BEFORE_THE_ROWS:
            lines += section_lines(part)
    lines += ["", "Table", *table_lines(table)]
    for part in parts:
        if part.title not in BEFORE_THE_ROWS:
            lines += section_lines(part)
    return "\n".join(line.rstrip() for line in lines) + "\n"


def section_lines(section: Section) -> Iterator[str]:
    """An empty line, a title and its lines."""
    yield from ("", section.title)
    for cells in section.lines:
        label, *rest = map(plain, cells)
        yield from labelled(label, ", ".join(dict.fromkeys(rest))) if rest else hanging(label)


def labelled(label: str, value: str) -> Iterator[str]:
    """A label in its column and its value beside it, as many lines as the longer needs."""
    beside = WIDTH - LABEL - len(INDENT)
    lines = [wrapped(label, LABEL - 2), wrapped(value, beside)]
    for i in range(max(map(len, lines))):
        words, figure = (part[i] if i < len(part) else "" for part in lines)
        yield INDENT + left(words, LABEL) + figure


def hanging(text: str) -> Iterator[str]:
    """Text whose further lines stand under its first word."""
    for i, line in enumerate(wrapped(text, WIDTH - len(BULLET))):
        yield (BULLET if i == 0 else " " * len(BULLET)) + line


def table_lines(table: TankTable) -> Iterator[str]:
    """The rows in groups of ten, their head before every fiftieth, and what their signs say."""
    signs = marks(table)
    numbers = [figures(column) for column in table.columns]
    widths = [column_width(column, cells) for column, cells in zip(table.columns, numbers, strict=True)]
    for i, row in enumerate(zip(*numbers, strict=True)):
        if i % ROWS_UNDER_ONE_HEAD == 0:
            yield from ("", *head_lines(table.columns, widths))
        elif i % ROWS_APART == 0:
            yield ""
        yield row_line(row, widths, signs[i])
    yield from legend(signs)


def legend(signs: list[str]) -> Iterator[str]:
    """The signs that stand beside levels, in words."""
    said = ((FINE_MARK, f"{FINE_WORDS} than the step"), (ZONE_MARK, ZONE_WORDS))
    shown = [f"{sign} {words}" for sign, words in said if sign in signs]
    if shown:
        yield from ("", INDENT + ", ".join(shown))


def row_line(row: tuple[str, ...], widths: list[int], sign: str) -> str:
    """One row: the level with its sign, then the other numbers."""
    level, *others = map(right, row, widths)
    return INDENT + level + " " + (sign or " ") + "".join(f"  {number}" for number in others)


def head_lines(columns: tuple[Column, ...], widths: list[int]) -> list[str]:
    """Names over their columns, units beneath them, a rule."""
    stacks = [head_stack(column, width) for column, width in zip(columns, widths, strict=True)]
    high = max(map(len, stacks))
    even = [[""] * (high - len(stack)) + stack for stack in stacks]
    rows = [row_line(row, widths, "") for row in zip(*even, strict=True)]
    return [*rows, INDENT + "-" * (columns_of(rows[-1]) - len(INDENT))]


def head_stack(column: Column, width: int) -> list[str]:
    """The name of a column over its unit, in lines."""
    unit = shortened(plain(column.unit), LONGEST_UNIT)
    return wrapped(short_name(column), width) + (wrapped(f"[{unit}]", width) if unit else [])


def short_name(column: Column) -> str:
    """The name of a column, short enough to stand over it."""
    return shortened(plain(column.name), LONGEST_NAME)


def column_width(column: Column, numbers: list[str]) -> int:
    """Columns that the numbers and the words of the name need."""
    words = [min(columns_of(word), LONGEST_NAME_WORD) for word in short_name(column).split()]
    return max([LEAST_COLUMN, *map(len, numbers), *words])
