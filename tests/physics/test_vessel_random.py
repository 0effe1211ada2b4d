"""What holds for every cylinder with two ends, drawn at random and however it stands."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from onedatum.physics.vessels import (
    Body,
    End,
    even_part,
    leaning_cylinder,
    less_part,
    level_m,
    lying_cylinder,
    stacked,
    surface_m2,
    tilted_cylinder,
    upright_cylinder,
    volume_m3,
    wetted_area_m2,
    with_part,
)
from tests.closeness import close
from tests.draws import DRAWS
from tests.physics.vessel_draws import cylinders
from tests.physics.vessel_kinds import ENDS

Cylinder = tuple[float, End, End]


@st.composite
def bodies(draw: st.DrawFn) -> Body:
    """Upright, lying, tilted or leaning."""
    length, one, other = draw(cylinders())
    stands = draw(st.sampled_from(["upright", "lying", "tilted", "leaning"]))
    if stands == "tilted":
        slope = draw(st.sampled_from([-1.0, 1.0])) * 10.0 ** draw(st.floats(-4.0, 1.3))
        return tilted_cylinder(length, one, other, slope, draw(st.floats(0.0, 1.0)) * length)
    if stands == "leaning":
        half = 0.5 * float(one.diameter_m)
        return leaning_cylinder(length, one, other, 10.0 ** draw(st.floats(-4.0, -0.31)), draw(st.floats(-1, 1)) * half)
    return (upright_cylinder if stands == "upright" else lying_cylinder)(length, one, other)


@given(bodies())
@settings(max_examples=DRAWS // 2)
def test_it_fills_from_nothing_to_all(body: Body) -> None:
    low, high, whole = float(body.low_m), float(body.high_m), float(body.volume_m3)
    for count in (150, 401):
        levels = np.linspace(low, high, count)
        held, wall = np.asarray(volume_m3(levels, body)), np.asarray(wetted_area_m2(levels, body))
        assert abs(held[0]) <= 1e-15 * whole
        close(held[-1], whole, 1e-14 * whole, "all of it")
        assert np.all(np.diff(held) >= -1e-15 * whole)
        assert np.all(np.diff(wall) >= -1e-12 * wall[-1])
        surfaces = np.asarray(surface_m2(levels, body))
        assert np.all(surfaces >= -1e-9 * surfaces.max())


@given(bodies())
@settings(max_examples=DRAWS // 2)
def test_few_levels_and_many_agree(body: Body) -> None:
    levels = np.linspace(float(body.low_m), float(body.high_m), 300)
    few = np.concatenate([np.asarray(volume_m3(part, body)) for part in np.array_split(levels, 3)])
    close(volume_m3(levels, body), few, 1e-10 * float(body.volume_m3), "1e-10 of the capacity")


@given(bodies(), st.floats(1e-6, 1 - 1e-6))
@settings(max_examples=DRAWS // 2)
def test_level_and_volume_close_both_ways(body: Body, share: float) -> None:
    whole, height = float(body.volume_m3), float(body.high_m - body.low_m)
    volumes = np.concatenate([[share * whole], np.linspace(1e-6, 1 - 1e-6, 250) * whole])
    close(volume_m3(level_m(volumes, body), body), volumes, min(1e-9, 1e-11 * whole), "1e-9 m3 at most")
    alone = float(level_m(float(volumes[0]), body))
    close(volume_m3(alone, body), volumes[0], min(1e-9, 1e-11 * whole, 1e-8 * volumes[0]), "1e-9 m3 at most")
    level = float(body.low_m) + (0.01 + 0.98 * share) * height
    close(level_m(float(volume_m3(level, body)), body) - body.low_m, level - body.low_m, 1e-9 * height, "and back")


@given(bodies(), st.floats(0.05, 0.95))
@settings(max_examples=DRAWS // 2)
def test_the_surface_is_the_slope_of_the_volume(body: Body, share: float) -> None:
    """Between two near levels the volume grows by no less than the least and no more than the largest surface there."""
    low, height = float(body.low_m), float(body.high_m - body.low_m)
    step = 1e-3 * height
    levels = low + share * height + step * np.linspace(0.0, 1.0, 41)
    gained = float(volume_m3(levels[-1], body)) - float(volume_m3(levels[0], body))
    surfaces = np.asarray(surface_m2(levels, body))
    rounding = 1e-12 * float(body.volume_m3) + 1e-3 * step * float(np.ptp(surfaces))
    assert surfaces.min() * step - rounding <= gained <= surfaces.max() * step + rounding
    mean = float(np.trapezoid(surfaces, levels))
    assert abs(gained - mean) <= rounding + 0.05 * step * float(np.ptp(surfaces))


@given(cylinders(), cylinders(), st.floats(0.0, 1.0))
@settings(max_examples=DRAWS // 2)
def test_volumes_of_bodies_and_parts_add(lower: Cylinder, upper: Cylinder, share: float) -> None:
    below, above = (upright_cylinder(*measures) for measures in (lower, upper))
    both = stacked(below, above)
    joint = float(below.high_m)
    level = share * float(both.high_m)
    held = volume_m3(min(level, joint), below)
    held += volume_m3(min(max(level - joint, 0.0), float(above.high_m)), above)
    whole = float(below.volume_m3 + above.volume_m3)
    close(volume_m3(level, both) + whole, held + whole, 1e-13 * whole, "one upon the other")
    part = even_part(0.001 * whole, 0.1 * float(both.high_m))
    at = 0.4 * float(both.high_m)
    taken = volume_m3(min(max(level - at, 0.0), float(part.high_m)), part)
    close(volume_m3(level, less_part(both, part, at)) + whole, held - taken + whole, 1e-13 * whole, "less the part")
    close(volume_m3(level, with_part(both, part, at)) + whole, held + taken + whole, 1e-13 * whole, "and the part")


@pytest.mark.parametrize("slope", [0.0, 0.03, -2.0])
@pytest.mark.parametrize("name", ENDS)
def test_half_of_a_vessel_with_equal_ends_lies_below_its_middle(name: str, slope: float) -> None:
    """It is symmetrical about its middle point, however it is tilted."""
    body = tilted_cylinder(2.0, ENDS[name], ENDS[name], slope, 0.0)
    middle = 0.5 * float(body.low_m + body.high_m)
    close(volume_m3(middle, body), body.volume_m3 / 2, 1e-12, "rounding of the capacity")
    for off in (0.1, 0.4, 0.8):
        both = volume_m3(middle - off, body) + volume_m3(middle + off, body)
        close(both, body.volume_m3, 1e-12, "what is empty above is what is full below")
        close(surface_m2(middle - off, body), surface_m2(middle + off, body), 1e-9, "equal surfaces")
