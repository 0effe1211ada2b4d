"""Alarms as they are set: too high, too low, out of order, on time of their own; the response time by its parts.

Expected numbers: closed forms of the upright cylinder of 2 m diameter in the solvent example.
"""

from __future__ import annotations

from math import pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from onedatum.study.result import Study
from onedatum.verdicts import Check, Effect, Finding, Verdict
from tests.closeness import close, exact
from tests.study.tanks import number
from tests.study.variants import EXAMPLES, WITH_BARRIER, WITH_ISOLATOR, study_with

SOLVENT = EXAMPLES / "solvent_tank.yaml"
TILTED = EXAMPLES / "tilted_vessel.yaml"
ROUNDING = "rounding of a dozen steps"
RATE_M_PER_S = 12.0 / 3600.0 / pi
"""Rise of the surface in the solvent tank at its highest filling rate."""
LAG_S = 2.0 + 1.0 + 0.5
"""Damping of transmitter and receiver, and the scan."""
SET = "{LL: 200 mm, L: 350 mm, H: 2450 mm, HH: 2650 mm, AOPS: 2780 mm}"


def blocking(study: Study) -> set[str]:
    """The keys of the findings that block."""
    return {finding.key for finding in study.findings if finding.effect is Effect.BLOCKS}


def finding_of(study: Study, key: str) -> Finding:
    """The finding with this key."""
    return next(finding for finding in study.findings if finding.key == key)


def check_of(study: Study, key: str) -> Check:
    """The check with this key."""
    return next(check for check in study.checks if check.key == key)


def set_to(points: str) -> Study:
    """The solvent tank with other set-points."""
    return study_with((SET, points), example=SOLVENT)


def with_points(points: str, *changes: tuple[str, str], isolator: bool = False) -> Study:
    """The spirit receiver with set-points."""
    stated = ("set_points: none", f"set_points: {points}")
    return study_with(stated, *changes, example=WITH_ISOLATOR if isolator else WITH_BARRIER)


# ---------------------------------------------------------------- HH, AOPS and MW


def test_each_set_point_by_the_one_formula() -> None:
    """HH = min(CH - Q (t + tau + scan)/A, CH - 75 mm) - max(a, U); AOPS alike; MW from the lowest of H, HH, AOPS."""
    study = study_with(example=SOLVENT)
    by_inflow = 2.900 - RATE_M_PER_S * (95.0 + LAG_S)
    close(number(study, "overfill.high_high"), by_inflow - 0.010, 1e-9, ROUNDING)
    close(number(study, "overfill.automatic"), min(2.900 - RATE_M_PER_S * (30.0 + LAG_S), 2.825) - 0.010, 1e-9, "same")
    close(number(study, "overfill.working"), 2.450 - RATE_M_PER_S * 300.0, 1e-9, ROUNDING)
    close(number(study, "overfill.working_without_high"), 2.650 - RATE_M_PER_S * 300.0, 1e-9, ROUNDING)


@given(st.integers(1800, 2640), st.sampled_from(["", "AOPS: 2780 mm, "]))
@settings(max_examples=8)
def test_a_filling_from_mw_raises_no_alarm_within_the_time_kept_for_it(high_mm: int, automatic: str) -> None:
    """H as set is an alarm as well: from MW the surface reaches it after the working response at the earliest."""
    study = set_to(f"{{H: {high_mm} mm, {automatic}HH: 2650 mm}}")
    left_s = (high_mm / 1000.0 - number(study, "overfill.working")) / RATE_M_PER_S
    close(left_s, 300.0, 1e-6, ROUNDING)
    working = study.safe.overfill.working
    assert working is not None
    assert working.counted_from is not None
    exact(working.counted_from.value, high_mm / 1000.0)


def test_without_h_mw_counts_from_hh() -> None:
    study = set_to("{HH: 2650 mm, AOPS: 2780 mm}")
    close(number(study, "overfill.working"), 2.650 - RATE_M_PER_S * 300.0, 1e-9, ROUNDING)
    assert "overfill.working_without_high" not in study.sheet


def test_mw_stays_below_the_lowest_alarm_and_takes_nothing_off_twice() -> None:
    """AOPS set below HH's highest place and no HH set: MW counts from AOPS."""
    low = study_with((SET, "{AOPS: 2700 mm}"), example=SOLVENT)
    close(number(low, "overfill.lowest_alarm"), 2.700, 1e-12, ROUNDING)
    close(number(low, "overfill.working"), 2.700 - RATE_M_PER_S * 300.0, 1e-9, ROUNDING)
    near = study_with(("working_response: 5 min", "working_response: 10 s"), example=SOLVENT)
    close(number(near, "overfill.working"), 2.450 - 0.075, 1e-9, "the least gap governs")
    assert study_with(("  working_response: 5 min\n", ""), example=SOLVENT).safe.overfill.working is None


def test_hh_set_too_high_blocks() -> None:
    study = set_to("{HH: 2790 mm, AOPS: 2800 mm}")
    assert "check:alarm-in-time" in blocking(study)
    assert finding_of(study, "check:alarm-in-time").title == "HH is set too high to stop the filling in time"
    assert study.order == "blocked"
    close(number(study, "overfill.set_points.HH.margin"), number(study, "overfill.high_high") - 2.790, 1e-9, ROUNDING)


def test_aops_set_too_high_blocks() -> None:
    study = set_to("{HH: 2650 mm, AOPS: 2816 mm}")
    assert blocking(study) == {"check:automatic-in-time"}


def test_hh_is_judged_where_it_is_set() -> None:
    """Scenario A with HH at 2600 mm is 18.815 mA, the loop ends at 19.413 mA; 20 mA it still does not carry."""
    study = with_points("{HH: 2600 mm}")
    close(number(study, "overfill.high_high_current"), 0.004 + 0.016 * 2500.0 / 2700.0, 1e-12, ROUNDING)
    assert check_of(study, "alarm-carried").verdict is Verdict.SUITS
    assert blocking(study) == {"check:carries-range"}
    assert finding_of(study, "failure-current-not-reached").effect is Effect.WARNING
    exact(number(study, "overfill.high_high"), number(study_with(), "overfill.high_high"))


def test_a_range_the_loop_carries_is_not_blocked_by_its_failure_current() -> None:
    """280 ohm: the loop ends at 10.8 V / 536.342 ohm = 20.136 mA, between the range and the failure current."""
    study = with_points("{HH: 2600 mm}", ("resistance: 300 ohm", "resistance: 280 ohm"))
    close(number(study, "loop.last_good_current"), 0.020136, 5e-7, "half a unit of the last digit")
    assert blocking(study) == set()
    assert finding_of(study, "failure-current-not-reached").effect is Effect.WARNING


def test_aops_as_set_asks_for_its_response() -> None:
    study = with_points("{AOPS: 2800 mm}", isolator=True)
    assert "overfill.automatic_response" in {question.path for question in study.questions}
    assert study.safe.overfill.automatic is None
    assert study.order == "waits for answers"


@pytest.mark.parametrize(
    ("points", "path", "below"),
    [
        ("{H: 2600 mm, HH: 2500 mm}", "overfill.set_points.HH", "above H, 2600 mm"),
        ("{L: 300 mm, HH: 300 mm}", "overfill.set_points.HH", "above L, 300 mm"),
        ("{LL: 500 mm, L: 400 mm}", "overfill.set_points.L", "above LL, 500 mm"),
        ("{HH: 2950 mm}", "overfill.CH", "above HH, 2950 mm"),
    ],
)
def test_alarms_out_of_order_are_a_fault_with_its_place(points: str, path: str, below: str) -> None:
    fault = next(each for each in with_points(points, isolator=True).faults if each.path == path)
    assert fault.allowed == below
    assert fault.place is not None


@pytest.mark.parametrize(
    ("points", "key"),
    [
        ("{LL: 60 mm}", "check:LL-not-below"),
        ("{LL: 60 mm}", "check:LL-reads-lower"),
        ("{L: 90 mm}", "check:L-not-below"),
        ("{H: 3010 mm}", "check:H-not-above"),
        ("{H: 2890 mm}", "check:H-reads-upper"),
    ],
)
def test_an_alarm_that_cannot_be_measured_or_read_blocks(points: str, key: str) -> None:
    """Measurable from 91.7 to 3000.7 mm; 3.8 mA is 66.25 mm, 20.5 mA is 2884.4 mm (scenario A)."""
    high = ("CH: {value: 2900 mm", "CH: {value: 3015 mm")
    study = with_points(points, high, isolator=True)
    assert key in blocking(study)


def test_low_alarms_in_a_reverse_acting_range_are_read_at_the_other_end() -> None:
    changes = ("4 mA: 100 mm", "4 mA: 2800 mm"), ("20 mA: 2800 mm", "20 mA: 100 mm")
    study = with_points("{LL: 200 mm}", *changes, isolator=True)
    close(number(study, "overfill.set_points.LL.current"), 0.020 - 0.016 * 100.0 / 2700.0, 1e-12, ROUNDING)
    assert check_of(study, "LL-reads-upper").verdict is Verdict.SUITS


# ---------------------------------------------------------------- what is not known of the alarms


def questions(study: Study) -> set[str]:
    """The paths of the questions."""
    return {question.path for question in study.questions}


def test_set_points_of_which_nothing_is_said_are_asked_for_once() -> None:
    study = study_with(("  set_points: none ", "  # "), example=WITH_ISOLATOR)
    assert {path for path in questions(study) if path.startswith("overfill")} == {"overfill.set_points"}
    assert study.order == "waits for answers"
    assert study.value("overfill.high_high") is not None


@pytest.mark.parametrize("points", ["none", "{HH: 2600 mm}", "{LL: none}"])
def test_set_points_of_which_something_is_said_are_not_asked_for(points: str) -> None:
    assert "overfill.set_points" not in questions(with_points(points, isolator=True))


def test_without_critical_high_only_that_is_asked() -> None:
    changes = ("  set_points: none ", "  # "), ("CH: {value: 2900 mm, note: overflow}", "CH: unknown")
    found = questions(study_with(*changes, example=WITH_ISOLATOR))
    assert "overfill.CH" in found
    assert "overfill.set_points" not in found


@pytest.mark.parametrize("name", ["LL", "L", "H", "HH", "AOPS"])
def test_a_set_point_written_out_as_unknown_is_asked_for_by_name(name: str) -> None:
    study = with_points(f"{{{name}: unknown}}", isolator=True)
    assert f"overfill.set_points.{name}" in questions(study)
    assert "overfill.set_points" not in questions(study)
    assert study.order == "waits for answers"


@pytest.mark.parametrize("key", ["automatic_response", "working_response"])
def test_a_response_written_out_as_unknown_is_asked_for(key: str) -> None:
    study = study_with(("  response: 15 min", f"  response: 15 min\n  {key}: unknown"), example=WITH_ISOLATOR)
    assert f"overfill.{key}" in questions(study)


@pytest.mark.parametrize("line", ["  automatic_response: 60 s", "  set_points: {AOPS: 2810 mm}"])
def test_an_automatic_prevention_asks_whether_it_is_a_safety_function(line: str) -> None:
    change = ("  set_points: none ", f"{line} # ")
    assert "safety.SIL" in questions(study_with(change, example=WITH_ISOLATOR))
    answered = ("weighing:\n", 'safety:\n  SIL: "none"\n\nweighing:\n')
    assert "safety.SIL" not in questions(study_with(change, answered, example=WITH_ISOLATOR))
    assert "safety.SIL" not in questions(study_with(example=WITH_ISOLATOR))


# ---------------------------------------------------------------- response time


def test_the_parts_of_the_response_are_worth_the_whole() -> None:
    text = SOLVENT.read_text(encoding="utf-8")
    parts = text[text.index("  response_parts:") : text.index("  automatic_response:")]
    by_parts, whole = study_with(example=SOLVENT), study_with((parts, "  response: 95 s\n"), example=SOLVENT)
    close(number(by_parts, "overfill.response_time"), 95.0, 1e-9, "5 + 60 + 10 + 20 s")
    close(number(whole, "overfill.high_high"), number(by_parts, "overfill.high_high"), 1e-12, ROUNDING)


@pytest.mark.parametrize(
    ("old", "name"),
    [
        ("    detection: 5 s\n", "detection"),
        ("    operator: 60 s\n", "operator"),
        ("    pump_run_down: 10 s\n", "pump_run_down"),
        ("    valve_closure: 20 s\n", "valve_closure"),
        ("    drain_back: none\n", "drain_back"),
    ],
)
@pytest.mark.parametrize("how", ["left away", "unknown"])
def test_a_part_that_is_not_stated_is_asked_for_by_name(old: str, name: str, how: str) -> None:
    study = study_with((old, "" if how == "left away" else f"    {name}: unknown\n"), example=SOLVENT)
    assert [question.path for question in study.questions] == [f"overfill.response_parts.{name}"]
    assert not study.sheet["overfill.high_high"].known
    assert study.order == "waits for answers"


def test_a_missing_response_time_is_asked_for() -> None:
    study = study_with(("  response: 15 min\n", ""), example=WITH_ISOLATOR)
    assert [question.path for question in study.questions] == ["overfill.response"]
    assert check_of(study, "alarm-carried").verdict is Verdict.UNDECIDED


# ---------------------------------------------------------------- findings


def test_the_uncertainty_of_the_level_governs_in_scenario_d() -> None:
    """U (k = 2) 0.12 in against 0.10 in (scenario D)."""
    study = study_with(example=TILTED)
    assert finding_of(study, "uncertainty-governs").effect is Effect.WARNING
    assert number(study, "level.uncertainty") > number(study, "overfill.level_allowance")
    assert finding_of(study, "reverse-acting").effect is Effect.WARNING
    assert "uncertainty-governs" not in {finding.key for finding in study_with(example=SOLVENT).findings}


def test_hh_from_the_gauge_that_fills_is_no_layer_of_its_own() -> None:
    study = study_with(("filling_stopped_by: a separate gauge", "filling_stopped_by: this gauge"), example=SOLVENT)
    assert finding_of(study, "not-independent").effect is Effect.WARNING
    assert "not-independent" not in {finding.key for finding in study_with(example=SOLVENT).findings}
    asked = study_with(("filling_stopped_by: a separate gauge", "filling_stopped_by: unknown"), example=SOLVENT)
    assert "overfill.filling_stopped_by" in {question.path for question in asked.questions}
