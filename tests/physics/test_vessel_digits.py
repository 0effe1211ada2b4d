"""Whole vessels, level, tilted and leaning, against their definition integrated in many digits."""

from __future__ import annotations

import numpy as np
import pytest

from onedatum.physics.vessels import Body, leaning_cylinder, level_m, surface_m2, tilted_cylinder, volume_m3
from tests.closeness import close
from tests.physics.vessel_kinds import ENDS
from tests.physics.vessel_truth import Truth, depth_of_end

TILTED = [
    ("kloepper", "korbbogen", 3.0, 0.0, 1.0),
    ("hemisphere", "cone", 0.0, 0.0, 0.0),
    ("kloepper", "kloepper", 8.0, 0.01, 7.0),
    ("dished", "sharp", 3.0, -0.001, 0.5),
    ("sharp", "cone", 0.7, 0.1, 0.7),
    ("korbbogen", "flat", 4.0, -1.0, 2.0),
    ("cone", "hemisphere", 1.0, 10.0, 0.0),
    ("flat", "dished", 40.0, 3e-6, 20.0),
]
LEANING = [
    ("kloepper", "flat", 3.0, 0.001),
    ("flat", "cone", 2.0, 0.01),
    ("dished", "korbbogen", 1.0, 0.1),
    ("cone", "kloepper", 0.5, 0.3),
]


@pytest.mark.parametrize(("near", "far", "length", "slope", "station"), TILTED)
def test_a_tilted_cylinder_in_many_digits(near: str, far: str, length: float, slope: float, station: float) -> None:
    body = tilted_cylinder(length, ENDS[near], ENDS[far], slope, station)
    truth = Truth.tilted(near, far, length, slope, station)
    _compare(body, truth)


@pytest.mark.parametrize(("near", "far", "length", "lean"), LEANING)
def test_a_leaning_cylinder_in_many_digits(near: str, far: str, length: float, lean: float) -> None:
    _compare(leaning_cylinder(length, ENDS[near], ENDS[far], lean, 0.0), Truth.leaning(near, far, length, lean))


def _compare(body: Body, truth: Truth) -> None:
    """Very near the bottom, at every corner of the wall, between, and very near the top."""
    low, high = float(body.low_m), float(body.high_m)
    corners = [float(each) for each in body.breaks_m if low < each < high]
    shares = low + (high - low) * np.array([1e-4, 0.03, 0.35, 0.62, 0.98, 1 - 1e-4])
    for level in sorted({*shares.tolist(), *corners[:4]}):
        wanted, capacity = truth.volume_m3(level), float(body.volume_m3)
        found = volume_m3(level, body)
        close(found, wanted, min(1e-9 * wanted, 2e-13 * capacity), f"1e-9 of the value, rounding of all, at {level}")
        area = truth.surface_m2(level)
        close(surface_m2(level, body), area, 1e-8 * area, f"1e-8 of the surface at {level}")
    close(level_m(truth.volume_m3(0.5 * (low + high)), body), 0.5 * (low + high), 1e-12 * (high - low), "and back")


@pytest.mark.parametrize("name", [name for name in ENDS if name != "flat"])
def test_the_depth_of_every_end(name: str) -> None:
    depth = float(depth_of_end(name))
    close(ENDS[name].depth_m, depth, 1e-15 + 1e-15 * depth, "rounding")
