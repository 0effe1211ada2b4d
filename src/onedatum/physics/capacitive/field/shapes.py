"""What the field lies between: the rod with its coating and gland, and the wall of the vessel about it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from onedatum.foundation.numerics import Reals


@dataclass(frozen=True)
class Probe:
    """A rod on the axis of the vessel, from its tip up through the roof.

    `a` core radius, `b` outer radius of the coating; heights are counted as in the profile of the vessel. The coating
    reaches from the roof down to the end of the core, and `end_coating_m` below it (0: the end face is bare).
    Between the core and the ring radius of the gland the roof carries no charge.
    """

    core_radius_m: float
    tip_height_m: float
    """Where the core ends."""
    coating_radius_m: float | None = None
    coating_permittivity: complex | None = None
    """Relative; a loss is a negative imaginary part."""
    end_coating_m: float = 0.0
    ring_radius_m: float | None = None
    """Needed where the vessel has a roof: a rod that touches an earthed roof has no finite capacitance."""

    @property
    def outer_radius_m(self) -> float:
        """Outer radius of the coating, or of a bare core."""
        return self.core_radius_m if self.coating_radius_m is None else self.coating_radius_m

    @property
    def end_height_m(self) -> float:
        """Lowest point of the probe with its coating."""
        return self.tip_height_m - self.end_coating_m


@dataclass(frozen=True, eq=False)
class Vessel:
    """An earthed wall about the axis: its radius at heights from the bottom up, straight between them.

    Of a vessel that is not round the radius is the equivalent one of the section at that height (that of a round
    section with the same capacitance per length). A lowest radius above 0 is a flat earthed bottom; 0 is a bottom
    that closes on the axis. On top lies a flat earthed roof, or a plane of symmetry across which no field passes.
    """

    heights_m: Reals
    radii_m: Reals
    mirrored_top: bool = False

    def __post_init__(self) -> None:
        for name in ("heights_m", "radii_m"):
            object.__setattr__(self, name, np.asarray(getattr(self, name), dtype=np.float64))

    @classmethod
    def upright(cls, radius_m: float, height_m: float, mirrored_top: bool = False) -> Vessel:
        """A round upright tank with a flat bottom at height 0."""
        return cls(np.array([0.0, height_m]), np.array([radius_m, radius_m]), mirrored_top)

    @property
    def bottom_m(self) -> float:
        """Height of the lowest point."""
        return float(self.heights_m[0])

    @property
    def top_m(self) -> float:
        """Height of the roof or the plane of symmetry."""
        return float(self.heights_m[-1])

    @property
    def widest_m(self) -> float:
        """Largest radius."""
        return float(np.max(self.radii_m))

    def radius_m(self, height_m: Reals) -> Reals:
        """Radius of the wall at heights."""
        return np.asarray(np.interp(height_m, self.heights_m, self.radii_m), dtype=np.float64)

    def slope(self, height_m: Reals) -> Reals:
        """Change of the radius per height."""
        row = np.clip(np.searchsorted(self.heights_m, height_m, side="right") - 1, 0, len(self.heights_m) - 2)
        return np.asarray((np.diff(self.radii_m) / np.diff(self.heights_m))[row], dtype=np.float64)

    def kinks_m(self) -> Reals:
        """Heights at which the wall turns by more than 0.2 rad: a line of the mesh must pass there."""
        angles = np.arctan2(np.diff(self.radii_m), np.diff(self.heights_m))
        return np.asarray(self.heights_m[1:-1][np.abs(np.diff(angles)) > 0.2], dtype=np.float64)
