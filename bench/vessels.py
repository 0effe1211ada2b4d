"""How long twenty thousand levels of a lying and of a tilted vessel take, and as many volumes back.

The peers work one level at a time and would take minutes for as many: they are given few, and the goal is scaled to the
same number of levels. What is raced is compared first; a result that differs ends the measurement. The other library is
itself good to 3e-10 of a small volume only, so the lying vessel is compared with an integral in many digits as well.
"""

from __future__ import annotations

from math import acos, atan, cos, sin, sqrt
from typing import Any

import mpmath
import numpy as np
from fluids.geometry import TANK
from scipy.integrate import quad

from bench.race import Race
from onedatum.foundation.numerics import Reals
from onedatum.physics.vessels import Body, lying_cylinder, tilted_cylinder, torispherical_depth_m, torispherical_end

LEVELS = 20_001
DIAMETER_M, LENGTH_M = 2.0, 5.0
WIDE_M, LONG_M = 2.5, 8.0
SLOPE = 0.0874886635
"""Five degrees."""
KNUCKLE = 0.1
"""Of the diameter, which is the radius of the crown."""

FEW, FEW_TILTED, FEW_BACK = 101, 21, 2001
"""What the peers are given."""
FASTER_LYING, FASTER_TILTED, FASTER_BACK = 450.0, 300.0, 5.0
"""For equal numbers of levels, and how many times faster ours has to be."""
ROUNDS = 9


def lying() -> Body:
    """A lying vessel with two dished ends, newly made: what it keeps for later levels counts as well."""
    end = torispherical_end(DIAMETER_M, DIAMETER_M, KNUCKLE * DIAMETER_M)
    return lying_cylinder(LENGTH_M, end, end)


def tilted() -> Body:
    """A vessel of 43 m3 with two dished ends, tilted, newly made."""
    end = torispherical_end(WIDE_M, WIDE_M, KNUCKLE * WIDE_M)
    return tilted_cylinder(LONG_M, end, end, SLOPE, 0.5 * LONG_M)


def library() -> TANK:
    """The lying vessel of the other library, set up for its inverse."""
    said: dict[str, Any] = {f"side{side}": "torispherical" for side in "AB"}
    said |= {f"side{side}_{radius}": share for side in "AB" for radius, share in (("f", 1.0), ("k", KNUCKLE))}
    tank = TANK(D=DIAMETER_M, L=LENGTH_M, horizontal=True, **said)
    tank.h_from_V(1.0)
    return tank


def head_radius_m(beyond: Any, diameter: Any, root: Any = sqrt) -> Any:
    """Inside radius of a dished end at a distance beyond its tangent line, in floats or in many digits."""
    crown, knuckle = diameter, KNUCKLE * diameter
    ring = 0.5 * diameter - knuckle
    rise = root((crown - knuckle) ** 2 - ring**2)
    if beyond <= knuckle * rise / (crown - knuckle):
        return ring + root(knuckle**2 - beyond**2)
    return root(max(crown**2 - (beyond + rise) ** 2, 0))


def tilted_by_quadrature(level_m: float) -> float:
    """The tilted vessel by adaptive quadrature of its sections, as the library does it unless told otherwise."""
    angle, depth = atan(SLOPE), float(torispherical_depth_m(WIDE_M, WIDE_M, KNUCKLE * WIDE_M))
    height = level_m + 0.5 * LONG_M * sin(angle) - 0.5 * WIDE_M * cos(angle)

    def section_m2(x: float) -> float:
        radius = 0.5 * WIDE_M if 0.0 <= x <= LONG_M else head_radius_m(max(-x, x - LONG_M), WIDE_M)
        v = min(max((height - x * sin(angle)) / cos(angle), -radius), radius)
        return radius**2 * acos(-v / radius) + v * sqrt(radius**2 - v**2) if radius > 0.0 else 0.0

    parts = ((-depth, 0.0), (0.0, LONG_M), (LONG_M, LONG_M + depth))
    return float(sum(quad(section_m2, low, high, limit=200)[0] for low, high in parts))


def lying_in_many_digits(level_m: float) -> float:
    """The lying vessel by its sections integrated in thirty digits, cut where the level meets the wall."""
    with mpmath.workdps(30):
        diameter, v = mpmath.mpf(DIAMETER_M), mpmath.mpf(level_m) - mpmath.mpf(DIAMETER_M) / 2
        crown, knuckle = diameter, KNUCKLE * diameter
        ring = diameter / 2 - knuckle
        rise = mpmath.sqrt((crown - knuckle) ** 2 - ring**2)
        joint, depth, reach = knuckle * rise / (crown - knuckle), crown - rise, abs(v)
        in_knuckle = reach >= head_radius_m(joint, diameter, mpmath.sqrt)
        met = mpmath.sqrt(knuckle**2 - (reach - ring) ** 2) if in_knuckle else mpmath.sqrt(crown**2 - reach**2) - rise

        def segment_m2(radius: Any) -> Any:
            held = min(max(v, -radius), radius)
            return radius**2 * mpmath.acos(-held / radius) + held * mpmath.sqrt(radius**2 - held**2) if radius else 0

        stops = sorted([mpmath.mpf(0), joint, met, depth])
        head = mpmath.quad(lambda x: segment_m2(head_radius_m(x, diameter, mpmath.sqrt)), stops)
        return float(LENGTH_M * segment_m2(diameter / 2) + 2 * head)


def agree(ours: Any, theirs: Any, within: Any, what: str) -> None:
    """Refuse to race what does not give the same."""
    over = np.abs(np.asarray(ours) - np.asarray(theirs)) - within
    if not np.all(over <= 0.0):
        raise ValueError(f"{what} must agree; one differs by {np.max(over):g} more than allowed.")


def lying_race(tank: TANK) -> Race:
    """A table of a lying vessel, its making included."""
    levels = np.linspace(0.0, DIAMETER_M, LEVELS)
    step = LEVELS // (FEW - 1)
    few = [float(level) for level in levels[::step]]
    volumes = lying().volume_below_m3(levels)
    agree(volumes[::step], [tank.V_from_h(level) for level in few], 1e-10 * volumes[-1], "volumes of the library")
    some = [20, 1000, 2000, 5003, 9999, 10001, 15000, 19000, 19990]
    exact = np.array([lying_in_many_digits(float(levels[number])) for number in some])
    agree(volumes[some], exact, 1e-10 * exact, "volumes in many digits")
    return Race(
        f"{LEVELS} levels of a lying vessel, newly made",
        lambda: lying().volume_below_m3(levels),
        f"fluids, {FEW} levels",
        lambda: [tank.V_from_h(level) for level in few],
        goal=LEVELS / FEW / FASTER_LYING,
        rounds=ROUNDS,
    )


def tilted_race() -> Race:
    """A table of a tilted vessel, its making included."""
    body = tilted()
    levels = np.linspace(float(body.low_m), float(body.high_m), LEVELS)
    step = LEVELS // (FEW_TILTED - 1)
    few = [float(level) for level in levels[::step]]
    quadrature = [tilted_by_quadrature(level) for level in few]
    agree(body.volume_below_m3(levels)[::step], quadrature, 1e-6, "volumes by quadrature")
    return Race(
        f"{LEVELS} levels of a tilted vessel, newly made",
        lambda: tilted().volume_below_m3(levels),
        f"scipy's quad, {FEW_TILTED} levels",
        lambda: [tilted_by_quadrature(level) for level in few],
        goal=LEVELS / FEW_TILTED / FASTER_TILTED,
        rounds=ROUNDS,
    )


def inverse_race(tank: TANK) -> Race:
    """Levels of volumes; both sides are set up. The library's levels close to 3e-3 m3 only: a race, no equal work."""
    vessel = lying()
    volumes = np.linspace(0.0, float(vessel.volume_m3), LEVELS)
    found: Reals = vessel.level_m(volumes)
    agree(vessel.volume_below_m3(found), volumes, 1e-9, "volumes that come back")
    each = [float(vessel.volume_below_m3(float(level))) for level in found[::100]]
    agree(each, volumes[::100], 1e-9, "volumes that come back one by one")
    few = [float(volume) for volume in volumes[1:-1][:: LEVELS // FEW_BACK]]
    return Race(
        f"{LEVELS} volumes back to levels",
        lambda: vessel.level_m(volumes),
        f"fluids, {len(few)} volumes",
        lambda: [tank.h_from_V(volume) for volume in few],
        goal=LEVELS / len(few) / FASTER_BACK,
        rounds=ROUNDS,
    )


def races() -> list[Race]:
    """A table of a lying vessel, one of a tilted vessel, and levels of volumes."""
    tank = library()
    return [lying_race(tank), tilted_race(), inverse_race(tank)]
