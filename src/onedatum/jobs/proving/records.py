"""Calibrations as records: judged as a whole, written as one record, read back as what they were.

A record is never changed. What was wrong in one is put right by another that names it and says why; both stay.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from onedatum.foundation.errors import Fault, NotRecorded, Overtaken, ProvingError, StoreError
from onedatum.jobs.proving.entry import Entered, EntryError, Kind, Wrong, entered, placed_faults
from onedatum.proving import History, IntervalRule, Judged, Plan, Reading, Run, as_data, from_data, history_of, judge
from onedatum.store.canonical import LONGEST, canonical
from onedatum.store.where import is_url
from onedatum.study.result import Study

if TYPE_CHECKING:
    from onedatum.store.record import Head, Record
    from onedatum.store.store import Store

KIND = "calibration"
FORM = 1
"""Version of the payload."""
FILE = "records.sqlite"
"""The records of a folder of cases, where no other place is named."""
MOST_WITH_WORKING = LONGEST
"""Characters of a record that keeps every number with its working; a longer one keeps readings and results."""
WAIT_S = 5.0
MOST_TRIES = 20
"""How often the records are looked at again where another writer came in between."""


@dataclass(frozen=True)
class Calibration:
    """A record of a calibration, read back."""

    record: Record
    plan: Plan
    run: Run
    judged: Judged
    checked_by: str
    trims: str
    reason: str
    """Why it corrects another record; empty where it does not."""
    service: str
    invented: bool
    corrected_by: int | None = None


@dataclass(frozen=True)
class Written:
    """What was written, and the head of the chain after it."""

    calibration: Calibration
    head: Head


@dataclass(frozen=True)
class Correction:
    """Which record is put right, and why."""

    of: int
    reason: str


def place_beside(path: Path) -> Path:
    """The file of records that belongs to a case or to a folder of cases."""
    return (path if path.is_dir() else path.parent) / FILE


def is_there(where: str | Path) -> bool:
    """Whether records may be there: a database of a URL is always asked, a file only where there is one."""
    return is_url(where) or Path(where).exists()


def opened(where: str | Path, existing: bool = False) -> Store:
    """The store; raises StoreError."""
    from onedatum.store.store import Store

    return Store.open(where, existing=existing, wait_s=WAIT_S)


def judged_entry(
    study: Study, plan: Plan, kind: Kind, texts: Mapping[str, str], readings: Sequence[Reading]
) -> tuple[Entered, Judged]:
    """Read the fields and judge the run; raises EntryError with every fault at its field."""
    if not study.statement.case.tag.known:
        why, remedy = "a record belongs to a measuring point", "State it in the case"
        raise EntryError([Wrong("", Fault("tag", "known", "unknown", why, remedy=remedy))])
    found = entered(study, kind, texts, readings)
    try:
        return found, judge(plan, found.run, found.rule)
    except ProvingError as error:
        raise EntryError(placed_faults(error.faults, readings)) from None


def record_run(
    where: str | Path,
    study: Study,
    plan: Plan,
    kind: Kind,
    texts: Mapping[str, str],
    readings: Sequence[Reading],
    correction: Correction | None = None,
) -> Written:
    """Judge a run and write it as one record; raises EntryError, StoreError. Nothing is written by half."""
    found, judged = judged_entry(study, plan, kind, texts, readings)
    if correction is not None and not correction.reason.strip():
        why = "who reads both records must know which to believe"
        raise EntryError([Wrong("reason", Fault("reason of the correction", "stated", "nothing", why))])
    if not is_there(where):
        _check_history((), found.run, judged, correction)  # a refusal leaves no empty file behind
    payload = _payload(study, plan, found, judged, "" if correction is None else correction.reason.strip())
    with opened(where) as store:
        record = _appended(store, found.run, judged, payload, correction)
    return Written(calibration_of(record), _head_at(record))


def _appended(store: Store, run: Run, judged: Judged, payload: dict[str, Any], correction: Correction | None) -> Record:
    """Write the record after the very head that was checked; where another came in between, check again."""
    for _ in range(MOST_TRIES):
        head = store.head()  # before the records: what is written between the two is seen as well
        _check_history(store.by_tag(judged.tag), run, judged, correction)
        with suppress(Overtaken):
            return store.append(
                KIND,
                judged.tag,
                run.who,
                payload,
                at=run.when,
                case=run.case_hash,
                corrects=None if correction is None else correction.of,
                after=head,
            )
    got = f"{MOST_TRIES} records of others in between"
    raise Overtaken("the records", "at rest for a moment", got, "", "Nothing was written; record it again")


def _head_at(record: Record) -> Head:
    """The head right after a record was written; asking for it anew could fail although the record stands."""
    from onedatum.store.record import Head

    return Head(record.id, record.hash)


def _payload(study: Study, plan: Plan, found: Entered, judged: Judged, reason: str) -> dict[str, Any]:
    case = study.statement.case
    whole = {
        "form": FORM,
        "plan": as_data(replace(plan, working=())),
        "run": as_data(found.run),
        "judged": as_data(judged),
        "checked_by": found.checked_by,
        "trims": found.trims,
        "reason": reason,
        "service": case.service.text if case.service.known else "",
        "invented": case.invented.word == "yes",
    }
    if len(canonical(whole)) <= MOST_WITH_WORKING:
        return whole
    return {**whole, "judged": as_data(replace(judged, sheet=()))}


@dataclass(frozen=True)
class Working:
    """Every number of a calibration with its working, and what is to be said of where that comes from."""

    sheet: tuple[Mapping[str, Any], ...]
    words: str
    """Empty where the record keeps it."""


def working_of(found: Calibration) -> Working:
    """The working that a record keeps; of one too long for it that of the same readings judged again.

    It is shown only where it gives exactly the results that were kept: another version of the tool may not.
    """
    if found.judged.sheet:
        return Working(found.judged.sheet, "")
    short = (
        f"With {len(found.run.readings)} readings this record keeps them and its results without the working, which "
        f"would make it longer than the {MOST_WITH_WORKING} characters that a record holds."
    )
    try:
        again = judge(found.plan, found.run, found.judged.rule)
    except ProvingError:
        again = None
    if again is None or replace(again, sheet=()) != found.judged:
        version = found.record.tool
        return Working((), f"{short} This version gives other results: see it with version {version} of the tool.")
    return Working(again.sheet, f"{short} What is shown was worked again from these readings and gives these results.")


def _check_history(held: Sequence[Record], run: Run, judged: Judged, correction: Correction | None) -> None:
    """Refuse what is recorded already, a run before one that is recorded, and a correction of another tag."""
    past = [(record, calibration_of(record)) for record in current(held)]
    for record, each in past:
        if correction is None and each.run == run:
            remedy = "Nothing more is to be done; a form that was sent twice is recorded once"
            fault = Fault("the run", "one that is not recorded yet", f"the same as record {record.id}", remedy=remedy)
            raise EntryError([Wrong("", fault)])
    row = [(_root(record, held), f"record {record.id}", each.judged) for record, each in past]
    if correction is None:
        row.append((max((root for root, _, _ in row), default=0) + 1, "this run", judged))
    else:
        wanted = next((r for r in held if r.id == correction.of and r.kind == KIND), None)
        if wanted is None:
            fault = Fault("the record to be put right", f"a calibration of {judged.tag}", f"{correction.of}")
            raise EntryError([Wrong("corrects", fault)])
        row = [each for each in row if each[0] != _root(wanted, held)]
        row.append((_root(wanted, held), "this run", judged))
    row.sort(key=lambda each: each[0])
    try:
        named_history([(name, each) for _, name, each in row])
    except ProvingError as error:
        raise EntryError([Wrong("when", fault) for fault in error.faults]) from None


_OF_HISTORY = re.compile(r"history\[(\d+)\]\.(\w+)")
_PARTS = {"when": "the begin", "tag": "the tag", "points": "the points"}


def named_history(row: Sequence[tuple[str, Judged]], rule: IntervalRule | None = None) -> History:
    """The history of runs that have a name; raises ProvingError, each fault at the name of its run."""
    try:
        return history_of([judged for _, judged in row], rule)
    except ProvingError as error:
        raise ProvingError([_at_its_run(fault, [name for name, _ in row]) for fault in error.faults]) from None


def _at_its_run(fault: Fault, names: Sequence[str]) -> Fault:
    found = _OF_HISTORY.fullmatch(fault.path)
    if found is None or int(found[1]) >= len(names):
        return fault
    return replace(fault, path=f"{_PARTS.get(found[2], found[2])} of {names[int(found[1])]}")


def current(records: Sequence[Record]) -> list[Record]:
    """The calibrations that no other record corrects, each where the first of its line stands."""
    corrected = {record.corrects for record in records}
    kept = [record for record in records if record.kind == KIND and record.id not in corrected]
    return sorted(kept, key=lambda record: _root(record, records))


def _root(record: Record, records: Sequence[Record]) -> int:
    """The number of the first record of a line of corrections."""
    by_id = {each.id: each for each in records}
    while record.corrects is not None and record.corrects in by_id:
        record = by_id[record.corrects]
    return record.id


def calibration_of(record: Record, corrected_by: int | None = None) -> Calibration:
    """A record as what it holds; raises ProvingError for one of another form."""
    content = record.content
    name = f"record {record.id}"
    if not isinstance(content, dict) or content.get("form") != FORM or record.kind != KIND:
        remedy = "Read it with the version of the tool that it names"
        raise ProvingError([Fault(name, f"a calibration of form {FORM}", "another", remedy=remedy)])
    plan, run, judged = (from_data(content.get(key, {})) for key in ("plan", "run", "judged"))
    if not (isinstance(plan, Plan) and isinstance(run, Run) and isinstance(judged, Judged)):
        raise ProvingError([Fault(name, "a plan, a run and a judgement", "other parts")])
    times = [run.when, judged.when, *(reading.at for reading in run.readings if reading.at is not None)]
    if any(time.tzinfo is None for time in times):
        raise ProvingError([Fault(name, "with times that have their offset from UTC", "one without")])
    if faults := judged.rule.faults(judged.tolerance):
        raise ProvingError(faults)
    said = {key: str(content.get(key, "")) for key in ("checked_by", "trims", "reason", "service")}
    return Calibration(
        record, plan, run, judged, **said, invented=bool(content.get("invented")), corrected_by=corrected_by
    )


def calibrations(records: Sequence[Record]) -> list[Calibration]:
    """Every calibration in the order of writing, also those that others correct."""
    by = {record.corrects: record.id for record in records if record.corrects is not None}
    return [calibration_of(record, by.get(record.id)) for record in records if record.kind == KIND]


def one_of(records: Sequence[Record], number: int) -> Calibration:
    """One calibration by the number of its record; raises StoreError."""
    for found in calibrations(records):
        if found.record.id == number:
            return found
    raise none_of(number)


def none_of(number: int) -> NotRecorded:
    """There is no calibration of that number."""
    return NotRecorded("the record", "the number of a calibration that is recorded", f"{number}")


def pair_of(records: Sequence[Record], chosen: int | None = None) -> tuple[Calibration | None, Calibration | None]:
    """As found and as left that belong together: those of one visit, of the chosen record or the last one.

    An as left belongs to the as found before it, where no other run lies between.
    """
    row = [calibration_of(record) for record in current(records)]
    if chosen is not None and not any(each.record.id == chosen for each in row):
        by = next((record.id for record in records if record.corrects == chosen), None)
        if by is None:
            raise none_of(chosen)
        got = f"{chosen}, which record {by} corrects"
        raise StoreError("the record", "the number of a calibration that holds now", got)
    at = len(row) - 1 if chosen is None else next(n for n, each in enumerate(row) if each.record.id == chosen)
    if at < 0:
        return None, None
    here = row[at]
    if here.run.kind == "as left":
        before = row[at - 1] if at > 0 and row[at - 1].run.kind == "as found" else None
        return before, here
    after = row[at + 1] if at + 1 < len(row) and row[at + 1].run.kind == "as left" else None
    return here, after
