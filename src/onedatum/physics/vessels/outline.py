"""The outline of an upright vessel for drawings: half its section through the axis, as one line of points."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.physics.vessels.torisphere import Torisphere
from onedatum.physics.vessels.upright import Upright

POINTS_PER_ARC = 32
"""Enough that a chord leaves its arc by less than 1/3000 of the arc's radius for any head."""


class Outline(NamedTuple):
    """Half a section, from the lowest inside point on the axis to the highest."""

    radius_m: Reals
    height_m: Reals


def vertical_outline(
    diameter_m: float,
    shell_length_m: float,
    bottom_crown_radius_m: float,
    bottom_knuckle_radius_m: float,
    top_crown_radius_m: float,
    top_knuckle_radius_m: float,
    points_per_arc: int = POINTS_PER_ARC,
) -> Outline:
    """Half the section of an upright vessel with torispherical heads; the tangent lines are met exactly.

    Example
    -------
    >>> outline = vertical_outline(1.6, 2.4, 1.6, 0.16, 1.6, 0.16)
    >>> float(outline.radius_m[0]), float(outline.height_m[0]), round(float(outline.height_m[-1]), 6)
    (0.0, 0.0, 3.020078)
    """
    bottom, top = (bottom_crown_radius_m, bottom_knuckle_radius_m), (top_crown_radius_m, top_knuckle_radius_m)
    vessel = Upright(diameter_m, shell_length_m, *bottom, *top)
    below, above = _head(vessel.bottom, points_per_arc), _head(vessel.top, points_per_arc)
    radius_m = np.concatenate([below.radius_m, above.radius_m[::-1]])
    height_m = np.concatenate([below.height_m, vessel.inside_height_m - above.height_m[::-1]])
    height_m[len(below.height_m)] = vessel.tangent_m
    return Outline(radius_m, height_m)


def _head(head: Torisphere, points: int) -> Outline:
    """A bottom head from its lowest point to its tangent line; the junction of crown and knuckle stands once."""
    in_crown = np.linspace(0.0, head.angle_rad, points)
    in_knuckle = np.linspace(head.angle_rad, 0.5 * np.pi, points)[1:]
    crown, knuckle = head.crown_radius_m, head.knuckle_radius_m
    radius_m = np.concatenate([crown * np.sin(in_crown), head.ring_m + knuckle * np.sin(in_knuckle)])
    height_m = np.concatenate([2.0 * crown * np.sin(0.5 * in_crown) ** 2, head.depth_m - knuckle * np.cos(in_knuckle)])
    radius_m[-1], height_m[-1] = 0.5 * head.diameter_m, head.depth_m
    return Outline(radius_m, height_m)
