"""Relative permittivity of petroleum liquids from their density, by the relation of Clausius and Mossotti.

(eps - 1)/(eps + 2) = K*rho. K is 0.340 cm3/g within 0.012 cm3/g for cuts that hold few aromatics: pure alkanes from
hexane to dodecane lie between 0.337 and 0.346. Outside that stand toluene with 0.364, cyclohexane with 0.327 and
liquefied gas with 0.36. Water, alcohols, additives and asphaltenes raise the permittivity above what this gives.
"""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_DENSITY = ("rho", "density of the liquid", "[600, 950]")
_SOURCE = "derived: Clausius and Mossotti; K of pure hydrocarbons at 20 degC"
_K_M3_PER_KG = 0.000340
_HIGHEST_K_M3_PER_KG = 0.000352


@formula(
    equation="eps = (1 + 2*0.00034*rho)/(1 - 0.00034*rho)",
    gives=("eps", "relative permittivity of the cut"),
    where={"density_kg_per_m3": _DENSITY},
    source=_SOURCE,
)
def petroleum_permittivity(density_kg_per_m3: Real) -> Real:
    """Relative permittivity of a petroleum cut with few aromatics, from its density as it is in the tank.

    What it may be off by is `petroleum_permittivity_half_width`. Lighter than 600 kg/m3 the liquid is a liquefied gas,
    of which K is greater; heavier than 950 kg/m3 aromatics and asphaltenes count. Both are refused.

    Example
    -------
    >>> round(petroleum_permittivity(700.0), 3)
    1.937
    """
    return (1.0 + 2.0 * _K_M3_PER_KG * density_kg_per_m3) / (1.0 - _K_M3_PER_KG * density_kg_per_m3)


@formula(
    equation="u = (1 + 2*0.000352*rho)/(1 - 0.000352*rho) - (1 + 2*0.00034*rho)/(1 - 0.00034*rho)",
    gives=("u", "what the relative permittivity of the cut may be off by, either way"),
    where={"density_kg_per_m3": _DENSITY},
    source=_SOURCE,
)
def petroleum_permittivity_half_width(density_kg_per_m3: Real) -> Real:
    """Half width of the relative permittivity of a petroleum cut: K greater by 0.012 cm3/g, the wider of both sides.

    Example
    -------
    >>> round(petroleum_permittivity_half_width(700.0), 3)
    0.044
    """
    highest = (1.0 + 2.0 * _HIGHEST_K_M3_PER_KG * density_kg_per_m3) / (1.0 - _HIGHEST_K_M3_PER_KG * density_kg_per_m3)
    return highest - (1.0 + 2.0 * _K_M3_PER_KG * density_kg_per_m3) / (1.0 - _K_M3_PER_KG * density_kg_per_m3)


@formula(
    equation="eps = (e_0 + 2 + 2*(e_0 - 1)*rho/rho_0)/(e_0 + 2 - (e_0 - 1)*rho/rho_0)",
    gives=("eps", "relative permittivity at the density"),
    where={
        "reference_permittivity": ("e_0", "relative permittivity as known", "(1, 3]"),
        "reference_density_kg_per_m3": ("rho_0", "density at which it is known", "(0, 1250]"),
        "density_kg_per_m3": ("rho", "density of the same liquid or gas", "[0, 1250]"),
    },
    requires=(
        ("rho <= 0.5*rho_0*(e_0 + 2)/(e_0 - 1)", "beyond that it would exceed 4, as nothing without dipoles does"),
    ),
    source="derived: (eps - 1)/(eps + 2) goes with the density",
)
def shifted_permittivity(
    reference_permittivity: Real, reference_density_kg_per_m3: Real, density_kg_per_m3: Real
) -> Real:
    """Relative permittivity of a liquid or gas without polar molecules at another density of its own.

    Warmth, cold and pressure act through the density. Above 3 the molecules are polar, and this does not hold.

    Example
    -------
    >>> round(shifted_permittivity(1.948, 702.5, 680.0), 4)
    1.9084
    """
    part = (reference_permittivity - 1.0) * density_kg_per_m3 / reference_density_kg_per_m3
    return (reference_permittivity + 2.0 + 2.0 * part) / (reference_permittivity + 2.0 - part)
