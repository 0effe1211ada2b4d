"""Every tagged formula of the house: what is printed is what is worked, and what is declared is what is kept."""

from __future__ import annotations

import ast
import doctest
import importlib
import inspect
import pkgutil
import re
import sys
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from onedatum import physics
from onedatum.foundation.errors import ValidityError
from onedatum.foundation.sources import citation
from onedatum.foundation.units import unit_of_name
from onedatum.foundation.working import Tag, apply, registry, tag_of
from onedatum.foundation.working.formula import Symbol
from onedatum.physics import (
    detection,
    echoes,
    floats,
    ignition,
    loop,
    magnetostrictive,
    magnets,
    mechanics,
    media,
    overfill,
    uncertainty,
)
from tests.draws import DRAWS
from tests.house.tree import PACKAGE, modules
from tests.physics.drawing import Arguments, arguments, holds, some
from tests.physics.rounding import term_size
from tests.physics.wholes import first_wholes, in_numbers

Function = Callable[..., Any]

EXPLICIT_WITHIN = 1e-12
"""Of the largest term: code and printed equation differ by rounding alone."""
SMALLEST = 1e-12
"""What a level or a volume next to nothing may differ by, whichever way it was worked."""
RESIDUAL_WITHIN = 1e-9
"""Of the largest term: a root is found, not written down."""

# Procedures: the text names the method, so a test with an independent case stands for each.
PROCEDURES = {
    "bypass.profile_temperature": "test_bypass_profile.py::test_a_profile_against_quadrature",
    "bypass.column_density": "test_bypass_profile.py::test_a_profile_against_quadrature",
    "bypass.profiled_vessel_level": "test_bypass_profile.py::test_a_profile_against_quadrature",
    "bypass.lightest_density": "test_bypass_profile.py::test_a_profile_against_quadrature",
    "bypass.profiled_chamber_level": "test_bypass_profile.py::test_a_profile_against_quadrature",
    "calibration.drift": "test_calibration.py::test_drift_against_a_library_of_fits",
    "calibration.drift_scatter": "test_calibration.py::test_drift_against_a_library_of_fits",
    "calibration.drift_standard": "test_calibration.py::test_drift_against_a_library_of_fits",
    "calibration.independent_linearity": "test_calibration.py::test_linearity_against_a_linear_programme",
    "calibration.repeats_average": "test_calibration.py::test_average_error_at_each_point",
    "calibration.repeats_spread": "test_calibration.py::test_non_repeatability",
    "calibration.repeats_standard": "test_calibration.py::test_type_a_of_six_readings",
    "calibration.terminal_linearity": "test_calibration.py::test_linearity_of_the_average_curve",
    "calibration.zero_linearity": "test_calibration.py::test_linearity_against_a_linear_programme",
    "capacitive.coated_off_axis": "test_capacitive_plane.py::test_a_coated_rod_off_the_axis_against_multipoles",
    "capacitive.in_rectangle_radius": "test_capacitive_walls.py::test_a_rectangle_by_its_four_walls",
    "capacitive.rod_before_strip": "test_capacitive_plane.py::test_a_rod_before_a_strip_against_multipoles",
    "capacitive.twin_rods_in_plastic_tank": "test_capacitive_plane.py::test_twin_rods_against_line_charges_in_layers",
    "detection.alias": "test_detection_association.py::test_the_samples_cannot_tell_a_hum_from_its_alias",
    "detection.chi_squared_probability": "test_detection_trend.py::test_limits_of_the_variance",
    "detection.cusum_decision_interval": "test_detection_run_length.py::test_design_of_the_decision_interval",
    "detection.cusum_run_length": "test_detection_run_length.py::test_cusum_against_a_chain_of_states",
    "detection.ewma_limit_factor": "test_detection_run_length.py::test_ewma_limit_factors_of_the_table",
    "detection.ewma_run_length": "test_detection_run_length.py::test_ewma_against_a_chain_of_states",
    "detection.ewma_limit": "test_detection_charts.py::test_limits_are_the_standard_deviation_of_the_average",
    "detection.repeat_probability": "test_detection_robust.py::test_repeats_against_quadrature",
    "detection.shewhart_run_length": "test_detection_run_length.py::test_shewhart_in_closed_form",
    "detection.step_chance": "test_detection_trend.py::test_the_chance_of_a_step_is_a_bound",
    "detection.t_probability": "test_detection_trend.py::test_probability_of_t",
    "detection.variance_lower_limit": "test_detection_trend.py::test_limits_of_the_variance",
    "detection.variance_upper_limit": "test_detection_trend.py::test_limits_of_the_variance",
    "media.column_water_density": "test_bypass_profile.py::test_the_mean_of_an_even_profile_against_quadrature",
    "media.flash_volume_ratio": "test_media_steam.py::test_flash_steam_that_stays",
    "magnets.bars_field_on_axis": "test_magnets_ring.py::test_bars_against_another_library",
    "magnets.bore_lean_shift": "test_magnets_lean.py::test_lean_against_another_library",
    "magnets.force_slope": "test_magnets_forces.py::test_slope_against_the_force",
    "magnets.lean_shift": "test_magnets_lean.py::test_lean_against_another_library",
    "magnets.ring_axial_field": "test_magnets_ring.py::test_fields_against_another_library",
    "magnets.ring_force": "test_magnets_forces.py::test_force_against_the_integral_of_hankel",
    "magnets.ring_radial_field": "test_magnets_ring.py::test_fields_against_another_library",
    "magnets.side_gradient": "test_magnets_ring.py::test_gradient_against_differences",
    "mechanics.arc_excess": "test_mechanics_stem.py::test_arc_by_quadrature",
    "echoes.parabola_bias": "test_echoes_bias.py::test_bias_of_the_parabola",
    "echoes.reflection_bias": "test_echoes_bias.py::test_bias_by_a_reflection",
    "floats.ring_buoyancy_centre": "test_floats_forms.py::test_centres_of_buoyancy_by_slices",
    "floats.settling_time_exact": "test_floats_response.py::test_settling_with_inertia",
    "floats.sphere_modes_difference": "test_floats_shell.py::test_a_ball_buckles_by_its_modes",
    "floats.cylinder_modes_difference": "test_floats_shell.py::test_a_cylinder_buckles_by_its_lobes",
    "floats.flat_end_factor": "test_floats_shell.py::test_flat_ends_against_the_equation_of_the_plate",
    "magnetostrictive.flight_time_through_gradient": "test_wave_flight.py::test_time_through_a_gradient",
    "magnetostrictive.gradient_error": "test_wave_flight.py::test_error_through_a_gradient",
    "magnetostrictive.reverberation_time": "test_wave_rate.py::test_waiting_time_by_tracing_images",
    "magnetostrictive.round_trips": "test_wave_rate.py::test_waiting_time_by_tracing_images",
    "magnetostrictive.tilt_mean": "test_wave_accuracy.py::test_one_sided_part_by_quadrature",
    "magnetostrictive.tilt_standard": "test_wave_accuracy.py::test_one_sided_part_by_quadrature",
    "media.ethanol_water_density": "test_media_ethanol.py::test_density",
    "media.densities_bend": "test_media_tabled.py::test_what_straight_lines_are_off_by",
    "media.ethanol_volume_factor": "test_media_strength.py::test_factor_on_the_volume",
    "media.coldest_row": "test_media_tabled.py::test_a_table_is_straight_between_its_rows",
    "media.hottest_row": "test_media_tabled.py::test_a_table_is_straight_between_its_rows",
    "media.least_base_density": "test_media_petroleum.py::test_a_group_reads_as_its_word_and_knows_its_ends",
    "media.greatest_base_density": "test_media_petroleum.py::test_a_group_reads_as_its_word_and_knows_its_ends",
    "media.mixed_volume": "test_media_strength.py::test_contraction",
    "media.own_expansion_base_density": "test_media_petroleum.py::test_own_expansion_closes_and_agrees_with_its_group",
    "media.own_expansion_density": "test_media_petroleum.py::test_own_expansion_closes_and_agrees_with_its_group",
    "media.petroleum_density": "test_media_petroleum.py::test_compressibility_and_the_factor_for_pressure",
    "media.petroleum_pressure_factor": "test_media_petroleum.py::test_compressibility_and_the_factor_for_pressure",
    "media.petroleum_temperature_factor": "test_media_petroleum.py::test_temperature_factor",
    "media.pressed_water_density": "test_media_steam.py::test_density_of_the_scientific_formulation",
    "media.proof_of_mass_fraction": "test_media_strength.py::test_proof_is_twice_the_per_cent_by_volume_at_60_degf",
    "media.rounded_density": "test_media_petroleum_rounding.py::test_by_hand",
    "media.rounded_factor": "test_media_petroleum_rounding.py::test_by_hand",
    "media.rounded_pressure_kPa": "test_media_petroleum_rounding.py::test_by_hand",
    "media.rounded_pressure_psi": "test_media_petroleum_rounding.py::test_by_hand",
    "media.rounded_temperature_degC": "test_media_petroleum_rounding.py::test_by_hand",
    "media.rounded_temperature_degF": "test_media_petroleum_rounding.py::test_by_hand",
    "media.saturated_steam_density": "test_media_steam.py::test_boiling_water_and_its_steam",
    "media.saturated_water_density": "test_media_steam.py::test_the_fitted_densities_against_their_source",
    "media.boiling_point": "test_media_steam.py::test_boiling_temperature",
    "media.boiling_pressure": "test_media_steam.py::test_saturation_pressure",
    "media.strength_of_mass_fraction": "test_media_strength.py::test_strength_by_volume_and_by_mass_are_one",
    "media.tabled_density": "test_media_tabled.py::test_a_table_is_straight_between_its_rows",
    "media.water_density": "test_media_water.py::test_printed_density",
    "media.ethanol_water_permittivity": "test_permittivity.py::test_ethanol_and_water_by_the_table",
    "media.fitted_half_width": "test_permittivity.py::test_what_the_handbook_contradicts_itself_by",
    "media.fitted_permittivity": "test_permittivity.py::test_a_polynomial_and_its_ends",
    "media.highest_fitted": "test_permittivity.py::test_a_polynomial_and_its_ends",
    "media.lowest_fitted": "test_permittivity.py::test_a_polynomial_and_its_ends",
    "media.water_permittivity": "test_permittivity.py::test_water_by_the_table_of_the_release",
    "vessels.box": "test_vessel_laws.py::test_a_full_vessel_wets_all_its_wall",
    "vessels.capacity": "test_vessel_laws.py::test_volume_rises_from_nothing_to_all",
    "vessels.cone": "test_vessel_volumes.py::test_a_cone_by_its_formula",
    "vessels.conical_end": "test_vessel_heads.py::test_handbook_volumes_of_the_other_ends",
    "vessels.course": "test_vessel_parts.py::test_courses_of_unlike_radius",
    "vessels.ellipsoidal_end": "test_vessel_heads.py::test_handbook_volumes_of_the_other_ends",
    "vessels.end_volume": "test_vessel_heads.py::test_full_volume",
    "vessels.even_part": "test_vessel_parts.py::test_a_coil_takes_room_evenly",
    "vessels.flat_end": "test_vessel_heads.py::test_handbook_volumes_of_the_other_ends",
    "vessels.highest": "test_vessel_laws.py::test_volume_rises_from_nothing_to_all",
    "vessels.hopper": "test_vessel_volumes.py::test_sphere_surface_hopper_profile_and_lean",
    "vessels.leaning_cylinder": "test_vessel_volumes.py::test_a_leaning_vessel_against_points",
    "vessels.less_part": "test_vessel_parts.py::test_a_pipe_takes_its_segment",
    "vessels.lowest": "test_vessel_laws.py::test_volume_rises_from_nothing_to_all",
    "vessels.lying_cylinder": "test_vessel_volumes.py::test_a_lying_end_against_quadrature",
    "vessels.lying_pipe_part": "test_vessel_parts.py::test_a_pipe_takes_its_segment",
    "vessels.metered_rows": "test_vessel_parts.py::test_metered_batches_make_a_table",
    "vessels.out_of_plumb": "test_vessel_parts.py::test_a_leaning_shell_has_the_section_of_its_ellipse",
    "vessels.round_part": "test_vessel_parts.py::test_a_ball_takes_its_cap",
    "vessels.spheroid": "test_vessel_volumes.py::test_sphere_surface_hopper_profile_and_lean",
    "vessels.stacked": "test_vessel_parts.py::test_courses_of_unlike_radius",
    "vessels.surface": "test_vessel_laws.py::test_the_surface_is_the_slope_of_the_volume",
    "vessels.tabled_vessel": "test_vessel_parts.py::test_a_table_is_read_straight_between_its_rows",
    "vessels.tilted_box": "test_vessel_volumes.py::test_a_tilted_box_against_points",
    "vessels.tilted_cylinder": "test_vessel_volumes.py::test_tilted_cylinders_against_points",
    "vessels.torispherical_end": "test_vessel_heads.py::test_depth_and_volume_of_the_usual_heads",
    "vessels.turned_profile": "test_vessel_volumes.py::test_sphere_surface_hopper_profile_and_lean",
    "vessels.upright_cylinder": "test_vessel_volumes.py::test_an_upright_end_against_quadrature",
    "vessels.upside_down": "test_vessel_laws.py::test_upside_down_twice_is_itself",
    "vessels.volume": "test_vessel_volumes.py::test_against_another_library",
    "vessels.wetted_area": "test_vessel_laws.py::test_a_full_vessel_wets_all_its_wall",
    "vessels.with_floating_roof": "test_vessel_parts.py::test_a_floating_roof_displaces_its_mass_once_it_floats",
    "vessels.with_part": "test_vessel_parts.py::test_parts_one_after_the_other_add",
    "vessels.with_stretch": "test_vessel_parts.py::test_a_shell_is_stretched_course_by_course",
}

# The words that stand for numbers without a unit.
DIMENSIONLESS = frozenset(
    "foam_permittivity gas_permittivity greatest_permittivity least_permittivity lower_permittivity upper_permittivity "
    "down_share error_share error_shares found_share span_shares up_share "
    "across added_mass_share added_permittivity added_reference_permittivity allowed_share along amplitude_ratio "
    "places turns "
    "amplitude_share api_gravity ball_knockdown base_permittivity base_reference_permittivity below beta "
    "beta_detected bits missed buckling_safety capacitance_fractions "
    "coating_permittivity coefficients consumer correlation count coverage_factor cylinder_knockdown "
    "degrees_of_freedom diagnostic_coverage diameters drag_coefficient end_reflection energy_to_noise factor "
    "filter_coefficient final_element_pfd first_pfd friction_factor full_scale_error growth half_width head_reflection "
    "host_permittivity inclusion_permittivity inclusion_share k knockdown largest_left largest_ratio lean "
    "least_energy_to_noise level_fractions limit limit_pfd liquid_permittivity logic_pfd loss_tangent_ratio losses "
    "lower_explosive_limit mass_fraction matrix meter_factor moisture_share most_per_interval noise_share obstructions "
    "offset packing_share "
    "outside outside_permittivity pairs pfd place point poisson_ratio polarity probability producer proof quality "
    "ratio ratios reduction reference_permittivity refined_difference reflection regime_ratio relative_density "
    "relative_permeability relative_permittivity resistance_share reynolds round_trips safety scale_error scale_u "
    "second_pfd sediment_and_water sensor_pfd share shares shell_factor sign size_factor slenderness slope slope_error "
    "soaking_share spread_left standard_share strength strouhal table_error table_u tape_error test_coverage "
    "threshold tolerance upper_explosive_limit value value_pfd void_share volume_correction wall_permittivity "
    "wanted_share with_aluminium without_aluminium yield_safety "
    "allowance balances chance chi_squared columns correlation_standard correlations decision_interval "
    "down_run_length high_share lag_samples leak_t leaving limit_factor low_share meter_error meter_error_u "
    "meter_t missing_share most_correlation moves rows run_length running sample score shift statistic statistics "
    "sums_down sums_up t tests tried_samples up_run_length wanted wanted_run_length weight widths window z".split()
)
# The words for numbers in the unit of whatever result they belong to.
OF_ANY_UNIT = frozenset(
    "accepted amplitude apart at contributions densities density distance edges expanded figures first grain guard "
    "high low lower mean more normal numbers off_high off_low ordered over parts points results row size specials "
    "standard symmetric_high symmetric_low u upper values x "
    "amplitudes least powers "
    "averages corrections covariance difference difference_standard imbalances intercept intercept_standard "
    "limits means medians other second slope_standard spectrum standards steps stretches variance".split()
)


def found() -> Iterator[Function]:
    """The tagged functions, where they are written."""
    for info in pkgutil.walk_packages(physics.__path__, "onedatum.physics."):
        module = importlib.import_module(info.name)
        for value in vars(module).values():
            if hasattr(value, "__formula__") and value.__module__ == module.__name__:
                yield value


FORMULAS = {tag_of(function).name: function for function in found()}


def of_kind(kind: str) -> list[Any]:
    return [pytest.param(f, id=name) for name, f in FORMULAS.items() if tag_of(f).kind == kind]


DEAR = {"magnets.snap_spacing", "magnets.lean_shift"}
"""Formulas that take a tenth of a second each time: tried from one set of arguments where others are from five."""
NUMBERED = {name: f for name, f in FORMULAS.items() if any(s.whole is None for s in tag_of(f).symbols)}
"""Formulas with at least one number among their parameters."""
each_numbered = pytest.mark.parametrize("function", [pytest.param(f, id=name) for name, f in NUMBERED.items()])
each = pytest.mark.parametrize("function", [pytest.param(f, id=name) for name, f in FORMULAS.items()])
SETS = 3 * DRAWS // 10
"""Sets of arguments that an equation is tried with: fifteen, and ten times as many in the long profile."""
drawing = settings(max_examples=15, suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow])
"""Of the few whose result is a root; a draw costs twenty times what an equation does."""


def test_no_name_is_given_twice() -> None:
    mine = {name: f for name, f in registry().items() if f.__module__.startswith("onedatum.physics.")}
    assert len(FORMULAS) > 30
    assert len(list(found())) == len(FORMULAS)
    assert mine == FORMULAS


# ---------------------------------------------------------------- what is printed is what is worked


@pytest.mark.parametrize("function", of_kind("explicit"))
def test_the_equation_gives_what_the_function_gives(function: Function) -> None:
    tag = tag_of(function)
    assert tag.equation
    tried = 0
    for chosen in some(tag, SETS, ends=True):
        values, tried = tag.by_symbol(chosen), tried + 1
        expected = float(tag.equation.right.evaluate(values))
        within = EXPLICIT_WITHIN * term_size(tag.equation.right, values)
        assert abs(float(function(**chosen)) - expected) <= within, chosen
    assert tried == SETS, "hardly anything lies within the validity"


@pytest.mark.parametrize("function", of_kind("implicit"))
@drawing
@given(data=st.data())
def test_the_result_makes_the_residual_zero(function: Function, data: st.DataObject) -> None:
    tag = tag_of(function)
    chosen = data.draw(arguments(tag))
    values = tag.by_symbol(chosen) | {tag.result.symbol: float(function(**chosen))}
    assert tag.residual
    assert abs(float(tag.residual.evaluate(values))) <= RESIDUAL_WITHIN * term_size(tag.residual, values)


@cache
def told_in(file: str) -> tuple[frozenset[str], frozenset[str]]:
    """The functions of a file of tests, and every name that stands in it."""
    tree = ast.parse((Path(__file__).parent / file).read_text(encoding="utf-8"))
    functions = (node.name for node in tree.body if isinstance(node, ast.FunctionDef))
    return frozenset(functions), frozenset(node.id for node in ast.walk(tree) if isinstance(node, ast.Name))


def test_every_procedure_has_an_independent_case() -> None:
    assert set(PROCEDURES) == {name for name, f in FORMULAS.items() if tag_of(f).kind == "procedure"}
    for name, place in PROCEDURES.items():
        file, _, test = place.partition("::")
        tests, used = told_in(file)
        assert test in tests, name
        assert FORMULAS[name].__name__ in used, f"{file} does not call {name}"


# ---------------------------------------------------------------- floats and arrays


def numbers_of(tag: Tag) -> list[Symbol]:
    """The parameters that are numbers."""
    return [symbol for symbol in tag.symbols if symbol.whole is None]


def an_array_gives_what_its_elements_give(function: Function) -> None:
    tag = tag_of(function)
    whole = first_wholes(tag)
    sets = list(some(tag, 8, fixed=whole))
    assert len(sets) == 8, "hardly anything lies within the validity"
    alone = [function(**chosen) for chosen in sets]
    assert all(isinstance(value, tag.result.whole or float) for value in alone)
    columns = {s.parameter: np.array([chosen[s.parameter] for chosen in sets]) for s in numbers_of(tag)}
    together = function(**whole, **columns)
    assert isinstance(together, tag.result.whole or np.ndarray)
    assert together.shape == (8,)
    square = {parameter: column.reshape(4, 2) for parameter, column in columns.items()}
    assert function(**whole, **square).shape == (4, 2)
    rows = in_numbers(together)
    for number, (chosen, value) in enumerate(zip(sets, alone, strict=True)):
        assert np.all(np.abs(rows[:, number] - in_numbers(value)) <= _rounding(tag, chosen, value))


def arguments_broadcast(function: Function) -> None:
    tag = tag_of(function)
    numbers = numbers_of(tag)
    first, last = numbers[0].parameter, numbers[-1].parameter
    sets = list(some(tag, 4, fixed=first_wholes(tag)))
    down, along = np.array([[s[first]] for s in sets[:3]]), np.array([[s[last] for s in sets]])
    if first == last:
        assert function(**first_wholes(tag), **{first: down}).shape == (3, 1)
        return
    with np.errstate(all="ignore"):
        grid = function(**(sets[0] | {first: down, last: along}))
    assert grid.shape == (3, 4)
    for row, column in np.ndindex(3, 4):
        chosen = sets[0] | {first: float(down[row, 0]), last: float(along[0, column])}
        if holds(tag, tag.by_symbol(chosen)):
            value = function(**chosen)
            found = in_numbers(grid)[:, row, column]
            assert np.all(np.abs(found - in_numbers(value)) <= _rounding(tag, chosen, value))


def _rounding(tag: Tag, chosen: Arguments, value: Any) -> Any:
    if tag.equation:
        return EXPLICIT_WITHIN * term_size(tag.equation.right, tag.by_symbol(chosen))
    return RESIDUAL_WITHIN * np.abs(in_numbers(value)) + SMALLEST


# ---------------------------------------------------------------- validity


def ends(symbol: Symbol) -> list[tuple[float, float]]:
    """For each end of an interval a number just inside and one just outside."""
    interval = symbol.interval
    assert interval is not None
    step = 1e-9 * (interval.high - interval.low)
    low = (interval.low + step, interval.low) if interval.open_low else (interval.low, interval.low - step)
    high = (interval.high - step, interval.high) if interval.open_high else (interval.high, interval.high + step)
    return [low, high]


def a_scalar_just_outside_is_refused_by_name(function: Function) -> None:
    tag = tag_of(function)
    base = next(some(tag, 1))
    for symbol in numbers_of(tag):
        for _, outside in ends(symbol):
            with pytest.raises(ValidityError) as caught:
                apply(function, base | {symbol.parameter: outside})
            assert caught.value.parameter == symbol.parameter
            assert caught.value.formula == tag.name


def a_scalar_just_inside_is_accepted_where_the_relations_allow(function: Function) -> None:
    tag = tag_of(function)
    accepted = 0
    for symbol in numbers_of(tag):
        for inside, _ in ends(symbol):
            for chosen in some(tag, 1, fixed={symbol.parameter: inside}, trials=100):
                applied = apply(function, chosen)
                assert np.all(np.isfinite(in_numbers(applied.value)))
                assert applied.outside == 0
                accepted += 1
    whole = {symbol.symbol for symbol in tag.symbols if symbol.whole}
    tied = {name for need in tag.requires if whole & set(need.relation.names) for name in need.relation.names}
    free = [symbol for symbol in numbers_of(tag) if symbol.symbol not in tied]
    assert accepted >= len(free), "most ends of the intervals cannot be reached"


def elements_outside_become_nan_and_are_counted(function: Function) -> None:
    tag = tag_of(function)
    base = next(some(tag, 1))
    for symbol in numbers_of(tag):
        outside = [number for _, number in ends(symbol)]
        column = np.array([base[symbol.parameter], *outside, np.nan])
        applied = apply(function, base | {symbol.parameter: column})
        assert applied.outside == 3
        missing = applied.value.missing() if tag.result.whole else np.isnan(applied.value)
        assert missing.tolist() == [False, True, True, True]


def a_broken_relation_is_refused_with_its_reason(function: Function) -> None:
    """Where the intervals alone admit something that a relation forbids, that relation is what refuses it."""
    tag = tag_of(function)
    for base in some(tag, 1 if tag.name in DEAR else 5):
        for symbol in numbers_of(tag):
            for inside, _ in ends(symbol):
                chosen = base | {symbol.parameter: inside}
                values = tag.by_symbol(chosen)
                broken = next((r for r in tag.requires if not r.relation.evaluate(values)), None)
                if broken:
                    with pytest.raises(ValidityError) as caught:
                        apply(function, chosen)
                    assert caught.value.why == broken.why


@each_numbered
def test_floats_and_arrays_are_worked_alike(function: Function) -> None:
    an_array_gives_what_its_elements_give(function)
    arguments_broadcast(function)


@each
def test_the_validity_is_kept(function: Function) -> None:
    a_scalar_just_outside_is_refused_by_name(function)
    a_scalar_just_inside_is_accepted_where_the_relations_allow(function)
    elements_outside_become_nan_and_are_counted(function)
    a_broken_relation_is_refused_with_its_reason(function)


# ---------------------------------------------------------------- what a formula says about itself

SECTIONS = ["Formula", "Parameters", "Returns", "Validity", "Source", "Example"]


def sections(text: str) -> dict[str, str]:
    """A docstring by its headings; what stands before the first one under an empty name."""
    parts = re.split(r"^(\w+)\n-+\n", text, flags=re.MULTILINE)
    return {"": parts[0]} | dict(zip(parts[1::2], parts[2::2], strict=True))


# Functions without a tag that hand out numbers: they keep the same order by hand.
PLAIN: list[Callable[..., Any]] = [
    magnets.magnet_material,
    magnets.usual_least_field,
    magnets.earth_field,
    magnets.usual_surroundings,
    mechanics.mechanics_rules,
    media.liquid_permittivity,
    detection.cusum,
    detection.cusum_alarms,
    detection.ewma,
    detection.shewhart,
    detection.first_order,
    detection.innovations,
    detection.hampel,
    detection.common_step,
    detection.difference_noise,
    detection.identical_runs,
    detection.censored,
    detection.regression,
    detection.line,
    detection.median_slope,
    detection.rank_trend,
    detection.step_search,
    detection.on_and_off,
    detection.lag_between,
    detection.line_amplitude,
    detection.fitted_line,
    detection.reconciled,
    detection.inventory_fit,
    echoes.ricker_autocorrelation,
    echoes.received_V,
    echoes.noisy_V,
    echoes.by_matched_filter,
    echoes.filtered_V,
    echoes.by_zero_crossing,
    echoes.by_threshold,
    echoes.identified,
    echoes.usual_echo,
    echoes.wrong_peaks,
    floats.float_materials,
    floats.float_material,
    floats.shell_rules,
    floats.best_floats,
    ignition.standard_atmosphere,
    ignition.class_limit_K,
    ignition.class_required,
    ignition.small_components,
    ignition.substance,
    ignition.aqueous_ethanol,
    ignition.half_rule_applies,
    ignition.ratio_serves,
    ignition.circuit_group,
    ignition.cable_defaults,
    ignition.plausible_capacitance_F,
    ignition.surface_limits,
    ignition.isolated_metal_limit,
    ignition.bonding_limit,
    ignition.breakdown_limits,
    ignition.light_metal_limits,
    ignition.conductivity_classes,
    ignition.filling_velocities,
    ignition.velocity_row,
    loop.core_resistance,
    loop.copper_temperature_coefficient,
    loop.hart_limits,
    loop.signal_state,
    loop.state_meanings,
    loop.usual_bands,
    magnetostrictive.dead_share_limit,
    magnetostrictive.profile_error_m,
    magnetostrictive.usual_budget,
    magnetostrictive.usual_speed,
    magnetostrictive.waveguide_material,
    overfill.overfill_facts,
    overfill.fault_tolerance_of,
    overfill.sil_band,
    overfill.least_fault_tolerance,
    overfill.highest_sil_by_architecture,
    overfill.rare_failures,
    overfill.pfd_by_markov,
    uncertainty.contributions,
    uncertainty.combined_standard,
    uncertainty.combined_standard_of_each,
    uncertainty.shares,
    uncertainty.expanded,
    uncertainty.correlation_matrix,
    uncertainty.least_eigenvalue,
    uncertainty.is_correlation,
    uncertainty.effective_degrees_of_freedom,
    uncertainty.coverage_factor,
    uncertainty.displacements,
    uncertainty.second_order_standard,
    uncertainty.draws,
    uncertainty.sobol_draws,
    uncertainty.shortest_interval,
    uncertainty.symmetric_interval,
    uncertainty.histogram,
    uncertainty.numerical_tolerance,
    uncertainty.outcome_of,
    uncertainty.monte_carlo,
    uncertainty.validated,
    uncertainty.conformance_probability,
    uncertainty.guard_band,
    uncertainty.acceptance_limits,
    uncertainty.decide,
    uncertainty.decision_rules,
    uncertainty.specific_risk,
    uncertainty.global_risks,
    uncertainty.risks_of_share,
]
SHOWING = FORMULAS | {function.__name__: function for function in PLAIN}
"""Everything that shows numbers, by name. What is only read, not worked, is looked through in one test each."""


def test_the_docstring_has_its_sections_in_order() -> None:
    for name, function in SHOWING.items():
        parts = sections(inspect.getdoc(function) or "")
        assert list(parts) == ["", *SECTIONS], name
        assert all(part.strip() for part in parts.values()), name
        assert parts[""].partition("\n")[0].endswith("."), name


def test_the_units_of_the_docstring_are_those_of_the_names() -> None:
    for name, function in FORMULAS.items():
        parts = sections(inspect.getdoc(function) or "")
        described = re.findall(r"^(\w+) : .*\n    .*\[(\S+)\]$", parts["Parameters"], flags=re.MULTILINE)
        tag = tag_of(function)
        kinds = [each.whole.called if each.whole else unit_of_name(each.parameter) or "1" for each in tag.symbols]
        assert described == list(zip(inspect.signature(function).parameters, kinds, strict=True)), name
        given = tag.result.whole.called if tag.result.whole else unit_of_name(function.__name__) or "1"
        assert re.findall(r"\[(\S+)\]$", parts["Returns"].strip()) == [given], name


@pytest.mark.parametrize("function", [pytest.param(f, id=name) for name, f in SHOWING.items()])
def test_the_example_runs(function: Function) -> None:
    names = vars(sys.modules[function.__module__]) | {function.__name__: function}
    test = doctest.DocTestParser().get_doctest(function.__doc__ or "", names, function.__name__, None, 0)
    assert any(function.__name__ in example.source for example in test.examples)
    told: list[str] = []
    assert doctest.DocTestRunner().run(test, out=told.append).failed == 0, "".join(told)


def test_every_symbol_means_something_and_is_used() -> None:
    for name, function in FORMULAS.items():
        tag = tag_of(function)
        symbols = [*tag.symbols, tag.result]
        assert all(symbol.symbol.isidentifier() and symbol.meaning.strip() for symbol in symbols), name
        assert len({symbol.symbol for symbol in tag.symbols}) == len(tag.symbols), name
        assert all(requirement.why.strip() for requirement in tag.requires), name
        if tag.equation:
            assert set(tag.equation.right.names) == {symbol.symbol for symbol in tag.symbols}, name
        if tag.residual:
            assert set(tag.residual.names) == {symbol.symbol for symbol in symbols}, name


def test_the_source_is_in_the_register() -> None:
    for name, function in FORMULAS.items():
        assert citation(tag_of(function).source).source.title, name


# ---------------------------------------------------------------- names carry their unit


def numbers_by_name() -> Iterator[tuple[str, str]]:
    """Every parameter and field of physics that is a number: where it stands, and its name."""
    for module in modules(PACKAGE / "physics"):
        for node in ast.walk(module.tree):
            named: list[tuple[str, ast.expr | None]] = []
            if isinstance(node, ast.FunctionDef):
                named = [
                    (a.arg, a.annotation) for a in (*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs)
                ]
            if isinstance(node, ast.ClassDef):
                named = [
                    (line.target.id, line.annotation)
                    for line in node.body
                    if isinstance(line, ast.AnnAssign) and isinstance(line.target, ast.Name)
                ]
            for name, annotation in named:
                if annotation and re.search(r"\b(float|Reals?|ArrayLike)\b", ast.unparse(annotation)):
                    yield f"{module.name}: {name}", name


def test_a_number_carries_its_unit_or_is_listed_as_having_none() -> None:
    names = list(numbers_by_name())
    assert len(names) > 100
    listed = DIMENSIONLESS | OF_ANY_UNIT
    assert [place for place, name in names if not unit_of_name(name) and name not in listed] == []
    assert {name for _, name in names} >= listed, "a word that is no longer used is taken off the list"
