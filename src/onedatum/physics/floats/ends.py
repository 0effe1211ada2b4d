"""The flat ends of cylindrical floats: rings of plate between the wall outside and the tube of the bore.

A thin plate after Kirchhoff, held firmly at both rims, the same pressure q all over. With u the slope of the plate at
the radius r and D its stiffness, r d/dr(1/r d(r u)/dr) = q r^2/(2 D) + C: no slope at the rims, which are level. Real
ends are welded to walls that give way a little, so the rims are relieved and the span is strained more: a rating of the
maker or a test comes before this.
"""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real, same_kind
from onedatum.foundation.working import formula

_OUTER = ("r_o", "inside radius of the wall", "[0.002, 1]")
_INNER = ("r_i", "outside radius of the tube of the bore", "[0.001, 1)")
_WALL = ("t", "thickness of the end", "[0.0001, 0.1]")
_FACTOR = ("f", "bending stress over the pressure, for a thickness equal to the outer radius", "[1e-5, 10]")
_RING = ("r_i < 0.98*r_o", "the end spans from the tube to the wall")
_METHOD = (
    "greatest of the radial bending stresses 6*M/t^2 at both rims of a ring of plate held firmly at both, "
    "by the closed solution of Kirchhoff's equation"
)


@formula(
    method=_METHOD,
    gives=("f", "bending stress at the rim over the pressure, for a thickness equal to the outer radius"),
    where={"outer_radius_m": _OUTER, "inner_radius_m": _INNER},
    requires=(_RING,),
    source="kirchhoff-plate",
)
def flat_end_factor(outer_radius_m: Real, inner_radius_m: Real) -> Real:
    """Largest bending stress of a flat end over the pressure, times (t/r_o)^2.

    Example
    -------
    >>> float(round(flat_end_factor(0.025, 0.007), 4))
    0.3705
    """
    share = np.asarray(np.divide(inner_radius_m, outer_radius_m), dtype=np.float64)
    c1, c2, c3 = _constants(share)

    def moment(at: Real) -> Real:
        """Radial moment over q*r_o^2/16 where the slope is zero: there it is the derivative of the slope."""
        return 3 * at**2 + c1 - c2 / at**2 + c3 * (np.log(at) + 1)

    largest = np.maximum(np.abs(moment(1.0)), np.abs(moment(share)))
    return same_kind(6 * largest / 16)


def _constants(share: Real) -> tuple[Real, Real, Real]:
    """The constants of the slope r^3 + C1*r + C2/r + C3*r*ln(r), in units of q*r_o^3/(16*D) over r/r_o.

    No slope at either rim and no deflection of one against the other: the slope summed up from a to 1 is zero. The
    outer rim gives C1 = -1 - C2; the other two are solved.
    """
    a, log = share, np.log(share)
    d0, d1, d2, d3 = (1 - a**4) / 4, (1 - a**2) / 2, -log, -(1 - a**2) / 4 - a**2 / 2 * log
    rim = np.stack([np.stack([1 / a - a, a * log], -1), np.stack([d2 - d1, d3], -1)], -2)
    right = np.stack([a - a**3, d1 - d0], -1)[..., None]
    solved = np.linalg.solve(rim, right)[..., 0]
    return -1 - solved[..., 0], solved[..., 0], solved[..., 1]


@formula(
    equation="sigma = f*p*(r_o/t)**2",
    gives=("sigma", "largest bending stress of the end"),
    where={
        "factor": _FACTOR,
        "pressure_difference_Pa": ("p", "pressure outside less pressure inside", "[0, 1e9]"),
        "outer_radius_m": _OUTER,
        "wall_m": _WALL,
    },
    source="kirchhoff-plate",
)
def flat_end_stress_Pa(factor: Real, pressure_difference_Pa: Real, outer_radius_m: Real, wall_m: Real) -> Real:
    """Largest bending stress of a flat end with a bore, at one of its rims.

    Example
    -------
    >>> round(flat_end_stress_Pa(0.3705, 1e5, 0.025, 0.0005) / 1e6, 1)
    92.6
    """
    return factor * pressure_difference_Pa * (outer_radius_m / wall_m) ** 2


@formula(
    equation="p = sigma_y/f*(t/r_o)**2",
    gives=("p", "pressure at which the flat end yields at its rim"),
    where={
        "yield_Pa": ("sigma_y", "yield strength at temperature", "[1e5, 5e9]"),
        "factor": _FACTOR,
        "outer_radius_m": _OUTER,
        "wall_m": _WALL,
    },
    source="kirchhoff-plate",
)
def flat_end_yield_difference_Pa(yield_Pa: Real, factor: Real, outer_radius_m: Real, wall_m: Real) -> Real:
    """Pressure at which a flat end with a bore yields at one of its rims.

    Example
    -------
    >>> round(flat_end_yield_difference_Pa(170e6, 0.3705, 0.025, 0.0005) / 1e5, 2)
    1.84
    """
    return yield_Pa / factor * (wall_m / outer_radius_m) ** 2
