"""What a section cannot be, said with its place and the remedy."""

from __future__ import annotations

import cmath
import math
from itertools import combinations
from typing import Any

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.units import show
from onedatum.physics.capacitive.plane.parts import Interface, Part, Rod, Round, Section, Strip, Tank

_NAME = "capacitive.section_capacitance"
_WORDS = {Rod: "rod", Interface: "interface", Strip: "strip", Tank: "tank"}


def refuse(section: Section) -> None:
    """Raise ValidityError for the first thing that cannot be."""
    for part in section.parts:
        _refuse_size(section, part)
    _refuse_permittivity("permittivity", section.permittivity)
    for number, interface in enumerate(section.interfaces, 1):
        _refuse_permittivity(f"inside_permittivity of interface {number}", interface.inside_permittivity)
    _refuse_open_circuit(section)
    for one, other in combinations(section.parts, 2):
        _refuse_contact(section, one, other)


def _fail(parameter: str, allowed: str, got: str, why: str) -> ValidityError:
    return ValidityError(_NAME, parameter, allowed, got, why)


def called(section: Section, part: Part) -> str:
    """A part by its number and its place: "rod 2 at (0.3 m, 0 m)"."""
    alike = [other for other in section.parts if type(other) is type(part)]
    number = next(count for count, other in enumerate(alike, 1) if other is part)
    across, up = part.middle_m if isinstance(part, Strip) else part.centre_m
    word = _WORDS[type(part)] if isinstance(part, Tank) else f"{_WORDS[type(part)]} {number}"
    return f"{word} at ({show(across, 'mm')}, {show(up, 'mm')})"


def _refuse_size(section: Section, part: Part) -> None:
    size, named = (part.width_m, "width_m") if isinstance(part, Strip) else (part.radius_m, "radius_m")
    place = part.middle_m if isinstance(part, Strip) else part.centre_m
    number = part.direction_rad if isinstance(part, Strip) else 0.0
    if not all(math.isfinite(value) for value in (*place, number)):
        raise _fail(f"place of {_WORDS[type(part)]}", "a finite number", f"{place}", "State where it lies")
    if not (math.isfinite(size) and size > 0.0):
        raise _fail(f"{named} of {called(section, part)}", "above 0", show(size, "mm"), "State its real size")


def _refuse_permittivity(parameter: str, value: complex) -> None:
    number = complex(value)
    if not cmath.isfinite(number) or number.real < 1.0:
        raise _fail(parameter, "at least 1 in its real part", f"{value:.6g}", "State it relative to vacuum, gas is 1")
    if number.imag > 0.0:
        why = "a medium that leaks has epsilon - j sigma/(omega epsilon_0): change the sign"
        raise _fail(parameter, "at most 0 in its imaginary part", f"{value:.6g}", why)


def _refuse_open_circuit(section: Section) -> None:
    if not any(rod.live for rod in section.rods):
        raise _fail("rods", "one or more that are live", "none", "Make the rod of the probe live")
    if not (section.tank or section.strips or any(not rod.live for rod in section.rods)):
        why = "In an insulating vessel a probe needs an earthed rod, strip or tank of its own"
        raise _fail("section", "closed by an earthed part", "live rods alone", why)


def _refuse_contact(section: Section, one: Part, other: Part) -> None:
    """Two parts that touch, cross, or lie where neither can."""
    gap = _gap(one, other)
    if gap > 0.0:
        return
    first, second = sorted((one, other), key=lambda part: isinstance(part, Tank | Interface))
    got = "touching it" if gap == 0.0 else f"{show(-gap, 'mm')} into it"
    allowed = f"clear of {called(section, second)}"
    raise _fail(called(section, first), allowed, got, _remedy(first, second))


def _remedy(first: Part, second: Part) -> str:
    if isinstance(first, Rod | Strip) and isinstance(second, Interface):
        return (
            "Conductor and dielectric meet: make the coating thicker than nothing, or move the conductor off the wall"
        )
    if isinstance(first, Interface) and isinstance(second, Tank):
        return "Dielectric and tank meet: make the coating thinner than its gap to the tank, or the gap wider"
    if isinstance(first, Interface):
        return "Two dielectrics cross: make the coating thinner than the gap, or the gap wider"
    return "Two conductors meet: move them apart, or make them thinner"


def _gap(one: Part, other: Part) -> Any:
    """Least distance between two outlines, below nothing where they cross or one is where it must not be."""
    if isinstance(one, Strip):
        return _gap_of_strip(one, other)
    if isinstance(other, Strip):
        return _gap_of_strip(other, one)
    apart = abs(one.centre - other.centre)
    beside = apart - one.radius_m - other.radius_m
    gaps = [] if Tank in (type(one), type(other)) else [beside]
    gaps += [_room(outer, inner, apart) for outer, inner in ((one, other), (other, one)) if _may_hold(outer)]
    return max(gaps)


def _may_hold(part: Round) -> bool:
    return isinstance(part, Interface | Tank)


def _room(outer: Round, inner: Round, apart: Any) -> Any:
    """What is left between a circle and one within it; no interface lies round the tank."""
    if isinstance(inner, Tank):
        return -inner.radius_m
    return outer.radius_m - inner.radius_m - apart


def _gap_of_strip(strip: Strip, other: Part) -> Any:
    if isinstance(other, Strip):
        return _gap_of_strips(strip, other)
    outside = abs(other.centre - strip.nearest(other.centre)) - other.radius_m
    within = other.radius_m - max(abs(strip.middle + side * strip.half - other.centre) for side in (-1, 1))
    if isinstance(other, Tank):
        return within
    return max(outside, within) if isinstance(other, Interface) else outside


def _gap_of_strips(one: Strip, other: Strip) -> Any:
    """Between two strips: 0 where they cross, else from an edge of one to the other."""
    ends = [(a, b) for a, b in ((one, other), (other, one))]
    split = all(
        ((b.middle - b.half - a.middle) / a.half).imag * ((b.middle + b.half - a.middle) / a.half).imag < 0
        for a, b in ends
    )
    edges = [(a, b.middle + side * b.half) for a, b in ends for side in (-1, 1)]
    return 0.0 if split else min(abs(edge - a.nearest(edge)) for a, edge in edges)
