"""What of a cylindrical or bored spherical float lies below the surface, and the area of its waterline."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_IMMERSION = ("x", "immersion, from the bottom of the float to the surface", "[0, 2]")
_HEIGHT = ("H", "height of the float, the length of its bore", "(0, 1]")
_WITHIN = ("x <= H", "a float that floats is not immersed deeper than its height")


@formula(
    equation="V_i = A*x",
    gives=("V_i", "volume below the surface"),
    where={"immersion_m": _IMMERSION, "section_m2": ("A", "section of the float less its bore", "(0, 1]")},
    source="derived: prism",
)
def cylinder_submerged_m3(immersion_m: Real, section_m2: Real) -> Real:
    """Volume of a cylindrical float below the surface.

    Example
    -------
    >>> round(cylinder_submerged_m3(0.04, 0.0018), 9)
    7.2e-05
    """
    return section_m2 * immersion_m


@formula(
    equation="V_i = pi*x**2*(H/2 - x/3)",
    gives=("V_i", "volume below the surface"),
    where={"immersion_m": _IMMERSION, "height_m": _HEIGHT},
    requires=(_WITHIN,),
    source="derived: the section of a bored ball, pi*x*(H - x), summed up",
)
def bored_sphere_submerged_m3(immersion_m: Real, height_m: Real) -> Real:
    """Volume of a ball with a bore below the surface.

    Example
    -------
    >>> round(bored_sphere_submerged_m3(0.05, 0.05) - 3.141592653589793 * 0.05**3 / 6, 12)
    0.0
    """
    return np.pi * immersion_m**2 * (height_m / 2 - immersion_m / 3)


@formula(
    equation="A = pi*x*(H - x)",
    gives=("A", "area of the waterline"),
    where={"immersion_m": _IMMERSION, "height_m": _HEIGHT},
    requires=(_WITHIN,),
    source="derived: circle of the ball less that of the bore",
)
def bored_sphere_waterplane_m2(immersion_m: Real, height_m: Real) -> Real:
    """Area of the waterline of a ball with a bore.

    Example
    -------
    >>> round(bored_sphere_waterplane_m2(0.025, 0.05), 7)
    0.0019635
    """
    return np.pi * immersion_m * (height_m - immersion_m)
