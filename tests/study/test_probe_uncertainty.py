"""What a probe itself adds to the uncertainty of level and quantity: by hand, by draws, and while it is open."""

from __future__ import annotations

from functools import partial
from math import log, pi, sqrt, tan

import numpy as np
import pytest

from onedatum.study.result import Study
from onedatum.verdicts import Check, Verdict
from tests.closeness import close
from tests.reference import case
from tests.study.test_probe import (
    BARE,
    BY_ROD,
    CAUSTIC,
    CONDUCTIVITY,
    GLAND,
    OIL,
    PERMITTIVITY,
    STAYS,
    STEEL,
    TESTED,
    number,
    probe,
    verdicts,
)
from tests.study.test_probe_media import section
from tests.study.variants import statement_with

READ_U = 2.0 * sqrt((5.0**2 + 2.0**2) / 3.0) * 1e-3
"""Reading within 5 mm, datum within 2 mm, both rectangular, k = 2."""
DRY_OIL = (CONDUCTIVITY, "1 pS/m")
CHANGING = (*BARE, *STEEL, DRY_OIL, (PERMITTIVITY, "{value: 2.3, min: 2.28, max: 2.31}"), GLAND)
ENTERED = ("takes_off_loss: yes", "takes_off_loss: yes\n  table_entered: yes")


def check(study: Study, key: str) -> Check:
    (found,) = (each for each in study.checks if each.key == key)
    return found


def parts(study: Study) -> set[str]:
    assert study.measuring.accuracy is not None
    return {part.key for part in study.measuring.accuracy.parts}


# ---------------------------------------------------------------- a film that nobody has tested


@pytest.mark.parametrize("key", ["wanted-level", "wanted-uncertainty"])
def test_beside_an_open_film_nothing_wanted_is_decided(key: str) -> None:
    found = probe()
    assert check(found, key).verdict is Verdict.UNDECIDED
    assert check(found, key).waits_for == ("probe.film.stays",)
    assert not found.sheet["probe.level_uncertainty"].known
    assert "film" in found.measuring.left_out
    assert any(question.path == "probe.film.stays" for question in found.questions)


def test_beside_an_open_film_no_tolerance_is_decided() -> None:
    limits = ("wanted:\n", "tolerance: {mass_at_least: 1000 kg, rule: simple acceptance}\n\nwanted:\n")
    assert probe(limits).tolerance is None
    assert probe(limits, (STAYS, TESTED)).tolerance is not None


def test_an_open_film_leaves_the_alarm_where_it_stands() -> None:
    """A film reads high: it makes the alarm of a high level early, never late."""
    case("scenarios-B").check(number(probe(), "overfill.high_high"), "HH_m")
    close(
        number(probe(), "probe.alarm_uncertainty"),
        number(probe((STAYS, TESTED)), "probe.level_uncertainty"),
        1e-12,
        "no film",
    )


def test_a_film_that_reads_low_is_counted_in_the_alarm() -> None:
    thin = ("drained_for: 60 s\n    drained_height: 1000 mm", "thickness: 0.1 mm")
    low = probe(thin)
    least = number(low, "probe.accuracy.film_least")
    assert least < -0.01
    expected = sqrt(READ_U**2 + 4.0 * (least**2 + number(low, "probe.accuracy.wave[20 mA]") ** 2) / 3.0)
    close(number(low, "probe.alarm_uncertainty"), expected, 1e-12, "rectangular, k = 2")
    assert number(low, "overfill.high_high") < number(probe(), "overfill.high_high") - 1e-3


def test_a_tested_film_leaves_the_reading_and_the_wave() -> None:
    """The wave by the admittance of an open line: tan(beta l)/(beta l) - 1 of what it holds (textbook, from memory)."""
    found = probe((STAYS, TESTED))
    assert parts(found) == {"wave"}
    around = 2.7984 / 0.005
    phase = 2 * pi * 1e5 * sqrt(1.25663706127e-6 / (2 * pi) * log(around) * 347.215e-12) * 2.45
    wave = (tan(phase) / phase - 1.0) * 2.15
    close(number(found, "probe.level_uncertainty"), sqrt(READ_U**2 + 4.0 * wave**2 / 3.0), 1e-8, "by hand")
    assert check(found, "wanted-level").verdict is Verdict.SUITS
    assert check(found, "wanted-uncertainty").verdict is Verdict.SUITS


def test_a_film_that_stays_is_counted_with_what_it_reads() -> None:
    """663.4 mm at 1.6 m (derived and checked): a half width of a rectangular distribution."""
    found = probe((STAYS, "stays: yes"))
    film = case("scenarios-B").expected["film_error_at_1600_after_phase_compensation_mm"] / 1e3
    assert number(found, "probe.accuracy.standard") > 0.99 * film / sqrt(3.0)
    uncertainty = found.sheet["probe.error[film]"].uncertainty
    assert uncertainty is not None
    assert uncertainty.form == "rectangular"
    close(uncertainty.standard, film / sqrt(3.0), 6e-4, "to a millimetre")
    assert check(found, "wanted-level").verdict is Verdict.DOES_NOT_SUIT


# ---------------------------------------------------------------- liquid


def test_a_range_of_the_permittivity_by_hand() -> None:
    """2.30 set, 2.28 at its least: 2.15 m x 0.02/1.3 low over the range, 1.55 m x 0.02/1.3 now."""
    found = probe(*CHANGING)
    wave = number(found, "probe.accuracy.wave[20 mA]")
    by_range = 2.15 * 0.02 / 1.3
    bend = number(found, "probe.accuracy.bend.standard")
    expected = sqrt(READ_U**2 + 4.0 * ((by_range**2 + wave**2) / 3.0 + bend**2))
    close(number(found, "probe.level_uncertainty"), expected, 1e-9, "by hand")
    now = found.sheet["probe.error[permittivity]"].uncertainty
    assert now is not None
    close(now.standard, 1.55 * 0.02 / 1.3 / sqrt(3.0), 1e-9, "by hand")


def test_the_quantity_counts_it_as_draws_do() -> None:
    """Against a million draws of everything that is uncertain, worked without the sheet: m = A h rho (1 + table)."""
    found = probe(*CHANGING)
    random = np.random.default_rng(20261126)
    draw = partial(random.uniform, size=1_000_000)
    bend = found.sheet["probe.error[bend]"].uncertainty
    assert bend is not None
    level = 1.6 + sum(draw(-half, half) for half in (0.005, 0.002, 1.55 * 0.02 / 1.3, bend.standard * sqrt(3.0)))
    table = random.normal(0.0, 0.0025, 1_000_000)
    mass = np.pi / 4 * 2.3**2 * level * 1525.3 * (1.0 + table)
    close(number(found, "budget.standard_uncertainty"), float(np.std(mass)), 0.003 * float(np.std(mass)), "draws")


def test_a_permittivity_known_within_limits() -> None:
    """Twice its standard uncertainty either way: 2.15 m x (2 x 0.01/sqrt 3)/1.3; two points of setting take it in."""
    known = (*BARE, *STEEL, DRY_OIL, (PERMITTIVITY, "{value: 2.3, within: 0.01}"), GLAND)
    by_calculation = probe(*known, ("  set_low: 150 mm\n", ""))
    expected = 2.15 * (2 * 0.01 / sqrt(3.0)) / 1.3 / sqrt(3.0)
    close(number(by_calculation, "probe.accuracy.permittivity.standard"), expected, 1e-9, "by hand")
    assert number(by_calculation, "probe.level_uncertainty") > READ_U
    assert parts(probe(*known)) == {"bend", "wave"}


def test_a_liquid_that_the_probe_no_longer_feels_leaves_nothing_decided() -> None:
    found = probe(
        *BARE,
        *STEEL,
        DRY_OIL,
        (PERMITTIVITY, "{value: 2.3, min: 1.1, max: 2.4}"),
        ("density: 1.2 kg/m3}", "density: 1.2 kg/m3, permittivity: 1.3}"),
    )
    assert not found.sheet["probe.level_uncertainty"].known
    assert Verdict.SUITS not in {check(found, key).verdict for key in ("wanted-level", "wanted-uncertainty")}
    assert not found.faults


def test_a_reference_section_leaves_next_to_nothing_of_a_change() -> None:
    """It tells what the liquid is: the level then follows from both capacitances, whatever the permittivity."""
    plain, held = probe(*CHANGING), probe(*CHANGING, section())
    chapter = held.measuring.probe
    assert chapter is not None
    assert all(change.left is not None for change in chapter.changes)
    assert number(held, "probe.accuracy.permittivity.standard") < 1e-6
    assert number(plain, "probe.accuracy.permittivity.standard") > 0.01


def test_a_conductivity_known_within_limits_counts_between_the_regimes() -> None:
    """By difference: the slope worked at both ends of its standard uncertainty, on its own."""
    between = (CONDUCTIVITY, "{value: 10 uS/cm, within: 0.1 uS/cm}")
    by_calculation = (("  set_low: 150 mm\n", ""), *STEEL, (STAYS, TESTED))
    found = probe(between, *by_calculation)
    step = 0.1 / sqrt(3.0)
    ends = [probe((CONDUCTIVITY, f"{10 + sign * step:.12f} uS/cm"), *by_calculation) for sign in (1.0, -1.0)]
    high, low = (number(end, "probe.sensitivity") for end in ends)
    expected = 2.15 * abs(high - low) / 2.0 / number(found, "probe.sensitivity")
    close(number(found, "probe.accuracy.liquid.standard"), expected, 1e-6 * expected, "by difference")
    assert "liquid" not in parts(probe(between, *STEEL, (STAYS, TESTED)))


def test_between_the_regimes_the_conductivity_counts() -> None:
    between = (CONDUCTIVITY, "{value: 10 uS/cm, min: 9 uS/cm, max: 11 uS/cm}")
    found = probe(between, *STEEL, (STAYS, TESTED))
    assert "conductivity" in parts(found)
    errors = [abs(number(found, f"probe.conductivity_{end}.error")) for end in ("least", "greatest")]
    close(number(found, "probe.accuracy.conductivity.standard"), max(errors) / sqrt(3.0), 1e-12, "rectangular")


def test_where_the_coating_alone_counts_a_range_of_the_liquid_adds_next_to_nothing() -> None:
    ranged = (
        (PERMITTIVITY, "{value: 30, min: 20, max: 40}"),
        (CONDUCTIVITY, "{value: 20 S/m, min: 10 S/m, max: 30 S/m}"),
    )
    found = probe(*ranged, (STAYS, TESTED))
    assert {"permittivity", "conductivity"} <= parts(found)
    assert number(found, "probe.level_uncertainty") < 1.02 * READ_U


def test_a_layer_counts() -> None:
    layer = ("  film:\n", "  layer: {thickness: 0.05 mm, permittivity: 2.3}\n  film:\n")
    found = probe(layer, (STAYS, TESTED))
    close(number(found, "probe.accuracy.layer.standard"), -number(found, "probe.layer.error") / sqrt(3.0), 1e-12, "low")
    assert number(found, "probe.level_uncertainty") > number(probe((STAYS, TESTED)), "probe.level_uncertainty")


# ---------------------------------------------------------------- batches

ENDS = "level_before: {value: 2000 mm, within: 5 mm}, level_after: {value: 500 mm, within: 5 mm}"
BATCH = ("wanted:\n", f"batch: {{{ENDS}, U: 3 %value, k: 2}}\n\nwanted:\n")


def test_a_batch_counts_the_probe_at_both_ends() -> None:
    """By hand: per metre A rho; both readings and the probe at both its ends, the table on the difference."""
    found = probe(*CHANGING, ENTERED, BATCH)
    per_m = pi / 4 * 2.3**2 * 1525.3
    sizes = (2.15 * 0.02 / 1.3, number(found, "probe.accuracy.wave[20 mA]"))
    probe_m = sqrt(sum(size**2 for size in sizes) / 3.0 + number(found, "probe.accuracy.bend.standard") ** 2)
    level = sqrt(2.0 * (0.005**2 / 3.0 + probe_m**2)) * per_m
    expected = sqrt(level**2 + (1.5 * per_m * 0.0025) ** 2)
    close(number(found, "batch.budget.standard_uncertainty"), expected, 1e-6 * expected, "by hand")
    plain = probe(*BARE, *STEEL, DRY_OIL, (PERMITTIVITY, "2.3"), GLAND, ENTERED, BATCH)
    assert number(found, "batch.least_level_difference") > number(plain, "batch.least_level_difference")


def test_beside_an_open_film_no_batch_is_decided() -> None:
    found = probe(BATCH)
    assert check(found, "batch-uncertainty").verdict is Verdict.UNDECIDED
    assert check(found, "batch-uncertainty").waits_for == ("probe.film.stays",)
    assert "batch.least_level_difference" not in found.sheet
    assert check(probe(BATCH, (STAYS, TESTED)), "batch-uncertainty").verdict is Verdict.SUITS


# ---------------------------------------------------------------- ends of the rod, alarms


def test_the_bend_counts_until_its_table_is_entered() -> None:
    straight = probe(*BARE, *STEEL, *OIL, GLAND)
    entered = probe(*BARE, *STEEL, *OIL, GLAND, ENTERED)
    assert "bend" in parts(straight) & parts(entered)
    bent, left = (number(study, "probe.accuracy.bend.standard") for study in (straight, entered))
    assert left < 0.3 * bent
    assert any(each.path == "probe.table_entered" for each in straight.requirements)
    assert not any(each.path == "probe.table_entered" for each in entered.requirements)
    chapter = straight.measuring.probe
    assert chapter is not None
    assert chapter.field is not None
    rows = [row for row in chapter.field.rows if 0.15 <= row.level_m <= 2.2]
    close(bent, max(abs(row.error.value or 0.0) for row in rows) / sqrt(3.0), 1e-12, "worst of the range")


def test_without_a_field_nobody_is_asked_for_its_table() -> None:
    assert not any(each.path == "probe.table_entered" for each in probe().requirements)
    assert "bend" not in parts(probe())


def test_the_alarm_is_never_higher_for_what_the_probe_adds() -> None:
    plain = number(probe(*BARE, *STEEL, DRY_OIL, (PERMITTIVITY, "2.3"), GLAND), "overfill.high_high")
    for least in (2.28, 2.2, 2.0):
        ranged = (PERMITTIVITY, f"{{value: 2.3, min: {least}, max: 2.3}}")
        alarm = number(probe(*BARE, *STEEL, DRY_OIL, ranged, GLAND), "overfill.high_high")
        assert alarm <= plain
        stands = 0.05 + (alarm - 0.05) * 1.3 / (least - 1.0)
        assert stands < plain + 0.02, "with the liquid at its least the alarm still comes where it was to come"


# ---------------------------------------------------------------- as it cannot be, and as it is not known


@pytest.mark.parametrize(
    "change",
    [
        ("frequency: 100 kHz", "frequency: unknown"),
        ("rod: coated all over", "rod: unknown"),
        (BY_ROD, "{kind: unknown}"),
    ],
)
def test_what_is_not_known_leaves_the_uncertainty_unknown(change: tuple[str, str]) -> None:
    found = probe(change, (STAYS, TESTED))
    assert not found.sheet["probe.level_uncertainty"].known
    assert Verdict.SUITS not in {check(found, key).verdict for key in ("wanted-level", "wanted-uncertainty")}
    assert found.measuring.left_out == "what the probe itself adds, which is not known yet"


@pytest.mark.parametrize("word", ["maybe", "1", "12 mm", "[yes]"])
def test_a_strange_word_for_the_table_is_named(word: str) -> None:
    statement = statement_with(ENTERED, ("table_entered: yes", f"table_entered: {word}"), example=CAUSTIC)
    assert any("probe.table_entered must be" in str(fault) for fault in statement.faults)


@pytest.mark.parametrize("word", ["no", "none", "unknown"])
def test_a_table_that_is_not_entered_leaves_the_straight_line(word: str) -> None:
    found = probe(*BARE, *STEEL, *OIL, GLAND, ENTERED, ("table_entered: yes", f"table_entered: {word}"))
    straight = probe(*BARE, *STEEL, *OIL, GLAND)
    close(
        number(found, "probe.level_uncertainty"),
        number(straight, "probe.level_uncertainty"),
        1e-15,
        "the straight line",
    )


def test_beside_another_principle_the_probe_adds_nothing() -> None:
    found = probe(("principle: capacitive probe", "principle: differential pressure"))
    assert found.measuring.accuracy is None
    assert not [name for name in found.sheet.entries if name.startswith(("probe.accuracy", "probe.error"))]
    assert verdicts(found, "wanted-level")
