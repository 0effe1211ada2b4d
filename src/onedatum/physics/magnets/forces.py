"""Forces between the ring magnets of two floats on one stem, and the spacing at which the floats snap together.

Both magnets lie on one axis; heights and forces count upwards, forces are those on the upper magnet. Remanences of one
sign stand for magnets of the same polarity, which attract one another.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np

from onedatum.foundation.numerics import Real, in_blocks, monotone_root, same_kind
from onedatum.foundation.working import formula
from onedatum.physics.magnets.sheets import sheet_field

_MU_0 = 4e-7 * np.pi
_NODES = 32
_AT_ONCE = 4096
"""Places on the second magnet that are worked together."""
_WITHIN_M = 1e-14
"""The slope rounds more coarsely than the spacing: without it Newton's steps go to and fro."""
_SPACING = ("s", "distance of the middles of the magnets", "(0, 5]")
_FIRST_INNER = ("r_i1", "inside radius of the first magnet, 0 for a full cylinder", "[0, 0.2)")
_FIRST_OUTER = ("r_o1", "outside radius of the first magnet", "[0.001, 0.2]")
_FIRST_LENGTH = ("L_1", "length of the first magnet", "[0.001, 0.2]")
_FIRST_REMANENCE = ("B_r1", "remanence of the first magnet, below zero for one the other way up", "[-2, 2]")
_SECOND_INNER = ("r_i2", "inside radius of the second magnet, 0 for a full cylinder", "[0, 0.2)")
_SECOND_OUTER = ("r_o2", "outside radius of the second magnet", "[0.001, 0.2]")
_SECOND_LENGTH = ("L_2", "length of the second magnet", "[0.001, 0.2]")
_SECOND_REMANENCE = ("B_r2", "remanence of the second magnet, below zero for one the other way up", "[-2, 2]")
_HOLLOW = (("r_i1 < r_o1", "a ring has a wall"), ("r_i2 < r_o2", "a ring has a wall"))
_APART = ("s > (L_1 + L_2)/2*1.001", "the magnets do not touch")
_RINGS = {
    "first_inner_radius_m": _FIRST_INNER,
    "first_outer_radius_m": _FIRST_OUTER,
    "first_length_m": _FIRST_LENGTH,
    "first_remanence_T": _FIRST_REMANENCE,
    "second_inner_radius_m": _SECOND_INNER,
    "second_outer_radius_m": _SECOND_OUTER,
    "second_length_m": _SECOND_LENGTH,
    "second_remanence_T": _SECOND_REMANENCE,
}
_SOURCE = "magnetostatics: force on the current sheets of one magnet in the field of the other"


@formula(
    method="radial field of the first magnet over the two current sheets of the second, integrated along them by"
    " Gauss and Legendre with 32 points crowded towards the first; to 1e-9 from a gap of a tenth of the length on",
    gives=("F", "force on the upper magnet along the axis, negative where they attract"),
    where={"spacing_m": _SPACING, **_RINGS},
    requires=(*_HOLLOW, _APART),
    source=_SOURCE,
)
def ring_force_N(
    spacing_m: Real,
    first_inner_radius_m: Real,
    first_outer_radius_m: Real,
    first_length_m: Real,
    first_remanence_T: Real,
    second_inner_radius_m: Real,
    second_outer_radius_m: Real,
    second_length_m: Real,
    second_remanence_T: Real,
) -> Real:
    """Force between two ring magnets on one axis.

    Example
    -------
    >>> ring = (0.008, 0.0155, 0.010, 0.40)
    >>> float(round(ring_force_N(0.060, *ring, *ring), 8))
    -0.10218301
    """
    first = (first_inner_radius_m, first_outer_radius_m, first_length_m)
    second = (second_inner_radius_m, second_outer_radius_m, second_length_m)
    share = in_blocks(_force, spacing_m, *first, *second, size=_AT_ONCE // _NODES)
    return same_kind(first_remanence_T * second_remanence_T / _MU_0 * share)


@formula(
    method="radial field of the first magnet at the four edges of the second: what its flux through a face loses per"
    " height leaves at the edges of that face",
    gives=("S", "change of the force per spacing, positive where an attraction falls off"),
    where={"spacing_m": _SPACING, **_RINGS},
    requires=(*_HOLLOW, _APART),
    source=_SOURCE,
)
def force_slope_N_per_m(
    spacing_m: Real,
    first_inner_radius_m: Real,
    first_outer_radius_m: Real,
    first_length_m: Real,
    first_remanence_T: Real,
    second_inner_radius_m: Real,
    second_outer_radius_m: Real,
    second_length_m: Real,
    second_remanence_T: Real,
) -> Real:
    """How fast the force between two ring magnets changes with their spacing.

    Example
    -------
    >>> ring = (0.008, 0.0155, 0.010, 0.40)
    >>> float(round(force_slope_N_per_m(0.0762036, *ring, *ring), 4))
    2.0882
    """
    first = (first_inner_radius_m, first_outer_radius_m, first_length_m)
    second = (second_inner_radius_m, second_outer_radius_m, second_length_m)
    share = in_blocks(_slope, spacing_m, *first, *second, size=_AT_ONCE // 2)
    return same_kind(first_remanence_T * second_remanence_T / _MU_0 * share)


def _pull(at: Any, first: tuple[Any, ...], second: tuple[Any, ...]) -> Any:
    """Force per height on a slice of the second magnet, per 1/mu_0 and both remanences.

    Both sheets of the first at both sheets of the second are worked at once: for few places that is much quicker.
    """
    at, inner, outer, length, own_inner, own_outer = np.broadcast_arrays(at, *first, *second[:2])
    edges, sheets = np.stack([own_outer, own_inner]), np.stack([outer, inner])
    fields = sheet_field(at, edges[:, None], sheets, length / 2)[1]
    shares = 2 * np.pi * edges * (fields[:, 0] - fields[:, 1])
    return shares[1] - shares[0]


def _force(spacing: Any, *rings: Any) -> Any:
    """Integral of `_pull` along the second magnet; its height above the lower end is L*t**3."""
    nodes, weights = _points()
    t, share = (nodes + 1) / 2, weights / 2
    spread = [np.asarray(part)[..., None] for part in (spacing, *rings)]
    first, second = tuple(spread[1:4]), tuple(spread[4:])
    length = second[2]
    at = spread[0] - length / 2 + length * t**3
    return np.sum(_pull(at, first, second) * share * 3 * t**2 * length, axis=-1)


@cache
def _points() -> tuple[Any, Any]:
    """Places and weights of Gauss and Legendre between -1 and 1."""
    return np.polynomial.legendre.leggauss(_NODES)


def _slope(spacing: Any, *rings: Any) -> Any:
    spacing, *parts = np.broadcast_arrays(spacing, *rings)
    first, second = tuple(parts[:3]), tuple(parts[3:])
    upper, lower = _pull(np.stack([spacing + second[2] / 2, spacing - second[2] / 2]), first, second)
    return upper - lower


def _steepest(*rings: Any) -> Any:
    """The steepest that the force between two magnets changes, over the spacings that are looked through for it."""
    _, slopes = _looked_through(rings)
    return same_kind(np.max(slopes, axis=0))


def _looked_through(rings: tuple[Any, ...]) -> tuple[Any, Any]:
    """Spacings from next to touching to far away, and the slope of the force at each, along the first axis."""
    given = np.broadcast_arrays(*(np.asarray(part, dtype=np.float64) for part in rings))
    contact = (given[2] + given[6]) / 2
    size = contact + given[1] + given[5]
    gaps = np.geomspace(2e-3, 300.0, 120).reshape(-1, *(1 for _ in size.shape))
    spacings = contact + size * gaps
    return spacings, np.asarray(force_slope_N_per_m(spacings, *given))


@formula(
    residual="S(s, r_i1, r_o1, L_1, B_r1, r_i2, r_o2, L_2, B_r2) - k",
    gives=("s", "spacing of the middles below which the floats snap together"),
    where={
        "combined_stiffness_N_per_m": ("k", "stiffness of the two floats in series", "[0.001, 10000]"),
        **_RINGS,
        "first_remanence_T": ("B_r1", "remanence of the first magnet", "[0.05, 2]"),
        "second_remanence_T": ("B_r2", "remanence of the second magnet", "[0.05, 2]"),
    },
    requires=(
        *_HOLLOW,
        (
            "k < S_max(r_i1, r_o1, L_1, B_r1, r_i2, r_o2, L_2, B_r2)",
            "floats stiffer than the magnets never snap together",
        ),
    ),
    calls={"S": force_slope_N_per_m, "S_max": _steepest},
    source="magnetostatics: two springs in series against the slope of the force",
)
def snap_spacing_m(
    combined_stiffness_N_per_m: Real,
    first_inner_radius_m: Real,
    first_outer_radius_m: Real,
    first_length_m: Real,
    first_remanence_T: Real,
    second_inner_radius_m: Real,
    second_outer_radius_m: Real,
    second_length_m: Real,
    second_remanence_T: Real,
) -> Real:
    """Spacing below which two floats of the same polarity snap together: the largest one at which the slope reaches k.

    Example
    -------
    >>> ring = (0.008, 0.0155, 0.010, 0.40)
    >>> float(round(snap_spacing_m(17.746 * 2.3667 / (17.746 + 2.3667), *ring, *ring), 7))
    0.0762036
    """
    given = np.broadcast_arrays(
        *(
            np.asarray(part, dtype=np.float64)
            for part in (
                combined_stiffness_N_per_m,
                *(first_inner_radius_m, first_outer_radius_m, first_length_m, first_remanence_T),
                *(second_inner_radius_m, second_outer_radius_m, second_length_m, second_remanence_T),
            )
        )
    )
    stiffness, rings = given[0], tuple(given[1:])
    spacings, slopes = _looked_through(rings)
    above = slopes > stiffness
    last = np.clip(len(above) - 1 - np.argmax(above[::-1], axis=0), 0, len(above) - 2)
    low, high = (np.take_along_axis(spacings, (last + next_)[None], axis=0)[0] for next_ in (0, 1))

    def slope(at: Any) -> Any:
        return force_slope_N_per_m(at, *rings)

    def bend(at: Any) -> Any:
        wide, near = slope(np.stack([at * (1 + 1e-5), at * (1 - 1e-5)]))
        return (wide - near) / (2e-5 * at)

    return same_kind(np.asarray(monotone_root(slope, bend, stiffness, low, high, within=_WITHIN_M)))


@formula(
    equation="k = k_1*k_2/(k_1 + k_2)",
    gives=("k", "stiffness of the two floats in series"),
    where={
        "first_stiffness_N_per_m": ("k_1", "force per immersion of the first float", "(0, 100000]"),
        "second_stiffness_N_per_m": ("k_2", "force per immersion of the second float", "(0, 100000]"),
    },
    source="derived: two springs in series",
)
def combined_stiffness_N_per_m(first_stiffness_N_per_m: Real, second_stiffness_N_per_m: Real) -> Real:
    """Stiffness that two floats set against being drawn together.

    Example
    -------
    >>> round(combined_stiffness_N_per_m(17.746, 2.3667), 4)
    2.0882
    """
    return first_stiffness_N_per_m * second_stiffness_N_per_m / (first_stiffness_N_per_m + second_stiffness_N_per_m)


@formula(
    equation="dz = F/k",
    gives=("dz", "way that the float is moved"),
    where={
        "force_N": ("F", "force on the float", "[-1000, 1000]"),
        "stiffness_N_per_m": ("k", "force per immersion of the float", "[0.001, 100000]"),
    },
    source="archimedes: the float yields until buoyancy balances the force",
)
def displacement_m(force_N: Real, stiffness_N_per_m: Real) -> Real:
    """How far a float yields to a force along its stem, as long as its waterline does not change.

    Example
    -------
    >>> round(displacement_m(-0.0164, 2.3667), 4)
    -0.0069
    """
    return force_N / stiffness_N_per_m
