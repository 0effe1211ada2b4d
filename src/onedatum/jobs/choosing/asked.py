"""What is asked of the customer where no instrument is chosen: first what decides on a principle, then the rest."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from onedatum.case.model.conditions import stated_elsewhere
from onedatum.study.choosing import Choosing
from onedatum.study.result import Question, Study
from onedatum.verdicts import Verdict
from onedatum.verdicts.rules import quantities
from onedatum.verdicts.rules.words import principle_title

FIRST_ASKED = 8
"""Questions that are told one by one beside a result; all of them stand on the sheet of questions."""


def deciding(choosing: Choosing) -> Iterator[Question]:
    """The shortest list after which no verdict waits, with the principles that each decides on."""
    for each in choosing.questions:
        names = dict.fromkeys(principle for principle, _ in each.decides)
        told = ("every principle",) if len(names) == len(choosing.verdicts) else tuple(map(principle_title, names))
        yield Question(each.name, quantities()[each.name].title, told)


def others(study: Study, choosing: Choosing | None) -> Iterator[Question]:
    """What the numbers of the study wait for; what decides on a principle already is not asked twice."""
    asked = (
        frozenset() if choosing is None else {*asked_by_rules(choosing), *(each.name for each in choosing.questions)}
    )
    above = {where for name, where in stated_elsewhere().items() if name in asked}
    return (each for each in study.questions if each.path not in above)


def asked_by_rules(choosing: Choosing) -> Mapping[str, Sequence[tuple[str, str]]]:
    """Whatever a rule asks for, with the principles and rules that do; nothing for principles that are excluded."""
    found: dict[str, list[tuple[str, str]]] = {}
    for principle, verdict in choosing.verdicts.items():
        for judgement in verdict.judgements if verdict.verdict is not Verdict.DOES_NOT_SUIT else ():
            for name in judgement.asks:
                found.setdefault(name, []).append((principle, judgement.rule.name))
    return found
