"""Floats that lean: the shift of the strongest field along the stem, against another library and the dipole."""

from __future__ import annotations

import magpylib
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq
from scipy.spatial.transform import Rotation

from onedatum.physics.magnets import bore_lean_shift_m, lean_shift_m
from tests.closeness import close, exact, printed

MM = 1e-3
BYPASS = (0.015, 0.020, 0.015)
FERRITE = (0.008, 0.0155, 0.010)


def by_library(away: float, lean: float, ring: tuple[float, float, float], reach: float) -> float:
    """Where the field of a turned ring of another library is strongest along an upright line."""
    turn = Rotation.from_rotvec([0.0, lean, 0.0])
    whole = magpylib.magnet.Cylinder(dimension=(2 * ring[1], ring[2]), polarization=(0, 0, 1), orientation=turn)
    core = magpylib.magnet.Cylinder(dimension=(2 * ring[0], ring[2]), polarization=(0, 0, 1), orientation=turn)
    step = 2e-5

    def change(height: float) -> float:
        places = [(away, 0.0, height + way * step) for way in (-2, -1, 1, 2)]
        field = whole.getB(places)[:, 2] - core.getB(places)[:, 2]
        return float(field[0] - 8 * field[1] + 8 * field[2] - field[3])

    return float(brentq(change, -reach, reach, xtol=1e-12))


def test_two_degrees_beside_a_bypass_float() -> None:
    """0.76 mm at 45 mm (worked independently)."""
    assert lean_shift_m(0.045, np.deg2rad(2.0), *BYPASS) / MM == printed("-0.76")


@pytest.mark.parametrize("lean", [0.001, 0.0349066, -0.06, 0.1])
@pytest.mark.parametrize("away", [0.036, 0.045, 0.07, 0.15])
def test_lean_against_another_library(away: float, lean: float) -> None:
    expected = by_library(away, lean, BYPASS, 1.2 * away * abs(np.tan(lean)))
    close(lean_shift_m(away, lean, *BYPASS), expected, 1e-5 * abs(expected), "differences of the other library")
    offset = 0.04 * away
    expected = by_library(offset, lean, FERRITE, 4 * offset * abs(np.tan(lean)))
    close(bore_lean_shift_m(offset, lean, *FERRITE), expected, 1e-4 * abs(expected), "differences of the other library")


def test_a_longer_magnet_shifts_less_and_then_the_other_way() -> None:
    """A slim magnet as long as it is away hardly shifts; one half as long again goes up where the others go down."""
    ring = (0.0, 0.002)
    for length, sense in ((0.005, -1.0), (0.060, 1.0)):
        found = lean_shift_m(0.045, 0.02, *ring, length)
        expected = by_library(0.045, 0.02, (1e-9, 0.002, length), 1.2 * 0.045 * 0.02)
        close(found, expected, 1e-5 * abs(expected), "differences of the other library")
        assert np.sign(found) == sense


def test_far_away_a_third_of_what_the_mid_plane_sinks() -> None:
    found = lean_shift_m(1.0, 0.01, 0.001, 0.002, 0.002)
    close(found, -np.tan(0.01) / 3, 1e-4 * np.tan(0.01) / 3, "dipole; square of size over distance and of the lean")


def test_near_the_middle_of_the_bore_twice_offset_times_lean() -> None:
    """From the series of the field about the middle: z*(1 + ...) = -2*e*theta, whatever the ring."""
    for ring in (FERRITE, (0.015, 0.020, 0.005), (0.010, 0.011, 0.002)):
        found = bore_lean_shift_m(1e-5, 0.001, *ring)
        close(found, -2e-8, 2e-13, "square of offset over bore and of the lean")


@given(st.floats(0.03, 1.0), st.floats(0.0, 0.1))
def test_leaning_to_either_side_is_alike(away: float, lean: float) -> None:
    exact(lean_shift_m(away, 0.0, *BYPASS), 0.0)
    exact(bore_lean_shift_m(0.0, lean, *FERRITE), 0.0)
    one, other = float(lean_shift_m(away, lean, *BYPASS)), float(lean_shift_m(away, -lean, *BYPASS))
    if lean > 1e-6:
        close(one, -other, 1e-9 * abs(other) + 1e-13, "root found from either side")
