"""One principle judged over all its rules and states, for the build that serves it best.

The words of a build (rigid or flexible, bare or coated, tube or rods) are ours to choose, but one choice serves all
rules: otherwise two rules could each promise what only opposite builds give.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from itertools import product

from onedatum.verdicts.rules.base import Rule, RuleBase
from onedatum.verdicts.rules.facts import Fact, Facts, follows_from
from onedatum.verdicts.rules.judge import Judgement, Weight, judged
from onedatum.verdicts.rules.predicate import Atom, Predicate
from onedatum.verdicts.rules.quantity import quantities
from onedatum.verdicts.verdict import Knowledge, Verdict, merge

Words = tuple[str, ...]
Known = tuple[tuple[Fact, ...], ...]
"""Of each name, what is known of it in every state."""


@dataclass(frozen=True)
class Requirement:
    """What the order must keep to, and the rule that asks for it; of the choice of a build, no rule."""

    demand: Predicate
    rule: Rule | None = None


@dataclass(frozen=True)
class PrincipleVerdict:
    """What is said of one principle."""

    principle: str
    verdict: Verdict
    judgements: tuple[Judgement, ...]
    """Of every rule, at its worst state."""
    build: Mapping[str, str]
    """The words of the build that serves it best."""
    requirements: tuple[Requirement, ...]

    @cached_property
    def deciding(self) -> tuple[Judgement, ...]:
        """The judgements that set the verdict; of a condition, those whose action is due or that ask."""
        same = (each for each in self.judgements if each.verdict is self.verdict)
        if self.verdict is Verdict.ON_CONDITIONS:
            return tuple(each for each in same if each.conditional or each.asks)
        return tuple(same) if self.verdict is not Verdict.SUITS else ()

    @cached_property
    def conditions(self) -> tuple[Judgement, ...]:
        """The judgements whose action is due."""
        return tuple(each for each in self.judgements if each.conditional)

    @cached_property
    def questions(self) -> tuple[str, ...]:
        """What the customer must be asked; nothing of a principle that is excluded anyway."""
        if self.verdict is Verdict.DOES_NOT_SUIT:
            return ()
        return tuple(dict.fromkeys(name for each in self.judgements for name in each.asks))

    @property
    def order_only(self) -> bool:
        """Whether nothing but requirements of the order is left; of what blocks every order it knows nothing."""
        fits = self.verdict in (Verdict.SUITS, Verdict.ON_CONDITIONS)
        return fits and not self.conditions and not self.questions


def principle_verdict(base: RuleBase, principle: str, states: Sequence[Facts]) -> PrincipleVerdict:
    """Judge a principle in every state in which its instrument is fitted."""
    return _judged(base, principle, *_known(base, principle, states))


@lru_cache(maxsize=1024)
def _judged(base: RuleBase, principle: str, known: Known, states: Words) -> PrincipleVerdict:
    """Kept by what is known of the names that its rules read: a change judges only the principles it touches."""
    free, tables = _tables(base, principle, known, states)
    weigh = _Scale(tables)
    best = min(product(*free.values()), key=weigh)
    judgements = tuple(table.at(best) for table in tables)
    verdict = merge(each.verdict for each in judgements)
    chosen = tuple(_chosen(free, weigh, best)) if verdict is not Verdict.DOES_NOT_SUIT else ()
    build = dict(zip(free, best, strict=True))
    return PrincipleVerdict(principle, verdict, judgements, build, (*chosen, *_required(judgements, verdict)))


def against(base: RuleBase, principle: str, states: Sequence[Facts], gravity: int) -> tuple[frozenset[Rule], ...]:
    """The rules that stand against a principle with at least that gravity, for each build that no other betters."""
    free, tables = _tables(base, principle, *_known(base, principle, states))
    found = {
        frozenset(each.rule for each in (table.at(words) for table in tables) if each.verdict.gravity >= gravity)
        for words in product(*free.values())
    }
    return tuple(sorted((some for some in found if not any(less < some for less in found)), key=len))


def _known(base: RuleBase, principle: str, states: Sequence[Facts]) -> tuple[Known, Words]:
    """What is known of each name that a principle reads, state by state; and what the states are called."""
    known = tuple([tuple([state.of(principle, name) for state in states]) for name in base.names_read(principle)])
    return known, tuple([state.state for state in states])


@dataclass(frozen=True)
class Ground:
    """What is known of a principle in the states of a case, from which single facts are changed and judged again."""

    base: RuleBase
    principle: str
    states: Sequence[Facts]

    @cached_property
    def _stands(self) -> tuple[Known, Words]:
        return _known(self.base, self.principle, self.states)

    @cached_property
    def _following(self) -> Mapping[str, frozenset[str]]:
        """The names whose fact is not handed over in some state but follows from others, with those others."""
        return {
            name: follows_from(name)
            for name in self.base.names_read(self.principle)
            if quantities()[name].asks and any(state.lacks(self.principle, name) for state in self.states)
        }

    def verdict_after(self, changes: Mapping[str, Fact]) -> PrincipleVerdict:
        """The verdict with these facts in every state; of the others only those that follow from them are read anew."""
        known, called = self._stands
        anew = {name for name, others in self._following.items() if not others.isdisjoint(changes)}
        states = list(self.states)
        for name, fact in changes.items() if anew else ():
            states = [state.with_fact(name, fact) for state in states]
        now = dict(zip(self.base.names_read(self.principle), known, strict=True))
        now |= {name: tuple([state.of(self.principle, name) for state in states]) for name in anew}
        now |= {name: (fact,) * len(states) for name, fact in changes.items() if name in now}
        return _judged(self.base, self.principle, tuple(now.values()), called)


def _tables(base: RuleBase, principle: str, known: Known, states: Words) -> tuple[dict[str, Words], list[_Table]]:
    """Every rule of a principle by the words of the builds."""
    rules, by_name = base.joining(principle), dict(zip(base.names_read(principle), known, strict=True))
    free = _free_words(rules, by_name)
    words = tuple(free)
    return free, [_table(rule, words, tuple(by_name[name] for name in rule.names), states) for rule in rules]


def _free_words(rules: Iterable[Rule], known: Mapping[str, tuple[Fact, ...]]) -> dict[str, Words]:
    """The words of the build that are ours to choose, in the order in which the rules read them."""
    names = dict.fromkeys(name for rule in rules for name in rule.choices)
    return {
        name: quantities()[name].words
        for name in names
        if any(fact.knowledge is Knowledge.OURS for fact in known[name])
    }


# ---------------------------------------------------------------- rules by the words of a build


@dataclass(frozen=True)
class _Table:
    """The judgement of one rule for every choice of the words it reads."""

    places: tuple[int, ...]
    """Where its own words stand among all."""
    judgements: Mapping[Words, Judgement]

    @cached_property
    def weights(self) -> Mapping[Words, Weight]:
        """What each weighs."""
        return {words: judgement.weight for words, judgement in self.judgements.items()}

    def at(self, words: Words) -> Judgement:
        return self.judgements[tuple(words[place] for place in self.places)]


@lru_cache(maxsize=16384)
def _table(rule: Rule, free: Words, known: tuple[tuple[Fact, ...], ...], states: Words) -> _Table:
    """Kept by what is known of each of its names in every state: a change judges only the rules that read it."""
    own = [name for name in rule.choices if name in free]
    found = {}
    for words in product(*(quantities()[name].words for name in own)):
        chosen = {name: Fact(word=word, text=word) for name, word in zip(own, words, strict=True)}
        found[words] = _worst(
            [
                replace(judged(rule, dict(zip(rule.names, facts, strict=True)) | chosen), state=state)
                for state, *facts in zip(states, *known, strict=True)
            ]
        )
    return _Table(tuple(free.index(name) for name in own), found)


def _worst(judgements: Sequence[Judgement]) -> Judgement:
    """The gravest of the states, with what every state requires."""
    worst = max(judgements, key=lambda each: each.weight)
    requires = tuple(dict.fromkeys(part for each in judgements for part in each.requires))
    asks = tuple(dict.fromkeys(name for each in judgements for name in each.asks))
    return replace(worst, requires=requires, asks=asks)


class _Scale:
    """What a choice of words weighs; the rules that read none of them are weighed once."""

    def __init__(self, tables: Sequence[_Table]) -> None:
        self.moving = [(table.places, table.weights) for table in tables if table.places]
        self.fixed = Weight.of(table.weights[()] for table in tables if not table.places)

    def __call__(self, words: Words) -> Weight:
        moving = (weights[tuple([words[at] for at in places])] for places, weights in self.moving)
        return Weight.of((self.fixed, *moving))


def _chosen(free: Mapping[str, Words], weigh: _Scale, best: Words) -> Iterator[Requirement]:
    """The words of the build that must be kept to: those that another word would make worse."""
    least = weigh(best)
    for place, (name, words) in enumerate(free.items()):
        good = tuple(word for word in words if weigh((*best[:place], word, *best[place + 1 :])) == least)
        if len(good) < len(words):
            yield Requirement(Atom(name, "in", words=good))


def _required(judgements: Iterable[Judgement], verdict: Verdict) -> Iterator[Requirement]:
    if verdict is Verdict.DOES_NOT_SUIT:
        return
    for each in judgements:
        for part in each.requires:
            yield Requirement(part, each.rule)
