"""What is open, doubted, ranged, stated as none or beside the point never makes a result of safety kinder.

Each case was once a way to "holds" or to a free order; no published source: the rules are those of the house.
"""

from __future__ import annotations

import pytest

from onedatum.case.reading import read_case
from onedatum.jobs.signal import forecast_lines, signal_at, signal_json, signal_remarks
from onedatum.study.result import Study
from onedatum.verdicts import Effect, Verdict
from tests.soon import soon
from tests.study.test_circuit import ALONE, NO_HART, SOLVENT, holds, solvent
from tests.study.variants import WITH_BARRIER, WITH_ISOLATOR, study_with

ACTS = "    acts_on_failure_currents: yes"
SET = "{LL: 200 mm, L: 350 mm, H: 2450 mm, HH: 2650 mm, AOPS: 2780 mm}"
STATES = "states:\n  - name: normal\n    instrument: fitted\n"
WASHED = STATES + "  - name: washed\n    instrument: fitted\n    medium: {kind: water, temperature: %s}\n"

Change = tuple[str, str]


def keys(study: Study, effect: Effect | None = None) -> set[str]:
    """The keys of the findings, of one effect or of any."""
    return {finding.key for finding in study.findings if effect in (None, finding.effect)}


def verdicts(study: Study) -> dict[str, Verdict]:
    """Every check by its key."""
    return {check.key: check.verdict for check in study.checks}


def asked(study: Study) -> set[str]:
    """The paths of the questions."""
    return {question.path for question in study.questions}


@pytest.mark.parametrize(
    "change",
    [
        (STATES, WASHED % "{value: 20 degC, max: 98 degC}"),
        (
            "  expansion: 1.07e-3 1/K\n  temperature: {value: 18 degC, within: 1 K, min: -5 degC, max: 35 degC}",
            "  temperature: {value: 20 degC, min: -5 degC, max: 120 degC}",
        ),
        ("operating: 0 bar(g)", "operating: {value: 0 bar(g), max: 0.5 bar(g)}"),
        (
            "temperature: {value: 18 degC, within: 1 K, min: -5 degC, max: 35 degC}",
            "temperature: {value: 59.5 degC, within: 2 K}",
        ),
    ],
    ids=["stand-in liquid", "no expansion", "pressure", "uncertainty"],
)
def test_every_end_of_every_fitted_state_counts(change: Change) -> None:
    study = solvent(change)
    assert "circuit-refused" in keys(study)
    assert not holds(study)
    assert study.order != "not blocked"


@pytest.mark.parametrize(
    "change",
    [
        ("  atmospheric_pressure: 1.013 bar(a)\n", ""),
        (STATES, WASHED % "unknown"),
        ("  gas_space: air\n", ""),
        ("Uo: 27 V", "Uo: 24.9 V"),
        ("Io: 88 mA", "Io: 21 mA"),
        ("Lo_per_Ro: 225 uH/ohm", "Lo_per_Ro: 225 mH/ohm"),
        ("insulated_500_V: yes", "insulated_500_V: no"),
    ],
    ids=["atmosphere", "a state", "gas space", "Uo below the loop", "Io below the loop", "Lo/Ro", "insulation"],
)
def test_a_circuit_does_not_hold_while_something_of_it_is_open_or_in_doubt(change: Change) -> None:
    study = solvent(change, ALONE, NO_HART)
    assert not holds(study)
    assert study.order != "not blocked"


@pytest.mark.parametrize(
    ("change", "path"),
    [
        (("operating: 0 bar(g)", "operating: none"), "pressure.operating"),
        (("drawing: Z-460 (invented)", "drawing: Z-460 (invented)\n  assessment: none"), "zone.assessment"),
        (("float_bonded: yes", "float_bonded: none"), "charge.float_bonded"),
        (("strong_charging: no", "strong_charging: none"), "charge.strong_charging"),
        (("demand: at most once a year", "demand: none"), "safety.demand"),
        ((ACTS, ACTS.replace("yes", "none")), "loop.receiver.acts_on_failure_currents"),
        (
            ("voltage_at_its_terminals: 17.0 V", "voltage_at_its_terminals: 26 V"),
            "loop.barrier.voltage_at_its_terminals",
        ),
        (("fill_rate_now: 9 m3/h", "fill_rate_now: 30 m3/h"), "overfill.fill_rate_now"),
    ],
)
def test_what_makes_no_sense_of_the_case_is_a_fault(change: Change, path: str) -> None:
    study = solvent(change)
    assert path in {fault.path for fault in study.faults}
    assert study.order == "blocked"


@pytest.mark.parametrize(
    ("change", "path"),
    [
        ((ACTS + "\n", ""), "loop.receiver.acts_on_failure_currents"),
        (('SIL: "1"', "SIL: unknown"), "safety.SIL"),
        (
            ("{value: 8e-7 1/h, source: invented data}", "{value: 8e-7 1/h, source: unknown}"),
            "safety.subsystems[2].dangerous_failure_rate.source",
        ),
        (("place: final element", "place: unknown"), "safety.subsystems (final element)"),
    ],
)
def test_what_is_not_known_is_asked_by_name(change: Change, path: str) -> None:
    study = solvent(change)
    assert path in asked(study)
    assert study.order == "waits for answers"


def test_a_function_with_a_part_missing_has_no_probability() -> None:
    text = SOLVENT.read_text(encoding="utf-8")
    study = solvent((text[text.index("    - name: filling valve") : text.index("weighing:")], "\n"))
    assert not study.sheet["safety.pfd"].known
    assert study.sheet["safety.pfd_of_stated"].known
    assert verdicts(study)["sil-pfd"] is Verdict.UNDECIDED
    assert "pfd-band" not in keys(study)


def test_diagnostics_do_not_count_where_the_receiver_heeds_no_failure_current() -> None:
    heeds, heeds_not = solvent(), solvent((ACTS, ACTS.replace("yes", "no")))
    with_it, without = (study.value("safety.pfd") for study in (heeds, heeds_not))
    assert with_it is not None and without is not None
    assert without > 1.2 * with_it


@pytest.mark.parametrize(
    "change",
    [
        (ACTS, f"{ACTS}\n    failure_high: 23 mA"),
        (ACTS, f"{ACTS}\n    failure_low: 3.4 mA"),
        ("current_worst: 22 mA", "current_worst: 20.8 mA"),
        ("current_failure_low: 3.6 mA", "current_failure_low: 3.7 mA"),
    ],
)
def test_a_failure_current_the_receiver_does_not_see_is_told(change: Change) -> None:
    assert any(key.startswith("check:failure-") for key in keys(solvent(change)))


@pytest.mark.parametrize(
    ("changes", "key"),
    [
        (((SET, "{H: 2200 mm}"), ("automatic_response: 30 s", "automatic_response: 10 min")), "check:alarm-order-HH"),
        (((SET, "{AOPS: 2500 mm}"),), "check:alarm-order-HH"),
    ],
)
def test_set_points_stand_in_order_as_worked_too(changes: tuple[Change, ...], key: str) -> None:
    study = solvent(*changes)
    assert key in keys(study, Effect.BLOCKS)


def test_an_alarm_below_the_worked_one_is_refused_above_it() -> None:
    study = study_with(("set_points: none", "set_points: {H: 2790 mm}"), example=WITH_ISOLATOR)
    assert "check:alarm-order-H" in keys(study, Effect.BLOCKS)


def test_a_low_alarm_that_the_loop_does_not_carry_is_none() -> None:
    reverse = (("4 mA: 100 mm", "4 mA: 2800 mm"), ("20 mA: 2800 mm", "20 mA: 100 mm"))
    point = ("set_points: none", "set_points: {LL: 95 mm}")
    study = study_with(*reverse, ("resistance: 300 ohm", "resistance: 286 ohm"), point, example=WITH_BARRIER)
    assert verdicts(study)["LL-carried"] is Verdict.DOES_NOT_SUIT


def test_a_supply_above_what_the_barrier_stands_blocks() -> None:
    """30 V + 5 % is 31.5 V, above the 28 V of its Uo, and nothing is said of its working voltage."""
    study = study_with(("  supply: 24 V\n", "  supply: 30 V\n"), example=WITH_BARRIER)
    assert "check:working-voltage" in keys(study, Effect.BLOCKS)
    assert "loop.barrier.working_voltage_max" in {each.path for each in study.requirements}


def test_pi_is_compared_with_what_a_linear_source_can_give() -> None:
    """27 V and 88 mA give 0.594 W into the load that matches them, whatever is stated as Po."""
    low = ("Po: 0.6 W", "Po: 0.55 W"), ("Pi: 0.9 W", "Pi: 0.57 W")
    study = solvent(*low)
    assert verdicts(study)["circuit-power[1]"] is Verdict.DOES_NOT_SUIT
    assert "implausible:circuit.source.Po" in keys(study)
    assert not holds(study)
    told = solvent(("Po: 0.6 W", "Po: {value: 0.55 W, note: as printed}"), low[1])
    assert verdicts(told)["circuit-power[1]"] is Verdict.DOES_NOT_SUIT, "a note settles the question, not the power"
    assert verdicts(solvent(low[0]))["circuit-power[1]"] is Verdict.SUITS
    assert not holds(solvent(low[0]))
    rounded = solvent(("Po: 0.6 W", "Po: 0.59 W"), ("Pi: 0.9 W", "Pi: 0.594 W"))
    assert "implausible:circuit.source.Po" not in keys(rounded), "0.7 % below: the certificate rounds"
    assert verdicts(rounded)["circuit-power[1]"] is Verdict.SUITS


def test_an_empty_list_of_apparatus_is_no_answer() -> None:
    text = SOLVENT.read_text(encoding="utf-8")
    listed = text[text.index("  devices:\n") : text.index("  earth_points: one")]
    study = solvent((listed, "  devices: []\n"))
    assert asked(study) == {"circuit.devices (one at least)"}
    assert verdicts(study)["circuit-apparatus"] is Verdict.UNDECIDED
    assert study.order == "waits for answers"
    unknown = solvent((listed, "  devices: unknown\n"))
    assert verdicts(unknown)["circuit-apparatus"] is Verdict.ON_CONDITIONS
    assert not holds(unknown)


@pytest.mark.parametrize(
    ("word", "outcome"),
    [("yes", Verdict.SUITS), ("no", Verdict.DOES_NOT_SUIT), ("unknown", Verdict.ON_CONDITIONS)],
)
def test_an_isolator_is_not_taken_to_pass_hart(word: str, outcome: Verdict) -> None:
    study = solvent(("passes_hart: yes", f"passes_hart: {word}"))
    assert verdicts(study)["hart-isolator"] is outcome
    required = "loop.barrier.passes_hart" in {each.path for each in study.requirements}
    assert required is (word == "unknown")
    assert ("hart-least" in verdicts(study)) is (word != "no")
    assert ("check:hart-isolator" in keys(study, Effect.WARNING)) is (word == "no")


def test_the_level_above_critical_high_is_told_everywhere() -> None:
    study = solvent(("level_now: {value: 1650 mm", "level_now: {value: 2950 mm"))
    assert "level-passed" in keys(study)
    found = signal_at(read_case(SOLVENT), "2950 mm", "12 m3/h", "10:00")
    assert "The level now stands above CH" in signal_remarks(found)
    assert "HH is passed already" in forecast_lines(found)
    assert signal_json(found)["cautions"]


def test_what_is_uncertain_of_critical_high_shows_at_the_alarm() -> None:
    study = solvent(("CH: {value: 2900 mm, note: overflow}", "CH: {value: 2900 mm, within: 60 mm}"))
    assert "set-point-uncertain" in keys(study)
    half = study.value("overfill.high_high_uncertainty")
    assert half is not None and 0.069 < half < 0.070, "2 * 60 mm / sqrt(3), the rest is small"


def test_the_lowest_conductivity_and_the_lowest_ignition_temperature_count() -> None:
    ranged = ("conductivity: {value: 5 pS/m, ", "conductivity: {value: 20000 pS/m, min: 1 pS/m, ")
    assert "filling:charges" in keys(solvent(ranged))
    hot = ("  substance: toluene\n", "  ignition_temperature: {value: 455 degC, within: 20 K}\n")
    assert "class-too-low" in keys(solvent(hot), Effect.BLOCKS), "it may be 435 degC: T2, and T1 is stated"


def test_gas_and_dust_in_one_case_block() -> None:
    study = solvent(('at_head: "1"', 'at_head: "22"'))
    assert "dust" in keys(study, Effect.BLOCKS)


def test_gas_and_dust_are_told_apart_and_not_ranked() -> None:
    """IIC is neither more nor less than IIIB, Ga neither than Da."""
    changes = ('inside: "0"', 'inside: "20"'), ('at_head: "1"', 'at_head: "21"'), ("  group: IIA\n", "  group: IIIB\n")
    study = solvent(*changes)
    told = {check.key: check for check in study.checks}
    for key in ("epl-inside", "epl-head", "instrument-group", "circuit-group-source", "circuit-group-device[1]"):
        assert told[key].verdict is Verdict.DOES_NOT_SUIT
        assert "is for gas, the zone is one of dust" in told[key].fails
        assert told[key].limit.sense != "at least"


def test_a_circuit_without_a_zone_is_told() -> None:
    zone = SOLVENT.read_text(encoding="utf-8")
    zone = zone[zone.index("zone:\n") : zone.index("instrument:\n")]
    assert "zone-forgotten" in keys(solvent((zone, "zone: none\n\n")))


def test_a_small_gap_and_a_missing_common_cause_are_told() -> None:
    assert "small-gap" in keys(solvent(("least_gap: 75 mm", "least_gap: 5 mm")))
    rate = "\n      dangerous_failure_rate: {value: 4e-7"
    pair = "architecture: 1oo2\n      beta: 0 %value\n      beta_detected: 0 %value"
    study = solvent((f"architecture: 1oo1{rate}", f"{pair}{rate}"))
    assert any(key.startswith("no-common-cause") for key in keys(study))


def test_proof_tests_every_second_are_refused_at_once() -> None:
    with soon(5.0):
        study = solvent(("proof_test_interval: 8760 h", "proof_test_interval: 1 s"))
    assert not study.sheet["safety.subsystem[1].pfd_by_markov"].known


def test_a_note_beside_a_strange_value_settles_the_question() -> None:
    strange = solvent(("Po: 0.6 W", "Po: 0.9 W"), ("Pi: 0.9 W", "Pi: 1.2 W"))
    told = solvent(("Po: 0.6 W", "Po: {value: 0.9 W, note: read twice}"), ("Pi: 0.9 W", "Pi: 1.2 W"))
    assert strange.order == "waits for answers"
    assert told.order == "not blocked"
    assert any(key.startswith("confirmed:") for key in keys(told))
