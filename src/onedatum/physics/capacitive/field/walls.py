"""The wall of a vessel as the field meets it: the equivalent round wall at every height, from its sections.

Every section is replaced by the round one with the same capacitance about a rod on its axis. Where the rod, or the
ring it passes the roof by, leaves no room, the wall ends: at the bottom on the axis, at the top in the ring.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Reals
from onedatum.physics.capacitive.field.shapes import Vessel
from onedatum.physics.capacitive.section import in_rectangle_radius_m, off_axis_radius_m

_STATIONS = 160
"""Heights at which a section that is not round about the rod is worked."""
_FLATTEST = 12.0
"""Run over rise of the flattest roof that is followed to its ring."""
_SAME, _SMALL = 1e-6, 0.01
"""Heights as shares of the whole that are one; a step as a share of the radius that is none."""
_TUBE_BELOW = 4.0
"""How far an open tube goes on below the rod, in its radii: what lies deeper is felt by exp(-2.405*4) of the field."""


def round_wall(
    heights_m: Reals, radii_m: Reals, rod_radius_m: float, off_axis_m: float, ring_radius_m: float
) -> Vessel:
    """A body of revolution, the rod beside its axis or on it; heights rise, a step of the wall stands in them twice."""
    if off_axis_m == 0.0:
        return _ended(heights_m, radii_m, ring_radius_m)
    even, least = np.ptp(radii_m) == 0.0, off_axis_m + rod_radius_m
    heights, radii = _with_room(heights_m, radii_m, least, bool(even))
    inside = radii > least * (1.0 + _SAME)
    wall = np.zeros_like(radii)
    wall[inside] = off_axis_radius_m(rod_radius_m, radii[inside], off_axis_m)
    return _ended(heights, wall, ring_radius_m)


def rectangular_wall(
    heights_m: Reals,
    half_widths_m: Reals,
    ends_m: tuple[Reals, Reals],
    rod_radius_m: float,
    off_middle_m: float,
    ring_radius_m: float,
) -> Vessel:
    """Sections with four walls: half the width, and how far from the rod to the near and to the far end, by height."""
    even = all(bool(np.ptp(column) == 0.0) for column in (half_widths_m, *ends_m))
    heights, half = _with_room(heights_m, half_widths_m, abs(off_middle_m), even)
    near, far = (np.interp(heights, heights_m, end) for end in ends_m)
    side = half - abs(off_middle_m)
    inside = (side > 0.0) & (near > 0.0) & (far > 0.0)
    wall = np.zeros_like(half)
    wall[inside] = in_rectangle_radius_m(
        rod_radius_m, 2.0 * half[inside], (near + far)[inside], side[inside], near[inside]
    )
    return _ended(heights, wall, ring_radius_m)


def tube_wall(tube_radius_m: float, tip_height_m: float, top_m: float) -> Vessel:
    """A concentric tube, open below the rod and going on above it: what is beyond either end is not felt."""
    heights = np.array([tip_height_m - _TUBE_BELOW * tube_radius_m, top_m])
    return Vessel(heights, np.full(2, tube_radius_m), mirrored_top=True)


def _with_room(heights_m: Reals, half_m: Reals, least_m: float, even: bool) -> tuple[Reals, Reals]:
    """The part of a profile that is wider than the least, and where it is just as wide; closer stations if uneven."""
    if not np.any(half_m > least_m):
        raise _no_room(f"{least_m:g} m off it", float(np.max(half_m)))
    if even:
        return heights_m, half_m
    turns = _crossings(heights_m, half_m, least_m)
    steps = np.linspace(heights_m[0], heights_m[-1], _STATIONS)
    more = np.setdiff1d(np.concatenate([turns, steps]), heights_m)
    heights = np.concatenate([heights_m, more])
    half = np.concatenate([half_m, np.interp(more, heights_m, half_m)])
    order = np.lexsort((np.arange(len(heights)), heights))
    heights, half = heights[order], half[order]
    kept = _widest_run(half >= least_m * (1.0 - 1e-12), half)
    return heights[kept], half[kept]


def _crossings(heights_m: Reals, half_m: Reals, least_m: float) -> Reals:
    """Heights at which a profile is as wide as the least."""
    over = half_m - least_m
    rows = np.flatnonzero((over[:-1] * over[1:] < 0.0) & (np.diff(heights_m) > 0.0))
    share = over[rows] / (over[rows] - over[rows + 1])
    return np.asarray(heights_m[rows] + share * (heights_m[rows + 1] - heights_m[rows]))


def _widest_run(wide: NDArray[np.bool_], half_m: Reals) -> slice:
    """Rows in one piece about the widest place."""
    place = int(np.argmax(half_m))
    low, high = place, place
    while low > 0 and wide[low - 1]:
        low -= 1
    while high < len(wide) - 1 and wide[high + 1]:
        high += 1
    return slice(low, high + 1)


def _ended(heights_m: Reals, wall_m: Reals, ring_radius_m: float) -> Vessel:
    """From where the wall leaves the axis to the roof; steps as short cones."""
    heights, wall = _as_cones(heights_m, wall_m)
    widest = int(np.argmax(wall))
    if wall[widest] <= ring_radius_m:
        raise _no_room(f"a ring of {ring_radius_m:g} m", float(wall[widest]))
    foot = np.flatnonzero(wall[:widest] <= 0.0)
    first = int(foot[-1]) if foot.size else 0
    heights, wall = _roofed(heights, wall, widest, ring_radius_m)
    return Vessel(heights[first:], wall[first:])


def _roofed(heights_m: Reals, wall_m: Reals, widest: int, ring_radius_m: float) -> tuple[Reals, Reals]:
    """A roof that is nearly level about the rod is level there; a steeper one ends where it is as wide as the ring.

    Between a wall that runs in nearly level and the level line of the ring no mesh is good. From where the roof is
    flatter than 1 in 12 it goes on as 1 in 12, and what is left of the height is closed by a level roof: of a dished
    one that lies 1/300 of the radius of its crown too high at most.
    """
    top = heights_m[-1]
    gentle = np.flatnonzero(-np.diff(wall_m[widest:]) <= _FLATTEST * np.diff(heights_m[widest:]))
    row = widest + (int(gentle[-1]) + 1 if gentle.size else 0)
    if row < len(wall_m) - 1:
        rim = max(wall_m[row] - _FLATTEST * (top - heights_m[row]), min(2.0 * ring_radius_m, wall_m[row]))
        return np.append(heights_m[: row + 1], top), np.append(wall_m[: row + 1], rim)
    narrow = np.flatnonzero(wall_m[widest:] <= ring_radius_m)
    if not narrow.size:
        return heights_m, wall_m
    last = widest + int(narrow[0])
    share = (wall_m[last - 1] - ring_radius_m) / (wall_m[last - 1] - wall_m[last])
    end = heights_m[last - 1] + share * (heights_m[last] - heights_m[last - 1])
    return np.append(heights_m[:last], end), np.append(wall_m[:last], ring_radius_m)


def _as_cones(heights_m: Reals, wall_m: Reals) -> tuple[Reals, Reals]:
    """A step is a cone half as high as it is wide, taken off what stands on it; a small one is none."""
    heights, wall = [float(heights_m[0])], [float(wall_m[0])]
    same, small = _SAME * float(np.ptp(heights_m)), _SMALL * float(np.max(wall_m))
    for height, radius in zip(heights_m[1:].tolist(), wall_m[1:].tolist(), strict=True):
        step = abs(radius - wall[-1])
        if height > heights[-1] + same:
            heights.append(height)
            wall.append(radius)
        elif step > small:
            heights.append(heights[-1] + 0.5 * step)
            wall.append(radius)
        else:
            wall[-1] = radius
    return np.array(heights), np.array(wall)


def _no_room(got: str, widest_m: float) -> ValidityError:
    why = "the rod stands outside the vessel: state where it stands, or the equivalent radius"
    allowed = f"within the vessel, {widest_m:g} m from its axis to the wall"
    return ValidityError("capacitive.capacitance_curve", "place of the rod", allowed, got, why)
