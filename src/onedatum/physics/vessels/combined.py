"""Bodies made of bodies: one upon another, upside down, with deadwood taken out or a sump added."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from onedatum.physics.vessels.body import Body, Line, Outline


@dataclass(frozen=True)
class Stacked(Body):
    """A body upon another; the datum is that of the lower one."""

    lower: Any
    upper: Any

    def told(self, shown: str = "") -> str:
        return f"{self.lower.told(shown)}; on it {self.upper.told(shown)}"

    @property
    def low_m(self) -> Any:
        return self.lower.low_m

    @property
    def joint_m(self) -> Any:
        """Level at which the two meet."""
        return self.lower.high_m

    @property
    def high_m(self) -> Any:
        return self.joint_m + (self.upper.high_m - self.upper.low_m)

    @property
    def volume_m3(self) -> Any:
        return self.lower.volume_m3 + self.upper.volume_m3

    @property
    def breaks_m(self) -> tuple[Any, ...]:
        shift = self.joint_m - self.upper.low_m
        return (*self.lower.breaks_m, *(each + shift for each in self.upper.breaks_m))

    def volume_below_m3(self, level_m: Any) -> Any:
        in_lower = self.lower.volume_below_m3(np.minimum(level_m, self.joint_m))
        return in_lower + self.upper.volume_below_m3(np.maximum(self._in_upper_m(level_m), self.upper.low_m))

    def area_m2(self, level_m: Any) -> Any:
        in_lower = level_m < self.joint_m
        lower = self.lower.area_m2(np.minimum(level_m, self.joint_m))
        return np.where(in_lower, lower, self.upper.area_m2(np.maximum(self._in_upper_m(level_m), self.upper.low_m)))

    def wetted_m2(self, level_m: Any) -> Any:
        """Neither the roof of the lower nor the floor of the upper is there; the step between them is."""
        roof, floor = self.lower.area_m2(self.joint_m), self.upper.area_m2(self.upper.low_m)
        lower = self.lower.wetted_m2(np.minimum(level_m, self.joint_m))
        upper = self.upper.wetted_m2(np.maximum(self._in_upper_m(level_m), self.upper.low_m))
        return np.where(level_m < self.joint_m, lower, lower - roof + upper - floor + np.abs(floor - roof))

    def level_m(self, volume_m3: Any) -> Any:
        in_lower = self.lower.level_m(np.minimum(volume_m3, self.lower.volume_m3))
        beyond = self.upper.level_m(np.maximum(volume_m3 - self.lower.volume_m3, 0.0))
        return np.where(volume_m3 <= self.lower.volume_m3, in_lower, beyond + self.joint_m - self.upper.low_m)[()]

    @cached_property
    def outline(self) -> Outline:
        below, above = self.lower.outline, self.upper.outline
        shift = float(self.joint_m - self.upper.low_m)
        half = _joined(below.half_section, _raised(above.half_section, shift))
        return Outline(_around(below.side, _raised(above.side, shift)), half)

    def _in_upper_m(self, level_m: Any) -> Any:
        return np.where(level_m == self.high_m, self.upper.high_m, level_m - self.joint_m + self.upper.low_m)


class Altered(Body):
    """A body made of another one, `body`, and like it in all that is not said otherwise."""

    body: Any

    @property
    def low_m(self) -> Any:
        return self.body.low_m

    @property
    def high_m(self) -> Any:
        return self.body.high_m

    @property
    def volume_m3(self) -> Any:
        return self.body.volume_m3

    @property
    def breaks_m(self) -> tuple[Any, ...]:
        return tuple(self.body.breaks_m)

    def wetted_m2(self, level_m: Any) -> Any:
        return self.body.wetted_m2(level_m)

    @property
    def outline(self) -> Outline:
        there: Outline = self.body.outline
        return there


@dataclass(frozen=True)
class UpsideDown(Altered):
    """A body turned upside down; the datum is its lowest point."""

    body: Any

    low_m = 0.0

    def told(self, shown: str = "") -> str:
        return f"{self.body.told(shown)}, upside down"

    @property
    def high_m(self) -> Any:
        return self.body.high_m - self.body.low_m

    @property
    def breaks_m(self) -> tuple[Any, ...]:
        return tuple(self.body.high_m - each for each in self.body.breaks_m)

    def volume_below_m3(self, level_m: Any) -> Any:
        return self.volume_m3 - self.body.volume_below_m3(self._there_m(level_m))

    def area_m2(self, level_m: Any) -> Any:
        return self.body.area_m2(self._there_m(level_m))

    def wetted_m2(self, level_m: Any) -> Any:
        """All wall less what stays dry; bottom and roof are wetted where the level reaches them."""
        low, high = self.body.low_m, self.body.high_m
        floor, roof = self.body.area_m2(high), self.body.area_m2(low)
        walls = self.body.wetted_m2(high) - floor - roof
        dry = self.body.wetted_m2(self._there_m(level_m)) - np.where(level_m <= self.high_m, roof, 0.0)
        dry = dry - np.where(np.asarray(level_m) <= 0.0, floor, 0.0)
        ends = np.where(np.asarray(level_m) >= 0.0, floor, 0.0) + np.where(level_m >= self.high_m, roof, 0.0)
        return np.maximum(walls - dry, 0.0) + ends

    def level_m(self, volume_m3: Any) -> Any:
        return (self.body.high_m - self.body.level_m(np.maximum(self.volume_m3 - volume_m3, 0.0)))[()]

    @property
    def outline(self) -> Outline:
        there = self.body.outline
        high = float(self.body.high_m)
        side = there.side[0], high - there.side[1]
        return Outline(side, (there.half_section[0][::-1], (high - there.half_section[1])[::-1]))

    def _there_m(self, level_m: Any) -> Any:
        return np.clip(self.body.high_m - level_m, self.body.low_m, self.body.high_m)


@dataclass(frozen=True)
class Fitted(Altered):
    """A vessel with something in it that takes room, or a part beside it that adds some (`share` -1 or 1).

    What is wetted is of the vessel alone: the wall of what is in it or beside it is not counted.
    """

    body: Any
    part: Any
    at_m: Any
    """Level of the lowest point of the part."""
    share: float

    def told(self, shown: str = "") -> str:
        return f"{self.body.told(shown)}, {'less' if self.share < 0 else 'and'} {self.part.told(shown)}"

    @property
    def volume_m3(self) -> Any:
        return self.body.volume_m3 + self.share * self.part.volume_below_m3(self._in_part_m(self.high_m))

    @cached_property
    def breaks_m(self) -> tuple[Any, ...]:
        shift = self.at_m - self.part.low_m
        return (*self.body.breaks_m, *(each + shift for each in self.part.breaks_m))

    def volume_below_m3(self, level_m: Any) -> Any:
        held = np.minimum(level_m, self.high_m)
        return self.body.volume_below_m3(level_m) + self.share * self.part.volume_below_m3(self._in_part_m(held))

    def area_m2(self, level_m: Any) -> Any:
        return self.body.area_m2(level_m) + self.share * self.part.area_m2(self._in_part_m(level_m))

    def _in_part_m(self, level_m: Any) -> Any:
        return level_m - self.at_m + self.part.low_m


def _raised(line: Line, by_m: float) -> Line:
    return line[0], line[1] + by_m


def _joined(lower: Line, upper: Line) -> Line:
    """Half sections joined; the roof of the lower and the floor of the upper reach the axis no more."""
    (wide, high), (wide_over, high_over) = lower, upper
    end = len(wide) - 1 if wide[-1] == 0.0 and len(wide) > 1 and high[-1] == high[-2] else len(wide)
    start = 1 if wide_over[0] == 0.0 and len(wide_over) > 1 and high_over[0] == high_over[1] else 0
    return np.concatenate([wide[:end], wide_over[start:]]), np.concatenate([high[:end], high_over[start:]])


def _around(lower: Line, upper: Line) -> Line:
    """One closed line around two: up on the right side of both, down on the left."""
    right = [_half(line, 1.0) for line in (lower, upper)]
    left = [_half(line, -1.0) for line in (upper, lower)]
    parts = [right[0], right[1], (left[0][0][::-1], left[0][1][::-1]), (left[1][0][::-1], left[1][1][::-1])]
    return np.concatenate([part[0] for part in parts]), np.concatenate([part[1] for part in parts])


def _half(line: Line, sign: float) -> Line:
    """The points of a closed line on one side of the middle, from the bottom up."""
    across, high = line
    middle = 0.5 * (float(np.max(across)) + float(np.min(across)))
    here = sign * (across - middle) > 0.0
    order = np.lexsort((sign * (across[here] - middle), high[here]))
    return across[here][order], high[here][order]
