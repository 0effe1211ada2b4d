"""Tests of the level logs."""
