"""The mesh: a grid of lines across the axis and along the rod, drawn out to the wall at every height.

Columns lie in blocks: core (0 to a), coating (a to b), fluid (b to the wall). In the two outer blocks an element is
straight in ln r, so that the field of a coaxial line is met exactly and only ends, roof and wall need fine elements.
Below the tip the core and coating blocks shrink with the wall, so that the mesh closes where a bottom meets the axis.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from onedatum.foundation.numerics import Reals
from onedatum.physics.capacitive.field.lines import graded_lines, joined
from onedatum.physics.capacitive.field.shapes import Probe, Vessel

FREE, ROD, EARTH = 0, 1, 2

_REFERENCE_STEP = np.log(1.6)
_GROWTH = 0.9
"""Growth of the elements with the distance from an edge, at the ratio 1.6."""
_EDGE, _COATING_EDGE, _RING_EDGE = 0.05, 0.15, 0.1
"""Element at an edge over core radius, coating thickness and gap of the ring, at the ratio 1.6."""
_GAP_SHARE = 0.3
"""Highest element below the probe over the gap there, at the ratio 1.6."""
_HEIGHT_SHARE = 0.1
"""Highest element over the widest radius, at the ratio 1.6."""
_WALL_SHARE = 0.4
"""Piece of a leaning wall beside an element over the radius there, at the ratio 1.6."""
_SURFACE = 0.5
"""Element at the surface of a liquid that shields, over the thickness of the coating, at the ratio 1.6."""
_SHIELDING = 5.0
_CLOSEST = 1e-7
"""Two lines closer than this share of the height are one."""


@dataclass(frozen=True, eq=False)
class Mesh:
    """Lines, wall and what each node is held at. Nodes: twice as many as elements and one, either way."""

    heights_m: Reals
    """Of the lines across, from the bottom up."""
    blocks: NDArray[np.int_]
    """Block of each column: 0 core, 1 coating, 2 fluid."""
    shares: Reals
    """Where each column begins and ends within its block, as a share of its width (of ln r in the outer blocks)."""
    edges_m: Reals
    """Core, coating and wall radius at the nodes of each layer: layers x 3 nodes x 3 radii."""
    held: NDArray[np.int_]
    """FREE, ROD or EARTH: heights x radii."""
    coated: NDArray[np.bool_]
    """Whether an element is coating: layers x columns."""
    core: NDArray[np.bool_]
    """Whether an element lies inside the core, where there is no field."""

    def line(self, level_m: float) -> int:
        """The line across at a level."""
        return int(np.argmin(np.abs(self.heights_m - level_m)))


def edge_sizes_m(probe: Probe, ratio: float) -> tuple[float, float]:
    """Size of the elements at the edge of the tip and of the ring: the finer, the sharper the field is there.

    Near the tip it goes as distance**(-1/3), at the ring as distance**(-1/2): to keep pace with the rest, whose error
    goes with the fourth power of the step, the sizes go with its third and fourth power.
    """
    step = np.log(ratio) / _REFERENCE_STEP
    tip = _EDGE * probe.core_radius_m
    if probe.coating_radius_m is not None:
        tip = min(tip, _COATING_EDGE * (probe.coating_radius_m - probe.core_radius_m))
    ring = probe.outer_radius_m if probe.ring_radius_m is None else probe.ring_radius_m - probe.core_radius_m
    return tip * step**3, _RING_EDGE * ring * step**4


def make_mesh(probe: Probe, vessel: Vessel, levels_m: Reals, ratio: float, sharp: bool = False) -> Mesh:
    """The mesh for a set of levels, each of them a line across; `ratio` of the radii of neighbouring columns.

    `sharp`: the surface of the liquid is to be met with fine layers, as an earthed plane would be.
    """
    heights = _heights(probe, vessel, levels_m, ratio, sharp)
    blocks, shares = _columns(probe, vessel, ratio, sharp)
    nodes = np.stack([heights[:-1], 0.5 * (heights[:-1] + heights[1:]), heights[1:]], axis=1)
    coated, core = _filled(probe, nodes[:, 1], blocks)
    edges = _edges(probe, vessel, nodes)
    return Mesh(heights, blocks, shares, edges, _held(probe, vessel, heights, blocks, shares), coated, core)


def shields(fluids: tuple[complex, complex]) -> bool:
    """Whether the permittivities of two fluids are so far apart that their surface acts nearly as a conductor."""
    low, high = sorted(abs(fluid) for fluid in fluids)
    return high > _SHIELDING * low


def _heights(probe: Probe, vessel: Vessel, levels_m: Reals, ratio: float, sharp: bool) -> Reals:
    step = np.log(ratio) / _REFERENCE_STEP
    tip, ring = edge_sizes_m(probe, ratio)
    specials = [(probe.tip_height_m, tip)]
    if probe.end_coating_m > 0.0:
        specials.append((probe.end_height_m, tip))
    if not vessel.mirrored_top:
        specials.append((vessel.top_m, ring))
    fixed = np.array([vessel.bottom_m, *(place for place, _ in specials), vessel.top_m])
    points = joined(fixed, np.concatenate([levels_m, vessel.kinks_m()]), _CLOSEST * (vessel.top_m - vessel.bottom_m))
    if sharp and probe.coating_radius_m is not None:
        surface = _SURFACE * (probe.coating_radius_m - probe.core_radius_m) * step
        specials.extend((level, surface) for level in np.unique(levels_m).tolist())

    def size(height_m: Reals) -> Reals:
        found = np.full_like(height_m, step * _HEIGHT_SHARE * vessel.widest_m)
        gap = probe.end_height_m - vessel.bottom_m
        found = np.where(height_m < probe.end_height_m, np.minimum(found, _GAP_SHARE * step * gap), found)
        found = np.minimum(found, step * _wall_size(probe, vessel, height_m, ring / step))
        return _near(height_m, found, specials, _GROWTH * step)

    return graded_lines(points, size, specials, vessel.heights_m)


def _wall_size(probe: Probe, vessel: Vessel, height_m: Reals, ring_m: float) -> Reals:
    """Height of an element so that its piece of a leaning wall is short against the radius, and near the ring."""
    wall, slope = vessel.radius_m(height_m), np.abs(vessel.slope(height_m))
    found = _WALL_SHARE * (wall + probe.core_radius_m) / np.maximum(slope, 1e-9)
    if vessel.mirrored_top or probe.ring_radius_m is None:
        return found
    away = np.hypot(wall - probe.ring_radius_m, vessel.top_m - height_m)
    return np.asarray(np.minimum(found, (ring_m + _GROWTH * away) / np.hypot(1.0, slope)), dtype=np.float64)


def _near(place_m: Reals, size_m: Reals, specials: list[tuple[float, float]], growth: float) -> Reals:
    for edge, least in specials:
        size_m = np.minimum(size_m, least + growth * np.abs(place_m - edge))
    return size_m


def _columns(probe: Probe, vessel: Vessel, ratio: float, sharp: bool) -> tuple[NDArray[np.int_], Reals]:
    """Block of each column, and its begin and end as shares of the block."""
    inner, outer, wall = probe.core_radius_m, probe.outer_radius_m, vessel.widest_m
    tip, ring = edge_sizes_m(probe, ratio)
    step = np.log(ratio)
    specials, points = [(inner, tip)], {0.0, inner, outer, wall}
    if not vessel.mirrored_top and probe.ring_radius_m is not None and probe.ring_radius_m > outer:
        stretch = np.log(wall / outer) / np.log(vessel.radii_m[-1] / outer)
        drawn = min(outer * float((probe.ring_radius_m / outer) ** stretch), wall)
        specials.append((drawn, ring * drawn / probe.ring_radius_m * stretch))
        points = {point for point in points if abs(point - drawn) > _CLOSEST * wall} | {drawn}

    if sharp and outer > inner:
        specials.append((outer, _SURFACE * (outer - inner) * step / _REFERENCE_STEP))

    def size(radius_m: Reals) -> Reals:
        found = step * np.maximum(radius_m, inner)
        if outer > inner:
            found = np.where((radius_m >= inner) & (radius_m <= outer), np.minimum(found, 0.5 * (outer - inner)), found)
        return _near(radius_m, found, specials, _GROWTH * step / _REFERENCE_STEP)

    radii = graded_lines(np.array(sorted(points)), size, specials)
    middle = 0.5 * (radii[:-1] + radii[1:])
    blocks = np.where(middle < inner, 0, np.where(middle < outer, 1, 2))
    low, high = np.array([0.0, inner, outer])[blocks], np.array([inner, outer, radii[-1]])[blocks]
    ends = np.stack([radii[:-1], radii[1:]], axis=1)
    shares = ends / inner
    out = blocks > 0
    shares[out] = np.log(ends[out] / low[out, None]) / np.log(high[out] / low[out])[:, None]
    return blocks, shares


def _edges(probe: Probe, vessel: Vessel, nodes_m: Reals) -> Reals:
    """Radii of core, coating and wall; below the probe the inner two shrink so that they stay inside the wall.

    1/b' = m/w + 1/b - m/w_t with w the wall, w_t the wall beside the end of the probe: b' = b there, b' -> w/m at the
    axis, b' < w between.
    """
    wall, outer = vessel.radius_m(nodes_m), probe.outer_radius_m
    at_end = float(vessel.radius_m(np.array(probe.end_height_m)))
    lean = min(3.0, 0.5 * (1.0 + at_end / outer))
    shrunk = wall / (lean * outer + wall * (1.0 - lean * outer / at_end))
    inside = np.where(nodes_m < probe.end_height_m, shrunk, 1.0)
    return np.stack([probe.core_radius_m * inside, outer * inside, wall], axis=-1)


def _filled(probe: Probe, middle_m: Reals, blocks: NDArray[np.int_]) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Which elements are coating, which are core."""
    above, beside = (middle_m > probe.tip_height_m)[:, None], (middle_m > probe.end_height_m)[:, None]
    core = above & (blocks == 0)[None, :]
    coated = ((above & (blocks == 1)[None, :]) | (beside & ~above & (blocks <= 1)[None, :])) & ~core
    return (coated if probe.coating_radius_m is not None else np.zeros_like(coated)), core


def _held(probe: Probe, vessel: Vessel, heights_m: Reals, blocks: NDArray[np.int_], shares: Reals) -> NDArray[np.int_]:
    at = np.empty(2 * len(heights_m) - 1)
    at[::2], at[1::2] = heights_m, 0.5 * (heights_m[:-1] + heights_m[1:])
    held = np.full((len(at), 2 * len(blocks) + 1), FREE)
    last = 2 * int(np.sum(blocks == 0))
    held[2 * int(np.argmin(np.abs(heights_m - probe.tip_height_m))) :, : last + 1] = ROD
    held[:, -1] = EARTH
    held[0, :] = EARTH
    if not vessel.mirrored_top:
        held[-1, 2 * _ring_column(probe, vessel, blocks, shares) :] = EARTH
    return held


def _ring_column(probe: Probe, vessel: Vessel, blocks: NDArray[np.int_], shares: Reals) -> int:
    """Number of columns inside the ring."""
    outer, ring = probe.outer_radius_m, probe.ring_radius_m or probe.outer_radius_m
    share = np.log(ring / outer) / np.log(vessel.radii_m[-1] / outer)
    return int(np.sum((blocks < 2) | (shares[:, 1] <= share + 1e-9)))
