"""From what is observed in a tank to standard volumes: water, shell, reference temperature, sediment."""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_VOLUME = "[0, 1000000]"
_DENSITY = "(0, 20000]"
_TEMPERATURE = "[20, 1300]"


@formula(
    equation="T_s = (7*T + T_a)/8",
    gives=("T_s", "temperature of the shell"),
    where={
        "liquid_temperature_K": ("T", "temperature of the liquid", _TEMPERATURE),
        "ambient_temperature_K": ("T_a", "temperature of the ambient air", "[200, 340]"),
    },
    source="api-mpms-12: shell temperature of a tank without insulation",
)
def shell_temperature_K(liquid_temperature_K: Real, ambient_temperature_K: Real) -> Real:
    """Temperature of the shell of a tank that is not insulated: seven eighths liquid, one eighth air.

    The shell of an insulated tank is as warm as the liquid.

    Example
    -------
    >>> shell_temperature_K(298.15, 288.15)
    296.9
    """
    return (7 * liquid_temperature_K + ambient_temperature_K) / 8


@formula(
    equation="h = (1 + s)*h_r",
    gives=("h", "reading without the error of the scale"),
    where={
        "reading_m": ("h_r", "level as read", "[-1000, 1000]"),
        "scale_error": ("s", "what the gauge reads too little, in share of its reading", "[-0.5, 0.5]"),
    },
    source="derived: share of the reading",
)
def scaled_level_m(reading_m: Real, scale_error: Real) -> Real:
    """Level from a reading whose scale is in error.

    Example
    -------
    >>> scaled_level_m(2.0, 0.0005)
    2.001
    """
    return (1 + scale_error) * reading_m


@formula(
    equation="V_o = (V_t - V_w)*F",
    gives=("V_o", "gross observed volume"),
    where={
        "total_observed_m3": ("V_t", "total observed volume, by the tank table", _VOLUME),
        "free_water_m3": ("V_w", "free water and bottom sediment, by the tank table", _VOLUME),
        "shell_factor": ("F", "factor on the volume for the temperature of the shell", "(0, 10]"),
    },
    requires=(("V_w <= V_t", "there is no more water than contents"),),
    source="api-mpms-12: gross observed volume",
)
def gross_observed_m3(total_observed_m3: Real, free_water_m3: Real, shell_factor: Real) -> Real:
    """Gross observed volume: what of the contents is product, in the shell as warm as it is.

    Example
    -------
    >>> round(gross_observed_m3(5000.0, 12.0, 1.00019529), 4)
    4988.9741
    """
    return (total_observed_m3 - free_water_m3) * shell_factor


@formula(
    equation="C = rho/rho_r",
    gives=("C", "factor on the volume to the reference temperature"),
    where={
        "density_kg_per_m3": ("rho", "density at the temperature of the liquid", _DENSITY),
        "reference_density_kg_per_m3": ("rho_r", "density at the reference temperature", _DENSITY),
    },
    source="derived: the mass does not change with temperature",
)
def volume_correction(density_kg_per_m3: Real, reference_density_kg_per_m3: Real) -> Real:
    """Factor from the volume of a liquid as it is to its volume at the reference temperature.

    Example
    -------
    >>> round(volume_correction(842.9203, 850.0), 6)
    0.991671
    """
    return density_kg_per_m3 / reference_density_kg_per_m3


@formula(
    equation="V_s = V_o*C",
    gives=("V_s", "gross standard volume"),
    where={
        "gross_observed_m3": ("V_o", "gross observed volume", _VOLUME),
        "volume_correction": ("C", "factor on the volume to the reference temperature", "(0, 5]"),
    },
    source="api-mpms-12: gross standard volume",
)
def gross_standard_m3(gross_observed_m3: Real, volume_correction: Real) -> Real:
    """Gross standard volume: the volume at the reference temperature.

    Example
    -------
    >>> round(gross_standard_m3(4988.9742, 0.99167096), 3)
    4947.421
    """
    return gross_observed_m3 * volume_correction


@formula(
    equation="V_n = V_s*(1 - s)",
    gives=("V_n", "net standard volume"),
    where={
        "gross_standard_m3": ("V_s", "gross standard volume", _VOLUME),
        "sediment_and_water": ("s", "sediment and water in the product, share of its volume", "[0, 1)"),
    },
    source="api-mpms-12: net standard volume",
)
def net_standard_m3(gross_standard_m3: Real, sediment_and_water: Real) -> Real:
    """Net standard volume: without the sediment and water that a sample shows.

    Example
    -------
    >>> round(net_standard_m3(4947.4208, 0.0005), 4)
    4944.9471
    """
    return gross_standard_m3 * (1 - sediment_and_water)
