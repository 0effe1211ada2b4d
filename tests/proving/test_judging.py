"""Verdicts against the worked cases of a calibration, and against what an independent reader would say of them."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import Any

import numpy as np
import pytest
from scipy.stats import norm

from onedatum.physics.uncertainty import GUARDED_ACCEPTANCE, GUARDED_REJECTION, SIMPLE
from onedatum.proving import (
    CurrentMeter,
    ProvingError,
    Reading,
    Rule,
    Run,
    TankReference,
    Tolerance,
    judge,
    read_readings,
)
from onedatum.proving.judging import CAUTION
from onedatum.proving.rules import NON_BINARY, RULES, TWO_PER_CENT, WORDS
from tests.closeness import close, exact
from tests.proving.runs import BEGIN, EXAMPLES, METER, MM, TAPE, even, plan_of, run_of, with_reading, within
from tests.reference import case
from tests.soon import soon

ROUNDING = "rounding of a few additions"
PER_CENT = 100.0


# ---------------------------------------------------------------- words


@pytest.mark.parametrize("name", ["simple", "w=U", "w=0.83U"])
def test_words_of_the_worked_case(name: str) -> None:
    """An error of 3.5 mm, limits of 5 mm either way, U of 2 mm."""
    given = case("loop-C09")
    rule = {
        "simple": Rule(SIMPLE),
        "w=U": Rule(GUARDED_ACCEPTANCE),
        "w=0.83U": Rule(GUARDED_ACCEPTANCE, 0.83),
    }[name]
    plan = plan_of(tolerance=within(given.value("T")), cycles=1)
    run = run_of(plan, even(given.value("error")), reference=replace(TAPE, expanded_m=1.0 * MM))
    coarse = replace(plan, reference_tolerated_m=given.value("U") * MM)
    judged = judge(coarse, replace(run, reference=replace(TAPE, expanded_m=given.value("U") * MM)), rule)
    close(judged.expanded_m, given.value("U") * MM, 1e-15, ROUNDING)
    assert judged.verdict == given.expected[name]
    if name != "simple":
        close(given.value("T") * MM - judged.guard_m, given.expected[f"AL_{name}_mm"] * MM, 1e-12, ROUNDING)


@pytest.mark.parametrize(
    ("error_mm", "word"),
    [
        (3.0, "pass"),
        (-3.0, "pass"),
        (3.001, "conditional pass"),
        (5.0, "conditional pass"),
        (-5.001, "conditional fail"),
        (7.0, "conditional fail"),
        (7.001, "fail"),
    ],
)
def test_the_four_words_and_their_limits(error_mm: float, word: str) -> None:
    """Limits of 5 mm, a guard band of 2 mm (ILAC-G8, from memory): an error right at a limit is on its good side."""
    assert Rule(NON_BINARY).word(error_mm * MM, within(5.0), 2.0 * MM) == word


def test_one_limit_is_judged_alone() -> None:
    above = Tolerance(None, 5.0 * MM)
    assert Rule().word(-0.5, above, 2.0 * MM) == "pass"
    assert Rule().word(6.0 * MM, above, 2.0 * MM) == "conditional fail"
    plan = plan_of(tolerance=Tolerance(-15.0 * MM, None), cycles=1)
    judged = judge(plan, run_of(plan, even(-14.0)))
    close(judged.probability, norm.cdf(1.0), 1e-9, "another library")
    assert judged.verdict == "conditional pass"


def test_rules_by_their_words() -> None:
    tolerance, guard_m = within(5.0), 2.0 * MM
    found = {
        name: [Rule(name).word(error * MM, tolerance, guard_m) for error in (1.0, 4.0, 6.0, 8.0)] for name in RULES
    }
    assert found == {
        NON_BINARY: list(WORDS),
        SIMPLE: ["pass", "pass", "fail", "fail"],
        GUARDED_ACCEPTANCE: ["pass", "fail", "fail", "fail"],
        GUARDED_REJECTION: ["pass", "pass", "pass", "fail"],
        TWO_PER_CENT: ["pass", "fail", "fail", "fail"],
    }
    assert all(Rule(name).said.endswith(".") for name in RULES)


def test_the_rule_stands_with_the_result_and_so_does_its_risk() -> None:
    """ILAC-G8, table of guard bands: less than 2.5 % with w = U, a half without."""
    plan = plan_of(cycles=1)
    run = run_of(plan, even(0.0))
    close(judge(plan, run).risk, norm.cdf(-2.0), 1e-9, "another library")
    exact(judge(plan, run, Rule(SIMPLE)).risk, 0.5)
    close(judge(plan, run, Rule(GUARDED_REJECTION)).risk, norm.cdf(2.0), 1e-9, "another library")
    assert judge(plan, run).rule == Rule(NON_BINARY, 1.0)


def test_the_guard_band_of_two_per_cent_follows_the_ratio() -> None:
    """A tolerance of 6 mm and U of 2 mm: M of the worked case at a ratio of 3."""
    plan = plan_of(tolerance=within(6.0), cycles=1)
    judged = judge(plan, run_of(plan, even(0.0)), Rule(TWO_PER_CENT))
    close(judged.ratio, 3.0, 1e-12, ROUNDING)
    close(judged.guard_m, 2.0 * MM * case("loop-G01").expected[2], 1e-9, "digits of the case")


@pytest.mark.parametrize(
    ("rule", "path"),
    [
        (Rule("as I please"), "rule.name"),
        (Rule(NON_BINARY, -1.0), "rule.factor"),
        (Rule(NON_BINARY, float("nan")), "rule.factor"),
    ],
)
def test_a_rule_that_is_none_is_refused(rule: Rule, path: str) -> None:
    plan = plan_of(cycles=1)
    with pytest.raises(ProvingError) as caught:
        judge(plan, run_of(plan, even(0.0)), rule)
    assert [fault.path for fault in caught.value.faults] == [path]


def test_two_per_cent_needs_limits_equally_far_from_zero() -> None:
    for tolerance in (Tolerance(-0.02, 0.015), Tolerance(None, 0.015)):
        plan = plan_of(tolerance=tolerance, cycles=1)
        with pytest.raises(ProvingError, match="equally far from zero"):
            judge(plan, run_of(plan, even(0.0)), Rule(TWO_PER_CENT))


# ---------------------------------------------------------------- points


def test_probability_at_a_point() -> None:
    given = case("loop-C08")
    plan = replace(plan_of(tolerance=within(given.value("T")), cycles=1), reference_tolerated_m=2.0 * MM)
    judged = judge(plan, run_of(plan, even(given.value("error"))))
    for point in judged.points:
        given.check(point.probability)
    given.check(judged.probability)


def test_one_bad_reading_is_not_hidden_by_good_ones() -> None:
    """Eleven of twelve readings of the middle are right; the average would pass."""
    plan = plan_of(cycles=6)
    judged = judge(plan, run_of(plan, lambda s, d, c: 18.0 if (s, d, c) == (0.5, "up", 4) else 0.0))
    bad = judged.points[2]
    assert (bad.verdict, judged.verdict) == ("fail", "fail")
    close(bad.average_error_m, 18.0 / 12.0 * MM, 1e-12, ROUNDING)
    assert [p.verdict for p in judged.points if p is not bad] == ["pass"] * 4
    assert "18.00 mm" in bad.why


def test_the_worse_end_counts_where_limits_are_uneven() -> None:
    plan = plan_of(tolerance=Tolerance(-7.0 * MM, 30.0 * MM), cycles=1)
    judged = judge(plan, run_of(plan, lambda s, d, c: 12.0 if d == "up" else -6.0))
    assert judged.verdict == "conditional pass"
    assert "6.00 mm" in judged.points[0].why


def worked_run() -> tuple[Any, Run]:
    """The worked data set of mA as levels of the receiver."""
    given, plan = case("loop-C01"), plan_of()
    readings = [
        Reading(cycle, direction, point.level_m, shown_A=rows[cycle - 1][number] * MM)  # type: ignore[arg-type]
        for direction, rows in (("up", given.value("up")), ("down", given.value("down")))
        for cycle in (1, 2, 3)
        for number, point in enumerate(plan.points)
    ]
    return plan, run_of(plan, even(0.0), readings=tuple(readings), meter=METER)


def test_figures_of_the_worked_data_set() -> None:
    """Inaccuracy, hysteresis, non-repeatability and the linearities of five points and three cycles."""
    figures = judge(*worked_run()).figures
    assert figures is not None
    case("loop-C01").check(PER_CENT * figures.greatest_error_share, "max_pos")
    case("loop-C01").check(PER_CENT * figures.least_error_share, "max_neg")
    case("loop-C02").check(PER_CENT * (figures.hysteresis_share or 0.0))
    case("loop-C03").check(PER_CENT * (figures.non_repeatability_share or 0.0))
    case("loop-C04").check(PER_CENT * (figures.terminal_linearity_share or 0.0), "terminal")
    case("loop-C04").check(PER_CENT * (figures.zero_linearity_share or 0.0), "zero")
    case("loop-C04").check(PER_CENT * (figures.independent_linearity_share or 0.0), "independent")


def test_average_errors_of_the_worked_data_set() -> None:
    plan, run = worked_run()
    judged = judge(plan, run)
    errors_m = np.array([p.average_error_m for p in judged.points], dtype=float)
    case("loop-C05").check(PER_CENT * errors_m / 2.7)


def test_a_range_that_acts_in_reverse_turns_no_error_over() -> None:
    """4 mA at 1727.2 mm: a current too high by 0.02 mA is a level too low by 1574.8*0.02/16 mm."""
    plan = plan_of("tilted_vessel", tolerance=within(10.0), cycles=1)
    readings = tuple(
        Reading(1, direction, p.level_m, shown_A=p.current_A + 0.02 * MM)
        for direction in plan.directions
        for p in plan.points
    )
    judged = judge(plan, run_of(plan, even(0.0), readings=readings, meter=METER))
    close([p.average_error_m or 0.0 for p in judged.points], [-1574.8 * 0.02 / 16.0 * MM] * 5, 1e-9, ROUNDING)
    assert judged.figures is not None and (judged.figures.terminal_linearity_share or 0.0) < 1e-12


def test_without_a_down_run_there_is_no_hysteresis() -> None:
    plan = plan_of(directions=("up",), cycles=1)
    figures = judge(plan, run_of(plan, even(2.0))).figures
    assert figures is not None and figures.hysteresis_share is None and figures.non_repeatability_share is None


# ---------------------------------------------------------------- uncertainty and parts


def test_the_uncertainty_counts_reference_meter_and_digits() -> None:
    """By hand: reference 1 mm, meter 8 uA (k = 2) on 2700 mm, digits of 1 mm and 1 uA, rectangular."""
    plan, run = worked_run()
    meter = CurrentMeter("meter (invented)", "C-2 (invented)", 8e-6, 2.0, 1e-6)
    judged = judge(plan, replace(run, meter=meter, reference=replace(TAPE, digit_m=1.0 * MM)))
    step = 2700.0 / 16000.0
    by_hand = np.sqrt(1.0 + (4.0 * step) ** 2 + (1.0 + step**2) / 12.0) * MM
    close(judged.standard_u_m, by_hand, 1e-12, ROUNDING)
    close(judged.expanded_m, 2.0 * by_hand, 1e-12, ROUNDING)


def test_the_parts_are_told_apart() -> None:
    """The level shown is 2 mm high, the output adds 0.02 mA, the tank reference is off by 4 mm."""
    plan = plan_of(cycles=1)
    readings = tuple(
        Reading(1, d, p.level_m, shown_m=p.level_m + 2.0 * MM, shown_A=p.current_A + (0.02 + 16.0 * 2.0 / 2700.0) * MM)
        for d in plan.directions
        for p in plan.points
    )
    run = run_of(plan, even(0.0), readings=readings, meter=METER, tank_reference=TankReference(3.170, 3.174))
    judged = judge(plan, run)
    analog, digital, tank = judged.parts
    close([analog.least_m, analog.greatest_m], [0.02 * 2700.0 / 16.0 * MM] * 2, 1e-9, ROUNDING)
    close([digital.least_m, digital.greatest_m], [2.0 * MM] * 2, 1e-9, ROUNDING)
    close(tank.greatest_m, 4.0 * MM, 1e-9, ROUNDING)
    close(judged.points[0].greatest_error_m, (2.0 + 3.375) * MM, 1e-9, ROUNDING)
    assert "loop current" in judged.judged_on
    assert any("reference height differs" in words for words in judged.remarks)


def test_every_number_shows_its_formula_and_source() -> None:
    lines = {line["name"]: line for line in judge(*worked_run()).sheet}
    assert lines["error[50 %, up 1]"]["formula"] == "calibration.level_error"
    assert lines["error.u"]["equation"].startswith("u = sqrt(")
    assert lines["probability[50 %]"]["source"].startswith("JCGM 106")
    assert lines["repeats[50 %, up]"]["shown"] == "3 readings"
    for line in lines.values():
        assert {"formula", "method", "note", "source", "inputs"} & set(line) or line["state"] in ("stated", "constant")


# ---------------------------------------------------------------- cautions and words


def test_a_reference_between_a_quarter_and_a_third_is_tolerated_with_a_word() -> None:
    plan = plan_of(cycles=1)
    quarter = judge(plan, run_of(plan, even(0.0), reference=replace(TAPE, expanded_m=3.75 * MM)))
    assert not any("coarser" in words for words in quarter.remarks)
    third = judge(plan, run_of(plan, even(0.0), reference=replace(TAPE, expanded_m=4.9 * MM)))
    assert any("coarser than a quarter" in words for words in third.remarks)


def test_a_current_that_tells_no_level_is_a_fail_and_no_figure() -> None:
    """At 21.5 mA the transmitter reports failure (NE 43); that is a finding, not a level of 3053 mm."""
    plan, run = worked_run()
    judged = judge(plan, with_reading(run, 2, shown_A=21.5 * MM))
    assert judged.points[2].verdict == judged.verdict == "fail"
    assert judged.points[2].greatest_error_m is None and judged.figures is None and judged.probability is None
    assert any("tells no level" in words for words in judged.remarks)
    assert judged.points[1].verdict == "pass"


def test_when_to_adjust_is_said_of_what_was_found() -> None:
    """Beyond 70 % of the tolerance: common practice, no source."""
    plan = plan_of(cycles=1)
    told = {e: any("usual to adjust" in w for w in judge(plan, run_of(plan, even(e))).remarks) for e in (10.0, 11.0)}
    assert told == {10.0: False, 11.0: True}
    left = judge(plan, run_of(plan, even(11.0), kind="as left"))
    assert not any("usual to adjust" in words for words in left.remarks)


def test_a_reference_without_a_certificate_is_said() -> None:
    plan = plan_of(cycles=1)
    judged = judge(plan, run_of(plan, even(0.0), reference=replace(TAPE, certificate=" ")))
    assert any("no certificate" in words for words in judged.remarks)


def test_a_reference_far_better_than_needed_is_no_fault() -> None:
    """A tolerance of half a metre, a reference of 2 mm: no guard band is needed at a ratio of 250."""
    plan = plan_of(cycles=1, tolerance=within(500.0))
    judged = judge(plan, run_of(plan, even(0.0)), Rule(TWO_PER_CENT))
    exact(judged.guard_m, 0.0)
    assert judged.verdict == "pass"


def test_the_cautions_are_with_every_result() -> None:
    plan = plan_of(filled=True, cycles=1)
    judged = judge(plan, run_of(plan, even(0.0)))
    assert CAUTION in judged.cautions and set(plan.cautions) <= set(judged.cautions)
    assert any(words.startswith("100 % was moved") for words in judged.remarks)


def test_a_guard_band_that_eats_the_tolerance_is_said() -> None:
    plan = plan_of(cycles=1)
    judged = judge(plan, run_of(plan, even(0.0), reference=replace(TAPE, expanded_m=4.9 * MM)), Rule(NON_BINARY, 4.0))
    assert judged.verdict == "conditional pass"
    assert any("leaves nothing of the tolerance" in words for words in judged.remarks)


def test_nothing_is_judged_that_has_a_fault() -> None:
    plan = plan_of(cycles=1)
    with pytest.raises(ProvingError) as caught:
        judge(plan, run_of(plan, even(0.0), tag="LT-999", reference=replace(TAPE, expanded_m=6.0 * MM)))
    assert [fault.path for fault in caught.value.faults] == ["run.tag", "run.reference.expanded_m"]
    with pytest.raises(ProvingError, match="Plan again"):
        judge(replace(plan, points=()), run_of(plan, even(0.0)))


def test_an_error_that_no_formula_takes_is_a_fault() -> None:
    plan = plan_of(cycles=1)
    with pytest.raises(ProvingError, match="must be"):
        judge(plan, run_of(plan, even(999_000.0)))


# ---------------------------------------------------------------- the example


def test_the_example_of_the_receiver() -> None:
    """Its errors were made to grow with the level: a slope, which a trim of the zero would only hide."""
    plan = plan_of(filled=True)
    content = (EXAMPLES / "proving" / "spirit_receiver_as_found.csv").read_bytes()
    tape = replace(TAPE, expanded_m=3.0 * MM, digit_m=1.0 * MM)
    judged = judge(plan, run_of(plan, even(0.0), readings=read_readings(content), meter=METER, reference=tape))
    assert [p.verdict for p in judged.points] == ["pass"] * 4 + ["conditional pass"]
    errors_m = [p.average_error_m or 0.0 for p in judged.points]
    assert errors_m == sorted(errors_m)
    slope, _ = np.polyfit([p.level_m for p in judged.points], errors_m, 1)
    close(slope, 12.4 / 2700.0, 2e-4, "the scatter that was put in")


def test_a_full_set_is_judged_in_time() -> None:
    """Eleven points, ten cycles, both ways: more than anybody reads, in the blink of an eye."""
    plan = plan_of(shares=tuple(n / 10 for n in range(11)), cycles=10)
    with soon(5.0):
        judge(plan, run_of(plan, even(1.0)))


def test_the_time_of_a_run_is_kept() -> None:
    plan = plan_of(cycles=1)
    later = BEGIN + timedelta(days=1)
    assert judge(plan, run_of(plan, even(0.0), when=later)).when == later
