"""Two columns on the same pipes: the level in a chamber against the level in the vessel.

Heights count from the lower tap. Above both columns stands the same gas; below them the pressure is the same, so the
column that is denser stands lower. The distance of the taps cancels.
"""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_LEVEL = ("h", "level in the vessel above the lower tap", "[-10, 100]")
_IN_CHAMBER = ("h_c", "level in the chamber above the lower tap", "[-10, 100]")
_FACTOR = ("k", "level in the chamber over level in the vessel", "(0, 20]")
_SHIFT = ("dh_c", "shift of the level in the chamber by its lower line, 0 for a level line", "[-10, 10]")
_LIQUID = ("rho_w", "density of the liquid in the vessel", "(0, 20000]")
_CHAMBER = ("rho_c", "mean density of the column in the chamber", "(0, 20000]")
_GAS = ("rho_s", "density of the gas or vapour above", "[0, 1000]")
_SINKS = ("rho_s < rho_c", "the column is denser than the gas above it")
_FLOATS = ("rho_s < rho_w", "the liquid is denser than the gas above it")
_BALANCE = "derived: the same pressure at the lower tap from both columns"


@formula(
    equation="k = (rho_w - rho_s)/(rho_c - rho_s)",
    gives=("k", "level in the chamber over level in the vessel"),
    where={
        "liquid_density_kg_per_m3": _LIQUID,
        "chamber_density_kg_per_m3": _CHAMBER,
        "gas_density_kg_per_m3": _GAS,
    },
    requires=(_SINKS, _FLOATS),
    source=_BALANCE,
)
def column_factor(liquid_density_kg_per_m3: Real, chamber_density_kg_per_m3: Real, gas_density_kg_per_m3: Real) -> Real:
    """Level in the chamber over level in the vessel: below 1 where the chamber is the cooler.

    Example
    -------
    >>> round(column_factor(796.16, 919.05, 20.608), 5)
    0.86322
    """
    weight_in_chamber = chamber_density_kg_per_m3 - gas_density_kg_per_m3
    return (liquid_density_kg_per_m3 - gas_density_kg_per_m3) / weight_in_chamber


@formula(
    equation="h_c = k*h + dh_c",
    gives=("h_c", "level in the chamber above the lower tap"),
    where={"level_m": _LEVEL, "factor": _FACTOR, "shift_m": _SHIFT},
    source=_BALANCE,
)
def chamber_level_m(level_m: Real, factor: Real, shift_m: Real) -> Real:
    """Level in the chamber from the level in the vessel.

    Example
    -------
    >>> round(chamber_level_m(0.350, 0.86322, 0.0), 5)
    0.30213
    """
    return factor * level_m + shift_m


@formula(
    equation="h = (h_c - dh_c)/k",
    gives=("h", "level in the vessel above the lower tap"),
    where={"chamber_level_m": _IN_CHAMBER, "factor": _FACTOR, "shift_m": _SHIFT},
    source=_BALANCE,
)
def vessel_level_m(chamber_level_m: Real, factor: Real, shift_m: Real) -> Real:
    """Level in the vessel from the level in the chamber.

    Example
    -------
    >>> round(vessel_level_m(0.30213, 0.86322, 0.0), 4)
    0.35
    """
    return (chamber_level_m - shift_m) / factor


@formula(
    equation="h = h_4 + (h_c - h_c4)*(h_20 - h_4)/(h_c20 - h_c4)",
    gives=("h", "level shown above the lower tap"),
    where={
        "chamber_level_m": _IN_CHAMBER,
        "lower_set_m": ("h_c4", "level in the chamber that 4 mA is set at", "[-10, 100]"),
        "upper_set_m": ("h_c20", "level in the chamber that 20 mA is set at", "[-10, 100]"),
        "lower_m": ("h_4", "level at 4 mA above the lower tap", "[-10, 100]"),
        "upper_m": ("h_20", "level at 20 mA above the lower tap", "[-10, 100]"),
    },
    requires=(("h_c4 != h_c20", "two points make a setting"),),
    source="derived: the straight line of the output",
)
def shown_by_setting_m(
    chamber_level_m: Real, lower_set_m: Real, upper_set_m: Real, lower_m: Real, upper_m: Real
) -> Real:
    """Level that an instrument on a chamber shows, its two ends set at levels in the chamber.

    Example
    -------
    >>> round(shown_by_setting_m(0.33174, 0.04316, 0.56109, 0.050, 0.650), 4)
    0.3843
    """
    share = (chamber_level_m - lower_set_m) / (upper_set_m - lower_set_m)
    return lower_m + share * (upper_m - lower_m)


@formula(
    equation="dh_c = -z*(rho_t - rho_c)/(rho_c - rho_s)",
    gives=("dh_c", "shift of the level in the chamber by its lower line"),
    where={
        "line_rise_m": ("z", "how much higher the lower line meets the chamber than the vessel", "[-10, 10]"),
        "line_density_kg_per_m3": ("rho_t", "density of the liquid in the lower line", "(0, 20000]"),
        "chamber_density_kg_per_m3": _CHAMBER,
        "gas_density_kg_per_m3": _GAS,
    },
    requires=(_SINKS,),
    source=_BALANCE,
)
def line_shift_m(
    line_rise_m: Real, line_density_kg_per_m3: Real, chamber_density_kg_per_m3: Real, gas_density_kg_per_m3: Real
) -> Real:
    """Shift of the level in a chamber whose lower line rises or falls and holds liquid of another density.

    The chamber level still counts from the height of the tap in the vessel.

    Example
    -------
    >>> round(line_shift_m(0.1, 990.0, 919.05, 20.608), 5)
    -0.0079
    """
    weight_in_chamber = chamber_density_kg_per_m3 - gas_density_kg_per_m3
    return -line_rise_m * (line_density_kg_per_m3 - chamber_density_kg_per_m3) / weight_in_chamber


@formula(
    equation="h_0 = (1 - e)*h",
    gives=("h_0", "level the liquid would stand at without its bubbles"),
    where={"level_m": _LEVEL, "void_share": ("e", "share of bubbles in the liquid below its surface", "[0, 1)")},
    source="derived: the bubbles weigh as the gas above",
)
def collapsed_level_m(level_m: Real, void_share: Real) -> Real:
    """Level of a liquid with bubbles as a chamber, a leg or anything that weighs its column sees it.

    Example
    -------
    >>> round(collapsed_level_m(0.350, 0.12), 4)
    0.308
    """
    return (1 - void_share) * level_m


@formula(
    equation="h_l = h - h_u",
    gives=("h_l", "height of the lower liquid above the lower tap"),
    where={
        "surface_m": ("h", "surface of the upper liquid above the lower tap", "[-10, 200]"),
        "upper_layer_m": ("h_u", "thickness of the upper liquid", "[0, 100]"),
    },
    source="derived: arithmetic of heights",
)
def lower_layer_m(surface_m: Real, upper_layer_m: Real) -> Real:
    """Height of a lower liquid under an upper one.

    Example
    -------
    >>> round(lower_layer_m(0.9, 0.5), 6)
    0.4
    """
    return surface_m - upper_layer_m


@formula(
    equation="h_c = (h_l*(rho_l - rho_s) + h_u*(rho_u - rho_s))/(rho_c - rho_s)",
    gives=("h_c", "level in a chamber that holds one liquid only"),
    where={
        "lower_layer_m": ("h_l", "height of the lower liquid above the lower tap", "[0, 100]"),
        "upper_layer_m": ("h_u", "thickness of the upper liquid", "[0, 100]"),
        "lower_density_kg_per_m3": ("rho_l", "density of the lower liquid", "(0, 20000]"),
        "upper_density_kg_per_m3": ("rho_u", "density of the upper liquid", "(0, 20000]"),
        "chamber_density_kg_per_m3": _CHAMBER,
        "gas_density_kg_per_m3": _GAS,
    },
    requires=(_SINKS,),
    source=_BALANCE,
)
def one_liquid_chamber_level_m(
    lower_layer_m: Real,
    upper_layer_m: Real,
    lower_density_kg_per_m3: Real,
    upper_density_kg_per_m3: Real,
    chamber_density_kg_per_m3: Real,
    gas_density_kg_per_m3: Real,
) -> Real:
    """Level in a chamber with two connections whose liquid is not that of the vessel: neither interface nor surface.

    Example
    -------
    >>> round(one_liquid_chamber_level_m(0.4, 0.5, 998.0, 800.0, 998.0, 0.0), 4)
    0.8008
    """
    lower = lower_layer_m * (lower_density_kg_per_m3 - gas_density_kg_per_m3)
    upper = upper_layer_m * (upper_density_kg_per_m3 - gas_density_kg_per_m3)
    return (lower + upper) / (chamber_density_kg_per_m3 - gas_density_kg_per_m3)


@formula(
    equation="rho_c = (rho_0 + 4*rho_1 + rho_2)/6",
    gives=("rho_c", "mean density of the column"),
    where={
        "bottom_density_kg_per_m3": ("rho_0", "density at the bottom of the column", "(0, 20000]"),
        "middle_density_kg_per_m3": ("rho_1", "density at the temperature halfway", "(0, 20000]"),
        "surface_density_kg_per_m3": ("rho_2", "density at the surface", "(0, 20000]"),
    },
    source="derived: Simpson's rule",
)
def three_point_mean_density_kg_per_m3(
    bottom_density_kg_per_m3: Real, middle_density_kg_per_m3: Real, surface_density_kg_per_m3: Real
) -> Real:
    """Mean density of a column whose temperature changes evenly, for a liquid that expands smoothly.

    Exact where the density is a curve of third degree in the temperature.

    Example
    -------
    >>> round(three_point_mean_density_kg_per_m3(850.0, 834.0, 817.0), 3)
    833.833
    """
    return (bottom_density_kg_per_m3 + 4 * middle_density_kg_per_m3 + surface_density_kg_per_m3) / 6


@formula(
    equation="T_1 = (T_0 + T_2)/2",
    gives=("T_1", "temperature halfway up the column"),
    where={
        "bottom_temperature_K": ("T_0", "temperature at the bottom of the column", "[70, 1300]"),
        "surface_temperature_K": ("T_2", "temperature at the surface", "[70, 1300]"),
    },
    source="derived",
)
def halfway_temperature_K(bottom_temperature_K: Real, surface_temperature_K: Real) -> Real:
    """Temperature halfway up a column whose temperature changes evenly.

    Example
    -------
    >>> halfway_temperature_K(300.0, 400.0)
    350.0
    """
    return (bottom_temperature_K + surface_temperature_K) / 2
