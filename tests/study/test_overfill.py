"""Levels of concern in a whole case: where HH, AOPS and MW may stand, what lowers them, what blocks.

Expected numbers: the cases of tests/reference; else closed forms of an upright cylinder written out beside the test.
"""

from __future__ import annotations

from math import hypot, pi, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from onedatum.foundation.units import in_unit
from onedatum.study.result import Study
from onedatum.verdicts import Check, Effect, Verdict
from tests.closeness import close, exact
from tests.reference import case
from tests.study.tanks import number, tank, upright
from tests.study.variants import EXAMPLES, WITH_ISOLATOR, study_with

SOLVENT = EXAMPLES / "solvent_tank.yaml"
ROUNDING = "rounding of a dozen steps"
ALARMS = """
level_now: {{value: 1 m, u: {u_mm} mm}}
datum_error: {{value: 0 mm, u: 0 mm}}
range: {{4 mA: 0 m, 20 mA: {upper_m} m, saturation: {{low: 3.8 mA, high: 20.5 mA}}}}
instrument: {{principle: magnetostrictive float on a rigid stem, damping_tau: {tau_s} s, scan: {scan_s} s}}
loop:
  receiver: {{range_high: 20 mA, error_of_full_scale: {card} %span, damping_tau: {receiver_s} s}}
overfill:
  CH: {high_m} m
  fill_rate_max: {rate} m3/h
  response: {response_min} min
  working_response: 5 min
  level_allowance: {allowance_mm} mm
  foam: {foam_mm} mm
  least_gap: {gap_mm} mm
"""
USUAL = {
    "u_mm": 0.0,
    "tau_s": 0.0,
    "scan_s": 0.0,
    "receiver_s": 0.0,
    "card": 0.0,
    "high_m": 7.0,
    "upper_m": 6.5,
    "rate": 30.0,
    "response_min": 15.0,
    "allowance_mm": 0.0,
    "foam_mm": 0.0,
    "gap_mm": 75.0,
}
RISES = ("rate", "response_min", "tau_s", "scan_s", "receiver_s", "u_mm", "card", "foam_mm")
MORE = {
    "rate": 10.0,
    "response_min": 5.0,
    "tau_s": 20.0,
    "scan_s": 10.0,
    "receiver_s": 20.0,
    "u_mm": 10.0,
    "card": 0.4,
    "foam_mm": 100.0,
}
"""What is added at most, by name."""


def alarms(*size: str, **stated: float) -> Study:
    """The study of an upright tank with flat ends and its alarms; 4 m wide and 8 m high unless said otherwise."""
    return tank(upright(*(size or ("4000 mm", "8 m"))), ALARMS.format(**{**USUAL, **stated}))


def blocking(study: Study) -> set[str]:
    """The keys of the findings that block."""
    return {finding.key for finding in study.findings if finding.effect is Effect.BLOCKS}


def warned(study: Study) -> set[str]:
    """The keys of the findings that warn."""
    return {finding.key for finding in study.findings if finding.effect is Effect.WARNING}


def check_of(study: Study, key: str) -> Check:
    """The check with this key."""
    return next(check for check in study.checks if check.key == key)


# ---------------------------------------------------------------- the cases of the reference


def scenario_b() -> Study:
    """The alarm part of scenario B, in the place of the solvent tank."""
    text = SOLVENT.read_text(encoding="utf-8")
    parts = text[text.index("  response_parts:") : text.index("  working_response:")]
    receiver = text[text.index("  receiver:\n") : text.index("  test_meter:")]
    points = text[text.index("  set_points:") : text.index("  fill_rate_now:")]
    return study_with(
        (parts, "  response: 5 min\n"),
        (receiver, ""),
        (points, ""),
        ("inside_diameter: 2000 mm", "inside_diameter: 2300 mm"),
        ("shell_length: 3000 mm", "shell_length: 2500 mm"),
        ("20 mA: 2900 mm", "20 mA: 2200 mm"),
        ("CH: {value: 2900 mm", "CH: {value: 2400 mm"),
        ("level_allowance: 10 mm", "level_allowance: 20 mm"),
        ("damping_tau: 2 s", "damping_tau: 0 s"),
        ("scan: 0.5 s", "scan: 0 s"),
        example=SOLVENT,
    )


def test_the_alarm_part_of_scenario_b() -> None:
    study, expected = scenario_b(), case("scenarios-B-alarm")
    for name, entry, unit in (
        ("area_m2", "overfill.surface", "m2"),
        ("rise_mm_per_min", "overfill.rise_rate", "mm/min"),
        ("HH_m", "overfill.high_high", "m"),
        ("HH_mA", "overfill.high_high_current", "mA"),
        ("CH_mA", "overfill.critical_current", "mA"),
    ):
        expected.check(in_unit(number(study, entry), unit), name)
    assert number(study, "level.uncertainty") < 0.020
    assert "critical-high-not-visible" in warned(study)
    assert study.faults == ()
    assert blocking(study) == set()


def test_levels_of_concern_of_a_large_tank() -> None:
    """Case O01; HH and MW by the gap in time, nothing taken off for the level."""
    stated = case("loop-O01")
    study = alarms(
        "20 m",
        "16 m",
        high_m=stated.value("CH"),
        rate=stated.value("Q"),
        response_min=stated.value("t_HH"),
        gap_mm=stated.value("min_gap"),
    )
    stated.check(in_unit(number(study, "overfill.rise_rate"), "mm/min"), "rate_mm_min")
    stated.check(number(study, "overfill.high_high"), "HH_m")
    stated.check(number(study, "overfill.working"), "MW_m")


def test_lag_and_uncertainty_lower_the_alarm() -> None:
    """Case O03; U = 8 mm at k = 2 is a standard uncertainty of 4 mm."""
    stated = case("loop-O03")
    study = alarms(
        "20 m",
        "16 m",
        high_m=stated.value("CH"),
        rate=600.0,
        response_min=stated.value("t"),
        tau_s=stated.value("tau"),
        u_mm=stated.value("U") / 2.0,
    )
    stated.check(number(study, "overfill.high_high"))


# ---------------------------------------------------------------- what lowers HH


@settings(max_examples=40)
@given(
    st.sampled_from(RISES),
    st.integers(1, 100),
    st.fixed_dictionaries({name: st.integers(0, 100) for name in RISES}),
    st.integers(0, 10),
)
def test_hh_never_rises_when_what_endangers_it_rises(
    name: str, added: int, begin: dict[str, int], allowance_mm: int
) -> None:
    """Corrections 36: every term is taken off; where the term governs HH falls, elsewhere it stays."""
    first = {each: USUAL[each] + MORE[each] * percent / 100.0 for each, percent in begin.items()}
    then = {**first, name: first[name] + MORE[name] * added / 100.0}
    before = alarms(allowance_mm=allowance_mm, **first)
    after = alarms(allowance_mm=allowance_mm, **then)
    high, lower = number(before, "overfill.high_high"), number(after, "overfill.high_high")
    if governs(after, name):
        assert lower < high
    else:
        exact(lower, high)


def governs(study: Study, name: str) -> bool:
    """Whether the term with this name decides where HH stands."""
    if name == "foam_mm":
        return True
    if name in ("u_mm", "card"):
        return number(study, "overfill.level_uncertainty") > number(study, "overfill.level_allowance")
    return number(study, "overfill.level_by_volume") < number(study, "overfill.CH") - 0.075


def test_the_gap_governs_where_little_flows_in() -> None:
    """API 2350: 75 mm at least; 1 m3/h in 15 min raises 12.57 m2 by 20 mm only."""
    study = alarms(rate=1.0)
    close(number(study, "overfill.high_high"), 7.0 - 0.075, 1e-12, ROUNDING)
    exact(number(alarms(rate=2.0), "overfill.high_high"), number(study, "overfill.high_high"))


def test_damping_of_the_receiver_adds_to_that_of_the_transmitter() -> None:
    """A steady rise lags by the sum of the time constants (linear system); 30 m3/h on 12.57 m2."""
    study, rise = alarms(tau_s=8.0, receiver_s=4.0, scan_s=2.0), 30.0 / 3600.0 / (4.0 * pi)
    close(number(study, "overfill.high_high"), 7.0 - rise * (900.0 + 14.0), 1e-9, ROUNDING)
    close(number(study, "overfill.lag"), rise * 14.0, 1e-9, ROUNDING)


def test_the_uncertainty_of_the_receiver_enters_hh_and_nothing_where_it_is_not_stated() -> None:
    """0.1 % of 20 mA over 16 mA is 0.125 % of 6.5 m, rectangular; with u = 1 mm, k = 2 (JCGM 100, 4.3.7)."""
    study = alarms(u_mm=1.0, card=0.1)
    expected = 2.0 * hypot(1e-3, 6.5 * 0.00125 / sqrt(3.0))
    close(number(study, "overfill.level_uncertainty"), expected, 1e-9, ROUNDING)
    close(number(study, "overfill.high_high"), 7.0 - 7.5 / (4.0 * pi) - expected, 1e-9, ROUNDING)
    silent = study_with(example=WITH_ISOLATOR)
    assert "overfill.level_uncertainty" not in silent.sheet
    assert silent.safe.overfill.uncertainty is silent.sheet["level.uncertainty"]


def test_what_the_receiver_does_not_state_is_counted_as_none_and_said_so() -> None:
    stated = "    error_of_full_scale: 0.1 %span\n    resistor_tolerance: 0.1 %value\n    offset_voltage: none\n"
    study = study_with((stated, ""), example=SOLVENT)
    close(number(study, "loop.receiver_standard"), number(study, "loop.quantisation_standard"), 1e-12, ROUNDING)
    assert {"loop.receiver.error_of_full_scale", "loop.receiver.resistor_tolerance"} <= {
        assumption.path for assumption in study.assumptions
    }


@pytest.mark.parametrize(
    ("change", "path"),
    [
        (("scan: 0.5 s", "scan: unknown"), "instrument.scan"),
        (("foam: none\n  least", "foam: unknown\n  least"), "overfill.foam"),
        (("level_allowance: 10 mm", "level_allowance: unknown"), "overfill.level_allowance"),
        (("least_gap: 75 mm", "least_gap: unknown"), "overfill.least_gap"),
        (("{value: 1650 mm, within: 0.5 mm}", "1650 mm"), "level_now.within"),
    ],
)
def test_hh_is_undecided_while_one_of_its_terms_is_unknown(change: tuple[str, str], path: str) -> None:
    """Corrections 36: response time, tau, scan and foam are inputs; not stated, HH is undecided and asks for them."""
    study = study_with(change, example=SOLVENT)
    assert not study.sheet["overfill.high_high"].known
    assert path in {question.path for question in study.questions}
    assert check_of(study, "alarm-in-time").verdict is Verdict.UNDECIDED
    assert study.order == "waits for answers"


def test_the_damping_is_ours_to_choose_and_becomes_a_requirement() -> None:
    study = study_with(("damping_tau: 2 s", "damping_tau: unknown"), example=SOLVENT)
    assert not study.sheet["overfill.high_high"].known
    assert "instrument.damping_tau" in {requirement.path for requirement in study.requirements}
    assert check_of(study, "alarm-in-time").verdict is Verdict.ON_CONDITIONS
