"""The upright vessel as a body: a cylinder between two torispherical heads.

Levels are counted from the lowest inside point. What lies in the top head is worked from the top, as the whole head
less its ullage, so that a nearly full vessel keeps the same accuracy as a nearly empty one.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.physics.vessels.torisphere import Torisphere


@dataclass(frozen=True)
class Upright:
    """An upright vessel by its inside measures; every measure may be an array."""

    diameter_m: Real
    shell_length_m: Real
    bottom_crown_radius_m: Real
    bottom_knuckle_radius_m: Real
    top_crown_radius_m: Real
    top_knuckle_radius_m: Real

    @cached_property
    def bottom(self) -> Torisphere:
        """The bottom head."""
        return Torisphere(self.diameter_m, self.bottom_crown_radius_m, self.bottom_knuckle_radius_m)

    @cached_property
    def top(self) -> Torisphere:
        """The top head, upside down: its heights count downwards from the highest inside point."""
        return Torisphere(self.diameter_m, self.top_crown_radius_m, self.top_knuckle_radius_m)

    @cached_property
    def tangent_m(self) -> Any:
        """Level of the upper tangent line."""
        return self.bottom.depth_m + self.shell_length_m

    @cached_property
    def inside_height_m(self) -> Any:
        """Level of the highest inside point."""
        return self.tangent_m + self.top.depth_m

    @cached_property
    def shell_area_m2(self) -> Any:
        """Section of the shell."""
        return np.pi * self.diameter_m**2 / 4.0

    @cached_property
    def volume_m3(self) -> Any:
        """All that the vessel holds."""
        return self.bottom.volume_m3 + self.shell_area_m2 * self.shell_length_m + self.top.volume_m3

    def volume_below_m3(self, level_m: Real) -> Any:
        """Volume below a level from 0 to the inside height; at the inside height exactly `volume_m3`."""
        in_bottom = self.bottom.volume_below_m3(np.minimum(level_m, self.bottom.depth_m))
        in_shell = self.shell_area_m2 * np.clip(level_m - self.bottom.depth_m, 0.0, self.shell_length_m)
        ullage_m3 = self.top.volume_below_m3(np.minimum(self.inside_height_m - level_m, self.top.depth_m))
        return in_bottom + in_shell + (self.top.volume_m3 - ullage_m3)

    def area_m2(self, level_m: Real) -> Any:
        """Surface at a level from 0 to the inside height."""
        at_bottom = self.bottom.area_m2(np.minimum(level_m, self.bottom.depth_m))
        at_top = self.top.area_m2(np.minimum(self.inside_height_m - level_m, self.top.depth_m))
        in_shell = (level_m >= self.bottom.depth_m) & (level_m <= self.tangent_m)
        return np.where(in_shell, self.shell_area_m2, np.minimum(at_bottom, at_top))

    def level_m(self, volume_m3: Real) -> Any:
        """The level of a volume from 0 to `volume_m3`."""
        ullage_m3 = np.maximum(self.volume_m3 - volume_m3, 0.0)
        beyond_bottom_m3 = np.maximum(volume_m3 - self.bottom.volume_m3, 0.0)
        below_m = self.bottom.height_m(volume_m3) + beyond_bottom_m3 / self.shell_area_m2
        in_top_m = self.inside_height_m - self.top.height_m(ullage_m3)
        return np.where(ullage_m3 < self.top.volume_m3, in_top_m, np.minimum(below_m, self.tangent_m))
