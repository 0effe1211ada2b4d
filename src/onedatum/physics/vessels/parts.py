"""Deadwood: what stands in a vessel and takes room, or lies beside it and adds some, each with its own V(h)."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from typing import Any

import numpy as np

from onedatum.foundation.numerics import Real, same_kind
from onedatum.foundation.working import Where, formula
from onedatum.physics.vessels.body import Body
from onedatum.physics.vessels.combined import Fitted
from onedatum.physics.vessels.leaning import Leaning
from onedatum.physics.vessels.pieces import Cap, Frustum, turned
from onedatum.physics.vessels.prism import Hopper
from onedatum.physics.vessels.upright import Upright

_PART: Where = {
    "volume_m3": ("V_d", "room that the part takes or adds", "(0, 1e5]"),
    "height_m": ("H_d", "height over which it does so", "(0, 200]"),
}
_FIT: Where = {
    "vessel": ("B", "inside of the vessel so far", Body),
    "part": ("P", "part", Body),
    "at_m": ("z", "level of the lowest point of the part", "[-200, 400]"),
}


@formula(
    method="the same section over the whole height, V_d/H_d",
    gives=("P", "part of one section", Body),
    where=_PART,
    source="common-practice: deadwood taken evenly over its height",
)
def even_part(volume_m3: Real, height_m: Real) -> Body:
    """A part that takes or adds room evenly over its height, such as a coil, a ladder or a manhole.

    Example
    -------
    >>> even_part(0.045, 0.3).told()
    'box 387.30 mm by 387.30 mm, 300.00 mm high'
    """
    side = np.sqrt(volume_m3 / height_m)
    return Hopper(side, side, side, side, height_m)


@formula(
    method="a lying cylinder with flat ends whose diameter is the height, as long as the volume asks",
    gives=("P", "lying pipe", Body),
    where=_PART,
    source="derived: segment of a circle times length",
)
def lying_pipe_part(volume_m3: Real, height_m: Real) -> Body:
    """A part that is a lying pipe or a drum, such as a heating pipe.

    Example
    -------
    >>> lying_pipe_part(0.12, 0.6).told()
    'lying pipe, axis level, from 0 mm to 600.00 mm'
    """
    radius = 0.5 * height_m
    length = volume_m3 / (np.pi * radius**2)
    return Leaning((Frustum(length, radius, radius),), 0.0, 1.0, -radius, 0.5 * length, "lying pipe")


@formula(
    method="a spheroid on a plumb axis, as high as the height and as wide as the volume asks",
    gives=("P", "round part", Body),
    where=_PART,
    source="derived: spheroid",
)
def round_part(volume_m3: Real, height_m: Real) -> Body:
    """A part that is a ball or an egg, such as a float of a switch.

    Example
    -------
    >>> round_part(0.0042, 0.2).told()
    'round part, 200.00 mm high, axis plumb'
    """
    half, across = 0.5 * height_m, np.sqrt(6.0 * volume_m3 / (np.pi * height_m)) / 2.0
    cap = Cap(half, half, across)
    return Upright((cap, turned(cap)), "round part")


def _room_m3(vessel: Body, part: Body, at_m: Real) -> Real:
    """What the vessel holds between the lowest and the highest point of the part."""
    top = at_m + part.high_m - part.low_m
    return same_kind(vessel.volume_below_m3(top) - vessel.volume_below_m3(at_m))


def _takes_m3(part: Body) -> Real:
    return same_kind(part.volume_m3)


def _bottom_m(vessel: Body) -> Real:
    return same_kind(vessel.low_m)


def _room_left(vessel: Body, part: Body, at_m: Real) -> Real:
    """The least section that the part leaves of the vessel, at the corners of both and between them."""
    corners = [each - part.low_m + at_m for each in part.breaks_m]
    levels = [low + share * (high - low) for low, high in pairwise(corners) for share in _SHARES]
    left = [vessel.area_m2(level) - part.area_m2(level - at_m + part.low_m) for level in levels]
    return same_kind(np.minimum.reduce(np.broadcast_arrays(*left)))


_SHARES = (0.02, 0.25, 0.5, 0.75, 0.98)
_CALLS: dict[str, Callable[..., Any]] = {
    "V_room": _room_m3,
    "V_part": _takes_m3,
    "A_left": _room_left,
    "H_low": _bottom_m,
}


@formula(
    method="V(h) = V_vessel(h) - V_part(h)",
    gives=("B", "vessel less the part", Body),
    where=_FIT,
    requires=(
        ("z >= H_low(B)", "the part stands inside the vessel"),
        ("V_room(B, P, z) >= V_part(P)", "a part cannot take more than the vessel holds at its height"),
        ("A_left(B, P, z) >= 0", "a part cannot be wider than the vessel at its height"),
    ),
    calls=_CALLS,
    source="derived: volumes add",
)
def less_part(vessel: Body, part: Body, at_m: Real) -> Body:
    """A vessel with something in it that takes room.

    Example
    -------
    >>> from onedatum.physics.vessels.shapes import box
    >>> float(round(less_part(box(3.0, 2.0, 1.5), even_part(0.12, 0.4), 0.2).volume_below_m3(0.4), 6))
    2.34
    """
    return Fitted(vessel, part, at_m, -1.0)


@formula(
    method="V(h) = V_vessel(h) + V_part(h)",
    gives=("B", "vessel with the part", Body),
    where=_FIT,
    requires=(("z >= H_low(B)", "the part lies beside the vessel; a sump below it is a bottom of its own"),),
    calls=_CALLS,
    source="derived: volumes add",
)
def with_part(vessel: Body, part: Body, at_m: Real) -> Body:
    """A vessel with a part beside it that adds room, such as a manhole or a chamber open to it.

    Example
    -------
    >>> from onedatum.physics.vessels.shapes import box
    >>> float(round(with_part(box(3.0, 2.0, 1.5), even_part(0.12, 0.4), 0.2).volume_below_m3(0.4), 6))
    2.46
    """
    return Fitted(vessel, part, at_m, 1.0)
