"""What a body of revolution holds below a level plane, from its definition, by quadrature in many digits.

Nothing here is shared with the tool: the radius of every end is its definition, the places where the level meets the
wall are found by halving, and mpmath's double exponential rule does the rest. All cylinders have a diameter of 2 m.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
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
    def parts(self) -> Sequence[tuple[Any, Any, Callable[[Any], Any]]]:
        """From, to, and radius of each smooth part of the wall."""
        found: list[tuple[Any, Any, Callable[[Any], Any]]] = []
        for name, sign, start in ((self.near, -1, mpmath.mpf(0)), (self.far, 1, mpmath.mpf(self.length))):
            stops = [mpmath.mpf(0), *joint_of_end(name), depth_of_end(name)]
            for one, other in pairwise(stops if depth_of_end(name) else []):
                low, high = sorted((start + sign * one, start + sign * other))
                found.append((low, high, _end(name, sign, start)))
        return [*found, (mpmath.mpf(0), mpmath.mpf(self.length), lambda x: mpmath.mpf(1))]

    def _along(self, level_m: float, section: Callable[[Any, Any], Any]) -> float:
        with mpmath.workdps(DIGITS):
            rise = mpmath.mpf(self.slope)
            start = (mpmath.mpf(level_m) + self.datum) * mpmath.sqrt(1 + rise**2)

            def over_axis(x: Any) -> Any:
                return start - rise * x

            total = mpmath.mpf(0)
            for low, high, radius in self.parts:
                stops = [low, high, *_meetings(over_axis, radius, low, high)]
                total += mpmath.quad(lambda x, r=radius: section(r(x), over_axis(x)), sorted(stops))
            return float(total)


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


def _meetings(line: Callable[[Any], Any], radius: Callable[[Any], Any], low: Any, high: Any) -> list[Any]:
    """Where the level meets the wall, at the bottom or at the top of it."""
    found: list[Any] = []
    looks = [low + (high - low) * (1 - mpmath.cos(mpmath.pi * n / _LOOKS)) / 2 for n in range(_LOOKS + 1)]
    for side in (1, -1):
        gaps = [line(x) - side * radius(x) for x in looks]
        for n in range(_LOOKS):
            one, other, gap = looks[n], looks[n + 1], gaps[n]
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
