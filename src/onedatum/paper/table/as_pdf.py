"""The tank table as an accessible PDF: what it holds on first, then its rows in blocks beside each other."""

from onedatum.paper.data import Data, drawing_data, foot_data, plain
from onedatum.paper.table.blocks import Block, head_of, layout_of
from onedatum.paper.table.chart import chart_svg
from onedatum.paper.table.model import Line, TankTable
from onedatum.paper.table.words import (
    FINE_MARK,
    FINE_WORDS,
    UNKNOWN,
    ZONE_MARK,
    ZONE_WORDS,
    fine_sentences,
    shortened,
    span,
    statement,
    value_of,
    zone_sentences,
)
from onedatum.paper.text import missing_sentence
from onedatum.paper.typeset import typeset

TEMPLATE = "table.typ"
MOST_MISSING = 40
MOST_IN_LEGEND = 60


def table_pdf(table: TankTable) -> bytes:
    """The whole table as PDF/UA-1; the same bytes for the same table."""
    return typeset(TEMPLATE, table_data(table))


def table_data(table: TankTable) -> Data:
    """Everything the template prints, each text reduced to what the fonts hold; what that cost joins the cautions."""
    missing: dict[str, None] = {}
    said = {
        "head": table.head,
        "statement": statement(table),
        "vessel": tuple(map(pair, table.vessel)),
        "conditions": tuple(map(pair, table.conditions)),
        "heels": tuple((heel.label, heel.level or UNKNOWN, heel.volume or UNKNOWN) for heel in table.heels),
        "interpolation": (*table.interpolation, *fine_sentences(table)),
        "zones": zone_sentences(table),
        "cautions": table.cautions,
        "names": tuple(word for column in table.columns for word in (column.name, column.unit)),
    }
    data: Data = {name: plain(value, missing) for name, value in said.items()}
    if missing:
        data["cautions"] = [*data["cautions"], missing_sentence("The table", tuple(missing)[:MOST_MISSING])]
    data["foot"] = foot_data(data["head"])
    data["over"] = shortened(data["head"]["datum"], MOST_IN_LEGEND)
    return data | {"chart": drawing_data(chart_svg(table)), "table": rows_data(table)}


def pair(line: Line) -> tuple[str, str, str]:
    """Label, value and state of a line."""
    value = value_of(line)
    return line.label, value, UNKNOWN if value == UNKNOWN else line.state


def rows_data(table: TankTable) -> Data:
    """The rows in pages of blocks, with the names over them."""
    layout = layout_of(table)
    unit = head_of(table.level)[1]
    return {
        "heads": list(map(head_of, table.columns)),
        "widths": layout.widths_pt,
        "beside": layout.beside,
        "not_to_be_used": ZONE_MARK,
        "pages": [{"levels": levels_of(page, unit), "legend": legend(page), "blocks": page} for page in layout.pages],
    }


def legend(page: list[Block]) -> list[tuple[str, str]]:
    """The signs of a page, each with its words."""
    signs = {row[1] for block in page for row in block}
    said = ((FINE_MARK, f"{FINE_WORDS} than the step"), (ZONE_MARK, f"{ZONE_WORDS}, see the first page"))
    return [pair for pair in said if pair[0] in signs]


def levels_of(page: list[Block], unit: str) -> str:
    """The lowest and highest level of a page."""
    return span(page[0][0][0], page[-1][-1][0], unit)
