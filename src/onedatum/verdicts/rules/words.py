"""The rules in words: predicates, comparisons, changes and limits as a customer reads them, with their titles.

Words of the case stand as they are; numbers are told in the unit in which the rules write the limit.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from onedatum import data
from onedatum.foundation.sources import Citation, citation
from onedatum.foundation.units import show
from onedatum.verdicts.rules.base import Rule
from onedatum.verdicts.rules.facts import Fact
from onedatum.verdicts.rules.flips import BEYOND, Change, Flip
from onedatum.verdicts.rules.judge import Judgement
from onedatum.verdicts.rules.overrides import Overridden
from onedatum.verdicts.rules.predicate import Atom, Predicate
from onedatum.verdicts.rules.quantity import NO, YES, quantities
from onedatum.verdicts.rules.sweep import limits
from onedatum.verdicts.verdict import Knowledge

TABLE = "rule_titles.json"
NOT_KNOWN, OURS_TO_CHOOSE = "not known", "ours to choose"
DIGITS = 4
SIGNS = {"<": "below", "<=": "at most", ">": "above", ">=": "at least"}
SHARES = (("%vol", "% by volume"), ("%value", "%"), ("%span", "% of span"), ("%capacity", "% of capacity"))
NAME = re.compile(r"\b[a-z]+\.[a-z_]+\b")


@cache
def _titles() -> Mapping[str, Any]:
    found: Mapping[str, Any] = data.table(TABLE)
    return found


def principle_title(principle: str) -> str:
    """A principle as people call it."""
    return str(_titles()["principles"][principle])


def quantity_title(name: str) -> str:
    """What a quantity of the rules is called in print."""
    return str(_titles()["quantities"][name])


def condition_title(name: str) -> str:
    """What of the process a rule is about."""
    return str(_titles()["conditions"][name])


def rule_title(rule: Rule) -> str:
    """A rule by what it is about; one across chapters by its own name."""
    return condition_title(rule.condition) if rule.condition else rule.name.replace("-", " ")


def citations(rule: Rule) -> tuple[Citation, ...]:
    """Where a rule comes from."""
    return tuple(citation(source) for source in rule.sources)


def plain_names(text: str) -> str:
    """A remark with the names of quantities replaced by their titles."""
    known = _titles()["quantities"]
    return NAME.sub(lambda found: str(known.get(found[0], found[0])), text)


# ---------------------------------------------------------------- predicates


def spelled(predicate: Predicate) -> str:
    """A predicate in words: viscosity at most 200 mPa.s."""
    if isinstance(predicate, Atom):
        return atom_words(predicate)
    if not predicate.parts:
        return "always" if predicate.word == "and" else "never"
    joint = " and " if predicate.word == "and" else ", or "
    return joint.join(_part(part, predicate.word) for part in predicate.parts)


def _part(part: Predicate, outer: str) -> str:
    """A part of a join; an `or` within an `and` is set in brackets."""
    bare = isinstance(part, Atom) or outer == "or"
    return spelled(part) if bare else f"({spelled(part)})"


def atom_words(atom: Atom) -> str:
    """One comparison in words."""
    title = quantity_title(atom.name)
    return f"{title} {limit_words(atom)}" if atom.limit is not None else f"{title}: {limit_words(atom)}"


def limit_words(atom: Atom) -> str:
    """What a quantity is compared with."""
    if atom.limit is not None:
        return f"{SIGNS[atom.sign]} {_shares(atom.limit.text)}"
    if set(atom.words) <= {YES, NO} and len(atom.words) == 1:
        return atom.words[0] if atom.sign == "in" else {YES: NO, NO: YES}[atom.words[0]]
    several = ", ".join(atom.words[:-1]) + f" or {atom.words[-1]}" if len(atom.words) > 1 else atom.words[0]
    return several if atom.sign == "in" else f"not {several}"


def _shares(text: str) -> str:
    """Per cents in words."""
    for unit, words in SHARES:
        text = text.replace(unit, words)
    return text


# ---------------------------------------------------------------- what is known


def number_words(name: str, value: float) -> str:
    """A number in the unit in which the rules write its limits."""
    return _shares(_short(show(value, quantities()[name].unit, DIGITS)))


def _short(text: str) -> str:
    """The same number without zeros that say nothing."""
    digits, space, rest = text.partition(" ")
    return (digits.rstrip("0").rstrip(".") if "." in digits else digits) + space + rest


def fact_words(name: str, fact: Fact) -> str:
    """What is known of a quantity."""
    if fact.knowledge is Knowledge.ASK:
        return NOT_KNOWN
    if fact.knowledge is Knowledge.OURS:
        return OURS_TO_CHOOSE
    if not quantities()[name].numeric:
        return fact.word
    ends = dict.fromkeys(number_words(name, end) for end in (fact.low, fact.high))
    spread = f" within {_shares(_difference(name, fact))}" if fact.half else ""
    return " to ".join(ends) + spread


def _difference(name: str, fact: Fact) -> str:
    """Twice the standard uncertainty; of a temperature a difference."""
    unit = {"degC": "K", "degF": "K"}.get(quantities()[name].unit, quantities()[name].unit)
    return _short(show(fact.half, unit, 2))


@dataclass(frozen=True)
class Compared:
    """One comparison that decides: what, what it is, and the limit; in words."""

    name: str
    title: str
    value: str
    limit: str
    assumed: bool
    bare: bool
    """Whether a known number states no uncertainty."""

    def __str__(self) -> str:
        told = f"{self.title}: {self.value}"
        return f"{told}, {self.limit}" if self.limit else told


def compared(atom: Atom, fact: Fact) -> Compared:
    """A comparison beside what is known; of a word, the word alone: which words would serve is no limit."""
    numeric = atom.limit is not None
    limit = limit_words(atom) if numeric else ""
    bare = bool(fact.exact)
    return Compared(atom.name, quantity_title(atom.name), fact_words(atom.name, fact), limit, fact.assumed, bare)


def compared_in(each: Judgement) -> tuple[Compared, ...]:
    """The comparisons of a judgement; two limits of the same number stand together."""
    found: dict[tuple[str, str], Compared] = {}
    for atom, fact in each.because:
        told = compared(atom, fact)
        before = found.get((told.name, told.value))
        if before is not None:
            told = replace(told, limit=", ".join(dict.fromkeys(filter(None, (before.limit, told.limit)))))
        found[told.name, told.value] = told
    return tuple(found.values())


# ---------------------------------------------------------------- changes


def change_words(change: Change, rules: tuple[Rule, ...]) -> str:
    """What a quantity would have to be, and what it is."""
    title = quantity_title(change.name)
    was = fact_words(change.name, change.was)
    return f"{title} {_wanted(change, rules)} ({'now ' if change.was.known else ''}{was})"


def flip_words(flip: Flip, rules: tuple[Rule, ...]) -> str:
    """Everything that would have to change, and what the verdict would be then."""
    changes = " and ".join(change_words(change, rules) for change in flip.changes)
    return f"{flip.turns_to.value} with {changes}"


def _wanted(change: Change, rules: tuple[Rule, ...]) -> str:
    """The value that turns the verdict, told by the limit it lies at or just past."""
    if not quantities()[change.name].numeric:
        return f"as {change.to.word!r}" if change.to.word not in (YES, NO) else f"answered {change.to.word}"
    to = change.to.low
    limit, side = _nearest(limits(rules, change.name), to)
    middle = (change.was.low + change.was.high) / 2
    if side == 0 and change.was.known:
        return f"{'at most' if to <= middle else 'at least'} {number_words(change.name, limit)}"
    word = {-1: "below", 0: "of", 1: "above"}[side]
    return f"{word} {number_words(change.name, limit)}"


def _nearest(marks: tuple[float, ...], to: float) -> tuple[float, int]:
    """The limit that a value lies at, and on which side of it."""
    limit = min(marks, key=lambda mark: abs(mark - to), default=to)
    if abs(limit - to) <= BEYOND * abs(to) * 1e-3:
        return limit, 0
    return limit, -1 if to < limit else 1


# ---------------------------------------------------------------- limits of a site


def override_words(done: Overridden) -> Iterator[str]:
    """What a site sets otherwise, who says it and why."""
    each = done.override
    was = number_words(each.quantity, each.was)
    yield f"{quantity_title(each.quantity)}: limit {each.text} in place of {was}"
    yield "lets more pass than before" if done.looser else "lets less pass than before, or the same"
    if each.said_by:
        yield f"said by {each.said_by}"
    yield f"because {each.reason}" if each.reason else "no reason given"
