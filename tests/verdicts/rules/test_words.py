"""The rules in words: short titles for every name, limits and words as a customer reads them, no predicate as code."""

from __future__ import annotations

import re

import pytest

from onedatum.case.model.choosing import PRINCIPLES
from onedatum.verdicts import Verdict
from onedatum.verdicts.rules import (
    Change,
    Fact,
    Flip,
    Override,
    matrix,
    quantities,
    read_predicate,
    rule_base,
    with_overrides,
)
from onedatum.verdicts.rules.base import in_si
from onedatum.verdicts.rules.words import (
    condition_title,
    fact_words,
    flip_words,
    override_words,
    plain_names,
    principle_title,
    quantity_title,
    rule_title,
    spelled,
)
from tests.verdicts.rules.scenarios import facts_of, scenarios

CODE = re.compile(r"<|>|=|\b[a-z]+\.[a-z]+_?[a-z]+\b|\b\w+_\w+\b")
"""Signs of a predicate and names of quantities: none of these is a word."""
FORMULA = re.compile(r"[*^<>=]|\b(?:rho|drho|sqrt|exp|ln|mu|alpha)\b|\bcross rule\b")
"""Signs of a formula: a customer reads sentences."""
LONGEST_TITLE = 80


def test_the_principles_of_a_case_are_those_of_the_rules() -> None:
    assert rule_base().principles == PRINCIPLES


def test_every_name_has_a_title_of_its_own() -> None:
    titles = [quantity_title(name) for name in quantities()]
    assert len(set(titles)) == len(titles)
    assert max(map(len, titles)) <= LONGEST_TITLE
    assert [title for title in titles if CODE.search(title) or title[0].isupper()] == []
    base = rule_base()
    assert len({principle_title(name) for name in base.principles}) == len(base.principles)
    assert len({condition_title(name) for name in base.conditions}) == len(base.conditions)
    assert all(rule_title(rule) for rule in base.rules)


@pytest.mark.parametrize(
    ("predicate", "words"),
    [
        ("viscosity <= 200[mPa.s]", "viscosity at most 200 mPa.s"),
        ("viscosity > 5000[mPa.s]", "viscosity above 5000 mPa.s"),
        ("float.density_ratio < 1/3", "mean density of the float over the lowest liquid density below 1/3"),
        ("foam.liquid_fraction >= 5[%vol]", "liquid in the foam at least 5 % by volume"),
        ("wall.kind = 'plastic'", "vessel wall: plastic"),
        ("wall.kind != 'plastic'", "vessel wall: not plastic"),
        ("wall.kind in {'metal', 'lined metal', 'plastic'}", "vessel wall: metal, lined metal or plastic"),
        ("wall.kind not in {'metal', 'plastic'}", "vessel wall: not metal or plastic"),
        ("nozzle.short = no", "nozzle short and wide enough for a probe: no"),
        ("not nozzle.short = no", "nozzle short and wide enough for a probe: yes"),
        ("manway = yes and mount.top = yes", "parts can be fitted through a manway: yes and nozzle at the top: yes"),
        (
            "headroom >= 1[m] and (manway = yes or mount.top = yes)",
            "free height above the flange face at least 1 m and "
            "(parts can be fitted through a manway: yes, or nozzle at the top: yes)",
        ),
    ],
)
def test_predicates_in_words(predicate: str, words: str) -> None:
    assert spelled(in_si(read_predicate(predicate), quantities())) == words


def test_no_rule_is_told_as_code() -> None:
    bands = [band for rule in rule_base().rules for band in (rule.suits, rule.on_conditions, rule.does_not_suit)]
    assert len(bands) > 900
    assert [spelled(band) for band in bands if CODE.search(spelled(band))] == []


def test_reasons_and_actions_are_sentences_and_no_formulas() -> None:
    base = rule_base()
    told = [text for rule in base.rules for text in (rule.reason, rule.action)]
    told += [row.reason for row in base.without_influence]
    assert len(told) > 600
    assert [text for text in told if FORMULA.search(text) or CODE.search(text)] == []


@pytest.mark.parametrize(
    ("name", "fact", "words"),
    [
        ("viscosity", Fact(low=0.3, high=0.3), "300 mPa.s"),
        ("viscosity", Fact(low=0.3, high=0.4), "300 mPa.s to 400 mPa.s"),
        ("viscosity", Fact(low=0.3, high=0.3, half=0.02), "300 mPa.s within 20 mPa.s"),
        ("temperature.process", Fact(low=373.15, high=373.15, half=2.0), "100 degC within 2 K"),
        ("pressure.max", Fact(low=3.999e6, high=3.999e6), "39.99 bar(g)"),
        ("solids.content", Fact(low=0.01, high=0.01), "10 mg/L"),
        ("wall.kind", Fact(word="lined metal"), "lined metal"),
    ],
)
def test_what_is_known_in_words(name: str, fact: Fact, words: str) -> None:
    """A temperature is told on its scale, its uncertainty as a difference; 1 mg/L is 1e-3 kg/m3."""
    assert fact_words(name, fact) == words


def test_every_unit_of_the_rules_can_be_written() -> None:
    for name, quantity in quantities().items():
        if quantity.numeric:
            assert fact_words(name, Fact(low=quantity.in_si(2.0), high=quantity.in_si(2.0))).startswith("2")


@pytest.mark.parametrize(
    ("was", "to", "words"),
    [
        (Fact(low=6.0, high=6.0), 5.0, "viscosity at most 5000 mPa.s (now 6000 mPa.s)"),
        (Fact(low=6.0, high=6.0), 5.0 * (1 - 1e-6), "viscosity below 5000 mPa.s (now 6000 mPa.s)"),
        (Fact(low=0.1, high=0.1), 0.2, "viscosity at least 200 mPa.s (now 100 mPa.s)"),
        (Fact(low=0.1, high=0.1), 0.2 * (1 + 1e-6), "viscosity above 200 mPa.s (now 100 mPa.s)"),
    ],
)
def test_what_would_change_it_is_told_by_its_limit(was: Fact, to: float, words: str) -> None:
    """The limits are those of the rules: 200 and 5000 mPa.s for a float on a stem."""
    change = Change("viscosity", was, Fact(low=to, high=to), 0.1)
    flip = Flip("magnetostrictive", Verdict.DOES_NOT_SUIT, Verdict.ON_CONDITIONS, (change,))
    assert flip_words(flip, rule_base().rules) == f"suits on conditions with {words}"


def test_flips_of_the_scenarios_are_told_without_code() -> None:
    from onedatum.verdicts.rules import flip_of

    told = []
    for scenario in scenarios().values():
        found = matrix(rule_base(), [facts_of(scenario)])
        flips = (flip_of(found.base, found.states, verdict) for verdict in found.verdicts.values())
        told += [flip_words(flip, found.base.rules) for flip in flips if flip is not None]
    assert len(told) > 15
    assert [words for words in told if CODE.search(words)] == []


def test_a_limit_of_the_site_is_told_with_what_it_was() -> None:
    override = Override("magnetostrictive/viscosity", "viscosity", 0.2, 0.3, "300 mPa.s", "process lab", "tested")
    _, (done,) = with_overrides(rule_base(), [override])
    assert list(override_words(done)) == [
        "viscosity: limit 300 mPa.s in place of 200 mPa.s",
        "lets more pass than before",
        "said by process lab",
        "because tested",
    ]


def test_remarks_name_no_quantity_by_its_code() -> None:
    assert plain_names("asked only when solids.kind is not none") == "asked only when solids in the liquid is not none"
    assert [quantity.remark for quantity in quantities().values() if CODE.search(plain_names(quantity.remark))] == []
