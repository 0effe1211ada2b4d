"""Laws that every vessel keeps: volume rises and closes, surface is its slope, wall, mirror, limits, one or many."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.working import apply
from onedatum.physics.vessels import (
    Body,
    box,
    capacity_m3,
    cone,
    conical_end,
    ellipsoidal_end,
    flat_end,
    highest_m,
    hopper,
    leaning_cylinder,
    level_m,
    lowest_m,
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
)
from tests.closeness import close, exact
from tests.draws import LONG
from tests.physics.vessel_kinds import CONE, DISHED, FLAT, HEMISPHERE, KINDS, KLOEPPER, KORBBOGEN, D

every_kind = pytest.mark.parametrize("kind", KINDS.values(), ids=KINDS)


def levels_of(kind: Body, count: int) -> Any:
    return np.linspace(float(kind.low_m), float(kind.high_m), count)


# ---------------------------------------------------------------- volume, level, surface


@every_kind
def test_volume_rises_from_nothing_to_all(kind: Body) -> None:
    volumes = volume_m3(levels_of(kind, 1001), kind)
    assert np.all(np.diff(volumes) > 0)
    assert abs(volumes[0]) <= 1e-12
    close(volumes[-1], kind.volume_m3, 1e-14 * float(kind.volume_m3), "all of it, to the last digit")
    exact(capacity_m3(kind), kind.volume_m3)
    assert lowest_m(kind) == kind.low_m
    assert highest_m(kind) == kind.high_m


@every_kind
def test_many_levels_at_once_give_what_each_gives_alone(kind: Body) -> None:
    """From 200 levels on bodies that lie or lean are worked by fitted curves, single levels by the integral itself."""
    levels, some = levels_of(kind, 401), slice(None, None, 1 if LONG else 3)
    alone = np.array([volume_m3(float(level), kind) for level in levels[some]])
    close(volume_m3(levels, kind)[some], alone, 1e-11 * float(kind.volume_m3), "1e-11 of the capacity")
    surfaces = np.array([surface_m2(float(level), kind) for level in levels[some]])
    close(surface_m2(levels, kind)[some], surfaces, 1e-9 * float(surfaces.max()), "1e-9 of the largest surface")


@pytest.mark.parametrize("name", [name for name in KINDS if name.startswith("lying")])
def test_small_volumes_keep_their_digits_on_the_curve(name: str) -> None:
    kind = KINDS[name]
    span = float(kind.high_m - kind.low_m)
    levels = float(kind.low_m) + span * np.geomspace(1e-4, 0.5, 300)
    for number in (0, 60, 150):
        alone = float(volume_m3(float(levels[number]), kind))
        close(volume_m3(levels, kind)[number], alone, 1e-8 * alone, "1e-8 of the value, not of the capacity")


@every_kind
def test_the_level_of_a_volume_closes(kind: Body) -> None:
    shares = np.concatenate([[0.0, 1e-9, 1e-6], np.linspace(0.001, 1.0, 14)])
    volumes = shares * float(kind.volume_m3)
    one_by_one = np.array([level_m(float(volume), kind) for volume in volumes])
    close(np.array([volume_m3(float(h), kind) for h in one_by_one]), volumes, 1e-9, "1e-9 m3")
    many = np.linspace(0.0, float(kind.volume_m3), 501)
    close(volume_m3(level_m(many, kind), kind), many, 1e-9, "1e-9 m3")
    exact(level_m(float(kind.volume_m3), kind), kind.high_m)


@every_kind
def test_the_surface_is_the_slope_of_the_volume(kind: Body) -> None:
    span = float(kind.high_m - kind.low_m)
    levels = float(kind.low_m) + span * np.array([0.013, 0.117, 0.331, 0.503, 0.727, 0.911])
    step = 1e-6 * span
    slope = [(volume_m3(float(h) + step, kind) - volume_m3(float(h) - step, kind)) / (2 * step) for h in levels]
    wanted = surface_m2(levels, kind)
    close(slope, wanted, 2e-6 * float(np.max(wanted)), "difference quotient over 2e-6 of the height")


@every_kind
def test_the_integral_of_the_surface_is_the_volume(kind: Body) -> None:
    """Gauss's rule between the corners, flat steps at both ends of each part."""
    at, weight = np.polynomial.legendre.leggauss(40)
    share = 0.5 * (at + 1)
    step, stretch = share**2 * (3 - 2 * share), 3 * share * (1 - share)
    corners = np.unique(np.round(np.array([float(each) for each in kind.breaks_m]), 12))
    corners = np.clip(corners, float(kind.low_m), float(kind.high_m))
    total = sum(
        float(np.sum((b - a) * stretch * weight * surface_m2(a + (b - a) * step, kind)))
        for a, b in pairwise(corners.tolist())
    )
    close(total, kind.volume_m3, 1e-8 * float(kind.volume_m3), "1e-8 of the capacity")


# ---------------------------------------------------------------- the wall


@every_kind
def test_the_wetted_wall_grows(kind: Body) -> None:
    assert np.all(np.diff(wetted_area_m2(levels_of(kind, 200)[1:-1], kind)) > 0)


@pytest.mark.parametrize(
    ("kind", "wanted"),
    [
        (upright_cylinder(3.0, FLAT, FLAT), 2 * np.pi * 3 + 2 * np.pi),
        (lying_cylinder(3.0, FLAT, FLAT), 2 * np.pi * 3 + 2 * np.pi),
        (tilted_cylinder(3.0, FLAT, FLAT, 0.3, 1.0), 2 * np.pi * 3 + 2 * np.pi),
        (lying_cylinder(3.0, HEMISPHERE, CONE), 2 * np.pi * 4 + np.pi * np.hypot(1, 0.4)),
        (upright_cylinder(3.0, HEMISPHERE, CONE), 2 * np.pi * 4 + np.pi * np.hypot(1, 0.4)),
        (spheroid(2.0, 2.0), 4 * np.pi),
        (cone(0.0, 2.0, 1.2), np.pi * np.hypot(1, 1.2) + np.pi),
        (upside_down(cone(0.0, 2.0, 1.2)), np.pi * np.hypot(1, 1.2) + np.pi),
        (box(3.0, 2.0, 1.5), 2 * (6 + 4.5 + 3.0)),
        (tilted_box(3.0, 2.0, 1.5, 0.2, 1.0), 2 * (6 + 4.5 + 3.0)),
        (stacked(cone(0.4, 2.0, 1.0), cone(2.0, 2.0, 1.0)), np.pi * (0.04 + 1.2 * np.hypot(1, 0.8) + 2 + 1)),
    ],
)
def test_a_full_vessel_wets_all_its_wall(kind: Body, wanted: float) -> None:
    close(wetted_area_m2(kind.high_m, kind), wanted, 1e-9 * wanted, "closed forms of the surfaces")


def test_the_knuckle_has_the_surface_of_its_circles() -> None:
    """Crown: 2 pi R times its rise; knuckle: 2 pi times (ring times angle plus r times the sine), by Pappus."""
    R, r, ring = 2.0, 0.2, 0.8
    angle = np.arcsin(ring / (R - r))
    crown = 2 * np.pi * R * R * (1 - np.cos(angle))
    knuckle = 2 * np.pi * r * (ring * (np.pi / 2 - angle) + r * np.cos(angle))
    wanted = 2 * (crown + knuckle) + 2 * np.pi * 3
    for kind in (upright_cylinder(3.0, KLOEPPER, KLOEPPER), lying_cylinder(3.0, KLOEPPER, KLOEPPER)):
        close(wetted_area_m2(kind.high_m, kind), wanted, 1e-9 * wanted, "Pappus")


def test_half_a_lying_vessel_wets_half_its_wall() -> None:
    kind = lying_cylinder(3.0, KLOEPPER, CONE)
    close(wetted_area_m2(1.0, kind) * 2, wetted_area_m2(2.0, kind), 1e-9, "mirror symmetry")


# ---------------------------------------------------------------- mirrors and limits


@given(slope=st.floats(-5.0, 5.0), share=st.floats(0.01, 0.99), station=st.floats(0.0, 3.0))
@settings(max_examples=40, deadline=None)
def test_a_tilt_seen_from_the_other_end(slope: float, share: float, station: float) -> None:
    one = tilted_cylinder(3.0, KLOEPPER, CONE, slope, station)
    other = tilted_cylinder(3.0, CONE, KLOEPPER, -slope, 3.0 - station)
    assert abs(one.low_m - other.low_m) <= 1e-12
    level = float(one.low_m + share * (one.high_m - one.low_m))
    close(volume_m3(level, one), volume_m3(level, other), 1e-11, "rounding")


@every_kind
def test_upside_down_twice_is_itself(kind: Body) -> None:
    twice = upside_down(upside_down(kind))
    for share in (0.07, 0.4, 0.93):
        level = float(kind.low_m + share * (kind.high_m - kind.low_m))
        close(volume_m3(level - kind.low_m, twice), volume_m3(level, kind), 1e-10, "rounding of the capacity")
    once = upside_down(kind)
    height = float(kind.high_m - kind.low_m)
    empty = volume_m3(0.3 * height, once) + volume_m3(kind.low_m + 0.7 * height, kind)
    close(empty, kind.volume_m3, 1e-10, "what is empty there is full here")


def test_limits() -> None:
    """No tilt, no depth of a head, no lean: each becomes the plainer vessel."""
    for level in (0.2, 1.0, 1.7):
        plain = volume_m3(level, lying_cylinder(5.0, KLOEPPER, FLAT))
        close(volume_m3(level, tilted_cylinder(5.0, KLOEPPER, FLAT, 1e-12, 2.5)), plain, 1e-9, "tilt 1e-12")
        flat = volume_m3(level, lying_cylinder(5.0, FLAT, FLAT))
        shallow = lying_cylinder(5.0, ellipsoidal_end(D, 1e-9), conical_end(D, 1e-9))
        close(volume_m3(level, shallow), flat, 1e-8, "heads without depth")
        close(volume_m3(level, lying_cylinder(5.0, ellipsoidal_end(D, 0.0), FLAT)), flat, 1e-12, "a depth of 0")
        round_head = lying_cylinder(5.0, torispherical_end(D, 1.0, 0.4), FLAT)
        close(
            volume_m3(level, round_head), volume_m3(level, lying_cylinder(5.0, HEMISPHERE, FLAT)), 1e-10, "hemisphere"
        )
        upright = volume_m3(level, upright_cylinder(3.0, KLOEPPER, FLAT))
        close(volume_m3(level, leaning_cylinder(3.0, KLOEPPER, FLAT, 0.0, 0.0)), upright, 1e-7, "no lean")
        even = volume_m3(level * 0.7, tilted_box(4.0, 2.0, 1.5, 0.0, 1.0))
        close(even, 8.0 * 0.7 * level, 1e-12, "no fall of the floor")
    full = hopper(3.0, 2.0, 3.0, 2.0, 1.1)
    close(volume_m3(0.4, full), 6.0 * 0.4, 1e-12, "an outlet as wide as the box")


def test_a_gauge_at_mid_length_sees_the_mean_level() -> None:
    """The tilt drops out to first order there: its effect falls with the square of the slope."""
    level = volume_m3(0.8, lying_cylinder(8.0, KLOEPPER, KLOEPPER))
    effects = [
        abs(volume_m3(0.8, tilted_cylinder(8.0, KLOEPPER, KLOEPPER, slope, 4.0)) - level) for slope in (0.02, 0.01)
    ]
    close(effects[0] / effects[1], 4.0, 0.02, "second order")
    beside = abs(volume_m3(0.8, tilted_cylinder(8.0, KLOEPPER, KLOEPPER, 0.01, 7.0)) - level)
    assert effects[1] < 0.05 * beside


# ---------------------------------------------------------------- arrays of measures


def test_arrays_of_measures_give_what_each_measure_gives() -> None:
    diameters, slopes = np.array([1.9, 2.0, 2.1]), np.array([0.0, 0.01, -0.02])
    ends = torispherical_end(diameters, diameters, 0.1 * diameters), flat_end(diameters)
    together = tilted_cylinder(4.0, *ends, slopes, 1.0)
    assert together.shape == (3,)
    alone = [
        tilted_cylinder(4.0, torispherical_end(d, d, 0.1 * d), flat_end(d), m, 1.0)
        for d, m in zip(diameters.tolist(), slopes.tolist(), strict=True)
    ]
    close(volume_m3(0.7, together), np.array([volume_m3(0.7, each) for each in alone]), 1e-11, "rounding")
    close(surface_m2(0.7, together), np.array([surface_m2(0.7, each) for each in alone]), 1e-10, "rounding")
    close(wetted_area_m2(0.7, together), np.array([wetted_area_m2(0.7, each) for each in alone]), 1e-10, "rounding")
    close(level_m(3.0, together), np.array([level_m(3.0, each) for each in alone]), 1e-10, "rounding")
    grid = volume_m3(np.array([[0.3], [0.9]]), together)
    assert grid.shape == (2, 3)
    close(grid[1, 2], volume_m3(0.9, alone[2]), 1e-11, "rounding")


def test_what_is_no_number_stays_none() -> None:
    kind = KINDS["lying, kloepper"]
    found = volume_m3(np.array([np.nan, 1.0] * 150), kind)
    assert np.isnan(found[0])
    close(found[1], kind.volume_m3 / 2, 1e-10, "half full")
    broken = lying_cylinder(np.array([3.0, np.nan]), FLAT, FLAT)
    assert np.isnan(volume_m3(1.0, broken)).tolist() == [False, True]


@pytest.mark.parametrize(
    ("function", "arguments", "parameter"),
    [
        (volume_m3, {"level_m": 2.01, "vessel": KINDS["lying, flat"]}, "level_m"),
        (volume_m3, {"level_m": -0.01, "vessel": KINDS["lying, flat"]}, "level_m"),
        (level_m, {"volume_m3": 1e3, "vessel": KINDS["lying, flat"]}, "volume_m3"),
        (torispherical_end, {"diameter_m": 2.0, "crown_radius_m": 0.9, "knuckle_radius_m": 0.2}, "crown_radius_m"),
        (torispherical_end, {"diameter_m": 2.0, "crown_radius_m": 2.0, "knuckle_radius_m": 1.1}, "knuckle_radius_m"),
        (
            tilted_cylinder,
            {"shell_length_m": 3.0, "near_end": FLAT, "far_end": FLAT, "slope": 0.1, "station_m": 3.1},
            "station_m",
        ),
        (
            leaning_cylinder,
            {"shell_length_m": 3.0, "bottom": FLAT, "top": FLAT, "lean": 0.1, "offset_m": 1.2},
            "offset_m",
        ),
        (lying_cylinder, {"shell_length_m": 3.0, "near_end": FLAT, "far_end": flat_end(1.0)}, "near_end"),
        (
            hopper,
            {"outlet_length_m": 4.0, "outlet_width_m": 1.0, "length_m": 3.0, "width_m": 2.0, "height_m": 1.0},
            "outlet_length_m",
        ),
    ],
)
def test_what_cannot_be_is_refused_by_name(function: Any, arguments: Any, parameter: str) -> None:
    with pytest.raises(ValidityError) as caught:
        apply(function, arguments)
    assert caught.value.parameter == parameter


# ---------------------------------------------------------------- outlines


@every_kind
def test_the_outline_lies_within_the_vessel_and_reaches_its_ends(kind: Body) -> None:
    across, heights = kind.outline.side
    assert len(across) == len(heights) > 3
    span = float(kind.high_m - kind.low_m)
    assert abs(heights.min() - kind.low_m) <= 1e-3 * span, "a chord leaves its arc by 1/3000"
    assert abs(heights.max() - kind.high_m) <= 1e-3 * span, "a chord leaves its arc by 1/3000"
    wide, high = kind.outline.half_section
    assert np.all(wide >= 0)
    assert np.all(high >= float(kind.low_m) - 1e-9 * span)
    assert np.all(high <= float(kind.high_m) + 1e-9 * span)


@pytest.mark.parametrize("name", [name for name, kind in KINDS.items() if type(kind).__name__ == "Upright"])
def test_the_half_section_turned_about_the_axis_holds_the_volume(name: str) -> None:
    wide, high = KINDS[name].outline.half_section
    turned = np.pi / 3 * np.sum(np.diff(high) * (wide[:-1] ** 2 + wide[:-1] * wide[1:] + wide[1:] ** 2))
    close(turned, KINDS[name].volume_m3, 2e-3 * float(KINDS[name].volume_m3), "chords for arcs")


def test_the_section_at_the_gauge_of_a_tilted_cylinder_is_an_ellipse() -> None:
    wide, high = tilted_cylinder(5.0, FLAT, FLAT, 0.5, 2.5).outline.half_section
    close(high.max(), 2.0 * np.hypot(1, 0.5), 1e-3, "D over the cosine")
    close(wide.max(), 1.0, 1e-3, "the radius")
    assert KORBBOGEN.depth_m > DISHED.depth_m
