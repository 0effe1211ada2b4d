"""The field of a probe in its own tank: what tip, bottom and roof do to the straight line of the closed forms."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import pi

import numpy as np

from onedatum.case.model.probe import BY_WALL, CONDUCTS, YES
from onedatum.case.model.vessel import FLAT, LOWEST, UPRIGHT
from onedatum.foundation.errors import Fault, ValidityError
from onedatum.foundation.numerics import Reals
from onedatum.foundation.working import Entry
from onedatum.physics.capacitive import radius_m
from onedatum.physics.capacitive.constants import VACUUM_PERMITTIVITY_F_PER_M
from onedatum.physics.capacitive.field import (
    CheckedCurve,
    LinearisationTable,
    Probe,
    Vessel,
    checked_curve,
    departure_from_straight_line,
    linearisation_table,
)
from onedatum.study.desk import Desk
from onedatum.study.probe.section import ProbeSection

STEPS = 13
ROOF_WITHIN_M = 2e-3
"""How near to the roof the active length must end for the rod to pass it."""
APART_M = 1e-3
"""Levels nearer than this are one line of the table."""
METHOD = "Laplace's equation by quadratic finite elements about the axis, on two meshes; and what is constant"


@dataclass(frozen=True)
class FieldRow:
    """One level of the curve."""

    level_m: float
    capacitance: Entry
    error: Entry
    """Level read less level, once it is set at its two levels."""


@dataclass(frozen=True)
class FieldCurve:
    """The curve with the line laid through it."""

    rows: tuple[FieldRow, ...]
    low_m: float
    high_m: float
    difference: Entry
    """What a finer mesh moved, of the span."""
    table: LinearisationTable

    def at(self, level_m: float) -> FieldRow:
        """The row next to a level."""
        return min(self.rows, key=lambda row: abs(row.level_m - level_m))

    @property
    def worst(self) -> FieldRow:
        """Where, between the two levels of the setting, the reading is farthest off."""
        inside = [row for row in self.rows if self.low_m <= row.level_m <= self.high_m]
        return max(inside, key=lambda row: abs(row.error.value or 0.0))


def field_of(
    desk: Desk, section: ProbeSection, fluids: tuple[Entry, Entry], ends: tuple[Entry, Entry], levels: Sequence[Entry]
) -> FieldCurve | None:
    """Work the field at steps, at the two levels of the setting and the level now: `levels` in that order.

    None where the vessel is none that it can be worked for, or something is not known.
    """
    probe = desk.case.probe
    if not _workable(desk):
        if probe.gland.bridge.word != YES:
            desk.skip(probe.gland_diameter)
        return None
    lower, upper = ends
    ring = desk.calc(
        "probe.gland_radius",
        radius_m,
        shown="mm",
        meaning="radius of the insulating ring in the roof",
        diameter_m=desk.take(probe.gland_diameter, "mm"),
    )
    top, constant = desk.sheet["vessel.inside_height"], desk.sheet[probe.constant.path]
    conductivity = desk.take(desk.case.medium.conductivity, "uS/cm")
    frequency = desk.take(probe.frequency, "kHz")
    beneath = [section.core, section.outside, section.equivalent, ring, lower, top, *fluids, conductivity, frequency]
    numbers = [entry.value for entry in (*beneath, constant, *levels)]
    if any(number is None for number in numbers) or (upper.value or 0.0) < (top.value or 0.0) - ROOF_WITHIN_M:
        return None
    *setting, now = (float(entry.value or 0.0) for entry in levels)
    low, high = sorted(setting)
    steps = _steps(float(lower.value or 0.0), float(top.value or 0.0), (low, high, now))
    given = tuple(float(entry.value or 0.0) for entry in beneath)
    coating = float(desk.sheet[probe.coating_permittivity.path].value or 1.0) if section.coated else None
    try:
        curve = _solved(given, coating, steps)
        return _told(desk, curve, (low, high), [*beneath, constant])
    except ValidityError as error:
        at = probe.gland_diameter if "ring" in error.parameter else probe.rod
        desk.faults.append(Fault(at.path, error.allowed, error.got, error.why, at.place))
        return None


def _workable(desk: Desk) -> bool:
    """A round upright tank of metal with flat ends, heights counted from its floor."""
    vessel, probe = desk.case.vessel, desk.case.probe
    flat = vessel.bottom_head.form.word == FLAT and vessel.top_head.form.word == FLAT
    by_wall = probe.earth.kind.word == BY_WALL and probe.wall.kind.word == CONDUCTS
    return by_wall and flat and vessel.shape.word == UPRIGHT and vessel.datum.word == LOWEST


def _steps(lower: float, top: float, marks: tuple[float, float, float]) -> tuple[float, ...]:
    """Even steps along the rod, with the two levels of the setting and the level now among them."""
    kept = list(marks[:2])
    for level in (marks[2], *np.linspace(lower, top, STEPS).tolist()):
        if lower <= level <= top and all(abs(level - other) > APART_M for other in kept):
            kept.append(level)
    return tuple(sorted(kept))


@lru_cache(maxsize=64)
def _solved(given: tuple[float, ...], coating: float | None, levels: tuple[float, ...]) -> CheckedCurve:
    """The curve by the numbers alone: the same case is not solved twice."""
    core, outside, wall, ring, lower, top, liquid, gas, conductivity, frequency = given
    thickness = outside - core
    probe = Probe(
        core_radius_m=core,
        tip_height_m=lower + thickness,
        coating_radius_m=outside if coating is not None else None,
        coating_permittivity=coating,
        end_coating_m=thickness,
        ring_radius_m=ring,
    )
    loss = conductivity / (2 * pi * frequency * VACUUM_PERMITTIVITY_F_PER_M)
    lossy: complex = complex(liquid, -loss) if coating is not None else liquid
    return checked_curve(probe, Vessel.upright(wall, top), levels, lossy, gas)


def _told(desk: Desk, curve: CheckedCurve, setting: tuple[float, float], beneath: list[Entry]) -> FieldCurve:
    """The curve on the sheet, with what a two-point setting leaves; last `beneath` it stands what is constant."""
    low, high = setting
    held: Reals = np.real(curve.capacitances_F).astype(np.float64) + float(beneath[-1].value or 0.0)
    off = (high - low) * departure_from_straight_line(curve.levels_m, held, low, high)
    rows = []
    for level, farads, error in zip(curve.levels_m.tolist(), held.tolist(), off.tolist(), strict=True):
        at = f"{level * 1e3:.6g} mm"
        capacitance = desk.sheet.record(
            f"probe.field[{at}]",
            farads,
            "F",
            f"capacitance by the field, level {at}",
            method=METHOD,
            source="derived",
            rests_on=beneath,
            shown="pF",
        )
        reads = desk.sheet.record(
            f"probe.field_error[{at}]",
            error,
            "m",
            f"reads too high by, level {at}",
            method="the straight line through the two levels of the setting, read at this capacitance",
            source="derived",
            rests_on=[capacitance],
            shown="mm",
        )
        rows.append(FieldRow(level, capacitance, reads))
    difference = desk.sheet.record(
        "probe.field_difference",
        curve.refined_difference,
        "",
        "what a finer mesh moved, of the span",
        method="the curve on two meshes",
        source="derived",
        rests_on=beneath,
        shown="%",
    )
    return FieldCurve(tuple(rows), low, high, difference, linearisation_table(curve.levels_m, held, low, high))
