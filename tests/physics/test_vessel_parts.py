"""Deadwood, strapped shells, tables and metered batches as vessels: each against its own V(h), and what is refused."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.working import apply
from onedatum.physics.vessels import (
    Batches,
    Body,
    Profile,
    Rows,
    TankTable,
    box,
    capacity_m3,
    course,
    course_expansion_m3,
    even_part,
    flat_end,
    less_part,
    level_m,
    lying_pipe_part,
    metered_rows,
    out_of_plumb,
    round_part,
    stacked,
    surface_m2,
    tabled_vessel,
    turned_profile,
    upright_cylinder,
    volume_m3,
    with_floating_roof,
    with_part,
    with_stretch,
)
from tests.closeness import close, exact
from tests.reference import case

SHELL = upright_cylinder(4.0, flat_end(3.0), flat_end(3.0))
AREA = np.pi * 2.25


def test_a_coil_takes_room_evenly() -> None:
    given = case("quantity-T32")
    coil = even_part(given.value("V_deadwood"), given.value("z2") - given.value("z1"))
    given.check(volume_m3(given.value("h"), less_part(SHELL, coil, given.value("z1"))))


def test_a_pipe_takes_its_segment() -> None:
    """A pipe of 0.6 m and 2 m: at 0.2 m of its height the segment of its circle, in closed form."""
    radius, depth = 0.3, 0.2
    segment = radius**2 * np.arccos(1 - depth / radius) - (radius - depth) * np.sqrt(2 * radius * depth - depth**2)
    vessel = less_part(SHELL, lying_pipe_part(np.pi * radius**2 * 2.0, 0.6), 1.0)
    close(AREA * 1.2 - volume_m3(1.2, vessel), 2.0 * segment, 1e-12, "segment times length")
    close(AREA * 2.0 - volume_m3(2.0, vessel), np.pi * radius**2 * 2.0, 1e-12, "all of it")


def test_a_ball_takes_its_cap() -> None:
    vessel = less_part(SHELL, round_part(4 / 3 * np.pi * 0.1**3, 0.2), 0.5)
    close(AREA * 0.55 - volume_m3(0.55, vessel), np.pi * 0.05**2 * (0.1 - 0.05 / 3), 1e-12, "cap of a ball")


def test_parts_one_after_the_other_add() -> None:
    both = with_part(less_part(SHELL, even_part(0.3, 0.5), 0.2), even_part(0.1, 1.0), 1.0)
    close(capacity_m3(both), AREA * 4 - 0.3 + 0.1, 1e-12, "less 0.3 and 0.1 more")
    close(surface_m2(0.4, both), AREA - 0.6, 1e-12, "section less the part's")
    for volume in (0.5, 3.0, 20.0):
        close(volume_m3(level_m(volume, both), both), volume, 1e-9, "1e-9 m3")


@pytest.mark.parametrize(
    ("part", "at", "why"),
    [
        (even_part(9.0, 1.0), 0.0, "more than the vessel holds"),
        (even_part(0.1, 1.0), -0.5, "inside the vessel"),
        (even_part(0.1, 1.0), 3.5, "wider than the vessel"),
        (lying_pipe_part(2.9, 1.0), 0.0, "wider than the vessel"),
    ],
)
def test_a_part_that_cannot_stand_there_is_refused(part: Body, at: float, why: str) -> None:
    slim = box(1.0, 3.0, 4.0)
    with pytest.raises(ValidityError) as caught:
        apply(less_part, {"vessel": slim, "part": part, "at_m": at})
    assert why in caught.value.why


def test_a_shell_is_stretched_course_by_course() -> None:
    """Case C04: six courses of 2 m, 20 to 8 mm."""
    given = case("quantity-C04")
    g, rho, E = given.value("g"), given.value("rho"), given.value("E") * 1e9
    shell: Body = course(10.0, 12.0)
    plates = [plate / 1000 for plate in given.value("courses")]
    full = shell
    for number, plate in enumerate(plates):
        full = with_stretch(full, 2.0 * number, 2.0, 10.0, plate, E, rho, g)
    level = given.value("h")
    given.check(volume_m3(level, full) - volume_m3(level, shell))
    by_course = sum(
        course_expansion_m3(level, 2.0 * n, 2.0 * n + 2.0, 10.0, plate, E, rho, g) for n, plate in enumerate(plates)
    )
    close(volume_m3(level, full) - volume_m3(level, shell), by_course, 1e-9, "the formula of one course")
    step = 1e-4
    slope = (volume_m3(level + step, full) - volume_m3(level - step, full)) / (2 * step)
    close(surface_m2(level, full), slope, 1e-6 * slope, "difference quotient")


def test_a_floating_roof_displaces_its_mass_once_it_floats() -> None:
    """Case C07: 85 t in 820 instead of 850 kg/m3."""
    shell = course(10.0, 12.0)
    at_820, at_850 = (with_floating_roof(shell, 85000.0, rho, 1.6, 2.0) for rho in (820.0, 850.0))
    case("quantity-C07").check(volume_m3(5.0, at_850) - volume_m3(5.0, at_820))
    exact(volume_m3(1.5, at_850), volume_m3(1.5, shell))
    close(volume_m3(1.8, shell) - volume_m3(1.8, at_850), 50.0, 1e-9, "half way between landing and floating")
    with pytest.raises(ValidityError):
        apply(
            with_floating_roof,
            {"vessel": shell, "roof_mass_kg": 1.0, "density_kg_per_m3": 850.0, "landing_m": 2.0, "floating_m": 1.9},
        )


def test_a_leaning_shell_has_the_section_of_its_ellipse() -> None:
    """Case C05: 1 in 70."""
    factor = 1 + case("quantity-C05").expected / 100
    leaning = out_of_plumb(course(10.0, 12.0), factor)
    close(surface_m2(5.0, leaning), np.pi * 100 * np.hypot(1, 1 / 70), 1e-6, "ellipse")
    close(level_m(volume_m3(7.0, leaning), leaning), 7.0, 1e-12, "back")


def test_courses_of_unlike_radius() -> None:
    shell = stacked(course(10.0, 2.0), course(9.99, 2.0))
    close(volume_m3(3.0, shell), np.pi * (200.0 + 9.99**2), 1e-9, "cylinder upon cylinder")
    close(surface_m2(2.5, shell), np.pi * 9.99**2, 1e-9, "upper course")


# ---------------------------------------------------------------- tables and profiles

ROWS = Rows(np.array([0.1, 0.5, 1.2]), np.array([0.3, 1.0, 3.1]))


def test_a_table_is_read_straight_between_its_rows() -> None:
    vessel = tabled_vessel(ROWS)
    levels = np.linspace(0.1, 1.2, 23)
    close(volume_m3(levels, vessel), np.interp(levels, ROWS.levels_m, ROWS.volumes_m3), 1e-12, "np.interp")
    close(surface_m2(0.8, vessel), 2.1 / 0.7, 1e-12, "slope of the row")
    close(level_m(1.0, vessel), 0.5, 1e-12, "a row")
    assert np.all(np.isnan(vessel.wetted_m2(levels)))
    for outside in (0.09, 1.21):
        with pytest.raises(ValidityError):
            apply(volume_m3, {"level_m": outside, "vessel": vessel})


@pytest.mark.parametrize(
    ("levels", "volumes"),
    [([0.0, 0.0], [0.0, 1.0]), ([0.0, 1.0], [1.0, 0.5]), ([0.0], [0.0]), ([1.0, 0.0], [0.0, 1.0])],
)
def test_a_table_that_does_not_rise_is_refused(levels: Any, volumes: Any) -> None:
    with pytest.raises(ValidityError) as caught:
        apply(tabled_vessel, {"rows": Rows(np.array(levels), np.array(volumes))})
    assert caught.value.parameter == "rows"


def test_a_profile_that_does_not_rise_is_refused() -> None:
    for heights in ([0.0, 0.5, 0.5], [0.0, 1.0, 0.5], [0.0]):
        with pytest.raises(ValidityError):
            apply(turned_profile, {"profile": Profile(np.array(heights), np.ones(len(heights)))})


def test_metered_batches_make_a_table() -> None:
    """Worked by hand: 10 m3 at 15 degC; 10 m3 more and all warmed to 18 degC, 2e-4/K; shell 12e-6/K of its length."""
    at = np.array([288.15, 288.15, 291.15])
    batches = Batches(np.array([0.0, 0.5, 0.9]), np.array([0.0, 10.0, 10.0]), np.full(3, 288.15), at)
    rows = metered_rows(batches, 1.001, 2e-4, 12e-6, 288.15)
    wanted = np.array([0.0, 10.01, 20.02 * 1.0006 / (1 + 36e-6) ** 2])
    close(rows.volumes_m3, wanted, 1e-12, "both batches at the temperature of the second point")
    factors = np.array([1.0, 1.001])
    vessel = tabled_vessel(metered_rows(batches, factors, 2e-4, 12e-6, 288.15))
    assert vessel.shape == (2,)
    close(volume_m3(0.9, vessel), wanted[2] * factors / 1.001, 1e-12, "in proportion to the meter factor")
    close(
        level_m(10.0, vessel),
        [TankTable(rows.levels_m, rows.volumes_m3 * f / 1.001).level_m(10.0) for f in factors],
        1e-9,
        "each as a table of its own",
    )
