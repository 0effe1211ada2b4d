"""The principles on the case page: by verdict, each with what decides it and what is left to do."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from onedatum.case.model.instrument import BY_DIFFERENCE, BY_HEAD, CAPACITIVE, FLEXIBLE, IN_CHAMBER, RIGID
from onedatum.jobs.choosing.reason import reason_of
from onedatum.jobs.choosing.told import capital, left_words, reasons
from onedatum.jobs.page.made import Made
from onedatum.paper.choosing.model import Reason
from onedatum.study.choosing import Choosing
from onedatum.study.choosing.principle import BYPASS, CAPACITIVES, DIFFERENTIAL, HYDROSTATIC, MAGNETOSTRICTIVE
from onedatum.verdicts import Verdict
from onedatum.verdicts.rules import PrincipleVerdict
from onedatum.verdicts.rules.words import principle_title

WORDS_OF: Mapping[str, tuple[str, ...]] = {
    MAGNETOSTRICTIVE: (RIGID, FLEXIBLE),
    BYPASS: (IN_CHAMBER,),
    DIFFERENTIAL: (BY_DIFFERENCE,),
    HYDROSTATIC: (BY_HEAD,),
    **dict.fromkeys(CAPACITIVES, (CAPACITIVE,)),
}
"""What a case states to have a principle worked, by the name the rules know it by; the others are judged only."""

MOST_REASONS = 2
"""Reasons told beside a principle; the page of all of them has the rest."""


@dataclass(frozen=True)
class PrincipleView:
    """One principle: its verdict, what decides, what is left."""

    name: str
    title: str
    words: tuple[str, ...]
    """What a case may state in its place to choose it."""
    stated: bool
    reasons: tuple[Reason, ...]
    more: int
    left: str


@dataclass(frozen=True)
class GroupView:
    """The principles of one verdict."""

    sign: str
    principles: tuple[PrincipleView, ...]


@dataclass(frozen=True)
class PrinciplesView:
    """Every principle by verdict; of one that is not judged, why."""

    groups: tuple[GroupView, ...]
    not_judged: str = ""
    word: str = ""
    """The principle that the case states, in its words."""


def principles_view(made: Made) -> PrinciplesView:
    """The principles of the case in the order suits, on conditions, undecided, does not suit."""
    choosing = made.study.choosing
    if choosing is None:
        return PrinciplesView((), "No principle is judged: the case states none of the conditions they turn on.")
    ranked = [place.verdict for place in choosing.ranking]
    order = {each.principle: index for index, each in enumerate(ranked)}
    verdicts = sorted(choosing.verdicts.values(), key=lambda each: order.get(each.principle, len(order)))
    word = made.study.statement.case.instrument.principle.text
    return PrinciplesView(tuple(_groups(choosing, verdicts)), word=word)


def _groups(choosing: Choosing, verdicts: list[PrincipleVerdict]) -> Iterator[GroupView]:
    for word in (Verdict.SUITS, Verdict.ON_CONDITIONS, Verdict.UNDECIDED, Verdict.DOES_NOT_SUIT):
        found = tuple(_principle(choosing, each) for each in verdicts if each.verdict is word)
        if found:
            yield GroupView(word.value, found)


def _principle(choosing: Choosing, verdict: PrincipleVerdict) -> PrincipleView:
    told = reasons(verdict)
    return PrincipleView(
        name=verdict.principle,
        title=capital(principle_title(verdict.principle)),
        words=WORDS_OF.get(verdict.principle, ()),
        stated=verdict.principle == choosing.stated,
        reasons=tuple(reason_of(choosing, each) for each in told[:MOST_REASONS]),
        more=max(0, len(told) - MOST_REASONS),
        left="" if verdict.verdict is Verdict.DOES_NOT_SUIT else left_words(verdict),
    )
