"""How a float answers to density, force, deposit and drag."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from onedatum.physics.floats import (
    bored_sphere_height_m,
    bored_sphere_immersion_m,
    bored_sphere_volume_m3,
    bored_sphere_waterplane_m2,
    combined_stiffness_N_per_m,
    cylinder_immersion_m,
    cylinder_section_m2,
    deeper_m,
    density_window_kg_per_m3,
    displaced_volume_m3,
    gap_drag_N_s_per_m,
    heave_period_s,
    immersion_per_density_m4_per_kg,
    lag_m,
    lifted_mass_kg,
    loaded_mass_kg,
    mean_density_kg_per_m3,
    meniscus_shift_m,
    middle_density_kg_per_m3,
    moved_by_force_m,
    settling_time_exact_s,
    settling_time_s,
    soaked_mass_kg,
    stiction_band_m,
    stiffness_N_per_m,
    window_share,
    with_deposit_kg,
)
from tests.closeness import close
from tests.reference import Case, case

MM, G = 1e-3, 9.80665


def section(stated: Case) -> float:
    return float(cylinder_section_m2(stated.value("D"), stated.value("d_hole")))


def ball(stated: Case, mass_kg: float) -> tuple[float, float]:
    """Immersion and height of the ball of a case."""
    height = float(bored_sphere_height_m(2 * stated.value("R"), 2 * stated.value("hole_radius")))
    sunk = bored_sphere_immersion_m(mass_kg, bored_sphere_volume_m3(height), height, stated.value("rho_l"), 0.0)
    return float(sunk), height


@pytest.mark.parametrize("identity", ["floats-H04", "floats-H05"])
def test_a_ball_answers_to_density(identity: str) -> None:
    stated = case(identity)
    sunk, height = ball(stated, stated.value("m"))
    displaced = displaced_volume_m3(stated.value("m"), bored_sphere_volume_m3(height), stated.value("rho_l"), 0.0)
    area = bored_sphere_waterplane_m2(sunk, height)
    stated.check(float(immersion_per_density_m4_per_kg(displaced, stated.value("rho_l"), 0.0, area)) / MM)


def test_a_cylinder_answers_to_density() -> None:
    stated = case("floats-H07")
    displaced = displaced_volume_m3(stated.value("m"), section(stated) * stated.value("H"), stated.value("rho_l"), 0.0)
    stated.check(float(immersion_per_density_m4_per_kg(displaced, stated.value("rho_l"), 0.0, section(stated))) / MM)


def test_an_interface_float_answers_to_the_upper_liquid() -> None:
    stated = case("floats-H10")
    sunk = [
        cylinder_immersion_m(
            stated.value("m"), section(stated), stated.value("H"), stated.value("rho_lower"), stated.value(upper)
        )
        for upper in ("rho_upper_1", "rho_upper_2")
    ]
    stated.check(float(sunk[1] - sunk[0]) / MM)


def test_band_of_friction() -> None:
    stated = case("floats-H12")
    stiff = stiffness_N_per_m(stated.value("rho_l"), 0.0, section(stated), G)
    stated.check(float(stiction_band_m(stated.value("F"), stiff)) / MM)


def test_band_of_friction_of_a_ball_is_not_linear() -> None:
    stated = case("floats-H13")
    rising, _ = ball(stated, float(loaded_mass_kg(stated.value("m"), stated.value("F"), G)))
    falling, _ = ball(stated, float(lifted_mass_kg(stated.value("m"), stated.value("F"), G)))
    stated.check(float(deeper_m(rising, falling)) / MM)


def test_deposit_on_a_ball() -> None:
    stated = case("floats-H14")
    clean, _ = ball(stated, stated.value("m"))
    dirty, _ = ball(stated, float(with_deposit_kg(stated.value("m"), stated.value("dm"))))
    stated.check((dirty - clean) / MM)


def test_soaking_counts_as_mass() -> None:
    close(soaked_mass_kg(0.043, 0.03), with_deposit_kg(0.043, 0.03 * 0.043), 1e-15, "the same mass")


def test_period_of_heave() -> None:
    stated = case("floats-H16")
    stiff = stiffness_N_per_m(stated.value("rho_l"), 0.0, section(stated), G)
    stated.check(float(heave_period_s(stated.value("m"), stated.value("added_mass_ratio"), stiff)))


def drag(stated: Case) -> float:
    return float(
        gap_drag_N_s_per_m(stated.value("mu"), stated.value("r_stem"), stated.value("L_bore"), stated.value("gap"))
    )


def test_settling_without_inertia() -> None:
    stated = case("floats-H17a")
    stiff = stiffness_N_per_m(stated.value("rho_l"), 0.0, section(stated), G)
    stated.check(float(settling_time_s(drag(stated), stiff)))


def test_settling_with_inertia() -> None:
    stated = case("floats-H17b")
    stiff = float(stiffness_N_per_m(stated.value("rho_l"), 0.0, section(stated), G))
    mass, damping = stated.value("effective_mass"), drag(stated)
    found = float(settling_time_exact_s(mass, damping, stiff))
    stated.check(found)
    by_steps = solve_ivp(
        lambda t, z: [z[1], -(damping * z[1] + stiff * z[0]) / mass],
        (0, found),
        [1.0, 0.0],
        rtol=1e-10,
        atol=1e-13,
        method="LSODA",
    )
    close(by_steps.y[0, -1], 0.05, 1e-7, "the equation of motion, step by step")


def test_a_float_lags_by_its_drag() -> None:
    """Released from the surface of a level that rises steadily, it ends up as far behind as the formula says."""
    damping, stiff, rate = 11.3, 16.9, 0.002
    by_steps = solve_ivp(lambda t, z: [stiff / damping * (rate * t - z[0])], (0, 20), [0.0], rtol=1e-10, atol=1e-13)
    close(rate * 20 - by_steps.y[0, -1], lag_m(rate, damping, stiff), 1e-8, "the equation of motion, step by step")


def test_pull_of_a_magnet_on_an_interface_float() -> None:
    """An interface float of 14.4 cm2 between 998 and 830 kg/m3 yields 6.9 mm to 16.4 mN (worked by hand)."""
    stiff = stiffness_N_per_m(998.0, 830.0, 14.365e-4, G)
    close(stiff, 2.3667, 1e-4, "168 kg/m3 times g times 14.365 cm2")
    close(moved_by_force_m(0.0164, stiff), 6.93e-3, 1e-5, "force over stiffness")
    close(1 / combined_stiffness_N_per_m(17.746, stiff), 1 / 17.746 + 1 / float(stiff), 1e-12, "springs in series")


def test_bands_of_interface_floats_widen_as_the_window_closes() -> None:
    """0.02 N on 14.31 cm2: 9.5, 16.9, 28, 57, 142 mm for windows of 300, 168, 100, 50, 20 kg/m3 (derived by hand)."""
    windows = np.array([300.0, 168.0, 100.0, 50.0, 20.0])
    area = cylinder_section_m2(0.045, 0.014)
    bands = stiction_band_m(0.02, stiffness_N_per_m(998.0, 998.0 - windows, area, G)) / MM
    close(bands, np.array([9.5, 16.9, 28.4, 56.8, 142.0]), 0.1, "printed to 0.1 or 1 mm")


def test_place_in_the_window() -> None:
    density = mean_density_kg_per_m3(0.0655, cylinder_section_m2(0.045, 0.014) * 0.05)
    close(density, 912.0, 0.5, "printed to 1 kg/m3")
    close(density_window_kg_per_m3(998.0, 830.0), 168.0, 1e-12, "difference")
    share = float(window_share(density, upper_density_kg_per_m3=830.0, lower_density_kg_per_m3=998.0))
    sunk = cylinder_immersion_m(0.0655, cylinder_section_m2(0.045, 0.014), 0.05, 998.0, 830.0)
    close(share, float(sunk) / 0.05, 1e-12, "the immersed share is the place in the window")


def test_the_middle_density_rides_half_in_each_liquid() -> None:
    middle = middle_density_kg_per_m3(998.0, 830.0)
    close(middle, 914.0, 1e-12, "by hand")
    section = float(cylinder_section_m2(0.045, 0.014))
    close(cylinder_immersion_m(middle * section * 0.05, section, 0.05, 998.0, 830.0), 0.025, 1e-15, "half of 50 mm")
    close(window_share(middle, 830.0, 998.0), 0.5, 1e-15, "the middle of the window")


def test_wetting_shifts_the_waterline_by_its_force() -> None:
    """Water on 50 mm: 0.6 mm at most (derived: pi D gamma over rho g pi D^2/4)."""
    shift = meniscus_shift_m(0.072, 998.2, 1.2, 0.050, G)
    stiff = stiffness_N_per_m(998.2, 1.2, np.pi / 4 * 0.05**2, G)
    close(shift, moved_by_force_m(np.pi * 0.05 * 0.072, stiff), 1e-15, "force all around over stiffness")
    close(shift, 0.6e-3, 0.02e-3, "printed to 0.1 mm")
