"""Flow across a stem, its swing, its sag, the room it needs: against beams solved anew and worked figures."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad, solve_bvp
from scipy.linalg import eigh

from onedatum.physics.mechanics import (
    allowed_stress_Pa,
    arc_excess_m,
    bending_frequency_Hz,
    bending_stiffness_N_m2,
    guided_bending_frequency_Hz,
    guided_deflection_m,
    guided_stress_Pa,
    insertion_headroom_m,
    least_clearance_m,
    line_mass_in_liquid_kg_per_m,
    line_mass_kg_per_m,
    mechanics_rules,
    resonance_velocity_m_per_s,
    root_stress_Pa,
    sag_m,
    shedding_frequency_Hz,
    side_load_N_per_m,
    small_arc_excess_m,
    stress_margin_Pa,
    tip_deflection_m,
    tube_second_moment_m4,
    velocity_share,
    weight_pull_N,
)
from tests.closeness import close
from tests.reference import case

MM, STEEL_Pa, STEEL_KG_PER_M3 = 1e-3, 193e9, 7900.0
SECOND = float(tube_second_moment_m4(0.012, 0.010))
STIFF = float(bending_stiffness_N_m2(STEEL_Pa, SECOND))


def beam(load: float, length: float, held: bool) -> tuple[float, float]:
    """Greatest deflection and root moment of a clamped beam, its equation solved over the length."""

    def rate(x: np.ndarray, y: np.ndarray) -> np.ndarray:
        return np.vstack([y[1], y[2], y[3], np.full_like(x, load / STIFF)])

    def ends(a: np.ndarray, b: np.ndarray) -> np.ndarray:
        return np.array([a[0], a[1], b[2], b[0] if held else b[3]])

    x = np.linspace(0, length, 400)
    solved = solve_bvp(rate, ends, x, np.zeros((4, 400)), tol=1e-10)
    fine = np.linspace(0, length, 20_001)
    return float(np.abs(solved.sol(fine)[0]).max()), float(abs(solved.sol(0.0)[2]) * STIFF)


def frequency(length: float, mass: float, held: bool, count: int = 30) -> float:
    """First bending frequency by finite elements of a beam."""
    e = length / count
    k = STIFF / e**3 * np.array([[12, 6 * e, -12, 6 * e], [6 * e, 4 * e**2, -6 * e, 2 * e**2], [-12, -6 * e, 12, -6 * e], [6 * e, 2 * e**2, -6 * e, 4 * e**2]])  # fmt: skip # noqa: E501
    m = mass * e / 420 * np.array([[156, 22 * e, 54, -13 * e], [22 * e, 4 * e**2, 13 * e, -3 * e**2], [54, 13 * e, 156, -22 * e], [-13 * e, -3 * e**2, -22 * e, 4 * e**2]])  # fmt: skip # noqa: E501
    size = 2 * (count + 1)
    stiffness, inertia = np.zeros((size, size)), np.zeros((size, size))
    for i in range(count):
        part = slice(2 * i, 2 * i + 4)
        stiffness[part, part] += k
        inertia[part, part] += m
    free = [i for i in range(2, size) if not (held and i == size - 2)]
    squares = eigh(stiffness[np.ix_(free, free)], inertia[np.ix_(free, free)], eigvals_only=True)
    return float(np.sqrt(squares[0]) / (2 * np.pi))


def test_a_free_stem_bends_as_its_beam() -> None:
    deflection, moment = beam(1.8, 2.0, held=False)
    close(tip_deflection_m(1.8, 2.0, STIFF), deflection, 1e-6 * deflection, "collocation")
    stress = moment * 0.006 / SECOND
    close(root_stress_Pa(1.8, 2.0, SECOND, 0.012), stress, 1e-5 * stress, "moment over section")


def test_a_guided_stem_bends_as_its_beam() -> None:
    deflection, moment = beam(1.8, 2.0, held=True)
    close(guided_deflection_m(1.8, 2.0, STIFF), deflection, 1e-6 * deflection, "collocation")
    stress = moment * 0.006 / SECOND
    close(guided_stress_Pa(1.8, 2.0, SECOND, 0.012), stress, 1e-5 * stress, "moment over section")


def test_worked_side_load() -> None:
    """12 mm, 0.5 m/s, water, C_d 1.2 (from memory): 1.8 N/m; 2 m of 12 x 1 mm: 35 mm at the tip, 41 MPa at the root."""
    load = side_load_N_per_m(998.0, mechanics_rules().drag_coefficient.value, 0.012, 0.5)
    close(load, 1.8, 0.05, "printed to 0.1 N/m")
    close(STIFF, 101.7, 0.05, "printed to 0.1 N m2")
    close(tip_deflection_m(load, 2.0, STIFF) / MM, 35.0, 0.5, "printed to the mm")
    close(root_stress_Pa(load, 2.0, SECOND, 0.012) / 1e6, 41.0, 0.5, "printed to the MPa")


def test_a_long_stem_in_a_slow_flow_moves_a_metre() -> None:
    """12 x 1 mm, 0.3 m/s: 65 mm at 3 m, 1.03 m at 6 m (worked independently)."""
    load = side_load_N_per_m(998.0, 1.2, 0.012, 0.3)
    close(tip_deflection_m(load, 3.0, STIFF) / MM, 65.0, 1.0, "printed to the mm, density not printed")
    close(tip_deflection_m(load, 6.0, STIFF), 1.03, 0.01, "printed to the cm")


def test_bending_frequency_of_the_reference() -> None:
    stated = case("floats-L01")
    outer, inner, length = stated.value("do"), stated.value("di"), stated.value("L")
    stiffness = bending_stiffness_N_m2(stated.value("E"), tube_second_moment_m4(outer, inner))
    mass = line_mass_kg_per_m(stated.value("rho"), outer, inner)
    stated.check(float(bending_frequency_Hz(length, stiffness, mass)))


@pytest.mark.parametrize("held", [False, True])
def test_bending_frequencies_by_finite_elements(held: bool) -> None:
    mass = float(line_mass_kg_per_m(STEEL_KG_PER_M3, 0.012, 0.010))
    function = guided_bending_frequency_Hz if held else bending_frequency_Hz
    expected = frequency(2.0, mass, held)
    close(function(2.0, STIFF, mass), expected, 1e-5 * expected, "30 elements")


def test_in_water_it_swings_slower_and_resounds_at_a_crawl() -> None:
    """2.27 Hz in water, shedding at 8.3 Hz at 0.5 m/s, resonance at 0.14 m/s (worked independently)."""
    mass = line_mass_in_liquid_kg_per_m(STEEL_KG_PER_M3, 998.0, 0.012, 0.010)
    swings = bending_frequency_Hz(2.0, STIFF, mass)
    close(swings, 2.27, 0.01, "printed to 0.01 Hz")
    close(shedding_frequency_Hz(0.5, 0.012, 0.2), 8.3, 0.05, "printed to 0.1 Hz")
    critical = resonance_velocity_m_per_s(swings, 0.012, mechanics_rules().strouhal.value)
    close(critical, 0.14, 0.005, "printed to 0.01 m/s")
    close(velocity_share(critical, critical), 1.0, 1e-15, "at the resonance")
    close(shedding_frequency_Hz(critical, 0.012, 0.2), swings, 1e-12, "eddies in time with the stem")


def test_a_flexible_stem_reads_long() -> None:
    exact, small = case("floats-L02a"), case("floats-L02b")
    inputs = exact.value("q"), exact.value("L"), exact.value("T")
    exact.check(float(arc_excess_m(*inputs)) / MM)
    sag = sag_m(*inputs)
    close(sag / MM, 81.0, 0.5, "printed to the mm")
    small.check(float(small_arc_excess_m(sag, inputs[1])) / MM)


@pytest.mark.parametrize("load", [1e-3, 1.8, 20.0, 60.0])
def test_arc_by_quadrature(load: float) -> None:
    length, pull = 6.0, 100.0
    steep = load / pull
    excess, _ = quad(lambda x: (steep * x) ** 2 / (np.sqrt(1 + (steep * x) ** 2) + 1), -length / 2, length / 2)
    close(arc_excess_m(load, length, pull), excess, 1e-9 * excess, "excess summed up along the parabola")


def test_pull_of_a_weight_is_its_weight_less_its_buoyancy() -> None:
    volume = 10.0 / 7900.0
    close(weight_pull_N(10.0, 998.0, 7900.0, 9.80665), (10.0 - 998.0 * volume) * 9.80665, 1e-11, "Archimedes")


def test_rooms_and_margins_by_hand() -> None:
    close(insertion_headroom_m(3.13, mechanics_rules().handling_m.value), 3.33, 1e-12, "3.13 m and 200 mm")
    close(least_clearance_m(0.00288, 0.020), 0.02288, 1e-15, "sum")
    close(stress_margin_Pa(allowed_stress_Pa(170e6, 1.5), 41e6) / 1e6, 72.333, 1e-3, "170/1.5 - 41")
