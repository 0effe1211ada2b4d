"""The selection sheet: the verdict on every principle, what carries it, what would change it, what comes first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from onedatum.foundation.sources import Citation
from onedatum.foundation.units import in_print
from onedatum.jobs.choosing.questions import decides_words
from onedatum.jobs.choosing.reason import SIGNS, reason_of
from onedatum.jobs.choosing.standing import blocking_notes
from onedatum.jobs.choosing.told import (
    capital,
    counted,
    flip_sentence,
    left_words,
    listed,
    of_stated,
    orderable_words,
    ordering_words,
    ranking_reason,
    reasons,
    requirement_lines,
    told_beside,
    told_words,
)
from onedatum.jobs.paper_of_study import head_of, notes_of
from onedatum.paper.choosing import model as paper
from onedatum.paper.model import Note
from onedatum.study.cautions import DEFERENCE
from onedatum.study.choosing import Choosing
from onedatum.study.result import Study
from onedatum.verdicts import Verdict
from onedatum.verdicts.rules import (
    CRITERION_TITLES,
    USUAL,
    Fact,
    Judgement,
    Place,
    PrincipleVerdict,
    quantities,
)
from onedatum.verdicts.rules.words import (
    NOT_KNOWN,
    citations,
    condition_title,
    fact_words,
    override_words,
    principle_title,
    quantity_title,
    rule_title,
)

MOST_ASKED = 6
BETWEEN = "between chapters"
"""The column of the rules that belong to no single condition."""


def selection_sheet(study: Study, with_flips: bool = True) -> paper.Selection | None:
    """Everything the sheet prints; None where no principle was judged.

    What would change a verdict takes as long as all the rest: a page leaves it away at first and asks for it after.
    """
    choosing = study.choosing
    if choosing is None:
        return None
    told, common = _told_of_all(choosing), _required_of_all(choosing)
    principles = tuple(_principle(study, choosing, each, told, common, with_flips) for each in _by_verdict(choosing))
    return paper.Selection(
        head=head_of(study),
        answer=" ".join(filter(None, (of_stated(choosing), counted(choosing)))),
        conditions=(*map(condition_title, choosing.matrix.base.conditions), BETWEEN),
        rows=tuple(_row(choosing, verdict) for verdict in choosing.verdicts.values()),
        ranking=tuple(_ranked(choosing.ranking)),
        orderable=orderable_words(study, choosing),
        blocking=tuple(blocking_notes(study)),
        first_asked=tuple(_first_asked(choosing)),
        principles=principles,
        unknown=NOT_KNOWN,
        common=common,
        loosened=tuple(_limits(choosing, first_page=True)),
        site_limits=tuple(_limits(choosing, first_page=False)),
        assumptions=tuple(_assumptions(study, choosing)),
        notes=tuple(_notes(choosing, principles, told)),
        faults=notes_of(study).faults,
        cautions=(DEFERENCE,),
        sources=tuple(_sources(choosing)),
    )


# ---------------------------------------------------------------- matrix


def _row(choosing: Choosing, verdict: PrincipleVerdict) -> paper.Row:
    conditions = choosing.matrix.base.conditions
    found: dict[str, list[Judgement]] = {name: [] for name in (*conditions, "")}
    for each in verdict.judgements:
        found[each.rule.condition].append(each)
    cells = tuple(_cell(choosing, judgements) for judgements in found.values())
    title = capital(principle_title(verdict.principle))
    return paper.Row(title, SIGNS[verdict.verdict], cells, verdict.principle == choosing.stated, verdict.principle)


def _cell(choosing: Choosing, judgements: Sequence[Judgement]) -> paper.Cell:
    """The gravest of the rules under one condition; where there is none, it has no influence."""
    if not judgements:
        return paper.Cell("no influence")
    worst = max(judgements, key=lambda each: each.weight)
    site = any(choosing.site.touching(each.rule.name) for each in judgements)
    ours = worst.verdict is Verdict.ON_CONDITIONS and not (worst.conditional or worst.asks)
    return paper.Cell("to be ordered" if ours else SIGNS[worst.verdict], site)


# ---------------------------------------------------------------- principles


def _by_verdict(choosing: Choosing) -> list[PrincipleVerdict]:
    """Those that suit in their order of preference, then the rest in the order of the rules."""
    first = [place.verdict for place in choosing.ranking]
    rest = [each for each in choosing.verdicts.values() if each not in first]
    return [*first, *sorted(rest, key=lambda each: each.verdict.gravity)]


def _principle(
    study: Study,
    choosing: Choosing,
    verdict: PrincipleVerdict,
    told: frozenset[str],
    common: tuple[str, ...],
    with_flips: bool,
) -> paper.Principle:
    against = is_against(verdict)
    return paper.Principle(
        title=capital(principle_title(verdict.principle)),
        sign=SIGNS[verdict.verdict],
        lead=_lead(study, choosing, verdict),
        reasons=tuple(reason_of(choosing, each) for each in reasons(verdict)),
        requirements=tuple(line for line in requirement_lines(verdict) if against or line not in common),
        questions=tuple(capital(quantity_title(name)) for name in verdict.questions),
        flip=flip_sentence(choosing, verdict.principle) if against and with_flips else "",
        beside=tuple(told_beside(choosing, verdict.principle, told)),
        stated=verdict.principle == choosing.stated,
        name=verdict.principle,
    )


def is_against(verdict: PrincipleVerdict) -> bool:
    """Whether something would have to change before the principle suits."""
    return verdict.verdict in (Verdict.DOES_NOT_SUIT, Verdict.UNDECIDED)


def _lead(study: Study, choosing: Choosing, verdict: PrincipleVerdict) -> str:
    """What is left to do, in one sentence."""
    if verdict.verdict is Verdict.DOES_NOT_SUIT:
        return ""
    if verdict.order_only:
        return ordering_words(study, choosing, verdict.principle)
    return capital(left_words(verdict)) + "."


def _required_of_all(choosing: Choosing) -> tuple[str, ...]:
    """What the order keeps to whichever of those that suit is chosen; nothing where there is only one."""
    lines = [tuple(requirement_lines(place.verdict)) for place in choosing.ranking]
    if len(lines) < 2:
        return ()
    shared = set(lines[0]).intersection(*lines[1:])
    return tuple(line for line in lines[0] if line in shared)


def _told_of_all(choosing: Choosing) -> frozenset[str]:
    """The rules that are told of every principle: they are told once."""
    told = [{each.rule.name for each in choosing.matrix.told(name)} for name in choosing.verdicts]
    return frozenset(set.intersection(*told)) if told else frozenset()


# ---------------------------------------------------------------- order of preference


def _ranked(ranking: Sequence[Place]) -> Iterator[paper.Ranked]:
    for place in ranking:
        verdict = place.verdict
        yield paper.Ranked(
            place.rank,
            capital(principle_title(verdict.principle)),
            SIGNS[verdict.verdict],
            left_words(verdict),
            ranking_reason(place),
        )


def _first_asked(choosing: Choosing) -> Iterator[Note]:
    """Where nothing suits yet: the questions that decide most, and how many more there are."""
    if choosing.ranking:
        return
    for each in choosing.questions[:MOST_ASKED]:
        yield Note(quantities()[each.name].title, capital(decides_words(choosing, each.decides)))
    more = len(choosing.questions) - MOST_ASKED
    if more > 0:
        yield Note(f"{more} more on the sheet of questions.")


# ---------------------------------------------------------------- what it rests on


def _limits(choosing: Choosing, first_page: bool) -> Iterator[Note]:
    for done in choosing.site.overridden:
        if done.first_page is first_page:
            rule = choosing.matrix.base.by_name[done.override.rule]
            first, *more = override_words(done)
            title = ", ".join(map(principle_title, rule.principles)) if len(rule.principles) < 3 else "several"
            yield Note(in_print(capital(f"{title}, {rule_title(rule)}: {first}")), in_print("; ".join(more)))


def _assumptions(study: Study, choosing: Choosing) -> Iterator[Note]:
    """What the verdicts rest on that nobody has stated as a fact."""
    why = {each.path: each.why for each in study.assumptions}
    found: dict[str, Note] = {}
    for facts in choosing.matrix.states:
        for name, fact in facts.stated.items():
            if fact.assumed:
                text = in_print(f"{capital(quantity_title(name))}: {fact_words(name, fact)}")
                found.setdefault(name, Note(text, why.get(fact.entry) or _usual(name, fact)))
    yield from found.values()


def _usual(name: str, fact: Fact) -> str:
    if quantities()[name].default == fact.word != "":
        return "usual where nothing is stated; common practice, and still asked"
    return "assumed in the case"


def _notes(choosing: Choosing, principles: Sequence[paper.Principle], told: frozenset[str]) -> Iterator[Note]:
    first = next(iter(choosing.verdicts), "")
    for each in choosing.matrix.told(first) if first else ():
        if each.rule.name in told:
            yield Note(told_words(each), "holds for every principle")
    states = [facts.state for facts in choosing.matrix.states]
    if len(states) > 1:
        yield Note(f"Judged in every state in which the instrument is fitted: {', '.join(states)}. The worst counts.")
    bare = [pair.title for each in principles for reason in each.reasons for pair in reason.comparisons if pair.bare]
    if bare:
        yield Note(f"Uncertainty not stated, so the bare number is compared: {listed(bare)}.")
    own = [f"{row.name.text} ({row.principle.text})" for row in choosing.site.instruments]
    if own:
        yield Note(f"Instruments with the user's own figures: {'; '.join(own)}.", "own data beside the case")
    criteria = ", then ".join(CRITERION_TITLES[name] for name in choosing.site.criteria)
    said = "editable default" if choosing.site.criteria == USUAL else "set by the site"
    yield Note(f"The order of preference puts first: {criteria}.", said)


def _sources(choosing: Choosing) -> Iterator[Note]:
    """Where the rules that decide come from."""
    found: dict[Citation, None] = {}
    for verdict in choosing.verdicts.values():
        for each in reasons(verdict):
            found.update(dict.fromkeys(citations(each.rule)))
    for source in sorted(found, key=lambda each: each.text):
        yield Note(source.text, "; ".join(filter(None, (source.source.tag, source.source.note))))
