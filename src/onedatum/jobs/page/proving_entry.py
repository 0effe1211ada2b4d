"""The form that a calibration is entered with: planned readings as rows, fields beside them, faults where they belong.

What was typed stays typed until it is recorded.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from io import StringIO

from onedatum.foundation.errors import Fault, OnedatumError, ProvingError
from onedatum.foundation.units import in_print
from onedatum.foundation.units.grammar import quoted
from onedatum.jobs.page.made import CaseText, made_of
from onedatum.jobs.page.proving import place_of
from onedatum.jobs.paper_of_study import head_of
from onedatum.jobs.proving.entry import (
    BESIDE,
    KINDS,
    METER,
    REFERENCE,
    RUN,
    USUAL,
    EntryError,
    Field,
    Kind,
    Wrong,
    field_faults,
)
from onedatum.jobs.proving.plan import Wished, plan_of
from onedatum.jobs.proving.records import Correction, record_run
from onedatum.jobs.proving.told import MILLIMETRE_M, mm, written_json
from onedatum.paper.model import Head
from onedatum.proving import RULES, Plan, Reading, read_readings
from onedatum.study.result import Study

COLUMNS = (
    ("reference", "reference level [mm]", "reference, mm"),
    ("current", "shown current [mA]", "current, mA"),
    ("level", "shown level [mm]", "level shown, mm"),
    ("time", "time", "time"),
)
"""Key of a cell, the column of the file of readings, the head on the page."""
_AT = {"reference_m": "reference", "reference_A": "reference", "shown_A": "current", "shown_m": "level", "at": "time"}
GROUPS: tuple[tuple[str, tuple[Field, ...]], ...] = (
    ("Run", RUN),
    ("Reference", REFERENCE),
    ("Meter of the loop current", METER),
    ("Judging and keeping", BESIDE),
)
MOST_CELL = 60


@dataclass(frozen=True)
class FieldView:
    """A field with what is typed in it and what is wrong with it."""

    key: str
    label: str
    value: str
    example: str
    kind: str
    needed: bool
    fault: str
    choices: tuple[str, ...] = ()


@dataclass(frozen=True)
class Cell:
    """A cell of a reading."""

    key: str
    label: str
    value: str
    fault: str


@dataclass(frozen=True)
class RowView:
    """A planned reading."""

    cycle: int
    direction: str
    point: str
    level: str
    cells: tuple[Cell, ...]


@dataclass(frozen=True)
class EntryView:
    """The form; `recorded` the number of the record once it is written."""

    head: Head
    wished: Wished
    version: str
    kind: str
    groups: tuple[tuple[str, tuple[FieldView, ...]], ...] = ()
    rows: tuple[RowView, ...] = ()
    heads: tuple[str, ...] = tuple(head for _, _, head in COLUMNS)
    faults: tuple[str, ...] = ()
    corrects: str = ""
    reason: str = ""
    points: str = ""
    """Lines of a file that were pasted in place of the rows."""
    beside: int = 0
    """Fields and cells with a fault beneath them."""
    recorded: int | None = None


def entry_view(case: CaseText, wished: Wished, kind: str, corrects: str = "") -> EntryView:
    """The empty form, or why there is none."""
    return _form(case, wished, kind, {**USUAL, "corrects": corrects}, ())


def recorded(case: CaseText, wished: Wished, kind: str, version: str, texts: Mapping[str, str]) -> EntryView:
    """Judge and record what was typed; with faults the form again, everything as it was typed."""
    if version != case.version:
        why = "the case has changed since this form was made; range or tolerance may be others"
        fault = Fault("the case", "as it was when the points were planned", "another version", why)
        remedy = " Look at the points again, then record."
        return _form(case, wished, kind, texts, (Wrong("", fault),), remedy)
    fields = {field.key: texts.get(field.key, "") for _, fields in GROUPS for field in fields}
    lines: list[int] = []
    try:
        study = made_of(case, {}).study
        plan = plan_of(study, wished)
        lines, readings = _read(plan, texts, study, KINDS[kind], fields)
        written = record_run(place_of(case), study, plan, KINDS[kind], fields, readings, _correction(texts))
    except EntryError as error:
        return _form(case, wished, kind, texts, [_in_row(wrong, lines) for wrong in error.wrongs])
    except ProvingError as error:
        return _form(case, wished, kind, texts, [Wrong("", fault) for fault in error.faults])
    except OnedatumError as error:
        return _form(case, wished, kind, texts, (), str(error))
    return EntryView(head_of(study), wished, version, kind, recorded=written.calibration.record.id)


def recorded_data(
    case: CaseText, wished: Wished, kind: str, fields: Mapping[str, str], points: str, correction: Correction | None
) -> dict[str, object]:
    """The same from fields and a file of readings, as data; raises what stands against it."""
    study = made_of(case, {}).study
    plan = plan_of(study, wished)
    readings = read_readings(points, "points")
    return dict(written_json(record_run(place_of(case), study, plan, KINDS[kind], fields, readings, correction)))


# ---------------------------------------------------------------- what was typed


def planned(plan: Plan) -> list[tuple[int, str, str, float]]:
    """Cycle, direction, name and level of every planned reading, in the order in which the level goes."""
    points = sorted(plan.points, key=lambda point: point.level_m)
    return [
        (cycle, direction, point.name, point.level_m)
        for cycle in range(1, plan.cycles + 1)
        for direction in plan.directions
        for point in (points if direction == "up" else reversed(points))
    ]


def _read(
    plan: Plan, texts: Mapping[str, str], study: Study, kind: Kind, fields: Mapping[str, str]
) -> tuple[list[int], tuple[Reading, ...]]:
    """The readings as typed or pasted; raises EntryError with their faults and those of the fields in one pass."""
    try:
        return _pasted(texts) if texts.get("points", "").strip() else _readings(plan, texts)
    except EntryError as error:
        raise EntryError([*error.wrongs, *field_faults(study, kind, fields)]) from None


def _readings(plan: Plan, texts: Mapping[str, str]) -> tuple[list[int], tuple[Reading, ...]]:
    """The readings of the rows that say something, and the row of each; raises EntryError, faults at their cells."""
    out = StringIO()
    lines = csv.writer(out, lineterminator="\n")
    lines.writerow(["cycle", "direction", *(column for _, column, _ in COLUMNS)])
    rows: list[int] = []
    for number, (cycle, direction, _, _) in enumerate(planned(plan)):
        cells = [texts.get(f"r{number}.{key}", "").strip() for key, _, _ in COLUMNS]
        if any(cells):
            rows.append(number)
            lines.writerow([cycle, direction, *(" ".join(cell.split())[:MOST_CELL] for cell in cells)])
    if not rows:
        raise EntryError([Wrong("", Fault("the readings", "typed in", "nothing", "there is nothing to judge"))])
    try:
        return rows, read_readings(out.getvalue(), "readings")
    except ProvingError as error:
        raise EntryError([_of_line(fault, rows) for fault in error.faults]) from None


def _pasted(texts: Mapping[str, str]) -> tuple[list[int], tuple[Reading, ...]]:
    """The readings of the lines of a file that were pasted; raises EntryError with line and column of each fault."""
    try:
        return [], read_readings(texts["points"], "lines")
    except ProvingError as error:
        raise EntryError([Wrong("points", fault) for fault in error.faults]) from None


def _of_line(fault: Fault, rows: Sequence[int]) -> Wrong:
    """A fault of a line at the cell it came from."""
    at, bare = "", Fault("the reading", fault.allowed, fault.got, fault.why, remedy=fault.remedy)
    if fault.place is not None and 2 <= fault.place.line < len(rows) + 2 and fault.place.column >= 3:
        column = min(fault.place.column - 3, len(COLUMNS) - 1)
        at = f"r{rows[fault.place.line - 2]}.{COLUMNS[column][0]}"
    return Wrong(at, bare)


def _in_row(wrong: Wrong, rows: Sequence[int]) -> Wrong:
    """A fault of a reading at the cell of its row."""
    number, dot, column = wrong.at.partition(".")
    if not dot or not number.isdigit() or int(number) >= len(rows):
        return wrong
    return Wrong(f"r{rows[int(number)]}.{_AT.get(column, 'reference')}", wrong.fault)


def _correction(texts: Mapping[str, str]) -> Correction | None:
    number = texts.get("corrects", "").strip()
    if not number:
        return None
    if not number.isascii() or not number.isdigit() or len(number) > 15:
        fault = Fault("the record to be put right", "the number of a record", quoted(number))
        raise EntryError([Wrong("corrects", fault)])
    return Correction(int(number), texts.get("reason", ""))


# ---------------------------------------------------------------- the form


def _form(
    case: CaseText, wished: Wished, kind: str, texts: Mapping[str, str], wrongs: Sequence[Wrong], more: str = ""
) -> EntryView:
    study = made_of(case, {}).study
    head = head_of(study)
    try:
        plan = plan_of(study, wished)
    except ProvingError as error:
        said = tuple(in_print(fault.sentence()) for fault in error.faults)
        return EntryView(head, wished, case.version, kind, faults=said)
    told: dict[str, str] = {}
    for wrong in wrongs:
        told.setdefault(wrong.at, in_print(wrong.fault.sentence()))
    groups = tuple((title, tuple(_field(field, texts, told) for field in fields)) for title, fields in GROUPS)
    rows = tuple(_row(number, each, texts, told) for number, each in enumerate(planned(plan)))
    shown = {field.key for _, fields in groups for field in fields} | {cell.key for row in rows for cell in row.cells}
    apart = [in_print(str(wrong.fault)) for wrong in wrongs if wrong.at not in shown]
    return EntryView(
        head,
        wished,
        case.version,
        kind,
        groups,
        rows,
        faults=tuple(filter(None, [*dict.fromkeys(apart), more.strip()])),
        corrects=texts.get("corrects", ""),
        reason=texts.get("reason", ""),
        points=texts.get("points", ""),
        beside=len(shown & set(told)),
    )


def _field(field: Field, texts: Mapping[str, str], told: Mapping[str, str]) -> FieldView:
    choices = RULES if field.kind == "rule" else ()
    value, fault = texts.get(field.key, ""), told.get(field.key, "")
    label = field.label[:1].upper() + field.label[1:]
    return FieldView(field.key, label, value, field.example, field.kind, field.needed, fault, choices)


def _row(number: int, each: tuple[int, str, str, float], texts: Mapping[str, str], told: Mapping[str, str]) -> RowView:
    cycle, direction, point, level_m = each
    cells = []
    for key, _, head in COLUMNS:
        at = f"r{number}.{key}"
        label = f"{head}, cycle {cycle}, {direction}, {point}"
        cells.append(Cell(at, label, texts.get(at, ""), told.get(at, "")))
    return RowView(cycle, direction, point, mm(level_m, 6, MILLIMETRE_M), tuple(cells))
