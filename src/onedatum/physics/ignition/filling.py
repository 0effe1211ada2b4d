"""Filling with liquids that hold charge: relaxation, flow and velocity, the largest velocity by pipe and vessel."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_BORE = ("d", "smallest bore of the pipe upstream", "(0, 5]")
_FLOW = ("Q", "flow", "[0, 100]")
_VELOCITY = ("v", "velocity in the pipe", "[0, 100]")


@formula(
    equation="tau = eps_r*8.8541878188e-12/kappa",
    gives=("tau", "time in which charge in the liquid falls to 1/e"),
    where={
        "relative_permittivity": ("eps_r", "relative permittivity of the liquid", "[1, 200]"),
        "conductivity_S_per_m": ("kappa", "conductivity of the liquid", "[1e-14, 10]"),
    },
    source="derived: charge within a conducting dielectric; electric constant of CODATA 2022",
)
def relaxation_time_s(relative_permittivity: Real, conductivity_S_per_m: Real) -> Real:
    """Time in which charge within a liquid falls to 1/e.

    A mixture of two phases charges at the boundary, however short this time is.

    Example
    -------
    >>> round(relaxation_time_s(2.1, 5e-12), 3)
    3.719
    """
    return relative_permittivity * 8.8541878188e-12 / conductivity_S_per_m


@formula(
    equation="v = 4*Q/(pi*d**2)",
    gives=("v", "velocity in the pipe"),
    where={"flow_m3_per_s": _FLOW, "diameter_m": ("d", "bore of the pipe", "(0, 5]")},
    source="derived: continuity",
)
def flow_velocity_m_per_s(flow_m3_per_s: Real, diameter_m: Real) -> Real:
    """Mean velocity of a flow in a full round pipe.

    Example
    -------
    >>> round(flow_velocity_m_per_s(0.03927, 0.100), 3)
    5.0
    """
    return 4 * flow_m3_per_s / (np.pi * diameter_m**2)


@formula(
    equation="Q = v*pi*d**2/4",
    gives=("Q", "flow"),
    where={"velocity_m_per_s": _VELOCITY, "diameter_m": ("d", "bore of the pipe", "[0, 5]")},
    source="derived: continuity",
)
def flow_m3_per_s(velocity_m_per_s: Real, diameter_m: Real) -> Real:
    """Flow of a mean velocity in a full round pipe.

    Example
    -------
    >>> round(flow_m3_per_s(5.0, 0.100) * 3600, 2)
    141.37
    """
    return velocity_m_per_s * np.pi * diameter_m**2 / 4


@formula(
    equation="v = min(v_max, k_d/d)",
    gives=("v", "largest velocity in the pipe"),
    where={
        "velocity_diameter_m2_per_s": ("k_d", "largest product of velocity and bore", "(0, 5]"),
        "diameter_m": _BORE,
        "velocity_max_m_per_s": ("v_max", "largest velocity in any pipe", "(0, 20]"),
    },
    source="iec-60079-32-1: velocity times bore, as restated by a specialist",
)
def largest_velocity_m_per_s(velocity_diameter_m2_per_s: Real, diameter_m: Real, velocity_max_m_per_s: Real) -> Real:
    """Largest velocity of filling once the inlet is covered.

    Example
    -------
    >>> float(largest_velocity_m_per_s(0.25, 0.100, 7.0))
    2.5
    """
    result: Real = np.minimum(velocity_max_m_per_s, velocity_diameter_m2_per_s / diameter_m)
    return result


@formula(
    equation="k_N = k_d*N",
    gives=("k_N", "largest product of velocity and bore for a tank of this size"),
    where={
        "velocity_diameter_m2_per_s": ("k_d", "largest product of velocity and bore of the row", "(0, 5]"),
        "size_factor": ("N", "factor by the size of the tank", "[1, 1.5]"),
    },
    source="iec-60079-32-1: velocity times bore, as restated by a specialist",
)
def sized_velocity_diameter_m2_per_s(velocity_diameter_m2_per_s: Real, size_factor: Real) -> Real:
    """Product of velocity and bore of a row that goes with the size of the tank.

    Example
    -------
    >>> round(sized_velocity_diameter_m2_per_s(0.38, 1.5), 3)
    0.57
    """
    return velocity_diameter_m2_per_s * size_factor


@formula(
    equation="N = min(1.5, max(1, sqrt(L/2)))",
    gives=("N", "factor by the size of the tank"),
    where={"diagonal_m": ("L", "diagonal of the cross-section of the tank", "[0, 200]")},
    source="iec-60079-32-1: factor N, as restated by a specialist",
)
def size_factor(diagonal_m: Real) -> Real:
    """Factor on velocity times bore by the size of a tank: 1 below 2 m, 1.5 from 4.5 m on.

    Example
    -------
    >>> round(float(size_factor(3.0)), 4)
    1.2247
    """
    result: Real = np.minimum(1.5, np.maximum(1.0, np.sqrt(diagonal_m / 2)))
    return result


@formula(
    equation="v = min(7, 0.7*sqrt(D/d))",
    gives=("v", "largest velocity in the pipe"),
    where={
        "vessel_diameter_m": ("D", "diameter of the vertical tank", "(1.3, 10]"),
        "diameter_m": _BORE,
    },
    requires=(("d < D", "a pipe is narrower than its tank"),),
    source="iec-60079-32-1: vertical tanks, as restated by a specialist",
)
def largest_velocity_upright_m_per_s(vessel_diameter_m: Real, diameter_m: Real) -> Real:
    """Largest velocity of filling a vertical tank once the inlet is covered.

    Holds for a height of at least two thirds of the diameter and a conductivity of at least about 3 pS/m. Above 7 m/s
    nothing is filled, whatever the tank.

    Example
    -------
    >>> round(float(largest_velocity_upright_m_per_s(3.0, 0.080)), 2)
    4.29
    """
    result: Real = np.minimum(7.0, 0.7 * np.sqrt(vessel_diameter_m / diameter_m))
    return result
