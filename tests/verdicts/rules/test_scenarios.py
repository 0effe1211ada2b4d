"""Three measuring points, fifteen principles: verdict, deciding rules, requirements, questions of the reference."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from onedatum.verdicts.rules import PrincipleVerdict, matrix, rule_base
from tests.verdicts.rules.scenarios import facts_of, scenarios

EVERY = [(key, principle) for key, scenario in scenarios().items() for principle in scenario["verdicts"]]
# Where the reference lists other rules than decide here; docs/decisions/0014 says why.
DECIDES_OTHERWISE = {
    # An upper sleeve is ours to order: a rule that it satisfies does not exclude.
    ("A", "capacitive-high-temperature"): ({"capacitive-high-temperature/vapour"}, set()),
    ("C", "capacitive-bare"): ({"capacitive-bare/vapour"}, set()),
    # At 251.8 degC, the worse end of the range, the torque tube needs its correction; the reference took 151.8 degC.
    ("C", "displacer"): (set(), {"displacer/temperature"}),
}
UNITS = {"[K]": " K", "[MOhm]": " Mohm", "[mm]": " mm", "[%]": " %value", "[m]": " m", "[pF]": " pF"}


def verdict_of(key: str, principle: str) -> tuple[PrincipleVerdict, Mapping[str, Any]]:
    scenario = scenarios()[key]
    found = matrix(rule_base(), [facts_of(scenario)], [principle]).verdicts[principle]
    return found, scenario["verdicts"][principle]


@pytest.mark.parametrize(("key", "principle"), EVERY)
def test_the_verdict(key: str, principle: str) -> None:
    found, expected = verdict_of(key, principle)
    assert found.verdict.value == expected["verdict"]
    assert sorted(found.questions) == sorted(expected.get("questions", []))
    assert found.order_only == expected.get("only_order_requirements_left", False)


@pytest.mark.parametrize(("key", "principle"), EVERY)
def test_the_deciding_rules(key: str, principle: str) -> None:
    found, expected = verdict_of(key, principle)
    less, more = DECIDES_OTHERWISE.get((key, principle), (set(), set()))
    theirs = {row["rule"] for row in expected["deciding"]}
    assert theirs >= less
    assert {each.rule.name for each in found.deciding} == (theirs - less) | more


@pytest.mark.parametrize(("key", "principle"), EVERY)
def test_the_requirements_of_the_order(key: str, principle: str) -> None:
    found, expected = verdict_of(key, principle)
    rows = [line for condition in expected.get("conditions", []) for line in condition["order"]]
    rows += [row.partition(": ")[2] for row in expected.get("order_requirements", [])]
    theirs = {part for row in rows for part in _as_here(row).split(" and ")}
    mine = {str(requirement.demand) for requirement in found.requirements}
    assert mine == theirs


def _as_here(row: str) -> str:
    for theirs, ours in UNITS.items():
        row = row.replace(theirs, ours)
    if " in [" in row:
        return row.replace("[", "{").replace("]", "}")
    name, sign, word = row.partition(" = ")
    return row if not sign or word in ("yes", "no") or " " in name else f"{name} = '{word}'"
