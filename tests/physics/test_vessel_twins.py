"""One vessel said in two ways: volume, surface, wall and levels agree to rounding, whichever way it is worked."""

from __future__ import annotations

from itertools import cycle, pairwise, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from onedatum.physics.vessels import (
    Body,
    End,
    Profile,
    box,
    cone,
    conical_end,
    course,
    ellipsoidal_end,
    flat_end,
    hopper,
    leaning_cylinder,
    less_part,
    level_m,
    lying_cylinder,
    round_part,
    spheroid,
    stacked,
    surface_m2,
    tilted_box,
    tilted_cylinder,
    torispherical_end,
    turned_profile,
    upright_cylinder,
    upside_down,
    volume_m3,
    wetted_area_m2,
    with_part,
)
from tests.closeness import close
from tests.draws import DRAWS, LONG
from tests.physics.vessel_draws import cylinders
from tests.physics.vessel_kinds import CONE, DISHED, FLAT, HEMISPHERE, KLOEPPER, KORBBOGEN


def agree(one: Body, other: Body, within: float = 1e-12, wall: float = 1e-12) -> None:
    """What both say at levels over their lowest points; `within` and `wall` are shares of the largest value."""
    height = float(one.high_m - one.low_m)
    close(other.high_m - other.low_m, height, within * height, "height")
    close(other.volume_m3, one.volume_m3, within * float(one.volume_m3), "capacity")
    over = height * np.array([1e-5, 0.02, 0.1, 0.23, 0.37, 0.5, 0.61, 0.74, 0.88, 0.97, 1 - 1e-5])
    levels, others = over + float(one.low_m), over + float(other.low_m)
    for function, share in ((volume_m3, within), (surface_m2, 1e3 * within), (wetted_area_m2, wall)):
        wanted = function(levels, one)
        close(function(others, other), wanted, share * float(np.max(wanted)), function.__name__)
    volumes = np.linspace(0.001, 0.999, 11) * float(one.volume_m3)
    found, wanted = level_m(volumes, other) - other.low_m, level_m(volumes, one) - one.low_m
    close(found, wanted, 1e2 * within * height, "levels of volumes")


# ---------------------------------------------------------------- upside down, one upon another, leaning and tilted


@given(cylinders())
@settings(max_examples=DRAWS // 2)
def test_upside_down_is_the_vessel_with_its_ends_exchanged(measures: tuple[float, End, End]) -> None:
    length, bottom, top = measures
    agree(upside_down(upright_cylinder(length, bottom, top)), upright_cylinder(length, top, bottom), wall=1e-7)


@given(cylinders(), st.floats(0.01, 0.99))
@settings(max_examples=DRAWS // 2)
def test_a_shell_cut_in_two_and_joined_is_whole_again(measures: tuple[float, End, End], share: float) -> None:
    length, bottom, top = measures
    joint = flat_end(bottom.diameter_m)
    lower = upright_cylinder(share * length, bottom, joint)
    upper = upright_cylinder((1 - share) * length, joint, top)
    agree(stacked(lower, upper), upright_cylinder(length, bottom, top))


@given(cylinders(), st.floats(0.05, 0.5))
@settings(max_examples=3 * DRAWS // 10)
def test_out_of_plumb_is_a_steep_tilt(measures: tuple[float, End, End], lean: float) -> None:
    length, bottom, top = measures
    leaning = leaning_cylinder(length, bottom, top, lean, 0.0)
    agree(leaning, tilted_cylinder(length, bottom, top, 1 / lean, 0.0), 1e-11, 1e-11)


@given(cylinders(), st.floats(-3.0, 3.0), st.floats(0.0, 1.0))
@settings(max_examples=3 * DRAWS // 10)
def test_a_tilted_vessel_upside_down_falls_the_other_way(
    measures: tuple[float, End, End], slope: float, share: float
) -> None:
    length, near, far = measures
    tilted = tilted_cylinder(length, near, far, slope, share * length)
    agree(upside_down(tilted), tilted_cylinder(length, near, far, -slope, 0.0), 1e-11, 1e-7)


@given(cylinders(), st.floats(-3.0, 3.0), st.floats(0.0, 1.0))
@settings(max_examples=3 * DRAWS // 10)
def test_the_station_moves_the_datum_and_nothing_else(
    measures: tuple[float, End, End], slope: float, share: float
) -> None:
    """The gauge at x_g reads less by x_g sin(t) than one at the near tangent line."""
    length, near, far = measures
    first = tilted_cylinder(length, near, far, slope, 0.0)
    other = tilted_cylinder(length, near, far, slope, share * length)
    agree(first, other, 1e-11, 1e-7)
    moved = share * length * slope / np.hypot(1, slope)
    assert abs(first.low_m - other.low_m - moved) <= 1e-12 * length * max(1.0, abs(slope))


@given(cylinders(), st.floats(0.2, 5.0))
@settings(max_examples=3 * DRAWS // 10)
def test_all_measures_times_a_factor(measures: tuple[float, End, End], factor: float) -> None:
    """Volumes grow with the cube, surfaces with the square."""
    length, near, _ = measures
    D, a = float(near.diameter_m), 0.3 * float(near.diameter_m)
    small = tilted_cylinder(length, ellipsoidal_end(D, a), conical_end(D, a), 0.02, 0.0)
    large = tilted_cylinder(
        factor * length, ellipsoidal_end(factor * D, factor * a), conical_end(factor * D, factor * a), 0.02, 0.0
    )
    for share in (0.03, 0.5, 0.98):
        level = float(small.low_m + share * (small.high_m - small.low_m))
        wanted = factor**3 * float(volume_m3(level, small))
        close(volume_m3(factor * level, large), wanted, 1e-11 * wanted, "cube")
        wetted = factor**2 * float(wetted_area_m2(level, small))
        close(wetted_area_m2(factor * level, large), wetted, 1e-9 * wetted, "square")


# ---------------------------------------------------------------- other ways to the same shape

TWINS: dict[str, tuple[Body, Body]] = {
    "a ball lies as it stands": (spheroid(2.0, 2.0), lying_cylinder(0.0, HEMISPHERE, HEMISPHERE)),
    "a ball of two heads": (spheroid(2.0, 2.0), upright_cylinder(0.0, HEMISPHERE, HEMISPHERE)),
    "a ball tilted": (spheroid(2.0, 2.0), tilted_cylinder(0.0, HEMISPHERE, HEMISPHERE, 0.7, 0.0)),
    "a hemisphere by its depth": (
        lying_cylinder(3.0, ellipsoidal_end(2.0, 1.0), FLAT),
        lying_cylinder(3.0, HEMISPHERE, FLAT),
    ),
    "a spheroid of two heads": (spheroid(2.0, 1.0), upright_cylinder(0.0, DISHED, DISHED)),
    "a part of a cone upside down": (upside_down(cone(0.2, 2.0, 1.0)), cone(2.0, 0.2, 1.0)),
    "two cones of two ends": (stacked(cone(0.0, 2.0, 0.4), cone(2.0, 0.0, 0.4)), upright_cylinder(0.0, CONE, CONE)),
    "a cylinder by two diameters": (cone(2.0, 2.0, 3.0), upright_cylinder(3.0, FLAT, FLAT)),
    "a profile of a cylinder with cones": (
        turned_profile(Profile(np.array([5.0, 5.4, 8.4, 8.8]), np.array([0.0, 1.0, 1.0, 0.0]))),
        upright_cylinder(3.0, CONE, CONE),
    ),
    "box upon box": (stacked(box(3.0, 2.0, 1.0), box(3.0, 2.0, 0.5)), box(3.0, 2.0, 1.5)),
    "a hopper with a full outlet": (hopper(3.0, 2.0, 3.0, 2.0, 1.5), box(3.0, 2.0, 1.5)),
    "a floor that does not fall": (tilted_box(3.0, 2.0, 1.5, 0.0, 1.0), box(3.0, 2.0, 1.5)),
    "a falling floor from the other end": (tilted_box(3.0, 2.0, 1.5, 0.2, 1.0), tilted_box(3.0, 2.0, 1.5, -0.2, 2.0)),
    "a falling box upside down": (
        upside_down(tilted_box(3.0, 2.0, 1.5, 0.2, 0.0)),
        tilted_box(3.0, 2.0, 1.5, -0.2, 3.0),
    ),
    "a hopper twice upside down": (
        upside_down(upside_down(hopper(0.3, 0.2, 3.0, 2.0, 1.0))),
        hopper(0.3, 0.2, 3.0, 2.0, 1.0),
    ),
    "three courses joined in either order": (
        stacked(stacked(course(1.0, 1.1), course(1.1, 0.9)), course(0.9, 1.3)),
        stacked(course(1.0, 1.1), stacked(course(1.1, 0.9), course(0.9, 1.3))),
    ),
    "a part put in and taken out again": (
        with_part(less_part(box(3.0, 2.0, 1.5), round_part(0.004, 0.2), 0.5), round_part(0.004, 0.2), 0.5),
        box(3.0, 2.0, 1.5),
    ),
}


@pytest.mark.parametrize("name", TWINS)
def test_two_ways_to_one_shape(name: str) -> None:
    agree(*TWINS[name], wall=1e-9)


def test_a_ball_by_many_points() -> None:
    """Chords of 1500 arcs: short by a part in a million."""
    turn = np.linspace(0.0, np.pi, 1501)
    agree(turned_profile(Profile(1.0 - np.cos(turn), np.sin(turn))), spheroid(2.0, 2.0), 3e-6, 3e-6)


# ---------------------------------------------------------------- limits


def test_a_tilt_that_goes_to_nought() -> None:
    """At mid length with equal ends the effect falls with the square of the slope, in the middle of the vessel."""
    level = volume_m3(0.9, lying_cylinder(4.0, KLOEPPER, KLOEPPER))
    slopes = [1e-2, 1e-3, 1e-4]
    tilted = [tilted_cylinder(4.0, KLOEPPER, KLOEPPER, slope, 2.0) for slope in slopes]
    effects = [abs(float(volume_m3(0.9, each) - level)) for each in tilted]
    for larger, smaller in pairwise(effects):
        close(larger / smaller, 100.0, 1.0, "square of the slope")


def test_heads_that_become_flat() -> None:
    """Volumes of shallow heads over their depth: 2/3 of the disc for an ellipse, 1/3 for a cone, 1/2 for a crown."""
    disc = np.pi
    for depth in (1e-3, 1e-5, 1e-7):
        close(ellipsoidal_end(2.0, depth).volume_m3 / depth, 2 / 3 * disc, 1e-12, "half a spheroid")
        close(conical_end(2.0, depth).volume_m3 / depth, disc / 3, 1e-12, "a cone")
    shallow = torispherical_end(2.0, 20.0, 0.0)
    close(shallow.volume_m3 / shallow.depth_m, disc / 2 * (1 + shallow.depth_m**2 / 3), 1e-11, "a cap of a sphere")
    level = volume_m3(0.7, lying_cylinder(5.0, FLAT, FLAT))
    for depth in (1e-4, 1e-6, 1e-8):
        more = volume_m3(0.7, lying_cylinder(5.0, ellipsoidal_end(2.0, depth), conical_end(2.0, depth))) - level
        assert 0 < more < np.pi * depth


def test_a_lean_that_goes_to_nought() -> None:
    """In the cylinder the section grows by half the square of the lean; on the axis the volume does not change."""
    plumb = upright_cylinder(3.0, FLAT, FLAT)
    for lean in (1e-2, 1e-3, 1e-4):
        leaning = leaning_cylinder(3.0, FLAT, FLAT, lean, 0.0)
        close(surface_m2(1.5, leaning) / surface_m2(1.5, plumb) - 1, lean**2 / 2, 3e-4 * lean**2, "half the square")
        close(volume_m3(1.5, leaning), volume_m3(1.5, plumb) * np.hypot(1, lean), 1e-9, "a slant length on the axis")


LEANS = (0.0, 1e-12, 1e-9, 1e-8, 1e-7)
BOTTOMS = (FLAT, KLOEPPER, HEMISPHERE, DISHED)


def next_to_no_lean_is_none(lean: float, bottom: End, count: int) -> None:
    """Against the plumb cylinder, at so many levels."""
    plumb, body = upright_cylinder(3.0, bottom, CONE), leaning_cylinder(3.0, bottom, CONE, lean, 0.0)
    levels = np.linspace(0.02, float(plumb.high_m) * 0.97, count)
    close(volume_m3(levels, body), volume_m3(levels, plumb), 1e-6, "next to plumb")
    close(surface_m2(levels, body), surface_m2(levels, plumb), 1e-5, "next to plumb")


@pytest.mark.parametrize("lean", LEANS)
@pytest.mark.parametrize("bottom", BOTTOMS)
def test_next_to_no_lean_is_none(lean: float, bottom: End) -> None:
    """A lean of 0 is within what the formula admits."""
    next_to_no_lean_is_none(lean, bottom, 15)


@pytest.mark.parametrize(
    ("lean", "bottom"),
    list(product(LEANS, BOTTOMS) if LONG else zip(LEANS, cycle(BOTTOMS), strict=False)),
)
def test_next_to_no_lean_is_none_by_the_curves(lean: float, bottom: End) -> None:
    """So many levels that curves are kept, which takes long: each lean and each end; in the long profile all pairs."""
    next_to_no_lean_is_none(lean, bottom, 300)


def test_a_knuckle_that_fills_the_head() -> None:
    """Crown, knuckle and half diameter of one size: the ball, whatever hair they differ by."""
    ball = upright_cylinder(1.0, HEMISPHERE, KORBBOGEN)
    for hair in (1e-6, 1e-9, 1e-12):
        nearly = upright_cylinder(1.0, torispherical_end(2.0, 1.0 + hair, 1.0 - hair), KORBBOGEN)
        close(nearly.volume_m3, ball.volume_m3, 10 * hair**0.5, "a hair's depth falls with its root")
