"""Magnets seen from afar: their moment, the field of a dipole, and the force between two dipoles on one axis.

mu_0 is 4*pi*1e-7 T.m/A, exact to 1e-9 of the value.
"""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_MOMENT = ("m", "magnetic moment", "[-1000, 1000]")
_FIRST = ("m_1", "magnetic moment of the first magnet", "[-1000, 1000]")
_SECOND = ("m_2", "magnetic moment of the second magnet", "[-1000, 1000]")
_DIPOLE = "magnetostatics: dipole"


@formula(
    equation="m = B_r*pi*(r_o**2 - r_i**2)*L/(4e-7*pi)",
    gives=("m", "magnetic moment"),
    where={
        "inner_radius_m": ("r_i", "inside radius of the magnet, 0 for a full cylinder", "[0, 0.2)"),
        "outer_radius_m": ("r_o", "outside radius of the magnet", "[0.001, 0.2]"),
        "length_m": ("L", "length of the magnet", "[0.001, 0.2]"),
        "remanence_T": ("B_r", "remanence of the magnet, below zero for one the other way up", "[-2, 2]"),
    },
    requires=(("r_i < r_o", "a ring has a wall"),),
    source="magnetostatics: magnetisation times volume",
)
def ring_moment_A_m2(inner_radius_m: Real, outer_radius_m: Real, length_m: Real, remanence_T: Real) -> Real:
    """Magnetic moment of a ring or a cylinder.

    Example
    -------
    >>> round(ring_moment_A_m2(0.008, 0.0155, 0.010, 0.40), 4)
    1.7625
    """
    return remanence_T * (outer_radius_m**2 - inner_radius_m**2) * length_m / 4e-7


@formula(
    equation="B = -1e-7*m/d**3",
    gives=("B", "field along the axis of the magnet, beside it"),
    where={
        "distance_m": ("d", "distance from the axis of the magnet, in its mid-plane", "[0.001, 5]"),
        "moment_A_m2": _MOMENT,
    },
    source=_DIPOLE,
)
def dipole_side_field_T(distance_m: Real, moment_A_m2: Real) -> Real:
    """Field beside a magnet that is small against its distance.

    Too little close by: a ring 40 mm wide makes a third more at 45 mm, 6 % more at 100 mm.

    Example
    -------
    >>> round(dipole_side_field_T(0.1, 7.875), 7)
    -0.0007875
    """
    return -1e-7 * moment_A_m2 / distance_m**3


@formula(
    equation="B = 2e-7*m/z**3",
    gives=("B", "field along the axis of the magnet, on that axis"),
    where={"axial_m": ("z", "height above the middle of the magnet", "[0.001, 5]"), "moment_A_m2": _MOMENT},
    source=_DIPOLE,
)
def dipole_axial_field_T(axial_m: Real, moment_A_m2: Real) -> Real:
    """Field beyond the end of a magnet that is small against its distance: twice that beside it, and the other way.

    Example
    -------
    >>> round(dipole_axial_field_T(0.1, 7.875), 7)
    0.001575
    """
    return 2e-7 * moment_A_m2 / axial_m**3


@formula(
    equation="F = -6e-7*m_1*m_2/s**4",
    gives=("F", "force on the upper magnet along the axis, negative where they attract"),
    where={
        "spacing_m": ("s", "distance of the middles of the magnets", "[0.001, 5]"),
        "first_moment_A_m2": _FIRST,
        "second_moment_A_m2": _SECOND,
    },
    source=_DIPOLE,
)
def dipole_force_N(spacing_m: Real, first_moment_A_m2: Real, second_moment_A_m2: Real) -> Real:
    """Force between two magnets on one axis that are small against their distance.

    Example
    -------
    >>> round(dipole_force_N(0.2, 1.7625, 1.7625), 6)
    -0.001165
    """
    return -6e-7 * first_moment_A_m2 * second_moment_A_m2 / spacing_m**4


@formula(
    equation="s = (24e-7*m_1*m_2/k)**(1/5)",
    gives=("s", "spacing of the middles below which the floats snap together"),
    where={
        "combined_stiffness_N_per_m": ("k", "stiffness of the two floats in series", "[0.001, 10000]"),
        "first_moment_A_m2": ("m_1", "magnetic moment of the first magnet", "(0, 1000]"),
        "second_moment_A_m2": ("m_2", "magnetic moment of the second magnet", "(0, 1000]"),
    },
    source=_DIPOLE,
)
def snap_spacing_dipole_m(combined_stiffness_N_per_m: Real, first_moment_A_m2: Real, second_moment_A_m2: Real) -> Real:
    """Spacing below which two floats of the same polarity snap together, by dipoles: a first estimate.

    Example
    -------
    >>> round(snap_spacing_dipole_m(2.0882, 1.7625, 1.7625), 4)
    0.0814
    """
    return (24e-7 * first_moment_A_m2 * second_moment_A_m2 / combined_stiffness_N_per_m) ** 0.2
