"""How long the verdict on every principle takes, what would turn it, and what must be asked: as a user waits for it.

Scenario A of the tests, with nothing missing and with half of it missing. Every run judges facts that no run before it
has seen, so that nothing kept from an earlier run can answer.
"""

from __future__ import annotations

from itertools import count
from statistics import median

from bench.race import Figure, duration_s
from onedatum.verdicts.rules import Facts, flip_of, matrix, questions_of, rule_base
from tests.verdicts.rules.scenarios import fact_of, facts_of, scenarios

ROUNDS = 9
MATRIX_MS, ASKED_MS = 10.0, 1000.0
_TURN = count(1)


def fresh(missing: bool = False) -> Facts:
    """The facts of scenario A, the viscosity a little different each time; every other answer missing where asked."""
    facts = facts_of(scenarios()["A"])
    if missing:
        kept = {name: fact for number, (name, fact) in enumerate(facts.stated.items()) if number % 2}
        facts = Facts(facts.state, kept, facts.of_principle)
    return facts.with_fact("viscosity", fact_of("viscosity", 3.5 + next(_TURN) * 1e-6))


def matrix_ms() -> float:
    """The whole matrix, only what reads the changed number judged anew."""
    base, states = rule_base(), [[fresh()] for _ in range(ROUNDS + 1)]
    return 1e3 * median([duration_s(lambda each=each: matrix(base, each)) for each in states][1:])  # type: ignore[misc]


def flips_ms() -> float:
    """What would turn every verdict that stands against a principle."""
    base, states = rule_base(), [fresh()]
    found = matrix(base, states)
    return 1e3 * duration_s(lambda: [flip_of(base, states, each) for each in found.verdicts.values()])


def questions_ms() -> float:
    """The shortest list of questions, half of the answers missing."""
    found = matrix(rule_base(), [fresh(missing=True)])
    return 1e3 * duration_s(lambda: questions_of(found))


def races() -> list[Figure]:
    """Each figure with its limit."""
    return [
        Figure("matrix of fifteen principles, one number changed", matrix_ms, MATRIX_MS, "ms"),
        Figure("flips of every principle", flips_ms, ASKED_MS, "ms"),
        Figure("questions, half of the answers missing", questions_ms, ASKED_MS, "ms"),
    ]
