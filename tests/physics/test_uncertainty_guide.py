"""The worked examples of the guide (JCGM 100, H.1 to H.3 and G.4): linear budgets, correlations, degrees of freedom.

Their printed figures were read in transcriptions of national laboratories' open tests or are from memory; each is also
worked again here from the stated inputs.
"""

from __future__ import annotations

from collections.abc import Callable
from math import cos, inf, sin, sqrt

import numpy as np
import pytest

from onedatum.foundation.numerics import Reals
from onedatum.physics.uncertainty import (
    Distribution,
    combined_standard,
    combined_standard_of_each,
    contributions,
    correlation_matrix,
    coverage_factor,
    displacements,
    draws,
    effective_degrees_of_freedom,
    is_correlation,
    least_eigenvalue,
    second_order_standard,
    shares,
)
from tests.closeness import close, exact, printed
from tests.reference import case

Model = Callable[[Reals], Reals]


def spread(model: Model, values: Reals, u: Reals) -> Reals:
    """Contributions of the inputs of a model that takes them as rows."""
    each = np.diag(u)
    return contributions(model(values[:, None] + each), model(values[:, None] - each))


# ---------------------------------------------------------------- H.1: end gauge


def end_gauge() -> tuple[Model, Reals, Reals, Reals]:
    """The model of H.1, its values, standard uncertainties and degrees of freedom; nanometres and kelvin.

    Inputs: length of the standard, three parts of the comparison, alpha of the standard, mean deviation of temperature,
    difference of the coefficients, difference of the temperatures.
    """
    given = case("quantity-U03")

    def model(x: Reals) -> Reals:
        length, d1, d2, d3, alpha, theta, d_alpha, d_theta = x
        return np.asarray(length + d1 + d2 + d3 - length * (d_alpha * theta + alpha * d_theta))

    theta_u = sqrt(given.value("u_theta_mean") ** 2 + given.value("theta_amplitude_arcsine") ** 2 / 2.0)
    values = np.array([given.value("ls"), 215.0, 0.0, 0.0, given.value("alpha_s"), given.value("theta_bar"), 0.0, 0.0])
    u = np.array(
        [
            given.value("u_ls"),
            *given.value("u_d"),
            given.value("half_width_alpha_s") / sqrt(3.0),
            theta_u,
            given.value("half_width_dalpha") / sqrt(3.0),
            given.value("half_width_dtheta") / sqrt(3.0),
        ]
    )
    return model, values, u, np.array([18.0, 24.0, 5.0, 8.0, inf, inf, 50.0, 2.0])


def test_end_gauge_first_order() -> None:
    model, values, u, _ = end_gauge()
    found = combined_standard(spread(model, values, u))
    case("quantity-U01").check(found)
    assert found == printed("32")


def test_end_gauge_degrees_of_freedom_and_coverage() -> None:
    """Printed: 16, truncated; k = 2.92 for 99 %; U = 93 nm with the rounded 32 nm."""
    model, values, u, freedom = end_gauge()
    effective = effective_degrees_of_freedom(spread(model, values, u), freedom)
    case("quantity-U02").check(effective)
    k = coverage_factor(int(effective), 0.99)
    assert k == printed("2.92")
    assert k * 32.0 == printed("93")


def test_end_gauge_with_the_terms_of_second_order() -> None:
    model, values, u, _ = end_gauge()
    moved = displacements(8)
    found = second_order_standard(model((values + u * moved).T), 8)
    case("quantity-U03").check(found)
    assert found == printed("34")


# ---------------------------------------------------------------- H.2: resistance and reactance


def observed() -> tuple[Reals, Reals, Reals]:
    """Means, standard uncertainties and correlations of V, I, phi from their five sets of readings."""
    given = case("quantity-U04")
    sets = np.array([given.value("V"), np.array(given.value("I")) / 1000.0, given.value("phi")])
    return sets.mean(axis=1), sets.std(axis=1, ddof=1) / sqrt(5.0), np.corrcoef(sets)


IMPEDANCE: dict[str, Model] = {
    "R": lambda x: x[0] / x[1] * np.cos(x[2]),
    "X": lambda x: x[0] / x[1] * np.sin(x[2]),
    "Z": lambda x: x[0] / x[1],
}


@pytest.mark.parametrize(
    ("name", "value", "u"), [("R", "127.732", "0.071"), ("X", "219.847", "0.295"), ("Z", "254.260", "0.236")]
)
def test_correlated_readings_of_an_impedance(name: str, value: str, u: str) -> None:
    means, standard, correlation = observed()
    parts = spread(IMPEDANCE[name], means, standard)
    assert float(IMPEDANCE[name](means)) == printed(value)
    found = combined_standard(parts, correlation)
    if name == "X":
        close(found, float(u), 0.0006, "0.2956 comes out: the last digit of the print is cut, not rounded")
    else:
        assert found == printed(u)
        case({"R": "quantity-U04", "Z": "quantity-U05"}[name]).check(found)
    close(np.sum(shares(parts, correlation)), 1.0, 1e-12, "rounding")


def test_the_impedance_by_trials_of_its_correlated_means() -> None:
    """Independent method: 1 000 000 sets of means, drawn together; the chain is all but straight over them."""
    means, standard, correlation = observed()
    inputs = [Distribution(value, u) for value, u in zip(means, standard, strict=True)]
    points = draws(inputs, 1_000_000, np.random.default_rng(21), correlation)
    found = np.stack([IMPEDANCE[name](points) for name in "RXZ"])
    parts = [spread(IMPEDANCE[name], means, standard) for name in "RXZ"]
    linear = combined_standard_of_each(np.transpose(parts), correlation)
    share = 4.0 / sqrt(2e6)
    close(found.std(axis=1) / linear, np.ones(3), share, "four standard errors of a standard deviation")
    together = np.asarray(np.corrcoef(found))
    for row, column, r in ((0, 1, -0.588), (0, 2, -0.485), (1, 2, 0.993)):
        close(together[row, column], r, 4e-3 * (1.0 - r * r) + 5e-4, "four standard errors, and the print")


@pytest.mark.parametrize(("one", "other", "r"), [("R", "X", "-0.588"), ("R", "Z", "-0.485"), ("X", "Z", "0.993")])
def test_correlations_of_the_results(one: str, other: str, r: str) -> None:
    means, standard, correlation = observed()
    first, second = (spread(IMPEDANCE[name], means, standard) for name in (one, other))
    covariance = first @ correlation @ second
    found = covariance / (combined_standard(first, correlation) * combined_standard(second, correlation))
    assert found == printed(r)


def test_the_impedance_without_its_correlations_would_be_known_otherwise() -> None:
    means, standard, correlation = observed()
    parts = spread(IMPEDANCE["R"], means, standard)
    assert combined_standard(parts) > 2.0 * combined_standard(parts, correlation)


# ---------------------------------------------------------------- H.3: calibration line


def test_a_line_fitted_to_a_thermometer() -> None:
    """y1, y2, s1, s2 and r as printed; the correction at 30 degC rests on both, correlated."""
    given = case("quantity-U07")
    t, b, t0 = (np.asarray(given.value(name)) for name in ("t", "b", "t0"))
    design = np.stack([np.ones(len(t)), t - t0], axis=1)
    y, rest, *_ = np.linalg.lstsq(design, b, rcond=None)
    variance = float(rest[0]) / (len(t) - 2)
    covariance = variance * np.linalg.inv(design.T @ design)
    s = np.sqrt(np.diag(covariance))
    r = covariance[0, 1] / (s[0] * s[1])
    assert (y[0], y[1]) == (printed("-0.1712"), printed("0.00218"))
    assert (s[0], s[1], r) == (printed("0.0029"), printed("0.00067"), printed("-0.930"))
    parts = np.array([s[0], s[1] * 10.0])
    found = combined_standard(parts, correlation_matrix(2, [(0, 1, r)]))
    given.check(found)
    assert found == printed("0.0041")


# ---------------------------------------------------------------- G.4 and table G.2


def test_effective_degrees_of_freedom() -> None:
    given = case("quantity-U08")
    freedom = np.array(given.value("n")) - 1.0
    found = effective_degrees_of_freedom(given.value("u_percent"), freedom)
    given.check(found)
    assert found == printed("19.0")
    whole = combined_standard(given.value("u_percent"))
    assert coverage_factor(19.0, 0.95) * whole == printed("2.2")


@pytest.mark.parametrize(
    ("freedom", "probability", "k"),
    [
        (1, 0.95, "12.71"),
        (5, 0.95, "2.57"),
        (10, 0.99, "3.17"),
        (20, 0.9545, "2.13"),
        (50, 0.9545, "2.05"),
        (100, 0.95, "1.984"),
    ],
)
def test_factors_of_the_guide(freedom: int, probability: float, k: str) -> None:
    """JCGM 100, table G.2 (from memory)."""
    assert coverage_factor(freedom, probability) == printed(k)


def test_without_end_the_factor_is_that_of_the_normal_distribution() -> None:
    close(coverage_factor(inf, 0.9545), 2.0, 1e-4, "0.9545 is rounded from 0.954 499 7")
    close(coverage_factor(1e9, 0.95), coverage_factor(inf, 0.95), 1e-8, "limit")
    exact(effective_degrees_of_freedom([1.0, 2.0], [inf, inf]), inf)
    exact(effective_degrees_of_freedom([0.0, 0.0], [3.0, 4.0]), inf)
    close(effective_degrees_of_freedom([3.0], [7.0]), 7.0, 1e-12, "one input alone")
    assert np.isnan(effective_degrees_of_freedom([3.0, float("nan")], [7.0, 8.0]))


# ---------------------------------------------------------------- laws


def test_correlated_contributions_add_or_cancel() -> None:
    exact(combined_standard([3.0, 4.0]), 5.0)
    close(combined_standard([3.0, 4.0], [[1.0, 1.0], [1.0, 1.0]]), 7.0, 1e-12, "both together")
    close(combined_standard([3.0, 3.0], [[1.0, -1.0], [-1.0, 1.0]]) + 1.0, 1.0, 1e-7, "root of a rounding")
    exact(shares([3.0, 4.0]), [9.0 / 25.0, 16.0 / 25.0])


def test_inputs_that_cancel_each_other_have_a_negative_share() -> None:
    """By hand, r = -0.9: u^2 = 9 + 16 - 21.6 = 3.4; shares 3(3 - 3.6)/3.4 and 4(4 - 2.7)/3.4."""
    matrix = correlation_matrix(2, [(0, 1, -0.9)])
    assert is_correlation(matrix)
    close(least_eigenvalue(matrix), 0.1, 1e-12, "1 - |r|")
    close(combined_standard([3.0, 4.0], matrix) ** 2, 3.4, 1e-12, "rounding")
    close(shares([3.0, 4.0], matrix), [-1.8 / 3.4, 5.2 / 3.4], 1e-12, "rounding")
    exact(combined_standard([5.0], [[1.0]]), 5.0)
    exact(shares([5.0], [[1.0]]), [1.0])


@pytest.mark.parametrize(
    ("matrix", "sound"),
    [
        ([[1.0]], True),
        ([[1.0, 0.99], [0.99, 1.0]], True),
        ([[1.0, 1.0], [1.0, 1.0]], False),
        ([[1.0, 0.5], [0.4, 1.0]], False),
        ([[2.0, 0.5], [0.5, 1.0]], False),
        ([[1.0, float("nan")], [float("nan"), 1.0]], False),
        ([[1.0, 0.9, 0.9], [0.9, 1.0, -0.9], [0.9, -0.9, 1.0]], False),
    ],
)
def test_which_errors_can_go_together(matrix: list[list[float]], sound: bool) -> None:
    assert is_correlation(matrix) is sound


def test_second_order_of_a_product_and_of_a_square() -> None:
    """Exact for normal inputs: var(x y) = (x u_y)^2 + (y u_x)^2 + (u_x u_y)^2; var(x^2) = 4 x^2 u^2 + 2 u^4."""
    x, y = (np.array([3.0, 5.0]) + np.array([0.2, 0.4]) * displacements(2)).T
    close(second_order_standard(x * y, 2) ** 2, (3 * 0.4) ** 2 + (5 * 0.2) ** 2 + (0.2 * 0.4) ** 2, 1e-9, "rounding")
    x = (0.1 + 0.3 * displacements(1)).T[0]
    close(second_order_standard(x * x, 1) ** 2, 4 * 0.01 * 0.09 + 2 * 0.0081, 1e-12, "rounding")


def test_a_straight_chain_has_no_second_order() -> None:
    moved = displacements(3)
    results = 2.0 + moved @ np.array([1.0, -2.0, 2.0])
    close(second_order_standard(results, 3), 3.0, 1e-12, "rounding")
    assert np.isnan(second_order_standard(np.full(len(moved), np.nan), 3))


def test_angles_of_the_impedance() -> None:
    """The model is the one of the guide: R^2 + X^2 = Z^2."""
    means = observed()[0]
    found = [float(IMPEDANCE[name](means)) for name in "RXZ"]
    close(found[0] ** 2 + found[1] ** 2, found[2] ** 2, 1e-9, "rounding")
    close(found[0] / found[2], cos(means[2]), 1e-12, "rounding")
    close(found[1] / found[2], sin(means[2]), 1e-12, "rounding")
