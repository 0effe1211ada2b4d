"""A body of revolution whose axis lies level or leans.

Upper half and lower half are worked alike: what is missing above a level is what stands below it in the body upside
down. Where many levels are asked of one body, its volume and surface are kept as curves, fitted once.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Any

import numpy as np

from onedatum.foundation.numerics import Curve, Reals, monotone_root
from onedatum.physics.vessels.axial import filled_m3, surface_m2, wetted_wall_m2
from onedatum.physics.vessels.body import Body, Outline, Stroke
from onedatum.physics.vessels.profile import cylinder_ends, half_profile
from onedatum.physics.vessels.segment import half_chord_m
from onedatum.physics.vessels.words import said

MANY = 200
"""Levels at once from which a curve is fitted first."""
VOLUME_POWER, AREA_POWER = 3, 1
"""How volume and surface vanish at the lowest and highest point, as powers of the angle of a curve: a convex body of
revolution on its side holds at least like h**1.5, and its surface goes at least like h**0.5."""
LEAST_COSINE = 1e-5
"""An axis nearer to plumb than this is taken as this near."""
NEWTON_STEPS = 8
"""A level that has not settled by then is looked for between brackets."""
NEAR = 1e-7
"""Of a rung: a step not longer than this leaves its square, and that is the last digits."""
LEAST_SLOPE = 0.1
"""Of a guess, beside its mean over the rung: a guess that runs flat is not followed."""
RUNGS = 129
"""Levels of a first guess between two corners."""
_SAME_DIGITS = 9
_SAME = 10.0**-_SAME_DIGITS
_Function = Callable[[Reals], Any]
_POINTS_OF_SECTION = 257
_HALVINGS = 40


@dataclass(frozen=True)
class Leaning(Body):
    """Pieces along the axis, from its near end; the axis rises towards the far end where the sine is positive."""

    pieces: tuple[Any, ...]
    sine: Any
    cosine: Any
    datum_m: Any
    """Height of the datum over the start of the axis."""
    plumb_m: Any
    """Horizontal distance of the gauge's plumb line from the start of the axis."""
    words: str = ""

    def told(self, shown: str = "") -> str:
        slope = "axis level" if np.all(self.sine == 0.0) else "axis leaning"
        return f"{self.words}, {slope}, from {said(self.low_m, shown)} to {said(self.high_m, shown)}"

    @cached_property
    def low_m(self) -> Any:
        return self._lowest_m(1.0) - self.datum_m

    @cached_property
    def high_m(self) -> Any:
        return -self._lowest_m(-1.0) - self.datum_m

    @cached_property
    def volume_m3(self) -> Any:
        return sum(piece.volume_m3 for piece in self.pieces)

    @cached_property
    def breaks_m(self) -> tuple[Any, ...]:
        """Heights of the corners of its pieces, at the bottom and at the top side."""
        corners = [self.low_m, self.high_m]
        along: Any = 0.0
        for piece in self.pieces:
            ends = ((along, piece.start_radius_m), (along + piece.length_m, piece.end_radius_m))
            for x, radius in ends:
                corners += [x * self.sine + side * radius * self._cosine - self.datum_m for side in (-1.0, 1.0)]
            along = along + piece.length_m
        return tuple(corners)

    def volume_below_m3(self, level_m: Any) -> Any:
        if self._is_many(level_m):
            return self._volume_curve_m3(level_m)
        lower, under = self._halved(level_m)
        return np.where(lower, under, self.volume_m3 - under)[()]

    def area_m2(self, level_m: Any) -> Any:
        if self._is_many(level_m):
            return self._area_curve(level_m)
        offset, slope, _ = self._line(level_m)
        return (surface_m2(self.pieces, offset, slope) / self._cosine)[()]

    def wetted_m2(self, level_m: Any) -> Any:
        offset, slope, _ = self._line(level_m, halved=False)
        return wetted_wall_m2(self.pieces, offset, slope)

    def level_m(self, volume_m3: Any) -> Any:
        if not self._is_many(volume_m3):
            return super().level_m(volume_m3)
        asked = np.ravel(np.asarray(volume_m3, dtype=np.float64))
        found = np.where(asked >= self.volume_m3, self.high_m, np.where(asked <= 0.0, self.low_m, np.nan))
        between = (asked > 0.0) & (asked < self.volume_m3)
        found[between] = self._level_between_m(asked[between])
        return found.reshape(np.shape(volume_m3))

    def _level_between_m(self, volume_m3: Reals) -> Reals:
        """Levels of volumes between nothing and all, on the curves: a guess, then Newton's steps where it is off."""
        level, area, rung = self._ladder.guess(volume_m3)
        lowest, highest = self._ladder.levels_m[rung], self._ladder.levels_m[rung + 1]
        off = np.arange(level.size)
        for _ in range(NEWTON_STEPS):
            gap = self._volume_curve_m3(level[off]) - volume_m3[off]
            halved = 0.5 * (level[off] + np.where(gap > 0.0, lowest[off], highest[off]))
            step = np.divide(gap, area, out=level[off] - halved, where=area > 0.0)
            following = np.clip(level[off] - step, lowest[off], highest[off])
            moved, level[off] = np.abs(following - level[off]), following
            off = off[moved > NEAR * (highest[off] - lowest[off])]
            if not off.size:
                return level
            area = self._area_curve(level[off])
        low, high = float(self.low_m), float(self.high_m)
        level[off] = monotone_root(self._volume_curve_m3, self._area_curve, volume_m3[off], low, high, level[off])
        return level

    @cached_property
    def outline(self) -> Outline:
        x, radius = half_profile(self.pieces)
        under, over = self._drawn(x, -radius), self._drawn(x, radius)
        closed = np.concatenate([under[0], over[0][::-1]]), np.concatenate([under[1], over[1][::-1]])
        axis = self._stroke((0.0, 0.0), (float(x[-1]), 0.0))
        tangents = tuple(self._stroke((at, -reach), (at, reach)) for at, reach in cylinder_ends(self.pieces))
        return Outline(closed, self._half_section(), axis, tangents)

    def _drawn(self, x: Any, above_axis_m: Any) -> tuple[Any, Any]:
        """Where a point of the plane through the axis lies: across from the gauge, and over the datum."""
        across = x * self.cosine - above_axis_m * self.sine - self.plumb_m
        return across, x * self.sine + above_axis_m * self.cosine - self.datum_m

    def _stroke(self, start_m: tuple[float, float], end_m: tuple[float, float]) -> Stroke:
        (x_1, z_1), (x_2, z_2) = self._drawn(*start_m), self._drawn(*end_m)
        return (float(x_1), float(z_1)), (float(x_2), float(z_2))

    @cached_property
    def _cosine(self) -> Any:
        return np.maximum(self.cosine, LEAST_COSINE)

    @cached_property
    def _is_single(self) -> bool:
        """Whether every measure is one number."""
        return self.ndim == 0

    def _is_many(self, levels: Any) -> bool:
        return np.size(levels) >= MANY and self._is_single

    def _lowest_m(self, sign: float) -> Any:
        """Lowest height over the start of the axis; with -1 that of the body upside down."""
        along: Any = 0.0
        lowest: Any = np.inf
        for piece in self.pieces:
            there = along * sign * self.sine + piece.lowest_m(sign * self.sine, self._cosine)
            lowest = np.minimum(lowest, there)
            along = along + piece.length_m
        return lowest

    def _line(self, level_m: Any, halved: bool = True) -> tuple[Any, Any, Any]:
        """The level in the plane through the axis: its offset and slope, mirrored above the middle."""
        lower = np.asarray(level_m) <= 0.5 * (self.low_m + self.high_m)
        sign = np.where(lower, 1.0, -1.0) if halved else 1.0
        offset = sign * (np.clip(level_m, self.low_m, self.high_m) + self.datum_m) / self._cosine
        slope = sign * self.sine / self._cosine
        return offset, (0.0 if np.all(slope == 0.0) else slope), lower

    def _halved(self, level_m: Any) -> tuple[Any, Any]:
        """Whether the level lies in the lower half, and the volume below it or above it, whichever is the less."""
        offset, slope, lower = self._line(level_m)
        return lower, filled_m3(self.pieces, offset, slope)

    def _volume_curve_m3(self, level_m: Any) -> Any:
        level = np.asarray(level_m, dtype=np.float64)
        lower = level <= self._middle_m
        values = np.empty_like(level)
        values[lower] = self._curves[0](level[lower])
        values[~lower] = self.volume_m3 - self._curves[1](level[~lower])
        return values

    @cached_property
    def _middle_m(self) -> float:
        return 0.5 * float(self.low_m + self.high_m)

    @cached_property
    def _curves(self) -> tuple[Curve, Curve]:
        """The volume below the levels of the lower half, and the volume above those of the upper half."""

        def least_m3(level_m: Reals) -> Any:
            return self._halved(level_m)[1]

        below = [float(each) for each in self.breaks_m if each < self._middle_m]
        above = [float(each) for each in self.breaks_m if each > self._middle_m]
        upper = self._fitted(least_m3, [self._middle_m, *above], (0, VOLUME_POWER))
        if self.sine == 0.0:
            return upper.mirrored(self._middle_m), upper
        return self._fitted(least_m3, [*below, self._middle_m], (VOLUME_POWER, 0)), upper

    @cached_property
    def _area_curve(self) -> Curve:
        def area_m2(level_m: Reals) -> Any:
            offset, slope, _ = self._line(level_m)
            return surface_m2(self.pieces, offset, slope) / self._cosine

        return self._fitted(area_m2, [float(each) for each in self.breaks_m], (AREA_POWER, AREA_POWER))

    def _fitted(self, function: _Function, breaks_m: list[float], powers: tuple[int, int]) -> Curve:
        return Curve.of(function, breaks_m, powers, _SAME * float(self.high_m - self.low_m))

    @cached_property
    def _ladder(self) -> _Ladder:
        low, height = float(self.low_m), float(self.high_m - self.low_m)
        corners = np.unique(np.round((np.array([float(each) for each in self.breaks_m]) - low) / height, _SAME_DIGITS))
        shares = np.sin(np.linspace(0.0, 0.5 * np.pi, RUNGS)) ** 2
        rungs = np.concatenate([first + (last - first) * shares for first, last in pairwise(corners.tolist())])
        levels = low + height * np.unique(rungs)
        areas = np.maximum(self._area_curve(levels), 0.0)
        return _Ladder(levels, np.maximum.accumulate(self._volume_curve_m3(levels)), areas)

    def _half_section(self) -> tuple[Reals, Reals]:
        """Half the plumb section across the elevation, along the plumb line of the gauge."""
        levels = np.linspace(float(self.low_m), float(self.high_m), _POINTS_OF_SECTION)
        inside = np.flatnonzero(self._width_m(levels) > 0.0)
        if not inside.size:
            return levels[:0], levels[:0]
        step = levels[1] - levels[0]
        foot, head = (self._edge_m(float(levels[inside[end]]), way * step) for end, way in ((0, -1.0), (-1, 1.0)))
        z = 0.5 * (foot + head) - 0.5 * (head - foot) * np.cos(np.linspace(0.0, np.pi, _POINTS_OF_SECTION))
        return self._width_m(z), z

    def _edge_m(self, inside_m: float, step_m: float) -> float:
        """Where the plumb line leaves the vessel, within a step from a level inside; found by halving."""
        outside = inside_m + step_m
        for _ in range(_HALVINGS):
            middle = 0.5 * (inside_m + outside)
            if float(self._width_m(np.array([middle]))[0]) > 0.0:
                inside_m = middle
            else:
                outside = middle
        return inside_m

    def _width_m(self, level_m: Reals) -> Reals:
        """Half the width of the vessel along the plumb line of the gauge."""
        over_start = level_m + self.datum_m
        x = self.plumb_m * self.cosine + over_start * self.sine
        width: Reals = half_chord_m(self._radius_m(x), over_start * self.cosine - self.plumb_m * self.sine)
        return width

    def _radius_m(self, x_m: Reals) -> Reals:
        """Inside radius along the axis, 0 beyond the ends."""
        radius = np.zeros_like(x_m)
        start = 0.0
        for piece in self.pieces:
            here = (x_m >= start) & (x_m <= start + piece.length_m)
            radius[here] = piece.radius_m(x_m[here] - start)
            start = start + piece.length_m
        return radius


@dataclass(frozen=True)
class _Ladder:
    """Levels, close together where the volume curves, with volumes and surfaces: a first guess for the inverse.

    Between two rungs the level is the cubic that has the slopes at both, next to the lowest and the highest point the
    power of the volume that has the slope at the other rung.
    """

    levels_m: Reals
    volumes_m3: Reals
    areas_m2: Reals

    def guess(self, volume_m3: Reals) -> tuple[Reals, Reals, Any]:
        """Of every volume the level, the surface there as the guess has it, and the number of the rung below."""
        last = len(self.levels_m) - 2
        rung = np.clip(np.searchsorted(self.volumes_m3, volume_m3, side="right") - 1, 0, last)
        height, volume = self._height_m[rung], self._between_m3[rung]
        first, second = self._bends
        first, second = first[rung], second[rung]
        with np.errstate(invalid="ignore", divide="ignore"):
            t = (volume_m3 - self.volumes_m3[rung]) / volume
            u = 1.0 - t
            bend = first * u - second * t
            share, slope = t + t * u * bend, 1.0 + (u - t) * bend - t * u * (first + second)
            for end, power, gone in ((0, second, t), (last, first, u)):
                here = rung == end
                risen = gone[here] ** (power[here] + 1.0)
                share[here] = risen if end == 0 else 1.0 - risen
                slope[here] = (power[here] + 1.0) * risen / gone[here]
            area = volume / (height * np.maximum(slope, LEAST_SLOPE))
            return self.levels_m[rung] + height * np.clip(share, 0.0, 1.0), area, rung

    @cached_property
    def _height_m(self) -> Reals:
        return np.diff(self.levels_m)

    @cached_property
    def _between_m3(self) -> Reals:
        return np.diff(self.volumes_m3)

    @cached_property
    def _bends(self) -> tuple[Reals, Reals]:
        """By how much the slope at the lower and at the upper rung is over the mean; three times it at most."""
        with np.errstate(invalid="ignore", divide="ignore"):
            mean = self._between_m3 / self._height_m
            lower, upper = (np.fmin(mean / areas, 3.0) - 1.0 for areas in (self.areas_m2[:-1], self.areas_m2[1:]))
        return lower, upper
