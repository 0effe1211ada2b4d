"""The tilted vessel: every number of its scenario, and that the tilt is told.

Expected numbers: axial Gauss integration against 2^21 Sobol points, PyPI fluids for the level twin, buoyancy by closed
cubic against the differential equation of the waterline, budget by replay against 1e6 Monte Carlo trials.
"""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from onedatum.foundation.units import in_unit
from tests.reference import case
from tests.study.variants import EXAMPLES, study_with

TILTED = EXAMPLES / "tilted_vessel.yaml"
STUDY = study_with(example=TILTED)
ENTRIES: Mapping[str, tuple[str, str]] = {
    "head_depth_in": ("vessel.near_end.depth", "in"),
    "total_volume_gal": ("vessel.full_volume", "US gal"),
    "top_of_shell_at_station_in": ("vessel.inside_height", "in"),
    "stem_length_in": ("stem.length", "in"),
    "density_now_lb_ft3": ("medium.density[normal]", "lb/ft3"),
    "float_mean_density_lb_ft3": ("float.mean_density", "lb/ft3"),
    "waterline_above_magnet_now_in": ("float.waterline_above_magnet[normal]", "in"),
    "waterline_above_magnet_20degF_in": ("float.waterline_above_magnet[coldest]", "in"),
    "waterline_above_magnet_140degF_in": ("float.waterline_above_magnet[hottest]", "in"),
    "measurable_low_now_in": ("level.measurable_low[normal]", "in"),
    "measurable_high_now_in": ("level.measurable_high[normal]", "in"),
    "V_table_gal": ("quantity.table_volume", "US gal"),
    "V_if_tilt_ignored_gal": ("comparison.volume_without_tilt", "US gal"),
    "capacity_used_pct": ("quantity.capacity_share", "%capacity"),
    "gal_per_in": ("quantity.surface", "US gal/in"),
    "shell_factor": ("vessel.shell_factor", ""),
    "V_at_temperature_gal": ("quantity.gross_observed_volume", "US gal"),
    "V60_gal": ("quantity.gross_standard_volume", "US gal"),
    "mass_lb": ("quantity.mass", "lb"),
    "mA_level": ("signal.current", "mA"),
    "U_level_k2_in": ("level.uncertainty", "in"),
    "HH_in": ("overfill.high_high", "in"),
    "HH_mA": ("overfill.high_high_current", "mA"),
    "CH_mA": ("overfill.critical_current", "mA"),
    "level_at_3_8_mA_in": ("range.level_at_saturation_low", "in"),
    "cable_ohm": ("loop.cable_resistance", "ohm"),
    "loop_V_22_lowest_supply": ("loop.terminal_voltage_at_worst", "V"),
    "loop_sat_mA": ("loop.last_good_current", "mA"),
    "U_V60_k2_pct": ("budget.relative_uncertainty", "%"),
    "share_level_pct": ("budget.share[level_now]", "%"),
    "share_datum_pct": ("budget.share[datum_error]", "%"),
    "share_table_pct": ("budget.share[table.error]", "%"),
    "share_slope_pct": ("budget.share[vessel.slope]", "%"),
    "share_temperature_pct": ("budget.share[medium.temperature]", "%"),
}


@pytest.mark.parametrize("number", list(case("scenarios-D").expected))
def test_every_expected_number_comes_out_within_its_tolerance(number: str) -> None:
    name, unit = ENTRIES[number]
    value = STUDY.sheet[name].value
    assert value is not None
    case("scenarios-D").check(in_unit(value, unit), number)


def test_nothing_blocks_and_the_tilt_is_told() -> None:
    assert STUDY.faults == ()
    assert STUDY.order == "not blocked"
    told = next(finding for finding in STUDY.findings if finding.key == "tilt-counts")
    assert {link.entry: link.value for link in told.chain}["comparison.volume_without_tilt"] == "1971.56 US gal"
    assert any("mid length" in way.text for way in told.ways_out)


def test_results_are_printed_in_the_units_of_the_case() -> None:
    sheet = STUDY.sheet
    assert sheet["stem.length"].text == "79.504 in"
    assert sheet["quantity.mass"].text == "17034.2 lb"
    assert sheet["vessel.bare"].text.endswith("from −0.300 in to 73.377 in")
    metric = study_with(("print_units: US customary", "print_units: metric"), example=TILTED)
    assert metric.sheet["stem.length"].text == "2019.39 mm"


def test_a_gauge_at_mid_length_sees_hardly_any_tilt() -> None:
    middle = study_with(("{value: 30 in, note", "{value: 84 in, note"), example=TILTED)
    assert "tilt-counts" not in {finding.key for finding in middle.findings}
    share = middle.sheet["budget.share[vessel.slope]"].value
    first = STUDY.sheet["budget.share[vessel.slope]"].value
    assert share is not None and first is not None
    assert share < 0.01 * first


def test_a_lying_vessel_whose_slope_nobody_stated_has_no_volume_and_the_slope_is_asked() -> None:
    line = "  slope: {value: 0.01, within: 0.001, note: axis rises 1:100 from the drain end}\n"
    found = study_with((line, ""), example=TILTED)
    assert "vessel.slope" in {question.path for question in found.questions}
    assert not found.sheet["quantity.mass"].known
    level = study_with((line, "  slope: none\n"), ("datum: bottom below", "datum: bottom below"), example=TILTED)
    volume = level.sheet["quantity.table_volume"].value
    assert volume is not None
    case("scenarios-D").check(in_unit(volume, "US gal"), "V_if_tilt_ignored_gal")


def test_an_angle_says_the_same_as_a_slope() -> None:
    line = "slope: {value: 0.01, within: 0.001, note: axis rises 1:100 from the drain end}"
    found = study_with((line, "tilt: 0.572938697683 deg"), example=TILTED)
    volume = found.sheet["quantity.table_volume"].value
    assert volume is not None
    case("scenarios-D").check(in_unit(volume, "US gal"), "V_table_gal")
