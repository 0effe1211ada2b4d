"""The end of a cylinder: its pieces from the pole to the tangent line."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from onedatum.foundation.working import Whole
from onedatum.physics.vessels.pieces import Cap, Frustum, Ring, turned
from onedatum.physics.vessels.words import said


@dataclass(frozen=True)
class End(Whole):
    """A head, a cone or a flat end on a cylinder; the pieces run from the axis outwards."""

    called = "end"

    pieces: tuple[Any, ...]
    words: str
    diameter_m: Any
    """Inside diameter of the shell it belongs to."""

    def told(self, shown: str = "") -> str:
        return f"{self.words}, {said(self.depth_m, shown)} deep" if np.any(self.depth_m > 0.0) else self.words

    @cached_property
    def depth_m(self) -> Any:
        """From its tangent line to its end on the axis, inside."""
        return sum(piece.length_m for piece in self.pieces)

    @cached_property
    def volume_m3(self) -> Any:
        """All that it holds."""
        return sum(piece.volume_m3 for piece in self.pieces)

    @property
    def inwards(self) -> tuple[Any, ...]:
        """The pieces from the tangent line to the axis."""
        return tuple(turned(piece) for piece in reversed(self.pieces))


def flat(diameter_m: Any) -> End:
    """A flat end: a piece of the whole diameter without length."""
    return End((Frustum(0.0 * diameter_m, 0.5 * diameter_m, 0.5 * diameter_m),), "flat end", diameter_m)


def cone(diameter_m: Any, depth_m: Any) -> End:
    """A cone down to its apex."""
    return End((Frustum(depth_m, 0.0 * diameter_m, 0.5 * diameter_m),), "conical end", diameter_m)


def ellipsoid(diameter_m: Any, depth_m: Any) -> End:
    """Half a spheroid; a hemisphere where the depth is half the diameter."""
    return End((Cap(depth_m, depth_m, 0.5 * diameter_m),), "ellipsoidal head", diameter_m)


def torisphere(diameter_m: Any, crown_radius_m: Any, knuckle_radius_m: Any) -> End:
    """A spherical crown that runs tangent into a knuckle, and that into the shell.

    The knuckle's circle stands at the tangent line, off the axis by half the diameter less the knuckle; seen from the
    centre of the crown the two meet at an angle from the axis whose tangent is that distance over the height of the
    centre above the tangent line.
    """
    half = 0.5 * diameter_m
    centre = np.maximum(half - knuckle_radius_m, 0.0)
    rise = np.sqrt((crown_radius_m - half) * (crown_radius_m + half - 2.0 * knuckle_radius_m))
    depth = crown_radius_m - rise
    junction = np.minimum(2.0 * crown_radius_m * np.sin(0.5 * np.arctan2(centre, rise)) ** 2, depth)
    crown = Cap(junction, crown_radius_m, crown_radius_m)
    return End((crown, Ring(depth - junction, knuckle_radius_m, centre)), "torispherical head", diameter_m)
