"""Capacitive probes in closed form: the published field solutions, complex numbers, and ladders of small cells."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.physics.capacitive import (
    bare_loss_limit_ratio,
    before_strip_radius_m,
    before_wall_radius_m,
    between_walls_radius_m,
    by_reference_section_m,
    changed_slope_share,
    closed_through_F,
    coated_capacitance_F_per_m,
    coated_conductance_S_per_m,
    conductive_from_S_per_m,
    crossover_conductivity_S_per_m,
    drained_film_m,
    film_depth_m,
    film_extra_m,
    film_greatest_m,
    film_left_m,
    film_loss_m,
    film_resistance_ohm_per_m,
    in_series_F_per_m,
    insulating_up_to_S_per_m,
    level_read_m,
    line_capacitance_F_per_m,
    line_conductance_S_per_m,
    line_inductance_H_per_m,
    loss_tangent_ratio,
    off_axis_radius_m,
    phase_length_rad,
    probe_capacitance_F,
    regime_ratio,
    sensitivity_F_per_m,
    square_radius_m,
    through_wall_F,
    two_rods_radius_m,
    wave_excess_share,
)
from onedatum.physics.capacitive.constants import VACUUM_PERMITTIVITY_F_PER_M as EPS
from tests.closeness import close
from tests.reference import Case, case

PF, MM, KHZ, US_PER_CM, MS_PER_CM = 1e-12, 1e-3, 1e3, 1e-4, 0.1

radii = st.floats(0.002, 0.05)
permittivities = st.floats(1.0, 100.0)


def half(given_: Case, name: str) -> float:
    """A radius from the diameter that the case states in mm."""
    return float(given_.value(name)) * MM / 2


def tank_of(given_: Case) -> tuple[float, float, float]:
    """Core, coating and wall of a coated rod on the axis of a round tank."""
    return half(given_, "core_diameter"), half(given_, "coating_outer_diameter"), half(given_, "tank_diameter")


def layers(given_: Case, permittivity: float) -> tuple[float, float]:
    """Capacitance per length of the coating, and of coating and liquid in series."""
    core, coating, wall = tank_of(given_)
    first = line_capacitance_F_per_m(core, coating, given_.value("coating_eps_r"))
    second = line_capacitance_F_per_m(coating, wall, permittivity)
    return float(first), float(in_series_F_per_m(first, second))


# ---------------------------------------------------------------- per length


def test_rods_before_every_kind_of_wall() -> None:
    """Against Laplace's equation solved by boundary integral and finite elements."""
    on_axis = case("capacitance-coax_bare_air")
    a, wall = half(on_axis, "rod_diameter"), half(on_axis, "tank_diameter")
    on_axis.check(line_capacitance_F_per_m(a, wall, 1.0) / PF)
    off = case("capacitance-ecc_rod_3m")
    radius = off_axis_radius_m(a, half(off, "tank_diameter"), off.value("offset") * MM)
    off.check(line_capacitance_F_per_m(a, radius, off.value("eps_r")) / PF)
    plane = case("capacitance-rod_plane")
    plane.check(line_capacitance_F_per_m(a, before_wall_radius_m(a, plane.value("axis_to_wall") * MM), 1.0) / PF)
    two = case("capacitance-two_rods_equal")
    radius = two_rods_radius_m(a, half(two, "rod2_diameter"), two.value("spacing") * MM)
    two.check(line_capacitance_F_per_m(a, radius, two.value("eps_r")) / PF)
    tube = case("capacitance-concentric_tube_ethanol")
    tube.check(line_capacitance_F_per_m(half(tube, "rod_diameter"), half(tube, "tube_id"), tube.value("eps_r")) / PF)
    square = case("capacitance-square_tank")
    square.check(line_capacitance_F_per_m(a, square_radius_m(square.value("side") * MM), 1.0) / PF)
    planes = case("capacitance-rod_two_planes")
    planes.check(line_capacitance_F_per_m(a, between_walls_radius_m(planes.value("plane_gap") * MM), 1.0) / PF)


def test_a_strip_is_within_the_error_the_formula_states() -> None:
    thin, field = case("capacitance-rod_strip_thin"), case("capacitance-rod_strip_field")
    a, far, wide = half(thin, "rod_diameter"), thin.value("axis_to_strip") * MM, thin.value("strip_width") * MM
    found = line_capacitance_F_per_m(a, before_strip_radius_m(far, wide), 1.0) / PF
    thin.check(found)
    off = float(found) / field.expected - 1
    assert -4e-4 < off < -3e-4


def test_layers_in_series() -> None:
    oil = case("capacitance-coated_oil")
    oil.check(layers(oil, oil.value("eps_r"))[1] / PF)
    wet = case("capacitance-coated_conductive")
    wet.check(layers(wet, 80.0)[0] / PF)
    wax = case("capacitance-wax_film_conductive")
    b = half(wax, "coating_outer_diameter")
    film = line_capacitance_F_per_m(b, b + wax.value("film") * MM, wax.value("film_eps_r"))
    wax.check(in_series_F_per_m(layers(wax, 80.0)[0], film) / PF)


@given(radii, st.floats(0.2, 5.0), st.floats(0.0, 0.9))
def test_near_the_wall_of_a_wide_tank_the_wall_is_flat(rod: float, wall: float, where: float) -> None:
    """The exact circle tends to the exact plane; on the axis it is the tank itself."""
    close(off_axis_radius_m(rod, wall, 0.0), wall, 1e-12 * wall, "on the axis")
    gap = 0.3
    close(off_axis_radius_m(rod, 1e5, 1e5 - gap), before_wall_radius_m(rod, gap), 1e-5, "a circle nearly flat")
    off = where * (wall - rod)
    assert off_axis_radius_m(rod, wall, off) <= wall * (1 + 1e-12)
    # A rod and its image are two rods twice as far apart: half the capacitance.
    twins = line_capacitance_F_per_m(rod, two_rods_radius_m(rod, rod, 2 * gap), 1.0)
    close(2 * twins, line_capacitance_F_per_m(rod, before_wall_radius_m(rod, gap), 1.0), 1e-20, "image in the wall")


def test_a_lossy_liquid_leaks_by_the_same_field() -> None:
    shunt = case("capacitance-bare_shunt_R")
    a, wall = half(shunt, "rod_diameter"), half(shunt, "tank_diameter")
    sigma = shunt.value("conductivity") * US_PER_CM
    g = line_conductance_S_per_m(a, wall, sigma)
    shunt.check(1 / (g * shunt.value("immersed") * MM))
    close(line_capacitance_F_per_m(a, wall, 80.0) / g, EPS * 80.0 / sigma, 1e-20, "R C = epsilon/sigma, any geometry")


def test_a_long_rod_at_a_high_frequency_seems_longer() -> None:
    """0.1 per cent at 4.9 m and 100 kHz, at 0.49 m and 1 MHz (derived: theta squared over 3)."""
    l_, c = line_inductance_H_per_m(0.005, 0.5), 347.2e-12
    for f, length in ((100e3, 4.9), (1e6, 0.49)):
        theta = phase_length_rad(f, l_, c, length)
        close(wave_excess_share(theta), theta**2 / 3, 2e-6, "two fifteenths of the fourth power follow")
        close(wave_excess_share(theta), 1e-3, 2e-5, "where it reaches a thousandth")
    # A ladder of 4000 cells, open at its end: admittance at the head.
    f, length, cells = 1e6, 5.0, 4000
    step, w = length / cells, 2 * np.pi * 1e6
    y = 0.0 + 0.0j
    for _ in range(cells):
        y += 1j * w * c * step
        y = 1 / (1 / y + 1j * w * float(l_) * step)
    seen = wave_excess_share(phase_length_rad(f, l_, c, length))
    close(y.imag / (w * c * length) - 1, seen, 1e-3, "ladder of cells")


# ---------------------------------------------------------------- regimes


def by_complex(given_: Case) -> complex:
    """Capacitance per length with the permittivity of the liquid as a complex number."""
    core, coating, wall = tank_of(given_)
    w = 2 * np.pi * given_.value("frequency") * KHZ
    liquid = given_.value("eps_r") - 1j * given_.value("conductivity") * US_PER_CM / (w * EPS)
    return complex(
        2 * np.pi * EPS / (np.log(coating / core) / given_.value("coating_eps_r") + np.log(wall / coating) / liquid)
    )


def test_a_coated_rod_between_the_regimes() -> None:
    c_case, g_case = case("capacitance-coated_complex_C"), case("capacitance-coated_complex_G")
    whole, series = layers(c_case, c_case.value("eps_r"))
    f = c_case.value("frequency") * KHZ
    sigma = c_case.value("conductivity") * US_PER_CM
    m = regime_ratio(loss_tangent_ratio(sigma, crossover_conductivity_S_per_m(f, c_case.value("eps_r"))), whole, series)
    c, g = coated_capacitance_F_per_m(whole, series, m), coated_conductance_S_per_m(f, whole, series, m)
    c_case.check(c / PF)
    g_case.check(g / 1e-6)
    exact = by_complex(c_case)
    close(c, exact.real, 1e-22, "real part")
    close(g, -2 * np.pi * f * exact.imag, 1e-17, "imaginary part")


@given(st.floats(1e-6, 1e2), st.floats(1e4, 1e7), permittivities, st.floats(1.5, 10.0))
def test_regimes_by_complex_numbers(sigma: float, f: float, liquid: float, coating: float) -> None:
    whole = float(line_capacitance_F_per_m(0.005, 0.007, coating))
    series = float(in_series_F_per_m(whole, line_capacitance_F_per_m(0.007, 1.0, liquid)))
    m = regime_ratio(loss_tangent_ratio(sigma, crossover_conductivity_S_per_m(f, liquid)), whole, series)
    w = 2 * np.pi * f
    lossy = liquid - 1j * sigma / (w * EPS)
    exact = 2 * np.pi * EPS / (np.log(1.4) / coating + np.log(1.0 / 0.007) / lossy)
    close(coated_capacitance_F_per_m(whole, series, m), exact.real, 1e-12 * whole, "real part")
    close(coated_conductance_S_per_m(f, whole, series, m), -w * exact.imag, 1e-12 * w * whole, "imaginary part")


def test_where_a_liquid_is_conductive() -> None:
    cross = case("capacitance-sigma_crossover_water")
    cross.check(crossover_conductivity_S_per_m(cross.value("frequency") * KHZ, cross.value("eps_r")) / US_PER_CM)
    full = case("capacitance-sigma_saturation_0p1")
    whole, series = layers(full, full.value("eps_r"))
    crossover = crossover_conductivity_S_per_m(full.value("frequency") * KHZ, full.value("eps_r"))
    limit = conductive_from_S_per_m(crossover, whole, series, 1 - full.value("fraction"))
    full.check(limit / US_PER_CM)
    at = regime_ratio(loss_tangent_ratio(limit, crossover), whole, series)
    close(coated_capacitance_F_per_m(whole, series, at), 0.999 * whole, 1e-12 * whole, "by the whole formula")
    low = insulating_up_to_S_per_m(crossover, whole, series, 0.001)
    at = regime_ratio(loss_tangent_ratio(low, crossover), whole, series)
    close(coated_capacitance_F_per_m(whole, series, at), 1.001 * series, 1e-12 * whole, "by the whole formula")
    assert low < crossover < limit


def test_a_bare_rod_bears_little_loss() -> None:
    """0.1 per cent at 0.045 of the crossover (derived), by the size of a complex number."""
    limit = float(bare_loss_limit_ratio(0.001))
    close(abs(1 - 1j * limit), 1.001, 1e-15, "size of the admittance")
    close(limit, 0.045, 5e-4, "as the rule of thumb has it")


# ---------------------------------------------------------------- films


def ladder(length: float, resistance: float, capacitance: float, frequency: float, cells: int = 4000) -> complex:
    """Admittance of a film by small cells, from its open end down."""
    step, w = length / cells, 2 * np.pi * frequency
    y = 0.0 + 0.0j
    for _ in range(cells):
        y = 1 / (1 / (y + 0.5j * w * capacitance * step) + resistance * step) + 0.5j * w * capacitance * step
    return y


def film_of(given_: Case) -> tuple[float, float, float]:
    """Resistance of the film, capacitance of the coating, frequency."""
    b = half(given_, "coating_outer_diameter")
    r = film_resistance_ohm_per_m(b, given_.value("film") * MM, given_.value("film_conductivity") * MS_PER_CM)
    return float(r), layers(given_, 80.0)[0], given_.value("frequency") * KHZ


def test_a_film_is_a_line() -> None:
    long, finite = case("capacitance-film_infinite_extra"), case("capacitance-film_finite_G")
    r, c, f = film_of(long)
    depth = film_depth_m(f, r, c)
    long.check(film_extra_m(50 * depth, depth) / MM)
    length = finite.value("film_length") * MM
    finite.check(2 * np.pi * f * c * film_loss_m(length, depth) / 1e-6)


@pytest.mark.parametrize("length", [0.01, 0.05, 0.1, 0.1355, 0.2, 0.5])
def test_films_of_every_length_by_small_cells(length: float) -> None:
    r, c, f = film_of(case("capacitance-film_finite_G"))
    depth, w = film_depth_m(f, r, c), 2 * np.pi * f
    cells = ladder(length, r, c, f)
    close(film_extra_m(length, depth), cells.imag / (w * c), 2e-7, "capacitance")
    close(film_loss_m(length, depth), cells.real / (w * c), 2e-7, "conductance")
    close(film_left_m(length, depth), film_extra_m(length, depth) - film_loss_m(length, depth), 1e-15, "what is left")


def test_the_worst_film_is_not_the_longest() -> None:
    """1.36 times the long film, at 0.94 depths (derived)."""
    lengths = np.linspace(0.01, 6.0, 60000)
    extra = np.asarray(film_extra_m(lengths, 1.0))
    close(float(extra.max()), film_greatest_m(1.0), 1e-7, "greatest by search")
    close(float(lengths[extra.argmax()]), 0.93755, 2e-4, "where")
    close(float(extra[-1]), 0.5, 1e-4, "a long one")


# ---------------------------------------------------------------- the meter


def test_partly_filled() -> None:
    part = case("capacitance-partial_fill_bare")
    a, wall = half(part, "rod_diameter"), half(part, "tank_diameter")
    wet = line_capacitance_F_per_m(a, wall, part.value("eps_liquid"))
    dry = line_capacitance_F_per_m(a, wall, part.value("eps_gas"))
    level, length = part.value("level") * MM, part.value("active_length") * MM
    part.check(probe_capacitance_F(part.value("stray") * PF, wet, dry, level, length) / PF)
    slope = case("capacitance-sensitivity_bare")
    slope.check(sensitivity_F_per_m(wet, dry) / PF * MM)


def test_another_permittivity_shows_in_the_reading() -> None:
    bare, coated = case("capacitance-eps_error_2pt"), case("capacitance-eps_error_2pt_coated")
    names = ("eps_now", "eps_cal", "eps_gas")
    now, set_, gas = (float(line_capacitance_F_per_m(0.005, 0.5, bare.value(name))) for name in names)
    bare.check(100 * changed_slope_share(now - gas, set_ - gas))
    now, set_, gas = (layers(coated, coated.value(name))[1] for name in names)
    coated.check(100 * changed_slope_share(now - gas, set_ - gas))


@given(st.floats(0.2, 2.4), permittivities.filter(lambda e: e > 1.2), st.floats(-20e-12, 200e-12))
def test_two_points_hide_what_is_constant(level: float, liquid: float, stray: float) -> None:
    """A straight probe set at two levels reads every other; a reference section needs no setting for the liquid."""
    wet, dry = (float(line_capacitance_F_per_m(0.005, 0.5, e)) for e in (liquid, 1.0))

    def at(height: float) -> float:
        return float(probe_capacitance_F(stray, wet, dry, height, 2.5))

    close(level_read_m(at(level), at(0.3), at(2.2), 0.3, 2.2), level, 1e-9, "by two points")
    section = [float(probe_capacitance_F(0.0, wet, dry, height, 0.1)) for height in (0.1, 0.0)]
    close(by_reference_section_m(0.1, at(level), at(0.0), *section), level, 1e-9, "by the reference section")


def test_a_coated_rod_in_a_plastic_tank_of_caustic() -> None:
    """The worked scenario: two rods, the film that a viscous liquid leaves, and the tank without the second rod."""
    whole = case("scenarios-B")
    coat = float(line_capacitance_F_per_m(0.005, 0.007, 2.1))
    air = float(line_capacitance_F_per_m(0.007, two_rods_radius_m(0.007, 0.008, 0.150), 1.0))
    dry = float(in_series_F_per_m(coat, air))
    whole.check(coat / PF, "Cs_pF_m")
    whole.check(air / PF, "Cair_pF_m")
    whole.check(dry / PF, "Cser_pF_m")
    whole.check(sensitivity_F_per_m(coat, dry) / PF, "dC_dh_pF_m")

    def at(level: float) -> float:
        return float(probe_capacitance_F(0.0, coat, dry, level - 0.05, 2.45))

    for level, name in ((0.15, "C_150_pF"), (1.6, "C_1600_pF"), (2.2, "C_2200_pF")):
        whole.check(at(level) / PF, name)
    floor = through_wall_F(np.pi * 1.15**2, 0.020, 2.3)
    whole.check(floor / PF, "floor_pF")
    alone = closed_through_F(at(1.6), floor)
    whole.check(alone / PF, "no_reference_C_pF")
    whole.check(100 * (alone / at(1.6) - 1), "no_reference_error_pct")
    film = drained_film_m(0.078, 1.0, 1525.3, 9.80665, 60.0)
    whole.check(film / MM, "film_mm")
    r = film_resistance_ohm_per_m(0.007, film, 20.0)
    depth = film_depth_m(100e3, r, coat)
    whole.check(depth, "delta_100kHz_m")
    whole.check(depth / 2 / MM, "Leq_100kHz_mm")
    whole.check(film_depth_m(1e6, r, coat) / 2 / MM, "Leq_1MHz_mm")
    for level, name in ((1.6, "1600"), (1.0, "1000")):
        whole.check(film_extra_m(2.5 - level, depth) / MM, f"film_error_at_{name}_mm")
        whole.check(film_left_m(2.5 - level, depth) / MM, f"film_error_at_{name}_after_phase_compensation_mm")
    whole.check(film_greatest_m(depth) / MM, "film_error_greatest_mm")
