"""Tests of onedatum."""
