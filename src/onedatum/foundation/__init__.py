"""What every room stands on: errors, constants, units, sources, working and numerics."""
