"""Constants of the electric field."""

VACUUM_PERMITTIVITY_F_PER_M = 8.8541878188e-12
"""CODATA 2022, from memory."""

VACUUM_PERMEABILITY_H_PER_M = 1.25663706127e-6
"""CODATA 2022, from memory."""
