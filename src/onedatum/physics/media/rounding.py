"""The rounding that the petroleum tables prescribe for what goes in and for their factors, each a step of its own.

It belongs to the agreed way of reading the tables, not to the liquid: whoever does not ask for it works unrounded.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np

from onedatum import data
from onedatum.foundation.numerics import Real, same_kind
from onedatum.foundation.working import formula

_SOURCE = "api-mpms-11-1-rounding"
_TEMPERATURE = ("T", "temperature of the liquid", "[223.15, 423.15]")
_PRESSURE = ("p", "pressure above the atmosphere", "[0, 10342140]")
_NOISE = 1e-9
"""Of a step: what is that close below a half was a half before it was turned into other units."""


@formula(
    method="to the nearest 0.1 degF, a half away from zero",
    gives=("T_r", "temperature as the tables are entered with it"),
    where={"temperature_K": _TEMPERATURE},
    source=_SOURCE,
)
def rounded_temperature_degF_K(temperature_K: Real) -> Real:
    """A temperature rounded in degF.

    Example
    -------
    >>> float(round(rounded_temperature_degF_K(310.95), 3))
    310.928
    """
    degF = _nearest(1.8 * np.subtract(temperature_K, 273.15) + 32.0, _step("temperature_degF"))
    return same_kind((degF - 32.0) / 1.8 + 273.15)


@formula(
    method="to the nearest 0.05 degC, a half away from zero",
    gives=("T_r", "temperature as the tables are entered with it"),
    where={"temperature_K": _TEMPERATURE},
    source=_SOURCE,
)
def rounded_temperature_degC_K(temperature_K: Real) -> Real:
    """A temperature rounded in degC.

    Example
    -------
    >>> float(round(rounded_temperature_degC_K(310.93), 3))
    310.95
    """
    return same_kind(_nearest(np.subtract(temperature_K, 273.15), _step("temperature_degC")) + 273.15)


@formula(
    method="to the nearest 0.1 kg/m3, a half up",
    gives=("rho_r", "density as the tables are entered with it"),
    where={"density_kg_per_m3": ("rho", "density of the liquid", "[450, 1250]")},
    source=_SOURCE,
)
def rounded_density_kg_per_m3(density_kg_per_m3: Real) -> Real:
    """A density rounded as the tables are entered with it.

    Example
    -------
    >>> float(rounded_density_kg_per_m3(842.35))
    842.4
    """
    return same_kind(_nearest(density_kg_per_m3, _step("density_kg_per_m3")))


@formula(
    method="to the nearest psi, a half up",
    gives=("p_r", "pressure as the tables are entered with it"),
    where={"pressure_Pa_gauge": _PRESSURE},
    source=_SOURCE,
)
def rounded_pressure_psi_Pa_gauge(pressure_Pa_gauge: Real) -> Real:
    """A pressure rounded in psi.

    Example
    -------
    >>> float(round(rounded_pressure_psi_Pa_gauge(345e3), 2))
    344737.85
    """
    unit_Pa = data.table("api_mpms_11_1.json")["Pa_per_psi"]
    return same_kind(_nearest(np.divide(pressure_Pa_gauge, unit_Pa), _step("pressure_psi")) * unit_Pa)


@formula(
    method="to the nearest 5 kPa, which is 0.05 bar, a half up",
    gives=("p_r", "pressure as the tables are entered with it"),
    where={"pressure_Pa_gauge": _PRESSURE},
    source=_SOURCE,
)
def rounded_pressure_kPa_Pa_gauge(pressure_Pa_gauge: Real) -> Real:
    """A pressure rounded in kPa or bar.

    Example
    -------
    >>> float(rounded_pressure_kPa_Pa_gauge(347.5e3))
    350000.0
    """
    return same_kind(_nearest(np.divide(pressure_Pa_gauge, 1e3), _step("pressure_kPa")) * 1e3)


@formula(
    method="to five decimals, a half up",
    gives=("C_r", "factor as the tables print it"),
    where={"factor": ("C", "factor on the volume", "[0, 10]")},
    source=_SOURCE,
)
def rounded_factor(factor: Real) -> Real:
    """A factor rounded to five decimals, as the tables print it.

    Quantities are worked from the unrounded factor unless the parties agree on the rounded one.

    Example
    -------
    >>> float(rounded_factor(0.98100812))
    0.98101
    """
    return same_kind(_nearest(factor, _step("factor")))


@cache
def _step(name: str) -> float:
    return float(data.table("api_mpms_11_1.json")["rounding"][name])


def _nearest(number: Any, step: Any) -> Any:
    """The nearest multiple of a step, with the digits that it has in print."""
    steps = np.floor(np.abs(number) / step + 0.5 + _NOISE)
    return np.copysign(np.round(steps * step, 9), number)
