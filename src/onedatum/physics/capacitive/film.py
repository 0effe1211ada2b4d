"""A film that stays above the level: a conductive one is a line that leads on from the surface, another a layer.

The film is earthed where it meets the liquid and open at its upper end; what it holds against the tank is left out.
"""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real, same_kind
from onedatum.foundation.working import formula

_LENGTH = ("l", "length of the film above the level", "[0, 200]")
_DEPTH = ("delta", "length over which a wave on the film dies to 1/e", "(0, 1e6]")
_LINE = "derived: line of resistance and capacitance, open at its upper end"


@formula(
    equation="r = 1/(sigma_f*pi*t*(2*b + t))",
    gives=("r", "resistance per length of the film"),
    where={
        "coating_radius_m": ("b", "outside radius of the coating", "(0, 1]"),
        "thickness_m": ("t", "thickness of the film", "(0, 0.1]"),
        "conductivity_S_per_m": ("sigma_f", "conductivity of the film", "(0, 1000]"),
    },
    source="derived: ring of the film",
)
def film_resistance_ohm_per_m(coating_radius_m: Real, thickness_m: Real, conductivity_S_per_m: Real) -> Real:
    """Along a film round a coated rod.

    Example
    -------
    >>> round(float(film_resistance_ohm_per_m(0.007, 0.0005, 0.1)))
    439048
    """
    ring = np.pi * thickness_m * (2 * coating_radius_m + thickness_m)
    return same_kind(1 / (conductivity_S_per_m * ring))


@formula(
    equation="delta = sqrt(1/(pi*f*r*c_1))",
    gives=("delta", "length over which a wave on the film dies to 1/e"),
    where={
        "frequency_Hz": ("f", "frequency of the measurement", "(0, 1e10]"),
        "resistance_ohm_per_m": ("r", "resistance per length of the film", "(0, 1e15]"),
        "coating_F_per_m": ("c_1", "capacitance per length of the coating", "(0, 1e-6]"),
    },
    source=_LINE,
)
def film_depth_m(frequency_Hz: Real, resistance_ohm_per_m: Real, coating_F_per_m: Real) -> Real:
    """How far up a film the drive reaches; half of it is what a long film seems to be of liquid.

    Example
    -------
    >>> round(float(film_depth_m(100e3, 439049.0, 347.215e-12)), 4)
    0.1445
    """
    return same_kind(np.sqrt(1 / (np.pi * frequency_Hz * resistance_ohm_per_m * coating_F_per_m)))


@formula(
    equation="h_C = delta/2*(1 + 2*sin(2*l/delta)*exp(-2*l/delta) - exp(-4*l/delta))"
    "/(1 + 2*cos(2*l/delta)*exp(-2*l/delta) + exp(-4*l/delta))",
    gives=("h_C", "what the film seems to add to the level, by its capacitance"),
    where={"length_m": _LENGTH, "depth_m": _DEPTH},
    source=_LINE,
)
def film_extra_m(length_m: Real, depth_m: Real) -> Real:
    """A short film counts as liquid, a long one as half its depth; most, 0.68 depths, at a length of 0.94 depths.

    Example
    -------
    >>> round(float(film_extra_m(0.1, 0.1445)) * 1e3, 1)
    89.4
    """
    turn = 2 * length_m / depth_m
    fade = np.exp(-turn)
    return same_kind(depth_m / 2 * (1 + 2 * np.sin(turn) * fade - fade**2) / (1 + 2 * np.cos(turn) * fade + fade**2))


@formula(
    equation="h_G = delta/2*(1 - 2*sin(2*l/delta)*exp(-2*l/delta) - exp(-4*l/delta))"
    "/(1 + 2*cos(2*l/delta)*exp(-2*l/delta) + exp(-4*l/delta))",
    gives=("h_G", "what the film seems to add to the level, by its conductance over omega c_1"),
    where={"length_m": _LENGTH, "depth_m": _DEPTH},
    source=_LINE,
)
def film_loss_m(length_m: Real, depth_m: Real) -> Real:
    """What the loss of a film tells of it: as much as its capacitance for a long film, nothing for a short one.

    Example
    -------
    >>> round(float(film_loss_m(0.1, 0.1445)) * 1e3, 1)
    27.8
    """
    turn = 2 * length_m / depth_m
    fade = np.exp(-turn)
    return same_kind(depth_m / 2 * (1 - 2 * np.sin(turn) * fade - fade**2) / (1 + 2 * np.cos(turn) * fade + fade**2))


@formula(
    equation="h_r = 2*delta*sin(2*l/delta)*exp(-2*l/delta)/(1 + 2*cos(2*l/delta)*exp(-2*l/delta) + exp(-4*l/delta))",
    gives=("h_r", "what the film seems to add to the level once its loss is taken off"),
    where={"length_m": _LENGTH, "depth_m": _DEPTH},
    source=_LINE,
)
def film_left_m(length_m: Real, depth_m: Real) -> Real:
    """What is left of the error where the meter takes the loss off the capacitance.

    Holds for a film of even thickness in a liquid that itself adds no loss. Good from two depths of film on.

    Example
    -------
    >>> round(float(film_left_m(0.9, 1.558)) * 1e3)
    663
    """
    turn = 2 * length_m / depth_m
    fade = np.exp(-turn)
    return same_kind(2 * depth_m * np.sin(turn) * fade / (1 + 2 * np.cos(turn) * fade + fade**2))


@formula(
    equation="h_m = 0.6811103*delta",
    gives=("h_m", "the most that a film can seem to add to the level"),
    where={"depth_m": _DEPTH},
    source=f"{_LINE}; greatest of its extra level, at l = 0.9375520 delta",
)
def film_greatest_m(depth_m: Real) -> Real:
    """The most that a conductive film of any length can seem to add.

    Example
    -------
    >>> round(float(film_greatest_m(1.558)), 4)
    1.0612
    """
    return 0.6811103 * depth_m


@formula(
    equation="t = sqrt(mu*z/(rho*g*s))",
    gives=("t", "thickness of the film left at that height"),
    where={
        "viscosity_Pa_s": ("mu", "dynamic viscosity of the liquid", "(0, 1e4]"),
        "drained_m": ("z", "height below the upper end of the film", "(0, 100]"),
        "density_kg_per_m3": ("rho", "density of the liquid", "(0, 20000]"),
        "gravity_m_per_s2": ("g", "acceleration of free fall", "[9.7, 9.9]"),
        "time_s": ("s", "time it has drained for", "(0, 1e7]"),
    },
    source="derived: laminar drainage down an upright wall that is wetted all over",
)
def drained_film_m(
    viscosity_Pa_s: Real, drained_m: Real, density_kg_per_m3: Real, gravity_m_per_s2: Real, time_s: Real
) -> Real:
    """What a liquid leaves on a wall it runs down; a wall that is not wetted sheds it sooner.

    Example
    -------
    >>> round(float(drained_film_m(0.078, 1.0, 1525.3, 9.80665, 60.0)) * 1e3, 4)
    0.2948
    """
    return same_kind(np.sqrt(viscosity_Pa_s * drained_m / (density_kg_per_m3 * gravity_m_per_s2 * time_s)))
