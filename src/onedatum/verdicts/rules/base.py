"""The rules as they are read from their table: bands, action, reason, sources, and the worse end of a range."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache, cached_property
from types import MappingProxyType
from typing import Any

from onedatum import data
from onedatum.foundation.errors import OnedatumError
from onedatum.foundation.units import hint
from onedatum.verdicts.rules.predicate import (
    NEVER,
    Atom,
    Join,
    Limit,
    Predicate,
    PredicateError,
    atoms,
    negated,
    read_predicate,
)
from onedatum.verdicts.rules.quantity import Quantity, quantities

TABLE = "rules.json"
ALL = "all"
JOINS = "verdict"
"""The effect of a rule that joins the verdict of a principle; others are told beside it."""
OF_OWN = "of an own instrument"
"""The effect of a rule that holds an instrument to its own data sheet; of a principle it says nothing."""
HIGH, LOW, BOTH = "high", "low", "both ends"


@dataclass(frozen=True)
class Rule:
    """One rule: up to three predicates, of which exactly one holds once everything is known."""

    name: str
    principles: tuple[str, ...]
    suits: Predicate
    on_conditions: Predicate
    does_not_suit: Predicate
    condition: str = ""
    """What of the process it is about; empty for a rule across chapters."""
    effect: str = JOINS
    action: str = ""
    reason: str = ""
    sources: tuple[str, ...] = ()
    worse: Mapping[str, str] = field(default_factory=dict)
    safety: bool = False

    def __hash__(self) -> int:
        return hash(self.name)

    @cached_property
    def may_stand(self) -> Predicate:
        """The opposite of *does not suit*."""
        return negated(self.does_not_suit)

    @cached_property
    def names(self) -> tuple[str, ...]:
        """Every name it reads, in the order of its text."""
        bands = (self.suits, self.on_conditions, self.does_not_suit)
        return tuple(dict.fromkeys(atom.name for band in bands for atom in atoms(band)))

    @cached_property
    def choices(self) -> tuple[str, ...]:
        """The words of the build that it reads."""
        return tuple(name for name in self.names if quantities()[name].chosen)


@dataclass(frozen=True)
class WithoutInfluence:
    """A condition that does not touch a principle, and why."""

    principle: str
    condition: str
    reason: str
    sources: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class RuleBase:
    """All rules, in the order of their table; each is itself alone, so that what follows from it can be kept by it."""

    principles: tuple[str, ...]
    conditions: tuple[str, ...]
    rules: tuple[Rule, ...]
    without_influence: tuple[WithoutInfluence, ...]

    @cached_property
    def by_name(self) -> Mapping[str, Rule]:
        """The rules by their names."""
        return MappingProxyType({rule.name: rule for rule in self.rules})

    def of(self, principle: str) -> Iterator[Rule]:
        """The rules that a principle is judged by."""
        return (rule for rule in self.rules if principle in rule.principles)

    def joining(self, principle: str) -> tuple[Rule, ...]:
        """Those of them that join its verdict; none of a principle that is not there."""
        return self._joining.get(principle, ())

    @cached_property
    def _joining(self) -> Mapping[str, tuple[Rule, ...]]:
        return {each: tuple(rule for rule in self.of(each) if rule.effect == JOINS) for each in self.principles}

    def names_read(self, principle: str) -> tuple[str, ...]:
        """Every name that the rules which join its verdict read, in their order."""
        return self._names_read.get(principle, ())

    @cached_property
    def _names_read(self) -> Mapping[str, tuple[str, ...]]:
        read = {each: (name for rule in rules for name in rule.names) for each, rules in self._joining.items()}
        return {each: tuple(dict.fromkeys(names)) for each, names in read.items()}

    def reading(self, name: str) -> Iterator[Rule]:
        """The rules that read a name."""
        return (rule for rule in self.rules if name in rule.names)

    def with_rules(self, changed: Sequence[Rule]) -> RuleBase:
        """The same with some rules in place of those of their names."""
        new = {rule.name: rule for rule in changed}
        return replace(self, rules=tuple(new.get(rule.name, rule) for rule in self.rules))


@cache
def rule_base() -> RuleBase:
    """The rules that ship with the tool."""
    return read_rules(data.table(TABLE), quantities())


def read_rules(table: Mapping[str, Any], known: Mapping[str, Quantity]) -> RuleBase:
    """The rules of a table; unknown names, words and units are refused by the name of their rule."""
    principles = tuple(table["principles"])
    rows = [*table["rules"], *table["cross"]]
    rules = tuple(_rule(row, principles, known) for row in rows)
    without = tuple(WithoutInfluence(**row | {"sources": tuple(row["sources"])}) for row in table["without_influence"])
    return RuleBase(principles, tuple(table["conditions"]), rules, without)


def _rule(row: Mapping[str, Any], principles: tuple[str, ...], known: Mapping[str, Quantity]) -> Rule:
    try:
        suits, on_conditions, does_not_suit = (
            in_si(read_predicate(row[band]), known) if band in row else NEVER
            for band in ("suits", "on_conditions", "does_not_suit")
        )
    except PredicateError as error:
        raise PredicateError(f"rule {row['name']}: {error}") from None
    told = row.get("principles", [row.get("principle")])
    return Rule(
        row["name"],
        principles if told == ALL else tuple(told),
        suits,
        on_conditions,
        does_not_suit,
        row.get("condition", ""),
        row.get("effect", JOINS),
        row.get("action", ""),
        row["reason"],
        tuple(row["sources"]),
        MappingProxyType(row.get("worse", {})),
        row.get("safety", False),
    )


def in_si(predicate: Predicate, known: Mapping[str, Quantity]) -> Predicate:
    """A predicate with its limits in SI, every comparison checked against its quantity."""
    if isinstance(predicate, Join):
        return Join(predicate.word, tuple(in_si(part, known) for part in predicate.parts))
    quantity = known.get(predicate.name)
    if quantity is None:
        raise PredicateError(f"no quantity is called {predicate.name!r}")
    if predicate.limit is None:
        return _checked_words(predicate, quantity)
    if not quantity.numeric:
        raise PredicateError(f"{predicate.name} is a word and is not compared with {predicate.limit.text}")
    if predicate.limit.unit != quantity.unit:
        raise PredicateError(f"{predicate.name} is written in {quantity.unit or 'no unit'}, not {predicate.limit.unit}")
    limit = predicate.limit
    return replace(predicate, limit=Limit(quantity.in_si(limit.number), limit.unit, limit.text))


def _checked_words(atom: Atom, quantity: Quantity) -> Atom:
    wrong = [word for word in atom.words if word not in quantity.words]
    if quantity.numeric or wrong:
        raise PredicateError(f"{atom.name} is never {' or '.join(wrong or atom.words)!r}")
    return atom


def known_principle(base: RuleBase, name: str) -> str:
    """The name of a principle; of one that is not there, the nearest is told."""
    if name in base.principles:
        return name
    raise OnedatumError(f"no principle is called {name!r}. {hint(name, base.principles)}".rstrip())
