"""The field between a rod probe and its vessel: capacitance at every level, by finite elements about the axis."""

from onedatum.physics.capacitive.field.contours import Field, charge_through_F, field_at
from onedatum.physics.capacitive.field.curve import (
    COARSE_RATIO,
    FINE_RATIO,
    LARGEST_DIFFERENCE,
    CheckedCurve,
    capacitance_curve,
    checked_curve,
    refined_difference,
)
from onedatum.physics.capacitive.field.equipotentials import Equipotential, equipotentials
from onedatum.physics.capacitive.field.shapes import Probe, Vessel
from onedatum.physics.capacitive.field.straight import (
    LinearisationTable,
    departure_from_straight_line,
    linearisation_table,
)
from onedatum.physics.capacitive.field.walls import rectangular_wall, round_wall, tube_wall

__all__ = [
    "COARSE_RATIO",
    "FINE_RATIO",
    "LARGEST_DIFFERENCE",
    "CheckedCurve",
    "Equipotential",
    "Field",
    "LinearisationTable",
    "Probe",
    "Vessel",
    "capacitance_curve",
    "charge_through_F",
    "checked_curve",
    "departure_from_straight_line",
    "equipotentials",
    "field_at",
    "linearisation_table",
    "rectangular_wall",
    "refined_difference",
    "round_wall",
    "tube_wall",
]
