"""The outline for drawings: on the circles it is made of, through the tangent points, round the right volume."""

from __future__ import annotations

import numpy as np
import pytest

from onedatum.physics.vessels import torispherical_depth_m, vertical_area_m2, vertical_outline, vertical_volume_m3
from tests.closeness import close, exact
from tests.physics.vessel_kinds import KINDS, Measures

every_kind = pytest.mark.parametrize("kind", KINDS.values(), ids=KINDS)


@every_kind
def test_runs_upwards_from_axis_to_axis(kind: Measures) -> None:
    outline = vertical_outline(*kind)
    exact(outline.radius_m[[0, -1]], [0.0, 0.0])
    exact(outline.height_m[0], 0.0)
    assert (np.diff(outline.height_m) >= -1e-15 * outline.height_m[-1]).all()


@every_kind
def test_meets_the_tangent_points(kind: Measures) -> None:
    outline = vertical_outline(*kind)
    bottom_m = torispherical_depth_m(kind.diameter_m, kind.bottom_crown_radius_m, kind.bottom_knuckle_radius_m)
    points = set(zip(outline.radius_m.tolist(), outline.height_m.tolist(), strict=True))
    assert (0.5 * kind.diameter_m, float(bottom_m)) in points
    assert (0.5 * kind.diameter_m, float(bottom_m) + kind.shell_length_m) in points


@every_kind
def test_every_point_lies_on_the_vessel(kind: Measures) -> None:
    """Each point's circle has the area of the surface at its level."""
    outline = vertical_outline(*kind)
    heights_m = np.clip(outline.height_m, 0.0, outline.height_m[-1])
    wanted = np.asarray(vertical_area_m2(heights_m, *kind))
    sharp = min(kind.bottom_knuckle_radius_m, kind.top_knuckle_radius_m) < 0.01 * kind.diameter_m
    inner = outline.radius_m < (0.49 if sharp else 0.5) * kind.diameter_m
    found = np.pi * outline.radius_m**2
    close(found[inner], wanted[inner], 1e-9 * float(np.max(wanted)), "rounding of heights near a level wall")


@every_kind
def test_the_body_turned_from_it_holds_the_volume(kind: Measures) -> None:
    """Frusta between neighbouring points: pi dz (r1^2 + r1 r2 + r2^2)/3."""
    outline = vertical_outline(*kind)
    r, dz = outline.radius_m, np.diff(outline.height_m)
    turned = float(np.sum(np.pi * dz * (r[:-1] ** 2 + r[:-1] * r[1:] + r[1:] ** 2) / 3.0))
    full = float(vertical_volume_m3(outline.height_m[-1], *kind))
    close(turned, full, 2e-3 * full, "chords cut the arcs by up to 1/3000 of their radius")
    assert turned < full


def test_more_points_come_closer() -> None:
    """Halving the chords takes the missing volume down to a quarter."""
    kind = KINDS["receiver"]
    missing = []
    for points in (17, 33, 65):
        r, z = vertical_outline(*kind, points_per_arc=points)
        turned = np.sum(np.pi * np.diff(z) * (r[:-1] ** 2 + r[:-1] * r[1:] + r[1:] ** 2) / 3.0)
        missing.append(float(vertical_volume_m3(z[-1], *kind) - turned))
    close(missing[0] / missing[1], 4.0, 0.05, "second order")
    close(missing[1] / missing[2], 4.0, 0.05, "second order")
