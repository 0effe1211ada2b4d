"""A liquid of stated density that expands evenly with temperature."""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula


@formula(
    equation="rho = rho_r*(1 - beta*(T - T_r))",
    gives=("rho", "density of the liquid"),
    where={
        "reference_density_kg_per_m3": ("rho_r", "density at the reference temperature", "(0, 20000]"),
        "expansion_per_K": ("beta", "cubic expansion from the reference temperature", "[0, 0.01]"),
        "temperature_K": ("T", "temperature of the liquid", "[73, 1300]"),
        "reference_temperature_K": ("T_r", "reference temperature", "[200, 500]"),
    },
    requires=(
        ("beta*(T - T_r) <= 0.2", "an even expansion does not reach that far"),
        ("beta*(T - T_r) >= -0.2", "an even expansion does not reach that far"),
    ),
    source="derived: even expansion",
)
def expanded_density_kg_per_m3(
    reference_density_kg_per_m3: Real, expansion_per_K: Real, temperature_K: Real, reference_temperature_K: Real
) -> Real:
    """Density of a liquid that expands evenly with temperature.

    Example
    -------
    >>> round(expanded_density_kg_per_m3(1066.0, 5.6e-4, 313.15, 288.706), 3)
    1051.408
    """
    return reference_density_kg_per_m3 * (1 - expansion_per_K * (temperature_K - reference_temperature_K))
