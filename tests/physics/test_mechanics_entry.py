"""How a stem gets in, what fills it, and where the linear beam ends: drawn arcs, the elastica, figures of the data."""

from __future__ import annotations

from dataclasses import fields

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_bvp
from scipy.optimize import minimize_scalar

from onedatum.foundation.sources import citation
from onedatum.physics.mechanics import (
    bending_frequency_Hz,
    bending_stiffness_N_m2,
    entry_height_m,
    filled_line_mass_kg_per_m,
    guided_deflection_m,
    line_mass_in_liquid_kg_per_m,
    line_mass_kg_per_m,
    mechanics_rules,
    nozzle_clearance_m,
    side_load_N_per_m,
    tip_deflection_m,
    tube_second_moment_m4,
)
from tests.closeness import close, exact

STIFF = float(bending_stiffness_N_m2(193e9, tube_second_moment_m4(0.012, 0.010)))


def elastica_tip(load: float, length: float) -> float:
    """Deflection of the tip of a clamped beam under an even load across, its slope as large as it comes."""
    share = load * length**3 / STIFF

    def rate(s: np.ndarray, y: np.ndarray) -> np.ndarray:
        return np.vstack([y[1], -share * (1 - s) * np.cos(y[0])])

    def ends(a: np.ndarray, b: np.ndarray) -> np.ndarray:
        return np.array([a[0], b[1]])

    solved = solve_bvp(rate, ends, np.linspace(0, 1, 200), np.zeros((2, 200)), tol=1e-10)
    s = np.linspace(0, 1, 20_001)
    return length * float(np.trapezoid(np.sin(solved.sol(s)[0]), s))


@pytest.mark.parametrize(("length", "within"), [(2.0, 1e-4), (3.0, 5e-4), (6.0, 0.025)])
def test_where_the_linear_beam_ends(length: float, within: float) -> None:
    """12 x 1 mm in water at 0.3 m/s: at 6 m the metre of the linear beam is 2.3 % too much, at 3 m next to nothing."""
    load = side_load_N_per_m(1000.0, 1.2, 0.012, 0.3)
    linear, true = float(tip_deflection_m(load, length, STIFF)), elastica_tip(float(load), length)
    assert linear > true
    close(linear, true, within * true, "slopes that are not small")


def test_greatest_deflection_of_a_guided_stem_by_search() -> None:
    found = minimize_scalar(
        lambda s: -(s**2) * (1 - s) * (3 - 2 * s) / 48, bounds=(0, 1), method="bounded", options={"xatol": 1e-12}
    )
    close(guided_deflection_m(1.0, 1.0, 1.0), -found.fun, 1e-12, "greatest value, flat about its place")


@given(st.floats(0.0, 2.0), st.floats(0.01, 2.0))
def test_height_of_a_bent_stem_by_drawing_it(stiff: float, radius: float) -> None:
    """The heading turns from upright past level, a short piece at a time: the top of the arc is the height."""
    heading = np.linspace(np.pi / 2, -np.pi / 4, 6001)
    pieces = radius * 0.75 * np.pi / 6000 * np.sin((heading[:-1] + heading[1:]) / 2)
    drawn = stiff + float(np.max(np.cumsum(pieces)))
    close(entry_height_m(stiff, radius), drawn, 1e-6 * drawn, "short pieces")


def test_a_filling_slows_the_stem() -> None:
    """In water 2.27 Hz empty (worked independently); flooded, by hand: 0.2730 + 0.1129 + 0.0784 kg/m, 2.07 Hz."""
    empty = line_mass_in_liquid_kg_per_m(7900.0, 998.0, 0.012, 0.010)
    flooded = filled_line_mass_kg_per_m(empty, 998.0, 0.010)
    close(flooded, 0.2730 + 0.1129 + 0.0784, 2e-4, "by hand, four figures")
    close(bending_frequency_Hz(2.0, STIFF, flooded), 2.07, 0.005, "2.27 Hz times the root of 0.3859 over 0.4643")


@given(st.floats(0.001, 0.5), st.floats(0.01, 0.99), st.floats(1.0, 20000.0))
def test_a_tube_filled_with_its_own_metal_is_a_rod(outer: float, bore: float, density: float) -> None:
    tube = line_mass_kg_per_m(density, outer, bore * outer)
    rod = float(line_mass_kg_per_m(density, outer, 0.0))
    close(filled_line_mass_kg_per_m(tube, density, bore * outer), rod, 1e-12 * rod, "rounding")


def test_a_float_in_its_nozzle() -> None:
    """52.5 mm through 57 mm leaves 4.5 mm: less than the 5 mm of common practice."""
    gap = nozzle_clearance_m(0.057, 0.0525)
    close(gap, 0.0045, 1e-15, "by hand")
    assert gap < mechanics_rules().nozzle_gap_m.value


def test_figures_say_where_they_stand() -> None:
    """Pull 100 to 300 N, gap 5 mm, 200 mm over the length, from common practice; drag and eddies from memory."""
    rules = mechanics_rules()
    kept = [rules.pull_low_N.value, rules.pull_high_N.value, rules.nozzle_gap_m.value, rules.handling_m.value]
    exact(kept, [100.0, 300.0, 0.005, 0.2])
    exact([rules.drag_coefficient.value, rules.strouhal.value], [1.2, 0.2])
    for field in fields(rules):
        rule = getattr(rules, field.name)
        assert citation(rule.source).source.tag == rule.tag
