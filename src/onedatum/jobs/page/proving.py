"""The pages of the calibrations of a case: the plan, what is recorded, drift and next date, one record."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from onedatum.foundation.errors import OnedatumError, ProvingError
from onedatum.foundation.units import in_print, show
from onedatum.jobs.page.made import CaseText, made_of
from onedatum.jobs.page.picture import Picture, picture
from onedatum.jobs.paper_of_study import head_of
from onedatum.jobs.proving.certificate import answer_of, certificate_files, certificate_of
from onedatum.jobs.proving.past import NEVER, Past, interval_text, past_json, past_of
from onedatum.jobs.proving.plan import Wished, form_csv, plan_json, plan_of
from onedatum.jobs.proving.records import (
    Calibration,
    calibrations,
    is_there,
    none_of,
    one_of,
    opened,
    place_beside,
    working_of,
)
from onedatum.jobs.proving.told import MILLIMETRE_M, mm, per_cent, record_json
from onedatum.paper.certificate.chart import drift_svg, error_svg
from onedatum.paper.certificate.model import Certificate, DriftChart
from onedatum.paper.model import Head
from onedatum.proving import Plan
from onedatum.proving.history import DAY_S

if TYPE_CHECKING:
    from onedatum.store.record import Head as ChainHead
    from onedatum.store.record import Record

_YEAR_S = 365.25 * DAY_S
SAME_M = 1e-6


@dataclass(frozen=True)
class PlanView:
    """The plan in words."""

    tolerance: str
    reference: str
    points: tuple[tuple[str, str, str, str], ...]
    """Name, level, current, why it was moved."""
    left_out: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True)
class RecordRow:
    """A record in the list."""

    id: int
    kind: str
    when: str
    who: str
    verdict: str
    probability: str
    note: str
    holds: bool


@dataclass(frozen=True)
class PastView:
    """Drift, interval, next date."""

    due: str
    drifts: tuple[tuple[str, str, str], ...]
    intervals: tuple[tuple[str, str, str], ...]
    words: tuple[str, ...]
    chart: Picture | None


@dataclass(frozen=True)
class ProvingView:
    """Everything about the calibrations of a case; where a part cannot be had, why."""

    head: Head
    wished: Wished
    plan: PlanView | None
    no_plan: tuple[str, ...]
    records: tuple[RecordRow, ...]
    past: PastView | None
    no_past: str


@dataclass(frozen=True)
class Step:
    """One number of a judgement with its working."""

    name: str
    meaning: str
    shown: str
    state: str
    equation: str
    numbers: str
    source: str
    note: str
    inputs: tuple[tuple[str, str, str], ...]
    """Symbol, name, what it says."""


@dataclass(frozen=True)
class RecordView:
    """One record, judged, with the working of a number where one is asked for."""

    head: Head
    id: int
    answer: str
    certificate: Certificate
    chart: Picture
    holds: str
    """Why it holds no more; empty where it does."""
    written: str
    names: tuple[tuple[str, str, str], ...]
    """Every number that has a working: name, meaning, what it says."""
    step: Step | None
    no_step: str
    working: str
    """Where the working comes from, where the record does not keep it."""


def place_of(case: CaseText) -> str | Path:
    """The records that the server was told of; else those of the folder that the case stands in."""
    return case.records or place_beside(Path(case.folder))


def held(case: CaseText, tag: str) -> tuple[list[Record], ChainHead | None]:
    """The records of a tag and the head of the chain; none where no file of records is there yet."""
    where = place_of(case)
    if not is_there(where):
        return [], None
    with opened(where, existing=True) as store:
        return store.by_tag(tag), store.head()


# ---------------------------------------------------------------- overview


def proving_view(case: CaseText, wished: Wished) -> ProvingView:
    """The overview."""
    study = made_of(case, {}).study
    tag = study.statement.case.tag
    plan: PlanView | None = None
    no_plan: tuple[str, ...] = ()
    try:
        plan = _plan(plan_of(study, wished))
    except ProvingError as error:
        no_plan = tuple(in_print(fault.sentence()) for fault in error.faults)
    rows: tuple[RecordRow, ...] = ()
    past, no_past = None, NEVER[:1].upper() + NEVER[1:] + "."
    try:
        records, _ = held(case, tag.text) if tag.known else ([], None)
        rows = tuple(_row(each) for each in reversed(calibrations(records)))
        found = past_of(records, tag.text)
        past = _past(found) if found.history is not None else None
    except OnedatumError as error:
        no_past = str(error)
    return ProvingView(head_of(study), wished, plan, no_plan, rows, past, no_past)


def proving_data(case: CaseText, wished: Wished) -> dict[str, Any]:
    """The same as data."""
    study = made_of(case, {}).study
    tag = study.statement.case.tag
    faults: list[str] = []
    plan = None
    try:
        plan = plan_json(plan_of(study, wished))
    except ProvingError as error:
        faults = [fault.sentence() for fault in error.faults]
    records, head = held(case, tag.text) if tag.known else ([], None)
    return {
        "tag": tag.text,
        "plan": plan,
        "faults": faults,
        "head": None if head is None else {"id": head.id, "hash": head.hash},
        "past": past_json(past_of(records, tag.text)),
    }


def plan_file(case: CaseText, wished: Wished) -> bytes:
    """The empty form as a file; raises ProvingError."""
    return form_csv(plan_of(made_of(case, {}).study, wished))


def _plan(plan: Plan) -> PlanView:
    usual, tolerated = mm(plan.reference_expanded_m), mm(plan.reference_tolerated_m)
    return PlanView(
        plan.tolerance.words(3),
        f"known to {usual} (k = 2) or better; up to {tolerated} is tolerated",
        tuple(
            (point.name, mm(point.level_m, 6, MILLIMETRE_M), show(point.current_A, "mA", 5), in_print(point.moved))
            for point in plan.points
        ),
        plan.left_out,
        plan.cautions,
    )


def _row(found: Calibration) -> RecordRow:
    record, judged = found.record, found.judged
    notes = [f"corrected by record {found.corrected_by}"] if found.corrected_by is not None else []
    notes += [f"puts right record {record.corrects}: {found.reason}"] if record.corrects is not None else []
    return RecordRow(
        record.id,
        judged.kind,
        f"{judged.when:%Y-%m-%d}",
        record.who,
        judged.verdict,
        per_cent(judged.probability),
        "; ".join(notes),
        found.corrected_by is None,
    )


def _past(past: Past) -> PastView | None:
    history = past.history
    if history is None:
        return None
    due = "not known yet" if history.due is None else f"{history.due:%Y-%m-%d}"
    return PastView(
        due,
        tuple(
            (
                each.name,
                f"{show(_YEAR_S * each.rate_m_per_s, 'mm', 2)} in a year",
                show(_YEAR_S * each.rate_u_m_per_s, "mm", 2) + ("" if each.told_from_zero else ", not told from zero"),
            )
            for each in history.drifts
        ),
        tuple((each.method, interval_text(each.interval_s), each.words) for each in history.proposals),
        history.words,
        picture(drift_svg(drift_chart(past.runs)), "drift"),
    )


def drift_chart(runs: Sequence[Calibration]) -> DriftChart:
    """The average error of every point of the last plan over the runs, in mm."""
    last = runs[-1].judged
    first = runs[0].judged.when
    low, high = last.tolerance.low_m, last.tolerance.high_m
    return DriftChart(
        tuple(point.name for point in last.points),
        tuple(run.judged.kind for run in runs),
        tuple((run.judged.when - first).total_seconds() / DAY_S for run in runs),
        tuple(f"{run.judged.when:%Y-%m-%d}" for run in runs),
        tuple(tuple(_error_at(run, point.level_m) for run in runs) for point in last.points),
        None if low is None else 1e3 * low,
        None if high is None else 1e3 * high,
    )


def _error_at(run: Calibration, level_m: float) -> float | None:
    for point in run.judged.points:
        if abs(point.level_m - level_m) < SAME_M and point.average_error_m is not None:
            return 1e3 * point.average_error_m
    return None


# ---------------------------------------------------------------- one record


def record_view(case: CaseText, number: int, work: str) -> RecordView:
    """One record; raises StoreError where there is none of that number for this tag."""
    found, head = _one(case, number)
    working = working_of(found)
    by_name = {str(entry.get("name", "")): entry for entry in working.sheet}
    step = _step(by_name, work) if work in by_name else None
    record = found.record
    certificate = certificate_of([found], head)
    return RecordView(
        head_of(made_of(case, {}).study),
        record.id,
        answer_of([found]),
        certificate,
        picture(error_svg(certificate.chart), "errors"),
        "" if found.corrected_by is None else f"Record {found.corrected_by} puts it right; this one holds no more.",
        f"{record.written[:16].replace('T', ' ')} UTC by onedatum {record.tool}",
        tuple(
            (name, str(each.get("meaning", "")), _shown(each)) for name, each in by_name.items() if each.get("inputs")
        ),
        step,
        "" if step or not work else (working.words or f"There is no number {work!r} in this record."),
        working.words,
    )


def record_data(case: CaseText, number: int) -> dict[str, Any]:
    """One record as data; raises StoreError."""
    return record_json(_one(case, number)[0])


def certificate_file(case: CaseText, number: int, ending: str) -> tuple[str, bytes]:
    """A file of the certificate of a record's visit, with its name; raises StoreError."""
    tag = made_of(case, {}).study.statement.case.tag.text
    records, head = held(case, tag)
    if head is None:
        raise none_of(number)
    made = certificate_files(records, head, tag, number)
    return next((each.name, each.content) for each in made.files if each.name.endswith(f".{ending}"))


def _one(case: CaseText, number: int) -> tuple[Calibration, ChainHead]:
    records, head = held(case, made_of(case, {}).study.statement.case.tag.text)
    if head is None:
        raise none_of(number)
    return one_of(records, number), head


def _shown(entry: Any) -> str:
    return in_print(str(entry.get("shown", "")))


def _step(by_name: dict[str, Any], name: str) -> Step:
    entry = by_name[name]
    inputs = entry.get("inputs") or {}
    return Step(
        name,
        str(entry.get("meaning", "")),
        _shown(entry),
        str(entry.get("state", "")),
        in_print(str(entry.get("equation") or entry.get("method") or "")),
        in_print(str(entry.get("numbers") or "")),
        str(entry.get("source") or ""),
        str(entry.get("note") or ""),
        tuple((symbol, each, _shown(by_name.get(each, {}))) for symbol, each in _pairs(inputs)),
    )


def _pairs(inputs: Any) -> list[tuple[str, str]]:
    """Inputs by symbol, or a list of names alone."""
    if isinstance(inputs, dict):
        return [(str(symbol), str(name)) for symbol, name in inputs.items()]
    return [("", str(name)) for name in inputs]
