"""Numbers that a choice of principle turns on before anything is sized: shares of what is allowed, and room left."""

from onedatum.physics.screening.capacity import (
    capacitance_error_m,
    density_permittivity_error_m,
    foam_permittivity,
    foam_permittivity_share,
    permittivity_error_m,
    regime_deficit_share,
    span_capacitance_F,
)
from onedatum.physics.screening.following import (
    float_time_s,
    ramp_lag_m,
    uncorrected_m,
)
from onedatum.physics.screening.head import (
    head_density_error_m,
    leg_head_share,
)
from onedatum.physics.screening.room import (
    deflection_share,
    foam_reserve_m,
    pair_gap_m,
    pair_width_m,
    uncovered_m,
)
from onedatum.physics.screening.shares import (
    area_share,
    error_share,
    field_ratio,
    gas_density_share,
    half_layer_share,
    length_share,
    pressure_ratio,
)
from onedatum.physics.screening.warmth import (
    cells_temperature_K,
    reduced_temperature,
    surface_share,
)
from onedatum.physics.screening.waves import (
    gas_path_error_m,
    interface_reflection,
    reflected_power_share,
    sound_path_error_m,
)

__all__ = [
    "area_share",
    "capacitance_error_m",
    "cells_temperature_K",
    "deflection_share",
    "density_permittivity_error_m",
    "error_share",
    "field_ratio",
    "float_time_s",
    "foam_permittivity",
    "foam_permittivity_share",
    "foam_reserve_m",
    "gas_density_share",
    "gas_path_error_m",
    "half_layer_share",
    "head_density_error_m",
    "interface_reflection",
    "leg_head_share",
    "length_share",
    "pair_gap_m",
    "pair_width_m",
    "permittivity_error_m",
    "pressure_ratio",
    "ramp_lag_m",
    "reduced_temperature",
    "reflected_power_share",
    "regime_deficit_share",
    "sound_path_error_m",
    "span_capacitance_F",
    "surface_share",
    "uncorrected_m",
    "uncovered_m",
]
