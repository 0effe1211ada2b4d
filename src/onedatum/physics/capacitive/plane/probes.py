"""Sections in frequent use, each one formula: twin rods in plastic, a rod before a strip, a coated rod off the axis."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Real, same_kind
from onedatum.foundation.working import formula
from onedatum.physics.capacitive.constants import VACUUM_PERMITTIVITY_F_PER_M
from onedatum.physics.capacitive.plane.parts import Interface, Rod, Section, Strip, Tank
from onedatum.physics.capacitive.plane.sections import section_capacitance_F_per_m

_GIVES = ("c", "capacitance per length")
_FIELD = "derived: Laplace's equation in the plane"
_METHOD = "boundary integral of a single layer, the number of nodes doubled until the result changes by less than 1e-10"
_LIQUID = ("epsilon", "relative permittivity of the liquid", "[1, 1000]")


@formula(
    equation="R_e = a*exp(2*pi*8.8541878188e-12*epsilon/c)",
    gives=("R_e", "radius of the round tank with the same capacitance"),
    where={
        "rod_radius_m": ("a", "radius of the rod", "(0, 1]"),
        "capacitance_F_per_m": ("c", "capacitance per length of the section", "[1e-12, 1e-3]"),
        "relative_permittivity": _LIQUID,
    },
    requires=(("c >= 2e-12*epsilon", "with less the round tank would be wider than 1e12 rods"),),
    source=_FIELD,
)
def equivalent_radius_m(rod_radius_m: Real, capacitance_F_per_m: Real, relative_permittivity: Real) -> Real:
    """Radius of the round tank in which the rod on the axis, bare, would have the capacitance of any section.

    Example
    -------
    >>> round(float(equivalent_radius_m(0.005, 13.79074585e-12, 1.0)), 5)
    0.28245
    """
    return rod_radius_m * np.exp(2 * np.pi * VACUUM_PERMITTIVITY_F_PER_M * relative_permittivity / capacitance_F_per_m)


@formula(
    method=_METHOD,
    gives=_GIVES,
    where={
        "rod_radius_m": ("a", "radius of the live rod", "[0.0005, 0.1]"),
        "other_radius_m": ("b", "radius of the earthed rod", "[0.0005, 0.1]"),
        "apart_m": ("D", "distance of the two axes, half of it on either side of the axis of the tank", "(0, 10]"),
        "tank_radius_m": ("R", "inside radius of the tank", "[0.02, 20]"),
        "wall_thickness_m": ("t", "thickness of the wall", "[0.0005, 0.5]"),
        "wall_permittivity": ("epsilon_w", "relative permittivity of the wall", "[1, 1000]"),
        "liquid_permittivity": _LIQUID,
        "outside_permittivity": ("epsilon_o", "relative permittivity outside the tank", "[1, 1000]"),
    },
    requires=(
        ("D >= 1.05*(a + b)", "the two rods neither touch nor nearly do: set them further apart"),
        ("D <= 1.9*R - 2*a", "the live rod neither touches the wall nor nearly does: set the rods closer"),
        ("D <= 1.9*R - 2*b", "the earthed rod neither touches the wall nor nearly does: set the rods closer"),
    ),
    source=_FIELD,
)
def twin_rods_in_plastic_tank_F_per_m(
    rod_radius_m: Real,
    other_radius_m: Real,
    apart_m: Real,
    tank_radius_m: Real,
    wall_thickness_m: Real,
    wall_permittivity: Real,
    liquid_permittivity: Real,
    outside_permittivity: Real,
) -> Real:
    """Two rods beside the axis of a round tank of plastic: the wall and what is outside take part in the field.

    Example
    -------
    >>> float(round(twin_rods_in_plastic_tank_F_per_m(0.005, 0.005, 0.1, 0.25, 0.01, 2.3, 2.3, 1.0) * 1e12, 3))
    21.17
    """
    return _each(
        _twin_rods,
        rod_radius_m,
        other_radius_m,
        apart_m,
        tank_radius_m,
        wall_thickness_m,
        wall_permittivity,
        liquid_permittivity,
        outside_permittivity,
    )


@formula(
    method=_METHOD,
    gives=_GIVES,
    where={
        "rod_radius_m": ("a", "radius of the rod", "[0.0005, 0.1]"),
        "to_strip_m": ("D", "axis of the rod from the strip", "(0, 10]"),
        "strip_width_m": ("B", "width of the strip", "[0.001, 100]"),
        "relative_permittivity": _LIQUID,
    },
    requires=(
        ("D >= 1.1*a", "the rod neither touches the strip nor nearly does: set it further off"),
        ("B <= 40*D", "a strip so wide is a flat wall: use the formula for that"),
    ),
    source=_FIELD,
)
def rod_before_strip_F_per_m(
    rod_radius_m: Real, to_strip_m: Real, strip_width_m: Real, relative_permittivity: Real
) -> Real:
    """A rod of any thickness before the middle of an earthed flat strip, far from every wall.

    Example
    -------
    >>> float(round(rod_before_strip_F_per_m(0.005, 0.1, 0.2, 1.0) * 1e12, 6))
    13.790746
    """
    return _each(_before_strip, rod_radius_m, to_strip_m, strip_width_m, relative_permittivity)


@formula(
    method=_METHOD,
    gives=_GIVES,
    where={
        "core_radius_m": ("a", "radius of the bare rod", "[0.0005, 0.1]"),
        "rod_radius_m": ("b", "outside radius of the coating", "[0.0005, 0.2]"),
        "tank_radius_m": ("R", "inside radius of the tank", "[0.01, 20]"),
        "off_axis_m": ("d", "axis of the rod from the axis of the tank", "[0, 20)"),
        "coating_permittivity": ("epsilon_c", "relative permittivity of the coating", "[1, 1000]"),
        "liquid_permittivity": _LIQUID,
    },
    requires=(
        ("a <= 0.999*b", "a coating has a thickness"),
        ("d <= 0.95*R - b", "the coating neither touches the wall nor nearly does: move the rod to the axis"),
    ),
    source=_FIELD,
)
def coated_off_axis_F_per_m(
    core_radius_m: Real,
    rod_radius_m: Real,
    tank_radius_m: Real,
    off_axis_m: Real,
    coating_permittivity: Real,
    liquid_permittivity: Real,
) -> Real:
    """A coated rod anywhere in an earthed round tank.

    Example
    -------
    >>> float(round(coated_off_axis_F_per_m(0.005, 0.007, 0.5, 0.0, 2.1, 2.3) * 1e12, 6))
    27.593017
    """
    return _each(
        _coated,
        core_radius_m,
        rod_radius_m,
        tank_radius_m,
        off_axis_m,
        coating_permittivity,
        liquid_permittivity,
    )


def _twin_rods(*given: Any) -> Section:
    a, b, apart, tank, wall, of_wall, of_liquid, outside = given
    rods = (Rod((-apart / 2, 0.0), a), Rod((apart / 2, 0.0), b, live=False))
    bounds = (Interface((0.0, 0.0), tank, of_liquid), Interface((0.0, 0.0), tank + wall, of_wall))
    return Section(rods, outside, bounds)


def _before_strip(*given: Any) -> Section:
    a, off, width, permittivity = given
    return Section((Rod((0.0, off), a),), permittivity, strips=(Strip((0.0, 0.0), width),))


def _coated(*given: Any) -> Section:
    core, coating, tank, off, of_coating, of_liquid = given
    centre = (off, 0.0)
    return Section(
        (Rod(centre, core),), of_liquid, (Interface(centre, coating, of_coating),), tank=Tank((0.0, 0.0), tank)
    )


def _each(section_of: Callable[..., Section], *given: Real) -> Real:
    """A section for each set of numbers; in an array, what is refused is not a number."""
    if all(np.ndim(value) == 0 for value in given):
        return same_kind(section_capacitance_F_per_m(section_of(*map(float, given))).real)
    sets = np.broadcast_arrays(*given)
    rows = np.stack([column.ravel() for column in sets], axis=-1).tolist()
    return np.array([_or_nan(section_of, row) for row in rows]).reshape(sets[0].shape)


def _or_nan(section_of: Callable[..., Section], row: Any) -> Any:
    try:
        return section_capacitance_F_per_m(section_of(*row)).real
    except ValidityError:
        return np.nan
