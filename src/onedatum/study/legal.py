"""Chapter legal: what is reached beside the limits of the law that the case names, each with its source and tag."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.case.leaf import Word
from onedatum.foundation.working import Entry
from onedatum.physics.overfill import margin_m
from onedatum.physics.quantity import GaugeLimit, TableLimit, gauge_limits, table_limits
from onedatum.physics.uncertainty import share_margin
from onedatum.study.desk import Desk

FROM_MEMORY = "from memory"


@dataclass(frozen=True)
class LegalLine:
    """One limit: its row, the limit at this level, what is reached, and the key of the check that compares them."""

    row: GaugeLimit | TableLimit
    limit: Entry
    reached: Entry
    check: str


def legal_chapter(desk: Desk, level_u: Entry) -> tuple[LegalLine, ...]:
    """Compare the level and the table with the limits chosen."""
    chosen = desk.case.legal
    lines = [_gauge(desk, chosen.gauge, level_u), _table(desk, chosen.table)]
    return tuple(line for line in lines if line is not None)


def _gauge(desk: Desk, chosen: Word, level_u: Entry) -> LegalLine | None:
    """The level's expanded uncertainty against the error allowed of the gauge at this level."""
    desk.read.add(chosen.path)
    row = next((row for row in gauge_limits() if row.key == chosen.word), None)
    if row is None:
        return None
    level = desk.sheet["level_now"]
    limit = desk.sheet.record(
        "legal.gauge_limit",
        None if level.value is None else row.limit_m(level.value),
        "m",
        f"limit for the level gauge: {row.words}",
        method=f"{row.rule}; {row.note}" if row.note else row.rule,
        source=row.citation,
        rests_on=[level],
        shown="mm",
    )
    margin = desk.calc(
        "legal.gauge_margin",
        margin_m,
        shown="mm",
        meaning="from the uncertainty to the limit",
        limit_m=limit,
        value_m=level_u,
    )
    words = (
        "the uncertainty of the level lies within the limit chosen for the gauge",
        "The uncertainty of the level exceeds the limit chosen for the gauge",
    )
    desk.compare("legal-gauge", words, level_u, "at most", limit, margin, remark=row.tag == FROM_MEMORY)
    return LegalLine(row, limit, level_u, "legal-gauge")


def _table(desk: Desk, chosen: Word) -> LegalLine | None:
    """The table's expanded uncertainty against the limit for tables of its kind."""
    desk.read.add(chosen.path)
    row = next((row for row in table_limits() if row.key == chosen.word), None)
    if row is None:
        return None
    reached = desk.take(desk.case.table.U, "%value")
    limit = desk.sheet.give(
        "legal.table_limit",
        row.limit,
        "",
        f"limit for the tank table: {row.words}",
        state="constant",
        shown="%value",
        note=row.note,
        source=row.citation,
    )
    margin = desk.calc("legal.table_margin", share_margin, shown="%", limit=limit, value=reached)
    words = (
        "the uncertainty of the table lies within the limit chosen for it",
        "The uncertainty of the table exceeds the limit chosen for it",
    )
    desk.compare("legal-table", words, reached, "at most", limit, margin, remark=row.tag == FROM_MEMORY)
    return LegalLine(row, limit, reached, "legal-table")
