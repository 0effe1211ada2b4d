"""Level logs: what was recorded over months, converted to level, volume, mass and alcohol with uncertainty.

The library of record batches (the extra `logs`) is loaded by the modules that need it, never by this one.
"""
