"""The table of rules: complete, without gap or overlap, every limit tested on both sides, every source known."""

from __future__ import annotations

import pickle
from collections.abc import Iterator, Mapping
from itertools import product

import numpy as np
import pytest

from onedatum.foundation.sources import citation
from onedatum.verdicts import Knowledge, Verdict
from onedatum.verdicts.rules import (
    Fact,
    PredicateError,
    Rule,
    Truth,
    atoms,
    judged,
    quantities,
    read_predicate,
    read_rules,
    rule_base,
    truth_of,
)
from onedatum.verdicts.rules.facts import OURS
from onedatum.verdicts.rules.sweep import limits
from tests.verdicts.rules.scenarios import answers

BASE = rule_base()
each_rule = pytest.mark.parametrize("rule", [pytest.param(rule, id=rule.name) for rule in BASE.rules])
_GRAVITY = {"suits": 0, "on_conditions": 1, "does_not_suit": 2}
_WORD = {
    "suits": Verdict.SUITS,
    "on_conditions": Verdict.ON_CONDITIONS,
    "does_not_suit": Verdict.DOES_NOT_SUIT,
}
BANDS = ("suits", "on_conditions", "does_not_suit")

# The pairs in which a condition does not touch a principle; a new one is added by hand, with its reason in the table.
WITHOUT_INFLUENCE = {
    "magnetostrictive": "conductivity permittivity",
    "bypass": "conductivity permittivity",
    "capacitive-bare": "rate-of-change",
    "capacitive-part-coated": "rate-of-change",
    "capacitive-high-temperature": "rate-of-change",
    "hydrostatic": "conductivity permittivity rate-of-change",
    "differential-pressure": "conductivity non-conductive-wall permittivity",
    "radar": "conductivity density-range viscosity",
    "guided-radar": "density-range",
    "ultrasonic": "conductivity density-range permittivity viscosity",
    "displacer": "conductivity non-conductive-wall permittivity rate-of-change",
    "radiometric": ("bulk-solids chemical-resistance conductivity hygiene particulates permittivity vapour viscosity"),
    "load-cells": (
        "bulk-solids chemical-resistance conductivity height hygiene "
        "particulates permittivity rate-of-change vapour viscosity"
    ),
}


def every_answer(rule: Rule) -> Iterator[Mapping[str, Fact]]:
    for chosen in product(*(answers(rule, name) for name in rule.names)):
        yield dict(zip(rule.names, chosen, strict=True))


def held(rule: Rule, facts: Mapping[str, Fact]) -> list[str]:
    truth = {band: truth_of(getattr(rule, band), lambda atom: facts[atom.name].truth(atom)) for band in BANDS}
    assert set(truth.values()) <= {Truth.TRUE, Truth.FALSE}
    return [band for band, found in truth.items() if found is Truth.TRUE]


def test_every_principle_has_a_word_on_every_condition() -> None:
    ruled = {(principle, rule.condition) for rule in BASE.rules if rule.condition for principle in rule.principles}
    without = {(row.principle, row.condition) for row in BASE.without_influence}
    assert len(BASE.principles) == 15
    assert len(BASE.conditions) == 22
    assert not ruled & without
    assert ruled | without == set(product(BASE.principles, BASE.conditions))
    assert len(without) == 43
    assert all(row.reason and row.sources for row in BASE.without_influence)


def test_the_list_of_what_does_not_matter_is_frozen() -> None:
    found: dict[str, list[str]] = {}
    for row in BASE.without_influence:
        found.setdefault(row.principle, []).append(row.condition)
    assert {principle: " ".join(sorted(rows)) for principle, rows in found.items()} == WITHOUT_INFLUENCE


def test_bands_leave_no_gap_and_do_not_overlap() -> None:
    """As no predicate works with numbers, every limit and every gap between two is the whole of it."""
    combinations = 0
    for rule in BASE.rules:
        reached = set()
        for facts in every_answer(rule):
            combinations += 1
            bands = held(rule, facts)
            assert len(bands) == 1, f"{rule.name}: {bands or 'no band'} at {facts}"
            reached.update(bands)
        listed = {band for band in BANDS if list(atoms(getattr(rule, band))) or str(getattr(rule, band)) == "always"}
        assert reached == listed, rule.name
    assert combinations > 50_000


def test_each_limit_parts_its_two_sides() -> None:
    """One part in a million to either side of every limit a comparison turns, and at the limit it is as written."""
    for rule in BASE.rules:
        for band in BANDS:
            for atom in atoms(getattr(rule, band)):
                if atom.limit is None:
                    continue
                at, step = atom.limit.number, 1e-6 * abs(atom.limit.number) or 1e-6
                below, same, above = (Fact(low=x, high=x).truth(atom) for x in (at - step, at, at + step))
                assert {below, above} == {Truth.TRUE, Truth.FALSE}, f"{rule.name}: {atom}"
                assert same is (Truth.TRUE if atom.sign in ("<=", ">=") else Truth.FALSE)


def test_each_limit_changes_what_is_said_somewhere() -> None:
    for rule in BASE.rules:
        for name in rule.names:
            for limit in limits([rule], name):
                assert any(_turns(rule, name, limit, facts) for facts in every_answer(rule)), f"{rule.name}: {name}"


def _turns(rule: Rule, name: str, limit: float, facts: Mapping[str, Fact]) -> bool:
    step = 1e-6 * abs(limit) or 1e-6
    near = (Fact(low=x, high=x) for x in (limit - step, limit, limit + step))
    return len({tuple(held(rule, {**facts, name: fact})) for fact in near}) > 1


def test_each_answer_of_a_question_is_judged() -> None:
    """With everything else known, every word of every question gives the word whose band holds."""
    for rule in BASE.rules:
        known = {name: answers(rule, name)[0] for name in rule.names}
        told = [{name: Fact(word=word)} for name in rule.names for word in quantities()[name].words]
        for facts in (known, *({**known, **answer} for answer in told)):
            (band,) = held(rule, facts)
            assert judged(rule, facts).verdict is _WORD[band], rule.name


@each_rule
def test_a_rule_says_why_and_whence(rule: Rule) -> None:
    assert rule.reason
    assert all(citation(source).source.title for source in rule.sources)
    assert set(rule.worse) <= set(rule.names)
    assert rule.action or not list(atoms(rule.on_conditions))


def test_the_worse_end_of_a_range_is_the_worse_one() -> None:
    """Whatever the other answers are, a rule never gets better towards the end that the table calls the worse."""
    for rule in BASE.rules:
        shape = [len(answers(rule, name)) for name in rule.names]
        gravities = np.array([_GRAVITY[held(rule, facts)[0]] for facts in every_answer(rule)]).reshape(shape)
        for name, end in rule.worse.items():
            steps = np.diff(gravities, axis=rule.names.index(name))
            assert end == "both ends" or np.all(steps >= 0 if end == "high" else steps <= 0), f"{rule.name}: {name}"


ICING = Fact(word="icing or setting")


@pytest.mark.parametrize(
    ("name", "told", "verdict"),
    [
        # Common practice, no source: the plain build ends at 90 degC; bitumen is measured through a purged nozzle.
        ("magnetostrictive/temperature", {"temperature.process": Fact(low=363.15, high=363.15)}, Verdict.SUITS),
        ("magnetostrictive/temperature", {"temperature.process": Fact(low=363.16, high=363.16)}, Verdict.ON_CONDITIONS),
        ("radar/vapour", {"vapour.kind": ICING, "purge.fitted": OURS}, Verdict.ON_CONDITIONS),
        (
            "radar/vapour",
            {"vapour.kind": Fact(word="icing or setting"), "purge.fitted": Fact(word="no")},
            Verdict.DOES_NOT_SUIT,
        ),
        ("radar/vapour", {"vapour.kind": Fact(word="layered dense"), "purge.fitted": OURS}, Verdict.DOES_NOT_SUIT),
    ],
)
def test_usual_limits(name: str, told: Mapping[str, Fact], verdict: Verdict) -> None:
    rule = BASE.by_name[name]
    margin = Fact(low=10.0, high=10.0)
    assert judged(rule, {each: told.get(each, margin) for each in rule.names}).verdict is verdict


def test_a_name_that_no_rule_reads_is_of_no_use() -> None:
    read = {name for rule in BASE.rules for name in rule.names}
    needed = {name for quantity in quantities().values() for name in quantity.asks}
    assert set(quantities()) - read - needed == set()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("viscosity <= 5[mm]", "written in mPa.s"),
        ("viscosity = 'thick'", "never 'thick'"),
        ("solids.kind <= 5", "is a word"),
        ("solids.kind = 'sand'", "never 'sand'"),
        ("stickiness <= 5", "no quantity is called 'stickiness'"),
        ("viscosity <=", "wanted a number"),
        ("viscosity <= 5[mPa.s] and", "wanted a name"),
        ("viscosity <= density", "wanted a number"),
        ("(viscosity <= 5[mPa.s]", "wanted ')'"),
        ("viscosity <= 5[mPa.s] solids.magnetic = no", "nothing more"),
        ("solids.magnetic = maybe", "yes, no or a word in quotes"),
        ("viscosity <= 1/0[mPa.s]", "wanted a number"),
    ],
)
def test_a_predicate_that_cannot_be_is_refused_by_the_name_of_its_rule(text: str, said: str) -> None:
    row = {"name": "bad", "principle": "bypass", "suits": text, "reason": "none", "sources": ["derived"]}
    table = {"principles": ["bypass"], "conditions": [], "rules": [row], "cross": [], "without_influence": []}
    with pytest.raises(PredicateError, match="rule bad") as caught:
        read_rules(table, quantities())
    assert said in str(caught.value)


def test_and_or_not_by_their_tables() -> None:
    """`and`: false, unknown, ours, true; `or` the other way round; `not` by its operators turned."""
    order = [Truth.FALSE, Truth.UNKNOWN, Truth.OURS, Truth.TRUE]
    told = {
        Truth.FALSE: Fact(low=9, high=9),
        Truth.UNKNOWN: Fact(Knowledge.ASK),
        Truth.OURS: Fact(Knowledge.OURS),
        Truth.TRUE: Fact(low=1, high=1),
    }
    both, either = read_predicate("a < 5 and b < 5"), read_predicate("a < 5 or b < 5")
    for first, second in product(order, order):
        facts = {"a": told[first], "b": told[second]}
        assert truth_of(both, lambda atom, facts=facts: facts[atom.name].truth(atom)) is min(first, second)  # type: ignore[misc]
        assert truth_of(either, lambda atom, facts=facts: facts[atom.name].truth(atom)) is max(first, second)  # type: ignore[misc]
    assert str(read_predicate("not (a < 5 and (b = yes or c not in {'x', 'y'}))")) == (
        "a >= 5 or (b != yes and c in {'x', 'y'})"
    )


def test_what_goes_to_another_process_takes_no_hash_along() -> None:
    """A text has another hash in every process; one that came along would lose what it is a key of."""
    for kept in (read_predicate("a < 5 or b < 5"), read_predicate("a < 5"), Fact(low=1.0, high=2.0, word="x")):
        assert isinstance(hash(kept), int)
        other = pickle.loads(pickle.dumps(kept))
        assert other == kept and not {"hash", "key"} & set(vars(other))
