"""One rule judged by what is known: the word, what decides it, what it asks, what it requires of the order."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache, partial
from itertools import product
from math import prod
from typing import NamedTuple

from onedatum.verdicts.rules.base import BOTH, Rule
from onedatum.verdicts.rules.facts import Fact
from onedatum.verdicts.rules.predicate import Atom, Predicate, atoms, rest_of, together, truth_of
from onedatum.verdicts.rules.sweep import answers
from onedatum.verdicts.rules.truth import Truth
from onedatum.verdicts.verdict import Verdict

MOST_TRIALS = 4096
"""Beyond so many combinations of answers it is taken that one of them excludes: the safe side."""


class Weight(NamedTuple):
    """How heavy it is to be served by a build: the gravest verdict first, then counts."""

    gravity: int = 0
    asks: int = 0
    conditions: int = 0
    requirements: int = 0

    @classmethod
    def of(cls, parts: Iterable[Weight]) -> Weight:
        """All of them together; of none, nothing."""
        gravest = asks = conditions = requirements = 0
        for gravity, asking, met, requiring in parts:
            gravest = max(gravest, gravity)
            asks += asking
            conditions += met
            requirements += requiring
        return cls(gravest, asks, conditions, requirements)


@dataclass(frozen=True)
class Judgement:
    """What one rule says."""

    rule: Rule
    verdict: Verdict
    because: tuple[tuple[Atom, Fact], ...] = ()
    """The comparisons that decide, each with what is known of its name."""
    conditional: bool = False
    """Whether its condition is met now, and its action is due."""
    requires: tuple[Predicate, ...] = ()
    """What the order must keep to."""
    asks: tuple[str, ...] = ()
    """Questions to the customer."""
    state: str = ""

    @cached_property
    def weight(self) -> Weight:
        """For choosing among builds: its gravity, whether it asks, is met now, requires something of the order."""
        return Weight(self.verdict.gravity, bool(self.asks), self.conditional, bool(self.requires))


def judged(rule: Rule, facts: Mapping[str, Fact]) -> Judgement:
    """A rule at the worst ends of every range."""
    choices = [facts[name].ends(rule.worse.get(name, BOTH)) for name in rule.names]
    if max(map(len, choices), default=1) == 1:
        return _judged(rule, tuple([each[0] for each in choices]))
    found = [_judged(rule, ends) for ends in product(*choices)]
    worst = max(found, key=lambda each: each.weight)
    same = [each for each in found if each.verdict is worst.verdict]
    return replace(
        worst,
        requires=tuple(dict.fromkeys(part for each in found for part in each.requires)),
        asks=tuple(dict.fromkeys(name for each in same for name in each.asks)),
    )


@lru_cache(maxsize=1024)
def _atoms(rule: Rule) -> tuple[Atom, ...]:
    """Every comparison of a rule, each once."""
    return tuple(dict.fromkeys(atom for band in _bands(rule) for atom in atoms(band)))


@lru_cache(maxsize=65536)
def _judged(rule: Rule, known: tuple[Fact, ...]) -> Judgement:
    facts = dict(zip(rule.names, known, strict=True))
    truths = {atom: facts[atom.name].truth(atom) for atom in _atoms(rule)}
    stands, suits, conditions = (truth_of(band, truths.__getitem__) for band in _bands(rule))
    if stands is Truth.FALSE:
        return Judgement(rule, Verdict.DOES_NOT_SUIT, _because(rule.does_not_suit, truths, facts))
    if suits is Truth.TRUE:
        return Judgement(rule, Verdict.SUITS)
    if suits is Truth.OURS:
        return Judgement(rule, Verdict.ON_CONDITIONS, requires=_required(rule.suits, truths))
    if suits is Truth.FALSE and conditions in (Truth.TRUE, Truth.OURS):
        because = _because(rule.on_conditions, truths, facts)
        return Judgement(rule, Verdict.ON_CONDITIONS, because, True, _required(rule.on_conditions, truths))
    return _open(rule, facts, truths)


def _bands(rule: Rule) -> tuple[Predicate, Predicate, Predicate]:
    return rule.may_stand, rule.suits, rule.on_conditions


def _open(rule: Rule, facts: Mapping[str, Fact], truths: Mapping[Atom, Truth]) -> Judgement:
    """What is left open: undecided where an answer could exclude, else a condition with its question."""
    unsure = [atom for atom, truth in truths.items() if truth is Truth.UNKNOWN]
    excludes = _could_fail(rule, facts, unsure)
    if excludes and rule.safety and any(facts[atom.name].known for atom in unsure):
        return Judgement(rule, Verdict.DOES_NOT_SUIT, tuple((atom, facts[atom.name]) for atom in unsure))
    open_ = [atom for band in (rule.may_stand, rule.suits) for atom in atoms(rest_of(band, truths))]
    because = tuple(dict.fromkeys((atom, facts[atom.name]) for atom in open_ if truths[atom] is Truth.UNKNOWN))
    asks = tuple(dict.fromkeys(name for _, fact in because for name in fact.waits_for))
    verdict = Verdict.UNDECIDED if excludes else Verdict.ON_CONDITIONS
    return Judgement(rule, verdict, because, asks=asks)


def _because(band: Predicate, truths: Mapping[Atom, Truth], facts: Mapping[str, Fact]) -> tuple[tuple[Atom, Fact], ...]:
    """The comparisons of a band that hold and without which it would not; where they are not enough, all that hold."""
    held = [atom for atom in dict.fromkeys(atoms(band)) if _truth(atom, truths) is Truth.TRUE]
    needed = [atom for atom in held if _by(band, [each for each in held if each != atom]) is not Truth.TRUE]
    return tuple((atom, facts[atom.name]) for atom in (needed if _by(band, needed) is Truth.TRUE else held))


def _by(band: Predicate, held: Sequence[Atom]) -> Truth:
    """A band by some comparisons that hold, and nothing else."""
    return truth_of(band, lambda atom: Truth.TRUE if atom in held else Truth.FALSE)


def _truth(atom: Atom, truths: Mapping[Atom, Truth]) -> Truth:
    """Of a comparison or of its opposite."""
    if atom in truths:
        return truths[atom]
    turned = truths[atom.turned]
    return {Truth.TRUE: Truth.FALSE, Truth.FALSE: Truth.TRUE}.get(turned, turned)


def _required(band: Predicate, truths: Mapping[Atom, Truth]) -> tuple[Predicate, ...]:
    return together(rest_of(band, truths))


def _could_fail(rule: Rule, facts: Mapping[str, Fact], unsure: Sequence[Atom]) -> bool:
    """Whether some answer to what is not known makes the rule exclude."""
    names = tuple(dict.fromkeys(atom.name for atom in unsure))
    choices = [tuple(_answers(rule, name, facts[name])) for name in names]
    if prod(map(len, choices)) > MOST_TRIALS:
        return True
    for chosen in product(*choices):
        tried = {**facts, **dict(zip(names, chosen, strict=True))}
        if truth_of(rule.may_stand, partial(_truth_by, tried)) is Truth.FALSE:
            return True
    return False


def _truth_by(facts: Mapping[str, Fact], atom: Atom) -> Truth:
    return facts[atom.name].truth(atom)


def _answers(rule: Rule, name: str, fact: Fact) -> Iterator[Fact]:
    """Everything that the rule can tell apart; of a number that is not known well, within what it may be."""
    low, high = fact.span
    yield from (each for each in answers((rule,), name) if not fact.known or low <= each.low <= high)
    if fact.known:
        yield from (Fact(low=end, high=end) for end in fact.span)
