"""The wall that the field of a probe ends on: of the vessel's own shape, of a tube, or of a stated radius."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from onedatum.case.leaf import Leaf
from onedatum.case.model.probe import BY_ROD, BY_STRIP, BY_TUBE, BY_WALL, CONCRETE, CONDUCTS, INSULATES
from onedatum.case.model.vessel import AT_GAUGE, BY_TABLE, LOWEST
from onedatum.foundation.working import Entry
from onedatum.physics.capacitive.field import Vessel, rectangular_wall, round_wall, tube_wall
from onedatum.physics.vessels import GaugeSections
from onedatum.study.desk import Desk
from onedatum.study.probe.place import FOUR_WALLS, ROUND, moved_along_m, sections_of
from onedatum.study.probe.section import ProbeSection

AS_IT_IS = "The wall counts as it stands at every height."
BESIDE_AXIS = (
    "Every height counts by the round section with the same capacitance: away from the axis the capacitance itself is "
    "good to 1 % of the span, and to 0.1 % of it once set at two levels (derived, against fields in space)."
)
BY_WALLS = (
    "Every height counts by the round section with the same capacitance as its two sides and two ends, the rod thin "
    "and the ends flat: the capacitance itself is good to 1 % of the span, and to 0.1 % of it once set at two levels "
    "(derived, against the field in space of a lying cylinder)."
)
BY_STATED = "The stated radius counts at every height, between a level floor and a level roof."
LOWERED = "As though a level roof lay at the end of the active length."
IN_TUBE = "The tube counts as open below and going on above: what lies beyond its ends is not felt."

_NOT_ROUND = {
    BY_ROD: "an earthed rod beside it makes a field that is not round: the closed form of the two rods counts",
    **dict.fromkeys(BY_STRIP, "an earthed strip makes a field that is not round: the closed form of the strip counts"),
}
_NO_PLATE = {
    INSULATES: "the wall is plastic: it is no plate to the rod",
    CONCRETE: "the wall is concrete: it is no sure plate to the rod",
}


@dataclass(frozen=True)
class FieldWall:
    """The wall with the words that say how it was come by."""

    vessel: Vessel
    words: str
    rests_on: tuple[Entry, ...] = ()


@dataclass(frozen=True)
class NoField:
    """Why no field is worked."""

    why: str
    waits_for: tuple[str, ...] = field(default=(), kw_only=True)
    """By path, what must be known or put right before it is; empty where no answer would help."""


def below_roof(vessel: Vessel, upper_m: float) -> Vessel:
    """The same wall with a level roof at the end of the active length."""
    heights = np.append(vessel.heights_m[vessel.heights_m < upper_m], upper_m)
    return Vessel(heights, vessel.radius_m(heights))


def by_tube(desk: Desk) -> bool:
    """Whether a concentric tube is the other plate."""
    return desk.case.probe.earth.kind.word == BY_TUBE


def refused(desk: Desk) -> NoField | None:
    """What the case says that no field can be worked for, by name; None where one can."""
    probe, vessel = desk.case.probe, desk.case.vessel
    kind, wall = probe.earth.kind.word, probe.wall.kind.word
    if kind == BY_TUBE:
        return None
    if kind != BY_WALL:
        not_stated = "what the circuit of the probe closes through is not stated"
        return NoField(_NOT_ROUND.get(kind, not_stated), waits_for=_while_unknown(probe.earth.kind))
    if wall != CONDUCTS:
        not_stated = "whether the wall of the vessel conducts is not stated"
        return NoField(_NO_PLATE.get(wall, not_stated), waits_for=_while_unknown(probe.wall.kind))
    if not vessel.shape.known:
        return NoField("the shape of the vessel is not stated", waits_for=(vessel.shape.path,))
    return _refused_shape(desk)


def _while_unknown(leaf: Leaf) -> tuple[str, ...]:
    return () if leaf.known else (leaf.path,)


def _refused_shape(desk: Desk) -> NoField | None:
    vessel, stated = desk.case.vessel, desk.case.probe.wall.equivalent_radius.known
    shape = vessel.shape.word
    if vessel.datum.word not in (LOWEST, AT_GAUGE):
        why = "heights do not count from the floor of the vessel"
        return NoField(why, waits_for=_while_unknown(vessel.datum))
    if shape == BY_TABLE and not stated:
        why = "a vessel known by its table alone has no wall: state the equivalent radius"
        return NoField(why, waits_for=(desk.case.probe.wall.equivalent_radius.path,))
    if shape in ROUND and (vessel.slope.known or vessel.tilt.known):
        return NoField("the vessel leans, and the rod does not stand along its axis")
    if any(leaf.known for leaf in vessel.floating_roof.leaves()):
        return NoField("a floating roof moves with the level")
    return None


def wall_of(desk: Desk, section: ProbeSection, body: Entry | None, ends: tuple[float, float], ring: float) -> FieldWall:
    """The wall about the rod from `ends`, all of which is known; raises ValidityError where the rod has no room."""
    wall = float(section.equivalent.value or 0.0)
    if by_tube(desk):
        thickness = float(section.outside.value or 0.0) - float(section.core.value or 0.0)
        return FieldWall(tube_wall(wall, ends[0] - thickness, ends[1]), IN_TUBE, (section.equivalent,))
    rests = () if body is None else (body,)
    sections = sections_of(body)
    if desk.case.probe.wall.equivalent_radius.known or sections is None:
        low, high = (0.0, ends[1]) if sections is None else (sections.heights_m[0], sections.heights_m[-1])
        heights = np.array([low, high], dtype=np.float64)
        return FieldWall(Vessel(heights, np.full(2, wall)), BY_STATED, (section.equivalent, *rests))
    off = desk.sheet[desk.case.probe.wall.off_axis.path]
    return _by_shape(desk, section, sections, (off, ring), rests)


def _by_shape(
    desk: Desk, section: ProbeSection, sections: GaugeSections, place: tuple[Entry, float], rests: tuple[Entry, ...]
) -> FieldWall:
    (off, ring), rod = place, float(section.outside.value or 0.0)
    aside, heights, half = float(off.value or 0.0), sections.heights_m, sections.half_widths_m
    if desk.case.vessel.shape.word in FOUR_WALLS:
        moved = moved_along_m(desk)
        along = (sections.to_near_end_m + moved, sections.to_far_end_m - moved)
        return FieldWall(rectangular_wall(heights, half, along, rod, aside, ring), BY_WALLS, (off, *rests))
    words = BESIDE_AXIS if aside else AS_IT_IS
    return FieldWall(round_wall(heights, half, rod, aside, ring), words, (off, *rests))
