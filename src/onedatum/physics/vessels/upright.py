"""A body of revolution whose axis is plumb: piece upon piece, each in closed form.

A piece that narrows upwards is worked from its top, as all of it less its ullage, so that a nearly full vessel keeps
the same accuracy as a nearly empty one.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate
from typing import Any

import numpy as np

from onedatum.physics.vessels.axial import along_the_axis
from onedatum.physics.vessels.body import Body, Outline
from onedatum.physics.vessels.pieces import Frustum, Piece
from onedatum.physics.vessels.profile import cylinder_ends, half_profile
from onedatum.physics.vessels.words import said


@dataclass(frozen=True)
class Upright(Body):
    """Pieces from the bottom up; the datum is the lowest inside point."""

    pieces: tuple[Any, ...]
    words: str = ""

    def told(self, shown: str = "") -> str:
        return f"{self.words}, {said(self.high_m, shown)} high, axis plumb"

    low_m = 0.0

    @cached_property
    def starts_m(self) -> tuple[Any, ...]:
        """Level at which each piece starts, and the highest level."""
        return tuple(accumulate((piece.length_m for piece in self.pieces), initial=0.0))

    @property
    def high_m(self) -> Any:
        return self.starts_m[-1]

    @cached_property
    def volume_m3(self) -> Any:
        return sum(piece.volume_m3 for piece in self.pieces)

    @property
    def breaks_m(self) -> tuple[Any, ...]:
        return self.starts_m

    def volume_below_m3(self, level_m: Any) -> Any:
        return sum(piece.volume_before_m3(x) for piece, x in self._reached(level_m))

    def area_m2(self, level_m: Any) -> Any:
        area: Any = 0.0
        for (piece, x), start in zip(self._reached(level_m), self.starts_m, strict=False):
            area = np.where(level_m >= start, np.pi * piece.radius_m(x) ** 2, area)
        return np.where(level_m > self.high_m, 0.0, area)

    def wetted_m2(self, level_m: Any) -> Any:
        wetted: Any = 0.0
        before: Any = 0.0
        for (piece, x), start in zip(self._reached(level_m), self.starts_m, strict=False):
            step = np.pi * np.abs(piece.start_radius_m**2 - before**2)
            wetted = wetted + np.where(level_m >= start, step, 0.0) + _wall_m2(piece, x)
            before = piece.end_radius_m
        return wetted + np.where(level_m >= self.high_m, np.pi * before**2, 0.0)

    def level_m(self, volume_m3: Any) -> Any:
        below: Any = 0.0
        level: Any = 0.0
        for piece in self.pieces:
            level = level + piece.reach_m(np.clip(volume_m3 - below, 0.0, piece.volume_m3))
            below = below + piece.volume_m3
        return np.where(volume_m3 >= below, self.high_m, level)[()]

    @property
    def outline(self) -> Outline:
        x, radius = half_profile(self.pieces)
        side = np.concatenate([radius, -radius[::-1]]), np.concatenate([x, x[::-1]])
        axis = (0.0, 0.0), (0.0, float(self.high_m))
        tangents = tuple(((-reach, height), (reach, height)) for height, reach in cylinder_ends(self.pieces))
        return Outline(side, (radius, x), axis, tangents)

    def _reached(self, level_m: Any) -> list[tuple[Piece, Any]]:
        """Each piece with how far it is filled."""
        return [
            (piece, np.clip(level_m - start, 0.0, piece.length_m))
            for piece, start in zip(self.pieces, self.starts_m, strict=False)
        ]


def _wall_m2(piece: Piece, x_m: Any) -> Any:
    """Wall of a piece up to x."""
    if isinstance(piece, Frustum):
        return np.pi * (piece.start_radius_m + piece.radius_m(x_m)) * x_m * np.hypot(1.0, piece.growth)
    return 2.0 * np.pi * along_the_axis(piece, x_m, lambda thin, x: thin.girth_m(x))
