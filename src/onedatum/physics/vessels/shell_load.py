"""The shell under the head of the liquid: how far it stretches while strapped, and what volume that adds in use.

Each course is taken as a thin ring of its own that carries the pressure at its height by hoop stress alone. That
leaves out: the bottom, which holds the lowest 2*sqrt(r*t) or so of the shell back, so that its part is stated too
large, with a stiff joint as if 0.78*sqrt(r*t) of the shell did not stretch at all; stiffening rings and wind girders;
the pull of a thick course on a thin one above it; stress along the height; the sag of the bottom.

Heights are counted from one datum, at the foot of the shell.
"""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_LEVEL = ("h", "level of the liquid above the datum", "[0, 100]")
_DENSITY = ("rho", "density of the liquid", "[0, 20000]")
_GRAVITY = ("g", "acceleration of free fall", "[9.7, 9.9]")
_RADIUS = ("r", "inside radius of the course", "(0, 100]")
_PLATE = ("t", "thickness of the plate", "[0.0001, 0.5]")
_MODULUS = ("E", "modulus of elasticity of the shell", "[1e6, 1e12]")
_COURSE_BOTTOM = ("z_1", "height of the lower edge of the course", "[0, 100]")
_COURSE_TOP = ("z_2", "height of the upper edge of the course", "(0, 100]")

_STRETCHED = "a shell stretched by more than 1 % is outside this straight-line formula"
_COURSE = {
    "level_m": _LEVEL,
    "bottom_m": _COURSE_BOTTOM,
    "top_m": _COURSE_TOP,
    "radius_m": _RADIUS,
    "plate_m": _PLATE,
    "modulus_Pa": _MODULUS,
    "density_kg_per_m3": _DENSITY,
    "gravity_m_per_s2": _GRAVITY,
}
_COURSE_HOLDS = (
    ("z_2 > z_1", "the upper edge of a course is above its lower edge"),
    ("t >= 100*rho*g*(h - z_1)*r/E", _STRETCHED),
)


@formula(
    equation="p = rho*g*max(h - z, 0)",
    gives=("p", "gauge pressure of the liquid on the shell, zero above the level"),
    where={
        "level_m": _LEVEL,
        "height_m": ("z", "height on the shell", "[0, 100]"),
        "density_kg_per_m3": _DENSITY,
        "gravity_m_per_s2": _GRAVITY,
    },
    source="derived: hydrostatics",
)
def head_Pa_gauge(level_m: Real, height_m: Real, density_kg_per_m3: Real, gravity_m_per_s2: Real) -> Real:
    """Pressure of the liquid on the shell at a height.

    The gas above the liquid is not in it; in a closed tank add its gauge pressure.

    Example
    -------
    >>> float(round(head_Pa_gauge(12.0, 1.5, 850.0, 9.80665), 1))
    87524.4
    """
    return density_kg_per_m3 * gravity_m_per_s2 * np.maximum(level_m - height_m, 0.0)


@formula(
    equation="dC = -C*p*r/(E*t)",
    gives=("dC", "correction to the circumference for the empty tank, never positive"),
    where={
        "circumference_m": ("C", "circumference strapped with the liquid in the tank", "(0, 1000]"),
        "pressure_Pa_gauge": ("p", "gauge pressure behind the strap", "[0, 5e6]"),
        "radius_m": _RADIUS,
        "plate_m": _PLATE,
        "modulus_Pa": _MODULUS,
    },
    requires=(("t >= 100*p*r/E", _STRETCHED),),
    source="derived: hoop stress of a thin ring, Hooke's law",
)
def empty_tank_correction_m(
    circumference_m: Real, pressure_Pa_gauge: Real, radius_m: Real, plate_m: Real, modulus_Pa: Real
) -> Real:
    """What is added to a circumference strapped on a filled tank to have that of the empty one.

    First order: the stretch itself, about 1e-4, is neglected against 1.

    Example
    -------
    >>> round(empty_tank_correction_m(62.9135, 87524.4, 10.0, 0.012, 206e9), 5)
    -0.02228
    """
    return -circumference_m * pressure_Pa_gauge * radius_m / (modulus_Pa * plate_m)


@formula(
    equation="dV = 2*pi*rho*g*r**3/(E*t)*(min(max(h, z_1), z_2) - z_1)*(h - (min(max(h, z_1), z_2) + z_1)/2)",
    gives=("dV", "volume that a course gains under the head of the liquid, up to the level"),
    where=_COURSE,
    requires=_COURSE_HOLDS,
    source="derived: hoop stress of thin rings integrated over the wetted height of the course",
)
def course_expansion_m3(
    level_m: Real,
    bottom_m: Real,
    top_m: Real,
    radius_m: Real,
    plate_m: Real,
    modulus_Pa: Real,
    density_kg_per_m3: Real,
    gravity_m_per_s2: Real,
) -> Real:
    """Volume that one course gains under the head of the liquid.

    Zero while the level is below the course; above it the course goes on stretching with the level. The gain of the
    tank is the sum over its courses. In proportion to the density: a table must say which one it was made with.
    What is left out is said at the head of this module: the bottom that holds the shell back, stiffening rings, the
    pull between courses of unlike thickness, the sag of the bottom.

    Example
    -------
    >>> float(round(course_expansion_m3(9.5, 2.0, 4.0, 10.0, 0.016, 206e9, 850.0, 9.80665), 6))
    0.206574
    """
    wetted = np.minimum(np.maximum(level_m, bottom_m), top_m)
    rings = (wetted - bottom_m) * (level_m - (wetted + bottom_m) / 2)
    return _gain_m(radius_m, plate_m, modulus_Pa, density_kg_per_m3, gravity_m_per_s2) * rings


@formula(
    equation="dA = 2*pi*rho*g*r**3/(E*t)*(min(max(h, z_1), z_2) - z_1)",
    gives=("dA", "what the stretching of a course adds to the section at the level, d(dV)/dh"),
    where=_COURSE,
    requires=_COURSE_HOLDS,
    source="derived: slope of the volume that a course gains",
)
def course_expansion_area_m2(
    level_m: Real,
    bottom_m: Real,
    top_m: Real,
    radius_m: Real,
    plate_m: Real,
    modulus_Pa: Real,
    density_kg_per_m3: Real,
    gravity_m_per_s2: Real,
) -> Real:
    """What the stretching of one course adds to the section, by which the volume rises with the level.

    Not the growth of the section at the surface, which is zero there, but that of all of the course below it.

    Example
    -------
    >>> float(round(course_expansion_area_m2(9.5, 2.0, 4.0, 10.0, 0.016, 206e9, 850.0, 9.80665), 6))
    0.031781
    """
    wetted = np.minimum(np.maximum(level_m, bottom_m), top_m)
    return _gain_m(radius_m, plate_m, modulus_Pa, density_kg_per_m3, gravity_m_per_s2) * (wetted - bottom_m)


def _gain_m(radius_m: Real, plate_m: Real, modulus_Pa: Real, density_kg_per_m3: Real, gravity_m_per_s2: Real) -> Real:
    """Section gained by a ring for each metre of liquid above it, m2 per m."""
    return 2 * np.pi * density_kg_per_m3 * gravity_m_per_s2 * radius_m**3 / (modulus_Pa * plate_m)


@formula(
    equation="dV = pi*rho*g*r**3*h**2/(E*t)",
    gives=("dV", "volume that a shell of one thickness gains under the head of the liquid"),
    where={
        "level_m": _LEVEL,
        "radius_m": _RADIUS,
        "plate_m": _PLATE,
        "modulus_Pa": _MODULUS,
        "density_kg_per_m3": _DENSITY,
        "gravity_m_per_s2": _GRAVITY,
    },
    requires=(("t >= 100*rho*g*h*r/E", _STRETCHED),),
    source="derived: one course from the datum to above the level",
)
def uniform_shell_expansion_m3(
    level_m: Real,
    radius_m: Real,
    plate_m: Real,
    modulus_Pa: Real,
    density_kg_per_m3: Real,
    gravity_m_per_s2: Real,
) -> Real:
    """Volume that a shell of one thickness gains under the head of the liquid.

    Leaves out what the courses leave out: the bottom that holds the shell back, stiffening rings, the sag of the
    bottom.

    Example
    -------
    >>> round(uniform_shell_expansion_m3(12.0, 10.0, 0.012, 206e9, 850.0, 9.80665), 6)
    1.525469
    """
    return _gain_m(radius_m, plate_m, modulus_Pa, density_kg_per_m3, gravity_m_per_s2) * level_m**2 / 2
