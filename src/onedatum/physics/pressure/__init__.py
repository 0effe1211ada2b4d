"""Pressure: above vacuum and above the atmosphere."""

from onedatum.physics.pressure.reference import absolute_Pa_abs, gauge_Pa_gauge

__all__ = ["absolute_Pa_abs", "gauge_Pa_gauge"]
