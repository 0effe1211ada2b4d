"""Floating roofs: what they displace, and through which band of levels nobody knows.

Below the landing height the roof stands on its legs and displaces nothing; above the floating height it displaces
its own mass of liquid. Between the two, the critical zone, it is carried by both, in shares that depend on each leg:
no figure from a table is of use there. A volume displaced is taken off the volume of the shell.
"""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real, same_kind
from onedatum.foundation.working import formula

_MASS = ("m", "mass of the roof, with what floats along with it", "[0, 1e7]")
_DENSITY = ("rho", "density of the liquid at its temperature in the tank", "(0, 20000]")
_LEVEL = ("h", "level above the datum", "[-10, 100]")
_LANDING = ("h_l", "landing height: level at which the liquid reaches the roof on its legs", "[0, 20]")
_FLOATING = ("h_f", "floating height: level at which the last leg is off the bottom", "[0, 25]")
_ABOVE = ("h_f > h_l", "a roof floats only above the level at which the liquid reaches it")


@formula(
    equation="V = m/rho",
    gives=("V", "volume that the floating roof displaces"),
    where={"roof_mass_kg": _MASS, "density_kg_per_m3": _DENSITY},
    source="archimedes: a floating body displaces its own mass of liquid",
)
def roof_displacement_m3(roof_mass_kg: Real, density_kg_per_m3: Real) -> Real:
    """Volume of liquid that a floating roof displaces.

    Snow, rain and what is stored on the roof belong to its mass; friction on the rim does not.

    Example
    -------
    >>> round(roof_displacement_m3(85000.0, 850.0), 3)
    100.0
    """
    return roof_mass_kg / density_kg_per_m3


@formula(
    equation="dV = m*(1/rho_o - 1/rho_ref)",
    gives=("dV", "displaced beyond what the table has taken off; to be taken off the volume by the table"),
    where={
        "roof_mass_kg": _MASS,
        "observed_density_kg_per_m3": ("rho_o", "density of the liquid at its temperature in the tank", "(0, 20000]"),
        "table_density_kg_per_m3": ("rho_ref", "density that the table is made for", "(0, 20000]"),
    },
    source="archimedes: difference of two displaced volumes",
)
def roof_density_correction_m3(
    roof_mass_kg: Real, observed_density_kg_per_m3: Real, table_density_kg_per_m3: Real
) -> Real:
    """What a floating roof displaces more in this liquid than in the one of the table.

    Positive in a lighter liquid, where the roof lies deeper. Holds while the roof floats free.

    Example
    -------
    >>> round(roof_density_correction_m3(85000.0, 820.0, 850.0), 4)
    3.6585
    """
    return roof_mass_kg * (1 / observed_density_kg_per_m3 - 1 / table_density_kg_per_m3)


@formula(
    equation="s = min(max((h - h_l)/(h_f - h_l), 0), 1)",
    gives=("s", "share of its own mass that the roof displaces; between 0 and 1 the level lies in the critical zone"),
    where={"level_m": _LEVEL, "landing_m": _LANDING, "floating_m": _FLOATING},
    requires=(_ABOVE,),
    source="common-practice: straight line through the critical zone",
)
def floating_share(level_m: Real, landing_m: Real, floating_m: Real) -> Real:
    """Share of a floating roof that the liquid carries.

    0 at the landing height and below, 1 at the floating height and above. What lies between is a straight line for
    want of better: good for an unbroken table, unusable for a quantity. Whoever prints a quantity asks whether the
    share is 0 or 1. The floating height itself lies higher in a lighter liquid.

    Example
    -------
    >>> [float(floating_share(h, 1.5, 2.0)) for h in (1.4, 1.75, 2.0)]
    [0.0, 0.5, 1.0]
    """
    return same_kind(np.clip((level_m - landing_m) / (floating_m - landing_m), 0.0, 1.0))


@formula(
    equation="V = m/rho*min(max((h - h_l)/(h_f - h_l), 0), 1)",
    gives=("V", "volume that the roof displaces at the level, unusable in the critical zone"),
    where={
        "level_m": _LEVEL,
        "landing_m": _LANDING,
        "floating_m": _FLOATING,
        "roof_mass_kg": _MASS,
        "density_kg_per_m3": _DENSITY,
    },
    requires=(_ABOVE,),
    source="common-practice: straight line through the critical zone; above it Archimedes' principle",
)
def roof_displacement_at_level_m3(
    level_m: Real, landing_m: Real, floating_m: Real, roof_mass_kg: Real, density_kg_per_m3: Real
) -> Real:
    """Volume that a floating roof displaces at a level, standing, landing or afloat.

    In the critical zone, where `floating_share` is neither 0 nor 1, the value fills the table and serves no quantity.

    Example
    -------
    >>> float(roof_displacement_at_level_m3(1.75, 1.5, 2.0, 85000.0, 850.0))
    50.0
    """
    return roof_mass_kg / density_kg_per_m3 * floating_share(level_m, landing_m, floating_m)
