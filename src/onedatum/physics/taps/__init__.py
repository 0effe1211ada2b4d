"""Taps of a vessel: the heights that a chamber or the legs of a pressure transmitter are connected at."""

from onedatum.physics.taps.heights import level_above_datum_m, level_above_tap_m, level_error_m, tap_distance_m

__all__ = ["level_above_datum_m", "level_above_tap_m", "level_error_m", "tap_distance_m"]
