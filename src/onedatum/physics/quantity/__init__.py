"""From a level to quantities: observed, standard and net volumes, mass, pure alcohol, batches, limits of the law."""

from onedatum.physics.quantity.batch import (
    batch_scope,
    batch_uncertainty_m3,
    least_level_difference_m,
    mass_difference_kg,
    offset_effect_m3,
    scale_effect_m3,
)
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
    told_level_m,
    volume_at_temperature_m3,
)
from onedatum.physics.quantity.legal import GaugeLimit, TableLimit, gauge_limits, table_limits
from onedatum.physics.quantity.standard import (
    gross_observed_m3,
    gross_standard_m3,
    net_standard_m3,
    scaled_level_m,
    shell_temperature_K,
    volume_correction,
)

__all__ = [
    "GaugeLimit",
    "TableLimit",
    "batch_scope",
    "batch_uncertainty_m3",
    "capacity_share",
    "difference_m3",
    "free_shell_factor",
    "gauge_limits",
    "gross_observed_m3",
    "gross_standard_m3",
    "least_level_difference_m",
    "mass_difference_kg",
    "mass_in_air_kg",
    "mass_kg",
    "net_standard_m3",
    "offset_effect_m3",
    "pure_alcohol_m3",
    "pure_alcohol_uncorrected_m3",
    "scale_effect_m3",
    "scaled_level_m",
    "shell_factor",
    "shell_temperature_K",
    "surface_level_m",
    "table_limits",
    "table_volume_m3",
    "told_level_m",
    "volume_at_temperature_m3",
    "volume_correction",
]
