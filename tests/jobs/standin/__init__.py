"""Tests of the stand-in for a plant."""
