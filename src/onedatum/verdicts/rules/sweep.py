"""Every answer that a rule can tell apart: its limits, and a place in each gap between them.

Predicates compare names with constants only, so that trying these is complete and no sample.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import pairwise

from onedatum.verdicts.rules.base import Rule
from onedatum.verdicts.rules.facts import Fact
from onedatum.verdicts.rules.predicate import atoms
from onedatum.verdicts.rules.quantity import quantities


def answers(rules: Sequence[Rule], name: str) -> tuple[Fact, ...]:
    """One answer for everything that the rules can tell apart: every word, or the places of a number."""
    words = quantities()[name].words
    if words:
        return tuple(Fact(word=word, text=word) for word in words)
    return tuple(
        Fact(low=place, high=place) for place in sorted({each for rule in rules for each in places(rule, name)})
    )


def limits(rules: Sequence[Rule], name: str) -> tuple[float, ...]:
    """Every limit that the rules set for a number, rising."""
    return tuple(sorted({number for rule in rules for number in _limits(rule).get(name, ())}))


@lru_cache(maxsize=4096)
def _limits(rule: Rule) -> Mapping[str, frozenset[float]]:
    """Those of one rule, by name: they are asked for by the thousand where much is unknown."""
    found: dict[str, set[float]] = {}
    for band in (rule.suits, rule.on_conditions, rule.does_not_suit):
        for atom in atoms(band):
            if atom.limit is not None:
                found.setdefault(atom.name, set()).add(atom.limit.number)
    return {name: frozenset(numbers) for name, numbers in found.items()}


@lru_cache(maxsize=4096)
def places(rule: Rule, name: str) -> tuple[float, ...]:
    """The limits of a number, and one place below, between and above them."""
    least = quantities()[name].least
    return tuple(place for place in _between(limits((rule,), name)) if place >= least)


def _between(marks: Sequence[float]) -> Iterator[float]:
    if not marks:
        yield 0.0
        return
    yield marks[0] - max(abs(marks[0]), 1e-12)
    for low, high in pairwise(marks):
        yield from (low, (low + high) / 2)
    yield marks[-1]
    yield marks[-1] + max(abs(marks[-1]), 1e-12)
