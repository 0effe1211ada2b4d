"""Tests of what is found on site against what the case lets expect."""
