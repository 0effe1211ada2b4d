"""Sketches of columns that stand beside one another: a chamber, the legs of a pressure transmitter."""
