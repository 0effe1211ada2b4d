"""Balances against constrained minimisation and simulation; a leak, a meter and a table in an invented tank.

The tank, its meter and its days are invented.
"""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats
from scipy.linalg import block_diag
from scipy.optimize import minimize

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Reals
from onedatum.physics.detection import (
    InventoryFit,
    balance_residual_m3,
    balance_statistic,
    balance_u_m3,
    chi_squared_probability,
    inventory_fit,
    inventory_limit_m3,
    reconciled,
)
from tests.closeness import close, exact
from tests.physics.shares_apart import alike
from tests.reference import case

US_GALLON_M3 = 231 * 0.0254**3
"""231 cubic inches, by definition."""

# ---------------------------------------------------------------- one tank


def test_limit_of_the_month() -> None:
    worked = case("loop-D13")
    flow, constant = (worked.value(name) * US_GALLON_M3 for name in ("flow_through", "constant"))
    limit = inventory_limit_m3(flow, worked.value("fraction"), constant)
    worked.check(limit / US_GALLON_M3)
    close(limit, 1.6277, 5e-5, "1627.7 L as the case says")


def test_one_balance_is_the_smallest_net() -> None:
    """In 30, out 12, stock 17: by hand 1 left over, u sqrt(0.09 + 0.04 + 0.12) = 0.5, chi-squared 4, p 4.55 %."""
    r, u = balance_residual_m3(30.0, 12.0, 17.0), balance_u_m3(0.3, 0.2, sqrt(0.12))
    close(float(u), 0.5, 1e-12, "rounding")
    net = reconciled([30.0, 12.0, 17.0], np.diag([0.09, 0.04, 0.12]), [[1.0, -1.0, -1.0]])
    close(net.chi_squared, float(balance_statistic(r, u)), 1e-12, "rounding")
    close(net.tests, np.full(3, 2.0), 1e-12, "one balance gives every quantity the same test")
    close(float(chi_squared_probability(net.chi_squared, 1.0)), 2.0 * stats.norm.sf(2.0), 1e-12, "a normal squared")


# ---------------------------------------------------------------- a net of tanks

NET = np.array([[1.0, -1.0, -1.0, 0.0, 0.0], [0.0, 1.0, 0.0, -1.0, 0.0], [0.0, 0.0, 1.0, 1.0, -1.0]])
"""Three tanks and five pipes of an invented works."""
TRUE = np.array([10.0, 6.0, 4.0, 6.0, 10.0])
U = np.array([0.2, 0.1, 0.15, 0.1, 0.3])


def test_reconciliation_against_constrained_minimisation() -> None:
    covariance = np.diag(U**2)
    covariance[0, 4] = covariance[4, 0] = 0.5 * U[0] * U[4]
    measured = TRUE + np.array([0.3, -0.1, 0.05, 0.2, -0.4])
    weight = np.linalg.inv(covariance)
    other = minimize(
        lambda x: (x - measured) @ weight @ (x - measured),
        measured,
        jac=lambda x: 2.0 * weight @ (x - measured),
        constraints={"type": "eq", "fun": lambda x: NET @ x, "jac": lambda x: NET},
        method="SLSQP",
        options={"ftol": 1e-15, "maxiter": 500},
    )
    found = reconciled(measured, covariance, NET)
    close(found.values, other.x, 1e-6, "the search stops")
    close(found.chi_squared, float(other.fun), 1e-6, "the search stops")
    assert np.max(np.abs(NET @ found.values)) < 1e-12
    assert found.degrees_of_freedom == 3


def test_tests_and_covariance_against_simulation() -> None:
    """5000 seeded sets of measurements: corrections and results spread as they say, chi-squared has its mean of 3."""
    chance, covariance = np.random.default_rng(30), np.diag(U**2)
    sets = [reconciled(TRUE + U * noise, covariance, NET) for noise in chance.normal(size=(5000, 5))]
    tests = np.array([one.tests for one in sets])
    close(np.sqrt(np.mean(tests**2, axis=0)), np.ones(5), 4.0 / sqrt(10000), "four standard errors of a spread")
    spread = np.std([one.values for one in sets], axis=0)
    alike(spread, np.sqrt(np.diag(sets[0].covariance)), 4.0 / sqrt(10000), "four standard errors of a spread")
    close(float(np.mean([one.chi_squared for one in sets])), 3.0, 4.0 * sqrt(6.0 / 5000), "four standard errors")
    assert np.all(np.sqrt(np.diag(sets[0].covariance)) < U), "a balance makes every quantity of it better known"


def test_a_gross_error_has_the_greatest_test() -> None:
    """Without noise the test of a wrong measurement is the greatest (Cauchy and Schwarz): by each in turn."""
    net = np.array(
        [[1.0, -1.0, -1.0, 0.0, 0.0, 0.0], [0.0, 1.0, 0.0, -1.0, 0.0, -1.0], [0.0, 0.0, 1.0, 1.0, -1.0, 0.0]]
    )
    true = np.array([10.0, 6.0, 4.0, 5.0, 9.0, 1.0])
    for place in range(6):
        measured = true.copy()
        measured[place] += 1.0
        tests = reconciled(measured, np.diag([0.1, 0.2, 0.1, 0.3, 0.2, 0.1]) ** 2, net).tests
        assert tests[place] >= np.nanmax(tests) - 1e-9


@given(scale=st.floats(1e-6, 1e6), factors=st.lists(st.floats(0.01, 100.0), min_size=3, max_size=3))
def test_units_and_writing_of_the_balances_do_not_matter(scale: float, factors: list[float]) -> None:
    measured, covariance = TRUE + U, np.diag(U**2)
    plain = reconciled(measured, covariance, NET)
    other = reconciled(scale * measured, scale**2 * covariance, np.array(factors)[:, None] * NET)
    alike(other.values / scale, plain.values, 1e-9, "rounding")
    alike(other.chi_squared, plain.chi_squared, 1e-8, "rounding")
    alike(other.tests, plain.tests, 1e-8, "rounding")


def test_what_no_balance_tests_stays_as_it_was() -> None:
    """A quantity in no balance, and one that is known exactly, are not moved and have no test."""
    found = reconciled([10.0, 4.0, 5.0, 7.0], np.diag([0.0, 1.0, 1.0, 1.0]), [[1.0, -1.0, -1.0, 0.0]])
    exact(found.values[[0, 3]], [10.0, 7.0])
    assert np.isnan(found.tests).tolist() == [True, False, False, True]


def test_two_nets_apart_are_two_nets() -> None:
    measured = TRUE + U
    both = reconciled(np.tile(measured, 2), np.diag(np.tile(U**2, 2)), block_diag(NET, NET))
    one = reconciled(measured, np.diag(U**2), NET)
    alike(both.values, np.tile(one.values, 2), 1e-12, "rounding")
    alike(both.chi_squared, 2.0 * one.chi_squared, 1e-12, "rounding")


def test_absurd_nets_are_refused_by_name() -> None:
    v, y = np.diag([1.0, 1.0, 1.0]), [10.0, 4.0, 5.0]
    row = [1.0, -1.0, -1.0]
    with pytest.raises(ValidityError, match=r"^balances must be balances independent.*got one that follows"):
        reconciled(y, v, [row, [-2.0, 2.0, 2.0]])
    with pytest.raises(ValidityError, match=r"^balances must be balances independent.*got one without a quantity"):
        reconciled(y, v, [row, [0.0, 0.0, 0.0]])
    for wrong in ([[1.0, -1.0]], [], 3.0, [row, [1.0]], [[1.0, float("nan"), 0.0]], "net"):
        with pytest.raises(ValidityError, match=r"^balances must be rows of"):
            reconciled(y, v, wrong)
    asymmetric, negative, impossible = v.copy(), v.copy(), v.copy()
    asymmetric[0, 1], negative[2, 2] = 0.5, -1.0
    impossible[0, 1] = impossible[1, 0] = 2.0
    for wrong_v in (asymmetric, negative, impossible, np.ones((2, 3))):
        with pytest.raises(ValidityError, match=r"^covariance must be square, symmetric"):
            reconciled(y, wrong_v, [row])
    with pytest.raises(ValidityError, match=r"^results must be finite numbers"):
        reconciled([10.0, float("nan"), 5.0], v, [row])


# ---------------------------------------------------------------- leak, meter and table apart

DAY_S = 86400.0
AREA_M2 = 20.0


def _days(leak_m3_per_day: float, meter: float, wave_m3: float, noise_m3: float, seed: int) -> InventoryFit:
    """60 days of a tank, step by step: true stock, stick by a wavy table, book by a meter that counts too little."""
    chance = np.random.default_rng(seed)
    level_m, before, after, counted, missing = 2.5, [], [], [], []
    for _ in range(60):
        out_m3 = 2.0 + 8.0 * chance.random()
        delivered_m3 = 45.0 if level_m < 1.0 else 0.0
        following_m = level_m + (delivered_m3 - out_m3 - leak_m3_per_day) / AREA_M2
        stick = [AREA_M2 * h + wave_m3 * np.sin(2 * np.pi * h / 0.5 + 0.7) for h in (level_m, following_m)]
        metered_m3 = out_m3 / (1.0 + meter)
        before.append(level_m)
        after.append(following_m)
        counted.append(metered_m3)
        missing.append(stick[0] + delivered_m3 - metered_m3 - stick[1] + noise_m3 * chance.normal())
        level_m = following_m
    return inventory_fit(missing, np.full(60, DAY_S), counted, before, after, 0.5)


def test_a_tank_without_noise_gives_back_what_was_put_in() -> None:
    fit = _days(0.01, 0.004, 0.05, 0.0, 40)
    alike([fit.leak_m3_per_s * DAY_S, fit.meter_error, fit.table_amplitude_m3], [0.01, 0.004, 0.05], 1e-8, "rounding")
    assert fit.degrees_of_freedom == 56


@pytest.mark.parametrize(
    ("leak", "meter", "wave", "found"),
    [(0.03, 0.0, 0.0, "leak"), (0.0, 0.01, 0.0, "meter"), (0.0, 0.0, 0.05, "table"), (0.0, 0.0, 0.0, "")],
)
def test_each_fault_is_found_as_itself(leak: float, meter: float, wave: float, found: str) -> None:
    """One fault at a time, in noise of 10 L a day: it stands out, the others do not (seeded)."""
    fit = _days(leak, meter, wave, 0.01, 41)
    seen = {
        "leak": abs(fit.leak_t) > 3.0,
        "meter": abs(fit.meter_t) > 3.0,
        "table": fit.table_amplitude_m3 > 4.0 * fit.table_amplitude_u_m3,
    }
    assert [name for name, there in seen.items() if there] == ([found] if found else [])


def test_the_uncertainties_cover() -> None:
    """300 seeded tanks: leak and meter lie within 1.96 standard uncertainties about 95 times in 100."""
    fits = [_days(0.02, 0.003, 0.03, 0.01, 100 + seed) for seed in range(300)]
    leaks = np.array([abs(f.leak_m3_per_s * DAY_S - 0.02) < 1.96 * f.leak_u_m3_per_s * DAY_S for f in fits])
    meters = np.array([abs(f.meter_error - 0.003) < 1.96 * f.meter_error_u for f in fits])
    for share in (np.mean(leaks), np.mean(meters)):
        assert abs(share - 0.95) < 4.0 * sqrt(0.95 * 0.05 / 300)


def test_days_that_are_all_alike_do_not_tell_a_leak_from_a_meter() -> None:
    levels: Reals = 2.5 - 0.03 * np.arange(41.0)
    missing, lasting, before, after = np.full(40, 0.02), np.full(40, DAY_S), levels[:-1], levels[1:]
    with pytest.raises(ValidityError, match=r"^columns must be causes that vary each in its own way.*told apart"):
        inventory_fit(missing, lasting, np.full(40, 5.0), before, after, 0.5)
    nearly = 5.0 + 0.01 * np.random.default_rng(2).normal(size=40)
    assert inventory_fit(missing, lasting, nearly, before, after, 0.5).most_correlation > 0.999


def test_absurd_inventories_are_refused_by_name() -> None:
    good = (np.zeros(8), np.full(8, DAY_S), np.arange(8.0), np.linspace(2, 1, 8), np.linspace(1.9, 0.8, 8))
    with pytest.raises(ValidityError, match=r"^missing_m3 must be 6 values or more; got 3\."):
        inventory_fit(np.zeros(3), *good[1:], 0.5)
    with pytest.raises(ValidityError, match=r"^dispensed_m3 must be 8 values; got 7\."):
        inventory_fit(*good[:2], np.arange(7.0), *good[3:], 0.5)
    for period_m in (0.0, -1.0, float("nan"), float("inf")):
        with pytest.raises(ValidityError, match=r"^period_m must be above 0 m"):
            inventory_fit(*good, period_m)
