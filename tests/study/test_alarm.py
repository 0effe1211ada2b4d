"""The alarm and the loop where it could hurt: close calls, unknown currents, reverse acting ranges, low alarms."""

from __future__ import annotations

import pytest

from onedatum.study.result import Study
from onedatum.verdicts import Effect
from tests.study.variants import WITH_BARRIER, WITH_ISOLATOR, study_with

REVERSE = (("4 mA: 100 mm", "4 mA: 2800 mm"), ("20 mA: 2800 mm", "20 mA: 100 mm"))


def blocking(study: Study) -> set[str]:
    """The keys of the findings that block."""
    return {finding.key for finding in study.findings if finding.effect is Effect.BLOCKS}


def test_no_check_can_fail_without_blocking_unless_it_is_a_remark() -> None:
    for changes in ((("bore: 80 mm", "bore: 50 mm"),), (("headroom_above_face: 4.0 m", "headroom_above_face: 2 m"),)):
        study = study_with(*changes, example=WITH_ISOLATOR)
        assert study.checks_verdict.value == "does not suit"
        assert study.order == "blocked"


def test_a_close_call_of_the_supply_is_not_called_a_pass() -> None:
    """24 V within 3 V: 22.8 V are nominally enough for 243 ohm, not for certain (JCGM 106, guarded)."""
    changes = (
        ("resistance: 300 ohm", "resistance: 243 ohm"),
        ("  supply: 24 V\n", "  supply: {value: 24 V, within: 3 V}\n"),
    )
    study = study_with(*changes)
    assert "loop-passes" not in {finding.key for finding in study.findings}
    assert "alarm-never-comes" in blocking(study)
    assert "cannot be relied on" in study.findings[0].title


@pytest.mark.parametrize("stated", ["unknown", "none"])
def test_the_end_of_the_loop_does_not_hang_on_the_highest_failure_current(stated: str) -> None:
    study = study_with(("current_worst: 21.5 mA", f"current_worst: {stated}"))
    assert "alarm-never-comes" in blocking(study)
    assert "instrument.transmitter" not in study.blocking
    assert "loop.transmitter.current_worst" in [requirement.path for requirement in study.requirements]


def test_a_failure_current_that_reads_as_a_level_is_refused() -> None:
    """NE 43: failure at 3.6 mA and less or 21 mA and more, levels from 3.8 to 20.5 mA."""
    study = study_with(
        ("current_worst: 21.5 mA", "current_worst: 20.3 mA"),
        ("current_failure_low: 3.6 mA", "current_failure_low: 3.9 mA"),
    )
    assert {fault.path for fault in study.faults} == {
        "loop.transmitter.current_worst",
        "loop.transmitter.current_failure_low",
    }


def test_an_alarm_below_what_can_be_measured_blocks() -> None:
    changes = (("4 mA: 100 mm", "4 mA: -500 mm"), ("CH: {value: 2900 mm", "CH: {value: 320 mm"), ("15 min", "1 min"))
    study = study_with(*changes, ("least_gap: 75 mm", "least_gap: 300 mm"), example=WITH_ISOLATOR)
    assert "check:alarm-not-too-low" in blocking(study)


def test_in_a_reverse_acting_range_critical_high_is_lost_at_the_low_end() -> None:
    """4 mA at 2800 mm: CH at 2900 mm is 3.407 mA, below 3.8 mA."""
    study = study_with(*REVERSE, example=WITH_ISOLATOR)
    finding = next(each for each in study.findings if each.key == "critical-high-not-visible")
    assert finding.chain[-1].text.startswith("Below 3.8 mA")
    assert finding.chain[-1].entry == "range.level_at_saturation_low"


def test_critical_high_above_the_end_of_the_loop_is_not_visible_either() -> None:
    study = study_with(("CH: {value: 2900 mm", "CH: {value: 2750 mm"))
    finding = next(each for each in study.findings if each.key == "critical-high-not-visible")
    assert finding.chain[-1].text.startswith("Above 19.413 mA")


@pytest.mark.parametrize(
    "change",
    [
        ("fill_rate_max: 1.2 m3/h", "fill_rate_max: {value: 1.2 m3/h, max: 4 m3/h}"),
        ("response: 15 min", "response: {normal: 15 min, max: 60 min}"),
        ("  supply: 24 V\n", "  supply: {value: 24 V, min: 18 V}\n"),
        ("density: 1.2 kg/m3}", "density: {value: 1.2 kg/m3, max: 40 kg/m3}}"),
    ],
)
def test_a_range_that_no_chapter_reads_is_refused_not_half_read(change: tuple[str, str]) -> None:
    study = study_with(change, example=WITH_BARRIER)
    assert "must be one value" in " ".join(map(str, study.faults))


def test_a_float_about_to_sink_is_not_a_float() -> None:
    study = study_with(("mass: 72.0 g", "mass: 101 g"), example=WITH_ISOLATOR)
    assert any(key.startswith("check:float-floats[") for key in blocking(study))


def test_a_state_with_a_lighter_liquid_counts_its_own_density() -> None:
    state = "  - {name: light, instrument: fitted, medium: {kind: liquid of stated density, density: 620 kg/m3}}\n"
    study = study_with(("  - name: water fill test", f"{state}  - name: water fill test"), example=WITH_ISOLATOR)
    assert any(key.startswith("check:float-floats[") for key in blocking(study))


def test_now_is_the_first_state_in_which_the_instrument_is_fitted() -> None:
    state = "  - {name: steaming, instrument: removed, medium: {temperature: 121 degC}}\n"
    study = study_with(("  - name: normal\n", f"{state}  - name: normal\n"), example=WITH_ISOLATOR)
    assert study.faults == ()
    assert study.now.name == "normal"
    assert study.order == "not blocked"


def test_without_a_fitted_state_one_is_asked_for() -> None:
    study = study_with(("  - name: normal\n    instrument: fitted", "  - name: normal\n    instrument: removed"))
    assert "states" in [question.path for question in study.questions]


def test_a_known_error_of_the_datum_is_corrected_where_it_belongs() -> None:
    study = study_with(("{value: 0 mm, within: 2 mm", "{value: 5 mm, within: 2 mm"))
    assert "datum_error must be 0 mm" in str(study.faults[0])


def test_foam_that_is_stated_must_be_allowed_for() -> None:
    study = study_with(("  foam: none\n  deposits", "  foam: 400 mm while filling\n  deposits"))
    assert "overfill.foam" in [fault.path for fault in study.faults]


def test_the_mass_is_budgeted_where_the_mass_is_wanted() -> None:
    study = study_with(("of: litres of pure alcohol", "of: mass"), example=WITH_ISOLATOR)
    assert study.budget is not None
    assert study.budget.of.name == "quantity.mass"


@pytest.mark.parametrize("stated", ["dead_zone_low: none ", "dead_zone_low: unknown "])
def test_what_is_ours_and_missing_is_a_requirement_however_it_is_missing(stated: str) -> None:
    study = study_with(("dead_zone_low: 60 mm ", stated), example=WITH_ISOLATOR)
    assert "instrument.stem.dead_zone_low" in [requirement.path for requirement in study.requirements]


@pytest.mark.parametrize(
    "barrier",
    ["{kind: shunt-diode barrier, resistance: none}", "{kind: none, resistance: 300 ohm}"],
)
def test_the_resistance_of_a_barrier_is_never_lost(barrier: str) -> None:
    study = study_with(("{kind: shunt-diode barrier, resistance: 300 ohm}", barrier))
    assert "loop.barrier.resistance" in [fault.path for fault in study.faults]


def test_the_transmitter_must_withstand_the_supply_while_no_current_flows() -> None:
    """24 V and 5 % are 25.2 V at the terminals before the current starts."""
    study = study_with(("voltage_max: 36 V", "voltage_max: 24 V"))
    assert "check:withstands-supply" in blocking(study)


def test_no_barrier_of_negative_resistance_is_offered() -> None:
    study = study_with(("input_resistor: 250 ohm", "input_resistor: 900 ohm"))
    assert not any("−" in way.value for finding in study.findings for way in finding.ways_out)


def test_a_table_without_uncertainty_is_refused() -> None:
    study = study_with(("U: 0.3 %value, k: 2}", "U: none, k: 2}"))
    assert "table.U" in [fault.path for fault in study.faults]
