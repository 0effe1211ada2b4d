"""How a stem swings, and the velocity at which the eddies behind it beat in time with that."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_LENGTH = ("L", "length of the stem", "[0.01, 50]")
_STIFFNESS = ("B", "bending stiffness", "(0, 1e9]")
_MASS = ("m", "mass per length", "[0.0001, 1000]")
FREE, HELD = 1.8751040687119611, 3.9266023120479189
"""First roots of cos(b)*cosh(b) = -1 and of tan(b) = tanh(b)."""


@formula(
    equation="f = 1.8751040687119611**2/(2*pi)*sqrt(B/(m*L**4))",
    gives=("f", "first bending frequency"),
    where={"length_m": _LENGTH, "bending_stiffness_N_m2": _STIFFNESS, "line_mass_kg_per_m": _MASS},
    source="euler-bernoulli: clamped at the head, free at the tip",
)
def bending_frequency_Hz(length_m: Real, bending_stiffness_N_m2: Real, line_mass_kg_per_m: Real) -> Real:
    """First bending frequency of a stem that is held at its head alone.

    Example
    -------
    >>> float(round(bending_frequency_Hz(2.0, 101.71, 0.27300), 2))
    2.7
    """
    result: Real = FREE**2 / (2 * np.pi) * np.sqrt(bending_stiffness_N_m2 / (line_mass_kg_per_m * length_m**4))
    return result


@formula(
    equation="f = 3.9266023120479189**2/(2*pi)*sqrt(B/(m*L**4))",
    gives=("f", "first bending frequency"),
    where={"length_m": _LENGTH, "bending_stiffness_N_m2": _STIFFNESS, "line_mass_kg_per_m": _MASS},
    source="euler-bernoulli: clamped at the head, held without clamping at the tip",
)
def guided_bending_frequency_Hz(length_m: Real, bending_stiffness_N_m2: Real, line_mass_kg_per_m: Real) -> Real:
    """First bending frequency of a stem that is held at its tip as well.

    Example
    -------
    >>> float(round(guided_bending_frequency_Hz(2.0, 101.71, 0.27300), 2))
    11.84
    """
    result: Real = HELD**2 / (2 * np.pi) * np.sqrt(bending_stiffness_N_m2 / (line_mass_kg_per_m * length_m**4))
    return result


@formula(
    equation="f = S*U/d_o",
    gives=("f", "frequency of the eddies"),
    where={
        "velocity_m_per_s": ("U", "velocity of the liquid across the stem", "[0, 20]"),
        "diameter_m": ("d_o", "outside diameter of the stem", "[0.0001, 0.5]"),
        "strouhal": ("S", "Strouhal number", "[0.05, 1]"),
    },
    source="strouhal-memory",
)
def shedding_frequency_Hz(velocity_m_per_s: Real, diameter_m: Real, strouhal: Real) -> Real:
    """Frequency at which eddies leave a stem.

    Example
    -------
    >>> round(shedding_frequency_Hz(0.5, 0.012, 0.2), 1)
    8.3
    """
    return strouhal * velocity_m_per_s / diameter_m


@formula(
    equation="U = f*d_o/S",
    gives=("U", "velocity at which the eddies beat in time with the stem"),
    where={
        "frequency_Hz": ("f", "bending frequency of the stem", "[0, 100000]"),
        "diameter_m": ("d_o", "outside diameter of the stem", "(0, 0.5]"),
        "strouhal": ("S", "Strouhal number", "[0.05, 1]"),
    },
    source="strouhal-memory",
)
def resonance_velocity_m_per_s(frequency_Hz: Real, diameter_m: Real, strouhal: Real) -> Real:
    """Velocity at which the eddies beat in time with the bending of a stem.

    Example
    -------
    >>> round(resonance_velocity_m_per_s(2.27, 0.012, 0.2), 3)
    0.136
    """
    return frequency_Hz * diameter_m / strouhal


@formula(
    equation="q = U/U_r",
    gives=("q", "velocity over that at which the eddies beat in time"),
    where={
        "velocity_m_per_s": ("U", "velocity of the liquid across the stem", "[0, 20]"),
        "resonance_velocity_m_per_s": ("U_r", "velocity at which the eddies beat in time", "[1e-6, 100000]"),
    },
    source="derived: share",
)
def velocity_share(velocity_m_per_s: Real, resonance_velocity_m_per_s: Real) -> Real:
    """How near a velocity comes to that at which a stem swings: far below is quiet.

    Example
    -------
    >>> round(velocity_share(0.05, 0.136), 2)
    0.37
    """
    return velocity_m_per_s / resonance_velocity_m_per_s
