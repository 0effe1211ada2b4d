"""Parts of the error of a reading, at a known density of the liquid: half widths and standard uncertainties.

The height of the datum and of the flange face is no part of it. Half widths are of rectangular distributions. The part
of a stem out of plumb lies to one side: its mean is a correction, only what is left around it is an uncertainty.
"""

from __future__ import annotations

from math import factorial

import numpy as np

from onedatum.foundation.numerics import Real, polynomial
from onedatum.foundation.working import formula

_DISTANCE = ("x", "distance of the magnet plane from the head, along the stem", "[0, 100]")
_TILT = ("theta", "angle of the stem out of plumb", "[0, 0.5]")
_LARGEST_TILT = ("theta", "largest angle of the stem out of plumb; any up to it is as likely", "[0, 0.5]")
_TERMS = range(2, 11)
# 1 - sin(x)/x = x^2*(c_0 + c_1*x^2 + ...), and the variance of cos between 0 and x = 16*x^4*(d_0 + d_1*(2*x)^2 + ...);
# up to 0.5 the terms left out are below the rounding
_MEAN = tuple((-1) ** k / factorial(2 * k - 1) for k in _TERMS)
_VARIANCE = tuple((-1) ** k * (k - 1) / (2 * (k + 1) * factorial(2 * k + 1)) for k in _TERMS)


@formula(
    equation="u = e/sqrt(3)",
    gives=("u", "standard uncertainty"),
    where={"half_width_m": ("e", "half width of the error", "[0, 100]")},
    source="jcgm-100: 4.3.7, limits without a coverage factor are rectangular",
)
def rectangular_standard_m(half_width_m: Real) -> Real:
    """Standard uncertainty of an error that lies anywhere between its limits.

    Example
    -------
    >>> round(rectangular_standard_m(0.0003) * 1000, 4)
    0.1732
    """
    return half_width_m / float(np.sqrt(3.0))


@formula(
    equation="u = s/sqrt(12)",
    gives=("u", "standard uncertainty by the steps of the display"),
    where={"display_step_m": ("s", "step of the display", "[0, 1]")},
    source="jcgm-100: F.2.2.1, resolution of a digital indication",
)
def display_standard_m(display_step_m: Real) -> Real:
    """Standard uncertainty that the steps of the display leave.

    Example
    -------
    >>> round(display_standard_m(0.0001) * 1000, 4)
    0.0289
    """
    return display_step_m / float(np.sqrt(12.0))


@formula(
    equation="e = n*R",
    gives=("e", "half width of the error by nonlinearity"),
    where={
        "share": ("n", "nonlinearity, half width as a share of the range", "[0, 0.1]"),
        "range_m": ("R", "measuring range of the stem", "[0, 100]"),
    },
    source="derived: share of the range",
)
def nonlinearity_m(share: Real, range_m: Real) -> Real:
    """Error by nonlinearity.

    Example
    -------
    >>> round(nonlinearity_m(0.0001, 3.0), 6)
    0.0003
    """
    return share * range_m


@formula(
    equation="e = abs(k_v)*dT*x",
    gives=("e", "half width of the error by the temperature of the wire"),
    where={
        "distance_m": _DISTANCE,
        "speed_coefficient_per_K": ("k_v", "change of the speed as a share per kelvin", "[-0.001, 0.001]"),
        "temperature_half_width_K": ("dT", "half width to which the mean temperature of the wire is known", "[0, 300]"),
    },
    source="derived: first order",
)
def speed_error_m(distance_m: Real, speed_coefficient_per_K: Real, temperature_half_width_K: Real) -> Real:
    """Error by a temperature of the wire that is not quite known.

    Example
    -------
    >>> round(float(speed_error_m(2.5, 11.4e-6, 3.0)) * 1000, 4)
    0.0855
    """
    result: Real = np.abs(speed_coefficient_per_K) * temperature_half_width_K * distance_m
    return result


@formula(
    equation="e = abs(s)*d",
    gives=("e", "half width of the error by the density of the liquid"),
    where={
        "per_density_m4_per_kg": ("s", "change of the waterline per density of the liquid", "[-0.1, 0.1]"),
        "density_half_width_kg_per_m3": ("d", "half width to which the density is known", "[0, 1000]"),
    },
    source="derived: first order",
)
def density_error_m(per_density_m4_per_kg: Real, density_half_width_kg_per_m3: Real) -> Real:
    """Error by a density of the liquid that is not quite known.

    Example
    -------
    >>> round(float(density_error_m(-2.24e-5, 5.0)) * 1000, 3)
    0.112
    """
    result: Real = np.abs(per_density_m4_per_kg) * density_half_width_kg_per_m3
    return result


@formula(
    equation="e = x*(1 - cos(theta))",
    gives=("e", "distance read less distance straight down: the level is read low by it"),
    where={"distance_m": _DISTANCE, "tilt_rad": _TILT},
    source="derived: length along the stem less its height",
)
def tilt_error_m(distance_m: Real, tilt_rad: Real) -> Real:
    """Error by a stem out of plumb; it lies to one side.

    Example
    -------
    >>> round(float(tilt_error_m(3.0, 0.034906585)) * 1000, 4)
    1.8275
    """
    result: Real = 2 * distance_m * np.sin(np.asarray(tilt_rad) / 2) ** 2
    return result


@formula(
    equation="e = x*theta**2/2",
    gives=("e", "distance read less distance straight down: the level is read low by it"),
    where={"distance_m": _DISTANCE, "tilt_rad": _TILT},
    source="derived: first order of the cosine",
)
def small_tilt_error_m(distance_m: Real, tilt_rad: Real) -> Real:
    """Error by a stem slightly out of plumb.

    Example
    -------
    >>> round(small_tilt_error_m(3.0, 0.034906585) * 1000, 4)
    1.8277
    """
    return distance_m * tilt_rad**2 / 2


@formula(
    method="x*(1 - sin(theta)/theta), 0 for an angle of 0: mean of x*(1 - cos) over the angles from 0 to theta",
    gives=("e", "mean of distance read less distance straight down: to be added to the level read"),
    where={"distance_m": _DISTANCE, "tilt_max_rad": _LARGEST_TILT},
    source="derived: mean over the angles",
)
def tilt_mean_m(distance_m: Real, tilt_max_rad: Real) -> Real:
    """Mean error by a stem out of plumb by any angle up to the largest: about a third of the largest error.

    Example
    -------
    >>> round(float(tilt_mean_m(3.0, 0.0087266463)) * 1000, 5)
    0.03808
    """
    square = np.asarray(tilt_max_rad) ** 2
    result: Real = distance_m * square * polynomial(_MEAN, square)
    return result


@formula(
    method="x*sqrt(1/2 + sin(2*theta)/(4*theta) - (sin(theta)/theta)**2), 0 for an angle of 0: "
    "standard deviation of x*(1 - cos) over the angles from 0 to theta",
    gives=("u", "standard uncertainty around the mean error"),
    where={"distance_m": _DISTANCE, "tilt_max_rad": _LARGEST_TILT},
    source="derived: standard deviation over the angles",
)
def tilt_standard_m(distance_m: Real, tilt_max_rad: Real) -> Real:
    """Standard uncertainty by a stem out of plumb by any angle up to the largest, its mean corrected.

    Example
    -------
    >>> round(float(tilt_standard_m(3.0, 0.0087266463)) * 1000, 5)
    0.03406
    """
    square = np.asarray(tilt_max_rad) ** 2
    result: Real = distance_m * square * np.sqrt(16 * polynomial(_VARIANCE, 4 * square))
    return result
