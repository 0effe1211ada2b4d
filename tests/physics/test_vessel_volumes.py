"""What vessels hold, against published cases, quadrature in many digits, another library, points thrown at random."""

from __future__ import annotations

from functools import cache
from math import atan, cos, sin, sqrt
from typing import Any

import mpmath
import numpy as np
import pytest
from fluids.geometry import TANK
from scipy.stats import qmc

from onedatum.physics import vessels
from onedatum.physics.vessels import (
    Profile,
    box,
    cone,
    end_volume_m3,
    flat_end,
    hopper,
    leaning_cylinder,
    level_m,
    lying_cylinder,
    spheroid,
    stacked,
    surface_m2,
    tilted_box,
    tilted_cylinder,
    torispherical_depth_m,
    torispherical_end,
    turned_profile,
    upright_cylinder,
    volume_m3,
)
from tests.closeness import close
from tests.physics.vessel_kinds import CONE, ENDS, FLAT, inside_cylinder, lying_end_m3
from tests.reference import case

# ---------------------------------------------------------------- published and independently worked cases


def end_of(given: Any) -> vessels.End:
    """The end a case names, of its diameter."""
    D = float(given.value("D"))
    if "f" in given.inputs:
        return torispherical_end(D, given.value("f") * D, given.value("k") * D)
    if "cone_depth" in given.inputs:
        return vessels.conical_end(D, given.value("cone_depth"))
    form = given.inputs.get("head", given.inputs.get("end_form", {"value": "flat"}))["value"]
    depth = {"flat": 0.0, "ellipsoidal 2:1": D / 4, "hemispherical": D / 2}[form]
    return vessels.ellipsoidal_end(D, depth) if depth else flat_end(D)


@pytest.mark.parametrize("number", ["T01", "T02", "T03", "T04", "T05", "T10"])
def test_upright_cases(number: str) -> None:
    given = case(f"quantity-{number}")
    level = next(given.value(name) for name in given.inputs if name.startswith("h") and name != "head")
    given.check(volume_m3(level, upright_cylinder(3.0, end_of(given), flat_end(float(given.value("D"))))))


@pytest.mark.parametrize("number", ["T11", "T12", "T13", "T14", "T16", "T17", "T18"])
def test_lying_cases(number: str) -> None:
    given = case(f"quantity-{number}")
    given.check(volume_m3(given.value("h"), lying_cylinder(given.value("L"), end_of(given), end_of(given))))


def test_inclined_cases() -> None:
    first, second, third = (case(f"quantity-{number}") for number in ("T19", "T21", "T23"))
    slope = np.tan(np.radians(first.value("tilt")))
    flat = flat_end(2.0)
    first.check(volume_m3(first.value("h"), tilted_cylinder(5.0, flat, flat, slope, first.value("x_gauge"))))
    tilted = tilted_cylinder(8.0, end_of(second), end_of(second), second.value("slope"), second.value("x_gauge"))
    second.check(volume_m3(second.value("h"), tilted))
    level = volume_m3(second.value("h"), lying_cylinder(8.0, end_of(second), end_of(second)))
    case("quantity-T22").check(level - volume_m3(second.value("h"), tilted))
    steep = tilted_cylinder(2.0, flat_end(1.0), flat_end(1.0), 1.0, 0.0)
    third.check(volume_m3(third.value("h_above_lowest_point") + steep.low_m, steep))


def test_sphere_surface_hopper_profile_and_lean() -> None:
    case("quantity-T24").check(volume_m3(3.2, spheroid(10.0, 10.0)))
    case("quantity-T25").check(surface_m2(0.3, lying_cylinder(5.0, FLAT, FLAT)))
    tank = stacked(hopper(0.4, 0.3, 3.0, 2.0, 1.1), box(3.0, 2.0, 1.5))
    case("quantity-T27").check(volume_m3(0.7, tank))
    case("quantity-T28").check(volume_m3(1.6, tank))
    points = np.array(case("quantity-T29").value("profile"))
    body = turned_profile(Profile(points[:, 0], points[:, 1]))
    case("quantity-T29").check(volume_m3(2.8, body))
    heights, areas = points[:, 0], np.pi * points[:, 1] ** 2
    at = np.append(heights[heights < 2.8], 2.8)
    wrong = np.trapezoid(np.interp(at, heights, areas), at)
    case("quantity-T30").check(wrong / volume_m3(2.8, body) - 1)
    tilt = np.tan(np.radians(case("quantity-T31").value("tilt")))
    case("quantity-T31").check(surface_m2(5.0, leaning_cylinder(10.0, flat_end(4.0), flat_end(4.0), tilt, 0.0)))


@pytest.mark.parametrize("level", [1, 22, 24, 60])
def test_the_four_levels_of_a_worked_tank(level: int) -> None:
    """In inches all through, as the author works it: the functions take any one unit of length."""
    tank = case(f"quantity-jones-{level}")
    D, f, k = tank.value("D"), tank.value("f"), tank.value("k")
    end = torispherical_end(D, f * D, k * D)
    tank.check(volume_m3(tank.value("h"), upright_cylinder(200.0, end, end)) / 231.0)


@pytest.mark.parametrize("diameter", [1600, 1750])
def test_the_receiver(diameter: int) -> None:
    tank = case(f"quantity-receiver-{diameter}")
    D, L, R, r = (tank.value(name) for name in "DLRr")
    end = torispherical_end(D, R, r)
    body = upright_cylinder(L, end, end)
    tank.check(1000.0 * torispherical_depth_m(D, R, r), "head_depth_mm")
    tank.check(end_volume_m3(end), "head_volume_m3")
    tank.check(body.high_m, "inside_height_m")
    tank.check(body.volume_m3, "full_volume_m3")
    tank.check(volume_m3(tank.value("h"), body), "V_table_m3")


# ---------------------------------------------------------------- quadrature in many digits, another library


@pytest.mark.parametrize("name", [name for name in ENDS if name not in ("flat", "sharp")])
@pytest.mark.parametrize("level", [1e-3, 0.1, 0.1108, 0.5, 0.999, 1.0, 1.3, 1.9, 1.9999])
def test_a_lying_end_against_quadrature(name: str, level: float) -> None:
    """Near the bottom, at the junction of crown and knuckle (0.11 m), about the axis and near the top."""
    wanted = lying_end_m3(name, level)
    close(volume_m3(level, lying_cylinder(0.0, ENDS[name], FLAT)), wanted, 1e-9 * wanted, "1e-9 of the value")


@pytest.mark.parametrize("name", [name for name in ENDS if name != "flat"])
@pytest.mark.parametrize("share", [0.01, 0.3, 0.8, 1.0])
def test_an_upright_end_against_quadrature(name: str, share: float) -> None:
    from tests.physics.vessel_kinds import joint_of_end, radius_of_end

    depth = float(ENDS[name].depth_m)
    with mpmath.workdps(30):
        stops = sorted({mpmath.mpf(depth) * (1 - mpmath.mpf(share)), *joint_of_end(name), mpmath.mpf(depth)})
        stops = [each for each in stops if each >= mpmath.mpf(depth) * (1 - mpmath.mpf(share))]
        wanted = float(mpmath.quad(lambda x: mpmath.pi * radius_of_end(name, x) ** 2, stops))
    found = volume_m3(share * depth, upright_cylinder(1.0, ENDS[name], FLAT))
    close(found, wanted, 1e-9 * wanted, "1e-9 of the value")


LIBRARY = {
    "flat": {},
    "cone": {"a": 0.4, "kind": "conical"},
    "dished": {"a": 0.5, "kind": "ellipsoidal"},
    "kloepper": {"f": 1.0, "k": 0.1, "kind": "torispherical"},
    "korbbogen": {"f": 0.8, "k": 0.154, "kind": "torispherical"},
}
"""How the other library says the same ends."""


def library_tank(near: str, far: str, length: float, lying: bool) -> Any:
    words: dict[str, Any] = {"D": 2.0, "L": length, "horizontal": lying}
    for side, name in (("sideA", near), ("sideB", far)):
        said = LIBRARY[name]
        if said:
            words[side] = said["kind"]
            words |= {f"{side}_{key}": value for key, value in said.items() if key != "kind"}
    return TANK(**words)


@pytest.mark.parametrize(
    ("near", "far"),
    [("flat", "flat"), ("cone", "kloepper"), ("dished", "dished"), ("kloepper", "korbbogen"), ("korbbogen", "flat")],
)
@pytest.mark.parametrize("lying", [True, False])
def test_against_another_library(near: str, far: str, lying: bool) -> None:
    tank = library_tank(near, far, 3.0, lying)
    body = (lying_cylinder if lying else upright_cylinder)(3.0, ENDS[near], ENDS[far])
    levels = np.linspace(0.0, float(body.high_m), 12)[1:-1]
    wanted = np.array([tank.V_from_h(float(level)) for level in levels])
    found = volume_m3(levels, body)
    close(found, wanted, 1e-9 * float(body.volume_m3), "1e-9 of the whole; the library integrates to about 3e-10")
    close(level_m(wanted, body), levels, 1e-8, "the level of the library's volume")


# ---------------------------------------------------------------- points thrown at random


@cache
def points() -> Any:
    return qmc.Sobol(3, seed=20260101).random_base2(18)


@pytest.mark.parametrize(
    ("near", "far", "slope", "station"),
    [
        ("kloepper", "cone", 0.001, 1.2),
        ("kloepper", "kloepper", 0.01, 2.5),
        ("dished", "korbbogen", -0.05, 0.3),
        ("hemisphere", "flat", 0.3, 1.0),
        ("cone", "kloepper", 1.0, 2.0),
        ("flat", "dished", 10.0, 0.0),
    ],
)
def test_tilted_cylinders_against_points(near: str, far: str, slope: float, station: float) -> None:
    length, reach = 3.0, np.array([5.4, 2.0, 2.0])
    x, y, z = (points() * reach - np.array([1.2, 1.0, 1.0])).T
    tilt = atan(slope)
    height = (x - station) * sin(tilt) + (z + 1.0) * cos(tilt)
    body = tilted_cylinder(length, ENDS[near], ENDS[far], slope, station)
    inside = inside_cylinder(length, near, far)(x, y, z)
    low, high = height[inside].min(), height[inside].max()
    assert body.low_m <= low <= body.low_m + 0.02
    assert body.high_m - 0.02 <= high <= body.high_m
    for share in (0.05, 0.3, 0.6, 0.95):
        level = float(body.low_m + share * (body.high_m - body.low_m))
        hits = float(np.mean(inside & (height <= level)))
        room = float(np.prod(reach))
        error = room * sqrt(hits * (1 - hits) / len(x))
        close(volume_m3(level, body), room * hits, error, "one standard error of as many independent points")


@pytest.mark.parametrize("slope", [1e-12, 0.02, -0.3])
def test_a_tilted_box_against_points(slope: float) -> None:
    along, across, up = (points() * np.array([4.0, 2.0, 1.5])).T
    tilt = atan(slope)
    height = (along - 1.0) * sin(tilt) + up * cos(tilt)
    body = tilted_box(4.0, 2.0, 1.5, slope, 1.0)
    assert across.max() < 2.0
    for share in (0.03, 0.5, 0.98):
        level = float(body.low_m + share * (body.high_m - body.low_m))
        hits = float(np.mean(height <= level))
        close(volume_m3(level, body), 12.0 * hits, 12.0 * sqrt(hits * (1 - hits) / len(up)), "one standard error")


@pytest.mark.parametrize("lean", [0.01, 0.1, 0.3])
def test_a_leaning_vessel_against_points(lean: float) -> None:
    x, y, z = (points() * np.array([4.4, 2.0, 2.0]) - np.array([0.7, 1.0, 1.0])).T
    angle = atan(lean)
    depth = float(ENDS["kloepper"].depth_m)
    height = (x + depth) * cos(angle) + z * sin(angle)
    inside = inside_cylinder(3.0, "kloepper", "flat")(x, y, z)
    body = leaning_cylinder(3.0, ENDS["kloepper"], FLAT, lean, 0.0)
    for level in (0.1, 0.4, 1.9, 3.2):
        hits, room = float(np.mean(inside & (height <= level))), 4.4 * 4.0
        close(volume_m3(level, body), room * hits, room * sqrt(hits * (1 - hits) / len(x)), "one standard error")


# ---------------------------------------------------------------- closed forms of inclined cylinders


def closed_form(level: float, slope: float, station: float, length: float) -> float:
    """Inclined cylinder of radius 1 with flat ends: V = (R^3/tan t) [G(u_0) - G(u_L)], in 40 digits."""
    with mpmath.workdps(40):
        tilt = mpmath.atan(mpmath.mpf(slope))
        H = level + station * mpmath.sin(tilt) - mpmath.cos(tilt)

        def G(u: Any) -> Any:
            if u <= -1:
                return mpmath.mpf(0)
            if u >= 1:
                return mpmath.pi * u
            root = mpmath.sqrt(1 - u**2)
            return u * mpmath.acos(-u) + root - root**3 / 3

        first = H / mpmath.cos(tilt)
        return float((G(first) - G(first - length * mpmath.tan(tilt))) / mpmath.tan(tilt))


@pytest.mark.parametrize("slope", [1e-9, 1e-6, 1e-3, 0.05, 1.0, 15.0])
def test_inclined_cylinders_against_their_closed_form(slope: float) -> None:
    body = tilted_cylinder(5.0, FLAT, FLAT, slope, 1.0)
    for share in (0.01, 0.2, 0.5, 0.9, 0.999):
        level = float(body.low_m + share * (body.high_m - body.low_m))
        close(volume_m3(level, body), closed_form(level, slope, 1.0, 5.0), 1e-11, "1e-12 of the capacity, rounding")


def test_a_cone_by_its_formula() -> None:
    close(volume_m3(0.8, cone(0.0, 2.0, 1.2)), np.pi * (2 / 3) ** 2 * 0.8 / 3, 1e-14, "rounding")
    assert CONE.depth_m == 0.4
