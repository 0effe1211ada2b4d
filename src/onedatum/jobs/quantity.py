"""The quantity statement of a case: as text, PDF and JSON."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from onedatum.foundation.constants import VERSION
from onedatum.foundation.errors import Fault
from onedatum.jobs.examine import examine
from onedatum.jobs.statement_paper import statement_paper
from onedatum.jobs.write import free_name, write_json, write_whole
from onedatum.paper.quantity.model import Statement
from onedatum.paper.text import file_stem
from onedatum.study.form import budget_json, entry_json, head_json
from onedatum.study.monte_carlo import Chosen, Sampled, no_quantity, sampled
from onedatum.study.result import Study

FORM = 1
"""Version of the JSON form of a statement."""


@dataclass(frozen=True)
class QuantityOfCase:
    """The study of a case and its Monte Carlo; without one, none was asked for, or a fault says what stands against."""

    study: Study
    sampled: Sampled | None = None
    fault: Fault | None = None

    @cached_property
    def paper(self) -> Statement:
        """The statement as the papers print it."""
        return statement_paper(self.study, self.sampled or self.fault)


def quantity(case: Path, chosen: Chosen | None) -> QuantityOfCase:
    """Study a case and draw its Monte Carlo; `chosen` None leaves that away."""
    return quantity_of(examine(case), chosen)


def quantity_of(study: Study, chosen: Chosen | None) -> QuantityOfCase:
    """The quantity of a study with its Monte Carlo; `chosen` None leaves that away."""
    if study.quantity is None:
        return QuantityOfCase(study, fault=no_quantity(study))
    return QuantityOfCase(study) if chosen is None or study.budget is None else _with_trials(study, chosen)


def _with_trials(study: Study, chosen: Chosen) -> QuantityOfCase:
    found = sampled(study, chosen)
    return QuantityOfCase(study, fault=found) if isinstance(found, Fault) else QuantityOfCase(study, found)


def quantity_text(made: QuantityOfCase) -> str:
    """The statement in words."""
    from onedatum.paper.quantity.as_text import statement_text

    return statement_text(made.paper)


def write_quantity(made: QuantityOfCase, case: Path, out: Path, taken: set[str]) -> tuple[Path, ...]:
    """Write the statement into a folder; raises OutputError.

    The files bear the name of the case file, with a number behind it where `taken` holds that name already.
    """
    from onedatum.paper.quantity.as_pdf import statement_pdf

    stem = f"{free_name(file_stem(case.stem), taken)}-quantity"
    pdf, data = out / f"{stem}.pdf", out / f"{stem}.json"
    write_whole(pdf, statement_pdf(made.paper))
    write_json(data, quantity_json(made))
    return pdf, data


def quantity_json(made: QuantityOfCase) -> dict[str, Any]:
    """The statement in SI, unrounded, with what it rests on."""
    study = made.study
    batch = study.batch
    return {
        "form": FORM,
        **head_json(study, VERSION),
        "wanted": study.amounts.wanted.name,
        "amounts": [_with_uncertainty(study, entry.name) for entry in study.amounts.now.stated],
        "budget": budget_json(study.budget),
        "left_out_of_the_budget": study.measuring.left_out or None,
        "monte_carlo": _monte_carlo(made),
        "batch": None
        if batch is None
        else {
            "before": [entry_json(entry) for entry in batch.before.stated],
            "after": [entry_json(entry) for entry in batch.after.stated],
            "difference": entry_json(batch.difference),
            "budget": budget_json(batch.budget),
            "least_level_difference": entry_json(batch.least) if batch.least else None,
        },
        "limits": [
            {"key": line.row.key, "tag": line.row.tag, "limit": entry_json(line.limit), "check": line.check}
            for line in study.legal
        ],
        "tolerance": _tolerance(study),
    }


def _with_uncertainty(study: Study, name: str) -> dict[str, Any]:
    data = entry_json(study.sheet[name])
    budget = study.budget
    found = budget.expanded if budget and budget.of.name == name else study.sheet.entries.get(f"uncertainty[{name}]")
    return data if found is None else {**data, f"expanded_uncertainty_{found.suffix}".rstrip("_"): found.value}


def _tolerance(study: Study) -> dict[str, Any] | None:
    found = study.tolerance
    if found is None:
        return None
    return {
        "rule": found.rule,
        "guard_band": entry_json(found.guard),
        "accepted_from": entry_json(found.accepted_from) if found.accepted_from else None,
        "accepted_to": entry_json(found.accepted_to) if found.accepted_to else None,
        "probability": found.probability.value,
        "decision": found.decision,
    }


def _monte_carlo(made: QuantityOfCase) -> dict[str, Any] | None:
    found = made.sampled
    if found is None:
        return None
    out, check = found.outcome, found.against_linear
    unit = f"_{found.of.suffix}" if found.of.suffix else ""
    return {
        "of": found.of.name,
        "trials": out.trials,
        "settled": out.settled,
        "seed": found.chosen.seed,
        "evenly_spread": found.chosen.sobol,
        f"mean{unit}": out.mean,
        f"standard_uncertainty{unit}": out.standard,
        f"shortest_95_percent{unit}": None if found.chosen.sobol else [out.low, out.high],
        f"symmetric_95_percent{unit}": [out.symmetric_low, out.symmetric_high],
        f"numerical_tolerance{unit}": out.tolerance,
        "outside": out.outside,
        "branched_otherwise": found.branched_otherwise,
        "linear_agrees": check.accepted,
        "tables": dict(found.tables),
        f"tables_together{unit}": found.table_off,
    }
