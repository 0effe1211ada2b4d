"""How long twenty thousand levels of a lying and of a tilted vessel take, and as many volumes back.

The peers work one level at a time and would take minutes for as many: they are given few, and the goal is scaled to the
same number of levels. What is compared is compared in accuracy first; a race whose results differ ends the measurement.
"""

from __future__ import annotations

from math import acos, atan, cos, pi, sin, sqrt
from typing import Any

import numpy as np
from fluids.geometry import TANK
from scipy.integrate import quad

from bench.race import Race
from onedatum.foundation.numerics import Reals
from onedatum.physics.vessels import Body, lying_cylinder, tilted_cylinder, torispherical_depth_m, torispherical_end

LEVELS = 20_001
DIAMETER_M, LENGTH_M = 2.0, 5.0
WIDE_M, LONG_M = 2.5, 8.0
FASTER_LYING, FASTER_TILTED, FASTER_BACK = 450.0, 300.0, 5.0
FEW = 101
FEW_TILTED = 20
SLOPE = 0.0874886635
"""Five degrees."""


def lying() -> Body:
    """A lying vessel with two dished ends, newly made: what it keeps for later levels counts as well."""
    end = torispherical_end(DIAMETER_M, DIAMETER_M, 0.1 * DIAMETER_M)
    return lying_cylinder(LENGTH_M, end, end)


def tilted() -> Body:
    """A vessel of 43 m3 with two dished ends, tilted, newly made."""
    end = torispherical_end(WIDE_M, WIDE_M, 0.1 * WIDE_M)
    return tilted_cylinder(LONG_M, end, end, SLOPE, 0.5 * LONG_M)


def radius_m(x: float) -> float:
    """Inside radius along the axis of the tilted vessel, from its near tangent line."""
    radius, crown, knuckle = 0.5 * WIDE_M, WIDE_M, 0.1 * WIDE_M
    beyond = max(-x, x - LONG_M)
    if beyond <= 0.0:
        return radius
    ring = radius - knuckle
    rise = sqrt((crown - knuckle) ** 2 - ring**2)
    if beyond <= knuckle * rise / (crown - knuckle):
        return ring + sqrt(knuckle**2 - beyond**2)
    return sqrt(max(crown**2 - (beyond + rise) ** 2, 0.0))


def tilted_by_quadrature(level_m: float) -> float:
    """The same by adaptive quadrature of its sections, as the library does it unless told otherwise."""
    angle, depth = atan(SLOPE), float(torispherical_depth_m(WIDE_M, WIDE_M, 0.1 * WIDE_M))
    height = level_m + 0.5 * LONG_M * sin(angle) - 0.5 * WIDE_M * cos(angle)

    def section_m2(x: float) -> float:
        radius = radius_m(x)
        v = min(max((height - x * sin(angle)) / cos(angle), -radius), radius)
        return radius**2 * acos(-v / radius) + v * sqrt(radius**2 - v**2) if radius > 0.0 else 0.0

    parts = ((-depth, 0.0), (0.0, LONG_M), (LONG_M, LONG_M + depth))
    return float(sum(quad(section_m2, low, high, limit=200)[0] for low, high in parts))


def library() -> TANK:
    """The lying vessel of the other library, set up for its inverse."""
    said: dict[str, Any] = {f"side{side}": "torispherical" for side in "AB"}
    said |= {f"side{side}_{radius}": share for side in "AB" for radius, share in (("f", 1.0), ("k", 0.1))}
    tank = TANK(D=DIAMETER_M, L=LENGTH_M, horizontal=True, **said)
    tank.h_from_V(1.0)
    return tank


def agree(ours: Reals, theirs: Reals, within: float, what: str) -> None:
    """Refuse to race what does not give the same."""
    off = float(np.max(np.abs(ours - theirs)))
    if off > within:
        raise ValueError(f"{what} must agree within {within:g}; they differ by {off:g}.")


def races() -> list[Race]:
    """A table of a lying vessel, one of a tilted vessel, and levels of volumes."""
    tank, levels = library(), np.linspace(0.0, DIAMETER_M, LEVELS)
    few = levels[:: LEVELS // (FEW - 1)]
    body = tilted()
    tilted_levels = np.linspace(float(body.low_m), float(body.high_m), LEVELS)
    few_tilted = tilted_levels[:: LEVELS // (FEW_TILTED - 1)]
    agree(lying().volume_below_m3(levels)[:: LEVELS // (FEW - 1)], np.array([tank.V_from_h(h) for h in few]), 2e-9, "V")
    quadrature = np.array([tilted_by_quadrature(float(h)) for h in few_tilted])
    agree(body.volume_below_m3(tilted_levels)[:: LEVELS // (FEW_TILTED - 1)], quadrature, 1e-6, "V of the tilted")
    volumes = np.linspace(0.0, float(lying().volume_m3), LEVELS)
    vessel = lying()
    agree(vessel.volume_below_m3(vessel.level_m(volumes)), volumes, 1e-9, "volumes that come back")
    few_volumes = [pi * share for share in np.linspace(0.05, 0.95, FEW)]
    return [
        Race(
            f"{LEVELS} levels of a lying vessel, per level",
            lambda: lying().volume_below_m3(levels),
            f"fluids, {len(few)} levels",
            lambda: [tank.V_from_h(float(h)) for h in few],
            goal=LEVELS / len(few) / FASTER_LYING,
            rounds=9,
        ),
        Race(
            f"{LEVELS} levels of a tilted vessel, per level",
            lambda: tilted().volume_below_m3(tilted_levels),
            f"quadrature, {len(few_tilted)} levels",
            lambda: [tilted_by_quadrature(float(h)) for h in few_tilted],
            goal=LEVELS / len(few_tilted) / FASTER_TILTED,
            rounds=9,
        ),
        Race(
            f"{LEVELS} volumes back to levels, per volume",
            lambda: vessel.level_m(volumes),
            f"fluids, {len(few_volumes)} volumes",
            lambda: [tank.h_from_V(volume) for volume in few_volumes],
            goal=LEVELS / len(few_volumes) / FASTER_BACK,
            rounds=9,
        ),
    ]
