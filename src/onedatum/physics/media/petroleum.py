"""Petroleum liquids: density at any temperature and pressure from the density at 60 degF, and back.

All that counts from 60 degF is the density there, at no pressure above the atmosphere; every other reference, such as
15 degC, is an observed density like any other.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from onedatum.foundation.numerics import Real, in_blocks
from onedatum.foundation.working import Where, formula
from onedatum.physics.media.petroleum_equations import around, density, expansion, pressure_factor, temperature_factor
from onedatum.physics.media.petroleum_group import (
    PetroleumGroup,
    greatest_base_density_kg_per_m3,
    least_base_density_kg_per_m3,
)
from onedatum.physics.media.petroleum_inverse import base_density

_TEMPERATURE = ("T", "temperature of the liquid", "[223.15, 423.15]")
_PRESSURE = ("p", "pressure above the atmosphere", "[0, 10342140]")
_BASE = ("rho_60", "density at 60 degF and no pressure", "[610.6, 1163.5]")
_OBSERVED = ("rho_o", "density as observed", "[470.4, 1209.5]")
_EXPANSION = ("alpha_60", "cubic expansion at 60 degF", "[0.000414, 0.001674]")
_GROUP: Where = {"group": ("g", "group of the petroleum liquid", PetroleumGroup)}
_SOURCE = "api-mpms-11-1: 11.1.6.1"
_BASE_INSIDE = (
    ("rho_60 >= rho_low(g)", "the group holds from that density at 60 degF"),
    ("rho_60 <= rho_high(g)", "the group holds up to that density at 60 degF"),
)
_BASE_CALLS: dict[str, Callable[..., Any]] = {
    "rho_low": least_base_density_kg_per_m3,
    "rho_high": greatest_base_density_kg_per_m3,
}


@formula(
    method="clause 11.1.6.1: constants of the group, expansion at 60 degF of the scale of 1968, "
    "exp(-alpha*dT*(1 + 0.8*alpha*(dT + delta)))",
    gives=("C", "factor on the volume for temperature (CTL)"),
    where={"base_density_kg_per_m3": _BASE, "temperature_K": _TEMPERATURE} | _GROUP,
    requires=_BASE_INSIDE,
    calls=_BASE_CALLS,
    source=_SOURCE,
)
def petroleum_temperature_factor(base_density_kg_per_m3: Real, temperature_K: Real, group: PetroleumGroup) -> Real:
    """Factor from the volume of a petroleum liquid at a temperature to its volume at 60 degF.

    Not for light hydrocarbons, alcohols, chemicals and blends with them.

    Example
    -------
    >>> from onedatum.physics.media.petroleum_group import petroleum_group
    >>> float(round(petroleum_temperature_factor(850.0, 310.92777777778, petroleum_group("crude oil")), 5))
    0.98101
    """

    def work(base: Any, t: Any) -> Any:
        return temperature_factor(expansion(base, group.at(base)).alpha, around(t).warmer)

    return in_blocks(work, base_density_kg_per_m3, temperature_K)


@formula(
    method="clause 11.1.6.1: 1/(1 - 1e-5*F*p), F = exp(-1.9947 + 0.00013427*t + (793920 + 2326*t)/rho**2)",
    gives=("C", "factor on the volume for pressure (CPL)"),
    where={"base_density_kg_per_m3": _BASE, "temperature_K": _TEMPERATURE, "pressure_Pa_gauge": _PRESSURE} | _GROUP,
    requires=_BASE_INSIDE,
    calls=_BASE_CALLS,
    source=_SOURCE,
)
def petroleum_pressure_factor(
    base_density_kg_per_m3: Real, temperature_K: Real, pressure_Pa_gauge: Real, group: PetroleumGroup
) -> Real:
    """Factor from the volume of a petroleum liquid under pressure to its volume under that of the atmosphere.

    Example
    -------
    >>> from onedatum.physics.media.petroleum_group import petroleum_group
    >>> float(round(petroleum_pressure_factor(850.0, 310.92777777778, 3447378.6, petroleum_group("crude oil")), 5))
    1.00286
    """

    def work(base: Any, t: Any, p: Any) -> Any:
        return pressure_factor(expansion(base, group.at(base)).lightness, around(t, p))

    return in_blocks(work, base_density_kg_per_m3, temperature_K, pressure_Pa_gauge)


@formula(
    method="density at 60 degF times the factors for temperature and pressure",
    gives=("rho", "density of the liquid"),
    where={"base_density_kg_per_m3": _BASE, "temperature_K": _TEMPERATURE, "pressure_Pa_gauge": _PRESSURE} | _GROUP,
    requires=_BASE_INSIDE,
    calls=_BASE_CALLS,
    source=_SOURCE,
)
def petroleum_density_kg_per_m3(
    base_density_kg_per_m3: Real, temperature_K: Real, pressure_Pa_gauge: Real, group: PetroleumGroup
) -> Real:
    """Density of a petroleum liquid at a temperature and a pressure.

    Example
    -------
    >>> from onedatum.physics.media.petroleum_group import petroleum_group
    >>> float(round(petroleum_density_kg_per_m3(856.311014, 308.15, 0.0, petroleum_group("crude oil")), 3))
    842.3
    """

    def work(base: Any, t: Any, p: Any) -> Any:
        return density(base, around(t, p), group.at(base))

    return in_blocks(work, base_density_kg_per_m3, temperature_K, pressure_Pa_gauge)


@formula(
    residual="rho(rho_60, T, p, g) - rho_o",
    gives=("rho_60", "density at 60 degF and no pressure"),
    where={
        "density_kg_per_m3": _OBSERVED,
        "temperature_K": _TEMPERATURE,
        "pressure_Pa_gauge": _PRESSURE,
    }
    | _GROUP,
    requires=(
        ("rho_o >= rho(rho_low(g), T, p, g)", "the lightest liquid of the group is no lighter at that temperature"),
        ("rho_o <= rho(rho_high(g), T, p, g)", "the heaviest liquid of the group is no heavier at that temperature"),
    ),
    calls=_BASE_CALLS | {"rho": petroleum_density_kg_per_m3},
    source="api-mpms-11-1: 11.1.6.2",
)
def petroleum_base_density_kg_per_m3(
    density_kg_per_m3: Real, temperature_K: Real, pressure_Pa_gauge: Real, group: PetroleumGroup
) -> Real:
    """Density at 60 degF of a petroleum liquid from a density observed at any temperature and pressure.

    A density as printed for 15 degC or 20 degC is such a density. Not a number where the density at 60 degF lies
    outside the group. Where two parts of a group meet, the equations jump by less than 1e-4 kg/m3; within 3e-4 kg/m3 of
    such an edge the result is as uncertain as that.

    Example
    -------
    >>> from onedatum.physics.media.petroleum_group import petroleum_group
    >>> float(round(petroleum_base_density_kg_per_m3(842.3, 308.15, 0.0, petroleum_group("crude oil")), 4))
    856.311
    """

    def work(observed: Any, t: Any, p: Any) -> Any:
        return base_density(observed, around(t, p), group)

    return in_blocks(work, density_kg_per_m3, temperature_K, pressure_Pa_gauge)


@formula(
    method="clause 11.1.6.1 with the stated expansion at 60 degF: rho_60*exp(-alpha*dT*(1 + 0.8*alpha*(dT + delta)))",
    gives=("rho", "density of the liquid"),
    where={"base_density_kg_per_m3": _BASE, "temperature_K": _TEMPERATURE, "expansion_per_K": _EXPANSION},
    source=_SOURCE,
)
def own_expansion_density_kg_per_m3(base_density_kg_per_m3: Real, temperature_K: Real, expansion_per_K: Real) -> Real:
    """Density of a petroleum liquid of a known expansion at 60 degF, under no pressure.

    Example
    -------
    >>> float(round(own_expansion_density_kg_per_m3(700.0, 308.15, 0.0011), 2))
    684.93
    """

    def work(base: Any, t: Any, per_K: Any) -> Any:
        return base * temperature_factor(per_K / 1.8, around(t).warmer)

    return in_blocks(work, base_density_kg_per_m3, temperature_K, expansion_per_K)


@formula(
    method="the density as observed over the factor for temperature of the stated expansion",
    gives=("rho_60", "density at 60 degF and no pressure"),
    where={"density_kg_per_m3": _OBSERVED, "temperature_K": _TEMPERATURE, "expansion_per_K": _EXPANSION},
    source=_SOURCE,
)
def own_expansion_base_density_kg_per_m3(density_kg_per_m3: Real, temperature_K: Real, expansion_per_K: Real) -> Real:
    """Density at 60 degF of a petroleum liquid of a known expansion, from a density observed at any temperature.

    Example
    -------
    >>> float(round(own_expansion_base_density_kg_per_m3(684.93, 308.15, 0.0011), 1))
    700.0
    """

    def work(observed: Any, t: Any, per_K: Any) -> Any:
        return observed / temperature_factor(per_K / 1.8, around(t).warmer)

    return in_blocks(work, density_kg_per_m3, temperature_K, expansion_per_K)
