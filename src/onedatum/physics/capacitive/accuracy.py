"""What a probe itself adds to the uncertainty of its level: liquid, layer, ends, wave and film, each a length."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_PART = "[0, 1000]"
_ERROR = "[-200, 200]"


@formula(
    equation="e = x*h",
    gives=("e", "what the level reads too high by, at most"),
    where={
        "share": ("x", "capacitance seen above the true one, as a share of it", "[-1, 1000]"),
        "wetted_m": ("h", "wetted length", "[0, 200]"),
    },
    source="derived: the share of the whole rod on the wetted length; two points of setting leave less",
)
def wave_error_m(share: Real, wetted_m: Real) -> Real:
    """What the wave on a long rod does to the level, no less than it is once the probe is set.

    Example
    -------
    >>> round(wave_error_m(0.00035, 2.15), 6)
    0.000752
    """
    return share * wetted_m


@formula(
    equation="e = s*a",
    gives=("e", "what the ends of two rods move the level by, at most"),
    where={
        "share": ("s", "the most that both ends move the level by, as a share of the distance of the axes", "[0, 1]"),
        "apart_m": ("a", "distance of the axes of the two rods", "[0, 100]"),
    },
    source="derived: line charges along two thin rods, mirrored in the surface of the liquid, no metal near their ends",
)
def beside_ends_m(share: Real, apart_m: Real) -> Real:
    """The ends of two rods reach about as far as the rods stand apart, and no further.

    Example
    -------
    >>> beside_ends_m(0.25, 0.2)
    0.05
    """
    return share * apart_m


@formula(
    equation="u = h*u_s/s",
    gives=("u", "standard uncertainty of the level by what is uncertain of the liquid"),
    where={
        "wetted_m": ("h", "wetted length", "[0, 200]"),
        "slope_u_F_per_m": (
            "u_s",
            "standard uncertainty of the change of capacitance per change of level",
            "[0, 1e-3]",
        ),
        "slope_F_per_m": ("s", "change of capacitance per change of level", "(0, 1e-3]"),
    },
    source="jcgm-100: 5.1.2, of the same capacitance read by another slope",
)
def slope_standard_m(wetted_m: Real, slope_u_F_per_m: Real, slope_F_per_m: Real) -> Real:
    """A permittivity or conductivity that is known within limits moves the slope, and with it the level.

    Example
    -------
    >>> round(slope_standard_m(2.0, 0.5e-12, 50e-12), 6)
    0.02
    """
    return wetted_m * slope_u_F_per_m / slope_F_per_m


@formula(
    equation="e_l = max(-e, 0)",
    gives=("e_l", "what the film makes the level read too low by"),
    where={"error_m": ("e", "what the film seems to add to the level, at its least", _ERROR)},
    source="derived: the part of it that makes an alarm late",
)
def film_low_m(error_m: Real) -> Real:
    """A film reads high and makes an alarm come early; only with its loss taken off may it read low.

    Example
    -------
    >>> float(film_low_m(-0.012))
    0.012
    """
    result: Real = np.maximum(-error_m, 0.0)
    return result


@formula(
    equation="u = sqrt(u_e**2 + u_c**2 + u_l**2 + u_y**2 + u_b**2 + u_w**2 + u_f**2)",
    gives=("u", "standard uncertainty of the level by the probe itself"),
    where={
        "permittivity_m": ("u_e", "by the range of the permittivity", _PART),
        "conductivity_m": ("u_c", "by the range of the conductivity", _PART),
        "liquid_m": ("u_l", "by how well the liquid is known", _PART),
        "layer_m": ("u_y", "by a layer that insulates", _PART),
        "bend_m": ("u_b", "by the ends of the rod, which bend the line", _PART),
        "wave_m": ("u_w", "by the wave on the rod", _PART),
        "film_m": ("u_f", "by a film that conducts, above the level", _PART),
    },
    source="jcgm-100: 5.1.2, inputs that know nothing of each other",
)
def probe_standard_m(
    permittivity_m: Real,
    conductivity_m: Real,
    liquid_m: Real,
    layer_m: Real,
    bend_m: Real,
    wave_m: Real,
    film_m: Real,
) -> Real:
    """Standard uncertainty that the probe adds to the reading of its transmitter.

    Example
    -------
    >>> float(round(probe_standard_m(0.003, 0.0, 0.0, 0.0, 0.004, 0.0, 0.012), 6))
    0.013
    """
    liquid = permittivity_m**2 + conductivity_m**2 + liquid_m**2 + layer_m**2
    result: Real = np.sqrt(liquid + bend_m**2 + wave_m**2 + film_m**2)
    return result
