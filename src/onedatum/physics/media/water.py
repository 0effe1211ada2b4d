"""Liquid water at atmospheric pressure."""

from __future__ import annotations

from functools import cache

from onedatum import data
from onedatum.foundation.numerics import Real, polynomial, same_kind
from onedatum.foundation.working import formula


@cache
def _table() -> tuple[tuple[float, ...], float, float]:
    table = data.table("water_density.json")
    return tuple(table["coefficients_kg_per_m3"]), table["low_K"], table["high_K"]


@formula(
    method="polynomial of 14 terms fitted to IAPWS-95, largest error 1.2e-7 kg/m3; the head of the table water_density "
    "says how it was made",
    gives=("rho", "density of water"),
    where={"temperature_K": ("T", "temperature of the water", "[273.15, 373.05]")},
    source="iapws-95: at 101.325 kPa",
)
def water_density_kg_per_m3(temperature_K: Real) -> Real:
    """Density of liquid water, free of air and salt, at 101.325 kPa.

    One bar more makes it denser by 5e-5.

    Example
    -------
    >>> float(round(water_density_kg_per_m3(293.15), 3))
    998.207
    """
    coefficients, low_K, high_K = _table()
    place = (2.0 * temperature_K - (low_K + high_K)) / (high_K - low_K)
    return same_kind(polynomial(coefficients, place))
