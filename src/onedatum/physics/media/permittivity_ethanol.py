"""Relative permittivity of ethanol with water: a table at 20 degC, and volumes in proportion where no table serves.

The rules of mixing for grains and drops do not hold here: molecules of ethanol and water bind to one another, and at
equal masses those of Looyenga and Lichtenecker come out 12 % and 17 % too low.
"""

from __future__ import annotations

from functools import cache

import numpy as np

from onedatum import data
from onedatum.foundation.numerics import Real, Reals, same_kind
from onedatum.foundation.working import formula

_FRACTION = ("p", "mass of the added liquid in the mass of the mixture", "[0, 1]")
_SHARE = ("f", "volume of the added liquid in the volumes before mixing", "[0, 1]")
_ADDED = ("e_2", "relative permittivity of the added liquid alone", "[1, 250]")
_BASE = ("e_1", "relative permittivity of the other liquid alone", "[1, 250]")
_VOLUMES = "derived: volumes in proportion, compared with the table of ethanol and water"
_OFF_BY = 0.04
_ENDS_OFF_BY = 0.3
_CHANGE_OFF_BY = 0.2


@cache
def _rows() -> tuple[Reals, Reals]:
    table = data.table("ethanol_permittivity.json")
    return np.asarray(table["mass_fractions"], np.float64), np.asarray(table["permittivities"], np.float64)


@formula(
    method="straight between the rows of the table at 20 degC, a tenth of the mass apart",
    gives=("eps", "relative permittivity of the mixture at 20 degC"),
    where={"mass_fraction": ("p", "mass of ethanol in the mass of the mixture", "[0, 1]")},
    source="akerlof-1932: 20 degC, to be verified",
)
def ethanol_water_permittivity(mass_fraction: Real) -> Real:
    """Relative permittivity of a mixture of ethanol and water at 20 degC.

    It holds for 20 degC alone: 1 K more lowers that of water by 0.37 and that of ethanol by 0.12.

    Example
    -------
    >>> round(float(ethanol_water_permittivity(0.45)), 3)
    53.435
    """
    return same_kind(np.interp(mass_fraction, *_rows()))


@formula(
    equation="f = p/rho_2/(p/rho_2 + (1 - p)/rho_1)",
    gives=("f", "volume of the added liquid in the volumes before mixing"),
    where={
        "mass_fraction": _FRACTION,
        "added_density_kg_per_m3": ("rho_2", "density of the added liquid alone", "[400, 3000]"),
        "base_density_kg_per_m3": ("rho_1", "density of the other liquid alone", "[400, 3000]"),
    },
    source="derived: volumes are masses over densities",
)
def unmixed_volume_share(mass_fraction: Real, added_density_kg_per_m3: Real, base_density_kg_per_m3: Real) -> Real:
    """Share of a liquid in the volumes before mixing, which contraction does not touch; no strength by volume.

    Example
    -------
    >>> round(unmixed_volume_share(0.5, 789.24, 998.2), 4)
    0.5585
    """
    added = mass_fraction / added_density_kg_per_m3
    return added / (added + (1.0 - mass_fraction) / base_density_kg_per_m3)


@formula(
    equation="eps = f*e_2 + (1 - f)*e_1",
    gives=("eps", "relative permittivity of the mixture"),
    where={"share": _SHARE, "added_permittivity": _ADDED, "base_permittivity": _BASE},
    source=_VOLUMES,
)
def volume_linear_permittivity(share: Real, added_permittivity: Real, base_permittivity: Real) -> Real:
    """Relative permittivity of two liquids that bind to one another, for a temperature of which there is no table.

    Against the table of ethanol and water at 20 degC it is within 4 %: `volume_linear_half_width`.

    Example
    -------
    >>> round(volume_linear_permittivity(0.5585, 25.0, 80.37), 2)
    49.45
    """
    return share * added_permittivity + (1.0 - share) * base_permittivity


@formula(
    equation="u = 0.04*(f*e_2 + (1 - f)*e_1)",
    gives=("u", "what the relative permittivity of the mixture may be off by, either way"),
    where={"share": _SHARE, "added_permittivity": _ADDED, "base_permittivity": _BASE},
    source=_VOLUMES,
)
def volume_linear_half_width(share: Real, added_permittivity: Real, base_permittivity: Real) -> Real:
    """Half width of the relative permittivity by volumes in proportion: 4 % of it.

    Example
    -------
    >>> round(volume_linear_half_width(0.5585, 25.0, 80.37), 2)
    1.98
    """
    return _OFF_BY * (share * added_permittivity + (1.0 - share) * base_permittivity)


@formula(
    equation="eps = max(e_0 + f*(e_2 - e_2_0) + (1 - f)*(e_1 - e_1_0), 1)",
    gives=("eps", "relative permittivity of the mixture at its temperature"),
    where={
        "reference_permittivity": ("e_0", "relative permittivity of the mixture at 20 degC", "[1, 250]"),
        "share": _SHARE,
        "added_permittivity": _ADDED,
        "base_permittivity": _BASE,
        "added_reference_permittivity": ("e_2_0", "relative permittivity of the added liquid at 20 degC", "[1, 250]"),
        "base_reference_permittivity": ("e_1_0", "relative permittivity of the other liquid at 20 degC", "[1, 250]"),
    },
    source="derived: each liquid brings its own change with the temperature, by its volume",
)
def warmed_mixture_permittivity(
    reference_permittivity: Real,
    share: Real,
    added_permittivity: Real,
    base_permittivity: Real,
    added_reference_permittivity: Real,
    base_reference_permittivity: Real,
) -> Real:
    """Relative permittivity of a mixture tabled at 20 degC, at another temperature.

    What it may be off by is `warmed_mixture_half_width`.

    Example
    -------
    >>> float(round(warmed_mixture_permittivity(50.38, 0.5585, 24.85, 78.37, 25.45, 80.15), 2))
    49.26
    """
    change = share * np.subtract(added_permittivity, added_reference_permittivity)
    change = change + np.subtract(1.0, share) * np.subtract(base_permittivity, base_reference_permittivity)
    return same_kind(np.maximum(reference_permittivity + change, 1.0))


@formula(
    equation="u = 0.3 + 0.2*abs(eps - e_0)",
    gives=("u", "what the relative permittivity of the mixture may be off by, either way"),
    where={
        "relative_permittivity": ("eps", "relative permittivity of the mixture at its temperature", "[1, 250]"),
        "reference_permittivity": ("e_0", "relative permittivity of the mixture at 20 degC", "[1, 250]"),
    },
    source="common-practice: 0.3 is the table against other sources at its ends; a fifth of the change has no source",
)
def warmed_mixture_half_width(relative_permittivity: Real, reference_permittivity: Real) -> Real:
    """Half width of the relative permittivity of ethanol with water by the table and what warmth adds to it.

    Example
    -------
    >>> float(round(warmed_mixture_half_width(49.26, 50.38), 2))
    0.52
    """
    change = np.abs(np.subtract(relative_permittivity, reference_permittivity))
    return same_kind(_ENDS_OFF_BY + _CHANGE_OFF_BY * change)
