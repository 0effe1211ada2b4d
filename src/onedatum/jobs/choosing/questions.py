"""The questions to the customer: the shortest list that decides, then what stands beside, with room for answers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from onedatum.foundation.units import in_print
from onedatum.foundation.wording import counted
from onedatum.jobs.choosing.asked import asked_by_rules, others
from onedatum.jobs.choosing.told import capital
from onedatum.jobs.paper_of_study import head_of, notes_of
from onedatum.paper.choosing import model as paper
from onedatum.study.choosing import Choosing
from onedatum.study.result import Study
from onedatum.verdicts.rules import Quantity, quantities
from onedatum.verdicts.rules.words import fact_words, plain_names, principle_title, rule_title

CAUTION = "Answer only what is known; write 'not known' where it is not. A guess is marked as one."
MOST_DECIDES = 4


def question_sheet(study: Study) -> paper.Questions | None:
    """Every question of a study; None where nothing is asked."""
    choosing = study.choosing
    deciding = tuple(_deciding(choosing)) if choosing is not None else ()
    attached = tuple(_attached(choosing)) if choosing is not None else ()
    assumed = tuple(_assumed(choosing)) if choosing is not None else ()
    others = tuple(_others(study, choosing))
    if not (deciding or attached or assumed or others):
        return None
    return paper.Questions(
        head=head_of(study),
        answer=_answer(choosing, len(deciding), len(attached) + len(others)),
        deciding=deciding,
        attached=attached,
        assumed=assumed,
        others=others,
        faults=notes_of(study).faults,
        cautions=(CAUTION,),
    )


def _answer(choosing: Choosing | None, deciding: int, more: int) -> str:
    if choosing is None:
        return f"{counted(more, 'question')} for the numbers of the study; no principle is judged."
    if not deciding:
        return f"No verdict waits for an answer; {counted(more, 'question')} beside."
    verb = "decides" if deciding == 1 else "decide"
    first = f"{counted(deciding, 'question')} {verb} which principle suits: the shortest list."
    return f"{first} {counted(more, 'question')} beside."


def _deciding(choosing: Choosing) -> Iterator[paper.Question]:
    for each in choosing.questions:
        yield _question(quantities()[each.name], decides_words(choosing, each.decides))


def _attached(choosing: Choosing) -> Iterator[paper.Question]:
    """What no answer could turn into an exclusion: asked beside the conditions it belongs to."""
    first = {each.name for each in choosing.questions}
    for name, decides in asked_by_rules(choosing).items():
        if name not in first:
            yield _question(quantities()[name], decides_words(choosing, decides))


def decides_words(choosing: Choosing, pairs: Sequence[tuple[str, str]]) -> str:
    """The principles that wait for an answer, and by which conditions; those that do not, where that is shorter."""
    rules = choosing.matrix.base.by_name
    titles = dict.fromkeys(rule_title(rules[rule]) for _, rule in pairs)
    return f"{_shortest(choosing, {principle for principle, _ in pairs})}, by {', '.join(titles)}"


def _shortest(choosing: Choosing, names: set[str]) -> str:
    """Principles by name, or all but the others."""
    told, others = (
        [principle_title(name) for name in choosing.verdicts if (name in names) is inside] for inside in (True, False)
    )
    if not others:
        return "every principle"
    but = f"all but {' and '.join(filter(None, (', '.join(others[:-1]), others[-1])))}"
    return min(", ".join(told), but, key=len)


def _assumed(choosing: Choosing) -> Iterator[paper.Question]:
    """What a usual answer stands for until the customer says otherwise."""
    told: dict[str, str] = {}
    for facts in choosing.matrix.states:
        for name, fact in facts.stated.items():
            if fact.assumed and quantities()[name].default == fact.word != "":
                told.setdefault(name, fact_words(name, fact))
    for name, now in told.items():
        yield _question(quantities()[name], "", now)


def _others(study: Study, choosing: Choosing | None) -> Iterator[paper.Question]:
    """What the numbers of the study wait for; what is asked above already is not asked twice."""
    for each in others(study, choosing):
        decides = [in_print(text) for text in dict.fromkeys(each.decides)]
        yield paper.Question(in_print(capital(each.title)), (), "", "", "; ".join(decides[:MOST_DECIDES]))


def _question(quantity: Quantity, decides: str, now: str = "") -> paper.Question:
    return paper.Question(
        text=quantity.title,
        choices=quantity.words,
        unit=in_print(quantity.unit) if quantity.numeric else "",
        who=quantity.knows,
        decides=decides,
        remark=plain_names(quantity.remark),
        now=now,
    )
