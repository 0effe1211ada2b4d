"""How many waves each outline needs: the narrower a gap against the radius, the more crowded the charge beside it."""

from __future__ import annotations

import math
from typing import Any

from onedatum.physics.capacitive.plane.outlines import CircleOutline, Outline, StripOutline
from onedatum.physics.capacitive.plane.parts import Part, Round, Section, Strip

LEAST = 6
_NATS = 12.5
"""What the last wave has fallen by at the first trial, as a power of e."""
_BESIDE_STRIP = 0.5
"""The fall on a strip for another strip at any usual distance; what a closer one needs, doubling finds."""
_STRAIGHT = 1e-12
"""What is nearer than this to one line, as a share of the whole section, is taken to lie on it."""


def first_orders(section: Section) -> list[int]:
    """Waves on each part for the first trial."""
    parts = section.parts
    falls = [min((_fall(part, other) for other in parts if other is not part), default=math.inf) for part in parts]
    return [LEAST + (math.ceil(_NATS / fall) if math.isfinite(fall) else 0) for fall in falls]


def narrowest(section: Section) -> tuple[Part, Part]:
    """The part whose charge is the most crowded, and what crowds it."""
    pairs = [(part, other) for part in section.parts for other in section.parts if other is not part]
    return min(pairs, key=lambda two: _fall(*two))


def outlines(section: Section, orders: list[int]) -> list[Outline]:
    """The outlines of all parts; where everything lies along one line, with half the waves.

    They count in four times the extent of the section: the logarithm of no radius is then near nothing.
    """
    line = _line(section)
    start = _middle(section.parts[0])
    extent = 4 * max(abs(_middle(part) - start) + _half_size(part) for part in section.parts)
    return [_outline(part, count, line, start, extent) for part, count in zip(section.parts, orders, strict=True)]


def _outline(part: Part, orders: int, line: complex | None, start: complex, extent: Any) -> Outline:
    centre = (_middle(part) - start) / extent
    if isinstance(part, Strip):
        across = line is not None and abs((part.half / line).real) <= _STRAIGHT * abs(part.half)
        return StripOutline(centre, part.half / extent, orders, even=across)
    return CircleOutline(centre, part.radius_m / extent, orders, line)


def _middle(part: Part) -> complex:
    return part.middle if isinstance(part, Strip) else part.centre


def _half_size(part: Part) -> Any:
    return abs(part.half) if isinstance(part, Strip) else part.radius_m


def _fall(part: Part, other: Part) -> Any:
    """By which power of e each wave on a part is less than the last, for its neighbour alone."""
    if isinstance(part, Strip):
        return _BESIDE_STRIP if isinstance(other, Strip) else _fall_on_strip(part, other)
    if isinstance(other, Strip):
        distance = abs(part.centre - other.nearest(part.centre))
        return math.acosh(distance / part.radius_m) if distance > part.radius_m else _fall_within(part, other)
    return _fall_on_circle(part, other)


def _fall_on_circle(part: Round, other: Round) -> Any:
    """Two circles beside or within each other: the images of each crowd towards one point in it."""
    apart, a, b = abs(part.centre - other.centre), part.radius_m, other.radius_m
    if apart <= _STRAIGHT * (a + b):
        return math.inf
    product = (apart + a + b) * (apart - a - b) * (apart + a - b) * (apart - a + b)
    return math.asinh(math.sqrt(max(product, 0.0)) / (2 * apart * a))


def _fall_within(part: Round, strip: Strip) -> Any:
    """A circle round a strip: by the edge nearest to it."""
    far = max(abs(strip.middle + side * strip.half - part.centre) for side in (-1, 1))
    return math.log(part.radius_m / far)


def _fall_on_strip(strip: Strip, other: Round) -> Any:
    near = strip.nearest(other.centre)
    distance = abs(other.centre - near)
    if distance <= other.radius_m:
        gap = other.radius_m - max(abs(strip.middle + side * strip.half - other.centre) for side in (-1, 1))
        return math.acosh(1 + gap / abs(strip.half))
    crowded = near + (other.centre - near) / distance * math.sqrt(distance**2 - other.radius_m**2)
    at = (crowded - strip.middle) / strip.half
    return math.log(abs(at + (at - 1) ** 0.5 * (at + 1) ** 0.5))


def _line(section: Section) -> complex | None:
    """Direction of the line about which the section is alike on both sides; None if there is none."""
    middles = [_middle(part) for part in section.parts]
    size = max(map(_half_size, section.parts))
    far = max((place - middles[0] for place in middles), key=abs)
    strips = [strip.half / abs(strip.half) for strip in section.strips]
    still = abs(far) <= _STRAIGHT * size
    line = (strips[0] if strips else 1.0 + 0.0j) if still else far / abs(far)
    off = [abs(((place - middles[0]) / line).imag) / (size + abs(far)) for place in middles]
    off += [min(abs((way / line).real), abs((way / line).imag)) for way in strips]
    return line if max(off) <= _STRAIGHT else None
