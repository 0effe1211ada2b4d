"""What would turn a verdict: the smallest change of one quantity, or of as few as it takes.

A change is tried at the limits of the rules that stand against the principle; the verdict is then worked again, and
only the rules that read what changed are judged anew.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from itertools import islice, product

from onedatum.verdicts.rules.base import Rule, RuleBase
from onedatum.verdicts.rules.facts import Fact, Facts
from onedatum.verdicts.rules.judge import judged
from onedatum.verdicts.rules.principle import Ground, PrincipleVerdict, against
from onedatum.verdicts.rules.quantity import quantities
from onedatum.verdicts.rules.sweep import limits
from onedatum.verdicts.verdict import Verdict

BEYOND = 1e-6
"""How far past a limit that does not belong to the better side, relative to it."""
MOST_CHANGES = 3
MOST_TRIALS = 2000


@dataclass(frozen=True)
class Change:
    """One quantity, what it is and what it would have to be."""

    name: str
    was: Fact
    to: Fact
    size: float
    """Of a number, against the span of the limits that the rules set for it; of a word, 1."""


@dataclass(frozen=True)
class Flip:
    """Changes that turn a verdict when they are made together."""

    principle: str
    was: Verdict
    turns_to: Verdict
    changes: tuple[Change, ...]

    @property
    def size(self) -> tuple[int, float]:
        """Few changes before small ones."""
        return len(self.changes), sum(change.size for change in self.changes)


def flip_of(base: RuleBase, states: Sequence[Facts], found: PrincipleVerdict) -> Flip | None:
    """The smallest change that makes a principle better than it is; None where more than three would be needed.

    For each build the rules against it must all be touched; the build with the fewest and smallest changes is told.
    """
    if found.verdict not in (Verdict.DOES_NOT_SUIT, Verdict.UNDECIDED):
        return None
    return _flip(base, found.principle, found.verdict, _Known.of(base, found.principle, states))


@dataclass(frozen=True)
class _Known:
    """The states of a case by what of them a principle reads: what is alike flips alike."""

    facts: tuple[tuple[Fact, ...], ...]
    states: tuple[Facts, ...] = field(compare=False)

    @classmethod
    def of(cls, base: RuleBase, principle: str, states: Sequence[Facts]) -> _Known:
        names = base.names_read(principle)
        return cls(tuple(tuple(state.of(principle, name) for name in names) for state in states), tuple(states))


@lru_cache(maxsize=1024)
def _flip(base: RuleBase, principle: str, verdict: Verdict, known: _Known) -> Flip | None:
    builds, ground = against(base, principle, known.states, verdict.gravity), Ground(base, principle, known.states)
    changes = {
        rule: tuple(_changes(base, known.states, principle, rule))
        for rule in {rule for some in builds for rule in some}
    }
    for count in range(1, MOST_CHANGES + 1):
        best: Flip | None = None
        for some in builds:
            choices = [changes[rule] for rule in sorted(some, key=lambda each: each.name)]
            for names in _alternatives(choices, count):
                best = _smaller(ground, Flip(principle, verdict, verdict, ()), names, best)
        if best is not None:
            return best
    return None


def changed(states: Sequence[Facts], changes: Sequence[Change]) -> list[Facts]:
    """The states with the changes made."""
    found = list(states)
    for change in changes:
        found = [state.with_fact(change.name, change.to) for state in found]
    return found


def _smaller(ground: Ground, none: Flip, choices: Sequence[Sequence[Change]], best: Flip | None) -> Flip | None:
    """The smallest change of the quantities chosen from, if it turns the verdict and is smaller than the best."""
    rising = sorted(product(*choices), key=lambda each: sum(change.size for change in each))
    for changes in islice(rising, MOST_TRIALS):
        tried = replace(none, changes=changes)
        if best is not None and tried.size >= best.size:
            return best
        then = ground.verdict_after({change.name: change.to for change in changes}).verdict
        if then.gravity < none.was.gravity:
            return replace(tried, turns_to=then)
    return best


def _alternatives(choices: Sequence[Sequence[Change]], count: int) -> Iterator[list[tuple[Change, ...]]]:
    """The changes of every set of `count` quantities that touch every rule."""
    read = [{change.name for change in some} for some in choices]
    every: dict[str, dict[Change, None]] = {}
    for some in choices:
        for change in some:
            every.setdefault(change.name, {})[change] = None
    for names in _covers(read, tuple(every), count):
        yield [tuple(every[name]) for name in names]


def _covers(read: Sequence[set[str]], names: tuple[str, ...], count: int) -> Iterator[tuple[str, ...]]:
    """Sets of names of which each rule reads one at least."""
    if not read:
        yield ()
        return
    if count == 0:
        return
    seen: set[tuple[str, ...]] = set()
    for name in (each for each in names if each in read[0]):
        rest = [one for one in read if name not in one]
        for more in _covers(rest, names, count - 1):
            chosen = tuple(sorted((name, *more)))
            if chosen not in seen:
                seen.add(chosen)
                yield chosen


def _changes(base: RuleBase, states: Sequence[Facts], principle: str, rule: Rule) -> Iterator[Change]:
    """Every change of one quantity that could help against one rule, from what it is in the worst state."""
    worst = max(states, key=lambda each: judged(rule, {name: each.of(principle, name) for name in rule.names}).weight)
    for name in rule.names:
        quantity = quantities()[name]
        was = worst.of(principle, name)
        if quantity.chosen and not was.known:
            continue
        if quantity.words:
            yield from (Change(name, was, Fact(word=w, text=w), 1.0) for w in quantity.words if w != was.word)
            continue
        scale = usual_span(base, name)
        for target in _targets(rule, name, scale):
            middle = (was.low + was.high) / 2 if was.known else target
            to = Fact(low=target, high=target)
            yield Change(name, was, to, abs(target - middle) / scale if was.known else 0.0)


def _targets(rule: Rule, name: str, scale: float) -> Iterator[float]:
    """At each limit, and just past it on either side."""
    for limit in limits((rule,), name):
        step = BEYOND * (abs(limit) or scale)
        yield from (limit, limit - step, limit + step)


@lru_cache(maxsize=1024)
def usual_span(base: RuleBase, name: str) -> float:
    """The span of the limits that the rules set for a number; of a single one, its size."""
    marks = limits(base.rules, name)
    width = marks[-1] - marks[0] if marks else 0.0
    return width or (abs(marks[0]) if marks and marks[0] else 1.0)
