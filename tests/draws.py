"""How much is drawn: the long profile of the draws also tries whole what the plain run tries in part."""

from hypothesis import settings

PLAIN = 50
DRAWS = settings().max_examples
"""For a law that does not say otherwise."""
LONG = DRAWS > PLAIN
