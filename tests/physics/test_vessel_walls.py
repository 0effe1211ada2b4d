"""The wetted wall against another library, points thrown on the wall, and the sums of flat faces."""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from math import atan, cos, sin, sqrt
from typing import Any

import numpy as np
import pytest
from fluids.geometry import TANK
from scipy.stats import qmc

from onedatum.physics.vessels import (
    Body,
    box,
    cone,
    conical_end,
    course,
    ellipsoidal_end,
    flat_end,
    hopper,
    leaning_cylinder,
    lying_cylinder,
    spheroid,
    stacked,
    surface_m2,
    tilted_box,
    tilted_cylinder,
    torispherical_end,
    upright_cylinder,
    upside_down,
    volume_m3,
    wetted_area_m2,
    with_stretch,
)
from tests.closeness import close
from tests.physics.vessel_kinds import ENDS, FLAT

CAP = torispherical_end(2.0, 1.25, 0.0)
"""A part of a sphere, 0.5 m deep, that meets the shell in an edge."""
SAME = {
    "conical": (conical_end(2.0, 0.4), {"a": 0.4}),
    "ellipsoidal": (ellipsoidal_end(2.0, 0.5), {"a": 0.5}),
    "torispherical": (torispherical_end(2.0, 2.0, 0.2), {"f": 1.0, "k": 0.1}),
    "spherical": (CAP, {"a": 0.5}),
}
"""Ends as both libraries say them."""


@pytest.mark.parametrize(("near", "far"), [("conical", "spherical"), ("ellipsoidal", "torispherical")])
@pytest.mark.parametrize("lying", [True, False])
def test_volume_and_wall_against_another_library(near: str, far: str, lying: bool) -> None:
    (one, said), (other, said_too) = SAME[near], SAME[far]
    words: dict[str, Any] = {f"sideA_{key}": value for key, value in said.items()}
    words |= {f"sideB_{key}": value for key, value in said_too.items()}
    tank = TANK(D=2.0, L=3.0, horizontal=lying, sideA=near, sideB=far, **words)
    body = (lying_cylinder if lying else upright_cylinder)(3.0, one, other)
    levels = np.linspace(0.0, float(body.high_m), 11)[1:-1]
    wanted = np.array([tank.V_from_h(float(level)) for level in levels])
    close(volume_m3(levels, body), wanted, 1e-11 * float(body.volume_m3), "quadrature of the library")
    wall = np.array([tank.SA_from_h(float(level)) for level in levels])
    close(wetted_area_m2(levels, body), wall, 1e-9 * float(wall[-1]), "quadrature of the library")


def test_a_cap_of_a_sphere_in_closed_form() -> None:
    """Depth a: V = pi a^2 (3R - a)/3, wall 2 pi R a."""
    bottom = upright_cylinder(1.0, CAP, FLAT)
    close(CAP.depth_m, 0.5, 1e-15, "R - sqrt(R^2 - 1)")
    close(CAP.volume_m3, np.pi * 0.25 * 3.25 / 3, 1e-14, "cap of a sphere")
    close(wetted_area_m2(0.3, bottom), 2 * np.pi * 1.25 * 0.3, 1e-12, "zone of a sphere, by Archimedes")
    close(wetted_area_m2(0.5, bottom), 2 * np.pi * 1.25 * 0.5, 1e-12, "no step where it meets the shell")


def test_zones_of_round_vessels_in_closed_form() -> None:
    levels = np.array([0.1, 0.9, 2.3, 3.9])
    close(wetted_area_m2(levels, spheroid(4.0, 4.0)), 4 * np.pi * levels, 1e-10, "zone of a sphere")
    slant = np.hypot(1.2, 1.0) / 1.2
    close(wetted_area_m2(0.6, cone(0.0, 2.0, 1.2)), np.pi * 0.5 * 0.6 * slant, 1e-13, "pi r s")
    reversed_cone = upside_down(cone(0.0, 2.0, 1.2))
    close(wetted_area_m2(0.6, reversed_cone), np.pi * (1 + 1.5 * 0.6 * slant), 1e-12, "floor and pi (r_1 + r_2) s")


def test_the_oblate_spheroid_has_its_known_surface() -> None:
    """2 pi a^2 (1 + (1 - e^2)/e atanh e), e^2 = 1 - c^2/a^2."""
    e = sqrt(1 - 0.75**2 / 3.0**2)
    wanted = 2 * np.pi * 9 * (1 + (1 - e * e) / e * np.arctanh(e))
    close(wetted_area_m2(1.5, spheroid(6.0, 1.5)), wanted, 1e-9 * wanted, "closed form")


def test_the_prolate_spheroid_has_its_known_surface() -> None:
    """2 pi a^2 (1 + c/(a e) asin e), e^2 = 1 - a^2/c^2."""
    e = sqrt(1 - 1.0 / 9.0)
    wanted = 2 * np.pi * (1 + 3.0 / e * np.arcsin(e))
    close(wetted_area_m2(6.0, spheroid(2.0, 6.0)), wanted, 1e-9 * wanted, "closed form")
    lying = lying_cylinder(0.0, ellipsoidal_end(2.0, 3.0), ellipsoidal_end(2.0, 3.0))
    close(wetted_area_m2(2.0, lying), wanted, 1e-9 * wanted, "the same on its side")


# ---------------------------------------------------------------- points thrown on the wall


@cache
def points() -> Any:
    return qmc.Sobol(2, seed=20260102).random_base2(17)


def meridian(near: str, far: str, length: float) -> tuple[Any, Any]:
    """Close points of the wall in the plane through the axis, x from the near tangent line, flat ends included."""
    turn = np.linspace(0.0, 0.5 * np.pi, 4001)
    even = np.linspace(0.0, 1.0, 4001)
    lines = {
        "flat": (0.0 * even, 1.0 - even),
        "cone": (0.4 * even, 1.0 - even),
        "dished": (0.5 * np.sin(turn), np.cos(turn)),
        "hemisphere": (np.sin(turn), np.cos(turn)),
    }
    R, r = 2.0, 0.2
    rise, edge = sqrt((R - r) ** 2 - (1 - r) ** 2), atan((1 - r) / sqrt((R - r) ** 2 - (1 - r) ** 2))
    knuckle, crown = np.linspace(0.0, np.pi / 2 - edge, 2001), np.linspace(edge, 0.0, 2001)
    lines["kloepper"] = (
        np.concatenate([r * np.sin(knuckle), R * np.cos(crown) - rise]),
        np.concatenate([1 - r + r * np.cos(knuckle), R * np.sin(crown)]),
    )
    (x_1, r_1), (x_2, r_2) = lines[near], lines[far]
    return np.concatenate([-x_1[::-1], length + x_2]), np.concatenate([r_1[::-1], r_2])


@pytest.mark.parametrize(
    ("near", "far", "slope"),
    [
        ("kloepper", "kloepper", 0.0),
        ("kloepper", "dished", 0.02),
        ("flat", "hemisphere", -0.1),
        ("cone", "kloepper", 1.0),
        ("dished", "flat", 20.0),
    ],
)
def test_a_tilted_wall_against_points_on_it(near: str, far: str, slope: float) -> None:
    """Points spread over the wall by area: the share below the level times the whole surface."""
    x, radius = meridian(near, far, 3.0)
    strips = np.pi * (radius[:-1] + radius[1:]) * np.hypot(np.diff(x), np.diff(radius))
    run = np.concatenate([[0.0], np.cumsum(strips)])
    along, turn = points()[:, 0] * run[-1], 2 * np.pi * points()[:, 1]
    at, off_axis = np.interp(along, run, x), np.interp(along, run, radius)
    tilt = atan(slope)
    height = (at - 1.0) * sin(tilt) + (off_axis * np.sin(turn) + 1.0) * cos(tilt)
    body = tilted_cylinder(3.0, ENDS[near], ENDS[far], slope, 1.0)
    close(wetted_area_m2(body.high_m, body), run[-1], 2e-6 * run[-1], "4000 chords of a head")
    for share in (0.08, 0.3, 0.55, 0.8, 0.95):
        level = float(body.low_m + share * (body.high_m - body.low_m))
        hits = float(np.mean(height <= level))
        error = run[-1] * sqrt(hits * (1 - hits) / len(at))
        close(wetted_area_m2(level, body), run[-1] * hits, error, "one standard error of as many independent points")


# ---------------------------------------------------------------- flat faces


def below_m2(corners: Any, heights: Any, level: float) -> float:
    """Area of the part of a flat face below a level: its outline cut, then the cross products of its corners."""
    kept: list[Any] = []
    for here in range(len(corners)):
        after = (here + 1) % len(corners)
        if heights[here] <= level:
            kept.append(corners[here])
        if (heights[here] - level) * (heights[after] - level) < 0:
            share = (level - heights[here]) / (heights[after] - heights[here])
            kept.append(corners[here] + share * (corners[after] - corners[here]))
    fan = [np.cross(b - kept[0], c - kept[0]) for b, c in pairwise(kept[1:])]
    return 0.5 * float(np.linalg.norm(np.sum(fan, axis=0))) if fan else 0.0


def faces(length: float, width: float, height: float, outlet: tuple[float, float] | None = None) -> list[Any]:
    """The six faces of a box, or of a hopper that narrows to an outlet at the bottom."""
    bottom = outlet or (length, width)
    low, high = (
        [
            np.array([x * sides[0] / 2 + length / 2, y * sides[1] / 2, z])
            for x, y in ((-1, -1), (1, -1), (1, 1), (-1, 1))
        ]
        for sides, z in ((bottom, 0.0), ((length, width), height))
    )
    sides = [[low[n], low[(n + 1) % 4], high[(n + 1) % 4], high[n]] for n in range(4)]
    return [low, high, *sides]


@pytest.mark.parametrize("slope", [0.001, 0.1, -0.5])
def test_a_falling_box_wets_what_lies_below_the_level_on_its_six_faces(slope: float) -> None:
    body = tilted_box(4.0, 2.0, 1.5, slope, 1.0)
    tilt = atan(slope)
    for share in (0.02, 0.2, 0.5, 0.77, 0.98, 1.0):
        level = float(body.low_m + share * (body.high_m - body.low_m))
        wanted = sum(
            below_m2(face, [(p[0] - 1.0) * sin(tilt) + p[2] * cos(tilt) for p in face], level + 1e-14)
            for face in faces(4.0, 2.0, 1.5)
        )
        close(wetted_area_m2(level, body), wanted, 1e-11, "polygons cut at the level")


def test_a_hopper_wets_its_four_slopes() -> None:
    body = hopper(0.4, 0.3, 3.0, 2.0, 1.1)
    for level in (0.2, 0.7, 1.05):
        wanted = sum(below_m2(face, [p[2] for p in face], level) for face in faces(3.0, 2.0, 1.1, (0.4, 0.3)))
        close(wetted_area_m2(level, body), wanted, 1e-12, "trapezia cut at the level")
        over = upside_down(body)
        upper = sum(below_m2(face, [1.1 - p[2] for p in face], level) for face in faces(3.0, 2.0, 1.1, (0.4, 0.3)))
        close(wetted_area_m2(level, over), upper, 1e-12, "the same upside down")


# ---------------------------------------------------------------- laws


@pytest.mark.parametrize("level", [0.3, 1.0, 1.9999, 2.0001, 3.5, 4.0])
def test_the_step_between_courses_is_wall(level: float) -> None:
    """A course that stands back leaves a ring: under it as a roof, above it as a floor."""
    for lower, upper in ((1.1, 0.9), (0.9, 1.1)):
        shell = stacked(course(lower, 2.0), course(upper, 2.0))
        wanted = np.pi * lower**2 + 2 * np.pi * lower * min(level, 2.0)
        if level > 2.0:
            wanted += np.pi * abs(lower**2 - upper**2) + 2 * np.pi * upper * (level - 2.0)
        if level == 4.0:
            wanted += np.pi * upper**2
        close(wetted_area_m2(level, shell), wanted, 1e-12, "floor, shells, ring, roof")


def test_heights_that_do_not_add_exactly_lose_no_roof() -> None:
    """1.1 m and 0.9 m are 2.0 m, but 2.0 m less 1.1 m is not 0.9 m in binary."""
    heights = (1.1, 0.9, 1.3, 2.4, 0.7, 1.9)
    shell: Body = course(1.0, heights[0])
    for height in heights[1:]:
        shell = stacked(shell, course(1.0, height))
    total = sum(heights)
    close(wetted_area_m2(shell.high_m, shell), 2 * np.pi * total + 2 * np.pi, 1e-12, "one cylinder")
    levels = np.linspace(0.01, total - 0.01, 500)
    close(wetted_area_m2(levels, shell), np.pi + 2 * np.pi * levels, 1e-12, "one cylinder")
    close(surface_m2(shell.high_m, shell), np.pi, 1e-15, "and its surface")
    close(volume_m3(shell.high_m, shell), np.pi * total, 1e-13, "and its volume")


def test_the_wall_grows_faster_than_the_surface_leans() -> None:
    """A wall that leans is longer than its shadow: dS/dV is never less than the girth over the surface."""
    body = leaning_cylinder(4.0, FLAT, FLAT, 0.2, 0.0)
    rise = (wetted_area_m2(2.51, body) - wetted_area_m2(2.49, body)) / 0.02
    close(rise, 2 * np.pi * np.hypot(1, 0.2), 1e-9, "girth times the slant of the wall")


def test_stretch_does_not_add_wall() -> None:
    shell = course(10.0, 12.0)
    full = with_stretch(shell, 0.0, 12.0, 10.0, 0.012, 206e9, 850.0, 9.80665)
    close(wetted_area_m2(7.0, full), wetted_area_m2(7.0, shell), 1e-12, "the wall of the shell alone")


def test_flat_ends_of_many_sizes_at_once() -> None:
    diameters = np.array([[1.0], [2.5]])
    levels = np.array([0.2, 0.5, 0.9])
    body = lying_cylinder(3.0, flat_end(diameters), flat_end(diameters))
    found = np.asarray(wetted_area_m2(levels, body))
    assert found.shape == (2, 3)
    for row, diameter in enumerate(diameters[:, 0].tolist()):
        half = np.arccos(1 - 2 * levels / diameter)
        ends = 2 * diameter**2 / 4 * (half - np.sin(2 * half) / 2)
        close(found[row], 3.0 * diameter * half + ends, 1e-12, "arc times length, and two segments")
    close(wetted_area_m2(1.5, box(3.0, 2.0, 1.5)), 27.0, 1e-12, "six faces")
