"""Temperatures that a choice turns on: at cells below a vessel, near the critical point, near ignition."""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_KELVIN = "[0, 2000]"


@formula(
    equation="T = (T_p + T_a)/2",
    gives=("T", "temperature at the cells, as a first guess"),
    where={
        "process_K": ("T_p", "temperature of the content", _KELVIN),
        "ambient_K": ("T_a", "temperature of the air", _KELVIN),
    },
    source="common-practice: first guess, halfway between content and air",
)
def cells_temperature_K(process_K: Real, ambient_K: Real) -> Real:
    """First guess of the temperature at load cells under a vessel.

    Example
    -------
    >>> round(cells_temperature_K(524.95, 318.15) - 273.15, 1)
    148.4
    """
    return (process_K + ambient_K) / 2


@formula(
    equation="t = T/T_c",
    gives=("t", "temperature over the critical one"),
    where={"temperature_K": ("T", "temperature", _KELVIN), "critical_K": ("T_c", "critical temperature", "(0, 2000]")},
    source="derived: share",
)
def reduced_temperature(temperature_K: Real, critical_K: Real) -> Real:
    """Temperature over the critical one: near one, liquid and vapour become alike.

    Example
    -------
    >>> round(reduced_temperature(525.0, 647.096), 4)
    0.8113
    """
    return temperature_K / critical_K


@formula(
    equation="q = (T_i - T_s)/(T_i - 273.15)",
    gives=("q", "distance to the ignition temperature, over it in degrees Celsius"),
    where={
        "ignition_temperature_K": ("T_i", "ignition temperature", "[274, 2000]"),
        "surface_K": ("T_s", "hottest surface", _KELVIN),
    },
    source="derived: share",
)
def surface_share(ignition_temperature_K: Real, surface_K: Real) -> Real:
    """How far the hottest surface stays below the ignition temperature, in shares of that in degrees Celsius.

    Example
    -------
    >>> round(surface_share(636.15, 308.15), 4)
    0.9036
    """
    return (ignition_temperature_K - surface_K) / (ignition_temperature_K - 273.15)
