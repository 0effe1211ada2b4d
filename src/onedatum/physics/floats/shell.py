"""Walls of hollow balls under pressure from outside: buckling and yield.

Results are pressure outside less pressure inside. The formulas of perfect shells are far above what real shells bear:
the knockdown and the factors of safety bring them down.
"""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real, same_kind
from onedatum.foundation.working import formula

_MODULUS = ("E", "elastic modulus at temperature", "[1e6, 1e12]")
_POISSON = ("nu", "Poisson's ratio", "[0, 0.49]")
_YIELD = ("sigma_y", "yield strength at temperature", "[1e5, 5e9]")
_RADIUS = ("R", "mean radius of the wall", "[0.001, 1]")
_WALL = ("t", "least thickness of the wall", "[0.00001, 0.1]")
_THIN = ("t < 0.2*R", "the wall is thin against its radius")
_MODES = np.arange(2, 400, dtype=np.float64)
"""Modes of buckling that are tried; the least lies far below the last for walls within the validity."""


@formula(
    equation="p = 2*E/sqrt(3*(1 - nu**2))*(t/R)**2",
    gives=("p", "pressure at which a perfect ball buckles"),
    where={"elastic_modulus_Pa": _MODULUS, "poisson_ratio": _POISSON, "radius_m": _RADIUS, "wall_m": _WALL},
    requires=(_THIN,),
    source="zoelly-1915",
)
def sphere_buckling_difference_Pa(elastic_modulus_Pa: Real, poisson_ratio: Real, radius_m: Real, wall_m: Real) -> Real:
    """Pressure at which a perfect thin ball buckles; real ones do at a fraction of it.

    Example
    -------
    >>> round(float(sphere_buckling_difference_Pa(193e9, 0.3, 0.026, 0.0005)) / 1e5, 3)
    863.971
    """
    return 2 * elastic_modulus_Pa / np.sqrt(3 * (1 - poisson_ratio**2)) * (wall_m / radius_m) ** 2


@formula(
    method=(
        "least over whole Legendre modes n from 2 on of 2*E*t/(R*(1 - nu^2))*(1 - nu^2 + a*(l^2 + 2*l + (1 + nu)^2))"
        "/(l + 1 + 3*nu), l = n*(n + 1) - 2, a = t^2/(12*R^2)"
    ),
    gives=("p", "pressure at which a perfect ball buckles, by its modes"),
    where={"elastic_modulus_Pa": _MODULUS, "poisson_ratio": _POISSON, "radius_m": _RADIUS, "wall_m": _WALL},
    requires=(_THIN, ("t > 0.0002*R", "the modes tried reach that far")),
    source="timoshenko-gere",
)
def sphere_modes_difference_Pa(elastic_modulus_Pa: Real, poisson_ratio: Real, radius_m: Real, wall_m: Real) -> Real:
    """Pressure at which a perfect thin ball buckles, by linear shell theory mode by mode.

    Example
    -------
    >>> float(round(sphere_modes_difference_Pa(193e9, 0.3, 0.026, 0.0005) / 1e5, 2))
    860.87
    """
    modulus, ratio, radius, wall = (
        np.asarray(part, dtype=np.float64)[..., None]
        for part in np.broadcast_arrays(elastic_modulus_Pa, poisson_ratio, radius_m, wall_m)
    )
    order, slender = _MODES * (_MODES + 1) - 2, wall**2 / (12 * radius**2)
    bent = 1 - ratio**2 + slender * (order**2 + 2 * order + (1 + ratio) ** 2)
    each = 2 * modulus * wall / (radius * (1 - ratio**2)) * bent / (order + 1 + 3 * ratio)
    return same_kind(each.min(axis=-1))


@formula(
    equation="k = 0.14 + 3.2/l**2",
    gives=("k", "share of the perfect buckling pressure that tests reach at least"),
    where={"slenderness": ("l", "slenderness of the cap", "[2, 1000]")},
    source="nasa-sp-8032: lower bound for caps",
)
def knockdown(slenderness: Real) -> Real:
    """Share of the perfect buckling pressure that spherical caps bear at least.

    Read for thin elastic clamped caps, R/t from 50 to 400; a whole ball is taken at 0.14.

    Example
    -------
    >>> round(knockdown(20.0), 3)
    0.148
    """
    return 0.14 + 3.2 / slenderness**2


@formula(
    equation="l = (12*(1 - nu**2))**0.25*sqrt(R/t)*2*sin(phi/2)",
    gives=("l", "slenderness of a cap"),
    where={
        "poisson_ratio": _POISSON,
        "radius_m": _RADIUS,
        "wall_m": _WALL,
        "half_angle_rad": ("phi", "half the opening angle of the cap", "(0, 3.1415]"),
    },
    requires=(_THIN,),
    source="nasa-sp-8032: geometry parameter",
)
def cap_slenderness(poisson_ratio: Real, radius_m: Real, wall_m: Real, half_angle_rad: Real) -> Real:
    """Slenderness of a spherical cap.

    Example
    -------
    >>> round(float(cap_slenderness(0.3, 0.026, 0.0005, 1.5708)), 2)
    18.54
    """
    return (12 * (1 - poisson_ratio**2)) ** 0.25 * np.sqrt(radius_m / wall_m) * 2 * np.sin(half_angle_rad / 2)


@formula(
    equation="p = 2*sigma_y*t/R",
    gives=("p", "pressure at which the wall of a ball yields"),
    where={"yield_Pa": _YIELD, "radius_m": _RADIUS, "wall_m": _WALL},
    requires=(_THIN,),
    source="derived: membrane of a thin ball",
)
def sphere_yield_difference_Pa(yield_Pa: Real, radius_m: Real, wall_m: Real) -> Real:
    """Pressure at which the wall of a thin ball yields; some per cent on the unsafe side of the thick form.

    Example
    -------
    >>> round(sphere_yield_difference_Pa(170e6, 0.0256, 0.0008) / 1e5, 2)
    106.25
    """
    return 2 * yield_Pa * wall_m / radius_m


@formula(
    equation="p = 2*sigma_y*(r_o**3 - r_i**3)/(3*r_o**3)",
    gives=("p", "pressure at which the inner face of a ball yields"),
    where={
        "yield_Pa": _YIELD,
        "outer_radius_m": ("r_o", "outside radius", "[0.001, 1]"),
        "inner_radius_m": ("r_i", "inside radius", "[0, 1)"),
    },
    requires=(("r_i < r_o", "a ball has a wall"),),
    source="lame: hoop stress at the inner surface",
)
def sphere_yield_thick_difference_Pa(yield_Pa: Real, outer_radius_m: Real, inner_radius_m: Real) -> Real:
    """Pressure at which the inner face of a ball of any wall yields.

    Example
    -------
    >>> round(sphere_yield_thick_difference_Pa(170e6, 0.0260, 0.0252) / 1e5, 3)
    101.429
    """
    return 2 * yield_Pa * (outer_radius_m**3 - inner_radius_m**3) / (3 * outer_radius_m**3)
