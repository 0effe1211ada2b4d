"""A flexible stem, pulled at both ends: how far the flow lets it sag, and by how much it reads long."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_LOAD = ("q", "load of the flow per length", "[0, 10000]")
_LENGTH = ("L", "length between the ends", "(0, 100]")
_PULL = ("T", "pull", "[1, 1000000]")
_SOURCE = "derived: parabola under an even load"
_FLAT = (("q*L <= 4*T", "the pull holds the stem nearly straight"),)


@formula(
    equation="d = q*L**2/(8*T)",
    gives=("d", "sag in the middle"),
    where={"load_N_per_m": _LOAD, "length_m": _LENGTH, "tension_N": _PULL},
    requires=_FLAT,
    source=_SOURCE,
)
def sag_m(load_N_per_m: Real, length_m: Real, tension_N: Real) -> Real:
    """Sag of a flexible stem in a flow.

    Example
    -------
    >>> round(sag_m(1.8, 6.0, 100.0), 3)
    0.081
    """
    return load_N_per_m * length_m**2 / (8 * tension_N)


@formula(
    method=(
        "length of the parabola less its span: L/2*(sqrt(1 + b^2) + asinh(b)/b) - L, b = q*L/(2*T), its series where "
        "b is small"
    ),
    gives=("e", "by how much it reads long"),
    where={"load_N_per_m": _LOAD, "length_m": _LENGTH, "tension_N": _PULL},
    requires=_FLAT,
    source=_SOURCE,
)
def arc_excess_m(load_N_per_m: Real, length_m: Real, tension_N: Real) -> Real:
    """By how much a sagging stem reads long over its whole length.

    Example
    -------
    >>> float(round(arc_excess_m(1.8, 6.0, 100.0) * 1e3, 4))
    2.9147
    """
    steep = np.asarray(load_N_per_m * np.asarray(length_m) / (2 * np.asarray(tension_N)), dtype=np.float64)
    small = steep < 1e-2
    kept = np.where(small, 1.0, steep)
    exact = 0.5 * (np.sqrt(1 + kept**2) + np.arcsinh(kept) / kept) - 1
    series = steep**2 * (1 / 6 - steep**2 / 40 + steep**4 / 112)
    result: Real = np.asarray(length_m * np.where(small, series, exact))[()]
    return result


@formula(
    equation="e = 8*d**2/(3*L)",
    gives=("e", "by how much it reads long, little sag"),
    where={"sag_m": ("d", "sag in the middle", "[0, 100]"), "length_m": _LENGTH},
    source=_SOURCE,
)
def small_arc_excess_m(sag_m: Real, length_m: Real) -> Real:
    """By how much a stem that sags little reads long.

    Example
    -------
    >>> round(small_arc_excess_m(0.081, 6.0) * 1e3, 3)
    2.916
    """
    return 8 * sag_m**2 / (3 * length_m)


@formula(
    equation="T = m*g*(1 - rho_l/rho_w)",
    gives=("T", "pull of a weight in the liquid"),
    where={
        "mass_kg": ("m", "mass of the weight", "[0, 1000]"),
        "liquid_density_kg_per_m3": ("rho_l", "density of the liquid", "[0, 20000]"),
        "weight_density_kg_per_m3": ("rho_w", "density of the weight", "[100, 25000]"),
        "gravity_m_per_s2": ("g", "acceleration of free fall", "[9.7, 9.9]"),
    },
    requires=(("rho_w > rho_l", "the weight sinks"),),
    source="archimedes",
)
def weight_pull_N(
    mass_kg: Real, liquid_density_kg_per_m3: Real, weight_density_kg_per_m3: Real, gravity_m_per_s2: Real
) -> Real:
    """Pull of a weight at the lower end of a flexible stem.

    Example
    -------
    >>> round(weight_pull_N(10.0, 998.0, 7900.0, 9.80665), 1)
    85.7
    """
    return mass_kg * gravity_m_per_s2 * (1 - liquid_density_kg_per_m3 / weight_density_kg_per_m3)
