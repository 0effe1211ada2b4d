"""The page on which part may be wrong: rows to be typed or pasted, faults where they belong, the ranking above them.

What was typed stays typed, with a ranking and without one.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from io import StringIO
from typing import Any

from onedatum.foundation.errors import CaseError, Fault, ProvingError, QuantityError
from onedatum.foundation.units import in_print, in_unit, read_one_of, read_quantity
from onedatum.jobs.causes.asked import MOST_WORDS, Asked, fields_of, form_of, instrument_in, priors_of
from onedatum.jobs.causes.found import Found, ranked
from onedatum.jobs.causes.paper import causes_file, which_part_of
from onedatum.jobs.causes.told import causes_json, cautions_of
from onedatum.jobs.page.made import CaseText, made_of
from onedatum.jobs.page.picture import Picture, picture
from onedatum.jobs.paper_of_study import head_of
from onedatum.paper.causes.chart import level_svg, pattern_svg
from onedatum.paper.causes.model import WhichPart
from onedatum.paper.model import Head
from onedatum.proving.causes import MEASURED, UNITS, Row, heads_of, read_rows
from onedatum.study.result import Study

ROWS, MOST_TYPED, MORE = 6, 12, 3
QUICK_ROWS = 12
"""Rows that are ranked in less than half a second."""
MOST_CELL = 60
WAY = "way"
_NAMES = {field: name for name, (field, _) in MEASURED.items()}


@dataclass(frozen=True)
class Cell:
    """A cell of a row."""

    key: str
    label: str
    value: str
    fault: str = ""


@dataclass(frozen=True)
class RowView:
    """A row: how the level came there, then what was read."""

    number: int
    way: Cell
    cells: tuple[Cell, ...]


@dataclass(frozen=True)
class ResultView:
    """A ranking with its charts."""

    paper: WhichPart
    chart: Picture
    patterns: tuple[Picture, ...]


@dataclass(frozen=True)
class CausesView:
    """The form, and the ranking where there is one."""

    head: Head
    heads: tuple[str, ...] = ()
    rows: tuple[RowView, ...] = ()
    texts: Mapping[str, str] | None = None
    faults: tuple[str, ...] = ()
    beside: int = 0
    """Cells and fields with a fault beneath them."""
    apart: Mapping[str, str] | None = None
    """Faults of the fields below the rows."""
    result: ResultView | None = None
    cautions: tuple[str, ...] = ()
    can_grow: bool = False

    def typed(self, key: str) -> str:
        """What stands in a field below the rows."""
        return (self.texts or {}).get(key, "")

    def fault(self, key: str) -> str:
        """What is wrong with it."""
        return (self.apart or {}).get(key, "")


class FieldError(Exception):
    """What cannot be read, by the key of its field or cell; an empty key for what belongs to none."""

    def __init__(self, told: Sequence[tuple[str, Fault]]) -> None:
        super().__init__("; ".join(str(fault) for _, fault in told))
        self.told = tuple(told)


def is_long(texts: Mapping[str, str]) -> bool:
    """Whether ranking takes so long that it is made in the background."""
    return len(texts.get("lines", "").strip().splitlines()) > QUICK_ROWS + 1


def causes_view(case: CaseText, texts: Mapping[str, str]) -> CausesView:
    """The form with what is typed so far, without a ranking."""
    return _form(made_of(case, {}).study, texts)


def begun_view(case: CaseText, dip: str, meter: str) -> CausesView:
    """The form with the first row as it stands on the card of the signal; what cannot be read is left empty."""
    return causes_view(case, _first_row(dip, meter))


def ranked_view(case: CaseText, texts: Mapping[str, str]) -> CausesView:
    """The ranking above the form; with faults the form alone, everything as it was typed."""
    study = made_of(case, {}).study
    found = _found(study, texts)
    if isinstance(found, CausesView):
        return found
    paper = which_part_of(found)
    patterns = [picture(pattern_svg(each), f"pattern{at}") for at, each in enumerate(paper.patterns)]
    result = ResultView(paper, picture(level_svg(paper.chart), "level"), tuple(patterns))
    return replace(_form(study, texts), result=result)


def paper_file(case: CaseText, texts: Mapping[str, str]) -> bytes | CausesView:
    """The paper; with faults the form."""
    found = _found(made_of(case, {}).study, texts)
    return found if isinstance(found, CausesView) else causes_file(found)


def form_file(case: CaseText) -> bytes:
    """The empty form as a file of lines; raises CaseError."""
    return form_of(made_of(case, {}).study)


def causes_data(case: CaseText, rows: Sequence[Mapping[str, Any]], change: str, priors: str) -> dict[str, Any]:
    """The ranking in SI, unrounded; raises CaseError, ProvingError."""
    own = priors_of(priors, "priors") if priors.strip() else None
    asked = Asked(tuple(Row(**row) for row in rows), change, own, "priors" if own else "")
    return causes_json(ranked(made_of(case, {}).study, asked))


# ---------------------------------------------------------------- what was typed


def _found(study: Study, texts: Mapping[str, str]) -> Found | CausesView:
    """The ranking of what was typed, or the form with what is wrong."""
    try:
        fields = fields_of(instrument_in(study))
        return ranked(study, _asked(fields, texts))
    except FieldError as error:
        return _form(study, texts, error.told)
    except (CaseError, ProvingError) as error:
        return _form(study, texts, [("", fault) for fault in error.faults])


def _asked(fields: Sequence[str], texts: Mapping[str, str]) -> Asked:
    told: list[tuple[str, Fault]] = []
    rows: tuple[Row, ...] = ()
    priors = None
    change = texts.get("recent", "").strip()
    try:
        rows = _pasted(texts) if texts.get("lines", "").strip() else _typed(fields, texts)
    except FieldError as error:
        told += error.told
    if len(change) > MOST_WORDS:
        told.append(("recent", Fault("the change", f"at most {MOST_WORDS} letters", f"{len(change)}")))
    if texts.get("priors", "").strip():
        try:
            priors = priors_of(texts["priors"], "priors")
        except (CaseError, ProvingError) as error:
            told += [("priors", fault) for fault in error.faults]
    if told:
        raise FieldError(told)
    return Asked(rows, change, priors, "a table" if priors else "")


def _typed(fields: Sequence[str], texts: Mapping[str, str]) -> tuple[Row, ...]:
    """The rows that say something; raises FieldError with faults at their cells."""
    out = StringIO()
    lines = csv.writer(out, lineterminator="\n")
    lines.writerow(heads_of(fields))
    rows = []
    for at in range(_count(texts)):
        cells = [" ".join(texts.get(f"r{at}.{key}", "").split())[:MOST_CELL] for key in (WAY, *fields)]
        if any(cells[1:]):
            rows.append(at)
            lines.writerow(cells)
    if not rows:
        raise FieldError([("", Fault("the readings", "typed in", "nothing", "there is nothing to rank by"))])
    try:
        return read_rows(out.getvalue(), "readings")
    except ProvingError as error:
        raise FieldError([_at_cell(fault, rows, (WAY, *fields)) for fault in error.faults]) from None


def _at_cell(fault: Fault, rows: Sequence[int], keys: Sequence[str]) -> tuple[str, Fault]:
    """A fault of a line at the cell that it came from."""
    at, bare = "", replace(fault, path="the reading", place=None)
    if fault.place is not None and 2 <= fault.place.line < len(rows) + 2 and 1 <= fault.place.column <= len(keys):
        at = f"r{rows[fault.place.line - 2]}.{keys[fault.place.column - 1]}"
    return at, bare


def _pasted(texts: Mapping[str, str]) -> tuple[Row, ...]:
    try:
        return read_rows(texts["lines"].strip(), "lines")
    except ProvingError as error:
        raise FieldError([("lines", fault) for fault in error.faults]) from None


def _count(texts: Mapping[str, str]) -> int:
    """How many rows the form has."""
    text = texts.get("rows", "")
    wanted = int(text) if text.isascii() and text.isdigit() and len(text) < 4 else ROWS
    return min(max(wanted + (MORE if "more" in texts else 0), ROWS), MOST_TYPED)


def _first_row(dip: str, meter: str) -> dict[str, str]:
    texts: dict[str, str] = {}
    with suppress(QuantityError):
        texts["r0.dip_m"] = f"{in_unit(read_quantity(dip, 'length'), 'mm'):.7g}"
    with suppress(QuantityError):
        value, kind = read_one_of(meter, ("current", "voltage"))
        field = "current_A" if kind == "current" else "voltage_V"
        texts[f"r0.{field}"] = f"{in_unit(value, UNITS[field]):.7g}"
    return texts


# ---------------------------------------------------------------- the form


def _form(study: Study, texts: Mapping[str, str], wrongs: Sequence[tuple[str, Fault]] = ()) -> CausesView:
    head = head_of(study)
    try:
        fields = fields_of(instrument_in(study))
    except CaseError as error:
        said = tuple(in_print(fault.sentence()) for fault in error.faults)
        return CausesView(head, faults=said, cautions=cautions_of())
    told: dict[str, str] = {}
    for key, fault in wrongs:
        told[key] = " ".join(filter(None, (told.get(key, ""), in_print(str(fault))))) if key else told.get(key, "")
    rows = tuple(_row(at, fields, texts, told) for at in range(_count(texts)))
    shown = {cell.key for row in rows for cell in (row.way, *row.cells)} | {"lines", "recent", "priors"}
    return CausesView(
        head,
        tuple(in_print(f"{_NAMES[field]}, {UNITS[field]}") for field in fields),
        rows,
        dict(texts),
        tuple(in_print(str(fault)) for key, fault in wrongs if key not in shown),
        len(shown & set(told)),
        told,
        cautions=cautions_of(),
        can_grow=len(rows) < MOST_TYPED,
    )


def _row(at: int, fields: Sequence[str], texts: Mapping[str, str], told: Mapping[str, str]) -> RowView:
    def cell(key: str, words: str) -> Cell:
        own = f"r{at}.{key}"
        return Cell(own, in_print(f"{words}, row {at + 1}"), texts.get(own, ""), told.get(own, ""))

    cells = tuple(cell(field, f"{_NAMES[field]}, {UNITS[field]}") for field in fields)
    return RowView(at + 1, cell(WAY, "how the level came there"), cells)
