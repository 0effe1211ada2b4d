"""Field of bar magnets that stand around a stem, on the axis of the stem.

The bars are round, alike, parallel to the stem and evenly spread over a circle around it. On its axis the fields across
it cancel if there are two bars or more.
"""

from __future__ import annotations

from typing import Any

from onedatum.foundation.numerics import Real, in_blocks, same_kind
from onedatum.foundation.working import formula
from onedatum.physics.magnets.sheets import sheet_field

_AXIAL = ("z", "height above the middle of the bars", "[-5, 5]")
_COUNT = ("N", "number of bars", "[1, 60]")
_DIAMETER = ("d", "diameter of a bar", "(0, 0.2]")
_LENGTH = ("L", "length of a bar", "(0, 0.5]")
_CIRCLE = ("r", "radius of the circle on which the bars stand", "[0.001, 1]")
_REMANENCE = ("B_r", "remanence of the bars, below zero for bars the other way up", "[-2, 2]")
_APART = ("d < 2*r*sin(pi/max(N, 2))", "the bars stand side by side around the stem")


@formula(
    method="N times the axial field of one cylinder at distance r from its axis (see ring_axial_field_T)",
    gives=("B", "field along the stem, on its axis"),
    where={
        "axial_m": _AXIAL,
        "count": _COUNT,
        "bar_diameter_m": _DIAMETER,
        "bar_length_m": _LENGTH,
        "circle_radius_m": _CIRCLE,
        "remanence_T": _REMANENCE,
    },
    requires=(_APART,),
    source="magnetostatics: current sheets",
)
def bars_field_on_axis_T(
    axial_m: Real,
    count: Real,
    bar_diameter_m: Real,
    bar_length_m: Real,
    circle_radius_m: Real,
    remanence_T: Real,
) -> Real:
    """Field of bar magnets around a stem, on the axis of the stem.

    Example
    -------
    >>> float(round(bars_field_on_axis_T(0.030, 4, 0.004, 0.010, 0.015, 1.2), 8))
    0.00179768
    """
    return same_kind(remanence_T * count * in_blocks(_one, axial_m, bar_diameter_m, bar_length_m, circle_radius_m))


def _one(axial: Any, diameter: Any, length: Any, away: Any) -> Any:
    return sheet_field(axial, away, diameter / 2, length / 2)[0]


@formula(
    equation="B = N*B_r*d**2*L/16*(2*z**2 - r**2)/(z**2 + r**2)**2.5",
    gives=("B", "field along the stem, on its axis"),
    where={
        "axial_m": _AXIAL,
        "count": _COUNT,
        "bar_diameter_m": _DIAMETER,
        "bar_length_m": _LENGTH,
        "circle_radius_m": _CIRCLE,
        "remanence_T": _REMANENCE,
    },
    requires=(_APART,),
    source="magnetostatics: dipoles",
)
def bars_dipole_field_T(
    axial_m: Real,
    count: Real,
    bar_diameter_m: Real,
    bar_length_m: Real,
    circle_radius_m: Real,
    remanence_T: Real,
) -> Real:
    """Field of bar magnets around a stem if each were a dipole: a first estimate, off by a sixth among the bars.

    Example
    -------
    >>> round(bars_dipole_field_T(0.030, 4, 0.004, 0.010, 0.015, 1.2), 8)
    0.0017809
    """
    strength = count * remanence_T * bar_diameter_m**2 * bar_length_m / 16
    return strength * (2 * axial_m**2 - circle_radius_m**2) / (axial_m**2 + circle_radius_m**2) ** 2.5
