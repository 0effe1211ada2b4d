"""Calibration of a level measurement: errors and their spread, linearity, ratio to the reference, drift, interval."""

from onedatum.physics.calibration.drift import (
    Changes,
    change_m,
    change_u_m,
    drift_bound_m_per_s,
    drift_m_per_s,
    drift_scatter,
    drift_standard_m_per_s,
)
from onedatum.physics.calibration.errors import (
    average_error,
    current_error_A,
    current_step_m,
    error_share,
    error_u_m,
    expanded_error_m,
    hysteresis,
    level_error_m,
    share_error_m,
    share_level_m,
    standard_m,
)
from onedatum.physics.calibration.interval import (
    interval_by_drift_s,
    interval_by_reliability_s,
    interval_by_steps_s,
)
from onedatum.physics.calibration.linearity import (
    AverageCurve,
    independent_linearity,
    terminal_linearity,
    zero_linearity,
)
from onedatum.physics.calibration.ratio import (
    half_width_m,
    reference_expanded_m,
    two_per_cent_factor,
    uncertainty_ratio,
)
from onedatum.physics.calibration.repeats import Repeats, repeats_average, repeats_spread, repeats_standard
from onedatum.physics.calibration.two_levels import (
    capacitance_of_line_F,
    error_at_m,
    error_at_u_m,
    least_apart_m,
    level_of_line_m,
    slope_error,
    slope_error_u,
)

__all__ = [
    "AverageCurve",
    "Changes",
    "Repeats",
    "average_error",
    "capacitance_of_line_F",
    "change_m",
    "change_u_m",
    "current_error_A",
    "current_step_m",
    "drift_bound_m_per_s",
    "drift_m_per_s",
    "drift_scatter",
    "drift_standard_m_per_s",
    "error_at_m",
    "error_at_u_m",
    "error_share",
    "error_u_m",
    "expanded_error_m",
    "half_width_m",
    "hysteresis",
    "independent_linearity",
    "interval_by_drift_s",
    "interval_by_reliability_s",
    "interval_by_steps_s",
    "least_apart_m",
    "level_error_m",
    "level_of_line_m",
    "reference_expanded_m",
    "repeats_average",
    "repeats_spread",
    "repeats_standard",
    "share_error_m",
    "share_level_m",
    "slope_error",
    "slope_error_u",
    "standard_m",
    "terminal_linearity",
    "two_per_cent_factor",
    "uncertainty_ratio",
    "zero_linearity",
]
