"""Torispherical heads: a crown of radius R_c runs tangent into a knuckle of radius r_k, and that into the shell.

All radii are inside radii. Where a drawing states them on the outside, take the wall off crown, knuckle and half the
diameter first.
"""

from __future__ import annotations

from onedatum.foundation.numerics import Real, same_kind
from onedatum.foundation.working import formula
from onedatum.physics.vessels.torisphere import Torisphere


def shape_of_head(crown: str, knuckle: str) -> tuple[tuple[str, str], ...]:
    """What the radii of a head must keep to, each with the reason, for these symbols of its crown and knuckle."""
    return (
        (f"{knuckle} <= {crown}", "a knuckle larger than the crown is no torispherical head"),
        (f"{knuckle} <= D/2", "a knuckle larger than half the diameter does not fit into the shell"),
        (f"{crown} >= D/2", "a crown smaller than half the diameter does not span the shell"),
        (f"{crown} <= 10*D", "a crown that flat is a flat end, or one of the two is misread"),
    )


_SHAPE = shape_of_head("R_c", "r_k")
_HEAD = {
    "diameter_m": ("D", "inside diameter of the shell", "(0, 100]"),
    "crown_radius_m": ("R_c", "inside radius of the crown", "(0, 200]"),
    "knuckle_radius_m": ("r_k", "inside radius of the knuckle", "[0, 50]"),
}
_HEIGHT = {"height_m": ("y", "height above the lowest point of the head", "[0, 100]")}


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
    return same_kind(Torisphere(diameter_m, crown_radius_m, knuckle_radius_m).depth_m)


@formula(
    method="cap of the crown up to the junction, V = pi*y**2*(R_c - y/3), then pi*r**2 integrated in closed form along "
    "the knuckle up to the tangent line",
    gives=("V_full", "inside volume of the head, up to the tangent line"),
    where=_HEAD,
    requires=_SHAPE,
    source="derived: solid of revolution",
)
def torispherical_volume_m3(diameter_m: Real, crown_radius_m: Real, knuckle_radius_m: Real) -> Real:
    """Inside volume of a torispherical head without a straight flange.

    Example
    -------
    >>> float(round(torispherical_volume_m3(1.6, 1.6, 0.16), 6))
    0.405365
    """
    return same_kind(Torisphere(diameter_m, crown_radius_m, knuckle_radius_m).volume_m3)


@formula(
    method="in the crown V = pi*y**2*(R_c - y/3); in the knuckle the cap plus pi*r**2 integrated in closed form from "
    "the junction to y",
    gives=("V", "volume in the head below the height"),
    where=_HEIGHT | _HEAD,
    requires=(*_SHAPE, ("y <= a(D, R_c, r_k)", "the height lies inside the head")),
    calls={"a": torispherical_depth_m},
    source="derived: solid of revolution",
)
def torispherical_volume_below_m3(
    height_m: Real, diameter_m: Real, crown_radius_m: Real, knuckle_radius_m: Real
) -> Real:
    """Volume in a torispherical bottom head below a height, counted from its lowest point.

    Example
    -------
    >>> float(round(torispherical_volume_below_m3(0.3, 2.0, 2.0, 0.2), 7))
    0.5202868
    """
    return same_kind(Torisphere(diameter_m, crown_radius_m, knuckle_radius_m).volume_below_m3(height_m))


@formula(
    method="pi*r**2; in the crown r**2 = y*(2*R_c - y), in the knuckle r = D/2 - r_k + sqrt(r_k**2 - (a - y)**2)",
    gives=("A", "section of the head at the height"),
    where=_HEIGHT | _HEAD,
    requires=(*_SHAPE, ("y <= a(D, R_c, r_k)", "the height lies inside the head")),
    calls={"a": torispherical_depth_m},
    source="derived: solid of revolution",
)
def torispherical_area_m2(height_m: Real, diameter_m: Real, crown_radius_m: Real, knuckle_radius_m: Real) -> Real:
    """Section of a torispherical bottom head at a height, counted from its lowest point.

    Example
    -------
    >>> float(round(torispherical_area_m2(0.1, 2.0, 2.0, 0.2), 6))
    1.225221
    """
    return same_kind(Torisphere(diameter_m, crown_radius_m, knuckle_radius_m).area_m2(height_m))
