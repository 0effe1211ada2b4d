"""Limits of the law beside what is reached, and tolerances decided by the rule named first."""

from __future__ import annotations

import pytest

from onedatum.case.model import statement
from onedatum.physics import uncertainty
from onedatum.physics.quantity import gauge_limits, table_limits
from onedatum.study.result import Study
from onedatum.verdicts import Check
from tests.closeness import close, exact
from tests.study.tanks import number, tank, upright

LIQUID = "medium: {kind: liquid of stated density, density: 1000 kg/m3, density_at: 20 degC, temperature: 20 degC}\n"
LEVEL = "level_now: {value: 7.3 m, u: 1 mm}\ndatum_error: {value: 0 mm, u: 0.5 mm}\ntable: {U: 0.4 %value, k: 2}\n"


def check_of(found: Study, key: str) -> Check:
    return next(check for check in found.checks if check.key == key)


@pytest.mark.parametrize(
    ("key", "limit_mm", "word"),
    [
        ("fr-2009-installed", 4.0, "suits"),
        ("fr-2009-before", 1.0, "does not suit"),
        ("nl-2007-initial", 2.9, "suits"),
        ("nl-2007-service", 3.8, "suits"),
    ],
)
def test_the_gauge_against_the_limit_chosen(key: str, limit_mm: float, word: str) -> None:
    """U = 2 sqrt(1 + 0.25) = 2.24 mm. France, order of 24 March 2009: 1 and 4 mm; Netherlands, art. 53 at 7.3 m."""
    found = tank(upright(height="9 m"), LIQUID, LEVEL, f"legal: {{gauge: {key}}}")
    close(1000.0 * number(found, "legal.gauge_limit"), limit_mm, 1e-9, "rounding")
    assert check_of(found, "legal-gauge").verdict.value == word


def test_a_limit_from_memory_never_stands_against_the_order() -> None:
    found = tank(upright(height="9 m"), LIQUID, LEVEL, "legal: {gauge: oiml-r85-1998-class-2-before}")
    assert check_of(found, "legal-gauge").remark
    assert "from memory" in str(found.sheet["legal.gauge_limit"].source)


@pytest.mark.parametrize(
    ("key", "word"), [("fr-1996-06-upright", "does not suit"), ("nl-2007-initial-upright", "suits")]
)
def test_the_table_against_the_limit_chosen(key: str, word: str) -> None:
    """0.4 % against 0.3 % (France) and 0.5 % (Netherlands)."""
    found = tank(upright(height="9 m"), LIQUID, LEVEL, f"legal: {{table: {key}}}")
    assert check_of(found, "legal-table").verdict.value == word


TOLERANCE = "tolerance: {{rule: {}, mass_at_most: {} kg}}\nwanted: {{of: mass}}\n"


def test_the_rule_decides_and_is_kept_with_the_decision() -> None:
    """Half a U below the limit: accepted simply, not accepted with a guard band of U (JCGM 106, 8.2 and 8.3)."""
    plain = tank(upright(height="9 m"), LIQUID, LEVEL)
    mass, u = number(plain, "quantity.mass"), number(plain, "budget.expanded_uncertainty")
    limit = mass + 0.5 * u
    simple = tank(upright(height="9 m"), LIQUID, LEVEL, TOLERANCE.format("simple acceptance", repr(limit)))
    guarded = tank(
        upright(height="9 m"), LIQUID, LEVEL, TOLERANCE.format("guarded acceptance, guard_factor: 1", repr(limit))
    )
    late = tank(
        upright(height="9 m"),
        LIQUID,
        LEVEL,
        TOLERANCE.format("guarded rejection, guard_factor: 1", repr(mass - 0.5 * u)),
    )
    assert [each.tolerance.decision for each in (simple, guarded, late) if each.tolerance] == [
        "accepted",
        "not accepted",
        "accepted",
    ]
    assert simple.tolerance is not None and guarded.tolerance is not None
    close(simple.tolerance.probability.value, 0.8413447, 1e-6, "one standard uncertainty below: Phi(1)")
    close(
        guarded.tolerance.accepted_to.value if guarded.tolerance.accepted_to else 0.0,
        limit - u,
        1e-9 * limit,
        "rounding",
    )
    exact(simple.tolerance.guard.value, 0.0)


def test_without_a_rule_nothing_is_decided_and_the_rule_is_asked() -> None:
    found = tank(upright(height="9 m"), LIQUID, LEVEL, "tolerance: {mass_at_most: 92 t}\nwanted: {of: mass}\n")
    assert found.tolerance is None
    assert "tolerance.rule" in {question.path for question in found.questions}


def test_a_limit_in_the_wrong_kind_is_refused() -> None:
    text = "tolerance: {rule: simple acceptance, volume_at_most: 92 m3}\nwanted: {of: mass}\n"
    found = tank(upright(height="9 m"), LIQUID, LEVEL, text)
    assert "tolerance.volume_at_most" in {fault.path for fault in found.faults}


def test_case_and_physics_call_the_rules_by_the_same_words() -> None:
    """Neither may import the other; a rule the one offers and the other does not know would fail in use."""
    offered = {statement.SIMPLE, statement.GUARDED, statement.GUARDED_REJECTION}
    assert offered == {uncertainty.SIMPLE, uncertainty.GUARDED_ACCEPTANCE, uncertainty.GUARDED_REJECTION}


def test_every_limit_that_can_be_chosen_is_known() -> None:
    assert set(statement.GAUGE_KEYS) == {row.key for row in gauge_limits()}
    assert set(statement.TABLE_KEYS) == {row.key for row in table_limits()}
