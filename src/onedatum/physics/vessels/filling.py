"""What any vessel holds: volume, surface and wetted wall at a level, the level of a volume.

Levels count from the datum of the vessel. A body of revolution on a plumb axis, a box and a hopper are worked in closed
form; one whose axis lies level or leans by the axial integrator, which closes to the last digits of a volume.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from onedatum.foundation.numerics import Real, same_kind
from onedatum.foundation.working import Where, formula
from onedatum.physics.vessels.body import Body

_VESSEL: Where = {"vessel": ("B", "inside of the vessel", Body)}
_LEVEL: Where = {"level_m": ("h", "level above the datum", "[-200, 400]")}
_VOLUME: Where = {"volume_m3": ("V", "volume below the level", "[0, 2e6]")}


@formula(
    method="the vessel's own measure",
    gives=("H_low", "level of the lowest inside point"),
    where=_VESSEL,
    source="derived: geometry of the vessel",
)
def lowest_m(vessel: Body) -> Real:
    """Level of the lowest inside point: below the datum where the gauge of a tilted vessel stands at its high side.

    Example
    -------
    >>> from onedatum.physics.vessels.shapes import box
    >>> float(lowest_m(box(3.0, 2.0, 1.5)))
    0.0
    """
    return same_kind(vessel.low_m)


@formula(
    method="the vessel's own measure",
    gives=("H_high", "level of the highest inside point"),
    where=_VESSEL,
    source="derived: geometry of the vessel",
)
def highest_m(vessel: Body) -> Real:
    """Level of the highest inside point.

    Example
    -------
    >>> from onedatum.physics.vessels.shapes import box
    >>> float(highest_m(box(3.0, 2.0, 1.5)))
    1.5
    """
    return same_kind(vessel.high_m)


@formula(
    method="the volumes of its parts, each in closed form",
    gives=("V_full", "inside volume of the whole vessel"),
    where=_VESSEL,
    source="derived: geometry of the vessel",
)
def capacity_m3(vessel: Body) -> Real:
    """All that a vessel holds.

    Example
    -------
    >>> from onedatum.physics.vessels.shapes import box
    >>> float(capacity_m3(box(3.0, 2.0, 1.5)))
    9.0
    """
    return same_kind(vessel.volume_m3)


_CALLS: dict[str, Callable[..., Any]] = {"H_low": lowest_m, "H_high": highest_m, "V_full": capacity_m3}
_INSIDE = (
    ("h >= H_low(B)", "the level lies above the lowest inside point"),
    ("h <= H_high(B)", "the level lies inside the vessel"),
)


@formula(
    method="axis plumb, box, hopper: closed form of every part; axis level or leaning: the integral of "
    "r**2*acos(-v/r) + v*sqrt(r**2 - v**2) along the axis, v = (H - x*sin(t))/cos(t) being the height of the level "
    "over it, cut at every corner and wherever the level meets the wall",
    gives=("V", "volume below the level"),
    where=_LEVEL | _VESSEL,
    requires=_INSIDE,
    calls=_CALLS,
    source="derived: section of every part",
)
def volume_m3(level_m: Real, vessel: Body) -> Real:
    """Volume below a level in a vessel.

    Example
    -------
    >>> from onedatum.physics.vessels.heads import flat_end
    >>> from onedatum.physics.vessels.shapes import lying_cylinder
    >>> float(round(volume_m3(0.6, lying_cylinder(5.0, flat_end(2.0), flat_end(2.0))), 6))
    3.963367
    """
    return same_kind(vessel.volume_below_m3(level_m))


@formula(
    method="axis plumb, box, hopper: section of the part at the level; axis level or leaning: the integral of "
    "2*sqrt(r**2 - v**2) along the axis, over the cosine of its rise",
    gives=("A", "area of the surface at the level, dV/dh"),
    where=_LEVEL | _VESSEL,
    requires=_INSIDE,
    calls=_CALLS,
    source="derived: section of every part",
)
def surface_m2(level_m: Real, vessel: Body) -> Real:
    """Area of the liquid surface at a level in a vessel.

    Example
    -------
    >>> from onedatum.physics.vessels.heads import flat_end
    >>> from onedatum.physics.vessels.shapes import lying_cylinder
    >>> float(round(surface_m2(0.3, lying_cylinder(5.0, flat_end(2.0), flat_end(2.0))), 6))
    7.141428
    """
    return same_kind(vessel.area_m2(level_m))


@formula(
    method="wetted part of wall, bottom and ends; axis level or leaning: the integral of the wetted arc along the axis",
    gives=("S", "area of the wall wetted below the level"),
    where=_LEVEL | _VESSEL,
    requires=_INSIDE,
    calls=_CALLS,
    source="derived: geometry of the vessel",
)
def wetted_area_m2(level_m: Real, vessel: Body) -> Real:
    """Area of wall, bottom and ends below a level; of the roof as well where the level reaches it.

    Example
    -------
    >>> from onedatum.physics.vessels.shapes import box
    >>> float(wetted_area_m2(0.5, box(3.0, 2.0, 1.5)))
    11.0
    """
    return same_kind(vessel.wetted_m2(level_m))


@formula(
    residual="V_h(h, B) - V",
    gives=("h", "level above the datum"),
    where=_VOLUME | _VESSEL,
    requires=(("V <= V_full(B)", "the volume fits into the vessel"),),
    calls=_CALLS | {"V_h": volume_m3},
    source="derived: inverse of the volume below a level",
)
def level_m(volume_m3: Real, vessel: Body) -> Real:
    """Level of a volume in a vessel; closed form where there is one, found to the last digits elsewhere.

    Example
    -------
    >>> from onedatum.physics.vessels.shapes import box
    >>> float(round(level_m(4.2, box(3.0, 2.0, 1.5)), 6))
    0.7
    """
    return same_kind(vessel.level_m(volume_m3))
