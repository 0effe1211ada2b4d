"""From a level to quantities: volume at temperature, mass, volume at 20 degC, pure alcohol."""

from onedatum.physics.quantity.chain import (
    capacity_share,
    difference_m3,
    free_shell_factor,
    mass_in_air_kg,
    mass_kg,
    pure_alcohol_m3,
    pure_alcohol_uncorrected_m3,
    shell_factor,
    surface_level_m,
    table_volume_m3,
    volume_at_20degC_m3,
    volume_at_reference_m3,
    volume_at_temperature_m3,
)

__all__ = [
    "capacity_share",
    "difference_m3",
    "free_shell_factor",
    "mass_in_air_kg",
    "mass_kg",
    "pure_alcohol_m3",
    "pure_alcohol_uncorrected_m3",
    "shell_factor",
    "surface_level_m",
    "table_volume_m3",
    "volume_at_20degC_m3",
    "volume_at_reference_m3",
    "volume_at_temperature_m3",
]
