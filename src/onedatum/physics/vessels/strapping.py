"""Strapping: from the reading of a tape around the outside of a tank to the inside radius of a course.

reading -> circumference at the reference temperature of the shell -> less the rise of the tape -> empty tank (see
`shell_load`) -> inside radius. The lean of the tank and the comparison with the drawing follow.
"""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_TERMS = 18
"""Of the continued fraction below: to the last digit while the slope is at most 3/4."""

_DIAMETER = ("D", "outside diameter of the tank", "(0, 200]")
_COUNT = ("N", "number of equal obstructions that the tape passes", "[1, 100]")
_HEIGHT = ("t", "height of an obstruction above the plate", "[0, 0.05]")
_WIDTH = ("w", "width of an obstruction along the tape", "[0, 5]")


@formula(
    equation="C = C_r*(1 + e)*(1 + alpha_t*(T_t - T_t0))/(1 + alpha_s*(T_s - T_ref))",
    gives=("C", "outside circumference at the reference temperature of the shell, rise of the tape still in it"),
    where={
        "reading_m": ("C_r", "circumference as read on the tape", "(0, 1000]"),
        "tape_error": ("e", "relative error of the tape: true length over marked length, less 1", "[-0.01, 0.01]"),
        "tape_expansion_per_K": ("alpha_t", "linear expansion of the tape", "[0, 0.0005]"),
        "tape_temperature_K": ("T_t", "temperature of the tape", "[220, 350]"),
        "tape_reference_temperature_K": ("T_t0", "temperature that the marks of the tape hold for", "[270, 310]"),
        "shell_expansion_per_K": ("alpha_s", "linear expansion of the shell", "[0, 0.0005]"),
        "shell_temperature_K": ("T_s", "temperature of the shell", "[220, 500]"),
        "shell_reference_temperature_K": ("T_ref", "temperature that the table is made for", "[200, 500]"),
    },
    source="derived: a length read with a warm tape on a warm shell",
)
def circumference_m(
    reading_m: Real,
    tape_error: Real,
    tape_expansion_per_K: Real,
    tape_temperature_K: Real,
    tape_reference_temperature_K: Real,
    shell_expansion_per_K: Real,
    shell_temperature_K: Real,
    shell_reference_temperature_K: Real,
) -> Real:
    """Outside circumference from the reading of a tape.

    A steel tape on a steel shell at one temperature: only the difference of the two reference temperatures counts.
    The pull on the tape is taken to be that of its calibration. The table must state the reference temperature of the
    shell: the shell factor starts from it.

    Example
    -------
    >>> round(circumference_m(62.9135, 0.0, 11.5e-6, 303.15, 293.15, 11.5e-6, 303.15, 288.15), 4)
    62.9099
    """
    tape = (1 + tape_error) * (1 + tape_expansion_per_K * (tape_temperature_K - tape_reference_temperature_K))
    shell = 1 + shell_expansion_per_K * (shell_temperature_K - shell_reference_temperature_K)
    return reading_m * tape / shell


@formula(
    equation="dC = N*(2*sqrt(t*(D + t)) - D*acos(D/(D + 2*t)) + 2*w*t/D)",
    gives=("dC", "length of tape used up by the obstructions, to be taken off the circumference"),
    where={
        "obstructions": _COUNT,
        "height_m": _HEIGHT,
        "width_m": _WIDTH,
        "diameter_m": _DIAMETER,
    },
    requires=(
        ("t <= D/8", "what stands out that far is passed by a frame, not by the tape"),
        ("N*acos(D/(D + 2*t)) <= pi", "the tape touches the plate between two obstructions"),
        ("w <= D*(pi/N - acos(D/(D + 2*t)))", "the tape touches the plate between two obstructions"),
    ),
    source="derived: two tangents from the edges of each obstruction to the shell, and the arc over it",
)
def tape_rise_m(obstructions: Real, height_m: Real, width_m: Real, diameter_m: Real) -> Real:
    """Length of tape used up by straps that it is lifted over.

    Butt strap: its height and its width. Lap joint: half the thickness of the plate, no width; that is the usual way,
    as if the step were shared out to both sides. One step of the whole thickness would use 1.41 times as much.
    Worked without the small difference of two large lengths that stands in the equation.

    Example
    -------
    >>> float(round(tape_rise_m(1, 0.008, 0.2, 20.0), 9))
    0.000586513
    """
    slope = 2 * np.sqrt(height_m * (diameter_m + height_m)) / diameter_m
    return obstructions * (diameter_m * _less_its_arctangent(slope) + 2 * width_m * height_m / diameter_m)


def _less_its_arctangent(value: Real) -> Real:
    """value - arctan(value), by the continued fraction of the arctangent: every term of it is positive."""
    square = value * value
    tail: Real = 2.0 * _TERMS + 1
    for k in range(_TERMS, 1, -1):
        tail = (2 * k - 1) + k * k * square / tail
    share = square / tail
    return value * share / (1 + share)


@formula(
    equation="dC = 2*N*t*w/D + 8*N*t/3*sqrt(t/D)",
    gives=("dC", "length of tape used up by the obstructions, to be taken off the circumference"),
    where={
        "obstructions": _COUNT,
        "height_m": _HEIGHT,
        "width_m": _WIDTH,
        "diameter_m": _DIAMETER,
    },
    requires=(("t <= D/100", "beyond that the short form is off by more than 1 %"),),
    source="derived: first term of the tangents for a small height",
)
def tape_rise_short_m(obstructions: Real, height_m: Real, width_m: Real, diameter_m: Real) -> Real:
    """Length of tape used up by straps, by the short form that is usual by hand.

    Above the exact rise by 0.9 t/D of its second term. It does not see whether two obstructions stand so close that
    the tape spans both.

    Example
    -------
    >>> float(round(tape_rise_short_m(1, 0.008, 0.2, 20.0), 9))
    0.000586667
    """
    return (
        2 * obstructions * height_m * width_m / diameter_m
        + 8 * obstructions * height_m / 3 * (height_m / diameter_m) ** 0.5
    )


@formula(
    equation="r = C/(2*pi) - t_p - t_c",
    gives=("r", "inside radius"),
    where={
        "circumference_m": ("C", "outside circumference, less the rise of the tape", "(0, 1000]"),
        "plate_m": ("t_p", "thickness of the plate", "[0, 0.2]"),
        "paint_m": ("t_c", "thickness of the paint under the tape", "[0, 0.02]"),
    },
    requires=(("C > 2*pi*(t_p + t_c)", "the wall is thinner than the outside radius"),),
    source="derived: circle",
)
def inside_radius_m(circumference_m: Real, plate_m: Real, paint_m: Real) -> Real:
    """Inside radius of a course from its outside circumference.

    The circumference is that of a circle: of any other outline the section is smaller, so an oval tank is stated too
    large.

    Example
    -------
    >>> round(inside_radius_m(62.9135, 0.008, 0.0004), 6)
    10.004595
    """
    return circumference_m / (2 * np.pi) - plate_m - paint_m


@formula(
    equation="F = sqrt(1 + m**2)",
    gives=("F", "factor on the volume of an upright tank for its lean, levels taken vertically"),
    where={"lean": ("m", "lean: distance out of plumb per height", "[0, 0.03]")},
    source="iso-7507-1: scope, which takes tanks that lean up to 3 % if that is corrected; the factor is derived",
)
def lean_factor(lean: Real) -> Real:
    """Factor on the volume of a cylindrical tank that leans.

    The horizontal section of a leaning cylinder is an ellipse, larger than its circle. Along a stem parallel to the
    shell there is nothing to correct. At a gauge off the axis the zero shifts as well.

    Example
    -------
    >>> float(round(lean_factor(1 / 70), 9))
    1.000102036
    """
    return np.sqrt(1 + lean**2)


@formula(
    equation="e = (r_s/r_d)**2 - 1",
    gives=("e", "section by strapping against that of the drawing, relative difference"),
    where={
        "strapped_radius_m": ("r_s", "inside radius by strapping", "(0, 100]"),
        "drawn_radius_m": ("r_d", "inside radius by the drawing", "(0, 100]"),
    },
    requires=(("r_s <= 1.1*r_d", "the two belong to different tanks"), ("r_s >= 0.9*r_d", "they are different tanks")),
    source="derived: ratio of two circles",
)
def section_difference(strapped_radius_m: Real, drawn_radius_m: Real) -> Real:
    """Relative difference of the section by strapping from the section by the drawing.

    Example
    -------
    >>> round(section_difference(10.0046, 10.0), 7)
    0.0009202
    """
    return (strapped_radius_m / drawn_radius_m) ** 2 - 1


@formula(
    equation="u = 2*u_r/r",
    gives=("u", "relative standard uncertainty of the volume of a cylinder that the radius is answerable for"),
    where={
        "radius_uncertainty_m": ("u_r", "standard uncertainty of the radius", "[0, 10]"),
        "radius_m": ("r", "inside radius", "(0, 100]"),
    },
    requires=(("u_r <= r/10", "beyond that the first order does not hold"),),
    source="derived: volume goes with the square of the radius, first order",
)
def volume_uncertainty_of_radius(radius_uncertainty_m: Real, radius_m: Real) -> Real:
    """Relative standard uncertainty of the volume from that of the radius.

    Example
    -------
    >>> volume_uncertainty_of_radius(0.001, 10.0)
    0.0002
    """
    return 2 * radius_uncertainty_m / radius_m
