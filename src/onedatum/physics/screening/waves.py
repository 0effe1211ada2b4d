"""Waves through the gas and at the surface: what the gas makes of the way, and how much comes back."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_PERMITTIVITY = "[1, 1000]"


@formula(
    equation="e = (sqrt(eps_g) - 1)*D",
    gives=("e", "way that the gas adds"),
    where={
        "gas_permittivity": ("eps_g", "relative permittivity of the gas", "[1, 10]"),
        "distance_m": ("D", "distance from the sensor to the surface", "[0, 1000]"),
    },
    source="derived: speed of a wave in a gas, as far as its permittivity is that at rest",
)
def gas_path_error_m(gas_permittivity: Real, distance_m: Real) -> Real:
    """By how much a wave of radio frequency reads a distance too long through a gas.

    Example
    -------
    >>> float(round(gas_path_error_m(1.157, 1.25), 4))
    0.0945
    """
    result: Real = (np.sqrt(gas_permittivity) - 1) * distance_m
    return result


@formula(
    equation="R = ((sqrt(eps) - 1)/(sqrt(eps) + 1))**2",
    gives=("R", "share of the power that comes back from the surface"),
    where={"relative_permittivity": ("eps", "relative permittivity of the liquid", _PERMITTIVITY)},
    source="derived: reflection of a wave at a plane, upright to it",
)
def reflected_power_share(relative_permittivity: Real) -> Real:
    """Share of the power of a wave that a plane surface sends back.

    Example
    -------
    >>> float(round(reflected_power_share(44.0), 4))
    0.5446
    """
    root = np.sqrt(relative_permittivity)
    result: Real = ((root - 1) / (root + 1)) ** 2
    return result


@formula(
    equation="r = (sqrt(e_2) - sqrt(e_1))/(sqrt(e_2) + sqrt(e_1))",
    gives=("r", "amplitude that comes back from the plane between two liquids"),
    where={
        "upper_permittivity": ("e_1", "relative permittivity of the upper liquid", _PERMITTIVITY),
        "lower_permittivity": ("e_2", "relative permittivity of the lower liquid", _PERMITTIVITY),
    },
    source="derived: reflection of a wave at a plane, upright to it",
)
def interface_reflection(upper_permittivity: Real, lower_permittivity: Real) -> Real:
    """Amplitude that the plane between two liquids sends back; negative where the lower one holds less.

    Example
    -------
    >>> float(round(interface_reflection(2.1, 80.0), 3))
    0.721
    """
    above, below = np.sqrt(upper_permittivity), np.sqrt(lower_permittivity)
    result: Real = (below - above) / (below + above)
    return result


@formula(
    equation="e = 0.0017*dT*D",
    gives=("e", "error of the way by warmth of the gas"),
    where={
        "temperature_difference_K": ("dT", "difference of the gas temperature between sensor and surface", "[0, 1000]"),
        "distance_m": ("D", "distance from the sensor to the surface", "[0, 1000]"),
    },
    source="derived: the speed of sound goes with the root of the absolute temperature, 1/(2*293 K)",
)
def sound_path_error_m(temperature_difference_K: Real, distance_m: Real) -> Real:
    """What a difference in the warmth of the gas makes of a distance that sound measures.

    Example
    -------
    >>> round(sound_path_error_m(15.0, 3.07), 4)
    0.0783
    """
    return 0.0017 * temperature_difference_K * distance_m
