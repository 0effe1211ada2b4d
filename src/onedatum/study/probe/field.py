"""The field of a probe in its own tank: what tip, bottom and roof do to the straight line of the closed forms."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import pi

import numpy as np

from onedatum.case.leaf import Leaf
from onedatum.case.model.probe import YES
from onedatum.foundation.errors import Fault, ValidityError
from onedatum.foundation.numerics import Reals
from onedatum.foundation.units import show
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
from onedatum.study.probe.wall import LOWERED, NoField, below_roof, by_tube, refused, wall_of

STEPS = 13
ROOF_WITHIN_M = 2e-3
"""How near to the roof the active length must end for the rod to pass it."""
APART_M = 1e-3
"""Levels nearer than this are one line of the table."""
ALIKE_M = 1e-4
"""Two levels nearer than this lay no line."""
METHOD = "Laplace's equation by quadratic finite elements about the axis, on two meshes; and what is constant"


@dataclass(frozen=True)
class Around:
    """What the field lies between."""

    section: ProbeSection
    body: Entry | None
    fluids: tuple[Entry, Entry]
    """Permittivities of liquid and gas."""
    ends: tuple[Entry, Entry]
    """Of the active length."""

    @property
    def entries(self) -> tuple[Entry, ...]:
        """All that must be known, but the vessel itself."""
        section = self.section
        return (section.core, section.outside, section.equivalent, *self.ends, *self.fluids)


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
    now_m: float
    constant_F: float
    """What gland, head and inactive length add at every level."""
    setup: Setup
    words: str
    """How the wall was come by, and what that costs."""

    def at(self, level_m: float) -> FieldRow:
        """The row next to a level."""
        return min(self.rows, key=lambda row: abs(row.level_m - level_m))

    @property
    def worst(self) -> FieldRow:
        """Where, between the two levels of the setting, the reading is farthest off."""
        inside = [row for row in self.rows if self.low_m <= row.level_m <= self.high_m]
        return max(inside, key=lambda row: abs(row.error.value or 0.0))


@dataclass(frozen=True)
class EndsOnly(NoField):
    """No curve to hold to, but how far the ends of the rod bend it: worked as though the roof lay lower."""

    about: FieldCurve


def field_of(desk: Desk, around: Around, levels: Sequence[Entry]) -> FieldCurve | NoField:
    """Work the field at steps, at the two levels of the setting and the level now: `levels` in that order.

    Where it cannot be worked, why; a fault that was put down says so itself.
    """
    probe = desk.case.probe
    why = refused(desk)
    if (why is not None or by_tube(desk)) and probe.gland.bridge.word != YES:
        desk.skip(probe.gland_diameter)
    if why is not None:
        return why
    ring = None if by_tube(desk) else _ring(desk)
    constant = desk.sheet[probe.constant.path]
    beneath = [*around.entries, *([] if ring is None else [ring]), *_loss(desk)]
    missing = [entry for entry in (*beneath, constant, *levels) if not entry.known]
    if missing:
        paths = dict.fromkeys(path for entry in missing for path in entry.waits_for)
        told = "; ".join(dict.fromkeys(entry.meaning for entry in missing))
        return NoField(f"it waits for: {told}", waits_for=tuple(paths))
    heights = [float(entry.value or 0.0) for entry in levels]
    if why_not := _no_line(desk, around, heights):
        return NoField(why_not, waits_for=_of_line(desk, around))
    try:
        return _worked(desk, around, ring, [*beneath, constant], heights)
    except ValidityError as error:
        at = _blamed(desk, error)
        desk.faults.append(Fault(at.path, error.allowed, error.got, error.why, at.place))
        return NoField("", waits_for=(at.path,))


def _no_line(desk: Desk, around: Around, levels: Sequence[float]) -> str:
    """Why the setting lays no line through the curve; each of it is told where it is stated."""
    lower, upper = (end.value or 0.0 for end in around.ends)
    low, high = sorted(levels[:2])
    if high - low < ALIKE_M:
        return "the two levels of the setting are one"
    if desk.case.probe.set_low.known and not lower <= low < high <= upper:
        return "a level of the setting lies beyond the active length"
    liquid, gas = around.fluids
    return "liquid and gas look alike to the probe" if liquid.value == gas.value else ""


def _of_line(desk: Desk, around: Around) -> tuple[str, ...]:
    """What is to be put right before the setting lays a line."""
    probe, (liquid, gas) = desk.case.probe, around.fluids
    if liquid.value == gas.value:
        return (desk.case.medium.permittivity.path,)
    return (probe.set_low.path, probe.set_high.path)


def _ring(desk: Desk) -> Entry:
    return desk.calc(
        "probe.gland_radius",
        radius_m,
        shown="mm",
        meaning="radius of the insulating ring in the roof",
        diameter_m=desk.take(desk.case.probe.gland_diameter, "mm"),
    )


def _loss(desk: Desk) -> tuple[Entry, Entry]:
    """What makes the loss of the liquid."""
    return desk.take(desk.case.medium.conductivity, "uS/cm"), desk.take(desk.case.probe.frequency, "kHz")


def _blamed(desk: Desk, error: ValidityError) -> Leaf:
    """The leaf that a refusal of the field is put down to."""
    probe = desk.case.probe
    if "ring" in error.parameter:
        return probe.gland_diameter
    if "place of the rod" in error.parameter:
        return probe.wall.off_axis
    return probe.active_from if "tip" in error.parameter else probe.rod


def _worked(
    desk: Desk, around: Around, ring: Entry | None, beneath: list[Entry], levels: list[float]
) -> FieldCurve | NoField:
    """The curve, all of it being known; `levels` as in `field_of`."""
    section, (lower, upper) = around.section, (float(end.value or 0.0) for end in around.ends)
    opening = 0.0 if ring is None else float(ring.value or 0.0)
    wall = wall_of(desk, section, around.body, (lower, upper), opening)
    low, high = sorted(levels[:2])
    top, marks = wall.vessel.top_m, (low, high, levels[2])
    rests = [*beneath, *(entry for entry in wall.rests_on if entry not in beneath)]
    coating = float(desk.sheet[desk.case.probe.coating_permittivity.path].value or 1.0) if section.coated else None
    if upper >= top - ROOF_WITHIN_M:
        setup = Setup.of(desk, around, wall.vessel, opening, coating)
        return _told(desk, _solved(setup, _steps(lower, top, marks)), marks, rests, (setup, wall.words, METHOD))
    why = f"the active length ends {show(top - upper, 'mm')} below the roof, and what lies between is not stated"
    try:
        setup = Setup.of(desk, around, below_roof(wall.vessel, upper), opening, coating)
        curve = _solved(setup, _steps(lower, upper, marks))
        return EndsOnly(why, _told(desk, curve, marks, rests, (setup, LOWERED, f"{METHOD}. {LOWERED}")))
    except ValidityError:
        return NoField(why, waits_for=(desk.case.probe.active_to.path,))


@dataclass(frozen=True)
class Setup:
    """Rod, wall and fluids by their numbers alone: what is alike is not solved twice."""

    rod: Probe
    wall: tuple[tuple[float, ...], tuple[float, ...], bool]
    liquid: complex
    gas: float

    @classmethod
    def of(cls, desk: Desk, around: Around, vessel: Vessel, ring: float, coating: float | None) -> Setup:
        """From what stands on the sheet."""
        core, outside = (float(entry.value or 0.0) for entry in (around.section.core, around.section.outside))
        liquid, gas = (float(entry.value or 0.0) for entry in around.fluids)
        conductivity, frequency = (float(entry.value or 0.0) for entry in _loss(desk))
        thickness = outside - core
        rod = Probe(
            core_radius_m=core,
            tip_height_m=float(around.ends[0].value or 0.0) + thickness,
            coating_radius_m=outside if coating is not None else None,
            coating_permittivity=coating,
            end_coating_m=thickness,
            ring_radius_m=None if vessel.mirrored_top else ring,
        )
        loss = conductivity / (2 * pi * frequency * VACUUM_PERMITTIVITY_F_PER_M)
        lossy = complex(liquid, -loss) if coating is not None else complex(liquid)
        wall = (tuple(vessel.heights_m.tolist()), tuple(vessel.radii_m.tolist()), vessel.mirrored_top)
        return cls(rod, wall, lossy if lossy.imag else lossy.real, gas)

    @property
    def vessel(self) -> Vessel:
        """The wall as the field takes it."""
        heights, radii, mirrored = self.wall
        return Vessel(np.array(heights), np.array(radii), mirrored)


def _steps(lower: float, top: float, marks: tuple[float, float, float]) -> tuple[float, ...]:
    """Even steps along the rod, with the two levels of the setting and the level now among them."""
    kept = list(marks[:2])
    for level in (marks[2], *np.linspace(lower, top, STEPS).tolist()):
        if lower <= level <= top and all(abs(level - other) > APART_M for other in kept):
            kept.append(level)
    return tuple(sorted(kept))


@lru_cache(maxsize=64)
def _solved(setup: Setup, levels: tuple[float, ...]) -> CheckedCurve:
    """The curve by the numbers alone."""
    return checked_curve(setup.rod, setup.vessel, levels, setup.liquid, setup.gas)


def _told(
    desk: Desk,
    curve: CheckedCurve,
    marks: tuple[float, float, float],
    beneath: list[Entry],
    made: tuple[Setup, str, str],
) -> FieldCurve:
    """The curve on the sheet, with what a two-point setting leaves; `made`: of what, its words, the method."""
    (low, high, now), (setup, words, method) = marks, made
    constant = float(desk.sheet[desk.case.probe.constant.path].value or 0.0)
    held: Reals = np.real(curve.capacitances_F).astype(np.float64) + constant
    off = (high - low) * departure_from_straight_line(curve.levels_m, held, low, high)
    columns = zip(curve.levels_m.tolist(), held.tolist(), off.tolist(), strict=True)
    rows = tuple(_row(desk, level, farads, error, (beneath, method)) for level, farads, error in columns)
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
    table = linearisation_table(curve.levels_m, held, low, high)
    return FieldCurve(rows, low, high, difference, table, now, constant, setup, words)


def _row(desk: Desk, level_m: float, capacitance_F: float, error_m: float, by: tuple[list[Entry], str]) -> FieldRow:
    """One level of the curve on the sheet, `by` what it rests on and its method."""
    beneath, method = by
    at = f"{level_m * 1e3:.6g} mm"
    capacitance = desk.sheet.record(
        f"probe.field[{at}]",
        capacitance_F,
        "F",
        f"capacitance by the field, level {at}",
        method=method,
        source="derived",
        rests_on=beneath,
        shown="pF",
    )
    reads = desk.sheet.record(
        f"probe.field_error[{at}]",
        error_m,
        "m",
        f"reads too high by, level {at}",
        method="the straight line through the two levels of the setting, read at this capacitance",
        source="derived",
        rests_on=[capacitance],
        shown="mm",
    )
    return FieldRow(level_m, capacitance, reads)
