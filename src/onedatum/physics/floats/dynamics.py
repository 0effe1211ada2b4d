"""How fast a float follows: heave, and the drag of a viscous film between bore and stem."""

from __future__ import annotations

from typing import Any

import numpy as np

from onedatum.foundation.numerics import Real, monotone_root, same_kind
from onedatum.foundation.working import formula

_STIFFNESS = ("k", "force per depth of immersion", "(0, 100000]")
_DRAG = ("b", "drag per velocity", "[0, 100000]")
SETTLED = 0.05
"""What is left when a float counts as settled."""


@formula(
    equation="T = 2*pi*sqrt(m*(1 + c)/k)",
    gives=("T", "period of heave"),
    where={
        "mass_kg": ("m", "mass of the float, magnets included", "(0, 50]"),
        "added_mass_share": ("c", "liquid that moves along, over the mass of the float", "[0, 5]"),
        "stiffness_N_per_m": _STIFFNESS,
    },
    source="derived: mass on a spring",
)
def heave_period_s(mass_kg: Real, added_mass_share: Real, stiffness_N_per_m: Real) -> Real:
    """Period in which a float bobs; waves that are faster do not reach the reading.

    Example
    -------
    >>> round(float(heave_period_s(0.075, 0.5, 17.746)), 4)
    0.5003
    """
    return 2 * np.pi * np.sqrt(mass_kg * (1 + added_mass_share) / stiffness_N_per_m)


@formula(
    equation="c = (d - d_s)/2",
    gives=("c", "gap between bore and stem, all around"),
    where={
        "bore_m": ("d", "bore of the float", "(0, 1]"),
        "stem_diameter_m": ("d_s", "outside diameter of the stem", "(0, 1]"),
    },
    requires=(("d_s < d", "the float goes on the stem"),),
    source="derived: stem in the middle of the bore",
)
def gap_m(bore_m: Real, stem_diameter_m: Real) -> Real:
    """Gap between the bore of a float and its stem.

    Example
    -------
    >>> round(gap_m(0.016, 0.012), 4)
    0.002
    """
    return (bore_m - stem_diameter_m) / 2


@formula(
    equation="b = 2*pi*mu*r*L/c",
    gives=("b", "drag per velocity"),
    where={
        "viscosity_Pa_s": ("mu", "dynamic viscosity", "[0, 1000]"),
        "stem_radius_m": ("r", "radius of the stem", "(0, 0.5]"),
        "bore_length_m": ("L", "length of the bore", "(0, 2]"),
        "gap_m": ("c", "gap between bore and stem, all around", "[0.00005, 0.5]"),
    },
    source="derived: flow between two plates, one of them moving",
)
def gap_drag_N_s_per_m(viscosity_Pa_s: Real, stem_radius_m: Real, bore_length_m: Real, gap_m: Real) -> Real:
    """Drag of the liquid between bore and stem; within 8 % of the ring-shaped gap it stands for.

    Example
    -------
    >>> round(gap_drag_N_s_per_m(5.0, 0.006, 0.060, 0.001), 4)
    11.3097
    """
    return 2 * np.pi * viscosity_Pa_s * stem_radius_m * bore_length_m / gap_m


@formula(
    equation="t_95 = 3*b/k",
    gives=("t_95", "time until 95 % of a step"),
    where={"drag_N_s_per_m": _DRAG, "stiffness_N_per_m": _STIFFNESS},
    source="derived: three time constants, no inertia",
)
def settling_time_s(drag_N_s_per_m: Real, stiffness_N_per_m: Real) -> Real:
    """Time in which a float follows 95 % of a step, held back by the drag of its gap alone.

    Example
    -------
    >>> round(settling_time_s(11.3097, 16.859), 3)
    2.013
    """
    return 3 * drag_N_s_per_m / stiffness_N_per_m


@formula(
    method=(
        "time at which m*z'' + b*z' + k*z = 0, released at rest, has 5 % left; two exponentials, drag above the "
        "aperiodic limit"
    ),
    gives=("t_95", "time until 95 % of a step"),
    where={
        "effective_mass_kg": ("m", "mass of the float and the liquid that moves along", "[0.001, 100]"),
        "drag_N_s_per_m": ("b", "drag per velocity", "[0.01, 100000]"),
        "stiffness_N_per_m": ("k", "force per depth of immersion", "[0.1, 10000]"),
    },
    requires=(("b**2 > 4.4*m*k", "the float creeps; one that swings has no such time"),),
    source="derived: overdamped mass on a spring",
)
def settling_time_exact_s(effective_mass_kg: Real, drag_N_s_per_m: Real, stiffness_N_per_m: Real) -> Real:
    """Time in which a float with its inertia follows 95 % of a step.

    Example
    -------
    >>> float(round(settling_time_exact_s(0.1125, 11.30973, 16.85887), 3))
    1.99
    """
    half = drag_N_s_per_m / (2 * np.asarray(effective_mass_kg))
    spread = np.sqrt(half**2 - stiffness_N_per_m / np.asarray(effective_mass_kg))
    slow, fast = stiffness_N_per_m / effective_mass_kg / (half + spread), half + spread

    def left(time: Any) -> Any:
        return (fast * np.exp(-slow * time) - slow * np.exp(-fast * time)) / (fast - slow)

    def slope(time: Any) -> Any:
        return slow * fast * (np.exp(-fast * time) - np.exp(-slow * time)) / (fast - slow)

    return same_kind(np.asarray(monotone_root(left, slope, SETTLED, 0.0, 12.0 / slow)))


@formula(
    equation="dh = r*b/k",
    gives=("dh", "how far the float stays behind"),
    where={
        "rate_m_per_s": ("r", "rate at which the level rises", "[-10, 10]"),
        "drag_N_s_per_m": _DRAG,
        "stiffness_N_per_m": _STIFFNESS,
    },
    source="derived: drag at that rate over the stiffness",
)
def lag_m(rate_m_per_s: Real, drag_N_s_per_m: Real, stiffness_N_per_m: Real) -> Real:
    """How far a float stays behind a level that rises or falls steadily.

    Example
    -------
    >>> round(lag_m(0.001, 11.3097, 16.859), 6)
    0.000671
    """
    return rate_m_per_s * drag_N_s_per_m / stiffness_N_per_m
