"""The head of the page: whose case it is, and the answer in one sentence."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from onedatum.case.leaf import Leaf
from onedatum.foundation.units import in_print
from onedatum.jobs.choosing.told import PLURAL, SINGULAR
from onedatum.jobs.page.made import Made
from onedatum.study.cautions import DEFERENCE
from onedatum.study.result import Study
from onedatum.verdicts import Verdict


@dataclass(frozen=True)
class VerdictCount:
    """How many principles have one verdict."""

    word: str
    number: int
    spoken: str


@dataclass(frozen=True)
class HeadView:
    """Whose case it is, what follows from it in one sentence, how the principles stand."""

    tag: str
    service: str
    invented: bool
    state: str
    answer: str
    blocking: str
    order: str
    counts: tuple[VerdictCount, ...]
    to_correct: int
    """Inputs that hold something which cannot be read; the page rests on the last good values."""
    caution: str = DEFERENCE


def head_view(made: Made) -> HeadView:
    """The head of the page."""
    study = made.study
    case = study.statement.case
    found = Counter(each.verdict for each in study.choosing.verdicts.values()) if study.choosing is not None else {}
    counts = tuple(
        VerdictCount(word.value, found[word], (SINGULAR if found[word] == 1 else PLURAL)[word])
        for word in Verdict
        if found and found[word]
    )
    return HeadView(
        tag=_said(case.tag) or made.case.name,
        service=_said(case.service),
        invented=case.invented.word == "yes",
        state=_state(study),
        answer=in_print(study.answer),
        blocking=in_print(study.blocking),
        order=study.order,
        counts=counts,
        to_correct=len(made.refused) + len({fault.path for fault in study.faults}),
    )


def _state(study: Study) -> str:
    """The state that the page is worked for, with its temperature."""
    temperature = study.now.temperature
    return f"{study.now.name}, {in_print(temperature.text) if temperature.known else 'temperature unknown'}"


def _said(leaf: Leaf) -> str:
    return leaf.text if leaf.known else ""
