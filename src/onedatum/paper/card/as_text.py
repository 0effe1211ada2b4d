"""The card as text, and as CSV (RFC 4180) for programs."""

import csv
import io
from collections.abc import Iterator

from onedatum.paper.card.model import Card, Row
from onedatum.paper.table.as_csv import safe
from onedatum.paper.table.lines import columns_of, left, right, wrapped
from onedatum.paper.table.words import plain

WIDTH = 80
ASSUMED = "Some of these numbers rest on an assumed value."


def card_text(card: Card) -> str:
    """The whole card, at most 80 columns wide where its names allow."""
    return "\n".join(line.rstrip() for line in _lines(card)) + "\n"


def card_csv(card: Card) -> str:
    """One header line, then the marks and the rows, each ended by CR LF; what has no value is an empty cell."""
    file = io.StringIO(newline="")
    writer = csv.writer(file, lineterminator="\r\n")
    writer.writerow([*(safe(name) for name in card.columns), "mark"])
    for row in (*card.marks, *card.rows):
        writer.writerow([*(_bare(cell) for cell in row.cells), safe(row.name)])
    return file.getvalue()


def _bare(cell: str) -> str:
    """A number with a minus sign that programs read; nothing for what is no number."""
    text = cell.replace("\u2212", "-")
    return text if any(char.isdigit() for char in text) else ""


def _lines(card: Card) -> Iterator[str]:
    yield from wrapped(plain(f"{card.title}  {card.head.tag}  {card.head.service}"), WIDTH)
    for fact in card.facts:
        yield from wrapped(plain(fact), WIDTH)
    widths = [
        max(columns_of(plain(text)) for text in column)
        for column in zip(card.columns, *(row.cells for row in (*card.marks, *card.rows)), strict=True)
    ]
    for title, rows in (("Marks", card.marks), (f"Every {card.step}", card.rows)):
        yield from ("", title, _row(Row("", card.columns), widths))
        yield from (_row(row, widths) for row in rows)
    yield ""
    for words in (*((ASSUMED,) if card.assumed else ()), *card.cautions):
        yield from wrapped(plain(words), WIDTH)


def _row(row: Row, widths: list[int]) -> str:
    cells = "  ".join(right(plain(cell), width) for cell, width in zip(row.cells, widths, strict=True))
    return f"{cells}  {left(plain(row.name), 1)}"
