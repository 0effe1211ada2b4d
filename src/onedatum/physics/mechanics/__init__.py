"""Mechanics of stems, probes and ropes: room to fit them, flow across them, how they swing and sag."""

from onedatum.physics.mechanics.entry import (
    entry_height_m,
    filled_line_mass_kg_per_m,
    nozzle_clearance_m,
)
from onedatum.physics.mechanics.fitting import (
    insertion_headroom_m,
    least_clearance_m,
)
from onedatum.physics.mechanics.flow import (
    allowed_stress_Pa,
    guided_deflection_m,
    guided_stress_Pa,
    root_stress_Pa,
    side_load_N_per_m,
    stress_margin_Pa,
    tip_deflection_m,
)
from onedatum.physics.mechanics.rope import (
    arc_excess_m,
    sag_m,
    small_arc_excess_m,
    weight_pull_N,
)
from onedatum.physics.mechanics.rules import (
    MechanicsRules,
    mechanics_rules,
)
from onedatum.physics.mechanics.swing import (
    bending_frequency_Hz,
    guided_bending_frequency_Hz,
    resonance_velocity_m_per_s,
    shedding_frequency_Hz,
    velocity_share,
)
from onedatum.physics.mechanics.tube import (
    bending_stiffness_N_m2,
    line_mass_in_liquid_kg_per_m,
    line_mass_kg_per_m,
    tube_second_moment_m4,
)

__all__ = [
    "MechanicsRules",
    "allowed_stress_Pa",
    "arc_excess_m",
    "bending_frequency_Hz",
    "bending_stiffness_N_m2",
    "entry_height_m",
    "filled_line_mass_kg_per_m",
    "guided_bending_frequency_Hz",
    "guided_deflection_m",
    "guided_stress_Pa",
    "insertion_headroom_m",
    "least_clearance_m",
    "line_mass_in_liquid_kg_per_m",
    "line_mass_kg_per_m",
    "mechanics_rules",
    "nozzle_clearance_m",
    "resonance_velocity_m_per_s",
    "root_stress_Pa",
    "sag_m",
    "shedding_frequency_Hz",
    "side_load_N_per_m",
    "small_arc_excess_m",
    "stress_margin_Pa",
    "tip_deflection_m",
    "tube_second_moment_m4",
    "velocity_share",
    "weight_pull_N",
]
