"""Tests of what every other floor stands on."""
