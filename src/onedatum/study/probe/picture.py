"""What is drawn of the field and its curve: worked only where it is printed, from what the chapter holds."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.physics.capacitive.field import (
    Equipotential,
    capacitance_curve,
    charge_through_F,
    departure_from_straight_line,
    equipotentials,
    field_at,
)
from onedatum.study.probe.field import FieldCurve, Setup

SHARES = (0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2, 0.1)
"""Of the voltage of the rod."""
FLUX_WITHIN = 1e-3
LEVELS = 50
"""Of the chart, closer together towards the ends, where the curve bends."""
_CANS = ((0.25, 0.15), (0.75, 0.6))
"""Two closed surfaces about the rod: how far out to ring or wall, and how far down to the floor."""


@dataclass(frozen=True, eq=False)
class FieldPicture:
    """The field at one level."""

    level_m: float
    lines: tuple[Equipotential, ...]
    fluxes: tuple[float, float]
    """Charge within two surfaces about the rod, over its capacitance: both 1 by Gauss's law."""

    @property
    def holds(self) -> bool:
        """Whether the flux agrees with the capacitance."""
        return all(abs(flux - 1.0) <= FLUX_WITHIN for flux in self.fluxes)


@dataclass(frozen=True, eq=False)
class DrawnCurve:
    """The curve at closer levels than the table has, with the error after the setting."""

    levels_m: Reals
    capacitances_F: Reals
    errors_m: Reals


def field_picture(curve: FieldCurve) -> FieldPicture:
    """The field at the level now; where that lies beyond the vessel, half way between the two levels of the setting."""
    vessel = curve.setup.vessel
    inside = vessel.bottom_m < curve.now_m < vessel.top_m
    return _pictured(curve.setup, curve.now_m if inside else 0.5 * (curve.low_m + curve.high_m))


@lru_cache(maxsize=8)
def _pictured(setup: Setup, level_m: float) -> FieldPicture:
    field = field_at(setup.rod, setup.vessel, level_m, setup.liquid, setup.gas)
    rod, wall = setup.rod, setup.vessel
    out = wall.widest_m if rod.ring_radius_m is None else rod.ring_radius_m
    gap = rod.end_height_m - wall.bottom_m
    first, second = (
        float(abs(charge_through_F(field, rod.outer_radius_m + wide * (out - rod.outer_radius_m), deep * gap))
              / abs(field.capacitance_F))
        for wide, deep in _CANS
    )  # fmt: skip
    return FieldPicture(level_m, equipotentials(field, SHARES), (first, second))


def drawn_curve(curve: FieldCurve) -> DrawnCurve:
    """The curve for its chart."""
    levels, held = _drawn(curve.setup, curve.rows[0].level_m, curve.rows[-1].level_m, (curve.low_m, curve.high_m))
    errors = (curve.high_m - curve.low_m) * departure_from_straight_line(levels, held, curve.low_m, curve.high_m)
    return DrawnCurve(levels, held + curve.constant_F, errors)


@lru_cache(maxsize=8)
def _drawn(setup: Setup, foot_m: float, top_m: float, marks_m: tuple[float, float]) -> tuple[Reals, Reals]:
    turn = np.cos(np.linspace(0.0, np.pi, LEVELS))
    steps = 0.5 * (foot_m + top_m) - 0.5 * (top_m - foot_m) * turn
    apart = np.min(np.abs(steps[:, None] - np.array(marks_m)), axis=1) > 1e-3
    levels = np.unique(np.concatenate([steps[apart], marks_m]))
    return levels, np.real(capacitance_curve(setup.rod, setup.vessel, levels, setup.liquid, setup.gas))
