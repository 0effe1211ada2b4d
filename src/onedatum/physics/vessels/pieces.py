"""Pieces of a body of revolution: what turns about the axis between two sections.

A piece runs along the axis from x = 0 to its length, the narrow end of a cap or a ring first; `Turned` runs the other
way. Every measure may be an array. A level cuts the plane through the axis in a straight line, v = offset - slope*x;
`crossings` are the x at which that line meets the wall.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any, Protocol

import numpy as np

from onedatum.foundation.numerics import monotone_root
from onedatum.foundation.working import Whole


class Piece(Protocol):
    """What every piece can say of itself; x counts from its start."""

    @property
    def length_m(self) -> Any:
        """Its length along the axis."""

    @property
    def start_radius_m(self) -> Any:
        """Its inside radius at x = 0."""

    @property
    def end_radius_m(self) -> Any:
        """Its inside radius at its length."""

    @property
    def volume_m3(self) -> Any:
        """All that it holds."""

    def radius_m(self, x_m: Any) -> Any:
        """Its inside radius at x."""

    def girth_m(self, x_m: Any) -> Any:
        """Radius times the length of wall per length of axis: times an angle, the wall seen under it."""

    def volume_before_m3(self, x_m: Any) -> Any:
        """What it holds between its start and x."""

    def reach_m(self, volume_m3: Any) -> Any:
        """The x before which a volume lies."""

    def crossings(self, offset_m: Any, slope: Any) -> tuple[Any, ...]:
        """Where the line v = offset - slope*x may meet the wall; some may lie outside, or be no numbers."""

    def lowest_m(self, sine: Any, cosine: Any) -> Any:
        """The least of x*sine - r*cosine: how deep the wall reaches when the axis rises at that angle."""


@dataclass(frozen=True)
class Frustum(Whole):
    """A cylinder or a part of a cone."""

    length_m: Any
    start_radius_m: Any
    end_radius_m: Any

    @cached_property
    def volume_m3(self) -> Any:
        return self.volume_before_m3(self.length_m)

    @cached_property
    def growth(self) -> Any:
        """Radius gained per length of axis."""
        with np.errstate(invalid="ignore", divide="ignore"):
            growth = (self.end_radius_m - self.start_radius_m) / np.asarray(self.length_m)
        return np.where(np.asarray(self.length_m) > 0.0, growth, 0.0)

    def radius_m(self, x_m: Any) -> Any:
        return self.start_radius_m + self.growth * x_m

    def girth_m(self, x_m: Any) -> Any:
        return self.radius_m(x_m) * np.hypot(1.0, self.growth)

    def volume_before_m3(self, x_m: Any) -> Any:
        here = self.radius_m(x_m)
        return np.pi * x_m * (self.start_radius_m**2 + self.start_radius_m * here + here**2) / 3.0

    def reach_m(self, volume_m3: Any) -> Any:
        """By the cube root that the radius follows: r**3 = r_0**3 + 3*k*V/pi."""
        start, growth = self.start_radius_m, self.growth
        with np.errstate(invalid="ignore", divide="ignore"):
            gained = 3.0 * growth * volume_m3 / np.pi
            here = np.cbrt(np.maximum(start**3 + gained, 0.0))
            reach = 3.0 * volume_m3 / (np.pi * (start**2 + start * here + here**2))
        return np.where(volume_m3 > 0.0, np.minimum(np.nan_to_num(reach, posinf=0.0), self.length_m), 0.0)

    def crossings(self, offset_m: Any, slope: Any) -> tuple[Any, ...]:
        start, growth = self.start_radius_m, self.growth
        return (offset_m - start) / np.asarray(slope + growth), (offset_m + start) / np.asarray(slope - growth)

    def lowest_m(self, sine: Any, cosine: Any) -> Any:
        return _lowest_end_m(self, sine, cosine)


@dataclass(frozen=True)
class Cap(Whole):
    """Part of a sphere or a spheroid from its pole: half-axes along and across the axis, cut at a length."""

    length_m: Any
    along_m: Any
    across_m: Any

    start_radius_m = 0.0

    @cached_property
    def end_radius_m(self) -> Any:
        return self.radius_m(self.length_m)

    @cached_property
    def volume_m3(self) -> Any:
        return self.volume_before_m3(self.length_m)

    @cached_property
    def ratio(self) -> Any:
        """Half-axis across over half-axis along; 0 for a cap without depth."""
        with np.errstate(invalid="ignore", divide="ignore"):
            ratio = self.across_m / np.asarray(self.along_m, dtype=np.float64)
        return np.where(np.asarray(self.along_m) > 0.0, ratio, 0.0)

    def radius_m(self, x_m: Any) -> Any:
        return self.ratio * np.sqrt(np.maximum(x_m * (2.0 * self.along_m - x_m), 0.0))

    def girth_m(self, x_m: Any) -> Any:
        along, ratio = self.along_m, self.ratio
        from_centre = along - x_m
        return ratio * np.sqrt(np.maximum(x_m * (along + from_centre), 0.0) + (ratio * from_centre) ** 2)

    def volume_before_m3(self, x_m: Any) -> Any:
        return np.pi * self.ratio**2 * x_m**2 * (self.along_m - x_m / 3.0)

    def reach_m(self, volume_m3: Any) -> Any:
        guess: Any = 0.0
        with np.errstate(invalid="ignore", divide="ignore"):
            for _ in range(2):
                guess = np.sqrt(volume_m3 / (np.pi * self.ratio**2 * (self.along_m - guess / 3.0)))
        return _reach(self, volume_m3, guess)

    def crossings(self, offset_m: Any, slope: Any) -> tuple[Any, ...]:
        return _on_ellipse(self.along_m, 0.0, self.ratio, self.along_m, offset_m, slope)

    def lowest_m(self, sine: Any, cosine: Any) -> Any:
        reach = np.hypot(self.along_m * sine, self.across_m * cosine)
        with np.errstate(invalid="ignore", divide="ignore"):
            x = self.along_m - self.along_m**2 * sine / np.asarray(reach)
        ends = _lowest_end_m(self, sine, cosine)
        return np.where((x >= 0.0) & (x <= self.length_m), np.minimum(self.along_m * sine - reach, ends), ends)


@dataclass(frozen=True)
class Ring(Whole):
    """Part of a torus, the knuckle of a head: a circle about a point off the axis, from a narrow end to its widest."""

    length_m: Any
    knuckle_m: Any
    centre_m: Any
    """Distance of the circle's centre from the axis."""

    @cached_property
    def start_radius_m(self) -> Any:
        return self.radius_m(0.0)

    @cached_property
    def end_radius_m(self) -> Any:
        return self.centre_m + self.knuckle_m

    @cached_property
    def volume_m3(self) -> Any:
        return self._to_wide_end_m3(self.length_m)

    def radius_m(self, x_m: Any) -> Any:
        return self.centre_m + self._beyond_centre_m(self.length_m - x_m)

    def girth_m(self, x_m: Any) -> Any:
        beyond = self._beyond_centre_m(self.length_m - x_m)
        with np.errstate(invalid="ignore", divide="ignore"):
            lengthening = self.knuckle_m / np.asarray(beyond)
        return (self.centre_m + beyond) * np.where(beyond > 0.0, lengthening, 1.0)

    def volume_before_m3(self, x_m: Any) -> Any:
        return np.maximum(self.volume_m3 - self._to_wide_end_m3(self.length_m - x_m), 0.0)

    def reach_m(self, volume_m3: Any) -> Any:
        return _reach(self, volume_m3, 0.5 * self.length_m)

    def crossings(self, offset_m: Any, slope: Any) -> tuple[Any, ...]:
        place, knuckle = self.length_m, self.knuckle_m
        return tuple(
            crossing
            for side in (1.0, -1.0)
            for crossing in _on_ellipse(place, side * self.centre_m, 1.0, knuckle, offset_m, slope)
        )

    def lowest_m(self, sine: Any, cosine: Any) -> Any:
        x = self.length_m - self.knuckle_m * sine
        bulge = self.length_m * sine - self.centre_m * cosine - self.knuckle_m
        ends = _lowest_end_m(self, sine, cosine)
        return np.where((x >= 0.0) & (x <= self.length_m), np.minimum(bulge, ends), ends)

    def _beyond_centre_m(self, before_end_m: Any) -> Any:
        """How far the circle reaches beyond its centre, at a distance before the wide end."""
        return np.sqrt(np.maximum((self.knuckle_m - before_end_m) * (self.knuckle_m + before_end_m), 0.0))

    def _to_wide_end_m3(self, before_end_m: Any) -> Any:
        centre, knuckle = self.centre_m, self.knuckle_m
        beyond = self._beyond_centre_m(before_end_m)
        sector = before_end_m * beyond + knuckle**2 * np.arctan2(before_end_m, beyond)
        return np.pi * ((centre**2 + knuckle**2) * before_end_m - before_end_m**3 / 3.0 + centre * sector)


@dataclass(frozen=True)
class Turned(Whole):
    """A piece that runs the other way."""

    piece: Any

    @property
    def length_m(self) -> Any:
        return self.piece.length_m

    @property
    def start_radius_m(self) -> Any:
        return self.piece.end_radius_m

    @property
    def end_radius_m(self) -> Any:
        return self.piece.start_radius_m

    @property
    def volume_m3(self) -> Any:
        return self.piece.volume_m3

    def radius_m(self, x_m: Any) -> Any:
        return self.piece.radius_m(self.length_m - x_m)

    def girth_m(self, x_m: Any) -> Any:
        return self.piece.girth_m(self.length_m - x_m)

    def volume_before_m3(self, x_m: Any) -> Any:
        return self.volume_m3 - self.piece.volume_before_m3(self.length_m - x_m)

    def reach_m(self, volume_m3: Any) -> Any:
        return self.length_m - self.piece.reach_m(np.maximum(self.volume_m3 - volume_m3, 0.0))

    def crossings(self, offset_m: Any, slope: Any) -> tuple[Any, ...]:
        there = self.piece.crossings(offset_m - slope * self.length_m, -slope)
        return tuple(self.length_m - crossing for crossing in there)

    def lowest_m(self, sine: Any, cosine: Any) -> Any:
        return self.length_m * sine + self.piece.lowest_m(-sine, cosine)


def turned(piece: Piece) -> Piece:
    """A piece run the other way; one turned twice is itself again."""
    if isinstance(piece, Turned):
        straight: Piece = piece.piece
        return straight
    if isinstance(piece, Frustum):
        return Frustum(piece.length_m, piece.end_radius_m, piece.start_radius_m)
    return Turned(piece)


def _lowest_end_m(piece: Piece, sine: Any, cosine: Any) -> Any:
    return np.minimum(-piece.start_radius_m * cosine, piece.length_m * sine - piece.end_radius_m * cosine)


def _reach(piece: Cap | Ring, volume_m3: Any, guess_m: Any) -> Any:
    """The inverse of `volume_before_m3`; a volume that is not less than the whole gives the length."""

    def section_m2(x_m: Any) -> Any:
        return np.pi * piece.radius_m(x_m) ** 2

    volume = np.clip(volume_m3, 0.0, piece.volume_m3)
    found = monotone_root(piece.volume_before_m3, section_m2, volume, 0.0, piece.length_m, guess_m)
    return np.where(volume_m3 >= piece.volume_m3, piece.length_m, found)


def _on_ellipse(place_m: Any, above_m: Any, ratio: Any, along_m: Any, offset_m: Any, slope: Any) -> tuple[Any, Any]:
    """Where a line meets the ellipse with its centre at (place, above); `ratio` is its half-axis across over `along`.

    Solved for the distance from the centre, the root of larger size first, so that neither loses digits.
    """
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
        at_centre = offset_m - slope * place_m - above_m
        square = slope**2 + ratio**2
        half = slope * at_centre
        rest = (at_centre - ratio * along_m) * (at_centre + ratio * along_m)
        root = np.sqrt(half**2 - square * rest)
        larger = half + np.where(half >= 0.0, root, -root)
        first = larger / square
        second = np.where(larger != 0.0, rest / np.where(larger != 0.0, larger, 1.0), -first)
    return place_m + first, place_m + second
