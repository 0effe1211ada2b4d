"""Vessels at the edge of what can be: no length, no depth, no width, parts at the wall, levels that are no numbers."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.working import apply
from onedatum.foundation.working.formula import Applied
from onedatum.physics.vessels import (
    Body,
    box,
    capacity_m3,
    cone,
    conical_end,
    course,
    ellipsoidal_end,
    even_part,
    flat_end,
    hopper,
    leaning_cylinder,
    less_part,
    level_m,
    lying_cylinder,
    lying_pipe_part,
    round_part,
    spheroid,
    surface_m2,
    tilted_box,
    tilted_cylinder,
    torispherical_depth_m,
    torispherical_end,
    upright_cylinder,
    volume_m3,
    wetted_area_m2,
    with_floating_roof,
    with_part,
)
from tests.closeness import close, exact
from tests.physics.vessel_kinds import CONE, FLAT, KINDS, KLOEPPER, SHARP


def tried(function: Callable[..., Any], **arguments: Any) -> Applied:
    """A formula with these arguments, within its validity."""
    return apply(function, arguments)


every_kind = pytest.mark.parametrize("kind", KINDS.values(), ids=KINDS)


# ---------------------------------------------------------------- measures that vanish


def test_a_vessel_without_length_holds_nothing() -> None:
    upright, lying = upright_cylinder(0.0, FLAT, FLAT), lying_cylinder(0.0, FLAT, FLAT)
    exact([upright.low_m, upright.high_m, capacity_m3(upright), volume_m3(0.0, upright)], [0.0] * 4)
    exact(level_m(0.0, upright), 0.0)
    exact(volume_m3(np.linspace(0.0, 2.0, 5), lying), np.zeros(5))
    exact(volume_m3(np.linspace(0.0, 2.0, 500), lying), np.zeros(500))
    exact(surface_m2(np.linspace(0.0, 2.0, 5), lying), np.zeros(5))
    close(wetted_area_m2(2.0, lying), 2 * np.pi, 1e-14, "its two ends")


def test_two_heads_without_a_shell() -> None:
    """Heads alone, lying: at every level what they hold with a shell between them, less the shell."""
    alone, with_shell = (lying_cylinder(length, KLOEPPER, KLOEPPER) for length in (0.0, 1.0))
    levels = np.linspace(0.01, 1.99, 9)
    shell = np.arccos(1 - levels) - (1 - levels) * np.sqrt(levels * (2 - levels))
    close(volume_m3(levels, alone), volume_m3(levels, with_shell) - shell, 1e-13, "the shell in closed form")


def test_a_cone_without_diameters_is_a_line() -> None:
    line = cone(0.0, 0.0, 1.0)
    exact([capacity_m3(line), volume_m3(0.5, line), surface_m2(0.5, line), wetted_area_m2(0.5, line)], [0.0] * 4)


def test_a_cone_down_to_its_apex_at_the_top() -> None:
    spire = cone(2.0, 0.0, 1.0)
    close(capacity_m3(spire), np.pi / 3, 1e-15, "pi r^2 h/3")
    close(level_m(capacity_m3(spire) * (1 - 1e-9), spire), 1 - 1e-3, 1e-9, "the last part in a thousand million")
    exact(level_m(capacity_m3(spire), spire), 1.0)


@pytest.mark.parametrize(("diameter", "height"), [(100.0, 1e-6), (1e-6, 100.0), (3.0, 200.0)])
def test_a_spheroid_as_flat_as_a_leaf_or_as_thin_as_a_needle(diameter: float, height: float) -> None:
    body = spheroid(diameter, height)
    whole = np.pi / 6 * diameter**2 * height
    close(capacity_m3(body), whole, 1e-14 * whole, "pi D^2 H/6")
    shares = np.array([0.01, 0.25, 0.5, 0.9])
    part = whole * shares**2 * (3 - 2 * shares)
    close(volume_m3(shares * height, body), part, 1e-13 * whole, "s^2 (3 - 2s) of the whole")
    close(level_m(part, body), shares * height, 1e-12 * height, "and back")


@pytest.mark.parametrize(("length", "width"), [(0.0, 0.0), (3.0, 0.0), (0.0, 2.0)])
def test_hoppers_down_to_a_point_or_an_edge(length: float, width: float) -> None:
    body = hopper(length, width, 3.0, 2.0, 1.1)
    power = 3 if length == width else 2
    close(capacity_m3(body), 6.6 / power, 1e-14, "a pyramid is a third, a wedge a half")
    for share in (1e-6, 0.3, 1.0):
        wanted = 6.6 / power * share**power
        close(volume_m3(1.1 * share, body), wanted, 1e-13 * wanted, "alike at every height")
        close(level_m(wanted, body), 1.1 * share, 1e-12, "and back")


def test_radii_of_heads_at_their_limits() -> None:
    """A crown of half the diameter is a hemisphere whatever its knuckle; without one, a cap with an edge."""
    for knuckle in (0.0, 0.3, 1.0):
        head = torispherical_end(2.0, 1.0, knuckle)
        close(head.depth_m, 1.0, 1e-15, "half the diameter")
        close(head.volume_m3, 2 / 3 * np.pi, 1e-12, "hemisphere")
        close(
            volume_m3(0.37, lying_cylinder(0.0, head, FLAT)), np.pi / 2 * 0.37**2 * (1 - 0.37 / 3), 1e-12, "half a ball"
        )
    close(torispherical_depth_m(2.0, 20.0, 0.0), 20.0 - np.sqrt(399.0), 1e-14, "a cap of ten diameters")
    wide_open = torispherical_end(2.0, 20.0, 1.0)
    close(wide_open.depth_m, 20.0 - np.sqrt(19.0**2), 1e-13, "all knuckle: its circle reaches the axis")
    close(wide_open.volume_m3, 2 / 3 * np.pi, 1e-9, "and is a hemisphere")


@pytest.mark.parametrize("slope", [1e-12, -1e-12, 1e-9, 1e-300])
def test_a_slope_next_to_nothing_is_none(slope: float) -> None:
    level = lying_cylinder(3.0, KLOEPPER, CONE)
    tilted = tilted_cylinder(3.0, KLOEPPER, CONE, slope, 1.0)
    levels = np.array([0.01, 0.4, 1.0, 1.7, 1.99])
    close(volume_m3(levels, tilted), volume_m3(levels, level), 2e-8, "a slope of 1e-9 along 3 m")
    close(surface_m2(levels, tilted), surface_m2(levels, level), 1e-6, "a slope of 1e-9 along 3 m")
    floor = tilted_box(3.0, 2.0, 1.5, slope, 1.0)
    close(volume_m3(0.7, floor), 4.2, 3e-8, "a slope of 1e-9 along 3 m")
    close(surface_m2(0.7, floor), 6.0, 1e-6, "a slope of 1e-9 along 3 m")


# ---------------------------------------------------------------- levels at and beyond the ends


@every_kind
def test_the_ends_are_inside_and_a_hair_beyond_is_outside(kind: Body) -> None:
    low, high, full = float(kind.low_m), float(kind.high_m), float(kind.volume_m3)
    for function in (volume_m3, surface_m2, wetted_area_m2):
        for level in (low, high):
            assert np.isfinite(tried(function, level_m=level, vessel=kind).value)
        for level in (low - 1e-9, high + 1e-9):
            with pytest.raises(ValidityError) as caught:
                tried(function, level_m=level, vessel=kind)
            assert caught.value.parameter == "level_m"
    assert tried(level_m, volume_m3=full, vessel=kind).value == high
    with pytest.raises(ValidityError) as caught:
        tried(level_m, volume_m3=full * (1 + 1e-9), vessel=kind)
    assert caught.value.parameter == "volume_m3"


@every_kind
@pytest.mark.parametrize("count", [20, 400])
def test_elements_that_are_outside_or_no_numbers_leave_the_others_alone(kind: Body, count: int) -> None:
    """Below and above the number from which levels are worked by curves."""
    low, high = float(kind.low_m), float(kind.high_m)
    levels = np.linspace(low, high, count)
    spoilt = levels.copy()
    spoilt[[3, 7, 11, 13]] = np.nan, np.inf, low - 1.0, high + 1.0
    for function in (volume_m3, surface_m2, wetted_area_m2):
        applied = tried(function, level_m=spoilt, vessel=kind)
        assert applied.outside == 4
        assert np.flatnonzero(np.isnan(applied.value)).tolist() == [3, 7, 11, 13]
        good = np.delete(np.arange(count), [3, 7, 11, 13])
        wanted = np.asarray(function(levels, kind))
        close(applied.value[good], wanted[good], 1e-13 * float(wanted.max()), "as if they were not there")
    volumes = np.linspace(0.0, 1.0, count) * float(kind.volume_m3)
    wanted = np.asarray(level_m(volumes, kind))
    volumes[[3, 7]] = np.nan, 2.0 * float(kind.volume_m3)
    applied = tried(level_m, volume_m3=volumes, vessel=kind)
    assert np.flatnonzero(np.isnan(applied.value)).tolist() == [3, 7]
    good = np.delete(np.arange(count), [3, 7])
    close(applied.value[good], wanted[good], 1e-12 * (high - low), "as if they were not there")


@every_kind
def test_no_levels_and_levels_of_any_shape(kind: Body) -> None:
    low, high = float(kind.low_m), float(kind.high_m)
    levels = np.linspace(low, high, 24)
    for function in (volume_m3, surface_m2, wetted_area_m2):
        assert np.shape(function(np.empty(0), kind)) == (0,)
        assert np.ndim(function(0.5 * (low + high), kind)) == 0
        flat = np.asarray(function(levels, kind))
        exact(function(levels.reshape(4, 3, 2), kind), flat.reshape(4, 3, 2))
    assert np.shape(level_m(np.empty((0, 3)), kind)) == (0, 3)


# ---------------------------------------------------------------- arrays of measures

HALF = np.array([0.9, 1.0, 1.2])


MANY = {
    "upright": lambda r: upright_cylinder(3.0, torispherical_end(2 * r, 2 * r, 0.2), conical_end(2 * r, 0.4)),
    "cones": lambda r: lying_cylinder(3.0, conical_end(2 * r, 0.4), conical_end(2 * r, 0.4)),
    "dished": lambda r: lying_cylinder(3.0, ellipsoidal_end(2 * r, 0.5), ellipsoidal_end(2 * r, 0.5)),
    "slopes": lambda r: tilted_cylinder(3.0, FLAT, FLAT, 0.1 * r, 1.0),
    "lengths": lambda r: tilted_cylinder(3.0 * r, KLOEPPER, SHARP, 0.02, r),
    "leans": lambda r: leaning_cylinder(3.0, FLAT, CONE, 0.1 * r, 0.2),
    "cone": lambda r: cone(0.3, 2 * r, 1.5),
    "spheroids": lambda r: spheroid(2.0, 2 * r),
    "hoppers": lambda r: hopper(0.4, 0.3, 3 * r, 2.0, 1.5),
    "floors": lambda r: tilted_box(3.0, 2.0, 1.5 * r, 0.1 * r - 0.1, 1.0),
    "parts": lambda r: less_part(course(1.0, 3.0), lying_pipe_part(0.04 * r, 0.2), 0.5 * r),
    "roofs": lambda r: with_floating_roof(course(1.0, 3.0), 100.0 * r, 900.0, 0.5, 0.6 * r),
}


@pytest.mark.parametrize("make", MANY.values(), ids=MANY)
def test_many_vessels_at_once_are_each_as_if_alone(make: Any) -> None:
    """Every measure that may vary, beside others that are one number; levels and volumes along a second axis."""
    together, alone = make(HALF), [make(float(r)) for r in HALF]
    assert together.shape == (3,)
    levels, volumes = np.array([[0.2], [0.7], [1.1], [1.4]]), np.array([[0.1], [0.3], [0.5], [1.0]])
    for function, at in ((volume_m3, levels), (surface_m2, levels), (wetted_area_m2, levels), (level_m, volumes)):
        grid = np.broadcast_to(function(at, together), (4, 3))
        wanted = np.array([[function(float(each), body) for body in alone] for each in at[:, 0]])
        close(grid, wanted, 1e-11 * float(wanted.max()), function.__name__)
    exact(np.broadcast_to(together.volume_m3, 3), [body.volume_m3 for body in alone])


def test_what_cannot_be_among_many_is_no_number_and_the_others_stand() -> None:
    radii = np.array([0.1, 1.1, 0.2, np.nan])
    head = tried(torispherical_end, diameter_m=2.0, crown_radius_m=2.0, knuckle_radius_m=radii)
    assert head.outside == 2
    body = tried(lying_cylinder, shell_length_m=3.0, near_end=head.value, far_end=FLAT)
    assert body.outside == 2
    held = tried(volume_m3, level_m=0.7, vessel=body.value)
    assert np.isnan(held.value).tolist() == [False, True, False, True]
    wanted = volume_m3(0.7, lying_cylinder(3.0, torispherical_end(2.0, 2.0, 0.2), FLAT))
    close(held.value[2], wanted, 1e-13, "as if alone")


@pytest.mark.parametrize("wrong", [np.nan, np.inf, -np.inf])
def test_a_measure_that_is_no_number_is_refused_by_name(wrong: float) -> None:
    measures: dict[str, Any] = {
        "shell_length_m": 3.0,
        "near_end": FLAT,
        "far_end": FLAT,
        "slope": 0.01,
        "station_m": 1.0,
    }
    for parameter in ("shell_length_m", "slope", "station_m"):
        with pytest.raises(ValidityError) as caught:
            tried(tilted_cylinder, **(measures | {parameter: wrong}))
        assert caught.value.parameter == parameter
    with pytest.raises(ValidityError):
        tried(flat_end, diameter_m=wrong)


# ---------------------------------------------------------------- parts at the wall


def fit(vessel: Body, part: Body, at: float) -> Body:
    body: Body = tried(less_part, vessel=vessel, part=part, at_m=at).value
    return body


def test_a_part_as_wide_as_the_vessel_fits_and_a_hair_more_does_not() -> None:
    room = box(3.0, 2.0, 1.5)
    block = fit(room, even_part(3.0, 0.5), 0.5)
    close(surface_m2(np.array([0.4, 0.7]), block), [6.0, 0.0], 1e-15, "none beside the block")
    close(capacity_m3(block), 6.0, 1e-14, "9 m3 less 3 m3")
    close(volume_m3(np.array([0.4, 0.7, 1.2]), block), [2.4, 3.0, 4.2], 1e-14, "nothing is gained beside the block")
    with pytest.raises(ValidityError):
        fit(room, even_part(3.0 + 1e-9, 0.5), 0.5)


def test_a_part_that_reaches_the_roof_or_the_floor_fits_and_beyond_does_not() -> None:
    for vessel in (box(3.0, 2.0, 1.5), upright_cylinder(1.5, FLAT, FLAT), tilted_box(3.0, 2.0, 1.5, 0.0, 1.0)):
        for at in (0.0, 0.5):
            close(capacity_m3(fit(vessel, even_part(0.1, 1.0), at)), capacity_m3(vessel) - 0.1, 1e-13, "all of it")
        for at in (-0.01, 0.55):
            with pytest.raises(ValidityError):
                fit(vessel, even_part(0.1, 1.0), at)


def test_a_ball_on_the_floor_of_a_ball() -> None:
    """Both begin with nothing at one point; the smaller one always leaves room."""
    shell = spheroid(2.0, 2.0)
    body = fit(shell, round_part(4 / 3 * np.pi * 0.3**3, 0.6), 0.0)
    close(volume_m3(0.2, body), np.pi * 0.04 * (1.0 - 0.3), 1e-14, "pi h^2 (R - r)")
    for wide, at in ((0.31, 0.0), (0.2, -0.01)):
        with pytest.raises(ValidityError):
            fit(spheroid(0.6, 2.0) if wide > 0.3 else shell, round_part(4 / 3 * np.pi * wide**3, 2 * wide), at)


def test_a_pipe_in_the_low_corner_of_a_tilted_vessel() -> None:
    """Levels below the datum: the part stands where the table begins."""
    vessel = tilted_cylinder(5.0, FLAT, FLAT, 0.05, 4.0)
    body = fit(vessel, lying_pipe_part(0.002, 0.05), -0.1)
    assert float(vessel.low_m) < -0.1
    below, above = volume_m3(-0.11, body) - volume_m3(-0.11, vessel), volume_m3(0.5, body) - volume_m3(0.5, vessel)
    assert below == 0.0
    close(above, -0.002, 1e-13, "all of it")
    half = volume_m3(-0.075, body) - volume_m3(-0.075, vessel)
    close(half, -0.001, 1e-13, "half of it")
    volumes = np.linspace(0.0, float(body.volume_m3), 300)
    close(volume_m3(level_m(volumes, body), body), volumes, 1e-9, "1e-9 m3")


def test_a_chamber_beside_the_vessel_counts_as_far_as_the_vessel_reaches() -> None:
    shell = course(1.0, 3.0)
    taller = with_part(shell, even_part(0.4, 2.0), 2.0)
    close(capacity_m3(taller) - capacity_m3(shell), 0.2, 1e-13, "one of its two metres")
    close(capacity_m3(with_part(shell, even_part(0.4, 2.0), 5.0)), capacity_m3(shell), 1e-13, "none of it")


def test_two_parts_that_leave_no_room_together_are_refused() -> None:
    room = box(1.0, 1.0, 1.0)
    once = fit(room, even_part(0.6, 1.0), 0.0)
    with pytest.raises(ValidityError) as caught:
        fit(once, even_part(0.41, 1.0), 0.0)
    assert caught.value.parameter == "vessel"
    close(capacity_m3(fit(once, even_part(0.39, 1.0), 0.0)), 0.01, 1e-15, "1 - 0.6 - 0.39")


def test_the_volume_under_a_landing_roof_never_falls() -> None:
    """10 m of radius, 85 t: it lands over 0.3 m, in which the tank gains less than its section."""
    shell = course(10.0, 12.0)
    roofed = with_floating_roof(shell, 40000.0, 850.0, 1.6, 1.9)
    levels = np.linspace(0.0, 12.0, 1201)
    held = np.asarray(volume_m3(levels, roofed))
    assert np.all(np.diff(held) > 0)
    taken = np.asarray(volume_m3(levels, shell)) - held
    wanted = 40000.0 / 850.0 * np.clip((levels - 1.6) / 0.3, 0.0, 1.0)
    close(taken, wanted, 1e-11, "nothing, a straight line, the mass over the density")
    close(volume_m3(level_m(held, roofed), roofed), held, 1e-9, "1e-9 m3")


@pytest.mark.parametrize(("mass", "lands", "floats"), [(1e6, 1.6, 1.9), (1e5, 20.0, 30.0), (1e5, 11.9, 12.5)])
def test_a_roof_that_cannot_float_is_refused(mass: float, lands: float, floats: float) -> None:
    """It would displace more than the tank gains while it lands, or float above the tank."""
    roof = {"roof_mass_kg": mass, "density_kg_per_m3": 850.0, "landing_m": lands, "floating_m": floats}
    with pytest.raises(ValidityError):
        tried(with_floating_roof, vessel=course(10.0, 12.0), **roof)


@pytest.mark.parametrize("slope", [1.01e-9, 1e-8, 1e-6])
def test_a_floor_that_hardly_falls(slope: float) -> None:
    """While the floor is covered and the roof is dry, the box holds its length times the mean depth."""
    body = tilted_box(4.0, 2.0, 1.5, slope, 0.0)
    close(volume_m3(0.75, body), 6.0 - 2 * slope * 8.0, 1e-11, "closed form")
    assert abs(float(volume_m3(level_m(6.0, body), body)) - 6.0) <= 1e-9
