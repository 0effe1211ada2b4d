"""Bodies made of bodies that do not begin at 0: tables upon courses, parts known by tables, corners and outlines."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.working import apply
from onedatum.physics.vessels import (
    Body,
    Profile,
    Rows,
    box,
    capacity_m3,
    course,
    hopper,
    less_part,
    level_m,
    lying_cylinder,
    out_of_plumb,
    round_part,
    spheroid,
    stacked,
    surface_m2,
    tabled_vessel,
    tilted_box,
    turned_profile,
    upright_cylinder,
    upside_down,
    volume_m3,
    wetted_area_m2,
    with_part,
    with_stretch,
)
from tests.closeness import close, exact
from tests.physics.vessel_kinds import CONE, FLAT, KINDS, KLOEPPER

TABLE = tabled_vessel(Rows(np.array([0.1, 0.5, 1.1]), np.array([0.0, 1.0, 3.1])))
"""Begins at 0.1 m; sections of 2.5 and 3.5 m2."""


def tried(function: Callable[..., Any], **arguments: Any) -> Any:
    """What a formula gives within its validity."""
    return apply(function, arguments).value


def test_a_table_upon_a_course_begins_where_the_course_ends() -> None:
    both = stacked(course(1.0, 2.0), TABLE)
    levels = np.array([0.0, 1.0, 2.0, 2.2, 2.4, 2.7, 3.0])
    wanted = np.array([0.0, 1.0, 2.0, 2.0, 2.0, 2.0, 2.0]) * np.pi + np.array([0.0, 0.0, 0.0, 0.5, 1.0, 2.05, 3.1])
    close(volume_m3(levels, both), wanted, 1e-13, "pi r^2 h, then straight between the rows")
    close([both.high_m, capacity_m3(both)], [3.0, 2 * np.pi + 3.1], 1e-14, "heights and volumes add")
    close(level_m(wanted, both), levels, 1e-13, "and back")
    close(surface_m2(np.array([1.9, 2.3, 2.6]), both), [np.pi, 2.5, 3.5], 1e-13, "section of the part")
    close(np.unique(np.round(both.breaks_m, 9)), [0.0, 2.0, 2.4, 3.0], 1e-9, "its corners")


def test_a_course_upon_a_table() -> None:
    both = stacked(TABLE, course(1.0, 2.0))
    held = volume_m3(np.array([0.1, 0.5, 1.1, 1.6, 3.1]), both)
    close(held, np.array([0.0, 1.0, 3.1, 3.1, 3.1]) + np.pi * np.array([0, 0, 0, 0.5, 2.0]), 1e-13, "the same datum")
    exact(both.low_m, 0.1)


def test_a_part_known_by_its_table() -> None:
    """3.1 m3 over 1 m, taken from 0.4 m on; one metre of it is asked about, not one and a fifth."""
    shell = course(2.0, 1.5)
    body: Body = tried(less_part, vessel=shell, part=TABLE, at_m=0.4)
    taken = np.asarray(volume_m3(np.array([0.4, 0.6, 0.8, 1.1, 1.4, 1.5]), shell))
    taken = taken - np.asarray(volume_m3(np.array([0.4, 0.6, 0.8, 1.1, 1.4, 1.5]), body))
    close(taken, [0.0, 0.5, 1.0, 2.05, 3.1, 3.1], 1e-13, "its rows, moved up by 0.3 m")
    assert {0.4, 0.8, 1.4} <= set(np.round(np.array(body.breaks_m), 9).tolist())
    slim = box(3.2, 1.0, 1.5)
    with pytest.raises(ValidityError) as caught:
        tried(less_part, vessel=slim, part=TABLE, at_m=0.4)
    assert "wider" in caught.value.why


def test_the_corners_of_a_part_are_corners_of_the_vessel() -> None:
    body = with_part(less_part(course(1.0, 3.0), round_part(0.004, 0.2), 0.5), TABLE, 1.0)
    close(
        np.unique(np.round(np.array(body.breaks_m), 9)), [0.0, 0.5, 0.6, 0.7, 1.0, 1.4, 2.0, 3.0], 1e-9, "ends, joints"
    )
    for changed in (out_of_plumb(body, 1.001), upside_down(upside_down(body))):
        close(
            np.unique(np.round(np.array(changed.breaks_m), 9)), [0.0, 0.5, 0.6, 0.7, 1.0, 1.4, 2.0, 3.0], 1e-9, "same"
        )
    full = with_stretch(course(10.0, 12.0), 2.0, 2.4, 10.0, 0.012, 206e9, 850.0, 9.8)
    assert {0.0, 2.0, 4.4, 12.0} == set(np.round(np.array(full.breaks_m), 9).tolist())


def test_a_table_from_its_first_row_to_its_last() -> None:
    close(
        level_m(np.array([0.25, 1.0, 2.05]), TABLE), [0.2, 0.5, 0.8], 1e-14, "within the first row as within the last"
    )
    over = upside_down(TABLE)
    close(volume_m3(np.array([0.0, 0.3, 0.6, 0.8, 1.0]), over), [0.0, 1.05, 2.1, 2.6, 3.1], 1e-13, "read from its end")
    close(level_m(np.array([1.05, 2.6]), over), [0.3, 0.8], 1e-13, "and back")


def test_two_points_are_a_profile_and_two_rows_a_table() -> None:
    profile = Profile(np.array([0.0, 1.0]), np.array([0.5, 1.0]))
    close(capacity_m3(tried(turned_profile, profile=profile)), np.pi * 1.75 / 3, 1e-15, "part of a cone")
    rows = Rows(np.array([0.0, 1.0]), np.array([0.0, 2.0]))
    exact(capacity_m3(tried(tabled_vessel, rows=rows)), 2.0)


@pytest.mark.parametrize("kind", [KINDS["hopper"], KINDS["box"], KINDS["cone upside down"], course(1.0, 2.0)])
def test_an_empty_vessel_wets_its_floor_and_a_full_one_its_roof(kind: Body) -> None:
    """The level that just covers the floor; turned upside down the roof is the floor."""
    floor, roof = surface_m2(kind.low_m, kind), surface_m2(kind.high_m, kind)
    close(wetted_area_m2(kind.low_m, kind), floor, 1e-13, "its floor")
    over = upside_down(kind)
    close(wetted_area_m2(0.0, over), roof, 1e-13, "its roof")
    close(wetted_area_m2(over.high_m, over), wetted_area_m2(kind.high_m, kind), 1e-12, "all of the wall")
    beneath = np.nextafter(kind.high_m, 0.0)
    close(wetted_area_m2(kind.high_m, kind), wetted_area_m2(beneath, kind) + roof, 1e-12, "its roof at the last")


# ---------------------------------------------------------------- outlines of joined bodies


def test_half_sections_meet_without_going_back_to_the_axis() -> None:
    tank = stacked(hopper(0.4, 0.3, 3.0, 2.0, 1.1), box(3.0, 2.0, 1.5))
    wide, high = tank.outline.half_section
    exact(wide, [0.0, 0.15, 1.0, 1.0, 1.0, 0.0])
    close(high, [0.0, 0.0, 1.1, 1.1, 2.6, 2.6], 1e-15, "outlet, joint, roof")
    ball = stacked(upright_cylinder(1.0, CONE, FLAT), spheroid(2.0, 2.0))
    wide, high = ball.outline.half_section
    assert np.flatnonzero(wide == 0.0).tolist()[0] == 0
    assert wide[-1] == 0.0
    close(high[-1], 3.4, 1e-15, "the pole of the ball")


def test_lines_where_cylinders_begin_and_end() -> None:
    assert course(1.0, 2.0).outline.tangents == ()
    outline = upright_cylinder(2.0, CONE, KLOEPPER).outline
    assert outline.axis is not None
    exact(outline.axis, [[0.0, 0.0], [0.0, 2.4 + float(KLOEPPER.depth_m)]])
    close([line[0][1] for line in outline.tangents], [0.4, 2.4], 1e-15, "tangent lines")
    lying = lying_cylinder(2.0, CONE, KLOEPPER).outline
    close([line[0][0] for line in lying.tangents], [-1.0, 1.0], 1e-15, "the gauge stands between them")


def test_the_floor_of_a_falling_box_passes_through_the_datum() -> None:
    across, high = tilted_box(3.0, 2.0, 1.5, 0.2, 1.0).outline.side
    cosine = 1 / np.hypot(1, 0.2)
    close(across, np.array([-1.0, 2.0, 2.0 - 0.3, -1.0 - 0.3]) * cosine, 1e-14, "corners turned about the gauge")
    close(high, np.array([-0.2, 0.4, 0.4 + 1.5, -0.2 + 1.5]) * cosine, 1e-14, "corners turned about the gauge")
