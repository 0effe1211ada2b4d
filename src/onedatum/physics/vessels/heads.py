"""Ends of cylinders: depths in closed form, and the ends themselves, to be put on a shell.

All measures are inside measures. Where a drawing states them on the outside, `inside_diameter_m` and
`radius_inside_wall_m` take the wall and a lining off first.
"""

from __future__ import annotations

from onedatum.foundation.numerics import Real, same_kind
from onedatum.foundation.working import Where, formula
from onedatum.physics.vessels import end
from onedatum.physics.vessels.end import End


def shape_of_head(crown: str, knuckle: str) -> tuple[tuple[str, str], ...]:
    """What the radii of a head must keep to, each with the reason, for these symbols of its crown and knuckle."""
    return (
        (f"{knuckle} <= {crown}", "a knuckle larger than the crown is no torispherical head"),
        (f"{knuckle} <= D/2", "a knuckle larger than half the diameter does not fit into the shell"),
        (f"{crown} >= D/2", "a crown smaller than half the diameter does not span the shell"),
        (f"{crown} <= 10*D", "a crown that flat is a flat end, or one of the two is misread"),
    )


_SHAPE = shape_of_head("R_c", "r_k")
_DIAMETER: Where = {"diameter_m": ("D", "inside diameter of the shell", "(0, 100]")}
_DEPTH: Where = {"depth_m": ("a", "inside depth, from the tangent line to the end on the axis", "[0, 100]")}
_HEAD = _DIAMETER | {
    "crown_radius_m": ("R_c", "inside radius of the crown", "(0, 200]"),
    "knuckle_radius_m": ("r_k", "inside radius of the knuckle", "[0, 50]"),
}
_OUTSIDE: Where = {"outside_diameter_m": ("D_o", "outside diameter", "(0, 100]")}
_RADIUS: Where = {"outside_radius_m": ("R_o", "radius on the outside", "(0, 200]")}
_SHARE: Where = {"share": ("n", "depth over diameter: 1/4 of a head of 2:1, 1/2 of a hemisphere", "(0, 1]")}
_WALL: Where = {
    "wall_m": ("s", "thickness of the wall", "[0, 2]"),
    "lining_m": ("t", "thickness of the lining inside it", "[0, 2]"),
}


@formula(
    equation="D = D_o - 2*(s + t)",
    gives=("D", "inside diameter"),
    where=_OUTSIDE | _WALL,
    requires=(("D_o > 2*(s + t)", "the wall leaves room inside"),),
    source="derived: wall and lining on both sides",
)
def inside_diameter_m(outside_diameter_m: Real, wall_m: Real, lining_m: Real) -> Real:
    """Inside diameter of a shell measured on the outside.

    Example
    -------
    >>> round(inside_diameter_m(2.0, 0.008, 0.003), 6)
    1.978
    """
    return outside_diameter_m - 2 * (wall_m + lining_m)


@formula(
    equation="D_o = D + 2*(s + t)",
    gives=("D_o", "outside diameter"),
    where=_DIAMETER | _WALL,
    source="derived: wall and lining on both sides",
)
def outside_diameter_m(diameter_m: Real, wall_m: Real, lining_m: Real) -> Real:
    """Outside diameter of a shell whose inside is known.

    Example
    -------
    >>> round(outside_diameter_m(1.978, 0.008, 0.003), 6)
    2.0
    """
    return diameter_m + 2 * (wall_m + lining_m)


@formula(
    equation="R = R_o - s - t",
    gives=("R", "inside radius of a crown or a knuckle"),
    where=_RADIUS | _WALL,
    requires=(("R_o >= s + t", "the wall is no thicker than the radius"),),
    source="derived: two surfaces about one centre",
)
def radius_inside_wall_m(outside_radius_m: Real, wall_m: Real, lining_m: Real) -> Real:
    """Inside radius of a crown or knuckle that is stated on the outside.

    Example
    -------
    >>> round(radius_inside_wall_m(2.0, 0.008, 0.003), 6)
    1.989
    """
    return outside_radius_m - wall_m - lining_m


@formula(
    equation="R = f*D_o - t",
    gives=("R", "inside radius of a crown or a knuckle"),
    where={
        "factor": ("f", "radius inside the metal over outside diameter, by the standard of the head", "(0, 10]"),
        "outside_diameter_m": _OUTSIDE["outside_diameter_m"],
        "lining_m": _WALL["lining_m"],
    },
    requires=(("f*D_o > t", "the lining leaves a radius"),),
    source="din-28011: radii inside the metal as shares of the outside diameter",
)
def standard_radius_m(factor: Real, outside_diameter_m: Real, lining_m: Real) -> Real:
    """Inside radius of the crown or knuckle of a standard head.

    Example
    -------
    >>> round(standard_radius_m(0.1, 2.0, 0.003), 6)
    0.197
    """
    return factor * outside_diameter_m - lining_m


@formula(
    equation="a = n*D",
    gives=("a", "inside depth of the head, from the tangent line to its end on the axis"),
    where=_SHARE | _DIAMETER,
    source="derived: half axes of the ellipse",
)
def proportional_depth_m(share: Real, diameter_m: Real) -> Real:
    """Inside depth of an ellipsoidal head of 2:1 or a hemispherical one.

    Example
    -------
    >>> proportional_depth_m(0.25, 2.0)
    0.5
    """
    return share * diameter_m


@formula(
    equation="a = R_c - sqrt((R_c - D/2)*(R_c + D/2 - 2*r_k))",
    gives=("a", "inside depth of the head, from the tangent line to its end on the axis"),
    where=_HEAD,
    requires=_SHAPE,
    source="derived: two circles that touch, tangent to the shell",
)
def torispherical_depth_m(diameter_m: Real, crown_radius_m: Real, knuckle_radius_m: Real) -> Real:
    """Inside depth of a torispherical head.

    Example
    -------
    >>> float(round(torispherical_depth_m(1.6, 1.6, 0.16), 6))
    0.310039
    """
    return same_kind(end.torisphere(diameter_m, crown_radius_m, knuckle_radius_m).depth_m)


@formula(
    method="no depth and no volume",
    gives=("E", "flat end", End),
    where=_DIAMETER,
    source="derived: a disc",
)
def flat_end(diameter_m: Real) -> End:
    """A flat end on a cylinder.

    Example
    -------
    >>> flat_end(2.0).told()
    'flat end'
    """
    return end.flat(diameter_m)


@formula(
    method="radius in proportion to the distance from the apex",
    gives=("E", "conical end", End),
    where=_DIAMETER | _DEPTH,
    source="derived: cone",
)
def conical_end(diameter_m: Real, depth_m: Real) -> End:
    """A conical end on a cylinder, down to its apex.

    Example
    -------
    >>> conical_end(2.0, 1.2).told()
    'conical end, 1200.00 mm deep'
    """
    return end.cone(diameter_m, depth_m)


@formula(
    method="half a spheroid: r = D/2*sqrt(1 - (x/a)**2) at a distance x from the tangent line",
    gives=("E", "ellipsoidal head", End),
    where=_DIAMETER | _DEPTH,
    source="derived: spheroid",
)
def ellipsoidal_end(diameter_m: Real, depth_m: Real) -> End:
    """An ellipsoidal head; a hemisphere where its depth is half the diameter.

    Example
    -------
    >>> ellipsoidal_end(2.0, 0.5).told()
    'ellipsoidal head, 500.00 mm deep'
    """
    return end.ellipsoid(diameter_m, depth_m)


@formula(
    method="a sphere of the crown's radius that touches a torus of the knuckle's, and that the shell",
    gives=("E", "torispherical head", End),
    where=_HEAD,
    requires=_SHAPE,
    source="derived: two circles that touch, tangent to the shell",
)
def torispherical_end(diameter_m: Real, crown_radius_m: Real, knuckle_radius_m: Real) -> End:
    """A torispherical head.

    Example
    -------
    >>> torispherical_end(1.6, 1.6, 0.16).told()
    'torispherical head, 310.04 mm deep'
    """
    return end.torisphere(diameter_m, crown_radius_m, knuckle_radius_m)


@formula(
    method="pi*r**2 along the axis in closed form, piece by piece",
    gives=("V_E", "inside volume of the end, up to the tangent line"),
    where={"head": ("E", "end of a cylinder", End)},
    source="derived: solid of revolution",
)
def end_volume_m3(head: End) -> Real:
    """Inside volume of the end of a cylinder, without a straight flange.

    Example
    -------
    >>> float(round(end_volume_m3(torispherical_end(1.6, 1.6, 0.16)), 6))
    0.405365
    """
    return same_kind(head.volume_m3)
