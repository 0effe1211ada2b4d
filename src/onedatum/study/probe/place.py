"""Where the rod stands in its vessel: the sections about it, and the round tank that would hold the same."""

from __future__ import annotations

from onedatum.case.model.vessel import (
    CONE,
    LYING,
    ON_HOPPER,
    PROFILE,
    RECTANGULAR,
    SPHERE,
    SPHEROID,
    STRAPPED,
    UPRIGHT,
)
from onedatum.foundation.errors import Fault
from onedatum.foundation.units import show
from onedatum.foundation.working import Entry
from onedatum.physics.capacitive import in_rectangle_radius_m, off_axis_radius_m, radius_m
from onedatum.physics.vessels import Body, GaugeSections, section_at_m, sections_at_gauge
from onedatum.study.desk import Desk

ROUND = (UPRIGHT, CONE, SPHERE, SPHEROID, PROFILE, STRAPPED)
"""Shapes about a plumb axis."""
FOUR_WALLS = (LYING, RECTANGULAR, ON_HOPPER)
"""Shapes whose level section has two sides and two ends."""
ON_AXIS = "not spoken of: counted as on the axis"
THIN = 5.0
"""Radii of the rod from its axis to a flat wall, from where it counts as thin."""
OUTLINE = "the vessel's own outline, plumb through the gauge, half way up the active length"


def sections_of(body: Entry | None) -> GaugeSections | None:
    """The sections of the vessel where its gauge stands; None while it is unknown."""
    whole = None if body is None else body.whole
    return sections_at_gauge(whole) if isinstance(whole, Body) else None


def moved_along_m(desk: Desk) -> float:
    """How far from mid length the gauge of a level vessel stands, towards its far end."""
    vessel = desk.case.vessel
    lengths = {LYING: ("vessel.cylinder_length", "vessel.shell_length"), RECTANGULAR: ("vessel.length",)}
    names = [name for name in lengths.get(vessel.shape.word, ()) if name in desk.sheet]
    station, level = vessel.gauge_station.si, not (vessel.slope.known or vessel.tilt.known)
    length = desk.sheet[names[0]].value if names else None
    if not level or station is None or length is None:
        return 0.0
    desk.read.add(vessel.gauge_station.path)
    return station - 0.5 * length


def equivalent_radius(desk: Desk, rod: Entry, body: Entry | None, name: str, meaning: str) -> Entry:
    """The round tank with the same capacitance, by the section of the vessel half way up the active length."""
    off = desk.absent(desk.case.probe.wall.off_axis, ON_AXIS, "mm")
    shape = desk.case.vessel.shape.word
    if shape == UPRIGHT:
        tank = desk.take(desk.case.vessel.inside_diameter, "mm")
        return _about_axis(desk, (rod, off), tank, "inside radius of the vessel", (name, meaning))
    width, near, far, rests = _half_way(desk, body)
    across = _recorded(desk, "probe.section_width", width, "inside width of the vessel about the rod", rests)
    if shape in ROUND:
        told = "inside radius of the vessel half way up the active length"
        return _about_axis(desk, (rod, off), across, told, (name, meaning))
    length, end = (None, None) if near is None or far is None else (near + far, min(near, far))
    side = None if width is None or off.value is None else 0.5 * width - off.value
    if _beside_wall(desk, rod, side):
        return desk.sheet.give(name, None, "m", meaning, path=desk.case.probe.wall.off_axis.path)
    inputs = {
        "rod_radius_m": rod,
        "width_m": across,
        "length_m": _recorded(desk, "probe.section_length", length, "inside length of the vessel about the rod", rests),
        "to_side_m": _recorded(desk, "probe.to_side", side, "axis of the rod from the nearer side", [*rests, off]),
        "to_end_m": _recorded(desk, "probe.to_end", end, "axis of the rod from the nearer end", rests),
    }
    return desk.worked(name, in_rectangle_radius_m, inputs, shown="mm", meaning=meaning)


def _beside_wall(desk: Desk, rod: Entry, side: float | None) -> bool:
    """Whether the rod stands so near to a side that it is not thin; says so, unless the case was refused for it."""
    if side is None or rod.value is None or side >= THIN * rod.value:
        return False
    off, inside = desk.case.probe.wall.off_axis, desk.case.vessel.inside_diameter.si
    if inside is None or (off.si or 0.0) + rod.value < 0.5 * inside:
        allowed = f"at least {show(THIN * rod.value, 'mm')} inside the wall, {show(side + (off.si or 0.0), 'mm')} away"
        why = "nearer to a flat wall the rod is not thin: state the equivalent radius"
        desk.faults.append(Fault(off.path, allowed, off.text or "not spoken of", why, off.place))
    return True


def _about_axis(desk: Desk, rod: tuple[Entry, Entry], diameter: Entry, told: str, named: tuple[str, str]) -> Entry:
    tank = desk.once("probe.tank_radius", radius_m, shown="mm", meaning=told, diameter_m=diameter)
    inputs = {"rod_radius_m": rod[0], "tank_radius_m": tank, "off_axis_m": rod[1]}
    return desk.worked(named[0], off_axis_radius_m, inputs, shown="mm", meaning=named[1])


def _half_way(desk: Desk, body: Entry | None) -> tuple[float | None, float | None, float | None, list[Entry]]:
    """Width, and how far to the near and to the far end, with what they rest on."""
    lower, upper = desk.take(desk.case.probe.active_from, "mm"), desk.take(desk.case.probe.active_to, "mm")
    rests, sections = [lower, upper, *([] if body is None else [body])], sections_of(body)
    if sections is None or lower.value is None or upper.value is None:
        return None, None, None, rests
    top = min(upper.value, float(sections.heights_m[-1]))
    width, near, far = section_at_m(sections, 0.5 * (lower.value + top))
    moved = moved_along_m(desk)
    return width, near + moved, far - moved, rests


def _recorded(desk: Desk, name: str, value: float | None, meaning: str, rests: list[Entry]) -> Entry:
    return desk.sheet.record(name, value, "m", meaning, method=OUTLINE, source="derived", rests_on=rests, shown="mm")
