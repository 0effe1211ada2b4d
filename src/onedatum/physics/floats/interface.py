"""A float between two liquids: it rides as any float does, the upper liquid in the place of the gas."""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_LOWER = ("rho_l", "density of the lower liquid", "(0, 20000]")
_UPPER = ("rho_u", "density of the upper liquid", "[0, 20000]")


@formula(
    equation="d = rho_l - rho_u",
    gives=("d", "window of density between the two liquids"),
    where={"lower_density_kg_per_m3": _LOWER, "upper_density_kg_per_m3": _UPPER},
    source="derived: difference",
)
def density_window_kg_per_m3(lower_density_kg_per_m3: Real, upper_density_kg_per_m3: Real) -> Real:
    """Window of density in which an interface float must lie; not above zero where the liquids change places.

    Example
    -------
    >>> density_window_kg_per_m3(998.0, 830.0)
    168.0
    """
    return lower_density_kg_per_m3 - upper_density_kg_per_m3


@formula(
    equation="rho_a = (rho_l + rho_u)/2",
    gives=("rho_a", "density in the middle between the two liquids"),
    where={"lower_density_kg_per_m3": _LOWER, "upper_density_kg_per_m3": _UPPER},
    source="common-practice: the float is aimed at the middle, as far from the one liquid as from the other",
)
def middle_density_kg_per_m3(lower_density_kg_per_m3: Real, upper_density_kg_per_m3: Real) -> Real:
    """Mean density at which an interface float rides half in each liquid.

    Example
    -------
    >>> middle_density_kg_per_m3(998.0, 830.0)
    914.0
    """
    return (lower_density_kg_per_m3 + upper_density_kg_per_m3) / 2


@formula(
    equation="w = (rho_m - rho_u)/(rho_l - rho_u)",
    gives=("w", "place of the float in the window: 0 as the upper liquid, 1 as the lower"),
    where={
        "float_density_kg_per_m3": ("rho_m", "mean density of the float", "(0, 30000]"),
        "upper_density_kg_per_m3": _UPPER,
        "lower_density_kg_per_m3": _LOWER,
    },
    requires=(("rho_l > rho_u", "the heavier liquid lies below"),),
    source="archimedes: share of the float that the lower liquid carries",
)
def window_share(float_density_kg_per_m3: Real, upper_density_kg_per_m3: Real, lower_density_kg_per_m3: Real) -> Real:
    """Place of an interface float between its two liquids: in the middle is best.

    Example
    -------
    >>> round(window_share(912.0, 830.0, 998.0), 3)
    0.488
    """
    return (float_density_kg_per_m3 - upper_density_kg_per_m3) / (lower_density_kg_per_m3 - upper_density_kg_per_m3)


@formula(
    equation="k = k_1*k_2/(k_1 + k_2)",
    gives=("k", "stiffness of two floats against a force between them"),
    where={
        "first_N_per_m": ("k_1", "force per depth of the upper float", "(0, 100000]"),
        "second_N_per_m": ("k_2", "force per depth of the lower float", "(0, 100000]"),
    },
    source="derived: two springs in series",
)
def combined_stiffness_N_per_m(first_N_per_m: Real, second_N_per_m: Real) -> Real:
    """Stiffness of two floats against a force that draws them together.

    Example
    -------
    >>> round(combined_stiffness_N_per_m(17.746, 2.3667), 4)
    2.0882
    """
    return first_N_per_m * second_N_per_m / (first_N_per_m + second_N_per_m)
