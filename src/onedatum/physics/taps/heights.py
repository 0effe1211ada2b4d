"""Heights at two taps: their distance, and levels counted from the lower of them or from the datum."""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_ARITHMETIC = "derived: arithmetic of heights"


@formula(
    equation="h = h_0 + z_t",
    gives=("h", "level above the datum"),
    where={
        "above_tap_m": ("h_0", "level above the lower tap", "[-100, 100]"),
        "tap_height_m": ("z_t", "height of the lower tap above the datum", "[-50, 200]"),
    },
    source=_ARITHMETIC,
)
def level_above_datum_m(above_tap_m: Real, tap_height_m: Real) -> Real:
    """A level above the datum from one above the lower tap.

    Example
    -------
    >>> round(level_above_datum_m(0.35, 1.2), 6)
    1.55
    """
    return above_tap_m + tap_height_m


@formula(
    equation="h_0 = h - z_t",
    gives=("h_0", "level above the lower tap"),
    where={
        "level_m": ("h", "level above the datum", "[-100, 300]"),
        "tap_height_m": ("z_t", "height of the lower tap above the datum", "[-50, 200]"),
    },
    source=_ARITHMETIC,
)
def level_above_tap_m(level_m: Real, tap_height_m: Real) -> Real:
    """A level above the lower tap from one above the datum.

    Example
    -------
    >>> round(level_above_tap_m(1.55, 1.2), 6)
    0.35
    """
    return level_m - tap_height_m


@formula(
    equation="a = z_2 - z_1",
    gives=("a", "distance of the taps"),
    where={
        "upper_tap_m": ("z_2", "height of the upper tap above the datum", "[-50, 200]"),
        "lower_tap_m": ("z_1", "height of the lower tap above the datum", "[-50, 200]"),
    },
    requires=(("z_1 < z_2", "the upper tap is the higher one"),),
    source=_ARITHMETIC,
)
def tap_distance_m(upper_tap_m: Real, lower_tap_m: Real) -> Real:
    """Distance of two taps.

    Example
    -------
    >>> round(tap_distance_m(1.9, 1.2), 6)
    0.7
    """
    return upper_tap_m - lower_tap_m


@formula(
    equation="dh = h_1 - h_0",
    gives=("dh", "shown level less true level"),
    where={
        "shown_m": ("h_1", "level shown", "[-100, 100]"),
        "level_m": ("h_0", "true level", "[-100, 100]"),
    },
    source="derived",
)
def level_error_m(shown_m: Real, level_m: Real) -> Real:
    """By how much a level is shown too high; negative where it is shown too low.

    Example
    -------
    >>> round(level_error_m(0.30213, 0.350), 5)
    -0.04787
    """
    return shown_m - level_m
