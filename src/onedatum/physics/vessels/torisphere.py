"""The torispherical head as a body: a spherical crown that runs tangent into a ring of smaller radius, the knuckle.

Heights are counted from the lowest point of a bottom head; a top head is the same body upside down. The knuckle's
circle stands at the tangent line (height = depth), `ring_m` off the axis.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from onedatum.foundation.numerics import Real, monotone_root


@dataclass(frozen=True)
class Torisphere:
    """A head by its inside measures; every measure may be an array."""

    diameter_m: Real
    crown_radius_m: Real
    knuckle_radius_m: Real

    @cached_property
    def ring_m(self) -> Any:
        """Distance of the knuckle's centre from the axis."""
        return np.maximum(0.5 * self.diameter_m - self.knuckle_radius_m, 0.0)

    @cached_property
    def rise_m(self) -> Any:
        """Height of the crown's centre above the tangent line."""
        half = 0.5 * self.diameter_m
        return np.sqrt((self.crown_radius_m - half) * (self.crown_radius_m + half - 2.0 * self.knuckle_radius_m))

    @cached_property
    def depth_m(self) -> Any:
        """Height of the tangent line."""
        return self.crown_radius_m - self.rise_m

    @cached_property
    def angle_rad(self) -> Any:
        """Angle at the crown's centre between the axis and the junction of crown and knuckle."""
        return np.arctan2(self.ring_m, self.rise_m)

    @cached_property
    def junction_m(self) -> Any:
        """Height of the junction of crown and knuckle."""
        return np.minimum(2.0 * self.crown_radius_m * np.sin(0.5 * self.angle_rad) ** 2, self.depth_m)

    @cached_property
    def volume_m3(self) -> Any:
        """All that the head holds."""
        return self._crown_m3(self.junction_m) + self._ring_m3(self.depth_m - self.junction_m)

    def volume_below_m3(self, height_m: Real) -> Any:
        """Volume below a height from 0 to the depth; at the depth exactly `volume_m3`."""
        in_ring = self.volume_m3 - self._ring_m3(self.depth_m - height_m)
        return np.where(height_m <= self.junction_m, self._crown_m3(height_m), np.maximum(in_ring, 0.0))

    def area_m2(self, height_m: Real) -> Any:
        """Section at a height from 0 to the depth."""
        crown_m2 = height_m * (2.0 * self.crown_radius_m - height_m)
        ring_m2 = (self.ring_m + self._half_chord_m(self.depth_m - height_m)) ** 2
        return np.pi * np.where(height_m <= self.junction_m, crown_m2, ring_m2)

    def height_m(self, volume_m3: Real) -> Any:
        """The height below which the volume lies; a volume that is not less than the whole gives the depth."""
        parts = (volume_m3, self.diameter_m, self.crown_radius_m, self.knuckle_radius_m)
        volume, *measures = np.broadcast_arrays(*(np.asarray(part, dtype=np.float64) for part in parts))
        height = np.where(np.isnan(volume), np.nan, self.depth_m)
        within = volume < self.volume_m3
        if within.any():
            height[within] = Torisphere(*(part[within] for part in measures))._height_within_m(volume[within])
        return height[()]

    def _height_within_m(self, volume_m3: Real) -> Any:
        start_m: Any = 0.0
        for _ in range(2):
            start_m = np.sqrt(volume_m3 / (np.pi * (self.crown_radius_m - start_m / 3.0)))
        return monotone_root(self.volume_below_m3, self.area_m2, volume_m3, 0.0, self.depth_m, start_m)

    def _crown_m3(self, height_m: Real) -> Any:
        return np.pi * height_m**2 * (self.crown_radius_m - height_m / 3.0)

    def _ring_m3(self, below_m: Real) -> Any:
        """Volume between the tangent line and the section `below_m` beneath it, within the knuckle."""
        ring, knuckle = self.ring_m, self.knuckle_radius_m
        chord = self._half_chord_m(below_m)
        segment = below_m * chord + knuckle**2 * np.arctan2(below_m, chord)
        return np.pi * ((ring**2 + knuckle**2) * below_m - below_m**3 / 3.0 + ring * segment)

    def _half_chord_m(self, below_m: Real) -> Any:
        """How far the knuckle's circle reaches beyond its centre, `below_m` beneath the tangent line."""
        return np.sqrt(np.maximum((self.knuckle_radius_m - below_m) * (self.knuckle_radius_m + below_m), 0.0))
