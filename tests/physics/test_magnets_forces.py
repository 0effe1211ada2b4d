"""Forces between the magnets of two floats: worked cases, the table as printed, Hankel's integral, another library."""

from __future__ import annotations

from typing import Any

import magpylib
import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.special import j1

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.working import apply
from onedatum.physics.magnets import (
    combined_stiffness_N_per_m,
    dipole_force_N,
    displacement_m,
    force_slope_N_per_m,
    ring_force_N,
    ring_moment_A_m2,
    snap_spacing_dipole_m,
    snap_spacing_m,
)
from tests.closeness import close, exact, printed
from tests.reference import case

MM = 1e-3
MU_0 = 4e-7 * np.pi
FERRITE = (0.008, 0.0155, 0.010, 0.40)
WIDE = (0.015, 0.020, 0.015, 1.2)
FULL = (0.0, 0.010, 0.020, 1.0)
Ring = tuple[float, float, float, float]
PAIRS = [(FERRITE, FERRITE), (FERRITE, WIDE), (WIDE, FULL), (FULL, FULL)]


def by_hankel(spacing: float, first: Ring, second: Ring) -> float:
    """Force between the pole faces as one integral over wave numbers, summed over short stretches of Gauss points."""
    gap = spacing - (first[2] + second[2]) / 2
    edges = np.linspace(0.0, 45.0 / gap, 400)
    nodes, weights = np.polynomial.legendre.leggauss(20)
    k = (edges[:-1, None] + np.diff(edges)[:, None] * (nodes + 1) / 2).ravel()
    share = (np.diff(edges)[:, None] * weights / 2).ravel()
    faces = [outer * j1(k * outer) - inner * j1(k * inner) for inner, outer, _, _ in (first, second)]
    ends = (1 - np.exp(-k * first[2])) * (1 - np.exp(-k * second[2])) * np.exp(-k * gap)
    return float(-np.pi / MU_0 * first[3] * second[3] * np.sum(share * faces[0] * faces[1] * ends / k))


@pytest.mark.parametrize("rings", PAIRS)
@pytest.mark.parametrize("gap", [0.002, 0.01, 0.05, 0.2])
def test_force_against_the_integral_of_hankel(rings: tuple[Ring, Ring], gap: float) -> None:
    spacing = (rings[0][2] + rings[1][2]) / 2 + gap
    expected = by_hankel(spacing, *rings)
    close(ring_force_N(spacing, *rings[0], *rings[1]), expected, 1e-8 * abs(expected), "Gauss points of both")


def test_force_by_the_field_of_another_library_on_the_pole_faces() -> None:
    first = magpylib.magnet.CylinderSegment(dimension=(0.008, 0.0155, 0.010, 0, 360), polarization=(0, 0, 0.40))
    nodes, weights = np.polynomial.legendre.leggauss(24)
    radii = 0.008 + 0.0075 * (nodes + 1) / 2
    total = 0.0
    for height, sign in ((0.065, 1.0), (0.055, -1.0)):
        fields = first.getB([(radius, 0.0, height) for radius in radii])[:, 2]
        total += sign * 0.40 / MU_0 * float(np.sum(fields * 2 * np.pi * radii * weights) * 0.0075 / 2)
    close(ring_force_N(0.060, *FERRITE, *FERRITE), total, 1e-8 * abs(total), "rounding of the other library")


def test_force_of_the_reference() -> None:
    stated = case("floats-M09")
    ring = [stated.value(name) for name in ("ri", "ro", "L", "Br")]
    stated.check(ring_force_N(stated.value("s"), *ring, *ring))


def test_table_of_forces_and_what_they_do() -> None:
    forces = {40: "0.368", 60: "0.102", 80: "0.037", 100: "0.0164", 150: "0.0035", 200: "0.0011"}
    for spacing, text in forces.items():
        assert -ring_force_N(spacing * MM, *FERRITE, *FERRITE) == printed(text)
    for spacing, text in {100: "6.9", 150: "1.5", 200: "0.5"}.items():
        pull = -ring_force_N(spacing * MM, *FERRITE, *FERRITE)
        close(displacement_m(pull, 2.37) / MM, float(text), 0.05 * float(text), "printed to 0.1 mm")
    assert ring_moment_A_m2(*FERRITE) == printed("1.76")


def test_snapping_of_the_reference() -> None:
    full, dipole = case("floats-M12a"), case("floats-M12b")
    stiffness = combined_stiffness_N_per_m(full.value("k1"), full.value("k2"))
    ring = [full.value(f"ring_{name}") for name in ("ri", "ro", "L", "Br")]
    full.check(snap_spacing_m(stiffness, *ring, *ring) / MM)
    moment = ring_moment_A_m2(*ring)
    dipole.check(snap_spacing_dipole_m(stiffness, moment, moment) / MM)


# ---------------------------------------------------------------- laws and limits


@pytest.mark.parametrize("rings", PAIRS)
@pytest.mark.parametrize("gap", [0.004, 0.03, 0.3])
def test_slope_against_the_force(rings: tuple[Ring, Ring], gap: float) -> None:
    spacing, step = (rings[0][2] + rings[1][2]) / 2 + gap, gap / 100
    sides = [float(ring_force_N(spacing + way * step, *rings[0], *rings[1])) for way in (-2, -1, 1, 2)]
    difference = (sides[0] - 8 * sides[1] + 8 * sides[2] - sides[3]) / (12 * step)
    found = force_slope_N_per_m(spacing, *rings[0], *rings[1])
    close(found, difference, 1e-6 * abs(difference), "differences of fourth order")


@given(st.floats(0.0, 0.9), st.floats(0.0, 0.9), st.floats(0.3, 3.0), st.floats(0.05, 3.0), st.floats(-1.5, 1.5))
def test_each_magnet_pulls_as_it_is_pulled(one: float, two: float, larger: float, gap: float, poles: float) -> None:
    first, second = (0.01 * one, 0.01, 0.012, 0.4), (0.01 * larger * two, 0.01 * larger, 0.008, poles)
    spacing = 0.010 + gap * 0.01
    here, there = float(ring_force_N(spacing, *first, *second)), float(ring_force_N(spacing, *second, *first))
    if abs(poles) > 1e-3:
        moments = [ring_moment_A_m2(*ring) for ring in (first, second)]
        assume(abs(there) > 1e-3 * abs(float(dipole_force_N(spacing, *moments))))
        close(here, there, 1e-6 * abs(there), "Gauss points near the edges")
    exact(ring_force_N(spacing, *first, *second[:3], -poles), -here)


def test_far_away_the_magnets_are_dipoles() -> None:
    moments = [ring_moment_A_m2(*ring) for ring in (FERRITE, WIDE)]
    expected = float(dipole_force_N(3.0, *moments))
    close(ring_force_N(3.0, *FERRITE, *WIDE), expected, 3e-4 * abs(expected), "square of size over distance")
    slope = -4 * expected / 3.0
    close(force_slope_N_per_m(3.0, *FERRITE, *WIDE), slope, 4e-4 * slope, "square of size over distance")
    far = float(snap_spacing_dipole_m(0.001, *moments))
    close(snap_spacing_m(0.001, *FERRITE, *WIDE), far, 3e-3 * far, "square of size over half a metre")


@settings(max_examples=25)
@given(st.floats(0.02, 40.0))
def test_beyond_the_snapping_distance_the_floats_hold(stiffness: float) -> None:
    at = snap_spacing_m(stiffness, *FERRITE, *WIDE)
    beyond = force_slope_N_per_m(at * np.linspace(1.0001, 5.0, 120), *FERRITE, *WIDE)
    assert np.all(beyond < stiffness)
    assert force_slope_N_per_m(0.9999 * at, *FERRITE, *WIDE) > stiffness


def test_two_unequal_floats_lose_their_balance_at_that_distance() -> None:
    """Two floats on springs let go at a distance: above it they come to rest, below it they run into one another."""
    springs = (17.746, 2.3667)
    snap = float(snap_spacing_m(combined_stiffness_N_per_m(*springs), *FERRITE, *FERRITE))

    def rests(spacing: float) -> bool:
        """Whether the magnets, drawn 1 um together from a balance at this distance, are pushed back."""
        pull: Any = ring_force_N(spacing - 1e-6, *FERRITE, *FERRITE) - ring_force_N(spacing, *FERRITE, *FERRITE)
        share = springs[1] / sum(springs)
        return bool(springs[0] * 1e-6 * share + pull > 0.0)

    assert rests(snap * 1.001) and not rests(snap * 0.999)


def test_floats_stiffer_than_their_magnets_are_refused() -> None:
    names = ("inner_radius_m", "outer_radius_m", "length_m", "remanence_T")
    weak = (0.008, 0.0155, 0.010, 0.05)
    rings = {f"{which}_{name}": value for which in ("first", "second") for name, value in zip(names, weak, strict=True)}
    with pytest.raises(ValidityError, match="never snap together"):
        apply(snap_spacing_m, {"combined_stiffness_N_per_m": 9000.0, **rings})
