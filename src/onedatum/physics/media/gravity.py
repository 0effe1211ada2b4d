"""Relative density and API gravity of a petroleum liquid, both at 60 degF, from its density there, and back.

The water they refer to has 999.016 kg/m3; in older tables it has 999.012, which shifts an API gravity by 0.0006 and a
density by 4e-6 of itself.
"""

from __future__ import annotations

from functools import cache

from onedatum import data
from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_BASE = ("rho_60", "density at 60 degF and no pressure", "[600, 1200]")
_SOURCE = "api-gravity"
_OVER, _LESS = 141.5, 131.5
"""Of the definition of API gravity."""


@cache
def _water_kg_per_m3() -> float:
    """Density of water at 60 degF, as the tables set it."""
    return float(data.table("api_mpms_11_1.json")["water_60degF_kg_per_m3"])


@formula(
    equation="g = rho_60/999.016",
    gives=("g", "relative density, 60 degF over 60 degF"),
    where={"base_density_kg_per_m3": _BASE},
    source=_SOURCE,
)
def relative_density_60degF(base_density_kg_per_m3: Real) -> Real:
    """Density of a liquid over that of water, both at 60 degF.

    Example
    -------
    >>> round(relative_density_60degF(850.0), 4)
    0.8508
    """
    return base_density_kg_per_m3 / _water_kg_per_m3()


@formula(
    equation="rho_60 = g*999.016",
    gives=("rho_60", "density at 60 degF and no pressure"),
    where={"relative_density": ("g", "relative density, 60 degF over 60 degF", "[0.6, 1.21]")},
    source=_SOURCE,
)
def base_density_of_relative_density_kg_per_m3(relative_density: Real) -> Real:
    """Density at 60 degF from a relative density.

    Example
    -------
    >>> round(base_density_of_relative_density_kg_per_m3(0.8508), 2)
    849.96
    """
    return relative_density * _water_kg_per_m3()


@formula(
    equation="G = 141.5*999.016/rho_60 - 131.5",
    gives=("G", "API gravity at 60 degF"),
    where={"base_density_kg_per_m3": _BASE},
    source=_SOURCE,
)
def api_gravity(base_density_kg_per_m3: Real) -> Real:
    """API gravity of a liquid: 10 where it is as dense as water, the more the lighter it is.

    Example
    -------
    >>> round(api_gravity(850.0), 2)
    34.81
    """
    return _OVER * _water_kg_per_m3() / base_density_kg_per_m3 - _LESS


@formula(
    equation="rho_60 = 141.5*999.016/(G + 131.5)",
    gives=("rho_60", "density at 60 degF and no pressure"),
    where={"api_gravity": ("G", "API gravity at 60 degF", "[-13, 104]")},
    source=_SOURCE,
)
def base_density_of_api_gravity_kg_per_m3(api_gravity: Real) -> Real:
    """Density at 60 degF from an API gravity.

    Example
    -------
    >>> round(base_density_of_api_gravity_kg_per_m3(10.0), 3)
    999.016
    """
    return _OVER * _water_kg_per_m3() / (api_gravity + _LESS)
