"""Walls of hollow cylinders and rings under pressure from outside, and of the tube in a bore, pressed from within.

Results are pressure outside the float less pressure in its hollow. The formulas are those of perfect shells.
"""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real, in_blocks, same_kind
from onedatum.foundation.working import formula

_MODULUS = ("E", "elastic modulus at temperature", "[1e6, 1e12]")
_POISSON = ("nu", "Poisson's ratio", "[0, 0.49]")
_YIELD = ("sigma_y", "yield strength at temperature", "[1e5, 5e9]")
_RADIUS = ("R", "mean radius of the wall", "[0.001, 1]")
_WALL = ("t", "least thickness of the wall", "[0.00001, 0.1]")
_LENGTH = ("L", "length between stiff ends", "[0.002, 2]")
_THIN = ("t < 0.2*R", "the wall is thin against its radius")
BLOCK = 512
"""Cylinders worked at once, each with all its lobes."""
_MODES = np.arange(2, 400, dtype=np.float64)
"""Lobes of buckling that are tried; the least lies far below the last for walls within the validity."""


@formula(
    equation="p = 2.42*E/(1 - nu**2)**0.75*(t/(2*R))**2.5/(L/(2*R) - 0.45*sqrt(t/(2*R)))",
    gives=("p", "pressure at which a short cylinder buckles"),
    where={
        "elastic_modulus_Pa": _MODULUS,
        "poisson_ratio": _POISSON,
        "radius_m": _RADIUS,
        "wall_m": _WALL,
        "length_m": _LENGTH,
    },
    requires=(_THIN, ("L > R", "shorter ones are held by their ends"), ("L < 12*R", "longer ones buckle as a tube")),
    source="windenburg-trilling",
)
def short_cylinder_buckling_difference_Pa(
    elastic_modulus_Pa: Real, poisson_ratio: Real, radius_m: Real, wall_m: Real, length_m: Real
) -> Real:
    """Pressure from all sides at which a short cylinder buckles; within 1.4 % of the modes here, 10 % where n = 2.

    Example
    -------
    >>> round(float(short_cylinder_buckling_difference_Pa(193e9, 0.3, 0.025, 0.0005, 0.060)) / 1e5, 3)
    43.402
    """
    wall, length = wall_m / (2 * radius_m), length_m / (2 * radius_m)
    return 2.42 * elastic_modulus_Pa / (1 - poisson_ratio**2) ** 0.75 * wall**2.5 / (length - 0.45 * np.sqrt(wall))


@formula(
    method=(
        "least over whole lobes n from 2 on of E*t/R/(n^2 - 1 + Z/2)*(1/(n^2/Z + 1)^2 + "
        "t^2*(n^2 - 1 + Z)^2/(12*R^2*(1 - nu^2))), Z = (pi*R/L)^2"
    ),
    gives=("p", "pressure at which a cylinder buckles, by its lobes"),
    where={
        "elastic_modulus_Pa": _MODULUS,
        "poisson_ratio": _POISSON,
        "radius_m": _RADIUS,
        "wall_m": _WALL,
        "length_m": _LENGTH,
    },
    requires=(_THIN, ("t > 0.0002*R", "the lobes tried reach that far"), ("L > 0.05*R", "shorter ones are rings")),
    source="von-mises",
)
def cylinder_modes_difference_Pa(
    elastic_modulus_Pa: Real, poisson_ratio: Real, radius_m: Real, wall_m: Real, length_m: Real
) -> Real:
    """Pressure from all sides at which a perfect cylinder between simply held ends buckles.

    Example
    -------
    >>> float(round(cylinder_modes_difference_Pa(193e9, 0.3, 0.025, 0.0005, 0.060) / 1e5, 3))
    43.999
    """
    return in_blocks(_least_of_lobes, elastic_modulus_Pa, poisson_ratio, radius_m, wall_m, length_m, size=BLOCK)


def _least_of_lobes(
    elastic_modulus_Pa: Real, poisson_ratio: Real, radius_m: Real, wall_m: Real, length_m: Real
) -> Real:
    modulus, ratio, radius, wall, length = (
        np.asarray(part)[..., None] for part in (elastic_modulus_Pa, poisson_ratio, radius_m, wall_m, length_m)
    )
    lobes, waves = _MODES**2, (np.pi * radius / length) ** 2
    stretched = 1 / (lobes / waves + 1) ** 2
    bent = wall**2 * (lobes - 1 + waves) ** 2 / (12 * radius**2 * (1 - ratio**2))
    each = modulus * wall / radius / (lobes - 1 + waves / 2) * (stretched + bent)
    return same_kind(each.min(axis=-1))


@formula(
    equation="p = 2*E/(1 - nu**2)*(t/(2*R))**3",
    gives=("p", "pressure at which a long tube buckles"),
    where={"elastic_modulus_Pa": _MODULUS, "poisson_ratio": _POISSON, "radius_m": _RADIUS, "wall_m": _WALL},
    requires=(_THIN,),
    source="von-mises: no ends near, two lobes",
)
def long_tube_buckling_difference_Pa(
    elastic_modulus_Pa: Real, poisson_ratio: Real, radius_m: Real, wall_m: Real
) -> Real:
    """Pressure at which a tube far from its ends buckles.

    Example
    -------
    >>> round(long_tube_buckling_difference_Pa(193e9, 0.3, 0.025, 0.0005) / 1e5, 3)
    4.242
    """
    return 2 * elastic_modulus_Pa / (1 - poisson_ratio**2) * (wall_m / (2 * radius_m)) ** 3


@formula(
    equation="p = sigma_y*t/R",
    gives=("p", "pressure at which the wall of a cylinder yields"),
    where={"yield_Pa": _YIELD, "radius_m": _RADIUS, "wall_m": _WALL},
    requires=(_THIN,),
    source="derived: hoop of a thin cylinder",
)
def cylinder_yield_difference_Pa(yield_Pa: Real, radius_m: Real, wall_m: Real) -> Real:
    """Pressure at which the wall of a cylinder yields.

    Example
    -------
    >>> round(cylinder_yield_difference_Pa(170e6, 0.025, 0.0005) / 1e5, 3)
    34.0
    """
    return yield_Pa * wall_m / radius_m


@formula(
    equation="p = sigma_y*((r + t)**2 - r**2)/((r + t)**2 + r**2)",
    gives=("p", "pressure at which the tube of the bore yields"),
    where={
        "yield_Pa": _YIELD,
        "bore_radius_m": ("r", "radius of the bore, the inside of its tube", "[0.001, 1]"),
        "wall_m": _WALL,
    },
    source="lame: hoop stress at the inner surface of a tube under pressure from within",
)
def bore_tube_yield_difference_Pa(yield_Pa: Real, bore_radius_m: Real, wall_m: Real) -> Real:
    """Pressure at which the tube through the float yields: the liquid in the bore stretches it.

    Its welds to the float are the usual weak point; no formula stands for them.

    Example
    -------
    >>> round(bore_tube_yield_difference_Pa(170e6, 0.0065, 0.0005) / 1e5, 2)
    125.75
    """
    inner, outer = bore_radius_m**2, (bore_radius_m + wall_m) ** 2
    return yield_Pa * (outer - inner) / (outer + inner)


@formula(
    equation="p = 2*sigma_y*t*(R_c - r)/(r*(2*R_c - r))",
    gives=("p", "pressure at which the wall of a ring yields"),
    where={
        "yield_Pa": _YIELD,
        "tube_radius_m": ("r", "mean radius of the tube of the ring", "[0.001, 0.5]"),
        "centre_radius_m": ("R_c", "radius of the centre line of the ring", "[0.001, 1]"),
        "wall_m": _WALL,
    },
    requires=(("R_c > r", "the ring leaves room for the stem"), ("t < 0.2*r", "the wall is thin against its radius")),
    source="derived: membrane of a ring, at its innermost line, by the balance of forces along the stem",
)
def ring_yield_difference_Pa(yield_Pa: Real, tube_radius_m: Real, centre_radius_m: Real, wall_m: Real) -> Real:
    """Pressure at which the wall of a ring float yields: first where it is nearest to the stem.

    Example
    -------
    >>> round(ring_yield_difference_Pa(170e6, 0.012, 0.030, 0.0005) / 1e5, 2)
    53.12
    """
    inner = centre_radius_m - tube_radius_m
    return 2 * yield_Pa * wall_m * inner / (tube_radius_m * (centre_radius_m + inner))
