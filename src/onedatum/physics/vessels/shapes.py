"""The shapes of vessels, each from its inside measures, as a body that `filling` works with."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real, same_kind
from onedatum.foundation.working import Where, formula
from onedatum.physics.vessels.body import Body
from onedatum.physics.vessels.combined import Stacked, UpsideDown
from onedatum.physics.vessels.end import End
from onedatum.physics.vessels.leaning import Leaning
from onedatum.physics.vessels.pieces import Cap, Frustum, turned
from onedatum.physics.vessels.prism import FallingBox, Hopper
from onedatum.physics.vessels.upright import Upright

_LENGTH = ("L", "length of the shell between the tangent lines, straight flanges included", "[0, 200]")
_DIAMETER = ("D", "inside diameter of the shell", "(0, 100]")
_LYING: Where = {
    "shell_length_m": _LENGTH,
    "near_end": ("E_n", "end that stations count from", End),
    "far_end": ("E_f", "other end", End),
}
_UPRIGHT: Where = {
    "shell_length_m": _LENGTH,
    "bottom": ("E_b", "bottom end", End),
    "top": ("E_t", "top end, upside down", End),
}
_OVER_BOTTOM = "the gauge stands over the bottom"
_SAME_SHELL = "both ends belong to a shell of one diameter"
_ALIKE_LYING = ("abs(D_E(E_n) - D_E(E_f)) <= 0.000001*D_E(E_n)", _SAME_SHELL)
_ALIKE_UPRIGHT = ("abs(D_E(E_b) - D_E(E_t)) <= 0.000001*D_E(E_b)", _SAME_SHELL)
_SLOPE = ("m", "rise of the axis towards the far end over its horizontal length", "[-20, 20]")


def _diameter_m(end: End) -> Real:
    """Inside diameter of the shell an end belongs to."""
    return same_kind(end.diameter_m)


_CALLS = {"D_E": _diameter_m}
_HEIGHT = ("H", "inside height", "(0, 200]")
_DERIVED = "derived: solid of revolution"


@formula(
    method="bottom end, cylinder and top end upon one another",
    gives=("B", "upright cylinder", Body),
    where=_UPRIGHT,
    requires=(_ALIKE_UPRIGHT,),
    calls=_CALLS,
    source=_DERIVED,
)
def upright_cylinder(shell_length_m: Real, bottom: End, top: End) -> Body:
    """An upright cylinder with its two ends; the datum is the lowest inside point.

    Example
    -------
    >>> from onedatum.physics.vessels.heads import flat_end
    >>> upright_cylinder(3.0, flat_end(2.0), flat_end(2.0)).told()
    'upright cylinder, two ends: flat end, 3000.00 mm high, axis plumb'
    """
    return Upright(_cylinder(shell_length_m, bottom, top), f"upright cylinder, {_ends(bottom, top)}")


@formula(
    method="near end, cylinder and far end along a level axis",
    gives=("B", "lying cylinder", Body),
    where=_LYING,
    requires=(_ALIKE_LYING,),
    calls=_CALLS,
    source=_DERIVED,
)
def lying_cylinder(shell_length_m: Real, near_end: End, far_end: End) -> Body:
    """A cylinder whose axis lies level; the datum is its bottom line, the gauge stands at mid length.

    Example
    -------
    >>> from onedatum.physics.vessels.heads import flat_end
    >>> lying_cylinder(5.0, flat_end(2.0), flat_end(2.0)).told()
    'lying cylinder, two ends: flat end, axis level, from 0 mm to 2000.00 mm'
    """
    pieces = _cylinder(shell_length_m, near_end, far_end)
    middle = near_end.depth_m + 0.5 * shell_length_m
    return Leaning(pieces, 0.0, 1.0, -0.5 * near_end.diameter_m, middle, f"lying cylinder, {_ends(near_end, far_end)}")


@formula(
    method="near end, cylinder and far end along an axis that rises at the angle t, tan(t) = m; the datum is the "
    "bottom line plumb below the gauge, over the near tangent line on the axis by x_g*sin(t) - D/2*cos(t)",
    gives=("B", "tilted cylinder", Body),
    where=_LYING
    | {
        "slope": _SLOPE,
        "station_m": ("x_g", "station of the gauge along the bottom line, from the near tangent line", "[0, 200]"),
    },
    requires=(_ALIKE_LYING, ("x_g <= L", "the gauge stands over the shell")),
    calls=_CALLS,
    source=_DERIVED,
)
def tilted_cylinder(shell_length_m: Real, near_end: End, far_end: End, slope: Real, station_m: Real) -> Body:
    """A lying cylinder whose axis rises towards one end; heights count plumb over the bottom line at the gauge.

    Example
    -------
    >>> from onedatum.physics.vessels.heads import flat_end
    >>> float(round(tilted_cylinder(5.0, flat_end(2.0), flat_end(2.0), 0.01, 4.0).low_m, 6))
    -0.039998
    """
    (sine, cosine), radius = _direction(slope), 0.5 * near_end.diameter_m
    along = near_end.depth_m + station_m
    datum, plumb = along * sine - radius * cosine, along * cosine + radius * sine
    pieces = _cylinder(shell_length_m, near_end, far_end)
    return Leaning(pieces, sine, cosine, datum, plumb, f"tilted cylinder, {_ends(near_end, far_end)}")


@formula(
    method="an upright cylinder whose axis leans out of plumb by the angle t, tan(t) = m; the datum is the bottom at "
    "the gauge, over the end of the axis by e*sin(t)",
    gives=("B", "leaning cylinder", Body),
    where=_UPRIGHT
    | {
        "lean": ("m", "how far the axis leans out of plumb over its height", "[0, 0.5]"),
        "offset_m": ("e", "distance of the gauge from the axis, towards the side that is raised", "[-50, 50]"),
    },
    requires=(_ALIKE_UPRIGHT, ("e <= D_E(E_b)/2", _OVER_BOTTOM), ("e >= -D_E(E_b)/2", _OVER_BOTTOM)),
    calls=_CALLS,
    source=_DERIVED,
)
def leaning_cylinder(shell_length_m: Real, bottom: End, top: End, lean: Real, offset_m: Real) -> Body:
    """An upright cylinder out of plumb; heights count plumb over the bottom at the gauge.

    The bottom under the gauge is taken as flat; a dished one is met on its axis only, with an offset of 0.

    Example
    -------
    >>> from onedatum.physics.vessels.heads import flat_end
    >>> float(round(leaning_cylinder(10.0, flat_end(4.0), flat_end(4.0), 0.02, 0.0).area_m2(5.0), 6))
    12.568884
    """
    pieces = _cylinder(shell_length_m, bottom, top)
    cosine, sine = _direction(lean)
    datum, plumb = offset_m * cosine, -offset_m * sine
    return Leaning(pieces, sine, cosine, datum, plumb, f"upright cylinder out of plumb, {_ends(bottom, top)}")


@formula(
    equation="H_g = D*sqrt(1 + m**2)",
    gives=("H_g", "inside of the shell top, plumb above the bottom line at the gauge"),
    where={
        "diameter_m": _DIAMETER,
        "slope": _SLOPE,
    },
    source="derived: the plumb line through a cylinder",
)
def height_at_gauge_m(diameter_m: Real, slope: Real) -> Real:
    """Inside height of a lying cylinder along the plumb line of its gauge.

    Example
    -------
    >>> float(round(height_at_gauge_m(1.8288, 0.01), 6))
    1.828891
    """
    return diameter_m * np.sqrt(1 + slope**2)


@formula(
    method="radius in proportion to the height between two diameters",
    gives=("B", "cone", Body),
    where={
        "bottom_diameter_m": ("D_b", "inside diameter at the bottom", "[0, 100]"),
        "top_diameter_m": ("D_t", "inside diameter at the top", "[0, 100]"),
        "height_m": _HEIGHT,
    },
    source=_DERIVED,
)
def cone(bottom_diameter_m: Real, top_diameter_m: Real, height_m: Real) -> Body:
    """A cone or a part of one, upright.

    Example
    -------
    >>> float(round(cone(0.0, 2.0, 1.2).volume_below_m3(0.8), 6))
    0.372337
    """
    return Upright((Frustum(height_m, 0.5 * bottom_diameter_m, 0.5 * top_diameter_m),), "cone")


@formula(
    method="half axes of half its height and half its diameter; a sphere where they are equal",
    gives=("B", "spheroid", Body),
    where={"diameter_m": ("D", "inside diameter, level", "(0, 100]"), "height_m": _HEIGHT},
    source=_DERIVED,
)
def spheroid(diameter_m: Real, height_m: Real) -> Body:
    """A sphere, or a spheroid on a plumb axis.

    Example
    -------
    >>> spheroid(10.0, 10.0).told()
    'sphere, 10000.00 mm high, axis plumb'
    """
    half = Cap(0.5 * height_m, 0.5 * height_m, 0.5 * diameter_m)
    sphere = bool(np.all(diameter_m == height_m))
    return Upright((half, turned(half)), "sphere" if sphere else "spheroid")


@formula(
    method="one section over the whole height",
    gives=("B", "box", Body),
    where={
        "length_m": ("l", "inside length", "(0, 500]"),
        "width_m": ("w", "inside width", "(0, 500]"),
        "height_m": _HEIGHT,
    },
    source="derived: prism",
)
def box(length_m: Real, width_m: Real, height_m: Real) -> Body:
    """A rectangular vessel.

    Example
    -------
    >>> box(3.0, 2.0, 1.5).told()
    'box 3000.00 mm by 2000.00 mm, 1500.00 mm high'
    """
    return Hopper(length_m, width_m, length_m, width_m, height_m)


@formula(
    method="depths square to the floor at both ends, filled section between them in closed form; the datum is the "
    "floor under the gauge",
    gives=("B", "box whose floor falls", Body),
    where={
        "length_m": ("l", "inside length", "(0, 500]"),
        "width_m": ("w", "inside width", "(0, 500]"),
        "height_m": _HEIGHT,
        "slope": ("m", "rise of the floor towards the far end over its horizontal length", "[-0.5, 0.5]"),
        "station_m": ("x_g", "station of the gauge along the floor, from the near end", "[0, 500]"),
    },
    requires=(("x_g <= l", "the gauge stands over the floor"),),
    source="derived: prism",
)
def tilted_box(length_m: Real, width_m: Real, height_m: Real, slope: Real, station_m: Real) -> Body:
    """A rectangular vessel that leans along its length.

    Example
    -------
    >>> float(round(tilted_box(4.0, 2.0, 3.0, 0.1, 2.0).volume_below_m3(1.5), 6))
    12.059851
    """
    return FallingBox(length_m, width_m, height_m, slope, station_m)


@formula(
    method="both sides grow in proportion to the height, so the section is a square of it",
    gives=("B", "hopper", Body),
    where={
        "outlet_length_m": ("l_o", "length of the outlet", "[0, 500]"),
        "outlet_width_m": ("w_o", "width of the outlet", "[0, 500]"),
        "length_m": ("l", "inside length at the top", "(0, 500]"),
        "width_m": ("w", "inside width at the top", "(0, 500]"),
        "height_m": _HEIGHT,
    },
    requires=(
        ("l_o <= l", "the hopper narrows downwards; upside down is said with upside_down"),
        ("w_o <= w", "the hopper narrows downwards; upside down is said with upside_down"),
    ),
    source="derived: section of a hopper",
)
def hopper(outlet_length_m: Real, outlet_width_m: Real, length_m: Real, width_m: Real, height_m: Real) -> Body:
    """A rectangular hopper from its outlet to its full section.

    Example
    -------
    >>> float(round(hopper(0.4, 0.3, 3.0, 2.0, 1.1).volume_below_m3(0.7), 7))
    0.8268292
    """
    return Hopper(outlet_length_m, outlet_width_m, length_m, width_m, height_m)


@formula(
    method="the upper begins where the lower ends",
    gives=("B", "one body upon another", Body),
    where={"lower": ("B_l", "lower body", Body), "upper": ("B_u", "upper body", Body)},
    source="derived: heights and volumes add",
)
def stacked(lower: Body, upper: Body) -> Body:
    """A body upon another, such as a course of a shell upon the next.

    Example
    -------
    >>> stacked(hopper(0.4, 0.3, 3.0, 2.0, 1.1), box(3.0, 2.0, 1.5)).high_m
    2.6
    """
    return Stacked(lower, upper)


@formula(
    method="V = V_full - V_there(H - h)",
    gives=("B", "body upside down", Body),
    where={"vessel": ("B_u", "body the right way up", Body)},
    source="derived: what is empty there is full here",
)
def upside_down(vessel: Body) -> Body:
    """A body turned upside down.

    Example
    -------
    >>> upside_down(cone(0.0, 2.0, 1.2)).told()
    'cone, 1200.00 mm high, axis plumb, upside down'
    """
    return UpsideDown(vessel)


@formula(
    equation="A = pi*D**2/4",
    gives=("A", "section of the cylindrical shell"),
    where={"diameter_m": _DIAMETER},
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
        "shell_length_m": _LENGTH,
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


@formula(
    equation="L = L_s + h_1 + h_2",
    gives=("L", "length of the cylinder between the tangent lines"),
    where={
        "shell_length_m": ("L_s", "length of the shell without the flanges of its heads", "[0, 200]"),
        "first_flange_m": ("h_1", "straight flange of the first head", "[0, 1]"),
        "last_flange_m": ("h_2", "straight flange of the other head", "[0, 1]"),
    },
    source="derived: a straight flange is a piece of cylinder",
)
def shell_with_flanges_m(shell_length_m: Real, first_flange_m: Real, last_flange_m: Real) -> Real:
    """Length of a cylinder with the straight flanges of its heads.

    Example
    -------
    >>> round(shell_with_flanges_m(2.4, 0.04, 0.035), 3)
    2.475
    """
    return shell_length_m + first_flange_m + last_flange_m


@formula(
    equation="m = sin(t)/cos(t)",
    gives=("m", "rise over horizontal length"),
    where={"angle_rad": ("t", "angle to the horizontal", "[-1.52, 1.52]")},
    source="derived: tangent of the angle",
)
def slope_of_angle(angle_rad: Real) -> Real:
    """The slope that an angle stands for.

    Example
    -------
    >>> float(round(slope_of_angle(0.05236), 6))
    0.052408
    """
    return np.sin(angle_rad) / np.cos(angle_rad)


def _direction(slope: Real) -> tuple[Real, Real]:
    """Sine and cosine of the angle with this tangent."""
    cosine = 1.0 / np.hypot(1.0, slope)
    return slope * cosine, cosine


def _cylinder(length_m: Real, first: End, last: End) -> tuple[Frustum, ...]:
    radius = 0.5 * first.diameter_m
    return (*first.pieces, Frustum(length_m, radius, radius), *last.inwards)


def _ends(first: End, last: End) -> str:
    return f"two ends: {first.words}" if first.words == last.words else f"{first.words} and {last.words}"
