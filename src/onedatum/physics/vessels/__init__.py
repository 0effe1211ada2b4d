"""Vessels: heads and upright cylinders by their inside measures, from level to volume and back, and their outline."""

from onedatum.physics.vessels.heads import (
    torispherical_area_m2,
    torispherical_depth_m,
    torispherical_volume_below_m3,
    torispherical_volume_m3,
)
from onedatum.physics.vessels.outline import Outline, vertical_outline
from onedatum.physics.vessels.vertical import (
    inside_height_m,
    shell_area_m2,
    vertical_area_m2,
    vertical_level_m,
    vertical_volume_m3,
)

__all__ = [
    "Outline",
    "inside_height_m",
    "shell_area_m2",
    "torispherical_area_m2",
    "torispherical_depth_m",
    "torispherical_volume_below_m3",
    "torispherical_volume_m3",
    "vertical_area_m2",
    "vertical_level_m",
    "vertical_outline",
    "vertical_volume_m3",
]
