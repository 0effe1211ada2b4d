"""What the lean of a float does to the place at which its magnet is read.

The stem reads where the field along it is strongest. Beside a float that stands upright, or in its bore, that is the
mid-plane of the magnet; if the float leans, the strongest field moves along the stem.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from onedatum.foundation.numerics import Real, in_blocks, monotone_root
from onedatum.foundation.working import formula
from onedatum.physics.magnets.sheets import sheet_field, sheet_slopes

_LEAN = ("theta", "lean of the float, its top towards the stem", "[-0.1, 0.1]")
_OUTER = ("r_o", "outside radius of the magnet", "[0.001, 0.2]")
_LENGTH = ("L", "length of the magnet", "[0.001, 0.2]")
_HOLLOW = ("r_i < r_o", "a ring has a wall")
_WITHIN_M = 1e-14
_METHOD = (
    "zero of the change of the field along the stem, from the end rings of the two current sheets, for a magnet that"
    " leans about its middle in the plane through the stem"
)


@formula(
    method=_METHOD,
    gives=("dz", "shift of the strongest field along the stem, upwards"),
    where={
        "distance_m": ("d", "distance of the stem from the axis of the upright float", "[0.002, 1]"),
        "lean_rad": _LEAN,
        "inner_radius_m": ("r_i", "inside radius of the magnet, 0 for a full cylinder", "[0, 0.2)"),
        "outer_radius_m": _OUTER,
        "length_m": _LENGTH,
    },
    requires=(
        _HOLLOW,
        ("d > 1.1*r_o", "the stem stands beside the magnet, leaning or not"),
        ("L <= 1.5*(d - r_o)", "close beside a longer magnet the field has two lobes, or soon may have"),
    ),
    source="magnetostatics: field of a leaning ring",
)
def lean_shift_m(distance_m: Real, lean_rad: Real, inner_radius_m: Real, outer_radius_m: Real, length_m: Real) -> Real:
    """Shift of the reading of a stem beside a float that leans.

    Of a short magnet it is d*tan(theta)/3 far away, as of a dipole, and up to d*tan(theta) close by: downwards where
    the top leans towards the stem. The longer a magnet is against its distance, the less it is; it may go upwards.

    Example
    -------
    >>> float(round(lean_shift_m(0.045, 0.0349066, 0.015, 0.020, 0.015), 5))
    -0.00076
    """
    return in_blocks(_beside, distance_m, lean_rad, inner_radius_m, outer_radius_m, length_m)


@formula(
    method=_METHOD,
    gives=("dz", "shift of the strongest field along the stem, upwards"),
    where={
        "offset_m": ("e", "distance of the stem from the middle of the bore", "[0, 0.1]"),
        "lean_rad": _LEAN,
        "inner_radius_m": ("r_i", "inside radius of the magnet", "(0, 0.2)"),
        "outer_radius_m": _OUTER,
        "length_m": _LENGTH,
    },
    requires=(
        _HOLLOW,
        ("e <= r_i/2", "the stem stands well inside the bore"),
        ("L <= 2*(r_i - e)", "in a longer bore the field may have two lobes"),
    ),
    source="magnetostatics: field of a leaning ring",
)
def bore_lean_shift_m(
    offset_m: Real, lean_rad: Real, inner_radius_m: Real, outer_radius_m: Real, length_m: Real
) -> Real:
    """Shift of the reading of a stem in the bore of a float that leans; nothing for a stem in the middle of the bore.

    Near the middle it is 2*e*tan(theta), whatever the magnet.

    Example
    -------
    >>> float(round(bore_lean_shift_m(0.001, 0.0349066, 0.008, 0.0155, 0.010), 6))
    -7e-05
    """
    return in_blocks(_inside, offset_m, lean_rad, inner_radius_m, outer_radius_m, length_m)


def _beside(distance: Any, lean: Any, inner: Any, outer: Any, length: Any) -> Any:
    return _strongest(1.2 * distance * np.abs(np.tan(lean)), distance, lean, inner, outer, length)


def _inside(offset: Any, lean: Any, inner: Any, outer: Any, length: Any) -> Any:
    return _strongest(4.0 * offset * np.abs(np.tan(lean)), offset, lean, inner, outer, length)


def _strongest(reach: Any, away: Any, lean: Any, inner: Any, outer: Any, length: Any) -> Any:
    """Height of the strongest field on the stem, within a reach to either side of the middle of the magnet."""
    reach, away, lean, inner, outer, length = np.broadcast_arrays(reach, away, lean, inner, outer, length)
    step = 1e-3 * outer

    def change(at: Any) -> Any:
        return _change(at, away, lean, inner, outer, length)

    def bend(at: Any) -> Any:
        above, below = change(np.stack([at + step, at - step]))
        return (above - below) / (2 * step)

    return monotone_root(change, bend, np.zeros(np.shape(reach)), -reach, reach, within=_WITHIN_M)


def _change(at: Any, away: Any, lean: Any, inner: Any, outer: Any, length: Any) -> Any:
    """Change of the field along an upright stem, per height on it and per remanence, beside or in a leaning ring."""
    sine, cosine = np.sin(lean), np.cos(lean)
    axial, across = away * sine + at * cosine, away * cosine - at * sine
    radial, side = np.abs(across), np.where(across < 0.0, -1.0, 1.0)
    half = length / 2
    sheets = np.stack(np.broadcast_arrays(outer, inner, across)[:2])
    slopes, fields = sheet_slopes(axial, radial, sheets, half), sheet_field(axial, radial, sheets, half)
    along, turned = (each[0] - each[1] for each in slopes)
    mixed, field = side * turned, fields[1][0] - fields[1][1]
    on_axis = radial < 1e-9 * outer
    spread = np.where(on_axis, -along / 2, field / np.where(on_axis, 1.0, radial))
    return cosine**2 * along - 2 * sine * cosine * mixed - sine**2 * (along + spread)
