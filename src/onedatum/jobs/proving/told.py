"""A judged calibration in words and as data: the decision rule first, then what it makes of the run."""

from __future__ import annotations

from typing import Any

from onedatum.foundation.units import show
from onedatum.jobs.proving.records import Calibration, Written, working_of
from onedatum.proving import Judged, as_data

MILLIMETRE_M = 1e-3
"""To which a level is set: levels of a plan are written to a tenth of it."""


def mm(size_m: float | None, digits: int = 3, u_m: float | None = None) -> str:
    """A length in millimetres, to the second digit of its uncertainty; a dash where there is none."""
    return "–" if size_m is None else show(size_m, "mm", digits, u_m)


def per_cent(share: float | None) -> str:
    """A probability; never a bare 100 %, for none is certain."""
    if share is None:
        return "not stated"
    if share > 0.9999:
        return "more than 99.99 %"
    return "less than 0.01 %" if share < 0.0001 else show(share, "%", 4 if share > 0.99 else 3)


def limits(judged: Judged) -> str:
    """The tolerance in words."""
    return judged.tolerance.words(3)


def judged_text(judged: Judged) -> str:
    """The judgement in words."""
    lines = [
        f"decision rule   {judged.rule.name}: {judged.rule.said}",
        f"error allowed   {limits(judged)}, judged on {judged.judged_on}",
        f"uncertainty     U = {mm(judged.expanded_m, 2)} (k = 2), ratio {show(judged.ratio, '', 3)}, "
        f"guard band {mm(judged.guard_m, 2)}",
        f"verdict         {judged.tag}, {judged.kind}: {judged.verdict.upper()}; "
        f"probability of conformity {per_cent(judged.probability)}",
    ]
    u_m = judged.expanded_m
    for point in judged.points:
        ends = f"{mm(point.least_error_m, 3, u_m):>10} to {mm(point.greatest_error_m, 3, u_m):>10}"
        lines.append(f"  {point.name:<8}{mm(point.level_m, 5):>12}  {ends}  {point.verdict}")
    lines += [
        f"  {part.name}: {mm(part.least_m, 3, u_m)} to {mm(part.greatest_m, 3, u_m)}; set by {part.set_by}"
        for part in judged.parts
    ]
    lines += [f"remark: {words}" for words in judged.remarks]
    lines += [f"caution: {words}" for words in judged.cautions]
    return "\n".join(lines) + "\n"


def written_text(written: Written) -> str:
    """The judgement and where it stands in the records."""
    record = written.calibration.record
    working = working_of(written.calibration).words
    return (
        f"{judged_text(written.calibration.judged)}"
        f"{f'note: {working}' + chr(10) if working else ''}"
        f"written: record {record.id}, hash {record.hash}\n"
        f"head of the records, to be noted on paper: {written.head}\n"
    )


def record_json(calibration: Calibration) -> dict[str, Any]:
    """A record with what it holds."""
    record = calibration.record
    return {
        "record": {
            "id": record.id,
            "kind": record.kind,
            "tag": record.tag,
            "who": record.who,
            "at": record.at,
            "written": record.written,
            "case": record.case,
            "tool": record.tool,
            "corrects": record.corrects,
            "corrected_by": calibration.corrected_by,
            "previous": record.previous,
            "hash": record.hash,
        },
        "checked_by": calibration.checked_by,
        "trims": calibration.trims,
        "reason": calibration.reason,
        "plan": as_data(calibration.plan),
        "run": as_data(calibration.run),
        "judged": as_data(calibration.judged),
        "working_kept": bool(calibration.judged.sheet),
    }


def written_json(written: Written) -> dict[str, Any]:
    """The same with the head of the chain."""
    return {**record_json(written.calibration), "head": {"id": written.head.id, "hash": written.head.hash}}
