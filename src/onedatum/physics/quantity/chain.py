"""The chain from a level to a quantity, one step a formula.

reading -> level -> volume by the table -> volume in the warm or cold shell -> mass -> volume at 20 degC -> alcohol

Errors of the datum and of the table are parameters of the chain: zero in the result, varied in the budget.
"""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_VOLUME = "[0, 1000000]"
_MASS = "[0, 10000000000]"
_DENSITY = "(0, 20000]"
_AIR = "[0, 100]"
_TABLE_VOLUME = ("V_t", "volume by the table of the vessel", _VOLUME)
_STRENGTH = ("q", "strength, volume of alcohol at 20 degC in the volume of the mixture at 20 degC", "[0, 1]")


@formula(
    equation="h_1 = h + e",
    gives=("h_1", "level with an error of what measures"),
    where={
        "reading_m": ("h", "level as read", "[-1000, 1000]"),
        "error_m": ("e", "error of what measures, to be added", "[-200, 200]"),
    },
    source="derived: addition",
)
def told_level_m(reading_m: Real, error_m: Real) -> Real:
    """A reading with one error of its principle; none is known of it, and its uncertainty counts.

    Example
    -------
    >>> told_level_m(1.6, 0.0)
    1.6
    """
    return reading_m + error_m


@formula(
    equation="h = h_r + e_d",
    gives=("h", "level above the datum of the table"),
    where={
        "reading_m": ("h_r", "level as read", "[-1000, 1000]"),
        "datum_error_m": ("e_d", "height of the instrument's datum above that of the table", "[-10, 10]"),
    },
    source="derived: heights in the vessel",
)
def surface_level_m(reading_m: Real, datum_error_m: Real) -> Real:
    """Level of the surface above the datum of the table.

    Example
    -------
    >>> surface_level_m(1.850, 0.002)
    1.852
    """
    return reading_m + datum_error_m


@formula(
    equation="V_t = V*(1 + e)",
    gives=("V_t", "volume by the table of the vessel"),
    where={
        "geometric_volume_m3": ("V", "volume by the shape of the vessel", _VOLUME),
        "table_error": ("e", "relative error of the table", "[-0.5, 0.5]"),
    },
    source="derived: share of the value",
)
def table_volume_m3(geometric_volume_m3: Real, table_error: Real) -> Real:
    """Volume by the table of the vessel, at the temperature of the table.

    Example
    -------
    >>> round(table_volume_m3(3.5016, 0.001), 6)
    3.505102
    """
    return geometric_volume_m3 * (1 + table_error)


@formula(
    equation="s = V/V_full",
    gives=("s", "volume as share of what the vessel holds"),
    where={
        "volume_m3": ("V", "volume", "[0, 2e6]"),
        "capacity_m3": ("V_full", "inside volume of the whole vessel", "(0, 2e6]"),
    },
    source="derived: ratio",
)
def capacity_share(volume_m3: Real, capacity_m3: Real) -> Real:
    """Volume as share of the capacity of a vessel.

    Example
    -------
    >>> capacity_share(1.2, 4.8)
    0.25
    """
    return volume_m3 / capacity_m3


@formula(
    equation="F = (1 + alpha*(T - T_t))**2",
    gives=("F", "factor on the volume for the temperature of the shell"),
    where={
        "shell_temperature_K": ("T", "temperature of the shell", "[20, 1300]"),
        "table_temperature_K": ("T_t", "temperature that the table holds for", "[200, 500]"),
        "expansion_per_K": ("alpha", "linear expansion of the shell", "[0, 0.0005]"),
    },
    source="api-mpms-12: shell correction",
)
def shell_factor(shell_temperature_K: Real, table_temperature_K: Real, expansion_per_K: Real) -> Real:
    """Factor for the section of a shell that has grown or shrunk with temperature.

    An area factor: the height of the liquid is measured, only the section grows. It is used for the whole volume.
    Inside a head the volume goes with the cube of the expansion; that is neglected, about 1e-4 of the volume of the
    head for 6 K of steel. Not to be used where the table already holds for the temperature of the shell.

    Example
    -------
    >>> round(shell_factor(287.15, 293.15, 16e-6), 6)
    0.999808
    """
    return (1 + expansion_per_K * (shell_temperature_K - table_temperature_K)) ** 2


@formula(
    equation="F = 1 + 3*alpha*(T - T_t)",
    gives=("F", "factor on the volume for the temperature of the shell"),
    where={
        "shell_temperature_K": ("T", "temperature of the shell", "[20, 1300]"),
        "table_temperature_K": ("T_t", "temperature that the table holds for", "[200, 500]"),
        "expansion_per_K": ("alpha", "linear expansion of the shell", "[0, 0.0005]"),
    },
    source="derived: every length of a free shell grows alike",
)
def free_shell_factor(shell_temperature_K: Real, table_temperature_K: Real, expansion_per_K: Real) -> Real:
    """Factor for a vessel that grows or shrinks as a whole: lying, spherical or rectangular.

    The rule for upright cylinders, section alone, does not hold for these. First order: the square of the expansion is
    neglected. That the level grows with the vessel is not counted: the gauge reads it on its own scale.

    Example
    -------
    >>> round(free_shell_factor(313.15, 288.70556, 11.16e-6), 6)
    1.000818
    """
    return 1 + 3 * expansion_per_K * (shell_temperature_K - table_temperature_K)


@formula(
    equation="V_T = V_t*F",
    gives=("V_T", "volume at the temperature of the shell"),
    where={
        "table_volume_m3": _TABLE_VOLUME,
        "shell_factor": ("F", "factor on the volume for the temperature of the shell", "(0, 10]"),
    },
    source="api-mpms-12: observed volume times shell correction",
)
def volume_at_temperature_m3(table_volume_m3: Real, shell_factor: Real) -> Real:
    """Volume of the liquid as it stands in the vessel.

    Example
    -------
    >>> round(volume_at_temperature_m3(3.501641, 0.999808), 6)
    3.500969
    """
    return table_volume_m3 * shell_factor


@formula(
    equation="m = V*rho",
    gives=("m", "mass of the liquid"),
    where={
        "volume_m3": ("V", "volume at the temperature of the liquid", _VOLUME),
        "density_kg_per_m3": ("rho", "density at the temperature of the liquid", _DENSITY),
    },
    source="derived: definition of density",
)
def mass_kg(volume_m3: Real, density_kg_per_m3: Real) -> Real:
    """Mass of the liquid.

    Example
    -------
    >>> round(mass_kg(3.500968, 895.39), 2)
    3134.73
    """
    return volume_m3 * density_kg_per_m3


@formula(
    equation="m_a = m*(1 - rho_a/rho)/(1 - rho_a/rho_w)",
    gives=("m_a", "value of a weighing in air"),
    where={
        "mass_kg": ("m", "mass of the liquid", _MASS),
        "density_kg_per_m3": ("rho", "density of the liquid at the temperature at which it is weighed", _DENSITY),
        "air_density_kg_per_m3": ("rho_a", "density of the air", _AIR),
        "weights_density_kg_per_m3": ("rho_w", "density of the weights", "[1000, 25000]"),
    },
    requires=(("rho > rho_a", "what is lighter than air has no weight in it"),),
    source="oiml-d28: weights of 8000 kg/m3 in air of 1.2 kg/m3; buoyancy of both derived",
)
def mass_in_air_kg(
    mass_kg: Real, density_kg_per_m3: Real, air_density_kg_per_m3: Real, weights_density_kg_per_m3: Real
) -> Real:
    """What a balance shows for a mass of liquid weighed in air.

    Example
    -------
    >>> round(mass_in_air_kg(3134.73, 895.39, 1.2, 8000.0), 2)
    3131.0
    """
    liquid_share = 1 - air_density_kg_per_m3 / density_kg_per_m3
    weights_share = 1 - air_density_kg_per_m3 / weights_density_kg_per_m3
    return mass_kg * liquid_share / weights_share


@formula(
    equation="V_a = V_20*q",
    gives=("V_a", "volume of pure alcohol at 20 degC"),
    where={"volume_20degC_m3": ("V_20", "volume of the liquid at 20 degC", _VOLUME), "strength": _STRENGTH},
    source="oiml-r22: strength by volume at 20 degC",
)
def pure_alcohol_m3(volume_20degC_m3: Real, strength: Real) -> Real:
    """Volume of pure alcohol in the liquid.

    Example
    -------
    >>> round(pure_alcohol_m3(3.520291, 0.68), 4)
    2.3938
    """
    return volume_20degC_m3 * strength


@formula(
    equation="V_u = V_t*q",
    gives=("V_u", "volume of pure alcohol without temperature, for comparison"),
    where={"table_volume_m3": _TABLE_VOLUME, "strength": _STRENGTH},
    source="derived: the chain with every temperature at 20 degC",
)
def pure_alcohol_uncorrected_m3(table_volume_m3: Real, strength: Real) -> Real:
    """Pure alcohol as a sheet that knows no temperature would give it.

    For comparison only.

    Example
    -------
    >>> round(pure_alcohol_uncorrected_m3(3.501641, 0.68), 5)
    2.38112
    """
    return table_volume_m3 * strength


@formula(
    equation="dV = V_1 - V_2",
    gives=("dV", "difference of two volumes"),
    where={
        "first_m3": ("V_1", "first volume", "[-1000000, 1000000]"),
        "second_m3": ("V_2", "second volume, taken from it", "[-1000000, 1000000]"),
    },
    source="derived: difference",
)
def difference_m3(first_m3: Real, second_m3: Real) -> Real:
    """Difference of two volumes.

    Example
    -------
    >>> round(difference_m3(2.39380, 2.38112), 5)
    0.01268
    """
    return first_m3 - second_m3
