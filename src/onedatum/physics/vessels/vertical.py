"""Upright cylinder between two torispherical heads: volume and surface at a level, and the level of a volume.

Levels are counted from the lowest inside point; all measures are inside measures.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from onedatum.foundation.numerics import Real, same_kind
from onedatum.foundation.working import formula
from onedatum.physics.vessels.heads import shape_of_head, torispherical_depth_m
from onedatum.physics.vessels.upright import Upright

_VESSEL = {
    "diameter_m": ("D", "inside diameter of the shell", "(0, 100]"),
    "shell_length_m": ("L", "length of the shell between the tangent lines, straight flanges included", "[0, 200]"),
    "bottom_crown_radius_m": ("R_b", "inside crown radius of the bottom head", "(0, 200]"),
    "bottom_knuckle_radius_m": ("r_b", "inside knuckle radius of the bottom head", "[0, 50]"),
    "top_crown_radius_m": ("R_t", "inside crown radius of the top head", "(0, 200]"),
    "top_knuckle_radius_m": ("r_t", "inside knuckle radius of the top head", "[0, 50]"),
}
_SHAPE = (*shape_of_head("R_b", "r_b"), *shape_of_head("R_t", "r_t"))
_LEVEL = {"level_m": ("h", "level above the lowest inside point", "[0, 400]")}
_HEIGHT = "H(a(D, R_b, r_b), L, a(D, R_t, r_t))"
_INSIDE = (f"h <= {_HEIGHT}", "the level lies inside the vessel")


@formula(
    equation="A = pi*D**2/4",
    gives=("A", "section of the cylindrical shell"),
    where={"diameter_m": _VESSEL["diameter_m"]},
    source="derived",
)
def shell_area_m2(diameter_m: Real) -> Real:
    """Section of a cylindrical shell.

    Example
    -------
    >>> round(shell_area_m2(1.6), 6)
    2.010619
    """
    return np.pi * diameter_m**2 / 4.0


@formula(
    equation="H = a_b + L + a_t",
    gives=("H", "inside height, from the lowest to the highest inside point"),
    where={
        "bottom_depth_m": ("a_b", "inside depth of the bottom head", "[0, 100]"),
        "shell_length_m": _VESSEL["shell_length_m"],
        "top_depth_m": ("a_t", "inside depth of the top head", "[0, 100]"),
    },
    source="derived",
)
def inside_height_m(bottom_depth_m: Real, shell_length_m: Real, top_depth_m: Real) -> Real:
    """Inside height of an upright vessel.

    Example
    -------
    >>> round(inside_height_m(0.310039, 2.4, 0.310039), 6)
    3.020078
    """
    return bottom_depth_m + shell_length_m + top_depth_m


_CALLS: dict[str, Callable[..., Any]] = {"H": inside_height_m, "a": torispherical_depth_m}


@formula(
    method="bottom head below the level + pi*D**2/4 times the wetted length of the shell + top head less its ullage; "
    "each head by the closed forms of its crown and knuckle",
    gives=("V", "volume below the level"),
    where=_LEVEL | _VESSEL,
    requires=(*_SHAPE, _INSIDE),
    calls=_CALLS,
    source="derived: solid of revolution",
)
def vertical_volume_m3(
    level_m: Real,
    diameter_m: Real,
    shell_length_m: Real,
    bottom_crown_radius_m: Real,
    bottom_knuckle_radius_m: Real,
    top_crown_radius_m: Real,
    top_knuckle_radius_m: Real,
) -> Real:
    """Volume below a level in an upright vessel with torispherical heads.

    Example
    -------
    >>> float(round(vertical_volume_m3(1.85, 1.6, 2.4, 1.6, 0.16, 1.6, 0.16), 6))
    3.501641
    """
    bottom, top = (bottom_crown_radius_m, bottom_knuckle_radius_m), (top_crown_radius_m, top_knuckle_radius_m)
    return same_kind(Upright(diameter_m, shell_length_m, *bottom, *top).volume_below_m3(level_m))


@formula(
    method="pi*r**2, r being the radius of the bottom head, the shell or the top head at the level",
    gives=("A", "area of the surface at the level, dV/dh"),
    where=_LEVEL | _VESSEL,
    requires=(*_SHAPE, _INSIDE),
    calls=_CALLS,
    source="derived: solid of revolution",
)
def vertical_area_m2(
    level_m: Real,
    diameter_m: Real,
    shell_length_m: Real,
    bottom_crown_radius_m: Real,
    bottom_knuckle_radius_m: Real,
    top_crown_radius_m: Real,
    top_knuckle_radius_m: Real,
) -> Real:
    """Area of the liquid surface at a level in an upright vessel with torispherical heads.

    Example
    -------
    >>> float(round(vertical_area_m2(1.85, 1.6, 2.4, 1.6, 0.16, 1.6, 0.16), 6))
    2.010619
    """
    bottom, top = (bottom_crown_radius_m, bottom_knuckle_radius_m), (top_crown_radius_m, top_knuckle_radius_m)
    return same_kind(Upright(diameter_m, shell_length_m, *bottom, *top).area_m2(level_m))


def _full_volume_m3(*measures: Real) -> Real:
    """Volume of the whole vessel, by the measures in the order of `vertical_volume_m3` after the level."""
    return same_kind(Upright(*measures).volume_m3)


@formula(
    residual="V_h(h, D, L, R_b, r_b, R_t, r_t) - V",
    gives=("h", "level above the lowest inside point"),
    where={"volume_m3": ("V", "volume below the level", "[0, 2e6]")} | _VESSEL,
    requires=(*_SHAPE, ("V <= V_full(D, L, R_b, r_b, R_t, r_t)", "the volume fits into the vessel")),
    calls={"V_h": vertical_volume_m3, "V_full": _full_volume_m3},
    source="derived: inverse of the volume below a level",
)
def vertical_level_m(
    volume_m3: Real,
    diameter_m: Real,
    shell_length_m: Real,
    bottom_crown_radius_m: Real,
    bottom_knuckle_radius_m: Real,
    top_crown_radius_m: Real,
    top_knuckle_radius_m: Real,
) -> Real:
    """Level of a volume in an upright vessel with torispherical heads.

    Closed form in the shell; in the heads the inverse is found to the last digits the volume carries.

    Example
    -------
    >>> float(round(vertical_level_m(3.501641, 1.6, 2.4, 1.6, 0.16, 1.6, 0.16), 6))
    1.85
    """
    bottom, top = (bottom_crown_radius_m, bottom_knuckle_radius_m), (top_crown_radius_m, top_knuckle_radius_m)
    return same_kind(Upright(diameter_m, shell_length_m, *bottom, *top).level_m(volume_m3))
