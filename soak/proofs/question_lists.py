"""Question lists of many cases against every list there could be, evaluated apart from the judging of the tool."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cached_property
from itertools import combinations, product
from operator import ge, gt, le, lt
from random import Random

import numpy as np
from numpy.typing import NDArray

from onedatum.verdicts import Knowledge, Verdict
from onedatum.verdicts.rules import (
    Fact,
    Facts,
    Rule,
    RuleBase,
    matrix,
    principle_verdict,
    quantities,
    questions_of,
    rule_base,
)
from onedatum.verdicts.rules.predicate import Atom, Predicate
from onedatum.verdicts.rules.quantity import PROCESS
from onedatum.verdicts.rules.sweep import answers
from soak.report import Report

NAME = "question_lists"
SEED = 20261126
CASES = 200
UNKNOWNS = 12
MOST_ANSWERS = 4
"""Of one name, so that everything that can be answered is tried and none of it drawn."""
MOST_BUILDS = 16

Held = NDArray[np.bool_]
COMPARE: Mapping[str, Callable[[float, float], bool]] = {"<": lt, "<=": le, ">": gt, ">=": ge}


# ---------------------------------------------------------------- every list there is


class EveryList:
    """Whether a list of questions is always enough, by every answer to it and to all that is left unasked.

    A rule counts by its excluding band alone: it excludes for some of the answers left, for all, or for none. A build
    is fine where no rule may exclude it, excluded where one surely does, open else; a principle is undecided where no
    build is fine and one is open.
    """

    def __init__(self, base: RuleBase, case: Facts, principles: Sequence[str], unknown: Sequence[str]) -> None:
        self.unknown, self.case = tuple(unknown), case
        read = [rule for each in principles for rule in base.joining(each)]
        self.choices = {name: answers([rule for rule in read if name in rule.names], name) for name in unknown}
        self.judged = [_Builds(self, base, principle) for principle in principles]

    def enough(self, asked: Sequence[str]) -> bool:
        """Whether nothing is undecided any more, whatever is answered."""
        return not any(each.undecided(frozenset(asked)) for each in self.judged)

    @cached_property
    def shortest(self) -> tuple[frozenset[str], ...]:
        """The shortest lists that are always enough, by trying all, the shorter first."""
        for count in range(len(self.unknown) + 1):
            found = tuple(frozenset(some) for some in combinations(self.unknown, count) if self.enough(some))
            if found:
                return found
        raise ValueError("not even all answers decide")


class _Builds:
    """One principle in each of its builds, by what the rules exclude at every answer."""

    def __init__(self, lists: EveryList, base: RuleBase, principle: str) -> None:
        self.unknown = lists.unknown
        self.known: dict[frozenset[str], bool] = {}
        rules = base.joining(principle)
        free = dict.fromkeys(name for rule in rules for name in rule.choices)
        names = [name for name in free if lists.case.of(principle, name).knowledge is Knowledge.OURS]
        self.builds: list[list[tuple[frozenset[str], Held]]] = []
        seen: set[frozenset[bytes]] = set()
        for words in product(*(quantities()[name].words for name in names)):
            told = {name: Fact(word=word) for name, word in zip(names, words, strict=True)}
            every = [_excluded(lists, principle, rule, told) for rule in rules]
            build = {
                bytes(str(held.shape), "ascii") + held.tobytes(): (some, held) for some, held in every if held.any()
            }
            if frozenset(build) not in seen:
                seen.add(frozenset(build))
                self.builds.append(list(build.values()))
        self.names = frozenset(name for build in self.builds for some, _ in build for name in some)

    def undecided(self, asked: frozenset[str]) -> bool:
        """Whether some answer to the list leaves it undecided; what it does not read is not asked of it."""
        own = asked & self.names
        if own not in self.known:
            fine, open_ = np.zeros((), bool), np.zeros((), bool)
            for build in self.builds:
                may, sure = np.zeros((), bool), np.zeros((), bool)
                for names, held in build:
                    left = tuple(at for at, name in enumerate(self.unknown) if name in names - own)
                    may = may | held.any(axis=left, keepdims=True)
                    sure = sure | held.all(axis=left, keepdims=True)
                fine, open_ = fine | ~may, open_ | (may & ~sure)
            self.known[own] = bool((~fine & open_).any())
        return self.known[own]


def _excluded(lists: EveryList, principle: str, rule: Rule, told: Mapping[str, Fact]) -> tuple[frozenset[str], Held]:
    """Where a rule excludes, over every answer to the unknown names that it reads; one axis to each unknown."""
    facts = {name: told.get(name) or lists.case.of(principle, name) for name in rule.names}
    own = [name for name in lists.unknown if name in facts]
    held = np.zeros([len(lists.choices[name]) if name in own else 1 for name in lists.unknown], bool)
    for places in product(*(range(len(lists.choices[name])) for name in own)):
        at = dict(zip(own, places, strict=True))
        answered = {name: lists.choices[name][place] for name, place in at.items()}
        held[tuple(at.get(name, 0) for name in lists.unknown)] = _holds(rule.does_not_suit, {**facts, **answered})
    return frozenset(own), held


def _holds(band: Predicate, facts: Mapping[str, Fact]) -> bool:
    """A band with everything known, in two values."""
    if isinstance(band, Atom):
        fact = facts[band.name]
        if band.limit is None:
            return bool((fact.word in band.words) == (band.sign == "in"))
        return COMPARE[band.sign](fact.low, band.limit.number)
    parts = (_holds(part, facts) for part in band.parts)
    return all(parts) if band.word == "and" else any(parts)


# ---------------------------------------------------------------- cases


def open_cases(
    base: RuleBase, count: int, seed: int, *, unknowns: int = UNKNOWNS, principles: int = 3, builds: int = MOST_BUILDS
) -> Iterator[tuple[Facts, tuple[str, ...], tuple[str, ...]]]:
    """Cases in which all is known but some answers of the customer, with the principles that are asked about.

    What is known stands as little against them as can be, so that the answers that are missing decide.
    """
    random = Random(seed)
    while count:
        chosen = tuple(random.sample(base.principles, principles))
        rules = [rule for each in chosen for rule in base.joining(each)]
        case = _kindest(rules)
        asked = [name for name in case.stated if _to_be_asked(name, [rule for rule in rules if name in rule.names])]
        unknown = tuple(random.sample(asked, min(unknowns, len(asked))))
        for name in unknown:
            case = case.with_fact(name, Fact(Knowledge.ASK, waits_for=(name,)))
        if _builds(rules) <= builds and len(unknown) == unknowns:
            count -= 1
            yield case, chosen, unknown


def _builds(rules: Sequence[Rule]) -> int:
    names = {name for rule in rules for name in rule.choices}
    return int(np.prod([len(quantities()[name].words) for name in names], initial=1.0))


def _to_be_asked(name: str, rules: Sequence[Rule]) -> bool:
    quantity = quantities()[name]
    return quantity.side == PROCESS and not quantity.asks and 1 < len(answers(rules, name)) <= MOST_ANSWERS


def _kindest(rules: Sequence[Rule]) -> Facts:
    """Every name but the words of the build, at the answer with which the fewest rules exclude, one after another."""
    names = dict.fromkeys(name for rule in rules for name in rule.names if not quantities()[name].chosen)
    stated = {name: answers([rule for rule in rules if name in rule.names], name)[0] for name in names}
    for name in (*names, *names):
        reading = [rule for rule in rules if name in rule.names]
        stated[name] = min(answers(reading, name), key=lambda fact: _against(reading, {**stated, name: fact}))
    return Facts("", stated)


def _against(rules: Sequence[Rule], stated: Mapping[str, Fact]) -> int:
    """How many rules exclude, each with the words of the build that suit it."""
    found = 0
    for rule in rules:
        words = [[Fact(word=word) for word in quantities()[name].words] for name in rule.choices]
        told = (dict(zip(rule.choices, some, strict=True)) for some in product(*words))
        found += all(_holds(rule.does_not_suit, {**stated, **some}) for some in told)
    return found


# ---------------------------------------------------------------- the proof


def lists_of(base: RuleBase, case: Facts, principles: Sequence[str]) -> frozenset[str]:
    """The questions of the tool."""
    return frozenset(question.name for question in questions_of(matrix(base, [case], principles)))


def run() -> Report:
    """Each list of the tool against the shortest that there are."""
    base = rule_base()
    wrong, lengths, undecided = 0, 0, 0
    for case, principles, unknown in open_cases(base, CASES, SEED):
        told, lists = lists_of(base, case, principles), EveryList(base, case, principles, unknown)
        wrong += told not in lists.shortest
        lengths += len(told)
        undecided += any(principle_verdict(base, each, [case]).verdict is Verdict.UNDECIDED for each in principles)
    return Report(
        title="No list of questions is shorter than that of the tool",
        statement=f"Of up to {UNKNOWNS} answers that are missing, the tool asks a shortest list that is always enough.",
        method=(
            f"{CASES} cases of three principles each are drawn, all known in them but up to {UNKNOWNS} answers. Every "
            "list of these is tried, the shorter first: for every answer to it, and every answer to all that is left "
            "unasked, the excluding bands are evaluated in two values, apart from the judging of the tool."
        ),
        numbers=(
            ("cases", str(CASES)),
            ("cases in which something is undecided", str(undecided)),
            ("mean length of a list", f"{lengths / CASES:.2f}"),
            ("lists that are longer than need be, or not enough", str(wrong)),
        ),
        seeds=(SEED,),
        holds=wrong == 0 and undecided > CASES / 2,
    )
