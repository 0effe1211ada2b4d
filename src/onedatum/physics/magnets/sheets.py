"""Field of a current sheet on a cylinder, by complete elliptic integrals near it and by multipoles far away.

A body magnetised evenly along its axis makes the field of such sheets on its walls. All is given per remanence and
from the middle of the sheet; none of it is rounded by taking away nearly equal numbers.
"""

from __future__ import annotations

from typing import Any

import numpy as np

FAR = 4.0
"""Beyond so many radii of the ball around a sheet its multipoles are taken: the last one is then below the rounding."""
_ORDERS = 30
_NOTHING = 1e-21
"""Orders that far below the first are not worked: Legendre's slopes do not grow beyond a thousand in them."""
_ROUNDS = 16
_SETTLED = 1e-9
"""Bulirsch's means close in quadratically: the next one is exact."""


def sheet_field(axial_m: Any, radial_m: Any, radius_m: Any, half_length_m: Any) -> tuple[Any, Any]:
    """Axial and radial field of a sheet, per remanence; a sheet of no radius has none."""
    given = (np.asarray(part, dtype=np.float64) for part in (axial_m, radial_m, radius_m, half_length_m))
    axial, radial, radius, half = np.broadcast_arrays(*given)
    far = axial**2 + radial**2 > FAR**2 * (radius**2 + half**2)
    along, across = np.where(radius == 0.0, 0.0, np.nan), np.where(radius == 0.0, 0.0, np.nan)
    with np.errstate(all="ignore"):
        for chosen, field in ((far & (radius > 0.0), _far), (~far & (radius > 0.0), _near)):
            if chosen.any():
                along[chosen], across[chosen] = field(axial[chosen], radial[chosen], radius[chosen], half[chosen])
    return along, across


def sheet_slopes(axial_m: Any, radial_m: Any, radius_m: Any, half_length_m: Any) -> tuple[Any, Any]:
    """How the axial and the radial field of a sheet change along its axis, per remanence [1/m]: its two end rings."""
    given = (np.asarray(part, dtype=np.float64) for part in (axial_m, radial_m, radius_m, half_length_m))
    axial, radial, radius, half = np.broadcast_arrays(*given)
    with np.errstate(all="ignore"):
        upper, lower = _loop(axial + half, radial, radius), _loop(axial - half, radial, radius)
    return np.where(radius == 0.0, 0.0, upper[0] - lower[0]), np.where(radius == 0.0, 0.0, upper[1] - lower[1])


def _near(axial: Any, radial: Any, radius: Any, half: Any) -> tuple[Any, Any]:
    """By the integrals of Derby and Olbert, begun behind the first step of Bulirsch so that nothing cancels in it."""
    total = radius + radial
    gamma = (radius - radial) / total
    side = np.where(gamma == 0.0, 1.0, np.abs(gamma))
    ends = []
    for end in (axial + half, axial - half):
        square = end**2 + total**2
        k = np.sqrt((end**2 + (radius - radial) ** 2) / square)
        lost = 4.0 * radius * radial / square
        across = _completed(k, 1.0 + k, 0.0, -2.0 * lost / (1.0 + k)) * radius / np.sqrt(square)
        apart = np.where(gamma < 0.0, lost * (end / total) ** 2 / (k + side), k + side)
        first = np.where(gamma == 0.0, 2.0, 2.0 * radius / (total * np.where(gamma == 0.0, 1.0, gamma)))
        along = _completed(k, k / side + side, first, 2.0 * apart / side) * end / np.sqrt(square)
        ends.append((along * radius / total, across))
    (along_upper, across_upper), (along_lower, across_lower) = ends
    return (along_upper - along_lower) / np.pi, (across_upper - across_lower) / np.pi


def _far(axial: Any, radial: Any, radius: Any, half: Any) -> tuple[Any, Any]:
    """By the multipoles of the two edges of the sheet about its middle; only the even orders of the field are there.

    The recurrences of Legendre's polynomials and their slopes run in one for the place and for the edge.
    """
    away, edge = np.hypot(axial, radial), np.hypot(radius, half)
    near, at = edge / away, np.stack((axial / away, half / edge))
    old, new, slope, power = np.ones_like(at), at, np.ones_like(at), near
    along, across = np.zeros_like(away), np.zeros_like(away)
    for order in range(2, _ORDERS + 1):
        slope = at * slope + order * new
        old, new = new, ((2 * order - 1) * at * new - (order - 1) * old) / order
        if order % 2 == 0:
            share = power * slope[1] / (order + 1)
            along += share * new[0]
            across += share * slope[0] / order
            power = power * near**2
            if power.max() < _NOTHING:
                break
    return along * (radius / away) ** 2, across * (radius / away) ** 2 * radial / away


def _loop(axial: Any, radial: Any, radius: Any) -> tuple[Any, Any]:
    """Axial and radial field of a ring of current, per sheet current."""
    square, gap = axial**2 + (radius + radial) ** 2, axial**2 + (radius - radial) ** 2
    k = np.sqrt(gap / square)
    weight = (radius**2 - radial**2 - axial**2) / gap
    along = _complete(k, 1.0 + weight, 1.0 + weight * k**2) / (2.0 * np.pi * np.sqrt(square))
    across = _complete(k, 1.0 / gap, -1.0 / square) * axial * radius / (np.pi * np.sqrt(square))
    return along, across


def _complete(k: Any, c: Any, s: Any) -> Any:
    """Integral over a quarter turn of (c*cos**2 + s*sin**2)/sqrt(cos**2 + k**2*sin**2)."""
    return _completed(k, 1.0 + k, c + s, 2.0 * (s + c * k))


def _completed(k: Any, p: Any, c: Any, s: Any) -> Any:
    """Bulirsch's complete integral from its first step on, by arithmetic and geometric means."""
    big, small, product = 1.0 + k, np.ones_like(k), k
    mean = k
    for _ in range(_ROUNDS):
        if (np.abs(small - mean) <= _SETTLED * small).all():
            break
        mean = 2.0 * np.sqrt(product)
        product = mean * big
        before, c = c, c + s / p
        step = product / p
        s = 2.0 * (s + before * step)
        p = step + p
        small, big = big, mean + big
    return np.pi / 2 * (s + c * big) / (big * (big + p))
