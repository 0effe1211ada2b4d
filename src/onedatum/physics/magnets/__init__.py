"""Magnets of floats: field along a stem, forces between two, walls and particles, what heat leaves of them."""

from onedatum.physics.magnets.bars import bars_dipole_field_T, bars_field_on_axis_T
from onedatum.physics.magnets.dipoles import (
    dipole_axial_field_T,
    dipole_force_N,
    dipole_side_field_T,
    ring_moment_A_m2,
    snap_spacing_dipole_m,
)
from onedatum.physics.magnets.forces import (
    combined_stiffness_N_per_m,
    displacement_m,
    force_slope_N_per_m,
    ring_force_N,
    snap_spacing_m,
)
from onedatum.physics.magnets.lean import bore_lean_shift_m, lean_shift_m
from onedatum.physics.magnets.materials import (
    EarthField,
    LeastField,
    MagnetFigure,
    MagnetMaterial,
    Surroundings,
    earth_field,
    magnet_material,
    remanence_at_T,
    usual_least_field,
    usual_surroundings,
)
from onedatum.physics.magnets.ring import (
    main_lobe_width_m,
    ring_axial_field_T,
    ring_field_on_axis_T,
    ring_radial_field_T,
    side_gradient_T_per_m,
    sign_change_m,
)
from onedatum.physics.magnets.strength import echo_length_s, field_margin_T, field_strength_T
from onedatum.physics.magnets.walls import (
    clear_distance_m,
    particle_force_ratio,
    side_field_after_wall_T,
    wall_reduction,
)

__all__ = [
    "EarthField",
    "LeastField",
    "MagnetFigure",
    "MagnetMaterial",
    "Surroundings",
    "bars_dipole_field_T",
    "bars_field_on_axis_T",
    "bore_lean_shift_m",
    "clear_distance_m",
    "combined_stiffness_N_per_m",
    "dipole_axial_field_T",
    "dipole_force_N",
    "dipole_side_field_T",
    "displacement_m",
    "earth_field",
    "echo_length_s",
    "field_margin_T",
    "field_strength_T",
    "force_slope_N_per_m",
    "lean_shift_m",
    "magnet_material",
    "main_lobe_width_m",
    "particle_force_ratio",
    "remanence_at_T",
    "ring_axial_field_T",
    "ring_field_on_axis_T",
    "ring_force_N",
    "ring_moment_A_m2",
    "ring_radial_field_T",
    "side_field_after_wall_T",
    "side_gradient_T_per_m",
    "sign_change_m",
    "snap_spacing_dipole_m",
    "snap_spacing_m",
    "usual_least_field",
    "usual_surroundings",
    "wall_reduction",
]
