"""Vessels known by measurement: a profile of radii, a tank table."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, ClassVar, Self

import numpy as np

from onedatum.foundation.numerics import Real, Reals, same_kind
from onedatum.foundation.working import Whole, formula
from onedatum.physics.vessels.body import Body, Outline
from onedatum.physics.vessels.pieces import Frustum
from onedatum.physics.vessels.table import TankTable
from onedatum.physics.vessels.upright import Upright
from onedatum.physics.vessels.words import said


@dataclass(frozen=True, eq=False)
class Profile(Whole):
    """Points of a measured profile, from the bottom up."""

    called = "profile"
    own_axis: ClassVar[frozenset[str]] = frozenset({"heights_m", "radii_m"})

    heights_m: Reals
    radii_m: Reals

    def told(self, shown: str = "") -> str:
        low, high = said(self.heights_m[0], shown), said(self.heights_m[-1], shown)
        return f"profile of {len(self.heights_m)} points from {low} to {high}"


@dataclass(frozen=True, eq=False)
class Rows(Whole):
    """Rows of a tank table; volumes that were worked from arrays have the rows along their last axis."""

    called = "table"

    levels_m: Reals
    volumes_m3: Reals

    def told(self, shown: str = "") -> str:
        low, high = said(self.levels_m[0], shown), said(self.levels_m[-1], shown)
        return f"table of {len(self.levels_m)} rows from {low} to {high}"

    @property
    def shape(self) -> tuple[int, ...]:
        return self.volumes_m3.shape[:-1]

    def numbers(self) -> Iterator[Any]:
        yield from np.moveaxis(self.volumes_m3, -1, 0)

    def masked(self, inside: Any) -> Self:
        return replace(self, volumes_m3=np.where(np.asarray(inside)[..., None], self.volumes_m3, np.nan))


@dataclass(frozen=True, eq=False)
class ByTable(Body):
    """A vessel known by its table alone: straight between the rows, nothing beyond them; its wall is not known."""

    rows: Rows

    def told(self, shown: str = "") -> str:
        return f"known by a {self.rows.told(shown)}"

    @cached_property
    def table(self) -> TankTable:
        """The rows as a function, for plain numbers."""
        return TankTable(self.rows.levels_m, self.rows.volumes_m3)

    @property
    def low_m(self) -> Any:
        return float(self.rows.levels_m[0])

    @property
    def high_m(self) -> Any:
        return float(self.rows.levels_m[-1])

    @property
    def volume_m3(self) -> Any:
        return self.rows.volumes_m3[..., -1][()]

    @property
    def breaks_m(self) -> tuple[Any, ...]:
        return tuple(self.rows.levels_m.tolist())

    def volume_below_m3(self, level_m: Any) -> Any:
        held = np.clip(level_m, self.low_m, self.high_m)
        if self.ndim == 0:
            return self.table.volume_m3(held)
        below, section, volume = self._row(held)
        return volume + section * (held - below)

    def area_m2(self, level_m: Any) -> Any:
        held = np.clip(level_m, self.low_m, self.high_m)
        section = self.table.section_m2(held) if self.ndim == 0 else self._row(held)[1]
        inside = (np.asarray(level_m) >= self.low_m) & (np.asarray(level_m) <= self.high_m)
        return np.where(inside, section, 0.0)

    def wetted_m2(self, level_m: Any) -> Any:
        return np.full(np.broadcast_shapes(np.shape(level_m), self.shape), np.nan)

    def level_m(self, volume_m3: Any) -> Any:
        if self.ndim:
            return super().level_m(volume_m3)
        return self.table.level_m(np.clip(volume_m3, self.rows.volumes_m3[0], self.volume_m3))

    @cached_property
    def outline(self) -> Outline:
        """The upright body of revolution that would have this table."""
        levels = self.rows.levels_m
        sections = np.asarray(self.table.section_m2(0.5 * (levels[:-1] + levels[1:])))
        radius = np.sqrt(np.maximum(sections, 0.0) / np.pi)
        wide = np.concatenate([[0.0], np.repeat(radius, 2), [0.0]])
        high = np.concatenate([[levels[0]], np.repeat(levels, 2)[1:-1], [levels[-1]]])
        return Outline((np.concatenate([wide, -wide[::-1]]), np.concatenate([high, high[::-1]])), (wide, high))

    def _row(self, level_m: Any) -> tuple[Any, Any, Any]:
        """Level, section and volume at the foot of the row a level lies in, for arrays of volumes."""
        levels, volumes = self.rows.levels_m, self.rows.volumes_m3
        held = np.broadcast_to(level_m, np.broadcast_shapes(np.shape(level_m), self.shape))
        row = np.clip(np.searchsorted(levels, held, side="right") - 1, 0, len(levels) - 2)
        wide = np.broadcast_to(volumes, (*held.shape, len(levels)))
        foot, head = (np.take_along_axis(wide, (row + step)[..., None], axis=-1)[..., 0] for step in (0, 1))
        return levels[row], (head - foot) / (levels[row + 1] - levels[row]), foot


def least_step(numbers: Reals) -> Real:
    """The least step from one to the next along the last axis; -1 where there is none."""
    return same_kind(np.min(np.diff(numbers, axis=-1), axis=-1)) if numbers.shape[-1] > 1 else -1.0


def _rise_m(profile: Profile) -> Real:
    """The least step in height from point to point."""
    return least_step(profile.heights_m)


@formula(
    method="radius straight from point to point: parts of cones upon one another, pi*dz*(r_1**2 + r_1*r_2 + r_2**2)/3 "
    "each; the datum is the lowest point",
    gives=("B", "body of revolution by its profile", Body),
    where={"profile": ("P", "measured profile", Profile)},
    requires=(("dz(P) > 0", "at least two points, each higher than the one before"),),
    calls={"dz": _rise_m},
    source="derived: parts of cones",
)
def turned_profile(profile: Profile) -> Body:
    """A body of revolution by radii measured at heights.

    Straight in the radius, not in the section: between far points the two differ by per cents.

    Example
    -------
    >>> import numpy as np
    >>> turned_profile(Profile(np.array([0.0, 1.0]), np.array([1.0, 1.0]))).told()
    'body of revolution by 2 points, 1000.00 mm high, axis plumb'
    """
    points = list(zip(np.diff(profile.heights_m), profile.radii_m, profile.radii_m[1:], strict=False))
    pieces = tuple(Frustum(float(step), float(low), float(high)) for step, low, high in points)
    return Upright(pieces, f"body of revolution by {len(profile.heights_m)} points")


def _climb_m(rows: Rows) -> Real:
    """The least step in level from row to row."""
    return least_step(rows.levels_m)


def _growth_m3(rows: Rows) -> Real:
    """The least growth in volume from row to row."""
    return least_step(rows.volumes_m3)


@formula(
    method="straight between the rows, nothing beyond them",
    gives=("B", "vessel by its table", Body),
    where={"rows": ("T", "rows of the tank table", Rows)},
    requires=(
        ("dh(T) > 0", "at least two rows, each at a higher level than the one before"),
        ("dV(T) >= 0", "the volume does not fall from row to row"),
    ),
    calls={"dh": _climb_m, "dV": _growth_m3},
    source="derived: linear interpolation",
)
def tabled_vessel(rows: Rows) -> Body:
    """A vessel that is known by its tank table.

    Example
    -------
    >>> import numpy as np
    >>> float(tabled_vessel(Rows(np.array([0.0, 1.0]), np.array([0.0, 3.0]))).volume_below_m3(0.5))
    1.5
    """
    return ByTable(rows)
