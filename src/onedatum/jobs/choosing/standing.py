"""How the order stands: what blocks it and what could be ordered now, said alike on the selection and on the order."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.foundation.units import in_print
from onedatum.jobs.choosing.reason import reason_of
from onedatum.jobs.choosing.told import capital
from onedatum.paper.model import Note
from onedatum.study.result import Study
from onedatum.verdicts import Effect, Verdict
from onedatum.verdicts.rules.words import principle_title


def blocking_notes(study: Study) -> Iterator[Note]:
    """Everything that blocks the order but faults, which stand apart: on the order and on the selection the same."""
    for finding in study.findings:
        if finding.effect is Effect.BLOCKS:
            chain = "; ".join(" ".join(filter(None, (link.text, link.value))) for link in finding.chain)
            yield Note(in_print(finding.title), in_print(chain))
    yield from _against(study)


def _against(study: Study) -> Iterator[Note]:
    """The verdict on the principle of the case where it excludes, and rules that block whatever it is."""
    choosing = study.choosing
    if choosing is None:
        return
    stated = choosing.of_stated
    if stated is not None and stated.verdict is Verdict.DOES_NOT_SUIT:
        for each in stated.deciding:
            told = reason_of(choosing, each)
            numbers = "; ".join(
                f"{pair.title}: {', '.join(filter(None, (pair.value, pair.limit)))}" for pair in told.comparisons
            )
            yield Note(f"{capital(principle_title(stated.principle))} does not suit: {told.title}", numbers)
    found = {finding.key for finding in study.findings}
    for each in (one for one in choosing.blocking if one.rule.name not in found):
        yield Note(in_print(each.rule.reason), in_print(each.rule.action))
