"""Growth of the stem and of the wall that carries its head.

The stem grows downwards from the head and leaves the float where it is; the wall lifts the head away from the float.
"""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_STEM_EXPANSION = ("a", "linear expansion of the stem", "[-2e-5, 5e-4]")
_STEM_DIFFERENCE = ("dT", "temperature of the stem less that at which the length was taken", "[-300, 800]")


@formula(
    equation="dL = a*L*dT",
    gives=("dL", "growth: how far the tip moves down"),
    where={
        "length_m": ("L", "length of the stem", "[0, 100]"),
        "alpha_per_K": _STEM_EXPANSION,
        "temperature_difference_K": _STEM_DIFFERENCE,
    },
    source="derived: linear expansion",
)
def length_growth_m(length_m: Real, alpha_per_K: Real, temperature_difference_K: Real) -> Real:
    """Growth of a stem that hangs from its head.

    It moves the tip and a reference magnet at the tip; the distance of a float from the head stays as it is.

    Example
    -------
    >>> round(length_growth_m(3.0, 16e-6, 60.0) * 1000, 2)
    2.88
    """
    return alpha_per_K * length_m * temperature_difference_K


@formula(
    equation="L_t = L*(1 + a*dT)",
    gives=("L_t", "length of the stem at its temperature"),
    where={
        "length_m": ("L", "length of the stem where it was taken", "[0, 100]"),
        "alpha_per_K": _STEM_EXPANSION,
        "temperature_difference_K": _STEM_DIFFERENCE,
    },
    source="derived: linear expansion",
)
def grown_length_m(length_m: Real, alpha_per_K: Real, temperature_difference_K: Real) -> Real:
    """Length of a stem that has been warmed.

    Example
    -------
    >>> round(grown_length_m(3.0, 16e-6, 60.0), 5)
    3.00288
    """
    return length_m * (1 + alpha_per_K * temperature_difference_K)


@formula(
    equation="dH = a_w*H_f*dT",
    gives=("dH", "rise of the head, and the correction: what is added to the level read"),
    where={
        "face_height_m": ("H_f", "height of the flange face above the datum", "[0, 120]"),
        "wall_alpha_per_K": ("a_w", "linear expansion of the wall of the tank", "[-2e-5, 5e-4]"),
        "temperature_difference_K": (
            "dT",
            "temperature of the wall less that at which the height was taken",
            "[-300, 800]",
        ),
    },
    source="derived: the wall carries the head upwards",
)
def head_rise_m(face_height_m: Real, wall_alpha_per_K: Real, temperature_difference_K: Real) -> Real:
    """Rise of the head on a wall that is warmed, which is also what the level read is corrected by.

    The error of the reading is the same with the other sign: see `reading_error_of_head_rise_m`.

    Example
    -------
    >>> round(head_rise_m(2.65, 16e-6, 40.0) * 1000, 3)
    1.696
    """
    return wall_alpha_per_K * face_height_m * temperature_difference_K


@formula(
    equation="e = -dH",
    gives=("e", "level read less true level: negative, reads low, where the head has risen"),
    where={"head_rise_m": ("dH", "rise of the head", "[-50, 50]")},
    source="derived: the magnet moves away from the head and the height kept in the instrument stays",
)
def reading_error_of_head_rise_m(head_rise_m: Real) -> Real:
    """Error of the level read, by a head that has risen and an instrument that was not told.

    Example
    -------
    >>> round(reading_error_of_head_rise_m(0.001696) * 1000, 3)
    -1.696
    """
    return -head_rise_m
