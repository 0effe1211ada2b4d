"""What a section is made of: rods, a strip, a round tank, and circles where one dielectric meets another."""

from __future__ import annotations

import cmath
from dataclasses import dataclass
from typing import TypeAlias

Point: TypeAlias = tuple[float, float]
"""Place in the section, across and up."""


class _Round:
    """Whatever has a centre and a radius."""

    centre_m: Point
    radius_m: float

    @property
    def centre(self) -> complex:
        """The centre as one number."""
        return complex(*self.centre_m)


@dataclass(frozen=True)
class Rod(_Round):
    """A round conductor, solid or hollow: at the potential of the probe, or earthed."""

    centre_m: Point
    radius_m: float
    live: bool = True


@dataclass(frozen=True)
class Tank(_Round):
    """An earthed round tank of metal round everything else, seen from inside."""

    centre_m: Point
    radius_m: float


@dataclass(frozen=True)
class Interface(_Round):
    """A circle with another dielectric inside; outside it is what the circle lies in."""

    centre_m: Point
    radius_m: float
    inside_permittivity: complex


@dataclass(frozen=True)
class Strip:
    """An earthed flat strip of metal without thickness."""

    middle_m: Point
    width_m: float
    direction_rad: float = 0.0
    """Of its width, against the first axis."""

    @property
    def middle(self) -> complex:
        """The middle as one number."""
        return complex(*self.middle_m)

    @property
    def half(self) -> complex:
        """From the middle to one edge."""
        return cmath.rect(self.width_m / 2, self.direction_rad)

    def nearest(self, place: complex) -> complex:
        """The point of the strip nearest to a place."""
        along = ((place - self.middle) / self.half).real
        return self.middle + self.half * min(max(along, -1.0), 1.0)


Round: TypeAlias = Rod | Tank | Interface
Part: TypeAlias = Rod | Tank | Interface | Strip


@dataclass(frozen=True)
class Section:
    """A whole section; `permittivity` is that of the outermost dielectric."""

    rods: tuple[Rod, ...]
    permittivity: complex
    interfaces: tuple[Interface, ...] = ()
    strips: tuple[Strip, ...] = ()
    tank: Tank | None = None

    @property
    def parts(self) -> tuple[Part, ...]:
        """Everything that carries charge."""
        return (*self.rods, *self.strips, *self.interfaces, *((self.tank,) if self.tank else ()))

    def surrounding(self, part: Part) -> complex:
        """Permittivity of the dielectric right outside a part; for the tank, right inside it."""
        if isinstance(part, Tank):
            return self.permittivity
        centre = part.middle if isinstance(part, Strip) else part.centre
        radius = part.radius_m if isinstance(part, Interface) else 0.0
        round_it = [i for i in self.interfaces if abs(i.centre - centre) < i.radius_m and i.radius_m > radius]
        return min(round_it, key=lambda i: i.radius_m).inside_permittivity if round_it else self.permittivity
