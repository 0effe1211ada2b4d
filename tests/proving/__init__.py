"""Tests of planning, reading and judging a calibration."""
