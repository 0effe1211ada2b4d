"""Level from the place of a float's magnet on a stem: the heights between which it can be read."""

from onedatum.physics.magnetostrictive.stem import (
    flange_face_height_m,
    highest_level_by_dead_zone_m,
    highest_level_by_float_m,
    highest_level_m,
    lowest_level_m,
    reads_low_by_m,
    stem_length_m,
)

__all__ = [
    "flange_face_height_m",
    "highest_level_by_dead_zone_m",
    "highest_level_by_float_m",
    "highest_level_m",
    "lowest_level_m",
    "reads_low_by_m",
    "stem_length_m",
]
