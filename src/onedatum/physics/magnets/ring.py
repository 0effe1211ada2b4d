"""Field of a ring or a cylinder magnetised along its axis: beside it, in its bore and beyond its ends.

Heights count from the middle of the magnet, radii from its axis. A cylinder is a ring whose inside radius is nothing.
The magnetisation is even and does not give way to other fields; a remanence below zero stands for a magnet the other
way up. The permeability of the magnet itself, 1.05 to 1.1 for the usual materials, is counted as 1.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from onedatum.foundation.numerics import Real, in_blocks, monotone_root, same_kind
from onedatum.foundation.working import formula
from onedatum.physics.magnets.sheets import sheet_field, sheet_slopes

_AXIAL = ("z", "height above the middle of the magnet", "[-5, 5]")
_INNER = ("r_i", "inside radius of the magnet, 0 for a full cylinder", "[0, 0.2)")
_BORE = ("r_i", "inside radius of the magnet", "(0, 0.2)")
_OUTER = ("r_o", "outside radius of the magnet", "[0.001, 0.2]")
_LENGTH = ("L", "length of the magnet", "[0.001, 0.2]")
_REMANENCE = ("B_r", "remanence of the magnet, below zero for one the other way up", "[-2, 2]")
_MAGNET = {
    "inner_radius_m": _INNER,
    "outer_radius_m": _OUTER,
    "length_m": _LENGTH,
    "remanence_T": _REMANENCE,
}
_RADIAL = ("r", "distance from the axis of the magnet", "[0, 5]")
_ANYWHERE = (
    "field of two current sheets of radius r_o and r_i: complete elliptic integrals after Derby and Olbert near"
    " the magnet, multipoles up to the 30th order beyond 4 radii of the ball around it; to about 1e-12 of the field"
)
_HOLLOW = ("r_i < r_o", "a ring has a wall")
_OUTSIDE = ("max(abs(z) - L/2, max(r_i - r, r - r_o)) > 0", "the place lies outside the material of the magnet")
_SOURCE = "magnetostatics: two current sheets"


@formula(
    equation="B = B_r/2*((z + L/2)/sqrt(r_o**2 + (z + L/2)**2) - (z - L/2)/sqrt(r_o**2 + (z - L/2)**2)"
    " - (z + L/2)/sqrt(r_i**2 + (z + L/2)**2) + (z - L/2)/sqrt(r_i**2 + (z - L/2)**2))",
    gives=("B", "field along the axis of the magnet, on that axis"),
    where={
        "axial_m": _AXIAL,
        **_MAGNET,
    },
    requires=(_HOLLOW, ("max(abs(z) - L/2, r_i) > 0", "the place lies outside the material of the magnet")),
    source=_SOURCE,
)
def ring_field_on_axis_T(
    axial_m: Real, inner_radius_m: Real, outer_radius_m: Real, length_m: Real, remanence_T: Real
) -> Real:
    """Field of a ring magnet on its axis; negative in the middle of the bore, positive beyond the ends.

    Example
    -------
    >>> float(round(ring_field_on_axis_T(0.020, 0.008, 0.0155, 0.010, 0.40), 9))
    0.016882012
    """
    shell = (outer_radius_m - inner_radius_m) * (outer_radius_m + inner_radius_m)
    upper, lower = axial_m + length_m / 2, axial_m - length_m / 2
    gone = [end / _three_sides(end, inner_radius_m, outer_radius_m) for end in (upper, lower)]
    return same_kind(remanence_T / 2 * shell * (gone[1] - gone[0]))


def _three_sides(end: Any, inner: Any, outer: Any) -> Any:
    """Of one end: with it the difference of two cosines is a quotient, and nothing cancels."""
    short, long = np.hypot(inner, end), np.hypot(outer, end)
    return short * long * (short + long)


@formula(
    residual="(z + L/2)/sqrt(r_o**2 + (z + L/2)**2) - (z - L/2)/sqrt(r_o**2 + (z - L/2)**2)"
    " - (z + L/2)/sqrt(r_i**2 + (z + L/2)**2) + (z - L/2)/sqrt(r_i**2 + (z - L/2)**2)",
    gives=("z", "height above the middle of the magnet at which the field on the axis changes its sign"),
    where={"inner_radius_m": _BORE, "outer_radius_m": _OUTER, "length_m": _LENGTH},
    requires=(_HOLLOW,),
    source=_SOURCE,
)
def sign_change_m(inner_radius_m: Real, outer_radius_m: Real, length_m: Real) -> Real:
    """Where the field on the axis of a ring changes its sign; there are two such places, one on either side.

    Example
    -------
    >>> float(round(sign_change_m(0.008, 0.0155, 0.010), 8))
    0.00901483
    """
    size = outer_radius_m
    return same_kind(size * _crossing(inner_radius_m / size, length_m / size, 0.0))


@formula(
    residual="B(w/2, r_i, r_o, L, 1) - B(0, r_i, r_o, L, 1)/2",
    gives=("w", "full width of the main lobe at half its height"),
    where={"inner_radius_m": _BORE, "outer_radius_m": _OUTER, "length_m": _LENGTH},
    requires=(_HOLLOW, ("L <= 2*r_i", "in a longer bore the field may have a hollow in its middle")),
    calls={"B": ring_field_on_axis_T},
    source=_SOURCE,
)
def main_lobe_width_m(inner_radius_m: Real, outer_radius_m: Real, length_m: Real) -> Real:
    """Full width at half height of the field that a ring makes in the middle of its bore, along its axis.

    Example
    -------
    >>> float(round(main_lobe_width_m(0.008, 0.0155, 0.010), 6))
    0.01046
    """
    size = outer_radius_m
    return same_kind(2 * size * _crossing(inner_radius_m / size, length_m / size, 0.5))


def _crossing(inner: Any, long: Any, share: float) -> Any:
    """Where the field on the axis of a ring of outside radius 1 is a share of that in its middle: outwards, first."""
    bore, length = np.broadcast_arrays(np.asarray(inner, dtype=np.float64), np.asarray(long, dtype=np.float64))

    def field(at: Any) -> Any:
        return ring_field_on_axis_T(at, bore, 1.0, length, 1.0)

    def slope(at: Any) -> Any:
        return sum(
            sign * (1 / (1 + end**2) ** 1.5 - bore**2 / (bore**2 + end**2) ** 1.5) / 2
            for sign, end in ((1, at + length / 2), (-1, at - length / 2))
        )

    return monotone_root(field, slope, share * field(np.zeros_like(bore)), 0.0, length / 2 + 1.0, start=length / 2)


@formula(
    method=_ANYWHERE,
    gives=("B_z", "field along the axis of the magnet"),
    where={"axial_m": _AXIAL, "radial_m": _RADIAL, **_MAGNET},
    requires=(_HOLLOW, _OUTSIDE),
    source=_SOURCE,
)
def ring_axial_field_T(
    axial_m: Real, radial_m: Real, inner_radius_m: Real, outer_radius_m: Real, length_m: Real, remanence_T: Real
) -> Real:
    """Field of a ring magnet along its axis, anywhere outside the material.

    Example
    -------
    >>> float(round(ring_axial_field_T(0.0, 0.045, 0.015, 0.020, 0.015, 1.2), 9))
    -0.011695525
    """
    field = in_blocks(_axial, axial_m, radial_m, inner_radius_m, outer_radius_m, length_m)
    return same_kind(remanence_T * field)


@formula(
    method=_ANYWHERE,
    gives=("B_rad", "field away from the axis of the magnet"),
    where={"axial_m": _AXIAL, "radial_m": _RADIAL, **_MAGNET},
    requires=(_HOLLOW, _OUTSIDE),
    source=_SOURCE,
)
def ring_radial_field_T(
    axial_m: Real, radial_m: Real, inner_radius_m: Real, outer_radius_m: Real, length_m: Real, remanence_T: Real
) -> Real:
    """Field of a ring magnet away from its axis, anywhere outside the material; nothing in its mid-plane.

    Example
    -------
    >>> float(round(ring_radial_field_T(0.020, 0.045, 0.015, 0.020, 0.015, 1.2), 9))
    0.009371095
    """
    field = in_blocks(_radial, axial_m, radial_m, inner_radius_m, outer_radius_m, length_m)
    return same_kind(remanence_T * field)


@formula(
    method="change of the axial field across the mid-plane, from the end rings of the two current sheets",
    gives=("B_r1", "change of the axial field per distance from the axis, in the mid-plane"),
    where={
        "radial_m": ("r", "distance from the axis of the magnet", "(0, 5]"),
        **_MAGNET,
    },
    requires=(_HOLLOW, ("r > r_o", "the place lies beside the magnet")),
    source=_SOURCE,
)
def side_gradient_T_per_m(
    radial_m: Real, inner_radius_m: Real, outer_radius_m: Real, length_m: Real, remanence_T: Real
) -> Real:
    """How fast the field beside a ring magnet falls off in its mid-plane.

    Positive for a field that is negative there: it comes closer to nothing.

    Example
    -------
    >>> float(round(side_gradient_T_per_m(0.045, 0.015, 0.020, 0.015, 1.2), 4))
    0.9332
    """
    return same_kind(remanence_T * in_blocks(_gradient, radial_m, inner_radius_m, outer_radius_m, length_m))


def _axial(axial: Any, radial: Any, inner: Any, outer: Any, length: Any) -> Any:
    return sheet_field(axial, radial, outer, length / 2)[0] - sheet_field(axial, radial, inner, length / 2)[0]


def _radial(axial: Any, radial: Any, inner: Any, outer: Any, length: Any) -> Any:
    return sheet_field(axial, radial, outer, length / 2)[1] - sheet_field(axial, radial, inner, length / 2)[1]


def _gradient(radial: Any, inner: Any, outer: Any, length: Any) -> Any:
    """Without current there, the axial field changes across the axis as the radial one does along it."""
    return sheet_slopes(0.0, radial, outer, length / 2)[1] - sheet_slopes(0.0, radial, inner, length / 2)[1]
