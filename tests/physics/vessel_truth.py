"""What a body of revolution holds below a level plane, from its definition, by quadrature in many digits.

Nothing here is shared with the tool: the radius of every end is its definition, the places where the level meets the
wall are found by halving, and mpmath's double exponential rule does the rest. All cylinders have a diameter of 2 m.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache, cached_property
from itertools import pairwise
from typing import Any

import mpmath

from tests.physics.vessel_kinds import joint_of_end, radius_of_end

DIGITS = 25
_LOOKS = 48
_HALVINGS = 90


def depth_of_end(name: str) -> Any:
    """Depth of an end of a cylinder of 2 m, in many digits."""
    if name in ("flat", "cone", "dished"):
        return {"flat": mpmath.mpf(0), "cone": mpmath.mpf("0.4"), "dished": mpmath.mpf("0.5")}[name]
    crown, knuckle = {"kloepper": ("2", "0.2"), "korbbogen": ("1.6", "0.308"), "sharp": ("2.5", "0")}.get(
        name, ("1", "1")
    )
    R, r = mpmath.mpf(crown), mpmath.mpf(knuckle)
    return R - mpmath.sqrt((R - r) ** 2 - (1 - r) ** 2)


@dataclass(frozen=True)
class Stretch:
    """A smooth part of the wall: from, to, and its radius between them."""

    low: Any
    high: Any
    radius: Callable[[Any], Any]

    @cached_property
    def looks(self) -> Sequence[tuple[Any, Any]]:
        """Places along it, crowded to its ends, each with its radius."""
        wide = self.high - self.low
        places = [self.low + wide * (1 - mpmath.cos(mpmath.pi * n / _LOOKS)) / 2 for n in range(_LOOKS + 1)]
        return [(x, self.radius(x)) for x in places]


@dataclass(frozen=True)
class Truth:
    """A cylinder of 2 m with two ends; x counts along its axis from the near tangent line.

    The axis rises by `slope` per horizontal length; levels count plumb from a point `datum` above that line's middle.
    """

    near: str
    far: str
    length: float
    slope: float
    datum: Any

    @classmethod
    def tilted(cls, near: str, far: str, length: float, slope: float, station: float) -> Truth:
        """Levels over the bottom line at a station: x sin(t) - R cos(t) above the middle of the tangent line."""
        with mpmath.workdps(DIGITS):
            cosine = 1 / mpmath.sqrt(1 + mpmath.mpf(slope) ** 2)
            return cls(near, far, length, slope, mpmath.mpf(station) * slope * cosine - cosine)

    @classmethod
    def leaning(cls, near: str, far: str, length: float, lean: float) -> Truth:
        """Nearly plumb, the near end below: levels over the end of the axis."""
        with mpmath.workdps(DIGITS):
            sine = 1 / mpmath.sqrt(1 + mpmath.mpf(lean) ** 2)
            return cls(near, far, length, float(1 / mpmath.mpf(lean)), -depth_of_end(near) * sine)

    def volume_m3(self, level_m: float) -> float:
        """The segments below the level, along the axis."""
        return self._along(level_m, _segment)

    def surface_m2(self, level_m: float) -> float:
        """The chords of the level along the axis, seen in the level itself."""
        with mpmath.workdps(DIGITS):
            return float(self._along(level_m, _chord) * mpmath.sqrt(1 + mpmath.mpf(self.slope) ** 2))

    @cached_property
    def parts(self) -> Sequence[Stretch]:
        """Each smooth part of the wall."""
        found: list[Stretch] = []
        for name, sign, start in ((self.near, -1, mpmath.mpf(0)), (self.far, 1, mpmath.mpf(self.length))):
            stops = [mpmath.mpf(0), *joint_of_end(name), depth_of_end(name)]
            for one, other in pairwise(stops if depth_of_end(name) else []):
                low, high = sorted((start + sign * one, start + sign * other))
                found.append(Stretch(low, high, _end(name, sign, start)))
        return [*found, Stretch(mpmath.mpf(0), mpmath.mpf(self.length), lambda x: mpmath.mpf(1))]

    def _along(self, level_m: float, section: Callable[[Any, Any], Any]) -> float:
        with mpmath.workdps(DIGITS):
            over_axis = self._over_axis(level_m)
            total = mpmath.mpf(0)
            for part, stops in zip(self.parts, self._stops(level_m), strict=True):
                total += mpmath.quad(lambda x, r=part.radius: section(r(x), over_axis(x)), stops)
            return float(total)

    def _over_axis(self, level_m: float) -> Callable[[Any], Any]:
        """How high the level stands over the axis, square to it."""
        rise = mpmath.mpf(self.slope)
        start = (mpmath.mpf(level_m) + self.datum) * mpmath.sqrt(1 + rise**2)
        return lambda x: start - rise * x

    @cache  # noqa: B019 - a few vessels, each of a few levels, which volume and surface share
    def _stops(self, level_m: float) -> list[list[Any]]:
        """The ends of each part, and where the level meets the wall between them."""
        line = self._over_axis(level_m)
        return [sorted([part.low, part.high, *_meetings(line, part)]) for part in self.parts]


def _end(name: str, sign: int, start: Any) -> Callable[[Any], Any]:
    """The radius of an end as a function of x."""
    return lambda x: radius_of_end(name, sign * (x - start))


def _segment(r: Any, v: Any) -> Any:
    if r <= 0 or v <= -r:
        return mpmath.mpf(0)
    if v >= r:
        return mpmath.pi * r**2
    return r**2 * mpmath.acos(-v / r) + v * mpmath.sqrt(r**2 - v**2)


def _chord(r: Any, v: Any) -> Any:
    return 2 * mpmath.sqrt(r**2 - v**2) if abs(v) < r else mpmath.mpf(0)


def _meetings(line: Callable[[Any], Any], part: Stretch) -> list[Any]:
    """Where the level meets the wall, at the bottom or at the top of it."""
    found: list[Any] = []
    radius = part.radius
    heights = [line(x) for x, _ in part.looks]
    for side in (1, -1):
        gaps = [height - side * r for height, (_, r) in zip(heights, part.looks, strict=True)]
        for n in range(_LOOKS):
            one, other, gap = part.looks[n][0], part.looks[n + 1][0], gaps[n]
            if gap * gaps[n + 1] >= 0:
                continue
            for _ in range(_HALVINGS):
                middle = (one + other) / 2
                if gap * (line(middle) - side * radius(middle)) > 0:
                    one = middle
                else:
                    other = middle
            found.append((one + other) / 2)
    return found
