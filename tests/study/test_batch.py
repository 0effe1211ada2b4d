"""Batches by two levels: what the readings share cancels as far as the tank lets it, and no further."""

from __future__ import annotations

import pytest

from tests.closeness import close
from tests.reference import case
from tests.study.tanks import LYING, number, tank, upright

SECTION = upright("4 m", "8 m")
LIQUID = "medium: {kind: liquid of stated density, density: 1000 kg/m3, density_at: 20 degC, temperature: 20 degC}\n"
WANTED = "wanted: {of: volume at the reference temperature}\n"
READINGS = "batch: {level_before: {value: 6000 mm, u: 0.7 mm}, level_after: {value: 2000 mm, u: 0.7 mm}}\n"
SHARED = """
datum_error: {value: 0 mm, u: 2 mm}
gauge_scale_error: {value: 0 %value, u: 0.02 %value}
table: {U: 0.2 %value, k: 2}
"""


def standard(*parts: str) -> float:
    """The standard uncertainty of the batch."""
    return number(tank(*parts), "batch.budget.standard_uncertainty")


def test_the_uncertainty_of_a_batch_counts_what_is_shared_once() -> None:
    case("quantity-B04").check(standard(SECTION, LIQUID, WANTED, READINGS, SHARED))


def test_an_offset_cancels_in_an_upright_tank() -> None:
    found = tank(SECTION, LIQUID, WANTED, READINGS, SHARED)
    share = number(found, "batch.budget.share[datum_error]")
    assert abs(share) < 1e-12


def test_an_offset_does_not_cancel_in_a_lying_tank() -> None:
    """3 mm from 1.0 m to 0.3 m: 8.5 L between two batches, and to first order in the budget."""
    readings = "batch: {level_before: %s, level_after: %s}\ndatum_error: {value: 0 mm, u: 3 mm}\n"
    low, high = (
        tank(LYING, LIQUID, WANTED, readings % levels) for levels in (("1000 mm", "300 mm"), ("1003 mm", "303 mm"))
    )
    effect = number(high, "batch.difference") - number(low, "batch.difference")
    case("quantity-B02").check(effect)
    first_order = number(low, "batch.budget.standard_uncertainty")
    close(first_order, 0.0085317, 0.01 * 0.0085317, "curvature over 3 mm")


def test_a_scale_never_cancels() -> None:
    readings = "batch: {level_before: 6 m, level_after: 2 m}\ndatum_error: none\n"
    scale = "gauge_scale_error: {value: 0 %value, u: 0.05 %value}\n"
    case("quantity-B03").check(standard(SECTION, LIQUID, WANTED, readings, scale))


def test_a_warm_and_a_cold_end_share_the_thermometer() -> None:
    """A common error of the thermometer works as a scale on the batch, one of each reading on the whole contents."""
    liquid = LIQUID.replace("}", ", expansion: 1.07e-3 1/K}")
    both = (
        "batch: {level_before: 6 m, level_after: 5.9 m, temperature_before: %s, temperature_after: %s}\n"
        "datum_error: none\n"
    )
    own = both % ("{value: 20 degC, u: 0.2 K}", "{value: 20 degC, u: 0.2 K}")
    common = both % ("20 degC", "20 degC") + "thermometer_error: {value: 0 K, u: 0.2 K}\n"
    contents_m3 = 12.566370614 * 6.0
    batch_m3 = 12.566370614 * 0.1
    close(
        standard(SECTION, liquid, WANTED, common), 1.07e-3 * 0.2 * batch_m3, 1e-3 * 1.07e-3 * 0.2 * batch_m3, "linear"
    )
    expected = 1.07e-3 * 0.2 * contents_m3 * (1.0 + (5.9 / 6.0) ** 2) ** 0.5
    close(standard(SECTION, liquid, WANTED, own), expected, 1e-3 * expected, "linear")


@pytest.mark.parametrize(("table", "least_m"), [("0.3 %value, k: 2", 0.71), ("0.1 %value, k: 2", 0.579)])
def test_the_least_difference_of_level(table: str, least_m: float) -> None:
    """k sqrt(2) u_e / sqrt(tau^2 - k^2 (u_s^2 + u_g^2)), prismatic: both worked by hand."""
    text = "batch: {level_before: {value: 6 m, u: 1 mm}, level_after: 2 m, U: 0.5 %value, k: 2}\n"
    shared = SHARED.replace("0.2 %value, k: 2", table)
    found = number(tank(SECTION, LIQUID, WANTED, text, shared), "batch.least_level_difference")
    close(found, least_m, 0.006, "two digits printed, levels tried one by one")


def test_a_table_too_poor_is_told_instead_of_a_number() -> None:
    text = "batch: {level_before: {value: 6 m, u: 1 mm}, level_after: 2 m, U: 0.5 %value, k: 2}\n"
    found = tank(SECTION, LIQUID, WANTED, text, SHARED.replace("0.2 %value", "0.6 %value"))
    assert "table-too-poor" in {finding.key for finding in found.findings}
    assert not found.sheet["batch.least_level_difference"].known


def test_a_batch_wanted_too_well_fails_its_check() -> None:
    text = READINGS.replace("}}", "}, U: 0.05 %value, k: 2}")
    found = tank(SECTION, LIQUID, WANTED, text, SHARED)
    check = next(check for check in found.checks if check.key == "batch-uncertainty")
    assert check.verdict.value == "does not suit"


def test_a_case_without_a_batch_has_none() -> None:
    assert tank(SECTION, LIQUID, WANTED).batch is None
