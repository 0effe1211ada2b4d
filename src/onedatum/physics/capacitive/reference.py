"""A reference section of a probe: what is left of an error once the section has told what the liquid is."""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_WETTED = ("h", "wetted length", "[0, 200]")


@formula(
    equation="e = h_r - h",
    gives=("e", "error of the level that is left"),
    where={"read_m": ("h_r", "wetted length read by the reference section", "[0, 1000]"), "wetted_m": _WETTED},
    source="derived: difference",
)
def left_by_reference_m(read_m: Real, wetted_m: Real) -> Real:
    """What a reading by the reference section is off by.

    Example
    -------
    >>> round(left_by_reference_m(2.0, 1.99), 3)
    0.01
    """
    return read_m - wetted_m


@formula(
    equation="x = h/L_r",
    gives=("x", "error of the level for an error of the length of the reference section"),
    where={
        "wetted_m": _WETTED,
        "reference_length_m": ("L_r", "length of the reference section, wetted all over", "(0, 10]"),
    },
    source="derived: the level is the length of the reference section times a ratio of capacitances",
)
def reference_gain_ratio(wetted_m: Real, reference_length_m: Real) -> Real:
    """How many times what is wrong of a reference section counts in the level: a short section is a poor one.

    Example
    -------
    >>> round(reference_gain_ratio(2.0, 0.1), 6)
    20.0
    """
    return wetted_m / reference_length_m
