"""The spirit receiver with barrier, with isolator, and altered: every number and finding, and whether it is blocked.

Expected numbers: worked by two independent routes each (closed forms of the heads against a library and quadrature,
OIML R 22 from two transcriptions, buoyancy against numerical volume, the budget against 400 000 Monte Carlo trials).
"""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from onedatum.foundation.units import in_unit
from onedatum.study.result import Study
from tests.reference import case
from tests.study.variants import ALTERED, WITH_ISOLATOR, study_with

ELSEWHERE = "comparison[set on water in the works]"
ENTRIES: Mapping[str, tuple[str, str]] = {
    "head_depth_mm": ("vessel.bottom_head.depth", "mm"),
    "head_volume_m3": ("vessel.bottom_head.volume", "m3"),
    "inside_height_m": ("vessel.inside_height", "m"),
    "full_volume_m3": ("vessel.full_volume", "m3"),
    "flange_face_m": ("nozzle.flange_face_height", "m"),
    "stem_length_m": ("stem.length", "m"),
    "mass_fraction": ("medium.mass_fraction", ""),
    "rho20_kg_m3": ("medium.density_at[20 degC]", "kg/m3"),
    "rho_now_kg_m3": ("medium.density[normal]", "kg/m3"),
    "float_mean_density_kg_m3": ("float.mean_density", "kg/m3"),
    "float_immersion_water_20degC_mm": ("float.immersion[set on water in the works]", "mm"),
    "float_immersion_5degC_mm": ("float.immersion[coldest]", "mm"),
    "float_immersion_now_mm": ("float.immersion[normal]", "mm"),
    "float_immersion_35degC_mm": ("float.immersion[hottest]", "mm"),
    "float_freeboard_least_mm": ("float.freeboard", "mm"),
    "measurable_low_5degC_m": ("level.measurable_low[coldest]", "m"),
    "measurable_high_5degC_m": ("level.measurable_high[coldest]", "m"),
    "measurable_low_now_m": ("level.measurable_low[normal]", "m"),
    "measurable_high_now_m": ("level.measurable_high[normal]", "m"),
    "measurable_low_35degC_m": ("level.measurable_low[hottest]", "m"),
    "measurable_high_35degC_m": ("level.measurable_high[hottest]", "m"),
    "measurable_high_by_dead_zone_now_m": ("level.highest_by_dead_zone[normal]", "m"),
    "volume_below_measurable_now_L": ("quantity.volume_below_measurable", "L"),
    "V_table_m3": ("quantity.table_volume", "m3"),
    "shell_factor": ("vessel.shell_factor", ""),
    "V_at_temperature_m3": ("quantity.gross_observed_volume", "m3"),
    "mass_kg": ("quantity.mass", "kg"),
    "mass_in_air_kg": ("quantity.mass_in_air", "kg"),
    "V20_m3": ("quantity.gross_standard_volume", "m3"),
    "LPA_L": ("quantity.pure_alcohol", "L"),
    "LPA_without_temperature_correction_L": ("comparison.pure_alcohol_uncorrected", "L"),
    "set_on_water_reads_low_by_mm": ("level.reads_low_by[set on water in the works]", "mm"),
    "set_on_water_error_L": (f"{ELSEWHERE}.volume_missed", "L"),
    "set_on_water_error_LPA": (f"{ELSEWHERE}.pure_alcohol_missed", "L"),
    "mA_level": ("signal.current", "mA"),
    "U_level_k2_mm": ("level.uncertainty", "mm"),
    "HH_m": ("overfill.high_high", "m"),
    "HH_mA": ("overfill.high_high_current", "mA"),
    "HH_by_constant_area_m": ("comparison.high_high_by_constant_area", "m"),
    "CH_mA": ("overfill.critical_current", "mA"),
    "level_at_20_5_mA_m": ("range.level_at_saturation_high", "m"),
    "cable_ohm": ("loop.cable_resistance", "ohm"),
    "loop_V_215": ("loop.terminal_voltage_at_worst", "V"),
    "loop_V_36_at_highest_supply": ("loop.terminal_voltage_at_failure_low", "V"),
    "loop_margin_V": ("loop.margin_at_worst", "V"),
    "loop_sat_mA": ("loop.last_good_current", "mA"),
    "loop_sat_level_m": ("loop.last_good_level", "m"),
    "barrier_at_which_HH_is_just_reached_ohm": ("loop.largest_barrier_for_high_high", "ohm"),
    "barrier_largest_for_21_5_mA_ohm": ("loop.largest_barrier_for_worst", "ohm"),
    "U_LPA_k2_pct": ("budget.relative_uncertainty", "%"),
    "U_LPA_k2_L": ("budget.expanded_uncertainty", "L"),
    "share_level_pct": ("budget.share[level_now]", "%"),
    "share_datum_pct": ("budget.share[datum_error]", "%"),
    "share_table_pct": ("budget.share[table.error]", "%"),
    "share_temperature_pct": ("budget.share[medium.temperature]", "%"),
    "share_strength_pct": ("budget.share[medium.strength]", "%"),
    "temperature_1_K_LPA_L": ("budget.change_per_kelvin", "L"),
}
"""Where each expected number stands on the sheet."""


STUDIES: Mapping[str, Study] = {
    "scenarios-A": study_with(),
    "scenarios-A2": study_with(example=WITH_ISOLATOR),
    "scenarios-A3": study_with(*ALTERED),
}


@pytest.mark.parametrize(
    ("scenario", "number"),
    [(scenario, number) for scenario in STUDIES for number in case(scenario).expected],
)
def test_every_expected_number_comes_out_within_its_tolerance(scenario: str, number: str) -> None:
    name, unit = ENTRIES[number]
    value = STUDIES[scenario].sheet[name].value
    assert value is not None
    case(scenario).check(in_unit(value, unit), number)


def test_the_barrier_starves_the_alarm_and_blocks_the_order() -> None:
    study = STUDIES["scenarios-A"]
    assert study.order == "blocked"
    assert study.blocking == "Order blocked: HH needs 19.51 mA, the loop ends at 19.41 mA."
    assert [finding.key for finding in study.findings] == [
        "alarm-never-comes",
        "failure-current-not-reached",
        "critical-high-not-visible",
        "worst-current-small",
        "circuit-holds",
    ]
    chain = {link.entry: link.value for link in study.findings[0].chain}
    assert chain["loop.last_good_current"] == "19.413 mA"
    assert chain["overfill.high_high_current"] == "19.510 mA"


def test_the_isolator_carries_the_alarm_and_nothing_blocks() -> None:
    study = STUDIES["scenarios-A2"]
    assert study.order == "not blocked"
    assert study.blocking == ""
    assert {finding.key for finding in study.findings} == {
        "loop-passes",
        "critical-high-not-visible",
        "worst-current-small",
        "circuit-holds",
    }
    assert "loop.last_good_current" not in study.sheet


def test_the_altered_receiver_is_blocked_by_its_own_numbers() -> None:
    study = STUDIES["scenarios-A3"]
    assert study.order == "blocked"
    assert study.blocking == "Order blocked: HH needs 20.03 mA, the loop ends at 19.28 mA."


WALLS = ("float.end_", "float.shell_", "float.bore_tube_", "float.wall_", "float.allowed_")
"""The float is the same in both, and what its walls bear."""
CHOICE = {
    "choosing.budget.corrected_share",
    "choosing.build.ambient_margin[cold]",
    "choosing.build.ambient_margin[hot]",
    "choosing.cells.temperature[normal]",
    "choosing.chamber.setting_margin",
    "choosing.ex.class_margin",
    "choosing.ex.epl_margin_head",
    "choosing.ex.epl_margin_wetted",
    "choosing.ex.group_margin",
    "choosing.ex.surface_margin[normal]",
    "choosing.ex.surface_percent[normal]",
    "choosing.float.pressure_margin[normal]",
    "choosing.probe.crossover",
    "choosing.probe.loss_tangent",
    "choosing.probe.slope_error",
    "choosing.probe.slope_share",
    "choosing.radar.reflected_power",
    "choosing.range.uncovered",
}
"""Of the numbers that a choice turns on, those that rest on place, liquid and certificate, or come to nothing."""
USUAL_OF_THE_INSTRUMENT = {
    "instrument.accuracy.clock",
    "instrument.accuracy.density_known_to",
    "instrument.accuracy.display_step",
    "instrument.accuracy.nonlinearity",
    "instrument.accuracy.out_of_plumb",
    "instrument.accuracy.stiction",
    "instrument.accuracy.temperature_known_to",
    "instrument.build.length_max",
    "instrument.build.temperature_max",
    "instrument.echo.noise",
    "instrument.echo.pulse_width",
    "instrument.echo.sampling",
    "instrument.float.elastic_modulus",
    "instrument.float.yield_strength",
    "instrument.stem.least_clearance",
    "instrument.waveguide.speed",
    "instrument.waveguide.speed_coefficient",
}
"""What is counted on of an instrument that states nothing of it."""


def test_no_number_of_the_first_receiver_is_left_in_the_altered_one() -> None:
    """Only numbers whose inputs were not altered may agree; a comparison may well turn out the same."""
    first, altered = STUDIES["scenarios-A"].entries, STUDIES["scenarios-A3"].entries
    same = {name for name, entry in altered.items() if name in first and first[name].content == entry.content}
    unaltered = {name for name in same if altered[name].inputs and altered[name].relation is None}
    certificates = {name for name in unaltered if name.startswith(("circuit.", "zone.", "filling."))}
    assert not any("cable" in name or "_left" in name for name in certificates if ".device[" not in name)
    walls = {name for name in unaltered if name.startswith(WALLS)}
    assert {name for name in unaltered if name.startswith("choosing.")} == CHOICE
    unaltered -= certificates | walls | CHOICE
    assert unaltered == {
        "accuracy.clock",
        "accuracy.clock_step",
        "accuracy.delay_bound",
        "accuracy.display",
        "accuracy.sample_interval",
        "accuracy.stiction",
        "accuracy.timing",
        "float-floats.margin[set on water in the works]",
        "float.density_ratio[set on water in the works]",
        "build.hot_margin[coldest]",
        "build.hot_margin[hottest]",
        "build.hot_margin[set on water in the works]",
        "float.nozzle_gap_margin",
        "float.gap",
        "float.gap_drag",
        "float.pressure_margin[operation]",
        "stem.radius",
        "waveguide.speed_coefficient",
        "waveguide.warmer[coldest]",
        "waveguide.warmer[hottest]",
        "float.immersion[set on water in the works]",
        "float.mean_density",
        "float.nozzle_gap",
        "float.section",
        "float.stem_clearance",
        "float.volume",
        "level.uncertainty",
        "loop.failure_high_margin",
        "loop.failure_low_margin",
        "loop.margin_without_current",
        "loop.resistance_without_cable",
        "loop.supply_high",
        "loop.supply_low",
        "loop.working_voltage_margin",
        "medium.density[set on water in the works]",
        "medium.hottest",
        "overfill.lag",
        "pressure.operating_absolute",
        "wanted.level_margin",
    }


@pytest.mark.parametrize("scenario", list(STUDIES))
def test_what_is_assumed_and_what_is_open_is_told(scenario: str) -> None:
    study = STUDIES[scenario]
    assert study.faults == ()
    assert {leaf.path for leaf in study.assumptions} == USUAL_OF_THE_INSTRUMENT | {
        "site.atmospheric_pressure",
        "vessel.shell_temperature",
        "medium.viscosity",
        "medium.conductivity",
        "medium.permittivity",
    } | (set() if scenario == "scenarios-A2" else {"loop.barrier.diode_drop"})
    barrier = [] if scenario == "scenarios-A2" else ["loop.barrier.working_voltage_max"]
    assert [each.path for each in study.requirements] == ["instrument.float.pressure_rating", *barrier]
    assert study.questions == ()
