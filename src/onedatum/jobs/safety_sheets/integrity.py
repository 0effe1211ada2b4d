"""The sheet of functional safety: every subsystem by the equations and by the chain, and what a level asks beside."""

from __future__ import annotations

from onedatum.case.leaf import Leaf
from onedatum.foundation.units import in_print
from onedatum.jobs.cut import NOT_KNOWN
from onedatum.jobs.safety_sheets.words import checked, present, probability, said, two_columns
from onedatum.paper import model as paper
from onedatum.study.cautions import DEFERENCE, SAFETY
from onedatum.study.result import Study
from onedatum.study.safety import NO_LEVEL, Channelled, SafetyChapter

BANDS = {"none": "above the band of SIL 1", "beyond 4": "below the band of SIL 4", "": NOT_KNOWN}


def integrity_sheet(study: Study) -> paper.TopicSheet | None:
    """The sheet of functional safety; None where no safety function is stated."""
    safety = study.safe.safety
    if safety is None:
        return None
    band = BANDS.get(safety.band, f"in the band of SIL {safety.band}")
    return paper.TopicSheet(
        "Functional safety of the overfill protection",
        f"PFD {probability(safety.pfd)}, {band}. {NO_LEVEL}.",
        (SAFETY, DEFERENCE),
        present(
            (
                _data(safety),
                _worked(safety),
                _whole(study, safety),
                checked(study, ("sil-",), "What is asked beside what is there"),
            )
        ),
        None,
        tuple(
            paper.Note(f"{each.name}: failure data by {each.stated.dangerous_failure_rate.source or NOT_KNOWN}")
            for each in safety.subsystems
        ),
    )


def _data(safety: SafetyChapter) -> paper.SheetTable | None:
    if not safety.subsystems:
        return None
    rows = tuple((each.name, *(_said(each, leaf) for leaf in _leaves(each))) for each in safety.subsystems)
    head = ("subsystem", "architecture", "dangerous failures", "DC", "beta", "proof test", "coverage", "renewal")
    return paper.SheetTable("As stated", head, rows, (2.0, 1.2, 1.6, 1.0, 1.0, 1.2, 1.1, 1.2))


def _said(each: Channelled, leaf: Leaf) -> str:
    """What is stated; one channel has no common cause to state."""
    single = leaf is each.stated.beta and each.stated.architecture.word == "1oo1"
    return "does not apply" if single else said(leaf)


def _leaves(each: Channelled) -> tuple[Leaf, ...]:
    stated = each.stated
    return (
        stated.architecture,
        stated.dangerous_failure_rate,
        stated.diagnostic_coverage,
        stated.beta,
        stated.proof_test_interval,
        stated.proof_test_coverage,
        stated.renewal_interval,
    )


def _worked(safety: SafetyChapter) -> paper.SheetTable | None:
    if not safety.subsystems:
        return None
    rows = tuple(
        (each.name, *map(probability, (each.pfd, each.by_markov, each.per_interval))) for each in safety.subsystems
    )
    head = ("subsystem", "PFD by the equations", "by the Markov chain", "undetected failures per interval")
    note = "Equations of IEC 61508-6 Annex B (read second-hand); above 0.1 failures per interval they are stretched."
    return paper.SheetTable("Probability of failure on demand", head, rows, (2.0, 2.0, 2.0, 2.0), note=note)


def _whole(study: Study, safety: SafetyChapter) -> paper.SheetTable:
    rows = [
        ("PFD of the whole function", probability(safety.pfd)),
        ("risk reduction", probability(study.sheet.entries.get("safety.risk_reduction"))),
        ("fault tolerance allows at most", _level(safety.by_architecture)),
        ("systematic capability allows at most", _level(safety.capability)),
        ("asked for", f"SIL {safety.asked}" if safety.asked else NOT_KNOWN),
    ]
    return two_columns("The whole function", [(name, in_print(text)) for name, text in rows])


def _level(level: int | None) -> str:
    return NOT_KNOWN if level is None else f"SIL {level}"
