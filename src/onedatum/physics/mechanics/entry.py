"""Getting a stem in: what the nozzle leaves a float, the height to bend a flexible stem in, what fills a tube."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula


@formula(
    equation="c = D_n - D_f",
    gives=("c", "gap left in the nozzle, over both sides; negative where the part does not pass"),
    where={
        "nozzle_diameter_m": ("D_n", "inside diameter of the nozzle", "(0, 5]"),
        "passing_diameter_m": ("D_f", "largest diameter of what goes through", "(0, 5]"),
    },
    source="derived: difference",
)
def nozzle_clearance_m(nozzle_diameter_m: Real, passing_diameter_m: Real) -> Real:
    """What a nozzle leaves of its bore beside a float, a weight or a stem that goes through.

    Example
    -------
    >>> round(nozzle_clearance_m(0.0825, 0.0525), 4)
    0.03
    """
    return nozzle_diameter_m - passing_diameter_m


@formula(
    equation="H = l + R",
    gives=("H", "clear height needed over the flange face"),
    where={
        "stiff_length_m": ("l", "longest stiff part that goes in upright: weight, head or end of the stem", "[0, 10]"),
        "bend_radius_m": ("R", "least bend radius of the stem", "[0, 10]"),
    },
    source="derived: quarter of a circle over the stiff part",
)
def entry_height_m(stiff_length_m: Real, bend_radius_m: Real) -> Real:
    """Clear height that a flexible stem needs over its flange face: its length does not count, its bend does.

    The stiff part stands upright over the nozzle; above it the stem bends over with its least radius to the side, where
    the rest of it lies level or lower.

    Example
    -------
    >>> round(entry_height_m(0.15, 0.4), 2)
    0.55
    """
    return stiff_length_m + bend_radius_m


@formula(
    equation="m_f = m + pi/4*rho_c*d_i**2",
    gives=("m_f", "mass per length with what fills the tube"),
    where={
        "line_mass_kg_per_m": (
            "m",
            "mass per length of the tube, with the liquid it displaces if it stands in one",
            "[0, 1000]",
        ),
        "contents_density_kg_per_m3": ("rho_c", "density of what fills the tube", "[0, 20000]"),
        "inside_diameter_m": ("d_i", "inside diameter of the tube", "[0, 0.5]"),
    },
    source="derived: what fills a tube swings with it",
)
def filled_line_mass_kg_per_m(
    line_mass_kg_per_m: Real, contents_density_kg_per_m3: Real, inside_diameter_m: Real
) -> Real:
    """Mass per length of a stem that is not empty: a pipe flooded, a tube with a filling.

    Example
    -------
    >>> round(filled_line_mass_kg_per_m(0.3859, 998.0, 0.010), 4)
    0.4643
    """
    return line_mass_kg_per_m + np.pi / 4 * contents_density_kg_per_m3 * inside_diameter_m**2
