"""What ferromagnetic matter near a magnet does: a chamber wall that takes the field, particles that gather."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_MU_0 = 4e-7 * np.pi


@formula(
    equation="S = 1 + (mu_r - 1)**2/(4*mu_r)*(1 - r_i**2/r_o**2)",
    gives=("S", "field without the wall over field behind it"),
    where={
        "relative_permeability": ("mu_r", "relative permeability of the wall", "[1, 100000]"),
        "inner_radius_m": ("r_i", "inside radius of the wall", "(0, 5)"),
        "outer_radius_m": ("r_o", "outside radius of the wall", "(0, 5]"),
    },
    requires=(("r_i < r_o", "a wall has a thickness"),),
    source="magnetostatics: long cylinder across an even field",
)
def wall_reduction(relative_permeability: Real, inner_radius_m: Real, outer_radius_m: Real) -> Real:
    """By how much the wall of a long chamber weakens a field across it.

    For an even field and a wall whose permeability does not change with the field; near a magnet an estimate.

    Example
    -------
    >>> round(wall_reduction(200.0, 0.0274, 0.0302), 4)
    9.7535
    """
    thickness_share = 1 - (inner_radius_m / outer_radius_m) ** 2
    return 1 + (relative_permeability - 1) ** 2 / (4 * relative_permeability) * thickness_share


@formula(
    equation="B = B_0/S",
    gives=("B", "field behind the wall"),
    where={
        "field_T": ("B_0", "field without the wall", "[-2, 2]"),
        "reduction": ("S", "field without the wall over field behind it", "[1, 1000000]"),
    },
    source="magnetostatics: long cylinder across an even field",
)
def side_field_after_wall_T(field_T: Real, reduction: Real) -> Real:
    """Field that the wall of a chamber leaves of that beside a float.

    Example
    -------
    >>> round(side_field_after_wall_T(-0.0117, 9.7535), 5)
    -0.0012
    """
    return field_T / reduction


@formula(
    equation="w = 3*abs(B)*abs(B_r1)/(4e-7*pi*(rho_p - rho_l)*g)",
    gives=("w", "pull of the magnet over the weight of the particle in the liquid"),
    where={
        "field_T": ("B", "field at the particle", "[-2, 2]"),
        "gradient_T_per_m": ("B_r1", "change of the field per distance at the particle", "[-1000, 1000]"),
        "particle_density_kg_per_m3": ("rho_p", "density of the particle", "(0, 20000]"),
        "liquid_density_kg_per_m3": ("rho_l", "density of the liquid", "[0, 20000)"),
        "gravity_m_per_s2": ("g", "acceleration of free fall", "[9.7, 9.9]"),
    },
    requires=(("rho_p > rho_l", "the particle is denser than the liquid"),),
    source="magnetostatics: small sphere of high permeability, F = 3*V*B*dB/dr/mu_0",
)
def particle_force_ratio(
    field_T: Real,
    gradient_T_per_m: Real,
    particle_density_kg_per_m3: Real,
    liquid_density_kg_per_m3: Real,
    gravity_m_per_s2: Real,
) -> Real:
    """Pull of a magnet on a ferromagnetic particle over its weight in the liquid, whatever the size of the particle.

    For a sphere, small against the distance and far from saturation: close to a strong magnet the pull is less.

    Example
    -------
    >>> float(round(particle_force_ratio(0.1312, 19.21, 7800.0, 1000.0, 9.81), 1))
    90.2
    """
    weight_per_volume = (particle_density_kg_per_m3 - liquid_density_kg_per_m3) * gravity_m_per_s2
    return 3 * np.abs(field_T) * np.abs(gradient_T_per_m) / (_MU_0 * weight_per_volume)


@formula(
    equation="c = max(n*D, c_0)",
    gives=("c", "distance to keep free of ferromagnetic parts and other magnets"),
    where={
        "chamber_diameter_m": ("D", "outside diameter of the chamber", "(0, 2]"),
        "diameters": ("n", "distance in diameters of the chamber", "[0, 100]"),
        "least_m": ("c_0", "distance for the smallest chambers", "[0, 10]"),
    },
    source="common-practice: ferromagnetic surroundings of a chamber",
)
def clear_distance_m(chamber_diameter_m: Real, diameters: Real, least_m: Real) -> Real:
    """Distance around a chamber within which steel and other magnets distort the field of its float.

    Example
    -------
    >>> float(round(clear_distance_m(0.0604, 2.0, 0.1), 4))
    0.1208
    """
    return np.maximum(diameters * chamber_diameter_m, least_m)
