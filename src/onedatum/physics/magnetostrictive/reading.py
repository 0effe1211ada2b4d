"""The reading as a whole: the lengths its errors are worked over, and its standard uncertainty without the datum."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_LENGTH = ("L", "length of the stem from flange face to tip", "(0, 120]")
_LOW = ("d_low", "lower dead zone, from the stem tip to the magnet plane", "[0, 10]")
_PART = "[0, 10]"


@formula(
    equation="x_max = L - d_low",
    gives=("x_max", "greatest distance from the flange face to the magnet plane"),
    where={"stem_length_m": _LENGTH, "dead_zone_low_m": _LOW},
    requires=(("d_low <= L", "the stem is longer than its dead zone"),),
    source="derived: heights in the vessel",
)
def longest_distance_m(stem_length_m: Real, dead_zone_low_m: Real) -> Real:
    """Greatest distance that is measured, at the lowest level.

    Example
    -------
    >>> round(longest_distance_m(3.15, 0.06), 3)
    3.09
    """
    return stem_length_m - dead_zone_low_m


@formula(
    equation="R = L - d_low - d_high",
    gives=("R", "measuring length"),
    where={
        "stem_length_m": _LENGTH,
        "dead_zone_low_m": _LOW,
        "dead_zone_high_m": ("d_high", "upper dead zone, from the flange face to the magnet plane", "[0, 10]"),
    },
    requires=(("d_low + d_high <= L", "the dead zones leave something to measure"),),
    source="derived: heights in the vessel",
)
def measuring_length_m(stem_length_m: Real, dead_zone_low_m: Real, dead_zone_high_m: Real) -> Real:
    """Length between the dead zones.

    Example
    -------
    >>> round(measuring_length_m(3.15, 0.06, 0.11), 3)
    2.98
    """
    return stem_length_m - dead_zone_low_m - dead_zone_high_m


@formula(
    equation="dT = T - T_0",
    gives=("dT", "how much warmer it is"),
    where={
        "temperature_K": ("T", "temperature", "[50, 1500]"),
        "reference_temperature_K": ("T_0", "temperature it is compared with", "[50, 1500]"),
    },
    source="derived: difference",
)
def warmer_K(temperature_K: Real, reference_temperature_K: Real) -> Real:
    """How much warmer something is than when it was set.

    Example
    -------
    >>> warmer_K(313.15, 293.15)
    20.0
    """
    return temperature_K - reference_temperature_K


@formula(
    equation="a = b/2",
    gives=("a", "half the band"),
    where={"band_m": ("b", "band between rising and falling", "[0, 10]")},
    source="derived: half",
)
def half_band_m(band_m: Real) -> Real:
    """Half the band between rising and falling: either way from its middle.

    Example
    -------
    >>> half_band_m(0.0005)
    0.00025
    """
    return band_m / 2


@formula(
    equation="u = sqrt(u_t**2 + u_c**2 + u_d**2 + u_n**2 + u_v**2 + u_r**2 + u_s**2 + u_p**2)",
    gives=("u", "standard uncertainty of the reading at known density, without the datum"),
    where={
        "timing_m": ("u_t", "by the noise of the echo", _PART),
        "clock_m": ("u_c", "by the clock", _PART),
        "display_m": ("u_d", "by the step of the display", _PART),
        "nonlinearity_m": ("u_n", "by nonlinearity", _PART),
        "speed_m": ("u_v", "by the temperature of the wire", _PART),
        "density_m": ("u_r", "by the density of the liquid", _PART),
        "stiction_m": ("u_s", "by friction on the stem", _PART),
        "plumb_m": ("u_p", "by the stem out of plumb, its mean corrected", _PART),
    },
    source="jcgm-100: 5.1.2, inputs that know nothing of each other",
)
def reading_standard_m(
    timing_m: Real,
    clock_m: Real,
    display_m: Real,
    nonlinearity_m: Real,
    speed_m: Real,
    density_m: Real,
    stiction_m: Real,
    plumb_m: Real,
) -> Real:
    """Standard uncertainty of the reading of a float gauge; the datum stands on a line of its own.

    Example
    -------
    >>> float(round(reading_standard_m(0.006, 0.008, 0.029, 0.173, 0.050, 0.065, 0.144, 0.034), 3))
    0.244
    """
    electronic = timing_m**2 + clock_m**2 + display_m**2 + nonlinearity_m**2
    result: Real = np.sqrt(electronic + speed_m**2 + density_m**2 + stiction_m**2 + plumb_m**2)
    return result


@formula(
    equation="U = k*u",
    gives=("U", "expanded uncertainty of the reading"),
    where={
        "standard_m": ("u", "standard uncertainty of the reading", _PART),
        "coverage_factor": ("k", "coverage factor", "[1, 5]"),
    },
    source="jcgm-100: 6.2.1",
)
def expanded_reading_m(standard_m: Real, coverage_factor: Real) -> Real:
    """Expanded uncertainty of a reading.

    Example
    -------
    >>> expanded_reading_m(0.00025, 2.0)
    0.0005
    """
    return coverage_factor * standard_m


@formula(
    equation="s_k = f*s",
    gives=("s_k", "distance kept between two magnet planes"),
    where={
        "spacing_m": ("s", "distance below which the magnets draw the floats together", "[0, 10]"),
        "factor": ("f", "distance kept over it", "[1, 10]"),
    },
    source="common-practice: one and a half times",
)
def kept_spacing_m(spacing_m: Real, factor: Real) -> Real:
    """Distance that two floats are kept apart.

    Example
    -------
    >>> round(kept_spacing_m(0.0762, 1.5), 4)
    0.1143
    """
    return factor * spacing_m


@formula(
    equation="s = t - z_1 + z_2",
    gives=("s", "distance of the two magnet planes"),
    where={
        "layer_m": ("t", "thickness of the upper liquid", "[0, 100]"),
        "upper_waterline_m": ("z_1", "surface above the magnet plane of the upper float", "[-2, 2]"),
        "interface_above_magnet_m": ("z_2", "interface above the magnet plane of the lower float", "[-2, 2]"),
    },
    source="derived: heights in the vessel",
)
def plane_distance_m(layer_m: Real, upper_waterline_m: Real, interface_above_magnet_m: Real) -> Real:
    """Distance of the magnet planes of two floats on one stem.

    Example
    -------
    >>> round(plane_distance_m(0.35, 0.0075, -0.001), 4)
    0.3415
    """
    return layer_m - upper_waterline_m + interface_above_magnet_m


@formula(
    equation="e_s = abs(e)",
    gives=("e_s", "size of an error"),
    where={"error_m": ("e", "error of the reading", "[-100, 100]")},
    source="derived: without its sign",
)
def error_size_m(error_m: Real) -> Real:
    """Size of an error, to either side.

    Example
    -------
    >>> float(error_size_m(-0.004))
    0.004
    """
    size: Real = np.abs(error_m)
    return size
