"""Tests of the numerical helpers."""
