"""How something follows the level, and what an installed gauge is off by with nothing corrected."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula


@formula(
    equation="e = tau*v",
    gives=("e", "lag behind a level that moves evenly"),
    where={
        "time_s": ("tau", "time constant", "[0, 1e9]"),
        "rate_m_per_s": ("v", "rate of the level", "[0, 100]"),
    },
    source="derived: first order lag behind a ramp",
)
def ramp_lag_m(time_s: Real, rate_m_per_s: Real) -> Real:
    """How far something with a time constant lags behind a level that moves evenly.

    Example
    -------
    >>> round(ramp_lag_m(4.6, 0.005), 4)
    0.023
    """
    return time_s * rate_m_per_s


@formula(
    equation="tau = b/k",
    gives=("tau", "time constant of a float in its film"),
    where={
        "drag_N_s_per_m": ("b", "drag of the film between float and stem, per velocity", "[0, 1e9]"),
        "stiffness_N_per_m": ("k", "force per depth of immersion", "(0, 1e9]"),
    },
    source="derived: drag against lift, without inertia",
)
def float_time_s(drag_N_s_per_m: Real, stiffness_N_per_m: Real) -> Real:
    """Time constant with which a float follows through the film on its stem.

    Example
    -------
    >>> round(float_time_s(0.1, 17.2), 5)
    0.00581
    """
    return drag_N_s_per_m / stiffness_N_per_m


@formula(
    equation="e = U + abs(x) + e_p",
    gives=("e", "what the installed gauge may be off by, nothing corrected"),
    where={
        "uncertainty_m": ("U", "expanded uncertainty, everything known corrected", "[0, 100]"),
        "immersion_m": ("x", "change of the immersion over the densities", "[-100, 100]"),
        "plumb_m": ("e_p", "by which a stem out of plumb reads long", "[0, 100]"),
    },
    source="derived: what is known and not corrected adds to the uncertainty",
)
def uncorrected_m(uncertainty_m: Real, immersion_m: Real, plumb_m: Real) -> Real:
    """What a gauge may be off by where nobody corrects the density and the plumb.

    Example
    -------
    >>> float(round(uncorrected_m(0.00238, 0.00115, 0.0001), 5))
    0.00363
    """
    result: Real = uncertainty_m + np.abs(immersion_m) + plumb_m
    return result
