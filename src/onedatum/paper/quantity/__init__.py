"""The quantity statement on paper: what is in the tank, how well that is known, and what follows from it."""
