"""The temperature of a liquid from what its thermometer shows."""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula


@formula(
    equation="T = T_r + e",
    gives=("T", "temperature of the liquid"),
    where={
        "temperature_K": ("T_r", "temperature as read", "[73, 1300]"),
        "thermometer_error_K": ("e", "error that all readings of the thermometer share", "[-20, 20]"),
    },
    source="derived: reading and error",
)
def true_temperature_K(temperature_K: Real, thermometer_error_K: Real) -> Real:
    """Temperature of the liquid from a reading, with the error all readings of one thermometer share.

    Example
    -------
    >>> true_temperature_K(290.15, 0.25)
    290.4
    """
    return temperature_K + thermometer_error_K
