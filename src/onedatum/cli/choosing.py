"""What is said of the principles: the verdicts in short for the summary, the whole reasoning on one of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from textwrap import wrap

from onedatum.foundation.wording import counted
from onedatum.jobs.choosing.told import (
    capital,
    flip_sentence,
    left_words,
    of_stated,
    order_words,
    ranking_reason,
    requirement_lines,
    state_words,
    told_beside,
)
from onedatum.study.cautions import DEFERENCE
from onedatum.study.choosing import Choosing
from onedatum.study.compare import says_anything
from onedatum.study.result import Study
from onedatum.verdicts import Verdict
from onedatum.verdicts.rules import Judgement, PrincipleVerdict, quantities
from onedatum.verdicts.rules.words import (
    citations,
    compared_in,
    condition_title,
    override_words,
    principle_title,
    rule_title,
)

COLUMNS = 80
FIRST = 3
NOT_JUDGED = (
    "no principle is judged: the case states no conditions. Add the section conditions (onedatum new writes one), "
    "or leave instrument.principle unknown."
)


def choosing_lines(study: Study) -> list[str]:
    """The verdict on the principle of the case, the first of the ranking, how many questions decide.

    What is faulty is corrected before anything is asked.
    """
    choosing = study.choosing
    if choosing is None or not says_anything(study):
        return []
    asked = "" if study.faults else _asked(choosing)
    if not study.has_instrument:
        return [*_by_verdict(choosing), *wrap(asked, COLUMNS)]
    told = " ".join(filter(None, (of_stated(choosing), _first(choosing), asked)))
    return wrap(told, COLUMNS, subsequent_indent="  ")


def _by_verdict(choosing: Choosing) -> Iterator[str]:
    """The principles under each verdict, those that suit in their order of preference."""
    placed = [place.verdict.principle for place in choosing.ranking]
    names = [*placed, *(name for name in choosing.verdicts if name not in placed)]
    for verdict in Verdict:
        some = [principle_title(name) for name in names if choosing.verdicts[name].verdict is verdict]
        if some:
            title = "every principle" if len(some) == len(names) else "; ".join(some)
            yield from wrap(f"{capital(verdict.value)}: {title}", COLUMNS, subsequent_indent="  ")


def _first(choosing: Choosing) -> str:
    first = [principle_title(place.verdict.principle) for place in choosing.ranking[:FIRST]]
    return f"First of {len(choosing.ranking)} that suit: {', '.join(first)}." if first else "None suits yet."


def _asked(choosing: Choosing) -> str:
    count = len(choosing.questions)
    return f"{counted(count, 'question')} decide{'s' if count == 1 else ''}."


def principle_lines(study: Study, choosing: Choosing, name: str) -> Iterator[str]:
    """Every rule of one principle with what decides it, what is due, where it comes from; how the order stands."""
    verdict = choosing.verdicts[name]
    yield f"{capital(principle_title(name))}: {verdict.verdict.value}"
    yield from _place(choosing, name)
    yield from _wrapped(order_words(study, choosing, name))
    for word in reversed(Verdict):
        some = [each for each in verdict.judgements if each.verdict is word]
        if some:
            yield ""
            yield f"{capital(word.value)} by {counted(len(some), 'rule')}"
        for each in some:
            yield from _judgement(choosing, each)
    yield from _without(choosing, name)
    yield from _rest(choosing, verdict)
    yield ""
    yield from wrap(DEFERENCE, COLUMNS)


def _place(choosing: Choosing, name: str) -> Iterator[str]:
    """Its place among those that suit, or what would turn the verdict."""
    for place in choosing.ranking:
        if place.verdict.principle == name:
            reason = ranking_reason(place)
            words = f"Place {place.rank} of {len(choosing.ranking)} that suit; left: {left_words(place.verdict)}."
            yield from _wrapped(words + (f" Before the next by {reason}." if reason else ""))
            return
    yield from _wrapped(f"What would change it: {flip_sentence(choosing, name)}")


def _judgement(choosing: Choosing, each: Judgement) -> Iterator[str]:
    state = state_words(choosing, each.state)
    told = "; ".join(map(str, compared_in(each)))
    head = f"{rule_title(each.rule)}{f', worst in {state}' if state and each.because else ''}"
    yield from _wrapped(f"- {head}: {told}" if told else f"- {head}", 2)
    if each.verdict is Verdict.SUITS:
        return
    yield from _wrapped(f"because: {each.rule.reason}", 4)
    yield from _wrapped(f"source: {'; '.join(str(source) for source in citations(each.rule))}", 4)
    if each.conditional and each.rule.action:
        yield from _wrapped(f"do: {each.rule.action}", 4)
    for done in choosing.site.touching(each.rule.name):
        yield from _wrapped(f"set by the site: {'; '.join(override_words(done))}", 4)


def _without(choosing: Choosing, name: str) -> Iterator[str]:
    found = [
        condition_title(each.condition) for each in choosing.matrix.base.without_influence if each.principle == name
    ]
    if found:
        yield ""
        yield from _wrapped(f"No influence: {', '.join(found)}")


def _rest(choosing: Choosing, verdict: PrincipleVerdict) -> Iterator[str]:
    """Requirements of the order, questions, and what stands beside the verdict."""
    asked = [f"{quantities()[name].title} ({quantities()[name].knows})" for name in verdict.questions]
    groups: tuple[tuple[str, Sequence[str]], ...] = (
        ("The order keeps to", list(requirement_lines(verdict))),
        ("Ask the customer", asked),
        ("Beside the verdict", list(told_beside(choosing, verdict.principle))),
    )
    for title, lines in groups:
        if lines:
            yield ""
            yield title
        for line in lines:
            yield from _wrapped(f"- {line}", 2)


def _wrapped(text: str, indent: int = 0) -> list[str]:
    return wrap(text, COLUMNS, initial_indent=" " * indent, subsequent_indent=" " * (indent + 2))
