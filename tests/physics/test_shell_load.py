"""The shell under the head of its liquid, against quadrature, thick rings, a shell held at its foot, and limits."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from scipy.integrate import quad, solve_bvp

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Real
from onedatum.foundation.working import apply
from onedatum.physics.vessels.shell_load import (
    course_expansion_area_m2,
    course_expansion_m3,
    empty_tank_correction_m,
    head_Pa_gauge,
    uniform_shell_expansion_m3,
)
from tests.closeness import close, exact
from tests.reference import Case, case

MM, GPA = 1e-3, 1e9
RADIUS, PLATE, MODULUS, DENSITY, G = 10.0, 0.012, 206e9, 850.0, 9.80665
SHELL = (RADIUS, PLATE, MODULUS, DENSITY, G)
BOTTOM, TOP = 2.0, 4.5
LEVELS = [0.0, 1.9, 2.0, 2.3, 4.4, 4.5, 4.6, 12.0]


def ring_m2(height: float, level: float) -> float:
    """Section that a ring at a height gains: 2 pi r times p r**2/(E t)."""
    pressure = DENSITY * G * (level - height) if level > height else 0.0
    return 2 * np.pi * RADIUS * pressure * RADIUS**2 / (MODULUS * PLATE)


def shell_of(given: Case) -> tuple[float, ...]:
    return given.value("E") * GPA, given.value("rho"), given.value("g")


# ---------------------------------------------------------------- volume gained


def test_uniform_shell() -> None:
    given = case("quantity-C03")
    plate = given.value("t") * MM
    given.check(uniform_shell_expansion_m3(given.value("h"), given.value("r"), plate, *shell_of(given)))
    given.check(course_expansion_m3(given.value("h"), 0.0, 20.0, given.value("r"), plate, *shell_of(given)))


def test_shell_of_six_courses() -> None:
    given = case("quantity-C04")
    plates = np.array(given.value("courses")) * MM
    edges = given.value("course_height") * np.arange(len(plates) + 1)
    courses = edges[:-1], edges[1:], given.value("r"), plates, *shell_of(given)
    gains = np.asarray(course_expansion_m3(given.value("h"), *courses))
    given.check(np.sum(gains))
    assert gains[-1] == 0.0, "the sixth course is dry"


@pytest.mark.parametrize("level", LEVELS)
def test_expansion_against_quadrature(level: float) -> None:
    kink = [level] if BOTTOM < level < TOP else None
    wanted, error = quad(ring_m2, BOTTOM, TOP, args=(level,), points=kink)
    assert error < 1e-12
    found = course_expansion_m3(level, BOTTOM, TOP, *SHELL)
    if level <= BOTTOM:
        exact([found, wanted], [0.0, 0.0])
    else:
        close(found, wanted, 1e-13 * wanted, "rounding")


def test_a_level_column_gives_what_its_levels_give() -> None:
    one_by_one = [float(course_expansion_m3(level, BOTTOM, TOP, *SHELL)) for level in LEVELS]
    exact(course_expansion_m3(np.array(LEVELS), BOTTOM, TOP, *SHELL), one_by_one)
    assert np.all(np.diff(one_by_one) >= 0)


def test_the_area_is_the_slope_of_the_gain() -> None:
    step = 1e-4
    for level in (2.3, 3.3, 4.4, 4.6, 12.0):
        above, below = (course_expansion_m3(level + s, BOTTOM, TOP, *SHELL) for s in (step, -step))
        area = float(course_expansion_area_m2(level, BOTTOM, TOP, *SHELL))
        close(
            (above - below) / (2 * step), area, 1e-8 * area, "difference of a parabola or a line: rounding over 0.2 mm"
        )


@pytest.mark.parametrize("level", LEVELS)
def test_the_area_against_the_integrand(level: float) -> None:
    """d/dh of the ring is 2 pi rho g r**3/(E t) where wet; over the wet height by quadrature; and back to the gain."""
    wet = min(max(level, BOTTOM), TOP)
    wanted, _ = quad(lambda z: ring_m2(z, z + 1.0), BOTTOM, wet)
    area = course_expansion_area_m2(level, BOTTOM, TOP, *SHELL)
    gained, _ = quad(
        lambda h: float(course_expansion_area_m2(h, BOTTOM, TOP, *SHELL)), 0.0, level, points=[BOTTOM, TOP]
    )
    if level <= BOTTOM:
        exact([area, wanted, gained], [0.0, 0.0, 0.0])
    else:
        close(area, wanted, 1e-12 * wanted, "rounding")
        close(course_expansion_m3(level, BOTTOM, TOP, *SHELL), gained, 1e-9 * gained, "quadrature over two kinks")


def test_courses_of_one_thickness_add_up_to_the_uniform_shell() -> None:
    edges = np.array([0.0, 0.7, 2.0, 4.5, 4.6, 11.0, 30.0])
    parts = sum(float(course_expansion_m3(12.0, low, high, *SHELL)) for low, high in pairwise(edges))
    whole = uniform_shell_expansion_m3(12.0, *SHELL)
    close(parts, whole, 1e-14, "rounding")
    areas = np.sum(course_expansion_area_m2(12.0, edges[:-1], edges[1:], *SHELL))
    close(areas, 2 * whole / 12.0, 1e-14, "slope of a square: twice the value over the level")


def test_in_proportion_to_density_and_the_other_way_to_thickness() -> None:
    base = course_expansion_m3(12.0, BOTTOM, TOP, *SHELL)
    close(course_expansion_m3(12.0, BOTTOM, TOP, RADIUS, PLATE / 2, MODULUS, DENSITY, G), 2 * base, 1e-15, "rounding")
    close(course_expansion_m3(12.0, BOTTOM, TOP, RADIUS, PLATE, MODULUS, 1000.0, G), base / 0.85, 1e-15, "rounding")


def test_first_order_is_enough() -> None:
    """pi ((r + d)**2 - r**2) in full: half the strain above the straight line, here 2e-4 of the gain."""

    def full_m2(height: float) -> float:
        stretch = DENSITY * G * (12.0 - height) * RADIUS**2 / (MODULUS * PLATE)
        return float(np.pi * stretch * (2 * RADIUS + stretch))

    wanted, _ = quad(full_m2, 0.0, 12.0)
    close(uniform_shell_expansion_m3(12.0, *SHELL), wanted, 5e-4 * wanted, "half the largest strain, 4e-4/2, and more")


# ---------------------------------------------------------------- what the thin ring leaves out


def test_a_thick_ring_moves_as_far_within_the_thickness_over_the_radius() -> None:
    """Lamé, inside pressure, free ends: u = p r/E ((R**2 + r**2)/(R**2 - r**2) + nu), against p r**2/(E t)."""
    pressure, outside = 1e5, RADIUS + PLATE
    thick_m = pressure * RADIUS / MODULUS * ((outside**2 + RADIUS**2) / (outside**2 - RADIUS**2) + 0.3)
    around = empty_tank_correction_m(2 * np.pi * RADIUS, pressure, RADIUS, PLATE, MODULUS)
    close(-around / (2 * np.pi), thick_m, PLATE / RADIUS * thick_m, "thickness over radius, 0.12 %")


def test_what_a_bottom_that_holds_the_foot_takes_away() -> None:
    """Cylinder under axisymmetric load, D w'''' + E t w/r**2 = p, foot clamped: 0.78 sqrt(r t) of the shell are lost.

    Solved as a boundary value problem over 4 m, the height in units of sqrt(r t).
    """
    unit, depth, nu = float(np.sqrt(RADIUS * PLATE)), 12.0, 0.3
    flexibility = RADIUS**2 / (MODULUS * PLATE)
    stiff = 12 * (1 - nu**2)

    def free(x: Any) -> Any:
        return flexibility * DENSITY * G * (depth - unit * x)

    def slopes(x: Any, w: Any) -> Any:
        return np.vstack([w[1], w[2], w[3], stiff * (free(x) - w[0])])

    def ends(foot: Any, top: Any) -> Any:
        return np.array([foot[0], foot[1], top[2], top[3]])

    heights = np.linspace(0.0, 4.0 / unit, 400)
    shell = solve_bvp(slopes, ends, heights, np.vstack([free(heights), np.zeros((3, 400))]), tol=1e-8, max_nodes=20000)
    assert shell.success
    held_m3 = 2 * np.pi * RADIUS * unit * quad(lambda x: shell.sol(x)[0], 0.0, heights[-1], limit=200)[0]
    stated_m3 = course_expansion_m3(depth, 0.0, 4.0, *SHELL)
    lost_m3 = 0.78 * unit * ring_m2(0.0, depth)
    close(stated_m3 - held_m3, lost_m3, 0.05 * lost_m3, "the head falls by 3 % along the lost length")
    assert shell.sol(2.0)[0] > 0.95 * free(2.0), "above 2 sqrt(r t) the shell is nearly free"


# ---------------------------------------------------------------- strapped while filled


def test_strap_on_a_filled_tank_worked_by_hand() -> None:
    given = case("quantity-strap-filled")
    pressure = head_Pa_gauge(given.value("h"), given.value("z"), given.value("rho"), given.value("g"))
    given.check(pressure, "pressure")
    plate, modulus = given.value("t") * MM, given.value("E") * GPA
    given.check(empty_tank_correction_m(given.value("C"), pressure, given.value("r"), plate, modulus), "correction")


def test_nothing_to_correct_above_the_level() -> None:
    heads = np.asarray(head_Pa_gauge(3.0, np.array([2.9, 3.0, 3.1, 12.0]), DENSITY, G))
    close(heads[0], DENSITY * G * 0.1, 1e-9, "rounding of 3.0 - 2.9")
    exact(heads[1:], [0.0, 0.0, 0.0])
    exact(np.abs(empty_tank_correction_m(62.9, heads[1:], RADIUS, PLATE, MODULUS)), [0.0, 0.0, 0.0])


def test_the_correction_takes_back_the_stretch() -> None:
    """An empty shell of known length, stretched and strapped: the correction finds it, to second order."""
    empty_m, strain = 62.8, 1e5 * RADIUS / (MODULUS * PLATE)
    strapped_m = empty_m * (1 + strain)
    found = strapped_m + empty_tank_correction_m(strapped_m, 1e5, RADIUS, PLATE, MODULUS)
    close(found, empty_m, 1.01 * empty_m * strain**2, "square of the strain, 1.6e-7")


@pytest.mark.parametrize("level", [3.0, 12.0])
def test_stretch_of_the_girth_and_gain_of_the_course_are_one_thing(level: float) -> None:
    """Law: the gain is the girth stretched, times the radius, over the height: dV/dz = r dC."""

    def gain_m2(height: float) -> float:
        head = head_Pa_gauge(level, height, DENSITY, G)
        return float(-RADIUS * empty_tank_correction_m(2 * np.pi * RADIUS, head, RADIUS, PLATE, MODULUS))

    wanted, _ = quad(gain_m2, BOTTOM, TOP, points=[level] if level < TOP else None)
    close(course_expansion_m3(level, BOTTOM, TOP, *SHELL), wanted, 1e-12 * wanted, "rounding")


# ---------------------------------------------------------------- refusals

COURSE: dict[str, Real] = {
    "level_m": 12.0,
    "bottom_m": BOTTOM,
    "top_m": TOP,
    "radius_m": RADIUS,
    "plate_m": PLATE,
    "modulus_Pa": MODULUS,
    "density_kg_per_m3": DENSITY,
    "gravity_m_per_s2": G,
}


@pytest.mark.parametrize("function", [course_expansion_m3, course_expansion_area_m2])
def test_a_course_upside_down_or_torn_is_refused(function: Any) -> None:
    with pytest.raises(ValidityError, match="upper edge of a course"):
        apply(function, COURSE | {"top_m": 1.0})
    with pytest.raises(ValidityError, match="more than 1 %"):
        apply(function, COURSE | {"modulus_Pa": 2.06e9})


def test_a_shell_of_paper_is_refused() -> None:
    shell = {"radius_m": RADIUS, "plate_m": 120e-6, "modulus_Pa": MODULUS}
    with pytest.raises(ValidityError, match="more than 1 %"):
        apply(
            uniform_shell_expansion_m3, shell | {"level_m": 12.0, "density_kg_per_m3": DENSITY, "gravity_m_per_s2": G}
        )
    with pytest.raises(ValidityError, match="more than 1 %"):
        apply(empty_tank_correction_m, shell | {"circumference_m": 62.8, "pressure_Pa_gauge": 1e5})
