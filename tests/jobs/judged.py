"""Studies whose principles are judged: by the facts of the reference scenarios, or by a case that states them."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

from onedatum.jobs.examine import examine
from onedatum.study.choosing import Choosing
from onedatum.study.choosing.site import Site
from onedatum.study.result import Study
from onedatum.verdicts.rules import USUAL, Facts, Override, matrix, rule_base, with_overrides
from tests.study.variants import EXAMPLES, text_with
from tests.verdicts.rules.scenarios import facts_of, scenarios

FILES = {"A": "spirit_receiver.yaml", "B": "caustic_tank.yaml", "C": "steam_drum.yaml"}
STATED = {"A": "magnetostrictive", "B": "capacitive-coated", "C": "bypass"}


def judged(scenario: str, *overrides: Override, stated: str = "", without: str = "") -> Study:
    """The example of a scenario with the verdicts by the facts of the reference, some limits set otherwise."""
    base, told = with_overrides(rule_base(), overrides)
    facts = facts_of(scenarios()[scenario])
    if without:
        facts = Facts(facts.state, {name: fact for name, fact in facts.stated.items() if name != without})
    choosing = Choosing(matrix(base, [facts]), Site(base, told, (), USUAL), stated or STATED[scenario])
    return replace(_example(scenario), choosing=choosing)


@cache
def _example(scenario: str) -> Study:
    return examine(EXAMPLES / FILES[scenario])


def text_with_conditions(scenario: str = "A", *changes: tuple[str, str]) -> str:
    """The text of the example that states the conditions of a scenario, changed."""
    return text_with(*changes, example=EXAMPLES / FILES[scenario])


def case_in(folder: Path, text: str, name: str = "case.yaml") -> Path:
    """The text as a file."""
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path
