"""How large a file of statements may be.

A case takes some 5 kB. The limits leave room for tables of hundreds of rows and keep the worst legal file below one
second of parsing (about 130 kB/s where every third byte is a node of its own, measured on a machine of two cores).
"""

MAX_BYTES = 100_000
"""Longer files are refused before they are read."""

MAX_NODES = 20_000
"""Keys and values of one file."""

MAX_DEPTH = 20
"""Levels of nesting."""

MAX_KEY = 80
"""Characters of a key."""

MAX_TEXT = 5_000
"""Characters of one value; a note is the longest."""

MAX_FAULTS = 100
"""Faults told in one pass; a file with more is not a case."""
