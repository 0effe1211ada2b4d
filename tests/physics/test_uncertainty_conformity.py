"""Conformity against the examples of JCGM 106 and the guard bands of ILAC-G8 (from memory, each worked again)."""

from __future__ import annotations

from math import exp, gamma, sqrt

import numpy as np
import pytest
from scipy.optimize import brentq

from onedatum.physics.uncertainty import (
    GUARDED_ACCEPTANCE,
    GUARDED_REJECTION,
    SIMPLE,
    DecisionRule,
    Limits,
    acceptance_limits,
    conformance_probability,
    decide,
    decision_rules,
    global_risks,
    guard_band,
    specific_risk,
)
from tests.closeness import close, exact, printed
from tests.reference import case


def test_breakdown_voltage_of_a_diode() -> None:
    given = case("quantity-U12")
    found = conformance_probability(given.value("y"), given.value("u"), None, given.value("T_U"))
    given.check(found)
    assert found == printed("0.92")


def test_burst_pressure_and_kinematic_viscosity() -> None:
    """JCGM 106: 509.7 with u 8.6 against at least 490: 0.99; 13.6 with u 1.8 within [12.5, 16.3]: 0.66."""
    assert conformance_probability(509.7, 8.6, 490.0, None) == printed("0.99")
    assert conformance_probability(13.6, 1.8, 12.5, 16.3) == printed("0.66")


# ---------------------------------------------------------------- 9.5.4: bearings


def runout(x: float) -> float:
    """Gamma distribution of the production: shape 4, mean 1."""
    return 4.0**4 / gamma(4.0) * x**3 * exp(-4.0 * x)


SPAN, TOLERANCE = Limits(0.0, 20.0), Limits(None, 2.0)


def test_bearings_out_of_tolerance() -> None:
    """Where all is accepted, the consumer gets all that is out of tolerance: 4.2 %."""
    given = case("quantity-U13")
    risks = global_risks(runout, SPAN, 1e-9, TOLERANCE, Limits(None, 20.0))
    given.check(risks.consumer)
    assert 100.0 * risks.consumer == printed("4.2")


def test_risk_of_the_consumer_without_a_guard_band() -> None:
    given = case("quantity-U14")
    risks = global_risks(runout, SPAN, given.value("u"), TOLERANCE, TOLERANCE)
    given.check(risks.consumer)
    close(100.0 * risks.consumer, 0.8, 0.04, "printed to one digit")


def test_the_acceptance_limit_for_one_in_a_thousand() -> None:
    """A = 1.67, in full 1.67183, gives a consumer's risk of 0.1 %, at the price of more good bearings rejected."""

    def excess(limit: float) -> float:
        return global_risks(runout, SPAN, 0.25, TOLERANCE, Limits(None, limit)).consumer - 0.001

    found = float(brentq(excess, 1.5, 2.0, xtol=1e-9))
    assert found == printed("1.67")
    close(found, 1.67183, 5e-6, "given to five decimals")
    strict = global_risks(runout, SPAN, 0.25, TOLERANCE, Limits(None, found))
    assert strict.producer > global_risks(runout, SPAN, 0.25, TOLERANCE, TOLERANCE).producer


def test_risks_of_bearings_drawn_one_by_one() -> None:
    """Independent method: 2 000 000 bearings and as many readings; on both sides of a tolerance."""
    random = np.random.default_rng(12)
    true = random.gamma(4.0, 0.25, 2_000_000)
    read = true + 0.25 * random.standard_normal(len(true))
    good, taken = (true >= 0.3) & (true <= 2.0), (read >= 0.4) & (read <= 1.8)
    risks = global_risks(runout, SPAN, 0.25, Limits(0.3, 2.0), Limits(0.4, 1.8))
    for share, expected in ((np.mean(taken & ~good), risks.consumer), (np.mean(~taken & good), risks.producer)):
        error = sqrt(expected * (1.0 - expected) / len(true))
        close(share, expected, 4.0 * error, "four standard errors")


def test_risks_without_uncertainty_are_none() -> None:
    risks = global_risks(runout, SPAN, 0.0, TOLERANCE, TOLERANCE)
    assert risks == (0.0, 0.0)


# ---------------------------------------------------------------- guard bands


@pytest.mark.parametrize("row", decision_rules(), ids=lambda row: f"{row.risk}, {row.factor}")
def test_guard_bands_of_the_guideline(row: DecisionRule) -> None:
    """What the normal distribution says keeps below each bound; but for the widest band, which is rounded up to 1 ppm,
    the bound is less than a fifth above it."""
    risk = specific_risk(row.factor, 2.0)
    assert risk <= row.below
    assert risk > row.below / (1.2 if row.factor < 3.0 else 2000.0)
    if row.rule == GUARDED_REJECTION:
        close(specific_risk(-row.factor, 2.0), 1.0 - risk, 1e-12, "false acceptance and rejection make the whole")


def test_the_guard_band_of_one_expanded_uncertainty() -> None:
    case("quantity-U16").check(specific_risk(1.0, 2.0))
    assert {row.tag for row in decision_rules() if row.factor in (0.0, 1.0) and row.risk == "false acceptance"} == {
        "read second-hand"
    }


def test_the_risk_is_what_stands_at_the_limit_of_acceptance() -> None:
    limit = acceptance_limits(None, 2.0, "guarded acceptance", guard_band(0.5, 1.0)).high
    assert limit is not None
    close(1.0 - conformance_probability(limit, 0.25, None, 2.0), specific_risk(1.0, 2.0), 1e-12, "rounding")


@pytest.mark.parametrize(
    ("rule", "limits"),
    [
        (SIMPLE, (1.0, 2.0)),
        (GUARDED_ACCEPTANCE, (1.25, 1.75)),
        (GUARDED_REJECTION, (0.75, 2.25)),
    ],
)
def test_the_rule_moves_the_limits(rule: str, limits: tuple[float, float]) -> None:
    exact(acceptance_limits(1.0, 2.0, rule, 0.25), limits)
    assert acceptance_limits(None, None, rule, 0.25) == (None, None)


def test_decisions_at_and_beyond_the_limits() -> None:
    assert decide(2.0, 1.0, 2.0) == decide(1.0, 1.0, 2.0) == decide(5.0, None, None) == "accepted"
    assert decide(2.0001, 1.0, 2.0) == decide(0.9999, 1.0, None) == "not accepted"
    assert decide(float("nan"), 1.0, 2.0) == "not accepted"


def test_without_uncertainty_it_conforms_or_not() -> None:
    exact([conformance_probability(y, 0.0, 1.0, 2.0) for y in (0.99, 1.0, 1.5, 2.0, 2.01)], [0.0, 1.0, 1.0, 1.0, 0.0])
    exact(conformance_probability(1.0, 0.3, None, None), 1.0)


@pytest.mark.parametrize(("value", "u"), [(float("nan"), 0.1), (1.5, float("nan")), (float("nan"), 0.0)])
def test_what_is_no_number_has_no_probability(value: float, u: float) -> None:
    assert np.isnan(conformance_probability(value, u, 1.0, 2.0))
