"""How much of what is allowed an error takes, and how two things of one kind compare."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_SHARE = "derived: share"


@formula(
    equation="q = abs(e)/d",
    gives=("q", "error over the error allowed"),
    where={
        "error_m": ("e", "error of the level", "[-100000, 100000]"),
        "allowed_m": ("d", "error allowed of the level", "(0, 10]"),
    },
    source=_SHARE,
)
def error_share(error_m: Real, allowed_m: Real) -> Real:
    """How much of the error allowed an error takes.

    Example
    -------
    >>> float(round(error_share(-0.0616, 0.015), 2))
    4.11
    """
    result: Real = np.abs(error_m) / allowed_m
    return result


@formula(
    equation="q = a/b",
    gives=("q", "length over another"),
    where={
        "part_m": ("a", "length", "[0, 1000]"),
        "whole_m": ("b", "length that it is taken against", "(0, 1000]"),
    },
    source=_SHARE,
)
def length_share(part_m: Real, whole_m: Real) -> Real:
    """One length over another: the error allowed over the span, a grain over the gap that it must pass.

    Example
    -------
    >>> round(length_share(0.015, 2.7), 6)
    0.005556
    """
    return part_m / whole_m


@formula(
    equation="q = t/(2*d)",
    gives=("q", "half of the layer over the error allowed"),
    where={
        "layer_m": ("t", "thickness of the mixed layer", "[0, 1000]"),
        "allowed_m": ("d", "error allowed of the level", "(0, 10]"),
    },
    source=_SHARE,
)
def half_layer_share(layer_m: Real, allowed_m: Real) -> Real:
    """Half of a mixed layer over the error allowed: where in it the reading lies, nobody knows.

    Example
    -------
    >>> round(half_layer_share(0.04, 0.025), 2)
    0.8
    """
    return layer_m / (2 * allowed_m)


@formula(
    equation="q = A/A_max",
    gives=("q", "area over its limit"),
    where={"area_m2": ("A", "area", "[0, 1000]"), "limit_m2": ("A_max", "largest area", "(0, 1000]")},
    source=_SHARE,
)
def area_share(area_m2: Real, limit_m2: Real) -> Real:
    """An area over the largest that is allowed.

    Example
    -------
    >>> round(area_share(0.0343, 0.0025), 2)
    13.72
    """
    return area_m2 / limit_m2


@formula(
    equation="q = p_a/max(p, 100)",
    gives=("q", "pressure allowed over pressure that acts"),
    where={
        "allowed_Pa_gauge": ("p_a", "pressure allowed", "[0, 1e12]"),
        "acting_Pa_gauge": ("p", "pressure that acts; below 1 mbar it counts as 1 mbar", "[-200000, 1e12]"),
    },
    source=_SHARE,
)
def pressure_ratio(allowed_Pa_gauge: Real, acting_Pa_gauge: Real) -> Real:
    """What is allowed over what acts, both above the atmosphere.

    Example
    -------
    >>> float(round(pressure_ratio(6.4e6, 3.998675e6), 4))
    1.6005
    """
    result: Real = allowed_Pa_gauge / np.maximum(acting_Pa_gauge, 100.0)
    return result


@formula(
    equation="q = rho_g/rho",
    gives=("q", "density of the gas over that of the liquid"),
    where={
        "gas_density_kg_per_m3": ("rho_g", "density of what stands above the liquid", "[0, 20000]"),
        "liquid_density_kg_per_m3": ("rho", "density of the liquid", "(0, 20000]"),
    },
    source=_SHARE,
)
def gas_density_share(gas_density_kg_per_m3: Real, liquid_density_kg_per_m3: Real) -> Real:
    """Density of gas or vapour over that of the liquid.

    Example
    -------
    >>> round(gas_density_share(20.608, 796.16), 5)
    0.02588
    """
    return gas_density_kg_per_m3 / liquid_density_kg_per_m3


@formula(
    equation="q = B/B_min",
    gives=("q", "field over the least that is needed"),
    where={
        "field_T": ("B", "field at the stem", "[0, 10]"),
        "least_T": ("B_min", "least field that is needed", "(0, 10]"),
    },
    source=_SHARE,
)
def field_ratio(field_T: Real, least_T: Real) -> Real:
    """Field at the stem over the least that it needs.

    Example
    -------
    >>> round(field_ratio(0.0042, 0.003), 2)
    1.4
    """
    return field_T / least_T
