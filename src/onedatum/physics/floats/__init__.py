"""Floats: how deep they sit and where the liquid stands against the plane of their magnet."""

from onedatum.physics.floats.cylinder import (
    cylinder_immersion_m,
    cylinder_section_m2,
    cylinder_volume_m3,
    density_ratio,
    freeboard_m,
    mean_density_kg_per_m3,
    ratio_margin,
    waterline_above_magnet_m,
)
from onedatum.physics.floats.sphere import (
    bored_sphere_height_m,
    bored_sphere_immersion_m,
    bored_sphere_volume_m3,
    half_height_m,
)

__all__ = [
    "bored_sphere_height_m",
    "bored_sphere_immersion_m",
    "bored_sphere_volume_m3",
    "cylinder_immersion_m",
    "cylinder_section_m2",
    "cylinder_volume_m3",
    "density_ratio",
    "freeboard_m",
    "half_height_m",
    "mean_density_kg_per_m3",
    "ratio_margin",
    "waterline_above_magnet_m",
]
