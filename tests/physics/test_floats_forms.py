"""Balls, rings and cylinders: what lies below the surface, where its centre is, where the float rides."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from onedatum.physics.floats import (
    bored_sphere_buoyancy_centre_m,
    bored_sphere_height_m,
    bored_sphere_immersion_m,
    bored_sphere_submerged_m3,
    bored_sphere_volume_m3,
    bored_sphere_waterline_radius_m,
    bored_sphere_waterplane_m2,
    cylinder_buoyancy_centre_m,
    cylinder_submerged_m3,
    grown_m,
    lean_rad,
    metacentric_height_m,
    metacentric_radius_m,
    ring_buoyancy_centre_m,
    ring_centre_radius_m,
    ring_half_width_m,
    ring_height_m,
    ring_immersion_m,
    ring_inner_waterline_radius_m,
    ring_outer_waterline_radius_m,
    ring_submerged_m3,
    ring_volume_m3,
    ring_waterplane_m2,
    waterplane_inertia_m4,
)
from tests.closeness import close
from tests.reference import Case, case

MM, CM3 = 1e-3, 1e-6
BY_SLICES = "adaptive quadrature of the sections"
TUBE, CENTRE, BALL_HEIGHT, SECTION = 0.012, 0.030, 0.0746, 0.0018


def ball_section(x: float) -> float:
    """A ball of 76.2 mm with a bore of 15.24 mm: circle less circle, from the rim of the bore up."""
    radius, bore = 0.0381, 0.00762
    half = np.sqrt(radius**2 - bore**2)
    return float(np.pi * (radius**2 - (x - half) ** 2 - bore**2))


def ring_section(x: float) -> float:
    """A ring as outer circle less inner one."""
    half = np.sqrt(max(TUBE**2 - (TUBE - x) ** 2, 0.0))
    return float(np.pi * ((CENTRE + half) ** 2 - (CENTRE - half) ** 2))


HEIGHT = float(bored_sphere_height_m(0.0762, 0.01524))
FORMS: dict[str, tuple[Callable[[float], float], Callable[[float], float], float]] = {
    "ball": (ball_section, lambda x: float(bored_sphere_submerged_m3(x, HEIGHT)), HEIGHT),
    "ring": (ring_section, lambda x: float(ring_submerged_m3(x, TUBE, CENTRE)), 2 * TUBE),
    "cylinder": (lambda x: SECTION, lambda x: float(cylinder_submerged_m3(x, SECTION)), 0.06),
}
each_form = pytest.mark.parametrize("form", FORMS)
shares = pytest.mark.parametrize("share", [0.05, 0.3, 0.5, 0.77, 1.0])


@each_form
@shares
def test_submerged_volume_by_slices(form: str, share: float) -> None:
    section, submerged, height = FORMS[form]
    by_slices, _ = quad(section, 0.0, share * height, epsabs=1e-18, epsrel=1e-12, limit=400)
    close(submerged(share * height), by_slices, 1e-9 * by_slices, BY_SLICES)


@each_form
@shares
def test_centres_of_buoyancy_by_slices(form: str, share: float) -> None:
    section, submerged, height = FORMS[form]
    at = share * height
    moment, _ = quad(lambda x: x * section(x), 0.0, at, epsabs=1e-20, epsrel=1e-12, limit=400)
    centres = {
        "ball": bored_sphere_buoyancy_centre_m(at, height),
        "ring": ring_buoyancy_centre_m(at, TUBE),
        "cylinder": cylinder_buoyancy_centre_m(at),
    }
    close(centres[form], moment / submerged(at), 1e-8 * height, BY_SLICES)


def test_waterplanes_are_the_slopes_of_the_volumes() -> None:
    x, step = np.linspace(0.003, 0.020, 7), 1e-7
    slopes = (
        (ring_submerged_m3(x + step, TUBE, CENTRE) - ring_submerged_m3(x - step, TUBE, CENTRE)) / (2 * step),
        (bored_sphere_submerged_m3(x + step, HEIGHT) - bored_sphere_submerged_m3(x - step, HEIGHT)) / (2 * step),
    )
    close(ring_waterplane_m2(x, TUBE, CENTRE), slopes[0], 1e-9, "central difference")
    close(bored_sphere_waterplane_m2(x, HEIGHT), slopes[1], 1e-9, "central difference")


def test_a_ring_is_as_high_as_its_tube_and_full_at_its_top() -> None:
    close(ring_height_m(TUBE), 2 * TUBE, 1e-18, "rounding")
    close(ring_submerged_m3(2 * TUBE, TUBE, CENTRE), ring_volume_m3(TUBE, CENTRE), 1e-18, "rounding")


def ball(stated: Case, density: str, gas: float = 0.0, mass_kg: float | None = None, growth: float = 1.0) -> float:
    """The waterline above the middle of a ball, in mm."""
    height = float(bored_sphere_height_m(2 * stated.value("R"), 2 * stated.value("hole_radius"))) * growth
    mass = stated.value("m") if mass_kg is None else mass_kg
    sunk = bored_sphere_immersion_m(mass, bored_sphere_volume_m3(height), height, stated.value(density), gas)
    return (float(sunk) - height / 2) / MM


def test_balls_of_the_reference() -> None:
    stated = case("floats-H01")
    height = bored_sphere_height_m(2 * stated.value("R"), 2 * stated.value("hole_radius"))
    stated.check(float(bored_sphere_volume_m3(height)) / CM3)
    for identity in ("floats-H02", "floats-H03"):
        case(identity).check(ball(case(identity), "rho_l"))
    gas = case("floats-H11")
    gas.check(ball(gas, "rho_l", gas.value("rho_g")) - ball(gas, "rho_l"))


def test_a_warm_ball_grows() -> None:
    stated = case("floats-H15")
    growth = float(grown_m(1.0, stated.value("alpha"), stated.value("dT")))
    stated.check(ball(stated, "rho_l", stated.value("rho_g"), growth=growth))


def test_ring_of_the_reference() -> None:
    stated = case("floats-H08")
    sunk = ring_immersion_m(
        stated.value("m"), stated.value("r_tube"), stated.value("R_centre"), stated.value("rho_l"), 0
    )
    stated.check(float(sunk) / MM)


def test_a_ring_that_hardly_dips_in() -> None:
    """Limit of a shallow segment, to the first two powers: c = sqrt(2 r x), S = 4/3 c x (1 - 3/20 x/r), KB = 3/5 x."""
    tube = 0.3
    for immersion in (1e-9, 1e-6, 1e-4):
        area = 4 / 3 * np.sqrt(2 * tube * immersion) * immersion * (1 - 0.15 * immersion / tube)
        volume = 2 * np.pi * 0.5 * area
        close(ring_submerged_m3(immersion, tube, 0.5), volume, 1e-7 * volume, "next term (x/r)^2")
        sunk = ring_immersion_m(volume * 800.0, tube, 0.5, 800.0, 0.0)
        close(sunk, immersion, 1e-7 * immersion, "next term (x/r)^2")
    close(ring_buoyancy_centre_m(1e-6, tube), 0.6e-6, 1e-4 * 0.6e-6, "first power")


def test_rings_of_many_densities_at_once() -> None:
    density = np.array([700.0, 850.0, 1000.0, 2000.0])
    sunk = ring_immersion_m(0.055, TUBE, CENTRE, density, 1.2)
    borne = density * ring_submerged_m3(sunk, TUBE, CENTRE) + 1.2 * (
        ring_volume_m3(TUBE, CENTRE) - ring_submerged_m3(sunk, TUBE, CENTRE)
    )
    close(borne, np.full(4, 0.055), 1e-12, "Archimedes' principle")


def test_second_moment_of_a_waterline_by_polar_sums() -> None:
    outer, inner = 0.025, 0.007
    by_sums, _ = quad(lambda r: np.pi * r**3, inner, outer)
    close(waterplane_inertia_m4(outer, inner), by_sums, 1e-18, "integral of y^2 over rings: pi r^3 dr")


def test_waterline_radii() -> None:
    at = 0.02
    close(
        np.pi * bored_sphere_waterline_radius_m(at, 0.0762, HEIGHT) ** 2 - np.pi * 0.00762**2,
        ball_section(at),
        1e-12,
        "section",
    )
    half = ring_half_width_m(at, TUBE)
    outer, inner = ring_outer_waterline_radius_m(CENTRE, half), ring_inner_waterline_radius_m(CENTRE, half)
    close(np.pi * (outer**2 - inner**2), ring_section(at), 1e-12, "section")
    close(ring_waterplane_m2(at, TUBE, CENTRE), ring_section(at), 1e-12, "section")


def test_a_ring_is_upright_by_its_wide_waterline() -> None:
    """A ring of 84 mm half immersed: the second moment of its waterline by slices across, KB by its half circle."""
    half = ring_half_width_m(TUBE, TUBE)
    outer, inner = (float(r(CENTRE, half)) for r in (ring_outer_waterline_radius_m, ring_inner_waterline_radius_m))

    def across(y: float) -> float:
        return float(2 * (np.sqrt(outer**2 - y**2) - np.sqrt(max(inner**2 - y**2, 0.0))))

    by_slices, _ = quad(lambda y: y**2 * across(y), -outer, outer, points=[-inner, inner], epsabs=1e-16)
    inertia = waterplane_inertia_m4(outer, inner)
    close(inertia, by_slices, 1e-9 * by_slices, BY_SLICES)
    radius = metacentric_radius_m(inertia, ring_volume_m3(TUBE, CENTRE) / 2)
    centre = ring_buoyancy_centre_m(TUBE, TUBE)
    close(centre, TUBE * (1 - 4 / (3 * np.pi)), 1e-15, "centroid of a half circle")
    close(metacentric_height_m(centre, radius, TUBE), centre + radius - TUBE, 1e-15, "sum")
    assert metacentric_height_m(centre, radius, TUBE) > 0.02


def test_a_ring_by_its_outside_dimensions() -> None:
    centre = float(ring_centre_radius_m(0.084, 0.024))
    close(centre + ring_height_m(TUBE) / 2, 0.042, 1e-15, "half of 84 mm")


def test_a_long_slender_float_of_even_mass_leans() -> None:
    """A float of a bypass chamber, 45 mm by 260 mm, immersed 190 mm: KB 95 mm, BM D^2/(16 x), KG 130 mm, GM -34 mm."""
    sunk, diameter = 0.19, np.sqrt(0.75e-3 * 16 * 0.19)
    section = np.pi / 4 * diameter**2
    radius = metacentric_radius_m(waterplane_inertia_m4(diameter / 2, 0.0), section * sunk)
    close(radius, 0.75e-3, 1e-9, "D^2/(16 x) of a full circle")
    upright = metacentric_height_m(cylinder_buoyancy_centre_m(sunk), radius, 0.130)
    close(upright, -34.25e-3, 1e-6, "95 + 0.75 - 130 mm")


def test_the_sign_of_the_metacentric_height_is_that_of_the_righting_moment() -> None:
    """A disc in two dimensions of slices: turn it by a small angle and compare the moments about its centre of mass."""
    diameter, height, sunk, gravity = 0.08, 0.03, 0.018, 0.014
    section = np.pi / 4 * diameter**2
    radius = metacentric_radius_m(waterplane_inertia_m4(diameter / 2, 0.0), section * sunk)
    angle = 1e-4
    arm = moment_arm(diameter, height, sunk, gravity, angle)
    upright = metacentric_height_m(cylinder_buoyancy_centre_m(sunk), radius, gravity)
    close(arm / angle, upright, 1e-3 * abs(float(upright)), "second order in the angle")


def moment_arm(diameter: float, height: float, sunk: float, gravity: float, angle: float) -> float:
    """Horizontal distance of the centre of buoyancy from the centre of mass of a tilted cylinder, by columns."""
    y, weight = np.polynomial.legendre.leggauss(400)
    y, weight = y * diameter / 2, weight * diameter / 2
    wide = 2 * np.sqrt((diameter / 2) ** 2 - y**2)
    wet = sunk + y * np.tan(angle)
    assert np.all((wet > 0) & (wet < height))
    volume = np.sum(weight * wide * wet)
    along, up = np.sum(weight * wide * wet * y) / volume, np.sum(weight * wide * wet**2 / 2) / volume
    return float(along * np.cos(angle) + (up - gravity) * np.sin(angle))


def test_lean_of_a_float_with_play() -> None:
    """Turned as far as two opposite corners of the bore touch the stem: never more, and nearly that for a small play.

    A bore of width b and length L that leans by theta leaves b cos(theta) - L sin(theta) for the stem.
    """
    bore, length = 0.016, 0.060
    for play in (0.0005, 0.004):
        touching = brentq(lambda a, c=play: bore * np.cos(a) - length * np.sin(a) - (bore - c), 0.0, 0.5, xtol=1e-15)
        lean = float(lean_rad(play, length))
        assert lean >= touching
        narrower = bore * lean / (2 * length)
        close(lean, touching, 1.05 * narrower * touching, "the leaning bore is narrower by b*(1 - cos(theta))")
