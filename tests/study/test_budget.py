"""The budget of a quantity: correlations, few readings, what would improve it, and Monte Carlo beside it."""

from __future__ import annotations

from math import pi, sqrt

import numpy as np
import pytest

from onedatum.foundation.errors import Fault
from onedatum.study.monte_carlo import Chosen, Sampled, sampled
from onedatum.study.result import Study
from tests.closeness import close, exact, printed
from tests.study.tanks import LYING, number, tank, upright
from tests.study.variants import EXAMPLES, study_with

LIQUID = "medium: {kind: liquid of stated density, density: 1000 kg/m3, density_at: 20 degC, temperature: 20 degC}\n"
LEVEL = "level_now: {value: 2 m, u: 1 mm}\ndatum_error: {value: 0 mm, u: 2 mm}\n"
TABLE = "table: {U: 0.3 %value, k: 2}\n"
WANTED = "wanted: {of: mass}\n"
SECTION_M2 = pi * 4.0
UNTIL_SETTLED = Chosen()


def together(r: float) -> str:
    return f"correlations:\n  - {{between: level_now, and: datum_error, r: {r}}}\n"


def trials(found: Study, chosen: Chosen = UNTIL_SETTLED) -> Sampled:
    """Monte Carlo that must go."""
    out = sampled(found, chosen)
    assert isinstance(out, Sampled), out.sentence()
    return out


# ---------------------------------------------------------------- correlations


@pytest.mark.parametrize("r", [-0.9, -0.5, 0.0, 0.5, 0.9])
def test_errors_that_go_together_add_and_those_that_go_apart_cancel(r: float) -> None:
    """JCGM 100, 5.2.2: u^2 = c1^2 + c2^2 + 2 r c1 c2, times a section that does not change."""
    found = tank(upright(), LIQUID, LEVEL, together(r))
    expected = 1000.0 * SECTION_M2 * 1e-3 * sqrt(1.0 + 4.0 + 4.0 * r)
    close(number(found, "budget.standard_uncertainty"), expected, 1e-9 * expected, "central differences of a product")
    total = sum(line.share.value or 0.0 for line in found.budget.lines) if found.budget else 0.0
    close(total, 1.0, 1e-12, "rounding")


def test_a_share_is_negative_where_errors_cancel() -> None:
    found = tank(upright(), LIQUID, LEVEL, together(-0.9))
    assert number(found, "budget.share[level_now]") < 0.0 < number(found, "budget.share[datum_error]")


@pytest.mark.parametrize("r", [-0.9, 0.6])
def test_correlated_trials_spread_as_the_budget_says(r: float) -> None:
    found = tank(upright(), LIQUID, LEVEL, together(r))
    standard = number(found, "budget.standard_uncertainty")
    close(trials(found, Chosen(trials=200_000)).outcome.standard, standard, 0.005 * standard, "four standard errors")


@pytest.mark.parametrize(
    ("pairs", "words"),
    [
        ((("level_now", "datum_error", 1.0),), "positive definite"),
        (
            (("level_now", "datum_error", 0.9), ("level_now", "table.U", 0.9), ("datum_error", "table.U", -0.9)),
            "definite",
        ),
        ((("level_now", "medium.viscosity", 0.5),), "must be the path of an input with an uncertainty"),
        ((("level_now", "level_now", 0.5),), "another input"),
    ],
)
def test_correlations_that_cannot_be_are_refused(pairs: tuple[tuple[str, str, float], ...], words: str) -> None:
    text = "correlations:\n" + "".join(f"  - {{between: {a}, and: {b}, r: {r}}}\n" for a, b, r in pairs)
    found = tank(upright(), LIQUID, LEVEL, TABLE, text)
    assert any(words in fault.sentence() and fault.path.startswith("correlations") for fault in found.faults)
    alone = tank(upright(), LIQUID, LEVEL, TABLE)
    exact(number(found, "budget.standard_uncertainty"), number(alone, "budget.standard_uncertainty"))


# ---------------------------------------------------------------- degrees of freedom, improvement


def test_few_readings_widen_the_coverage() -> None:
    """One input of 9 degrees of freedom alone: t for 95.45 % is 2.32 (JCGM 100, table G.2)."""
    found = tank(upright(), LIQUID, "level_now: {value: 2 m, u: 1 mm, degrees_of_freedom: 9}\ndatum_error: none\n")
    assert number(found, "budget.coverage_factor") == printed("2.32")
    exact(number(found, "budget.degrees_of_freedom"), 9.0)
    standard = number(found, "budget.standard_uncertainty")
    close(number(found, "budget.expanded_uncertainty"), 2.32 * standard, 0.005 * standard, "two digits of the table")


def test_without_doubt_of_the_uncertainties_the_factor_is_two() -> None:
    found = tank(upright(), LIQUID, LEVEL)
    assert found.budget is not None
    exact(found.budget.coverage.value, 2.0)
    assert "budget.degrees_of_freedom" not in found.sheet


def test_half_of_the_largest_uncertainty_helps_most() -> None:
    """1 mm and 2 mm: with the datum halved sqrt(1 + 1), with the reading halved sqrt(1/4 + 4), of what was sqrt(5)."""
    found = tank(upright(), LIQUID, LEVEL)
    assert found.budget is not None
    assert [line.entry.name for line in found.budget.to_improve] == ["datum_error", "level_now"]
    whole = number(found, "budget.expanded_uncertainty")
    for name, ratio in (("datum_error", sqrt(2 / 5)), ("level_now", sqrt(4.25 / 5))):
        close(
            number(found, f"budget.if_halved[{name}]"), ratio * whole, 1e-9 * whole, "central differences of a product"
        )


# ---------------------------------------------------------------- Monte Carlo


def test_where_the_chain_is_straight_trials_agree_with_the_budget() -> None:
    """An upright tank: mass goes with the level; the table multiplies, which adds 1e-6 of the variance."""
    found = tank(upright(), LIQUID, LEVEL, TABLE)
    out = trials(found, Chosen(trials=1_000_000))
    standard = number(found, "budget.standard_uncertainty")
    close(out.outcome.standard, standard, 0.005 * standard, "half a per cent")
    close(out.outcome.mean, number(found, "quantity.mass"), 5e-3 * standard, "five standard errors of a mean")
    close(out.outcome.high - out.outcome.low, 2 * 1.96 * standard, 0.02 * standard, "normal inputs, shortest interval")
    assert out.against_linear.accepted


def test_near_the_bottom_of_a_lying_tank_the_budget_is_wrong_and_that_is_said() -> None:
    """4 mm up with 1.5 mm of uncertainty: the volume goes with h^1.5, exact moments by quadrature of the draw."""
    liquid = LIQUID
    level = "level_now: {value: 4 mm, within: 3 mm}\ndatum_error: none\n"
    found = tank(LYING, liquid, level, WANTED)
    out = trials(found, Chosen(trials=1_000_000))
    assert not out.against_linear.accepted
    h = 1e-3 + 6e-3 * (np.arange(20_000) + 0.5) / 20_000
    theta = 2.0 * np.arccos(1.0 - h)
    mass = 1000.0 * 5.0 * 0.5 * (theta - np.sin(theta))
    close(out.outcome.mean, mass.mean(), 5e-3 * mass.std(), "five standard errors of a mean")
    close(out.outcome.standard, mass.std(), 5e-3 * mass.std(), "half a per cent")
    linear = number(found, "budget.standard_uncertainty")
    close(linear, mass.std(), 0.01 * mass.std(), "the slope in the middle")
    assert number(found, "quantity.mass") < 0.95 * mass.mean(), "the curve lifts the mean by 7 %"


def test_trials_that_leave_the_vessel_are_no_figure() -> None:
    found = tank(LYING, LIQUID, "level_now: {value: 4 mm, u: 2 mm}\ndatum_error: none\n", WANTED)
    out = sampled(found)
    assert isinstance(out, Fault)
    assert "outside" in out.sentence()


def test_the_same_seed_gives_the_same_digits_and_another_one_others() -> None:
    found = tank(upright(), LIQUID, LEVEL)
    first, again, other = (trials(found, Chosen(20_000, seed)).outcome.mean for seed in (1, 1, 2))
    exact(first, again)
    assert first != other


def test_figures_settle_by_themselves() -> None:
    out = trials(tank(upright(), LIQUID, LEVEL)).outcome
    assert out.settled and 20_000 <= out.trials < 5_000_000


def test_even_points_give_the_standard_uncertainty() -> None:
    found = tank(upright(), LIQUID, LEVEL, TABLE)
    out = trials(found, Chosen(sobol=True)).outcome
    standard = number(found, "budget.standard_uncertainty")
    exact(out.trials, 2**16)
    close(out.standard, standard, 1e-3 * standard, "65 536 points; far below a standard error of as many random ones")


def test_tables_of_the_trials_are_told_and_small() -> None:
    found = study_with(example=EXAMPLES / "lying_spirit_tank.yaml")
    out = trials(found, Chosen(trials=50_000))
    assert {"quantity.geometric_volume", "medium.mass_fraction"} <= set(out.tables)
    assert 0.0 <= out.table_off < 1e-5 * out.outcome.standard


def test_an_unknown_quantity_has_no_trials() -> None:
    out = sampled(tank(upright(), LIQUID))
    assert isinstance(out, Fault)
    assert "level_now" in out.sentence()
