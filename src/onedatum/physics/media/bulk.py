"""Grain and powder: what the bulk weighs by its packing, its solid and its moisture."""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula


@formula(
    equation="rho = p/(w/rho_w + (1 - w)/rho_s)",
    gives=("rho", "density of the bulk, with the air between its grains"),
    where={
        "packing_share": ("p", "volume of the grains in the volume of the bulk", "[0, 1]"),
        "moisture_share": ("w", "mass of water in the mass of the moist grain", "[0, 1]"),
        "solid_density_kg_per_m3": ("rho_s", "density of the dry solid itself, without air", "[400, 3000]"),
        "water_density_kg_per_m3": ("rho_w", "density of water", "[900, 1100]"),
    },
    source="derived: volumes are masses over densities; water in the grain as dense as water, air without weight",
)
def bulk_density_kg_per_m3(
    packing_share: Real, moisture_share: Real, solid_density_kg_per_m3: Real, water_density_kg_per_m3: Real
) -> Real:
    """What a volume of moist grain weighs, the air between the grains included.

    Example
    -------
    >>> round(bulk_density_kg_per_m3(0.58, 0.12, 1400.0, 998.2), 1)
    774.6
    """
    volume = moisture_share / water_density_kg_per_m3 + (1.0 - moisture_share) / solid_density_kg_per_m3
    return packing_share / volume
