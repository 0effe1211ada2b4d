"""The one JSON form of a study; every dimensional key ends in its unit."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import PurePath
from typing import Any

from onedatum.foundation.errors import Fault, Place
from onedatum.foundation.sources import data_version
from onedatum.foundation.working import Entry, Plain, entry_method, formula_line, numbers_line
from onedatum.study.budget import Budget
from onedatum.study.cautions import CAUTIONS
from onedatum.study.choosing.form import choosing_json
from onedatum.study.ignition import CircuitChapter
from onedatum.study.result import Study
from onedatum.verdicts import Check, Finding

FORM = 1
"""Version of this form."""


def as_json(study: Study, tool_version: str) -> dict[str, Any]:
    """The study as plain data: dictionaries, lists, text, finite numbers, None for unknown."""
    return {
        "form": FORM,
        **head_json(study, tool_version),
        "answer": study.answer,
        "blocking": study.blocking,
        "order": study.order,
        "checks_verdict": study.checks_verdict.value,
        "findings": [_finding(finding) for finding in study.findings],
        "checks": [_check(check) for check in study.checks],
        "questions": [{"path": q.path, "title": q.title, "decides": list(q.decides)} for q in study.questions],
        "requirements": [asdict(requirement) for requirement in study.requirements],
        "not_read": [{"path": leaf.path, "title": leaf.title, "text": leaf.text} for leaf in study.not_read],
        "states": list(study.states),
        "budget": budget_json(study.budget),
        "safety": safety_json(study),
        "choosing": choosing_json(study),
        "for_verdicts": [entry_json(entry) for entry in study.for_verdicts.values()],
        "sheet": [entry_json(entry) for entry in study.entries.values()],
    }


def head_json(study: Study, tool_version: str) -> dict[str, Any]:
    """What every JSON form of a case begins with: by what it was made, of which case, and what to heed."""
    case = study.statement.case
    return {
        "tool_version": tool_version,
        "data_version": data_version(),
        "case": {
            "file": PurePath(study.statement.file).name,
            "content_hash": study.statement.content_hash,
            "own_files": list(study.statement.own_files),
            **{name: getattr(case, name).text for name in ("tag", "service", "author", "checker", "revision", "date")},
            "invented": case.invented.word == "yes",
        },
        "assumptions": [asdict(assumption) for assumption in study.assumptions],
        "faults": [fault_json(fault) for fault in study.faults],
        "cautions": list(CAUTIONS),
    }


def entry_json(entry: Entry) -> dict[str, Any]:
    """One entry of the sheet; the key of its value ends in the unit."""
    key = f"value_{entry.suffix}" if entry.suffix else "value"
    data: dict[str, Any] = {
        "name": entry.name,
        "meaning": entry.meaning,
        key: entry.value,
        "shown": entry.text,
        "state": entry.state,
        "rests_on_assumed": entry.rests_on_assumed,
    }
    if entry.inputs:
        data["inputs"] = {parameter: below.name for parameter, below in entry.inputs.items()}
    if entry.tag:
        data["formula"] = entry.tag.name
    if line := formula_line(entry, Plain()):
        data["comparison" if entry.relation is not None else "equation"] = line
    if method := entry_method(entry):
        data["method"] = method
    if line := numbers_line(entry, Plain()):
        data["numbers"] = line
    if entry.uncertainty:
        data[f"standard_uncertainty_{entry.suffix}".rstrip("_")] = entry.uncertainty.standard
        data["uncertainty"] = entry.uncertainty.text
    if entry.source:
        data["source"] = str(entry.source)
    if entry.place:
        data["place"] = place_json(entry.place)
    if entry.note:
        data["note"] = entry.note
    if entry.waits_for:
        data["waits_for"] = list(entry.waits_for)
    return data


def fault_json(fault: Fault) -> dict[str, Any]:
    """A fault as data, with the sentence people read."""
    return {
        "path": fault.path,
        "allowed": fault.allowed,
        "got": fault.got,
        "why": fault.why,
        "remedy": fault.remedy,
        "kind": fault.kind,
        "place": place_json(fault.place) if fault.place else None,
        "sentence": fault.sentence(),
    }


def place_json(place: Place) -> dict[str, Any]:
    """Where something was stated, by the name of its file."""
    return place.by_name._asdict()


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "key": finding.key,
        "title": finding.title,
        "effect": finding.effect.value,
        "chain": [asdict(link) for link in finding.chain],
        "ways_out": [asdict(link) for link in finding.ways_out],
        "uncertainty_stated": finding.uncertainty_stated,
        "safety": finding.safety,
    }


def _check(check: Check) -> dict[str, Any]:
    return {
        "key": check.key,
        "title": check.title,
        "remark": check.remark,
        "verdict": check.verdict.value,
        "value": check.limit.value,
        "value_entry": check.limit.value_entry,
        "sense": check.limit.sense,
        "limit": check.limit.limit,
        "limit_entry": check.limit.limit_entry,
        "safety": check.safety,
        "uncertainty_stated": check.uncertainty_stated,
        "reason": check.reason,
        "waits_for": list(check.waits_for),
    }


def budget_json(budget: Budget | None) -> dict[str, Any] | None:
    """A budget by the names of its entries; the numbers stand on the sheet."""
    if budget is None:
        return None
    return {
        "of": budget.of.name,
        "expanded": budget.expanded.name,
        "relative": budget.relative.name,
        "coverage_factor": budget.coverage.value,
        "correlation": None if budget.correlation is None else budget.correlation.tolist(),
        "branched_otherwise": budget.branched_otherwise,
        "lines": [
            {
                "input": line.entry.name,
                "contribution": line.contribution.name,
                "share": line.share.name,
                "if_halved": line.halved.name,
            }
            for line in budget.lines
        ],
        "to_improve": [line.entry.name for line in budget.to_improve],
    }


def safety_json(study: Study) -> dict[str, Any]:
    """What bears on safety by the names of its entries; the numbers stand on the sheet, the outcomes in the checks."""
    overfill, ignition, safety = study.safe.overfill, study.safe.ignition, study.safe.safety
    ceilings = [] if overfill is None else [overfill.automatic, overfill.high_high, overfill.working]
    circuit = ignition.circuit if ignition else None
    return {
        "set_points": [
            {"name": each.name, "highest": each.highest.name, "stands_at": each.stands.name}
            for each in ceilings
            if each is not None
        ],
        "times_to_critical": [
            {"name": each.name, "level": each.level.name, "time": each.time.name}
            for each in (overfill.passings if overfill is not None else ())
        ],
        "forecast": forecasts_json(study),
        "signal_limits": dict(zip(SIGNAL_LIMITS, study.safe.bands.currents_A, strict=True)),
        "circuit": None if circuit is None else circuit_json(circuit),
        "pfd": None if safety is None or safety.pfd is None else safety.pfd.name,
        "pfd_band": None if safety is None else safety.band,
    }


SIGNAL_LIMITS = ("failure_low_A", "information_low_A", "information_high_A", "failure_high_A")


def forecasts_json(study: Study) -> list[dict[str, Any]]:
    """When the filling reaches each level at the rate now."""
    return [
        {"name": each.name, "level": each.level.name, "time_s": each.time.value, "clock": each.clock}
        for each in (study.safe.overfill.forecasts if study.safe.overfill is not None else ())
    ]


def circuit_json(circuit: CircuitChapter) -> dict[str, Any]:
    """The circuit: why it was refused, else its inequalities and the rule of one half."""
    return {
        "refused": [link.text for link in circuit.refused],
        "level": circuit.level,
        "group": circuit.group,
        "half_rule": circuit.halving.applies if circuit.halving else None,
        "inequalities": [
            {"text": each.text, "value": each.value.name, "limit": each.limit.name, "margin": each.margin.name}
            for each in circuit.inequalities
        ],
    }
