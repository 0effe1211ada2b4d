"""Media: densities of liquids, each with the table or formula it comes from."""

from onedatum.physics.media.ethanol import ethanol_mass_fraction, ethanol_water_density_kg_per_m3
from onedatum.physics.media.stated import expanded_density_kg_per_m3
from onedatum.physics.media.water import water_density_kg_per_m3

__all__ = [
    "ethanol_mass_fraction",
    "ethanol_water_density_kg_per_m3",
    "expanded_density_kg_per_m3",
    "water_density_kg_per_m3",
]
