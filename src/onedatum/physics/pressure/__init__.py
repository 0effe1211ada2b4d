"""Pressure: above vacuum and above the atmosphere; and the level by the columns on both sides of a transmitter."""

from onedatum.physics.pressure.legs import (
    gas_pressure_shift_m,
    head_Pa_per_m,
    high_columns_Pa,
    level_difference_Pa,
    level_of_difference_m,
    level_of_head_m,
    level_of_pressure_m,
    low_columns_Pa,
    low_leg_shift_m,
    one_side_head_Pa,
    pressure_difference_Pa,
    pressure_span_Pa,
    refilled_leg_shift_m,
    transmitter_below_m,
    upper_leg_height_m,
)
from onedatum.physics.pressure.reference import absolute_Pa_abs, gauge_Pa_gauge

__all__ = [
    "absolute_Pa_abs",
    "gas_pressure_shift_m",
    "gauge_Pa_gauge",
    "head_Pa_per_m",
    "high_columns_Pa",
    "level_difference_Pa",
    "level_of_difference_m",
    "level_of_head_m",
    "level_of_pressure_m",
    "low_columns_Pa",
    "low_leg_shift_m",
    "one_side_head_Pa",
    "pressure_difference_Pa",
    "pressure_span_Pa",
    "refilled_leg_shift_m",
    "transmitter_below_m",
    "upper_leg_height_m",
]
