"""The cross-section of a probe in the plane: its capacitance per length by a boundary integral."""

from onedatum.physics.capacitive.plane.parts import Interface, Rod, Section, Strip, Tank
from onedatum.physics.capacitive.plane.probes import (
    coated_off_axis_F_per_m,
    equivalent_radius_m,
    rod_before_strip_F_per_m,
    twin_rods_in_plastic_tank_F_per_m,
)
from onedatum.physics.capacitive.plane.sections import section_capacitance_F_per_m

__all__ = [
    "Interface",
    "Rod",
    "Section",
    "Strip",
    "Tank",
    "coated_off_axis_F_per_m",
    "equivalent_radius_m",
    "rod_before_strip_F_per_m",
    "section_capacitance_F_per_m",
    "twin_rods_in_plastic_tank_F_per_m",
]
