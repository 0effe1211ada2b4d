"""Relative permittivity of water and steam by the release of IAPWS, from the temperature and the density."""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np

from onedatum import data
from onedatum.foundation.numerics import Real, in_blocks
from onedatum.foundation.working import formula

_VACUUM_F_PER_M = 1.0 / (4e-7 * np.pi * 299_792_458.0**2)
"""Permittivity of vacuum as the release takes it: exact in the SI of its time."""


@cache
def _table() -> dict[str, Any]:
    """What the release states."""
    table: dict[str, Any] = data.table("water_permittivity.json")
    return table


@cache
def _by_mass() -> tuple[float, float]:
    """N_A*mu**2/(M*eps_0*k) in m3 K/kg and N_A*alpha/(3*M*eps_0) in m3/kg."""
    table = _table()
    per_mass = table["avogadro_per_mol"] / (table["molar_mass_kg_per_mol"] * _VACUUM_F_PER_M)
    return per_mass * table["dipole_moment"] ** 2 / table["boltzmann_J_per_K"], per_mass * table["polarizability"] / 3.0


@formula(
    method="R8-97: (1 + A + 5*B + sqrt(9 + 2*A + 18*B + A**2 + 10*A*B + 9*B**2))/(4 - 4*B), "
    "A = N_A*mu**2*rho*g/(M*eps_0*k*T), B = N_A*alpha*rho/(3*M*eps_0), g of 12 terms",
    gives=("eps", "relative permittivity of the water or steam"),
    where={
        "temperature_K": ("T", "temperature", "[238.15, 873.15]"),
        "density_kg_per_m3": ("rho", "density of the water or steam", "[0, 1250]"),
    },
    source="iapws-r8-97: 12 coefficients, checked against its table 4 (from memory)",
)
def water_permittivity(temperature_K: Real, density_kg_per_m3: Real) -> Real:
    """Relative permittivity of water or steam, at low frequency and without dissolved salts.

    It holds for one phase: a density between those of the boiling water and its steam gives a number that no water has.

    Example
    -------
    >>> float(round(water_permittivity(300.0, 996.5569), 5))
    77.74735
    """
    table, last = _table(), _table()["last_term"]
    dipoles, polarized = _by_mass()

    def work(t: Any, rho: Any) -> Any:
        denser, colder = rho / table["critical_density_kg_per_m3"], table["critical_temperature_K"] / t
        g = 1.0 + last["N"] * denser * (t / last["temperature_K"] - 1.0) ** last["power"]
        for factor, power, warmth in table["terms"]:
            g = g + factor * denser**power * colder**warmth
        a, b = dipoles * rho * g / t, polarized * rho
        root = np.sqrt(9.0 + 2.0 * a + 18.0 * b + a * a + 10.0 * a * b + 9.0 * b * b)
        return (1.0 + a + 5.0 * b + root) / (4.0 - 4.0 * b)

    return in_blocks(work, temperature_K, density_kg_per_m3)
