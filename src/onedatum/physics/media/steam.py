"""Water and steam under pressure and at the boiling point, by the formulations of IAPWS.

CoolProp evaluates them; it is imported when it is first needed, for that takes more than a second. The densities of the
boiling liquid and of its steam, which levels in drums ask for most, come from polynomials fitted to the same source.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
from numpy.polynomial.legendre import leggauss

from onedatum import data
from onedatum.foundation.numerics import Real, Reals, in_blocks, polynomial, same_kind
from onedatum.foundation.working import formula

_SAME_PRESSURE = 2e-6
"""The library tells liquid from steam no nearer to the boiling pressure than 1e-6 of it."""
_POINTS = 24
"""Points of the mean over a column."""
_SATURATED = ("T", "temperature of the boiling water", "[273.16, 623.15]")


@formula(
    method="IAPWS-95, the stable phase at the temperature and pressure",
    gives=("rho", "density of the water or steam"),
    where={
        "temperature_K": ("T", "temperature", "[273.16, 1073.15]"),
        "pressure_Pa_abs": ("p", "pressure above vacuum", "[1000, 1e8]"),
    },
    source="iapws-95: through CoolProp",
)
def pressed_water_density_kg_per_m3(temperature_K: Real, pressure_Pa_abs: Real) -> Real:
    """Density of water under pressure: the liquid up to its boiling point, steam above it.

    Within 1e-6 of the boiling pressure it is the liquid. Above 647.096 K or 22.064 MPa there is one phase only.

    Example
    -------
    >>> float(round(pressed_water_density_kg_per_m3(423.15, 1.1e6), 2))
    917.36
    """
    density = np.asarray(_asked("D", "T", temperature_K, "P", pressure_Pa_abs))
    if not np.isnan(density).any():
        return same_kind(density)
    return same_kind(np.where(np.isnan(density), _boiling_density(temperature_K, pressure_Pa_abs), density))


def _boiling_density(temperature_K: Real, pressure_Pa_abs: Real) -> Reals:
    """Density of the liquid where water boils, which the library refuses to take for liquid or steam; else NaN."""
    boiling = np.asarray(_asked("P", "T", temperature_K, "Q", 0.0))
    at_boiling = np.abs(pressure_Pa_abs - boiling) <= _SAME_PRESSURE * boiling
    liquid = np.broadcast_to(np.asarray(_asked("D", "T", temperature_K, "Q", 0.0)), at_boiling.shape)
    return np.where(at_boiling, liquid, np.nan)


@formula(
    method="polynomial of 20 terms in T, fitted to IAPWS-95, largest error 4.2e-7 of the density; the head of the "
    "table water_saturation says how it was made",
    gives=("rho", "density of the boiling water"),
    where={"temperature_K": _SATURATED},
    source="iapws-95",
)
def saturated_water_density_kg_per_m3(temperature_K: Real) -> Real:
    """Density of liquid water at its boiling point, under its own vapour.

    Example
    -------
    >>> float(round(saturated_water_density_kg_per_m3(423.15), 2))
    917.01
    """
    coefficients = _saturation("coefficients_kg_per_m3")
    return in_blocks(lambda t: polynomial(coefficients, _place(t)), temperature_K)


@formula(
    method="exp of a polynomial of 22 terms in T, fitted to IAPWS-95, largest error 2.9e-7 of the density; the head of "
    "the table water_saturation says how it was made",
    gives=("rho", "density of the saturated steam"),
    where={"temperature_K": _SATURATED},
    source="iapws-95",
)
def saturated_steam_density_kg_per_m3(temperature_K: Real) -> Real:
    """Density of steam over boiling water.

    Example
    -------
    >>> float(round(saturated_steam_density_kg_per_m3(423.15), 4))
    2.5481
    """
    coefficients = _saturation("coefficients_of_log_steam")
    return in_blocks(lambda t: np.exp(polynomial(coefficients, _place(t))), temperature_K)


@formula(
    method="IAPWS-95 at the boiling point",
    gives=("p_s", "pressure of the vapour over boiling water"),
    where={"temperature_K": _SATURATED},
    source="iapws-95: through CoolProp",
)
def boiling_pressure_Pa_abs(temperature_K: Real) -> Real:
    """Pressure at which water boils at a temperature.

    Example
    -------
    >>> float(round(boiling_pressure_Pa_abs(373.124), -1))
    101320.0
    """
    return _asked("P", "T", temperature_K, "Q", 0.0)


@formula(
    method="IAPWS-95 at the boiling point",
    gives=("T_s", "boiling temperature"),
    where={"pressure_Pa_abs": ("p", "pressure above vacuum", "[700, 16500000]")},
    source="iapws-95: through CoolProp",
)
def boiling_point_K(pressure_Pa_abs: Real) -> Real:
    """Temperature at which water boils under a pressure.

    Example
    -------
    >>> float(round(boiling_point_K(101325.0), 2))
    373.12
    """
    return _asked("T", "P", pressure_Pa_abs, "Q", 0.0)


@formula(
    method="mean over the temperature of the density by IAPWS-95, with 24 points of Gauss and Legendre",
    gives=("rho", "mean density of the column"),
    where={
        "bottom_temperature_K": ("T_0", "temperature at the bottom of the column", "[273.16, 640]"),
        "surface_temperature_K": ("T_2", "temperature at its surface", "[273.16, 640]"),
        "pressure_Pa_abs": ("p", "pressure above vacuum", "[1000, 1e8]"),
    },
    source="iapws-95: through CoolProp",
)
def column_water_density_kg_per_m3(
    bottom_temperature_K: Real, surface_temperature_K: Real, pressure_Pa_abs: Real
) -> Real:
    """Mean density of a column of water whose temperature changes evenly from its bottom to its surface.

    The integral, not the density at the mean temperature. Both ends lie below the boiling point.

    Example
    -------
    >>> float(round(column_water_density_kg_per_m3(393.15, 563.15, 1e7), 2))
    857.93
    """
    ends = np.broadcast_arrays(bottom_temperature_K, surface_temperature_K, pressure_Pa_abs)
    bottom, surface, pressure = (np.asarray(end, dtype=np.float64)[..., None] for end in ends)
    points, weights = leggauss(_POINTS)
    densities = np.asarray(pressed_water_density_kg_per_m3(bottom + (surface - bottom) * 0.5 * (1 + points), pressure))
    return same_kind(densities @ (0.5 * weights))


@formula(
    method="volumes and entropies by IAPWS-95: x = (s_l1 - s_l2)/(s_g2 - s_l2), then ((1 - x)*v_l2 + x*v_g2)/v_l1",
    gives=("v", "volume of water and flash steam over that of the water before"),
    where={
        "pressure_before_Pa_abs": ("p_1", "pressure of the boiling water before", "[1000, 16500000]"),
        "pressure_after_Pa_abs": ("p_2", "pressure after it has fallen", "[1000, 16500000]"),
    },
    requires=(("p_2 <= p_1", "the pressure falls"),),
    source="iapws-95: through CoolProp",
)
def flash_volume_ratio(pressure_before_Pa_abs: Real, pressure_after_Pa_abs: Real) -> Real:
    """By how much boiling water swells when its pressure falls at once and none of its steam leaves: an upper bound.

    Example
    -------
    >>> float(round(flash_volume_ratio(40e5, 36e5), 3))
    1.713
    """

    def boiling(wanted: str, pressure_Pa_abs: Real, share: float) -> Any:
        return _asked(wanted, "P", pressure_Pa_abs, "Q", share)

    before, after = pressure_before_Pa_abs, pressure_after_Pa_abs
    entropies = (boiling("S", before, 0.0), boiling("S", after, 0.0), boiling("S", after, 1.0))
    steam = (entropies[0] - entropies[1]) / (entropies[2] - entropies[1])
    volume = (1 - steam) / boiling("D", after, 0.0) + steam / boiling("D", after, 1.0)
    return same_kind(np.asarray(volume * boiling("D", before, 0.0)))


@cache
def _saturation(key: str) -> tuple[float, ...]:
    """Coefficients from the table of boiling water."""
    return tuple(data.table("water_saturation.json")[key])


@cache
def _span() -> tuple[float, float]:
    """The middle of that table, in kelvin, and one over half its length."""
    table = data.table("water_saturation.json")
    low_K, high_K = table["low_K"], table["high_K"]
    return 0.5 * (low_K + high_K), 2.0 / (high_K - low_K)


def _place(temperature_K: Any) -> Any:
    """Where a temperature lies in the table: -1 at its low end, 1 at its high end."""
    middle_K, scale = _span()
    return (temperature_K - middle_K) * scale


def _asked(wanted: str, first: str, one: Any, second: str, other: Any) -> Real:
    """A property from CoolProp; what it cannot give is not a number."""
    from CoolProp.CoolProp import PropsSI

    shape = np.broadcast_shapes(np.shape(one), np.shape(other))
    flat = [np.ravel(np.broadcast_to(np.asarray(each, dtype=np.float64), shape)) for each in (one, other)]
    known = np.isfinite(flat[0]) & np.isfinite(flat[1])
    found = np.full(known.shape, np.nan)
    if known.any():
        try:
            given = np.asarray(PropsSI(wanted, first, flat[0][known], second, flat[1][known], "HEOS::Water"))
        except ValueError:  # the library says so where it can give none at all
            given = np.asarray(np.nan)
        found[known] = np.where(np.isfinite(given), given, np.nan)
    return same_kind(found.reshape(shape))
