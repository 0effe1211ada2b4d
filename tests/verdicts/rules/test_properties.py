"""Laws that hold for any case: answers, limits, flips and questions, on cases drawn at random."""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations, product

import pytest

from onedatum.foundation.errors import OnedatumError
from onedatum.verdicts import Knowledge, Verdict
from onedatum.verdicts.rules import (
    Change,
    Fact,
    Facts,
    Override,
    Rule,
    changed,
    flip_of,
    judged,
    known_principle,
    matrix,
    principle_verdict,
    quantities,
    quantity_of,
    questions_of,
    ranked,
    rule_base,
    with_overrides,
)
from onedatum.verdicts.rules.sweep import limits
from tests.draws import LONG
from tests.verdicts.rules.scenarios import answers, facts_of, filled, near_cases, random_cases, scenarios

BASE = rule_base()
COUNT = 1000 if LONG else 60
"""Cases drawn for a law."""


def test_an_answer_never_turns_an_exclusion_into_a_question() -> None:
    chance = random.Random(1)
    excluded = 0
    for case in random_cases(COUNT, seed=1):
        principle = chance.choice(BASE.principles)
        before = principle_verdict(BASE, principle, [case])
        missing = [name for name in quantities() if name not in case.stated]
        name = chance.choice(missing)
        rules = list(BASE.reading(name))
        answer = chance.choice(answers(rules[0], name)) if rules else Fact(low=1.0, high=1.0)
        after = principle_verdict(BASE, principle, [case.with_fact(name, answer)])
        if before.verdict is Verdict.DOES_NOT_SUIT:
            excluded += 1
            assert after.verdict is Verdict.DOES_NOT_SUIT
    assert excluded > COUNT / 4


def test_a_wider_range_or_uncertainty_never_improves_a_verdict() -> None:
    """A range holds the value it was widened from; what is sure of the whole is sure of the part."""
    chance = random.Random(2)
    for case in random_cases(COUNT, seed=2, known=0.95):
        principle = chance.choice(BASE.principles)
        name = chance.choice([name for name, fact in case.stated.items() if quantities()[name].numeric])
        fact = case.stated[name]
        size = max(abs(fact.low), 1.0) * chance.random()
        wide = case.with_fact(name, replace(fact, low=fact.low - size, high=fact.high + size))
        unsure = case.with_fact(name, replace(fact, half=size))
        before = principle_verdict(BASE, principle, [case]).verdict.gravity
        assert principle_verdict(BASE, principle, [wide]).verdict.gravity >= before
        assert principle_verdict(BASE, principle, [unsure]).verdict.gravity >= before


def test_two_states_are_never_better_than_one() -> None:
    cases = list(random_cases(COUNT, seed=3, known=0.9))
    for first, second in zip(cases[::2], cases[1::2], strict=True):
        for principle in ("magnetostrictive", "capacitive-reference"):
            both = principle_verdict(BASE, principle, [first, second]).verdict.gravity
            alone = [principle_verdict(BASE, principle, [each]).verdict.gravity for each in (first, second)]
            assert both >= max(alone)


@pytest.mark.parametrize(
    ("rule", "name", "tighter"),
    [
        ("magnetostrictive/viscosity", "viscosity", 0.5),
        ("magnetostrictive/deposits", "deposit.thickness", 0.5),
        ("bypass/agitation", "flow.speed", 0.5),
        ("guided-radar/viscosity", "viscosity", 0.5),
    ],
)
def test_a_tighter_limit_never_improves_a_verdict(rule: str, name: str, tighter: float) -> None:
    for was in limits([BASE.by_name[rule]], name):
        override = Override(rule, name, was, was * tighter, "tighter", "site", "own experience")
        base, told = with_overrides(BASE, [override])
        assert not told[0].looser
        principle = base.by_name[rule].principles[0]
        for case in random_cases(40, seed=4, known=0.95):
            before = principle_verdict(BASE, principle, [case]).verdict.gravity
            assert principle_verdict(base, principle, [case]).verdict.gravity >= before


def tightened(rule: Rule, name: str) -> Iterator[tuple[float, float]]:
    """Each limit of a number with one set half way to its neighbour on the safe side."""
    marks, high = limits([rule], name), rule.worse[name] == "high"
    for at, was in enumerate(marks):
        next_ = at - 1 if high else at + 1
        step = abs(was) / 4 or 1e-3
        beside = marks[next_] if 0 <= next_ < len(marks) else was - 2 * step if high else was + 2 * step
        yield was, (was + beside) / 2


def test_a_tighter_limit_of_any_rule_never_improves_what_it_says() -> None:
    """Of forty limits drawn from all rules, at answers at and between the limits, the old ones and the new."""
    chance, worsened = random.Random(9), 0
    small = [rule for rule in BASE.rules if len(rule.names) <= 4]
    every = [(rule, name) for rule in small for name, end in rule.worse.items() if end in ("high", "low")]
    for rule, name in chance.sample(every, 40):
        was, now = chance.choice(list(tightened(rule, name)))
        base, _ = with_overrides(BASE, [Override(rule.name, name, was, now, "tighter", "site", "own experience")])
        for value in (was, now, (was + now) / 2):
            for _ in range(20):
                facts = {each: chance.choice(answers(rule, each)) for each in rule.names}
                facts[name] = Fact(low=value, high=value)
                before, after = (judged(each, facts).verdict.gravity for each in (rule, base.by_name[rule.name]))
                assert after >= before, f"{rule.name}: {name} {was} to {now} at {value}"
                worsened += after > before
    assert worsened > 200


def test_a_looser_limit_of_a_standard_needs_a_reason_and_stands_on_the_first_page() -> None:
    rule, name = "capacitive-coated/hazardous-area", "static.layer_share"
    loose = Override(rule, name, 1.0, 1.5, "1.5", "site")
    with pytest.raises(OnedatumError, match="needs a reason"):
        with_overrides(BASE, [loose])
    _, told = with_overrides(BASE, [replace(loose, reason="own certificate")])
    assert told[0].first_page
    _, told = with_overrides(BASE, [Override("magnetostrictive/viscosity", "viscosity", 0.2, 0.3, "300 mPa.s")])
    assert told[0].looser
    assert not told[0].first_page


@pytest.mark.parametrize(
    ("override", "said"),
    [
        (Override("magnetostrictive/viscosty", "viscosity", 0.2, 0.3, ""), "magnetostrictive/viscosity"),
        (Override("magnetostrictive/viscosity", "viscositty", 0.2, 0.3, ""), "does not read"),
        (Override("magnetostrictive/viscosity", "viscosity", 0.25, 0.3, ""), "no such limit"),
    ],
)
def test_an_override_of_nothing_is_refused(override: Override, said: str) -> None:
    with pytest.raises(OnedatumError, match=said):
        with_overrides(BASE, [override])


def half_way(change: Change) -> Change:
    """The same change made by half: of a number that is known."""
    middle = ((change.was.low + change.was.high) / 2 + change.to.low) / 2
    return replace(change, to=Fact(low=middle, high=middle), size=change.size / 2)


def test_a_flip_turns_the_verdict_and_half_of_it_does_not() -> None:
    chance, turned = random.Random(5), 0
    for case in near_cases(COUNT, seed=5):
        for principle in chance.sample(BASE.principles, 1):
            found = principle_verdict(BASE, principle, [case])
            flip = flip_of(BASE, [case], found)
            if flip is None:
                continue
            turned += 1
            after = principle_verdict(BASE, principle, changed([case], flip.changes))
            assert after.verdict.gravity < found.verdict.gravity
            assert after.verdict is flip.turns_to
            for change in flip.changes:
                if quantities()[change.name].numeric and change.was.known and change.size > 1e-5:
                    halves = [half_way(each) if each is change else each for each in flip.changes]
                    half = principle_verdict(BASE, principle, changed([case], halves))
                    assert half.verdict.gravity >= found.verdict.gravity, f"{principle}: {change.name}"
    assert turned > COUNT / 8


def test_a_flip_is_told_from_the_state_that_decides() -> None:
    """Sound ends at 80 degC (common practice): told of the state at 95 degC, wherever it stands, not of that at 20."""
    cool, hot = (
        filled(facts_of(scenarios()["B"])).with_fact("temperature.process", Fact(low=kelvin, high=kelvin))
        for kelvin in (293.15, 368.15)
    )
    for states in ([cool, hot], [hot, cool]):
        found = principle_verdict(BASE, "ultrasonic", states)
        assert "ultrasonic/temperature" in {each.rule.name for each in found.deciding}
        flip = flip_of(BASE, states, found)
        assert flip is not None
        assert [each.was.low for each in flip.changes if each.name == "temperature.process"] == [368.15]


def test_no_single_change_is_smaller_than_the_flip() -> None:
    """Against a search over every quantity at every limit of every rule."""
    for case in near_cases(6, seed=6):
        for principle in BASE.principles[::4]:
            found = principle_verdict(BASE, principle, [case])
            flip = flip_of(BASE, [case], found)
            if found.verdict is not Verdict.DOES_NOT_SUIT or (flip is not None and len(flip.changes) == 1):
                continue
            for name in {name for rule in BASE.of(principle) for name in rule.names}:
                every = {fact for rule in BASE.reading(name) for fact in answers(rule, name)}
                if quantities()[name].chosen:
                    continue
                for fact in every:
                    after = principle_verdict(BASE, principle, [case.with_fact(name, fact)])
                    assert after.verdict is Verdict.DOES_NOT_SUIT, f"{principle}: {name} {fact.text or fact.low}"


def test_what_is_told_as_the_reason_of_an_exclusion_is_enough_for_it() -> None:
    """With all else forgotten the rule still excludes; a rule of safety may exclude because it is unsure."""
    excluded = 0
    for case in random_cases(COUNT // 8, seed=8, known=0.8):
        for rule in (rule for rule in BASE.rules if not rule.safety):
            facts = {name: case.of(rule.principles[0], name) for name in rule.names}
            found = judged(rule, facts)
            if found.verdict is not Verdict.DOES_NOT_SUIT:
                continue
            excluded += 1
            told = {atom.name for atom, _ in found.because}
            forgotten = {name: Fact(Knowledge.ASK, waits_for=(name,)) for name in rule.names if name not in told}
            assert judged(rule, {**facts, **forgotten}).verdict is Verdict.DOES_NOT_SUIT, rule.name
    assert excluded > COUNT


def open_case(names: Sequence[str]) -> Facts:
    """Scenario A, everything known but for some answers."""
    facts = filled(facts_of(scenarios()["A"]))
    for name in names:
        facts = facts.with_fact(name, Fact(Knowledge.ASK, waits_for=(name,)))
    return facts


def undecided(states: Sequence[Facts], principles: Sequence[str]) -> bool:
    return any(principle_verdict(BASE, each, states).verdict is Verdict.UNDECIDED for each in principles)


@pytest.mark.parametrize(
    ("names", "principles"),
    [
        (("solids.kind", "solids.magnetic", "viscosity", "flow.kind"), ("magnetostrictive",)),
        (("deposit.kind", "deposit.thickness", "foam.kind", "vapour.kind", "surface.state"), ("magnetostrictive",)),
        (("foam.kind", "surface.state", "beam.clear", "vapour.kind"), ("radar", "guided-radar")),
        (("roof.kind", "nozzle.load_allowed", "zone.inside", "duty.hygiene"), ("magnetostrictive", "radar")),
    ],
)
def test_no_shorter_list_of_questions_is_always_enough(names: Sequence[str], principles: Sequence[str]) -> None:
    """By brute force: a list is enough when, whatever is answered to it, no verdict is undecided any more."""
    case = open_case(names)
    assert undecided([case], principles)
    asked = {question.name for question in questions_of(matrix(BASE, [case], principles))}
    enough = [
        set(some)
        for count in range(len(names) + 1)
        for some in combinations(names, count)
        if _always_enough(case, some, principles)
    ]
    assert asked == min(enough, key=len)


def _always_enough(case: Facts, asked: Sequence[str], principles: Sequence[str]) -> bool:
    choices = [tuple({f for rule in BASE.reading(name) for f in answers(rule, name)}) for name in asked]
    for chosen in product(*choices):
        told = case
        for name, fact in zip(asked, chosen, strict=True):
            told = told.with_fact(name, fact)
        if undecided([told], principles):
            return False
    return True


def test_the_questions_that_decide_most_come_first() -> None:
    case = open_case(("solids.kind", "zone.inside", "duty.hygiene", "foam.kind"))
    found = questions_of(matrix(BASE, [case]))
    counts = [len(question.principles) for question in found]
    assert counts == sorted(counts, reverse=True)
    assert all(question.decides for question in found)


def test_those_that_suit_are_ranked_with_the_reason() -> None:
    found = matrix(BASE, [facts_of(scenarios()["A"])])
    places = ranked(list(found.verdicts.values()))
    assert {place.verdict.principle for place in places} == {
        principle for principle, row in scenarios()["A"]["verdicts"].items() if row["verdict"] == "suits on conditions"
    }
    assert [place.rank for place in places] == list(range(1, len(places) + 1))
    assert all(place.reason for place in places[:-1])
    assert places[0].verdict.order_only
    by_requirements = ranked(list(found.verdicts.values()), ["requirements"])
    counts = [len(place.verdict.requirements) for place in by_requirements]
    assert counts == sorted(counts)
    with pytest.raises(OnedatumError, match="requirements"):
        ranked([], ["requirments"])


def test_a_name_that_is_not_there_is_answered_with_the_nearest() -> None:
    with pytest.raises(OnedatumError, match="viscosity"):
        quantity_of("viscosty")
    with pytest.raises(OnedatumError, match="magnetostrictive"):
        known_principle(BASE, "magnetostriktive")
    assert known_principle(BASE, "bypass") == "bypass"


def test_what_does_not_join_the_verdict_is_told_beside_it() -> None:
    """The findings of the study in the three scenarios of the reference."""
    told = {key: matrix(BASE, [facts_of(scenario)], ["radiometric"]) for key, scenario in scenarios().items()}
    names = {key: {each.rule.name for each in found.told("radiometric")} for key, found in told.items()}
    assert names["A"] >= {
        "alarm-never-comes",
        "critical-high-not-visible",
        "failure-current-not-reached",
        "vessel-entry",
    }
    assert "critical-high-not-visible" in names["B"]
    assert "alarm-never-comes" not in names["B"]
    assert "vessel-entry" in names["C"]
