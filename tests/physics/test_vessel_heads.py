"""Ends of cylinders: depths and volumes of the usual heads, and the way from outside measures to inside ones."""

from __future__ import annotations

import numpy as np
import pytest

from onedatum.physics.vessels import (
    conical_end,
    ellipsoidal_end,
    end_volume_m3,
    flat_end,
    height_at_gauge_m,
    inside_diameter_m,
    outside_diameter_m,
    proportional_depth_m,
    radius_inside_wall_m,
    standard_radius_m,
    torispherical_depth_m,
    torispherical_end,
)
from tests.closeness import close, exact
from tests.reference import case


def test_depth_of_a_kloepper_head() -> None:
    given = case("quantity-T06")
    given.check(torispherical_depth_m(1.0, given.value("f"), given.value("k")))


@pytest.mark.parametrize("identity", ["quantity-T07", "quantity-T08"])
def test_full_volume(identity: str) -> None:
    given = case(identity)
    given.check(end_volume_m3(torispherical_end(1.0, given.value("f"), given.value("k"))))


@pytest.mark.parametrize("head", ["kloepper", "korbbogen", "asme-fd"])
def test_depth_and_volume_of_the_usual_heads(head: str) -> None:
    given = case(f"quantity-head-{head}")
    given.check(torispherical_depth_m(1.0, given.value("f"), given.value("k")), "depth")
    given.check(end_volume_m3(torispherical_end(1.0, given.value("f"), given.value("k"))), "volume")


@pytest.mark.parametrize("diameter", [1.0, 2.0, 3.0])
@pytest.mark.parametrize(
    ("crown", "knuckle", "rise", "wall_share", "tolerance"),
    [(1.0, 0.1, 0.1935, 0.455, 0.0006), (0.8, 0.154, 0.255, 0.635, 0.0016)],
    ids=["DIN 28011", "DIN 28013"],
)
def test_the_short_formulas_of_the_standards(
    diameter: float, crown: float, knuckle: float, rise: float, wall_share: float, tolerance: float
) -> None:
    """h_2 = 0.1935 D_a - 0.455 s and 0.255 D_a - 0.635 s: from memory, orientation only."""
    wall = 0.008
    radii = (standard_radius_m(factor, diameter, 0.0) for factor in (crown, knuckle))
    depth = torispherical_depth_m(inside_diameter_m(diameter, wall, 0.0), *radii)
    close(depth, rise * diameter - wall_share * wall, tolerance, "short formula of the standard, from memory")


def test_handbook_volumes_of_the_other_ends() -> None:
    close(end_volume_m3(ellipsoidal_end(2.0, proportional_depth_m(0.25, 2.0))), np.pi * 8 / 24, 1e-14, "pi D^3/24")
    close(end_volume_m3(ellipsoidal_end(2.0, proportional_depth_m(0.5, 2.0))), np.pi * 8 / 12, 1e-14, "pi D^3/12")
    close(end_volume_m3(conical_end(2.0, 1.2)), np.pi * 1.2 / 3, 1e-14, "pi R^2 a/3")
    exact(end_volume_m3(flat_end(2.0)), 0.0)
    exact(flat_end(2.0).depth_m, 0.0)
    close(end_volume_m3(torispherical_end(2.0, 1.0, 1.0)), 2 / 3 * np.pi, 1e-12, "a hemisphere of one radius")


def test_wall_and_lining_come_off_both_sides() -> None:
    close(inside_diameter_m(2.0, 0.008, 0.003), 1.978, 1e-15, "rounding")
    close(outside_diameter_m(inside_diameter_m(2.0, 0.008, 0.003), 0.008, 0.003), 2.0, 1e-15, "back")
    close(radius_inside_wall_m(2.0, 0.008, 0.003), 1.989, 1e-15, "rounding")
    close(height_at_gauge_m(2.0, 1.0), 2.0 * np.sqrt(2.0), 1e-15, "45 degrees")
