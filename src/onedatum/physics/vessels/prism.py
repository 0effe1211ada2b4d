"""Vessels with a rectangular section: the box, the box whose floor falls, and the hopper."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from onedatum.physics.vessels.body import Body, Outline
from onedatum.physics.vessels.words import said

NO_SLOPE = 1e-12
"""A fall of the floor below this share of the height is taken as none."""


@dataclass(frozen=True)
class Hopper(Body):
    """A rectangular section that grows from an outlet to its full size, sides straight; a box where they are equal."""

    outlet_length_m: Any
    outlet_width_m: Any
    length_m: Any
    width_m: Any
    height_m: Any

    low_m = 0.0

    @property
    def high_m(self) -> Any:
        return self.height_m

    def told(self, shown: str = "") -> str:
        full = f"{said(self.length_m, shown)} by {said(self.width_m, shown)}"
        if self._is_box:
            return f"box {full}, {said(self.high_m, shown)} high"
        outlet = f"{said(self.outlet_length_m, shown)} by {said(self.outlet_width_m, shown)}"
        return f"hopper from {outlet} to {full} over {said(self.high_m, shown)}"

    @property
    def volume_m3(self) -> Any:
        return self.volume_below_m3(self.high_m)

    def volume_below_m3(self, level_m: Any) -> Any:
        y = np.clip(level_m, 0.0, self.high_m)
        gain, spread = self._gains_per_m
        linear = self.outlet_length_m * spread + self.outlet_width_m * gain
        return y * (self.outlet_length_m * self.outlet_width_m + y * (linear / 2.0 + y * gain * spread / 3.0))

    def area_m2(self, level_m: Any) -> Any:
        length, width = self._sides_m(level_m)
        return np.where((np.asarray(level_m) < 0.0) | (level_m > self.high_m), 0.0, length * width)

    def wetted_m2(self, level_m: Any) -> Any:
        y = np.clip(level_m, 0.0, self.high_m)
        length, width = self._sides_m(y)
        gain, spread = self._gains_per_m
        ends = (self.outlet_width_m + width) * y * np.hypot(1.0, gain / 2.0)
        sides = (self.outlet_length_m + length) * y * np.hypot(1.0, spread / 2.0)
        floor = np.where(np.asarray(level_m) >= 0.0, self.outlet_length_m * self.outlet_width_m, 0.0)
        return floor + ends + sides + np.where(level_m >= self.high_m, length * width, 0.0)

    @property
    def outline(self) -> Outline:
        high = float(self.high_m)
        low_half, half = 0.5 * float(self.outlet_length_m), 0.5 * float(self.length_m)
        side = np.array([-low_half, low_half, half, -half]), np.array([0.0, 0.0, high, high])
        wide = np.array([0.0, 0.5 * float(self.outlet_width_m), 0.5 * float(self.width_m), 0.0])
        return Outline(side, (wide, np.array([0.0, 0.0, high, high])))

    @property
    def _is_box(self) -> bool:
        return bool(np.all(self.outlet_length_m == self.length_m) and np.all(self.outlet_width_m == self.width_m))

    @cached_property
    def _gains_per_m(self) -> tuple[Any, Any]:
        """What the two sides gain per height."""
        gain = (self.length_m - self.outlet_length_m) / self.high_m
        return gain, (self.width_m - self.outlet_width_m) / self.high_m

    def _sides_m(self, level_m: Any) -> tuple[Any, Any]:
        y = np.clip(level_m, 0.0, self.high_m)
        gain, spread = self._gains_per_m
        return self.outlet_length_m + gain * y, self.outlet_width_m + spread * y


@dataclass(frozen=True)
class FallingBox(Body):
    """A box that leans along its length: its floor rises from the near end; the datum is the floor under the gauge."""

    length_m: Any
    width_m: Any
    height_m: Any
    slope: Any
    """Rise of the floor per horizontal distance, as tan(angle); negative where it falls."""
    station_m: Any
    """Where the gauge stands, along the floor from the near end."""

    def told(self, shown: str = "") -> str:
        size = f"{said(self.length_m, shown)} by {said(self.width_m, shown)}, {said(self.height_m, shown)} high"
        return f"box {size}, floor falling"

    @cached_property
    def _cosine(self) -> Any:
        return 1.0 / np.hypot(1.0, self.slope)

    @cached_property
    def _sine(self) -> Any:
        return self.slope * self._cosine

    @cached_property
    def _floor_m(self) -> tuple[Any, Any]:
        """Heights of the floor at the near and at the far end."""
        return -self.station_m * self._sine, (self.length_m - self.station_m) * self._sine

    @property
    def low_m(self) -> Any:
        return np.minimum(*self._floor_m)

    @property
    def high_m(self) -> Any:
        return np.maximum(*self._floor_m) + self.height_m * self._cosine

    @property
    def volume_m3(self) -> Any:
        return self.length_m * self.width_m * self.height_m

    @property
    def breaks_m(self) -> tuple[Any, ...]:
        near, far = self._floor_m
        return near, far, near + self.height_m * self._cosine, far + self.height_m * self._cosine

    def volume_below_m3(self, level_m: Any) -> Any:
        within, over, middle = self._shares(level_m)
        return self.length_m * self.width_m * (within * middle + over * self.height_m)

    def area_m2(self, level_m: Any) -> Any:
        within, _, _ = self._shares(level_m)
        inside = (np.asarray(level_m) >= self.low_m) & (np.asarray(level_m) <= self.high_m)
        return np.where(inside, self.length_m * self.width_m * within / self._cosine, 0.0)

    def wetted_m2(self, level_m: Any) -> Any:
        near, far = self._depths(level_m)
        ends = self.width_m * (np.clip(near, 0.0, self.height_m) + np.clip(far, 0.0, self.height_m))
        within, over, _ = self._shares(level_m)
        floor = self.length_m * self.width_m * (within + over)
        return ends + 2.0 * self.volume_below_m3(level_m) / self.width_m + floor + self.length_m * self.width_m * over

    @property
    def outline(self) -> Outline:
        along = np.array([0.0, self.length_m, self.length_m, 0.0]) - self.station_m
        up = np.array([0.0, 0.0, self.height_m, self.height_m])
        side = along * self._cosine - up * self._sine, along * self._sine + up * self._cosine
        top, half = float(self.height_m / self._cosine), 0.5 * float(self.width_m)
        return Outline(side, (np.array([0.0, half, half, 0.0]), np.array([0.0, 0.0, top, top])))

    def _depths(self, level_m: Any) -> tuple[Any, Any]:
        """Depth square to the floor at the near and at the far end, below 0 where it is dry."""
        at_gauge = level_m / self._cosine
        return at_gauge + self.station_m * self.slope, at_gauge - (self.length_m - self.station_m) * self.slope

    def _shares(self, level_m: Any) -> tuple[Any, Any, Any]:
        """Shares of the floor over which the level lies within the box and above it, and the mean depth within."""
        near, far = self._depths(level_m)
        a, b = np.clip(near, 0.0, self.height_m), np.clip(far, 0.0, self.height_m)
        fall = near - far
        even = np.abs(fall) <= NO_SLOPE * self.height_m
        fall = np.where(even, 1.0, fall)
        depth = 0.5 * (near + far)
        above = (np.maximum(near, self.height_m) - np.maximum(far, self.height_m)) / fall
        over = np.where(even, np.where(depth > self.height_m, 1.0, 0.0), above)
        inside = np.where((depth >= 0.0) & (depth <= self.height_m), 1.0, 0.0)
        within = np.where(even, inside, (a - b) / fall)
        return within, over, 0.5 * (a + b)
