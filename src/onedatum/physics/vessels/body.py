"""The inside of a vessel as a body: what lies below a level, how large the surface is there, and back.

Levels count from the datum of the body, upwards and plumb. Every measure may be an array; then levels broadcast
against it.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from onedatum.foundation.numerics import Reals, monotone_root
from onedatum.foundation.working import Whole

Line = tuple[Reals, Reals]
"""Points of a drawing: distances across and heights over the datum."""

Stroke = tuple[tuple[float, float], tuple[float, float]]
"""A straight line of a drawing by its two ends."""


class Outline(NamedTuple):
    """A vessel for drawings: a closed line from the side, and half the plumb section at the gauge, bottom to top."""

    side: Line
    half_section: Line
    axis: Stroke | None = None
    tangents: tuple[Stroke, ...] = ()
    """Lines across the vessel where a cylinder begins and ends."""


class Body(Whole):
    """The inside of a vessel, or of a part of it."""

    called = "vessel"

    @property
    def low_m(self) -> Any:
        """Level of its lowest point."""
        raise NotImplementedError

    @property
    def high_m(self) -> Any:
        """Level of its highest point."""
        raise NotImplementedError

    @property
    def volume_m3(self) -> Any:
        """All that it holds."""
        raise NotImplementedError

    def volume_below_m3(self, level_m: Any) -> Any:
        """Volume below a level; below the lowest point nothing, above the highest all."""
        raise NotImplementedError

    def area_m2(self, level_m: Any) -> Any:
        """Area of the surface at a level: how fast the volume grows with it."""
        raise NotImplementedError

    def wetted_m2(self, level_m: Any) -> Any:
        """Area of the wall and bottom below a level; of a roof as well, where it is reached."""
        raise NotImplementedError

    def level_m(self, volume_m3: Any) -> Any:
        """The level below which a volume lies, from nothing to all."""
        volume, low, high = np.broadcast_arrays(volume_m3, self.low_m + 0.0 * self.volume_m3, self.high_m)
        at_low, at_high = self.volume_below_m3(low), self.volume_below_m3(high)
        held = np.clip(volume, at_low, np.maximum(at_low, at_high))
        found = monotone_root(self.volume_below_m3, self.area_m2, held, low, high)
        return np.where(volume >= self.volume_m3, high, np.where(volume <= at_low, low, found))[()]

    @property
    def breaks_m(self) -> tuple[Any, ...]:
        """Levels at which the section jumps or bends, its ends among them."""
        return (self.low_m, self.high_m)

    @property
    def outline(self) -> Outline:
        """Its outline, for a body without arrays."""
        raise NotImplementedError
