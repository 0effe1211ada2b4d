"""The page of the tank table: what it holds on, its rows, its chart, and the files it can be had in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from onedatum.foundation.errors import Fault
from onedatum.jobs.page.made import CaseText, made_of
from onedatum.jobs.page.picture import Picture, picture
from onedatum.jobs.paper_of_study import head_of
from onedatum.jobs.table import FORMS, TableOfCase, step_of, table_json, table_of_study
from onedatum.paper.model import Head
from onedatum.paper.table.chart import chart_svg
from onedatum.paper.table.words import Section, column_name, figures, marks, remarks, sections, statement

MOST_SHOWN = 2000
"""Rows shown on the page; the files hold all of them."""


@dataclass(frozen=True)
class RowView:
    """One row: its sign, what that says, its figures."""

    mark: str
    remark: str
    cells: tuple[str, ...]


@dataclass(frozen=True)
class TableView:
    """The table; without one, what stands against it."""

    head: Head
    step: str
    words: str
    names: tuple[str, ...] = ()
    rows: tuple[RowView, ...] = ()
    left_out: int = 0
    sections: tuple[Section, ...] = ()
    chart: Picture | None = None


@dataclass(frozen=True)
class File:
    """A file to be kept by whoever asked for it."""

    name: str
    content: bytes


def table_view(case: CaseText, step: str) -> TableView:
    """The table in rows of a step; an empty step is that of the case."""
    made = _made(case, step)
    if isinstance(made, Fault):
        return TableView(head_of(made_of(case, {}).study), step, made.sentence())
    paper = made.paper
    if paper is None:
        return TableView(head_of(made.study), step, "" if made.fault is None else made.fault.sentence())
    cells = list(zip(*map(figures, paper.columns), strict=True))
    rows = tuple(RowView(*each) for each in zip(marks(paper), remarks(paper), cells, strict=True))
    return TableView(
        head=paper.head,
        step=step,
        words=statement(paper),
        names=tuple(map(column_name, paper.columns)),
        rows=rows[:MOST_SHOWN],
        left_out=max(0, len(rows) - MOST_SHOWN),
        sections=sections(paper)[1:],
        chart=picture(chart_svg(paper), "table"),
    )


def table_file(case: CaseText, step: str, ending: str) -> File | str:
    """The table as a file of that ending; a sentence says what stands against it."""
    made = _made(case, step)
    fault = made if isinstance(made, Fault) else made.fault
    if fault is not None or isinstance(made, Fault) or made.paper is None:
        return "" if fault is None else fault.sentence()
    return File(f"table.{ending}", FORMS[ending](made.paper))


def table_data(case: CaseText, step: str) -> Mapping[str, Any] | str:
    """The table in SI, unrounded; a sentence says what stands against it."""
    made = _made(case, step)
    if isinstance(made, Fault):
        return made.sentence()
    return table_json(made) if made.fault is None else made.fault.sentence()


def _made(case: CaseText, step: str) -> TableOfCase | Fault:
    wanted = step_of(step.strip() or None, "step")
    return wanted if isinstance(wanted, Fault) else table_of_study(made_of(case, {}).study, wanted)
