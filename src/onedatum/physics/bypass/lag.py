"""How a chamber follows its vessel through its connections: viscous, turbulent, and swinging."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

LAMINAR_BELOW = 2000.0
"""Number of Reynolds below which the flow in a pipe is laminar."""

_BORE = ("d", "bore of the connections", "(0, 1]")
_LENGTH = ("L", "length of the connections that the liquid flows through", "(0, 50]")
_CHAMBER = ("D", "inside diameter of the chamber", "(0, 5]")
_VISCOSITY = ("mu", "dynamic viscosity of the liquid", "(0, 10000]")
_DENSITY = ("rho", "density of the liquid", "(0, 20000]")
_GRAVITY = ("g", "acceleration of free fall", "[9.7, 9.9]")
_SPEED = ("w", "speed of the liquid in the connections", "[0, 100]")
_RATE = ("v", "rate at which the level moves", "[-10, 10]")


@formula(
    equation="tau = 32*mu*L*D**2/(d**4*rho*g)",
    gives=("tau", "time in which a difference of levels falls to 37 %"),
    where={
        "viscosity_Pa_s": _VISCOSITY,
        "length_m": _LENGTH,
        "chamber_diameter_m": _CHAMBER,
        "bore_m": _BORE,
        "density_kg_per_m3": _DENSITY,
        "gravity_m_per_s2": _GRAVITY,
    },
    source="derived: laminar flow in a pipe (Hagen, Poiseuille)",
)
def chamber_lag_time_s(
    viscosity_Pa_s: Real,
    length_m: Real,
    chamber_diameter_m: Real,
    bore_m: Real,
    density_kg_per_m3: Real,
    gravity_m_per_s2: Real,
) -> Real:
    """Time constant of a chamber that fills through its lower connection, the flow being laminar.

    The upper connection breathes gas, which costs next to nothing; where liquid flows through both, add their lengths.

    Example
    -------
    >>> round(chamber_lag_time_s(0.5, 0.6, 0.0548, 0.025, 900.0, 9.80665), 4)
    8.362
    """
    drag = 32 * viscosity_Pa_s * length_m * chamber_diameter_m**2
    return drag / (bore_m**4 * density_kg_per_m3 * gravity_m_per_s2)


@formula(
    equation="w = abs(v)*(D/d)**2",
    gives=("w", "speed of the liquid in the connections"),
    where={"rate_m_per_s": _RATE, "chamber_diameter_m": _CHAMBER, "bore_m": _BORE},
    source="derived: what fills the chamber flows through its connections",
)
def connection_speed_m_per_s(rate_m_per_s: Real, chamber_diameter_m: Real, bore_m: Real) -> Real:
    """Speed in the connections of a chamber while the level moves.

    Example
    -------
    >>> round(float(connection_speed_m_per_s(0.01, 0.0548, 0.025)), 5)
    0.04805
    """
    return np.abs(rate_m_per_s) * (chamber_diameter_m / bore_m) ** 2


@formula(
    equation="R_e = rho*w*d/mu",
    gives=("R_e", "number of Reynolds in the connections"),
    where={
        "density_kg_per_m3": _DENSITY,
        "speed_m_per_s": _SPEED,
        "bore_m": _BORE,
        "viscosity_Pa_s": _VISCOSITY,
    },
    source="derived: definition",
)
def reynolds_number(density_kg_per_m3: Real, speed_m_per_s: Real, bore_m: Real, viscosity_Pa_s: Real) -> Real:
    """Number of Reynolds of a flow in a pipe.

    Example
    -------
    >>> round(reynolds_number(1000.0, 0.1, 0.025, 0.001), 6)
    2500.0
    """
    return density_kg_per_m3 * speed_m_per_s * bore_m / viscosity_Pa_s


@formula(
    equation="f = 64/R_e",
    gives=("f", "friction factor of laminar flow, by the diameter of the pipe"),
    where={"reynolds": ("R_e", "number of Reynolds in the connections", "(0, 2000]")},
    source="derived: laminar flow in a pipe (Hagen, Poiseuille)",
)
def laminar_friction_factor(reynolds: Real) -> Real:
    """Friction factor of laminar flow in a pipe.

    Example
    -------
    >>> laminar_friction_factor(640.0)
    0.1
    """
    return 64 / reynolds


@formula(
    equation="f = 0.3164/R_e**0.25",
    gives=("f", "friction factor of a smooth pipe, by its diameter"),
    where={"reynolds": ("R_e", "number of Reynolds in the connections", "[2000, 100000]")},
    source="blasius: friction factor of smooth pipes, 1913",
)
def smooth_friction_factor(reynolds: Real) -> Real:
    """Friction factor of turbulent flow in a smooth pipe.

    Example
    -------
    >>> round(smooth_friction_factor(10000.0), 5)
    0.03164
    """
    return 0.3164 / reynolds**0.25


@formula(
    equation="dh = (f*L/d + K)*w**2/(2*g)",
    gives=("dh", "difference of levels that drives the flow"),
    where={
        "friction_factor": ("f", "friction factor of the connections", "(0, 1000000]"),
        "length_m": _LENGTH,
        "bore_m": _BORE,
        "losses": ("K", "losses of entry, valves, bends and exit, in velocity heads", "[0, 10000]"),
        "speed_m_per_s": _SPEED,
        "gravity_m_per_s2": _GRAVITY,
    },
    source="derived: head lost in a pipe (Darcy, Weisbach)",
)
def connection_lag_m(
    friction_factor: Real, length_m: Real, bore_m: Real, losses: Real, speed_m_per_s: Real, gravity_m_per_s2: Real
) -> Real:
    """Lag of a chamber behind a level that moves at a steady rate: what friction and losses ask of height.

    Example
    -------
    >>> round(connection_lag_m(0.03, 0.6, 0.025, 3.0, 0.5, 9.80665), 5)
    0.04742
    """
    heads = friction_factor * length_m / bore_m + losses
    return heads * speed_m_per_s**2 / (2 * gravity_m_per_s2)


@formula(
    equation="T = 2*pi*sqrt((h + L*(D/d)**2)/g)",
    gives=("T", "period of the swinging column"),
    where={
        "chamber_level_m": ("h", "height of the column in the chamber", "[0, 100]"),
        "length_m": _LENGTH,
        "chamber_diameter_m": _CHAMBER,
        "bore_m": _BORE,
        "gravity_m_per_s2": _GRAVITY,
    },
    source="derived: an ideal liquid between a wide vessel and its chamber",
)
def swing_period_s(
    chamber_level_m: Real, length_m: Real, chamber_diameter_m: Real, bore_m: Real, gravity_m_per_s2: Real
) -> Real:
    """Period in which a thin liquid swings between vessel and chamber, where friction does not hold it.

    Example
    -------
    >>> round(float(swing_period_s(0.5, 0.6, 0.0548, 0.025, 9.80665)), 3)
    3.69
    """
    moved = chamber_level_m + length_m * (chamber_diameter_m / bore_m) ** 2
    return 2 * np.pi * np.sqrt(moved / gravity_m_per_s2)


@formula(
    equation="z = pi*tau/T",
    gives=("z", "viscous damping over that at which the column no longer swings"),
    where={
        "lag_time_s": ("tau", "time constant of the chamber, the flow being laminar", "[0, 1000000]"),
        "period_s": ("T", "period of the swinging column", "(0, 1000]"),
    },
    source="derived: linear system of the second order",
)
def swing_damping(lag_time_s: Real, period_s: Real) -> Real:
    """Damping of a column that swings: at 1 or more it creeps, below it overshoots.

    Example
    -------
    >>> round(float(swing_damping(8.362, 3.69)), 2)
    7.12
    """
    return np.pi * lag_time_s / period_s
