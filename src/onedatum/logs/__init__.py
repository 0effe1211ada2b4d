"""Level logs and live readings: converted to level, volume, mass and alcohol with uncertainty; nothing is stored.

The library of record batches (the extra `logs`) is loaded by the modules that need it, never by this one.
"""
