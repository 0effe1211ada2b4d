"""Overfill: the level at which the alarm must stand so that there is time to stop the filling."""

from onedatum.physics.overfill.levels import (
    alarm_volume_m3,
    high_high_by_constant_area_m,
    high_high_level_m,
    margin_m,
)

__all__ = ["alarm_volume_m3", "high_high_by_constant_area_m", "high_high_level_m", "margin_m"]
