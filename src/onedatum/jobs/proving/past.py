"""Looking back and ahead: drift and interval of a measuring point, and what of a folder is due next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

from onedatum.foundation.errors import CaseError, ProvingError
from onedatum.foundation.units import show
from onedatum.foundation.wording import counted
from onedatum.jobs.cases import cases_of
from onedatum.jobs.proving.records import (
    KIND,
    Calibration,
    calibration_of,
    current,
    is_there,
    named_history,
    opened,
    place_beside,
)
from onedatum.proving import History, IntervalRule
from onedatum.proving.history import DAY_S

if TYPE_CHECKING:
    from onedatum.store.record import Record

NEVER = "never calibrated: due before it is relied upon"
UNREAD = "this case cannot be read, and so nothing is known of it: check it"
NAMELESS = "this case states no tag, and so has no records: state it"


@dataclass(frozen=True)
class Past:
    """The calibrations of one measuring point that hold now, and what they say together."""

    tag: str
    runs: tuple[Calibration, ...]
    history: History | None
    """None where nothing is recorded."""


@dataclass(frozen=True)
class Due:
    """When a measuring point is to be calibrated next."""

    tag: str
    case: str
    """The name of the case, "" where the folder holds none of that tag."""
    last: datetime | None
    due: datetime | None
    words: str
    overdue: bool


def past_of(records: Sequence[Record], tag: str, rule: IntervalRule | None = None) -> Past:
    """The past of a tag from the records of it; raises ProvingError."""
    runs = tuple(calibration_of(record) for record in current([each for each in records if each.tag == tag]))
    named = [(f"record {run.record.id}", run.judged) for run in runs]
    return Past(tag, runs, named_history(named, rule) if runs else None)


def interval_text(interval_s: float | None) -> str:
    """An interval in days."""
    return "not known" if interval_s is None else f"{interval_s / DAY_S:.0f} d"


def rule_of(longest_d: float | None) -> IntervalRule:
    """The usual rule with the longest interval agreed, in days."""
    return IntervalRule(longest_s=None if longest_d is None else longest_d * DAY_S)


def past_text(past: Past) -> str:
    """The past in words."""
    if past.history is None:
        return f"{past.tag}: {NEVER}\n"
    lines = [f"{past.tag}: {counted(past.history.runs, 'run')}"]
    for run in past.runs:
        judged = run.judged
        said = f"{_size(run):>10}  U {show(judged.expanded_m, 'mm', 2):>8}"
        lines.append(f"  record {run.record.id:>4}  {judged.when:%Y-%m-%d}  {judged.kind:<8} {said}  {judged.verdict}")
    for drift in past.history.drifts:
        rate, u = (show(365.25 * DAY_S * each, "mm", 2) for each in (drift.rate_m_per_s, drift.rate_u_m_per_s))
        told = "" if drift.told_from_zero else ", not told from zero"
        lines.append(f"  drift at {drift.name}: {rate} in a year, standard uncertainty {u}{told}")
    for each in past.history.proposals:
        lines.append(f"  interval {each.method}: {interval_text(each.interval_s)} ({each.words})")
    due = past.history.due
    lines.append(f"  next due: {'not known' if due is None else f'{due:%Y-%m-%d}'}")
    lines += [f"  note: {words}" for words in past.history.words]
    return "\n".join(lines) + "\n"


def _size(run: Calibration) -> str:
    """The largest error of a run."""
    errors = [e for point in run.judged.points for e in (point.least_error_m, point.greatest_error_m) if e is not None]
    return show(max(errors, key=abs), "mm", 3) if errors else "no level"


def past_json(past: Past) -> dict[str, Any]:
    """The past as data."""
    found = past.history
    if found is None:
        return {"tag": past.tag, "runs": [], "history": None}
    return {
        "tag": past.tag,
        "runs": [
            {
                "record": run.record.id,
                "kind": run.judged.kind,
                "when": run.judged.when.isoformat(),
                "verdict": run.judged.verdict,
                "expanded_m": run.judged.expanded_m,
            }
            for run in past.runs
        ],
        "history": {
            "drifts": [
                {
                    "point": drift.name,
                    "rate_m_per_s": drift.rate_m_per_s,
                    "rate_u_m_per_s": drift.rate_u_m_per_s,
                    "changes": drift.changes,
                    "told_from_zero": drift.told_from_zero,
                }
                for drift in found.drifts
            ],
            "intervals": [
                {"method": each.method, "interval_s": each.interval_s, "words": each.words} for each in found.proposals
            ],
            "interval_s": found.interval_s,
            "due": None if found.due is None else found.due.isoformat(),
            "words": list(found.words),
        },
    }


# ---------------------------------------------------------------- what is due


def due_of(
    folder: Path,
    where: str | Path | None = None,
    now: datetime | None = None,
    rule: IntervalRule | None = None,
    existing: bool = False,
) -> list[Due]:
    """What is due next, the soonest first, cases without a record before all; raises StoreError.

    existing: whether the records must be there; else none are there yet where no file is.
    """
    at = now or datetime.now(UTC)
    records: list[Record] = []
    place = where or place_beside(folder)
    if existing or is_there(place):
        with opened(place, existing=True) as store:
            records = store.by_kind(KIND)
    cases, unread = _tags(folder)
    tags = dict.fromkeys([*cases, *(record.tag for record in records)])
    found = [*(_due(records, tag, cases.get(tag, ""), at, rule) for tag in tags), *unread]
    first = datetime.min.replace(tzinfo=UTC)
    return sorted(found, key=lambda each: (each.due or first, each.tag))


def _due(records: Sequence[Record], tag: str, case: str, at: datetime, rule: IntervalRule | None) -> Due:
    try:
        past = past_of(records, tag, rule)
    except ProvingError as error:
        return Due(tag, case, None, None, error.faults[0].sentence(), True)
    if past.history is None:
        return Due(tag, case, None, None, NEVER, True)
    last, due = past.runs[-1].judged.when, past.history.due
    if last > at:
        words = f"the last run is dated {last:%Y-%m-%d}, which is still to come: put its record right"
        return Due(tag, case, last, None, words, True)
    if due is None:
        return Due(tag, case, last, None, "no interval follows yet: keep the one agreed", False)
    late = due <= at
    words = f"overdue since {due:%Y-%m-%d}" if late else f"due in {(due - at) // timedelta(days=1)} d"
    return Due(tag, case, last, due, words, late)


def _tags(folder: Path) -> tuple[dict[str, str], list[Due]]:
    """The tags of the cases of a folder, each with the name of its case, and the cases whose tag cannot be had."""
    from onedatum.case.reading import read_case

    found: dict[str, str] = {}
    unread: list[Due] = []
    for path in cases_of(folder):
        try:
            statement = read_case(path)
        except CaseError:
            unread.append(Due(path.stem, path.stem, None, None, UNREAD, True))
            continue
        if statement.case.tag.known:
            found.setdefault(statement.case.tag.text, path.stem)
        else:
            unread.append(Due(path.stem, path.stem, None, None, UNREAD if statement.faults else NAMELESS, True))
    return found, unread


def due_text(found: Sequence[Due]) -> str:
    """The list in words."""
    if not found:
        return "no case and no record here\n"
    lines = [f"{each.due:%Y-%m-%d}" if each.due else "----------" for each in found]
    return "".join(f"{day}  {each.tag:<16} {each.words}\n" for day, each in zip(lines, found, strict=True))


def due_json(found: Sequence[Due]) -> list[dict[str, Any]]:
    """The list as data."""
    return [
        {
            "tag": each.tag,
            "case": each.case or None,
            "last": each.last.isoformat() if each.last else None,
            "due": each.due.isoformat() if each.due else None,
            "overdue": each.overdue,
            "words": each.words,
        }
        for each in found
    ]
