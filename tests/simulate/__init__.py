"""Tests of the simulated instrument."""
