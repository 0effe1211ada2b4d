"""The three scenarios of the reference as facts, and cases drawn at random."""

from __future__ import annotations

import json
import random
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import Any

from onedatum.verdicts import Knowledge
from onedatum.verdicts.rules import Fact, Facts, Rule, judged, quantities, rule_base, sweep

REFERENCE = Path(__file__).parents[2] / "reference" / "verdicts.json"


@cache
def scenarios() -> Mapping[str, Any]:
    found: Mapping[str, Any] = json.loads(REFERENCE.read_text(encoding="utf-8"))["scenarios"]
    return found


def fact_of(name: str, value: Any) -> Fact:
    """A fact from what the reference writes, in the units of the rules."""
    quantity = quantities()[name]
    if not quantity.numeric:
        return Fact(word=str(value), text=str(value))
    low, high = value if isinstance(value, list) else (value, value)
    return Fact(low=quantity.in_si(float(low)), high=quantity.in_si(float(high)), text=str(value))


def facts_of(scenario: Mapping[str, Any]) -> Facts:
    stated: dict[str, Fact] = {}
    for part in ("stated", "extra_inputs", "assumed_defaults", "numbers"):
        stated |= {name: fact_of(name, row["value"]) for name, row in scenario[part].items()}
    own = {
        principle: {name: fact_of(name, value) for name, value in rows.items()}
        for principle, rows in scenario["numbers_of_one_principle"].items()
    }
    return Facts("", stated, own)


def answers(rule: Rule, name: str) -> tuple[Fact, ...]:
    """One answer for everything that a rule can tell apart."""
    return sweep.answers((rule,), name)


def random_cases(count: int, seed: int, known: float = 0.7) -> Iterator[Facts]:
    """Cases in which each quantity is known with the given chance; numbers lie at and between the limits."""
    chance = random.Random(seed)
    marks = {name: _marks(name) for name in quantities()}
    for _ in range(count):
        stated = {name: chance.choice(marks[name]) for name in quantities() if marks[name] and chance.random() < known}
        yield Facts("", stated)


def near_cases(count: int, seed: int, changes: int = 3) -> Iterator[Facts]:
    """The scenarios with everything known and a few answers made otherwise."""
    chance = random.Random(seed)
    told = [filled(facts_of(scenario)) for scenario in scenarios().values()]
    for _ in range(count):
        case = chance.choice(told)
        for name in chance.sample(sorted(quantities()), changes):
            if _marks(name):
                case = case.with_fact(name, chance.choice(_marks(name)))
        yield case


def filled(facts: Facts) -> Facts:
    """With every missing answer of the process given, each so that it stands least against any principle."""
    for name in quantities():
        rules = list(rule_base().reading(name))
        if rules and facts.of(rules[0].principles[0], name).knowledge is Knowledge.ASK:
            tried = [facts.with_fact(name, fact) for fact in _marks(name)]
            facts = min(tried, key=lambda each: sum(_gravity(rule, each) for rule in rules))
    return facts


def _gravity(rule: Rule, facts: Facts) -> int:
    return judged(rule, {name: facts.of(rule.principles[0], name) for name in rule.names}).verdict.gravity


@cache
def _marks(name: str) -> Sequence[Fact]:
    every = [fact for rule in rule_base().reading(name) for fact in answers(rule, name)]
    return tuple(dict.fromkeys(every))
