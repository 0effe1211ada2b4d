"""Tests of the room that reviews logs."""
