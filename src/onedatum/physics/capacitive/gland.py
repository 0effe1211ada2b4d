"""A film that conducts and bridges rod and nozzle at the gland: a leak that tells nothing of the level."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real, same_kind
from onedatum.foundation.working import formula

_LOSS = ("C_G", "conductance of the bridge, told as a capacitance", "[0, 1e6]")
_SLOPE = ("s", "change of capacitance per change of level", "(0, 1e-3]")


@formula(
    equation="R = ln(R_g/a)/(2*pi*sigma_f*t)",
    gives=("R", "resistance of the bridge from rod to nozzle"),
    where={
        "rod_radius_m": ("a", "radius of the metal of the rod", "(0, 1]"),
        "gland_radius_m": ("R_g", "outer radius of the insulating ring of the gland", "(0, 1]"),
        "thickness_m": ("t", "thickness of the film", "(0, 0.1]"),
        "conductivity_S_per_m": ("sigma_f", "conductivity of the film", "(0, 1000]"),
    },
    requires=(("a < R_g", "the ring lies round the rod"),),
    source="derived: flat ring between two metals, radial current",
)
def bridge_resistance_ohm(
    rod_radius_m: Real, gland_radius_m: Real, thickness_m: Real, conductivity_S_per_m: Real
) -> Real:
    """Of a film of even thickness over the face of the ring that insulates a bare rod.

    Example
    -------
    >>> round(float(bridge_resistance_ohm(0.005, 0.020, 0.0003, 0.01)))
    73545
    """
    ring = np.log(gland_radius_m / rod_radius_m)
    return same_kind(ring / (2 * np.pi * conductivity_S_per_m * thickness_m))


@formula(
    equation="C_G = 1/(2*pi*f*R)",
    gives=("C_G", "conductance of the bridge, told as a capacitance"),
    where={
        "frequency_Hz": ("f", "frequency of the measurement", "(0, 1e10]"),
        "resistance_ohm": ("R", "resistance of the bridge from rod to nozzle", "(0, 1e15]"),
    },
    source="derived: conductance over omega",
)
def bridge_loss_F(frequency_Hz: Real, resistance_ohm: Real) -> Real:
    """What the bridge leaks, beside the capacitance it lies in parallel with.

    Example
    -------
    >>> round(float(bridge_loss_F(100e3, 73545.0)) * 1e12, 2)
    21.64
    """
    return same_kind(1 / (2 * np.pi * frequency_Hz * resistance_ohm))


@formula(
    equation="h_B = (sqrt(C**2 + C_G**2) - C)/s",
    gives=("h_B", "what the bridge seems to add to the level"),
    where={
        "capacitance_F": ("C", "capacitance of the probe", "[0, 1]"),
        "loss_F": _LOSS,
        "sensitivity_F_per_m": _SLOPE,
    },
    source="derived: amount of the current through both, read as capacitance",
)
def bridge_extra_m(capacitance_F: Real, loss_F: Real, sensitivity_F_per_m: Real) -> Real:
    """By a meter that does not tell the loss from the capacitance; most where the probe holds least.

    Example
    -------
    >>> round(float(bridge_extra_m(30e-12, 21.64e-12, 13e-12)) * 1e3)
    538
    """
    return same_kind((np.hypot(capacitance_F, loss_F) - capacitance_F) / sensitivity_F_per_m)


@formula(
    equation="h_B = -C_G/s",
    gives=("h_B", "what the bridge seems to add to the level once the loss is taken off"),
    where={"loss_F": _LOSS, "sensitivity_F_per_m": _SLOPE},
    source="derived: a leak has no capacitance of its own, and its loss is taken off all the same",
)
def bridge_left_m(loss_F: Real, sensitivity_F_per_m: Real) -> Real:
    """By a meter that takes the loss off the capacitance: it reads low, at every level.

    Example
    -------
    >>> round(bridge_left_m(21.64e-12, 13e-12) * 1e3)
    -1665
    """
    return -loss_F / sensitivity_F_per_m
