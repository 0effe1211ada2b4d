"""Principles that read the density as level: what its range makes of the level, and the head of a reference leg."""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula


@formula(
    equation="e = (rho_2 - rho_1)/(rho_2 + rho_1)*h",
    gives=("e", "error of the level at both ends of the density"),
    where={
        "greatest_density_kg_per_m3": ("rho_2", "greatest density of the liquid", "(0, 20000]"),
        "least_density_kg_per_m3": ("rho_1", "least density of the liquid", "(0, 20000]"),
        "level_m": ("h", "height of the liquid above the sensor", "[-100, 1000]"),
    },
    source="derived: hydrostatic head, set at the mean of both densities",
)
def head_density_error_m(greatest_density_kg_per_m3: Real, least_density_kg_per_m3: Real, level_m: Real) -> Real:
    """What the range of the density makes of a level that is read from a head and set at the middle of that range.

    Example
    -------
    >>> round(head_density_error_m(902.6, 877.8, 2.85), 4)
    0.0397
    """
    both = greatest_density_kg_per_m3 + least_density_kg_per_m3
    return (greatest_density_kg_per_m3 - least_density_kg_per_m3) / both * level_m


@formula(
    equation="q = rho_L*(a + b)/((rho - rho_g)*s)",
    gives=("q", "head of the reference leg over the span"),
    where={
        "leg_density_kg_per_m3": ("rho_L", "density of the filling of the leg", "[0, 20000]"),
        "tap_distance_m": ("a", "distance of the taps", "[0, 1000]"),
        "below_m": ("b", "how far the transmitter lies below the lower tap", "[-1000, 1000]"),
        "liquid_density_kg_per_m3": ("rho", "density of the liquid", "(0, 20000]"),
        "gas_density_kg_per_m3": ("rho_g", "density of what stands above the liquid", "[0, 20000]"),
        "span_m": ("s", "span of the level", "(0, 1000]"),
    },
    requires=(("rho_g < rho", "a liquid is heavier than what stands above it"),),
    source="derived: heads of two columns",
)
def leg_head_share(
    leg_density_kg_per_m3: Real,
    tap_distance_m: Real,
    below_m: Real,
    liquid_density_kg_per_m3: Real,
    gas_density_kg_per_m3: Real,
    span_m: Real,
) -> Real:
    """Head of a reference leg over that of the whole span: above one the transmitter measures a small part of it.

    Example
    -------
    >>> round(leg_head_share(993.97, 0.7, 0.0, 796.16, 20.608, 0.6), 4)
    1.4952
    """
    head = leg_density_kg_per_m3 * (tap_distance_m + below_m)
    return head / ((liquid_density_kg_per_m3 - gas_density_kg_per_m3) * span_m)
