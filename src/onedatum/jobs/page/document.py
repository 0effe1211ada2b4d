"""What there is to document: each paper with whether it is ready, and what stops it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from onedatum.foundation.wording import counted
from onedatum.jobs.page.made import Made
from onedatum.study.result import Study
from onedatum.verdicts import Effect, Verdict

READY = "ready"


@dataclass(frozen=True)
class PaperLine:
    """One paper: its page, its name, how it stands."""

    page: str
    title: str
    state: str
    stopped: bool = False


def document_view(made: Made) -> tuple[PaperLine, ...]:
    """Every paper of the case."""
    return tuple(_lines(made.study))


def _lines(study: Study) -> Iterator[PaperLine]:
    yield _order(study)
    yield PaperLine("selection", "Selection", READY if study.choosing else "no principle is judged")
    yield PaperLine("questions", "Questions to the customer", _questions(study))
    yield PaperLine("sheets", "Sheets: loop, alarms, area, stem", _with_faults(study))
    yield PaperLine("quantity", "Quantity statement", READY if study.quantity else "no quantity is asked for")
    yield PaperLine("table", "Tank table", READY if study.vessel else "waits for the vessel")
    yield PaperLine("signal", "Expected signal card", READY if study.has_instrument else "no instrument is chosen")
    yield PaperLine("review", "Review of a level log", "wants a log")
    yield PaperLine("papers", "All papers, to print and send", _with_faults(study))


def _questions(study: Study) -> str:
    """How many numbers are asked for, and whether the choice of the principle asks too."""
    asked, verdicts = len(study.questions), study.choosing.verdicts.values() if study.choosing else ()
    undecided = not study.has_instrument and any(each.verdict is Verdict.UNDECIDED for each in verdicts)
    told = [f"{asked} to ask"] if asked else []
    told += ["what decides the principle"] if undecided else []
    return ", and ".join(told) or "nothing to ask"


def _order(study: Study) -> PaperLine:
    title = "Order"
    if not study.has_instrument:
        return PaperLine("order", title, "no instrument is chosen")
    if study.order == "blocked":
        against = sum(finding.effect is Effect.BLOCKS for finding in study.findings)
        by = [counted(against, "finding")] if against else []
        by += [f"{counted(len(study.faults), 'input')} to correct"] if study.faults else []
        return PaperLine("order", title, f"blocked by {' and '.join(by) or 'the verdict on its principle'}", True)
    return PaperLine("order", title, READY if study.order == "not blocked" else study.order)


def _with_faults(study: Study) -> str:
    return f"ready, with {counted(len(study.faults), 'input')} to correct" if study.faults else READY
