"""Which missing answers can still change a verdict: the shortest list after which nothing is undecided.

An answer is wanted where some answers to the others would leave a verdict undecided without it. Every list that is
always enough holds all of these, and these are enough: so this list is the shortest. Answers by which another rule
excludes the principle leave nothing undecided, and ask for nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache, partial
from itertools import islice, product
from math import prod

from onedatum.verdicts.rules.base import Rule
from onedatum.verdicts.rules.facts import Fact, Facts
from onedatum.verdicts.rules.judge import judged
from onedatum.verdicts.rules.matrix import Matrix
from onedatum.verdicts.rules.sweep import answers
from onedatum.verdicts.verdict import Knowledge, Verdict

MOST_TRIALS = 20_000


@dataclass(frozen=True)
class Question:
    """One missing answer, with what it decides."""

    name: str
    decides: tuple[tuple[str, str], ...]
    """Principle and rule, of every verdict that waits for it."""

    @property
    def principles(self) -> tuple[str, ...]:
        """The principles whose verdict waits for it."""
        return tuple(dict.fromkeys(principle for principle, _ in self.decides))


def questions_of(found: Matrix) -> tuple[Question, ...]:
    """The questions to the customer, those that decide most first."""
    wanted: dict[str, dict[tuple[str, str], None]] = {}
    for principle, verdict in found.verdicts.items():
        if verdict.verdict is Verdict.DOES_NOT_SUIT:
            continue
        for judgement in verdict.judgements:
            if judgement.verdict is not Verdict.UNDECIDED:
                continue
            for name in _wanted(found, principle, judgement.rule, verdict.build):
                wanted.setdefault(name, {})[principle, judgement.rule.name] = None
    every = [Question(name, tuple(decides)) for name, decides in wanted.items()]
    return tuple(sorted(every, key=lambda each: (-len(each.principles), -len(each.decides), each.name)))


def _wanted(found: Matrix, principle: str, rule: Rule, build: Mapping[str, str]) -> Iterator[str]:
    """What must be asked for one rule, in the words of the customer: of a number of the study, what it waits for."""
    rules = [each for each in found.base.joining(principle) if each is not rule]
    for state in found.states:
        known = _Known(principle, state, build)
        facts = known.of(rule)
        for name in matters(rule, facts):
            if _stays_open(rule, facts, name, partial(known.stands, rules)):
                yield from facts[name].waits_for or (name,)


def _stays_open(rule: Rule, facts: Mapping[str, Fact], name: str, counts: Callable[[Mapping[str, Fact]], bool]) -> bool:
    """Whether a rule is left undecided by some answers that count; the first that leave it so nearly always do."""
    first = _first_open_way(rule, tuple(facts[each] for each in rule.names), name)
    if first is None or counts(first):
        return first is not None
    return any(counts(told) for told in islice(_open_ways(rule, facts, name), 1, None))


@lru_cache(maxsize=16384)
def _first_open_way(rule: Rule, known: tuple[Fact, ...], name: str) -> Mapping[str, Fact] | None:
    """Kept by what is known, as what matters is."""
    return next(_open_ways(rule, dict(zip(rule.names, known, strict=True)), name), None)


@dataclass(frozen=True)
class _Known:
    """What is known of a principle in one state, in the build that serves it best."""

    principle: str
    state: Facts
    build: Mapping[str, str]

    def of(self, rule: Rule) -> dict[str, Fact]:
        """What a rule reads."""
        words = {name: Fact(word=self.build[name], text=self.build[name]) for name in rule.names if name in self.build}
        return {name: self.state.of(self.principle, name) for name in rule.names} | words

    def stands(self, rules: Sequence[Rule], told: Mapping[str, Fact]) -> bool:
        """Whether, with some answers more, none of the rules excludes for sure."""
        return not any(self._excludes(rule, told) for rule in rules if not told.keys().isdisjoint(rule.names))

    def _excludes(self, rule: Rule, told: Mapping[str, Fact]) -> bool:
        facts = self.of(rule)
        facts |= {name: fact for name, fact in told.items() if name in facts}
        if rule.safety and any(fact.half for fact in facts.values()):
            return False
        return judged(rule, facts).verdict is Verdict.DOES_NOT_SUIT


def _open_ways(rule: Rule, facts: Mapping[str, Fact], name: str) -> Iterator[Mapping[str, Fact]]:
    """Answers to the other names that leave a rule undecided without this one; beyond so many, none at all is told."""
    others = [each for each in rule.names if each != name and facts[each].knowledge is Knowledge.ASK]
    choices = [answers((rule,), each) for each in others]
    if prod(map(len, choices)) > MOST_TRIALS:
        yield {}
        return
    for chosen in product(*choices):
        told = dict(zip(others, chosen, strict=True))
        if judged(rule, {**facts, **told}).verdict is Verdict.UNDECIDED:
            yield told


def matters(rule: Rule, facts: Mapping[str, Fact]) -> tuple[str, ...]:
    """The unknown names of a rule that some answers to the others leave deciding."""
    return _matters(rule, tuple(facts[name] for name in rule.names))


@lru_cache(maxsize=16384)
def _matters(rule: Rule, known: tuple[Fact, ...]) -> tuple[str, ...]:
    """Kept by what is known: the same gap asks the same."""
    facts = dict(zip(rule.names, known, strict=True))
    unknown = [name for name in rule.names if facts[name].knowledge is Knowledge.ASK]
    choices = {name: answers((rule,), name) for name in unknown}
    return tuple(
        name
        for name in unknown
        if _left_open(rule, facts, [each for each in unknown if each != name], choices, iter(range(MOST_TRIALS)))
    )


def _left_open(
    rule: Rule,
    facts: Mapping[str, Fact],
    others: Sequence[str],
    choices: Mapping[str, Sequence[Fact]],
    trials: Iterator[int],
) -> bool:
    """Whether some answers to the others leave the rule undecided; beyond so many trials it is taken that some do.

    What is decided already stays so whatever else is answered; a rule of safety alone may exclude while it is unsure.
    """
    verdict = judged(rule, facts).verdict
    unsure = rule.safety and verdict is Verdict.DOES_NOT_SUIT
    if not others or not (verdict is Verdict.UNDECIDED or unsure):
        return verdict is Verdict.UNDECIDED
    if next(trials, None) is None:
        return True
    first, *rest = others
    return any(_left_open(rule, {**facts, first: fact}, rest, choices, trials) for fact in choices[first])
