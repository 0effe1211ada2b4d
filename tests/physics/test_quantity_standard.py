"""Observed, standard and net volumes against the published chain, and batches and limits against theirs."""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.working import apply
from onedatum.physics.quantity import (
    batch_scope,
    batch_uncertainty_m3,
    gauge_limits,
    gross_observed_m3,
    gross_standard_m3,
    least_level_difference_m,
    net_standard_m3,
    offset_effect_m3,
    scale_effect_m3,
    scaled_level_m,
    shell_factor,
    shell_temperature_K,
    table_limits,
)
from tests.closeness import close, exact, printed
from tests.reference import case

TANK_M2 = 12.566370614


def fahrenheit_K(degF: float) -> float:
    return (degF + 459.67) / 1.8


def test_shell_temperature_of_a_handbook() -> None:
    given = case("quantity-Q01")
    shell_K = shell_temperature_K(fahrenheit_K(given.value("TL")), fahrenheit_K(given.value("Ta")))
    given.check(1.8 * shell_K - 459.67)


def test_gross_observed_volume_and_what_follows() -> None:
    given, after = case("quantity-Q16"), case("quantity-Q18")
    shell_K = shell_temperature_K(given.value("TL") + 273.15, given.value("Ta") + 273.15)
    factor = shell_factor(shell_K, given.value("Tref") + 273.15, given.value("alpha"))
    observed = gross_observed_m3(given.value("TOV"), given.value("FW"), factor)
    given.check(observed)
    standard = gross_standard_m3(observed, case("quantity-Q13").expected)
    case("quantity-Q17").check(standard)
    after.check(net_standard_m3(standard, after.value("SW") / 100.0))


def test_more_water_than_contents_is_refused() -> None:
    with pytest.raises(ValidityError, match="no more water than contents"):
        apply(gross_observed_m3, {"total_observed_m3": 5.0, "free_water_m3": 5.1, "shell_factor": 1.0})


def test_an_offset_cancels_where_the_section_does_not_change() -> None:
    exact(offset_effect_m3(TANK_M2, TANK_M2, 0.003), 0.0)
    assert case("quantity-B01").expected == 0.0


def test_an_offset_in_a_lying_tank_to_first_order() -> None:
    """D 2 m, L 5 m from 1.0 m to 0.3 m: surfaces 2 L sqrt(h (2 R - h)); the case holds the curvature over 3 mm, too."""
    surfaces = [2.0 * 5.0 * sqrt(h * (2.0 - h)) for h in (1.0, 0.3)]
    given = case("quantity-B02")
    effect = offset_effect_m3(surfaces[0], surfaces[1], given.value("offset") / 1000.0)
    close(effect, given.expected, 0.006 * given.expected, "curvature over 3 mm")


def test_a_scale_error_never_cancels() -> None:
    given = case("quantity-B03")
    given.check(scale_effect_m3(given.value("A"), given.value("scale"), given.value("h1"), given.value("h2")))
    exact(scaled_level_m(6.0, 0.0005), 6.003)


def test_the_uncertainty_of_a_batch_and_what_ignoring_what_is_shared_would_give() -> None:
    given = case("quantity-B04")
    spread = {
        "reading_u_m": given.value("u_r") / 1000.0,
        "datum_u_m": given.value("u_off") / 1000.0,
        "scale_u": given.value("u_scale"),
        "table_u": given.value("uA_rel"),
    }
    first, second = given.value("h1"), given.value("h2")
    batch = TANK_M2 * (first - second)
    given.check(batch_uncertainty_m3(TANK_M2, TANK_M2, first, second, batch, **spread))
    each = [
        TANK_M2 * sqrt(spread["reading_u_m"] ** 2 + spread["datum_u_m"] ** 2 + (spread["scale_u"] * h) ** 2)
        for h in (first, second)
    ]
    case("quantity-B05").check(sqrt(each[0] ** 2 + each[1] ** 2 + (batch * spread["table_u"]) ** 2))


def test_the_uncertainty_of_a_batch_in_a_lying_tank_against_trials() -> None:
    """The errors drawn one by one, on the closed form of the segment."""
    random = np.random.default_rng(8)
    count = 400_000

    def volume(h: np.ndarray) -> np.ndarray:
        return 5.0 * (np.arccos(1.0 - h) - (1.0 - h) * np.sqrt(2.0 * h - h * h))

    u = {"reading_u_m": 0.0007, "datum_u_m": 0.002, "scale_u": 0.0002, "table_u": 0.001}
    scale, offset, table = (random.normal(0.0, u[name], count) for name in ("scale_u", "datum_u_m", "table_u"))
    levels = [(1.0 + scale) * h + offset + random.normal(0.0, u["reading_u_m"], count) for h in (1.0, 0.3)]
    drawn = (1.0 + table) * (volume(levels[0]) - volume(levels[1]))
    surfaces = [10.0 * sqrt(h * (2.0 - h)) for h in (1.0, 0.3)]
    batch = float(volume(np.array(1.0)) - volume(np.array(0.3)))
    worked = batch_uncertainty_m3(surfaces[0], surfaces[1], 1.0, 0.3, batch, **u)
    close(worked, drawn.std(), 0.006 * drawn.std(), "four standard errors of 400 000 trials, and curvature")


def test_least_difference_of_level() -> None:
    """0.71 m for 0.5 % at k = 2, readings 1 mm, scale 0.02 %, table 0.15 % (worked example of the derivation)."""
    assert least_level_difference_m(0.001, 0.0002, 0.0015, 0.005, 2.0) == printed("0.71")
    exact(batch_scope(0.0, 0.0025, 0.005, 2.0), 0.0)
    with pytest.raises(ValidityError, match="too poor"):
        apply(
            least_level_difference_m,
            {"reading_u_m": 0.001, "scale_u": 0.0, "table_u": 0.003, "wanted_share": 0.005, "coverage_factor": 2.0},
        )


def test_at_the_least_difference_a_batch_is_known_just_as_well_as_wanted() -> None:
    u = {"reading_u_m": 0.0008, "scale_u": 0.0003, "table_u": 0.001}
    least = float(least_level_difference_m(**u, wanted_share=0.004, coverage_factor=2.0))
    spread = batch_uncertainty_m3(TANK_M2, TANK_M2, 5.0, 5.0 - least, TANK_M2 * least, datum_u_m=0.01, **u)
    close(2.0 * spread / (TANK_M2 * least), 0.004, 1e-9, "rounding")


# ---------------------------------------------------------------- limits of the law

GAUGE = {row.key: row for row in gauge_limits()}
TABLE = {row.key: row for row in table_limits()}


def test_the_dutch_limit_of_the_gauge() -> None:
    for identity, key in (("quantity-B07", "nl-2007-initial"), ("quantity-B08", "nl-2007-service")):
        given = case(identity)
        given.check(1000.0 * GAUGE[key].limit_m(given.value("h")))


@pytest.mark.parametrize(
    ("key", "height_m", "limit_mm"),
    [
        ("nl-2007-initial", 0.0, 2.6),
        ("nl-2007-initial", 5.0, 2.6),
        ("nl-2007-initial", 5.01, 2.7),
        ("nl-2007-service", 20.0, 6.2),
        ("fr-2009-before", 12.0, 1.0),
        ("fr-2009-installed", 12.0, 4.0),
        ("fr-annex-installed", 5.0, 2.0),
        ("fr-annex-installed", 5.001, 4.0),
        ("oiml-r85-1998-class-2-before", 20.0, 4.0),
        ("oiml-r85-1998-class-2-before", 5.0, 2.0),
        ("de-1988-initial-float", 2.0, 1.0),
        ("de-1988-initial-float", 10.0, 3.0),
    ],
)
def test_limits_of_the_gauge_by_hand(key: str, height_m: float, limit_mm: float) -> None:
    """By the words of each document, or from memory where the row says so: art. 53, metres begun, least value; order of
    24 March 2009; 0.02 % or 2 mm; 0.03 % of the travel, not below 1 mm."""
    close(1000.0 * GAUGE[key].limit_m(height_m), limit_mm, 1e-9, "rounding")


def test_every_limit_has_a_key_of_its_own_a_source_and_a_tag() -> None:
    assert len(GAUGE) == len(gauge_limits()) and len(TABLE) == len(table_limits())
    for row in (*gauge_limits(), *table_limits()):
        assert row.tag in ("read", "read second-hand", "from memory")
        assert row.country and row.document and row.words
    assert {row.key for row in gauge_limits() if row.tag == "from memory"} >= {"iso-4266-1-custody-installed"}


@pytest.mark.parametrize("key", GAUGE)
def test_a_limit_never_shrinks_with_height(key: str) -> None:
    limits = [GAUGE[key].limit_m(h) for h in np.linspace(0.0, 40.0, 401)]
    assert np.all(np.diff(limits) >= 0.0) and limits[0] > 0.0
    least_mm = f"{round(1000.0 * limits[0], 6):g} mm"
    assert least_mm in GAUGE[key].rule, "the least of a limit stands in its words"
