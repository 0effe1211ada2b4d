"""Outlines against what they enclose: area, volume turned about the axis, reach, and who stands inside."""

from __future__ import annotations

from math import atan, cos, sin
from typing import Any

import numpy as np
import pytest

from onedatum.physics.vessels import (
    Body,
    Profile,
    Rows,
    box,
    cone,
    course,
    hopper,
    leaning_cylinder,
    less_part,
    lying_cylinder,
    lying_pipe_part,
    out_of_plumb,
    spheroid,
    stacked,
    surface_m2,
    tabled_vessel,
    tilted_box,
    tilted_cylinder,
    turned_profile,
    upright_cylinder,
    upside_down,
)
from tests.closeness import close, exact
from tests.physics.vessel_kinds import CONE, DISHED, ENDS, FLAT, HEMISPHERE, KLOEPPER, KORBBOGEN, inside_cylinder


def enclosed_m2(line: Any) -> float:
    """Area within a closed line, by its corners."""
    x, z = line
    return 0.5 * abs(float(np.sum(x * np.roll(z, -1) - np.roll(x, -1) * z)))


def turned_m3(half: Any) -> float:
    """Volume of a half section turned about the plumb axis: parts of cones."""
    wide, high = half
    return float(np.pi / 3 * np.sum(np.diff(high) * (wide[:-1] ** 2 + wide[:-1] * wide[1:] + wide[1:] ** 2)))


ROUND: dict[str, Body] = {
    "two heads": upright_cylinder(3.0, KLOEPPER, KORBBOGEN),
    "cone and flat": upright_cylinder(1.0, CONE, FLAT),
    "ball": spheroid(2.0, 2.0),
    "spheroid": spheroid(6.0, 1.5),
    "part of a cone": cone(0.2, 2.0, 1.0),
    "upside down": upside_down(upright_cylinder(1.0, HEMISPHERE, CONE)),
    "courses": stacked(stacked(course(1.1, 2.0), course(1.0, 1.0)), course(1.05, 0.5)),
    "tank on a cone": stacked(cone(0.3, 2.0, 0.7), upright_cylinder(2.0, FLAT, DISHED)),
    "profile": turned_profile(Profile(np.array([0.0, 0.3, 1.0, 3.0]), np.array([0.2, 0.8, 1.0, 0.6]))),
    "table": tabled_vessel(Rows(np.array([0.1, 0.5, 1.2]), np.array([0.0, 1.0, 3.1]))),
}


@pytest.mark.parametrize("name", ROUND)
def test_a_round_vessel_is_its_half_section_turned(name: str) -> None:
    body = ROUND[name]
    wide, high = body.outline.half_section
    close(turned_m3((wide, high)), body.volume_m3, 2e-3 * float(body.volume_m3), "chords for arcs, 33 to an arc")
    assert np.all(np.diff(high) >= 0)
    assert wide[0] == 0.0
    assert wide[-1] == 0.0
    across, _ = body.outline.side
    close([across.min(), across.max()], [-wide.max(), wide.max()], 1e-12, "as wide to both sides")
    exact([high[0], high[-1]], [body.low_m, body.high_m])


@pytest.mark.parametrize("name", [name for name in ROUND if name not in ("courses", "tank on a cone")])
def test_the_side_is_both_halves_of_the_section(name: str) -> None:
    wide, high = ROUND[name].outline.half_section
    close(enclosed_m2(ROUND[name].outline.side), 2 * np.trapezoid(wide, high), 1e-12, "rounding")


@pytest.mark.parametrize("name", ROUND)
def test_the_half_section_has_the_surface_at_every_level(name: str) -> None:
    body = ROUND[name]
    wide, high = body.outline.half_section
    for share in (0.031, 0.22, 0.47, 0.81, 0.96):
        level = float(body.low_m) + share * float(body.high_m - body.low_m)
        area = float(surface_m2(level, body))
        close(np.pi * np.interp(level, high, wide) ** 2, area, 0.01 * area, "chords for arcs")


# ---------------------------------------------------------------- lying, tilted and leaning


@pytest.mark.parametrize("slope", [0.0, 0.02, -0.3, 1.0, 12.0])
@pytest.mark.parametrize(("near", "far"), [("kloepper", "cone"), ("flat", "hemisphere"), ("dished", "flat")])
def test_the_side_of_a_tilted_cylinder_is_its_meridian_turned(near: str, far: str, slope: float) -> None:
    """A turn keeps areas; and every corner lies where the definition of levels puts it."""
    body = tilted_cylinder(3.0, ENDS[near], ENDS[far], slope, 1.0)
    plumb = upright_cylinder(3.0, ENDS[near], ENDS[far])
    area = enclosed_m2(plumb.outline.side)
    close(enclosed_m2(body.outline.side), area, 1e-12 * area, "the same points turned")
    _, height = body.outline.side
    span = float(body.high_m - body.low_m)
    close([height.min(), height.max()], [float(body.low_m), float(body.high_m)], 2e-3 * span, "chords for arcs")
    assert height.min() >= float(body.low_m) - 1e-12
    assert height.max() <= float(body.high_m) + 1e-12


@pytest.mark.parametrize("slope", [0.0, 0.05, -0.3, 1.0])
def test_the_half_section_is_the_vessel_cut_along_the_gauge(slope: float) -> None:
    """Points of the plane across the vessel through the gauge, asked whether they lie inside."""
    station, tilt = 1.0, atan(slope)
    body = tilted_cylinder(3.0, ENDS["kloepper"], ENDS["cone"], slope, station)
    wide, high = body.outline.half_section
    inside = inside_cylinder(3.0, "kloepper", "cone")
    levels = np.linspace(float(high[0]), float(high[-1]), 41)[1:-1]
    foot_x, foot_v = station, -1.0
    for level, width in zip(levels, np.interp(levels, high, wide), strict=True):
        x, v = foot_x + level * sin(tilt), foot_v + level * cos(tilt)
        for off, wanted in ((-0.01, True), (0.01, False)):
            across = np.array([max(width + off, 0.0)])
            if 0.0 < width + off < 1.005 or wanted:
                assert bool(inside(np.array([x]), across, np.array([v]))[0]) is wanted, (level, width, off)


@pytest.mark.parametrize("lean", [0.01, 0.2, 0.5])
@pytest.mark.parametrize("offset", [-0.8, 0.0, 0.8])
def test_the_gauge_of_a_leaning_vessel_stands_on_its_bottom(lean: float, offset: float) -> None:
    body = leaning_cylinder(3.0, FLAT, FLAT, lean, offset)
    wide, high = body.outline.half_section
    assert abs(float(high[0])) <= 1e-9, "the datum is the bottom under the gauge"
    for level in (0.1, 0.2, 0.4):
        chord = np.sqrt(1 - (offset + level * sin(atan(lean))) ** 2)
        close(np.interp(level, high, wide), chord, 5e-3 * chord, "the plumb line leaves the axis by e + h sin(t)")


def test_axis_and_tangent_lines() -> None:
    slope, tilt = 0.1, atan(0.1)
    outline = tilted_cylinder(3.0, KLOEPPER, CONE, slope, 1.0).outline
    assert outline.axis is not None
    (x_1, z_1), (x_2, z_2) = outline.axis
    close((z_2 - z_1) / (x_2 - x_1), slope, 1e-14, "the axis rises by its slope")
    depth = float(KLOEPPER.depth_m)
    close(np.hypot(x_2 - x_1, z_2 - z_1), depth + 3.0 + 0.4, 1e-14, "from pole to pole")
    assert len(outline.tangents) == 2
    for number, ((x, z), (x_too, z_too)) in enumerate(outline.tangents):
        close(np.hypot(x_too - x, z_too - z), 2.0, 1e-14, "as long as the diameter")
        close((x_too - x) * cos(tilt) + (z_too - z) * sin(tilt) + 2.0, 2.0, 1e-14, "square to the axis")
        close(z, (3.0 * number - 1.0) * sin(tilt) + 1e-9, 2e-9, "the bottom line over the datum")
    plain = upright_cylinder(3.0, KLOEPPER, FLAT).outline
    exact(np.array(plain.tangents)[:, :, 1], [[depth, depth], [depth + 3.0, depth + 3.0]])
    exact(np.array(plain.tangents)[:, :, 0], [[-1.0, 1.0], [-1.0, 1.0]])
    exact(np.array(lying_cylinder(3.0, FLAT, FLAT).outline.tangents)[:, 0, 0], [-1.5, 1.5])


# ---------------------------------------------------------------- boxes, and bodies made of others


def test_boxes_and_hoppers() -> None:
    close(enclosed_m2(box(3.0, 2.0, 1.5).outline.side), 4.5, 1e-13, "length times height")
    tilted = tilted_box(3.0, 2.0, 1.5, 0.3, 1.0)
    close(enclosed_m2(tilted.outline.side), 4.5, 1e-13, "turned")
    heights = tilted.outline.side[1]
    close([heights.min(), heights.max()], [float(tilted.low_m), float(tilted.high_m)], 1e-14, "its corners")
    wide, high = tilted.outline.half_section
    close(high.max(), 1.5 * np.hypot(1, 0.3), 1e-14, "plumb height of a leaning wall")
    tank = stacked(hopper(0.4, 0.3, 3.0, 2.0, 1.1), box(3.0, 2.0, 1.5))
    close(enclosed_m2(tank.outline.side), 1.7 * 1.1 + 4.5, 1e-12, "trapezium and rectangle")
    wide, high = tank.outline.half_section
    close(2 * np.trapezoid(wide, high), 1.15 * 1.1 + 3.0, 1e-12, "across, the width")


def test_upside_down_is_drawn_upside_down() -> None:
    body = tilted_cylinder(3.0, KLOEPPER, CONE, 0.1, 1.0)
    there, here = body.outline, upside_down(body).outline
    exact(here.side[1], float(body.high_m) - there.side[1])
    exact(here.side[0], there.side[0])
    assert np.all(np.diff(here.half_section[1]) >= 0)


def test_what_stands_in_a_vessel_does_not_change_its_outline() -> None:
    shell = course(1.0, 3.0)
    for changed in (less_part(shell, lying_pipe_part(0.05, 0.2), 1.0), out_of_plumb(shell, 1.001)):
        for one, other in zip(changed.outline.side, shell.outline.side, strict=True):
            exact(one, other)
