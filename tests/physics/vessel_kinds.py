"""Vessels to try everything on, and independent ways to know what they hold.

The independent ways share nothing with the tool: a test whether a point lies inside, and the section of a body of
revolution by its radius alone, integrated in many digits.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from typing import Any

import mpmath
import numpy as np

from onedatum.physics.vessels import (
    Body,
    End,
    box,
    cone,
    conical_end,
    ellipsoidal_end,
    flat_end,
    hopper,
    leaning_cylinder,
    lying_cylinder,
    spheroid,
    stacked,
    tilted_box,
    tilted_cylinder,
    torispherical_end,
    upright_cylinder,
    upside_down,
)

D = 2.0
"""Inside diameter of every cylinder here."""
FLAT, CONE, DISHED = flat_end(D), conical_end(D, 0.4), ellipsoidal_end(D, 0.5)
KLOEPPER, KORBBOGEN = torispherical_end(D, 2.0, 0.2), torispherical_end(D, 1.6, 0.308)
HEMISPHERE, SHARP = torispherical_end(D, 1.0, 1.0), torispherical_end(D, 2.5, 0.0)

ENDS: Mapping[str, End] = {
    "flat": FLAT,
    "cone": CONE,
    "dished": DISHED,
    "kloepper": KLOEPPER,
    "korbbogen": KORBBOGEN,
    "hemisphere": HEMISPHERE,
    "sharp": SHARP,
}
KINDS: Mapping[str, Body] = {
    "upright, kloepper and flat": upright_cylinder(3.0, KLOEPPER, FLAT),
    "upright, cone and korbbogen": upright_cylinder(1.0, CONE, KORBBOGEN),
    "upright, two heads alone": upright_cylinder(0.0, DISHED, HEMISPHERE),
    "lying, flat": lying_cylinder(5.0, FLAT, FLAT),
    "lying, kloepper": lying_cylinder(5.0, KLOEPPER, KLOEPPER),
    "lying, unequal": lying_cylinder(4.0, CONE, KORBBOGEN),
    "lying, no shell": lying_cylinder(0.0, DISHED, SHARP),
    "tilted 1:1000": tilted_cylinder(5.0, KLOEPPER, FLAT, 0.001, 1.0),
    "tilted 1:100": tilted_cylinder(8.0, KLOEPPER, KLOEPPER, 0.01, 7.0),
    "tilted, falling": tilted_cylinder(5.0, DISHED, CONE, -0.05, 4.0),
    "tilted 45 degrees": tilted_cylinder(3.0, HEMISPHERE, CONE, 1.0, 1.0),
    "tilted, steep": tilted_cylinder(3.0, FLAT, KLOEPPER, 12.0, 0.0),
    "leaning": leaning_cylinder(4.0, KLOEPPER, FLAT, 0.03, 0.0),
    "leaning far": leaning_cylinder(4.0, FLAT, DISHED, 0.4, 0.8),
    "box": box(3.0, 2.0, 1.5),
    "box, falling": tilted_box(4.0, 2.0, 1.5, 0.02, 1.0),
    "box, falling far": tilted_box(4.0, 2.0, 1.5, -0.5, 3.0),
    "hopper": hopper(0.4, 0.3, 3.0, 2.0, 1.1),
    "box on hopper": stacked(hopper(0.4, 0.3, 3.0, 2.0, 1.1), box(3.0, 2.0, 1.5)),
    "cone": cone(0.0, 2.0, 1.2),
    "cone upside down": upside_down(cone(0.2, 2.0, 1.2)),
    "sphere": spheroid(10.0, 10.0),
    "spheroid": spheroid(6.0, 1.5),
}


def radius_of_end(name: str, before_tangent: Any) -> Any:
    """Inside radius of an end at a distance from its tangent line towards its pole, by definition, in many digits."""
    x, half = mpmath.mpf(before_tangent), mpmath.mpf(1)
    if name == "cone":
        return max(half * (1 - x / mpmath.mpf("0.4")), mpmath.mpf(0))
    if name == "dished":
        return half * mpmath.sqrt(max(1 - (x / mpmath.mpf("0.5")) ** 2, mpmath.mpf(0)))
    R, r, ring, rise, joint = _crown_and_knuckle(name, mpmath.mp.prec)
    if r != R and x > joint:
        return mpmath.sqrt(max(R**2 - (x + rise) ** 2, mpmath.mpf(0)))
    return ring + mpmath.sqrt(max(r**2 - x**2, mpmath.mpf(0)))


@cache
def _crown_and_knuckle(name: str, bits: int) -> tuple[Any, ...]:
    """Both radii of an end, the radius and the rise to the knuckle's centre, and where they meet, in so many bits."""
    crown, knuckle = {"kloepper": ("2", "0.2"), "korbbogen": ("1.6", "0.308"), "hemisphere": ("1", "1")}.get(
        name, ("2.5", "0")
    )
    with mpmath.workprec(bits):
        R, r = mpmath.mpf(crown), mpmath.mpf(knuckle)
        ring = mpmath.mpf(1) - r
        rise = mpmath.sqrt((R - r) ** 2 - ring**2)
        return R, r, ring, rise, r * rise / (R - r) if r != R else mpmath.mpf(0)


def joint_of_end(name: str) -> list[Any]:
    """Distances from the tangent line at which the curve of an end changes."""
    crown, knuckle = {"kloepper": ("2", "0.2"), "korbbogen": ("1.6", "0.308")}.get(name, ("1", "1"))
    R, r = mpmath.mpf(crown), mpmath.mpf(knuckle)
    if r == R:
        return []
    return [r * mpmath.sqrt((R - r) ** 2 - (1 - r) ** 2) / (R - r)]


def lying_end_m3(name: str, level: float) -> float:
    """What a lying end holds below a level, over the bottom of the shell: segments integrated along the axis."""
    with mpmath.workdps(30):
        v = mpmath.mpf(level) - 1
        depth = mpmath.mpf(float(ENDS[name].depth_m))

        def segment(x: Any) -> Any:
            r = radius_of_end(name, x)
            if v >= r:
                return mpmath.pi * r**2
            if v <= -r:
                return mpmath.mpf(0)
            return r**2 * mpmath.acos(-v / r) + v * mpmath.sqrt(r**2 - v**2)

        stops = [mpmath.mpf(0), *joint_of_end(name), depth]
        for low, high in zip(list(stops), stops[1:], strict=False):
            inner, outer = radius_of_end(name, low), radius_of_end(name, high)
            if min(inner, outer) < abs(v) < max(inner, outer):
                stops.append(mpmath.findroot(lambda x: radius_of_end(name, x) - abs(v), (low, high), solver="anderson"))
        return float(mpmath.quad(segment, sorted(stops)))


Point = Any
Inside = Callable[[Any, Any, Any], Any]


def inside_end(name: str, beyond: Any, off_axis: Any) -> Any:
    """Whether points beyond a tangent line lie inside an end, by its surfaces."""
    if name == "flat":
        return np.zeros_like(beyond, dtype=bool)
    if name == "cone":
        return (beyond > 0) & (beyond <= 0.4) & (off_axis <= 1 - beyond / 0.4)
    if name == "dished":
        return (beyond > 0) & ((beyond / 0.5) ** 2 + off_axis**2 <= 1)
    R, r = {"kloepper": (2.0, 0.2), "korbbogen": (1.6, 0.308), "hemisphere": (1.0, 1.0)}[name]
    rise = np.sqrt((R - r) ** 2 - (1 - r) ** 2)
    edge = R * (1 - r) / (R - r) if r != R else 0.0
    crown = (off_axis <= edge) & ((beyond + rise) ** 2 + off_axis**2 <= R**2)
    knuckle = (off_axis > edge) & (beyond**2 + (off_axis - (1 - r)) ** 2 <= r**2)
    return (beyond > 0) & (crown | knuckle)


def inside_cylinder(length: float, near: str, far: str) -> Inside:
    """Whether points (x along the axis from the near tangent line, two coordinates across) lie inside a cylinder."""

    def inside(x: Any, y: Any, z: Any) -> Any:
        off_axis = np.hypot(y, z)
        shell = (x >= 0) & (x <= length) & (off_axis <= 1)
        return shell | inside_end(near, -x, off_axis) | inside_end(far, x - length, off_axis)

    return inside
