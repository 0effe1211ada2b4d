"""Radii of the walls of a float from the dimensions it is ordered by, and margins of pressure."""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_DIAMETER = ("D", "outside diameter of the float", "(0, 1]")
_BORE = ("d", "bore of the float", "[0, 1]")
_WALL = ("t", "thickness of the wall", "(0, 0.1]")


@formula(
    equation="r = D/2",
    gives=("r", "radius"),
    where={"diameter_m": ("D", "diameter", "[0, 2]")},
    source="derived: half",
)
def radius_m(diameter_m: Real) -> Real:
    """Radius of anything round.

    Example
    -------
    >>> radius_m(0.031)
    0.0155
    """
    return diameter_m / 2


@formula(
    equation="R = (D - t)/2",
    gives=("R", "mean radius of the wall"),
    where={"diameter_m": _DIAMETER, "wall_m": _WALL},
    requires=(("t < D/2", "a float is hollow"),),
    source="derived: middle of the wall",
)
def wall_radius_m(diameter_m: Real, wall_m: Real) -> Real:
    """Mean radius of the outer wall of a float.

    Example
    -------
    >>> round(wall_radius_m(0.0525, 0.0005), 4)
    0.026
    """
    return (diameter_m - wall_m) / 2


@formula(
    equation="R = (d + t)/2",
    gives=("R", "mean radius of the tube of the bore"),
    where={"bore_m": _BORE, "wall_m": _WALL},
    source="derived: middle of the wall",
)
def tube_radius_m(bore_m: Real, wall_m: Real) -> Real:
    """Mean radius of the tube that lines the bore of a float.

    Example
    -------
    >>> round(tube_radius_m(0.016, 0.0005), 5)
    0.00825
    """
    return (bore_m + wall_m) / 2


@formula(
    equation="r_o = D/2 - t",
    gives=("r_o", "radius at which a flat end meets the outer wall"),
    where={"diameter_m": _DIAMETER, "wall_m": _WALL},
    requires=(("t < D/2", "a float is hollow"),),
    source="derived: inside of the wall",
)
def end_outer_radius_m(diameter_m: Real, wall_m: Real) -> Real:
    """Radius at which a flat end meets the outer wall.

    Example
    -------
    >>> round(end_outer_radius_m(0.0525, 0.0005), 5)
    0.02575
    """
    return diameter_m / 2 - wall_m


@formula(
    equation="r_i = d/2 + t",
    gives=("r_i", "radius at which a flat end meets the tube of the bore"),
    where={"bore_m": _BORE, "wall_m": _WALL},
    source="derived: outside of the tube",
)
def end_inner_radius_m(bore_m: Real, wall_m: Real) -> Real:
    """Radius at which a flat end meets the tube of the bore.

    Example
    -------
    >>> round(end_inner_radius_m(0.016, 0.0005), 5)
    0.0085
    """
    return bore_m / 2 + wall_m


@formula(
    equation="dp = p_a - p",
    gives=("dp", "pressure left to the limit, negative beyond it"),
    where={
        "allowed_Pa_gauge": ("p_a", "pressure allowed", "[-200000, 1e12]"),
        "acting_Pa_gauge": ("p", "pressure that acts", "[-200000, 1e12]"),
    },
    source="derived: difference",
)
def pressure_margin_Pa(allowed_Pa_gauge: Real, acting_Pa_gauge: Real) -> Real:
    """Pressure left to a limit; both count from the atmosphere, at which a float is sealed.

    Example
    -------
    >>> pressure_margin_Pa(1000000.0, 600000.0)
    400000.0
    """
    return allowed_Pa_gauge - acting_Pa_gauge


@formula(
    equation="p = dp",
    gives=("p", "pressure above the atmosphere that the float is allowed"),
    where={
        "allowed_difference_Pa": ("dp", "pressure outside less pressure inside that its walls are allowed", "[0, 1e12]")
    },
    source="derived: sealed at the pressure of the atmosphere",
)
def allowed_Pa_gauge(allowed_difference_Pa: Real) -> Real:
    """Pressure above the atmosphere that a float sealed at the atmosphere is allowed.

    Example
    -------
    >>> allowed_Pa_gauge(1000000.0)
    1000000.0
    """
    return allowed_difference_Pa + 0.0


@formula(
    equation="dT = T_lim - T",
    gives=("dT", "temperature left to the limit, negative beyond it"),
    where={
        "limit_K": ("T_lim", "limiting temperature", "[0, 2000]"),
        "value_K": ("T", "temperature compared with it", "[0, 2000]"),
    },
    source="derived: difference",
)
def temperature_margin_K(limit_K: Real, value_K: Real) -> Real:
    """Temperature left to a limit.

    Example
    -------
    >>> temperature_margin_K(363.15, 343.15)
    20.0
    """
    return limit_K - value_K


@formula(
    equation="d = rho_lim - rho",
    gives=("d", "density left to the limit, negative beyond it"),
    where={
        "limit_kg_per_m3": ("rho_lim", "limiting density, or window", "[-20000, 20000]"),
        "value_kg_per_m3": ("rho", "density or window compared with it", "[-20000, 20000]"),
    },
    source="derived: difference",
)
def density_margin_kg_per_m3(limit_kg_per_m3: Real, value_kg_per_m3: Real) -> Real:
    """Density left to a limit.

    Example
    -------
    >>> density_margin_kg_per_m3(998.0, 830.0)
    168.0
    """
    return limit_kg_per_m3 - value_kg_per_m3
