"""Checks of the vessel as stated: measures that contradict each other, and words that do not go together."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise

from onedatum.case.leaf import Value
from onedatum.case.model import Case
from onedatum.case.model.vessel import (
    ASME_FD,
    AT_GAUGE,
    BY_TABLE,
    CONE,
    DIN_28011,
    DIN_28013,
    LOWEST,
    LYING,
    OF_TABLE,
    ON_HOPPER,
    PROFILE,
    RECTANGULAR,
    STRAPPED,
    UPRIGHT,
    Head,
    Part,
)
from onedatum.foundation.errors import Fault

TURNABLE = (CONE, ON_HOPPER, PROFILE)
TILTABLE = (LYING, RECTANGULAR, UPRIGHT)
BY_STANDARD = (DIN_28011, DIN_28013, ASME_FD)
_ALIKE_M = 1e-3
"""Diameters that are stated twice may differ by as much as a drawing rounds."""


def vessel_contradictions(case: Case) -> Iterator[Fault]:
    """Every contradiction in the vessel."""
    for check in _CHECKS:
        yield from check(case)


def _diameters(case: Case) -> Iterator[Fault]:
    vessel = case.vessel
    inside, outside, wall, lining = (
        leaf.si for leaf in (vessel.inside_diameter, vessel.outside_diameter, vessel.wall, vessel.lining)
    )
    if inside is None or outside is None:
        return
    if outside <= inside:
        yield vessel.outside_diameter.fault(f"above the inside diameter, {vessel.inside_diameter.text}", "")
    elif wall is not None and abs(outside - inside - 2 * (wall + (lining or 0.0))) > _ALIKE_M:
        why = "outside diameter less wall and lining on both sides is another inside diameter"
        yield vessel.inside_diameter.fault("in keeping with outside diameter, wall and lining", why)


def _slope_once(case: Case) -> Iterator[Fault]:
    vessel = case.vessel
    if vessel.slope.known and vessel.tilt.known:
        yield vessel.tilt.fault("left away beside vessel.slope", "two statements of one slope")
    stated = vessel.slope if vessel.slope.known else vessel.tilt
    if stated.known and vessel.shape.word and vessel.shape.word not in TILTABLE:
        why = f"the tilt of a {vessel.shape.word} is not worked; strapped courses state vessel.strapping.lean"
        yield stated.fault("none for this shape", why)
    if stated.known and vessel.shape.word == UPRIGHT and stated.si is not None and stated.si < 0:
        yield stated.fault("zero or more", "a lean has no sign; the gauge offset says towards which side it stands")


def _datum(case: Case) -> Iterator[Fault]:
    vessel = case.vessel
    tilted = bool(vessel.slope.si or vessel.tilt.si)
    if tilted and vessel.datum.word == LOWEST:
        why = "the lowest inside point of a tilted vessel does not lie under the gauge"
        yield vessel.datum.fault(f"{AT_GAUGE}, for a vessel that is tilted", why)
    if vessel.datum.word == OF_TABLE and vessel.shape.word and vessel.shape.word != BY_TABLE:
        yield vessel.datum.fault(f"{LOWEST} or {AT_GAUGE}", "a vessel worked by its shape has no table to count from")


def _upside_down(case: Case) -> Iterator[Fault]:
    vessel = case.vessel
    if vessel.upside_down.word == "yes" and vessel.shape.word and vessel.shape.word not in TURNABLE:
        why = "the other shapes are stated the way they stand, by their ends"
        yield vessel.upside_down.fault(f"no, or the shape one of: {'; '.join(TURNABLE)}", why)


def _station(case: Case) -> Iterator[Fault]:
    vessel = case.vessel
    over = vessel.shell_length if vessel.shape.word == LYING else vessel.length
    if vessel.shape.word not in (LYING, RECTANGULAR) or over.si is None or vessel.gauge_station.si is None:
        return
    if vessel.gauge_station.si > over.si and not _with_flanges(vessel.near_end, vessel.far_end):
        yield vessel.gauge_station.fault(f"at most {over.text}", "the gauge stands over the shell")


def _with_flanges(*heads: Head) -> bool:
    return any(head.straight_flange.known for head in heads)


def _heads(case: Case) -> Iterator[Fault]:
    vessel = case.vessel
    for head in (vessel.bottom_head, vessel.top_head, vessel.near_end, vessel.far_end):
        if head.form.word in BY_STANDARD:
            for leaf in (head.crown_radius, head.knuckle_radius, head.depth):
                if leaf.known:
                    yield leaf.fault(
                        f"left away with {head.form.word}", "the standard gives it; else state torispherical"
                    )


def _outlets(case: Case) -> Iterator[Fault]:
    """The sides of a hopper go with its full section."""
    vessel = case.vessel
    for outlet, side in ((vessel.outlet_length, vessel.length), (vessel.outlet_width, vessel.width)):
        if outlet.si is not None and side.si is not None and outlet.si > side.si:
            why = "a hopper narrows downwards; one that widens is stated upside down"
            yield outlet.fault(f"at most the full side, {side.text}", why)


def _profile(case: Case) -> Iterator[Fault]:
    points = case.vessel.profile.items
    if case.vessel.shape.word == PROFILE and case.vessel.profile.state == "stated" and len(points) < 2:
        yield case.vessel.profile.fault("at least two points", "one point encloses nothing")
    yield from _rising([point.height for point in points], "the profile is stated from the bottom up")


def _bottom_points(case: Case) -> Iterator[Fault]:
    points = case.vessel.bottom_points.items
    yield from _rising([point.level for point in points], "the points are stated from the bottom up")
    yield from _rising([point.volume for point in points], "more liquid stands higher")


def _batches(case: Case) -> Iterator[Fault]:
    vessel = case.vessel
    yield from _rising([batch.level for batch in vessel.batches.items], "the batches are stated as they were run in")
    if vessel.batches.state == "stated" and vessel.shape.word and vessel.shape.word not in (STRAPPED, BY_TABLE):
        why = f"a liquid calibration makes the bottom of {STRAPPED} or a vessel {BY_TABLE}"
        yield vessel.batches.fault("left away for this shape", why)
    for other in (vessel.bottom_points, case.table.read_from):
        if vessel.batches.state == "stated" and other.known:
            yield other.fault("left away beside vessel.batches", "two statements of one table")


def _rising(leaves: Sequence[Value], why: str) -> Iterator[Fault]:
    for below, above in pairwise(leaves):
        if below.si is not None and above.si is not None and above.si <= below.si:
            yield above.fault(f"above the one before, {below.text}", why)


def _parts(case: Case) -> Iterator[Fault]:
    for part in case.vessel.deadwood.items:
        yield from _part(part)


def _part(part: Part) -> Iterator[Fault]:
    if part.takes.known and part.adds.known:
        yield part.adds.fault("left away beside takes", "a part takes room or adds some")
    if part.from_.si is not None and part.to.si is not None and part.to.si <= part.from_.si:
        yield part.to.fault(f"above its lowest level, {part.from_.text}", "a part has some height")


def _roof(case: Case) -> Iterator[Fault]:
    roof = case.vessel.floating_roof
    if roof.lands_at.si is not None and roof.floats_at.si is not None and roof.floats_at.si <= roof.lands_at.si:
        yield roof.floats_at.fault(f"above the level at which it lands, {roof.lands_at.text}", "")
    if roof.mass.known and case.vessel.shape.word and case.vessel.shape.word != STRAPPED:
        why = "a floating roof is worked on strapped courses only"
        yield roof.mass.fault("left away for this shape", why)


def _straps(case: Case) -> Iterator[Fault]:
    for course in case.vessel.courses.items:
        over, height = course.strapped_at, course.height
        if over.si is not None and height.si is not None and over.si > height.si:
            yield over.fault(f"at most the height of the course, {height.text}", "a course is strapped on itself")


def _table(case: Case) -> Iterator[Fault]:
    stated, shape = case.table.read_from, case.vessel.shape.word
    if stated.known and shape and shape != BY_TABLE:
        why = f"a table is used with vessel.shape: {BY_TABLE}; beside a shape it would count for nothing"
        yield stated.fault("left away with this shape", why)


_CHECKS: tuple[Callable[[Case], Iterator[Fault]], ...] = (
    _diameters,
    _slope_once,
    _datum,
    _upside_down,
    _station,
    _heads,
    _outlets,
    _profile,
    _bottom_points,
    _batches,
    _parts,
    _roof,
    _straps,
    _table,
)
