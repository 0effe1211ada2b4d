"""Lengths of a probe from its sealing face down: the whole, what must be inactive, what a rope adds below."""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_HEIGHT = "[-1000, 1000]"
_FACE = ("z_f", "height of the sealing face", _HEIGHT)


@formula(
    equation="z_f = H + n",
    gives=("z_f", "height of the sealing face"),
    where={
        "inside_height_m": ("H", "height of the inside top", _HEIGHT),
        "nozzle_m": ("n", "sealing face above the inside top", "[-10, 200]"),
    },
    source="derived: lengths end to end",
)
def sealing_face_m(inside_height_m: Real, nozzle_m: Real) -> Real:
    """Where the probe is sealed.

    Example
    -------
    >>> round(sealing_face_m(2.5, 0.2), 3)
    2.7
    """
    return inside_height_m + nozzle_m


@formula(
    equation="L_p = z_f - z_1 + l_d",
    gives=("L_p", "length of the probe below its sealing face"),
    where={
        "face_m": _FACE,
        "lower_m": ("z_1", "height at which the active length begins", _HEIGHT),
        "dead_m": ("l_d", "dead length below the active one", "[0, 10]"),
    },
    requires=(("z_1 < z_f", "the probe hangs down from its face"),),
    source="derived: lengths end to end",
)
def insertion_length_m(face_m: Real, lower_m: Real, dead_m: Real) -> Real:
    """What is ordered, and lifted in.

    Example
    -------
    >>> round(insertion_length_m(2.7, 0.05, 0.0), 3)
    2.65
    """
    return face_m - lower_m + dead_m


@formula(
    equation="l_n = n + h_s",
    gives=("l_n", "least length of the inactive part, down from the sealing face"),
    where={
        "nozzle_m": ("n", "sealing face above the inside top", "[0, 200]"),
        "splash_m": ("h_s", "how far below the inside top splash and condensate wet the rod", "[0, 20]"),
    },
    source="derived: nozzle and splash end to end",
)
def inactive_needed_m(nozzle_m: Real, splash_m: Real) -> Real:
    """What must not count as level: the nozzle, and below it what splash and condensate wet.

    Example
    -------
    >>> round(inactive_needed_m(0.2, 0.1), 3)
    0.3
    """
    return nozzle_m + splash_m


@formula(
    equation="z_i = z_f - l_i",
    gives=("z_i", "height at which the inactive part ends"),
    where={
        "face_m": _FACE,
        "inactive_m": ("l_i", "length of the inactive part, down from the sealing face", "[0, 20]"),
    },
    source="derived: lengths end to end",
)
def inactive_end_m(face_m: Real, inactive_m: Real) -> Real:
    """Where the active length may begin, seen from above.

    Example
    -------
    >>> round(inactive_end_m(2.7, 0.3), 3)
    2.4
    """
    return face_m - inactive_m


@formula(
    equation="l_r = l_d + u",
    gives=("l_r", "what hangs below the active length of a rope"),
    where={
        "anchor_m": ("l_d", "length of weight or anchor", "[0, 2]"),
        "stretch_m": ("u", "how much lower the end of the rope comes", "[0, 2]"),
    },
    source="derived: lengths end to end",
)
def below_rope_m(anchor_m: Real, stretch_m: Real) -> Real:
    """Room that the lower end of a rope takes.

    Example
    -------
    >>> round(below_rope_m(0.15, 0.01), 3)
    0.16
    """
    return anchor_m + stretch_m
