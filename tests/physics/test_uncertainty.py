"""Budgets against the examples of the guide, worked batches and random trials."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

import numpy as np
import pytest

from onedatum.foundation.numerics import Reals
from onedatum.physics.uncertainty import (
    combined_standard,
    contributions,
    expanded,
    level_uncertainty_m,
    share_margin,
    shares,
)
from tests.closeness import close, exact
from tests.reference import Case, case

MM = 1e-3


def moved(function: Callable[..., float], at: Mapping[str, float], u: Mapping[str, float]) -> Reals:
    """The contributions of the inputs in `u` to a function's value."""
    high = [function(**{**at, name: at[name] + step}) for name, step in u.items()]
    low = [function(**{**at, name: at[name] - step}) for name, step in u.items()]
    return contributions(high, low)


def test_end_gauge_of_the_guide() -> None:
    """JCGM 100 H.1, first order: length of an end gauge against a standard, in nm."""
    stated = case("quantity-U01")

    def length(standard: float, d: float, d_alpha: float, theta: float, d_theta: float, alpha: float) -> float:
        return standard + d - standard * (d_alpha * theta + alpha * d_theta)

    at = {
        "standard": stated.value("ls"),
        "d": 0.0,
        "d_alpha": 0.0,
        "theta": stated.value("theta_bar"),
        "d_theta": 0.0,
        "alpha": stated.value("alpha_s"),
    }
    u = {
        "standard": stated.value("u_ls"),
        "d": combined_standard(stated.value("u_d")),
        "d_alpha": stated.value("half_width_dalpha") / math.sqrt(3),
        "d_theta": stated.value("half_width_dtheta") / math.sqrt(3),
    }
    found = combined_standard(moved(length, at, u))
    stated.check(found)
    assert round(found) == 32, "as the guide prints it"


def test_product_of_the_guide() -> None:
    stated = case("quantity-G41")
    stated.check(combined_standard(stated.value("u")))


def batch(h1: float, h2: float, e1: float, e2: float, offset: float, scale: float, area: float, a: float) -> float:
    """Volume between two levels of an upright tank, with the errors of the readings and of the section."""
    return area * (1 + a) * ((1 + scale) * (h1 - h2) + e1 - e2 + offset - offset)


def batch_at(stated: Case) -> tuple[dict[str, float], dict[str, float]]:
    """Inputs and standard uncertainties of a batch; offset and scale are shared by both readings."""
    at = dict.fromkeys(("e1", "e2", "offset", "scale", "a"), 0.0)
    at |= {"h1": stated.value("h1"), "h2": stated.value("h2"), "area": stated.value("A")}
    u = {
        "e1": stated.value("u_r") * MM,
        "e2": stated.value("u_r") * MM,
        "offset": stated.value("u_off") * MM,
        "scale": stated.value("u_scale"),
        "a": stated.value("uA_rel"),
    }
    return at, u


def test_batch_with_shared_offset_and_scale() -> None:
    stated = case("quantity-B04")
    stated.check(combined_standard(moved(batch, *batch_at(stated))))


def test_batch_with_readings_taken_as_independent() -> None:
    stated = case("quantity-B05")
    at, u = batch_at(stated)
    of_each = [math.hypot(u["e1"], u["offset"], u["scale"] * at[level]) for level in ("h1", "h2")]
    stated.check(combined_standard(moved(batch, at, {"e1": of_each[0], "e2": of_each[1], "a": u["a"]})))


def test_level_and_datum() -> None:
    stated = case("quantity-A02")
    level, datum = (stated.value(name) * MM / math.sqrt(3) for name in ("reading", "datum"))
    stated.check(level_uncertainty_m(level, datum, stated.value("k")) / MM)


def test_level_uncertainty_is_the_budget_of_a_sum() -> None:
    by_budget = expanded(combined_standard([0.00029, 0.00115]), 2.0)
    close(level_uncertainty_m(0.00029, 0.00115, 2.0), by_budget, 1e-17, "rounding")


def test_contributions_of_a_straight_line_are_slope_times_uncertainty() -> None:
    found = moved(lambda x, y: 3.0 * x - 7.0 * y + 2.0, {"x": 1.0, "y": 5.0}, {"x": 0.1, "y": 0.01})
    close(found, [0.3, -0.07], 1e-13, "rounding near 30")


def test_curvature_does_not_enter_a_central_difference() -> None:
    """For a parabola the central difference is the exact slope times the step."""
    close(moved(lambda x: x**2, {"x": 3.0}, {"x": 0.5}), [3.0], 1e-14, "rounding near 12")


@pytest.mark.parametrize("seed", [1, 2])
def test_random_trials_scatter_as_the_budget_says(seed: int) -> None:
    """Independent method: a product of three inputs, 200 000 trials each."""
    at, u = {"x": 3.5, "y": 0.9, "z": 0.68}, {"x": 0.005, "y": 0.0006, "z": 0.0006}
    chance = np.random.default_rng(seed)
    x, y, z = (at[name] + u[name] * chance.standard_normal(200_000) for name in at)
    found = combined_standard(moved(lambda x, y, z: x * y * z, at, u))
    close(np.std(x * y * z), found, 0.008 * found, "five standard errors of 200 000 trials: 5/sqrt(400 000)")


def test_shares_are_parts_of_the_variance() -> None:
    found = shares([0.3, -0.4, 1.2])
    close(found, np.array([9.0, 16.0, 144.0]) / 169.0, 1e-15, "by hand: 3, 4, 12, 13")
    close(np.sum(found), 1.0, 1e-15, "rounding")


def test_nothing_to_share_is_no_number() -> None:
    assert np.isnan(shares([0.0, 0.0])).all()
    exact(combined_standard([]), 0.0)


def test_margin_is_negative_where_more_is_wanted() -> None:
    close(share_margin(0.005, 0.00374), 0.00126, 1e-15, "rounding of one subtraction")
    close(share_margin(0.002, 0.00374), -0.00174, 1e-15, "rounding of one subtraction")


def test_coverage_factor_multiplies() -> None:
    exact(expanded(np.array([0.5, 1.0]), 2.0), [1.0, 2.0])
