"""The ends of a rod of which no field is worked: a bound where one can be given, else what must be known first."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.model.probe import BY_ROD, BY_TUBE, BY_WALL, CONCRETE, INSULATES
from onedatum.foundation.working import Entry
from onedatum.physics.capacitive import beside_ends_m
from onedatum.study.desk import Desk, Want
from onedatum.study.probe.chapter import ProbeChapter
from onedatum.study.probe.regime import BETWEEN, INSULATING

BOUND = "probe.ends_beside"
TRIAL = "probe.ends"
"""Under this path a trial is asked for: it tells what the ends add as well as what a field waits for."""
AT_ENDS, APART_FROM_THEM = 0.25, 0.03
"""Of the distance of the rods: what both ends move the level by, and of levels half that distance away from them."""
THIN_SHARE = 1.0 / 15.0
"""Radius of a rod, of the distance of the axes, up to which the lesser share was worked."""


def ends_count(desk: Desk, probe: ProbeChapter) -> bool:
    """Whether the ends add something that no field tells; a liquid that conducts is the other plate itself."""
    kind = desk.case.probe.earth.kind.word
    if probe.bend is not None or probe.regime.word not in (INSULATING, BETWEEN) or kind in ("", BY_TUBE):
        return False
    return kind != BY_WALL or probe.closes is not False


def ends_not_worked(desk: Desk, probe: ProbeChapter) -> Entry | None:
    """The most they move the level by; not known where no bound holds, None where they add nothing."""
    if not ends_count(desk, probe):
        return None
    if _between_rods(desk):
        return _bound(desk, probe)
    return _open(desk, probe)


def beside_ends(desk: Desk) -> Entry | None:
    """The bound, where one was given."""
    return desk.sheet.entries.get(BOUND)


def _between_rods(desk: Desk) -> bool:
    """Two rods and no metal about them: the reach of a field between them is their distance."""
    probe = desk.case.probe
    return probe.earth.kind.word == BY_ROD and probe.wall.kind.word in (INSULATES, CONCRETE)


def _bound(desk: Desk, probe: ProbeChapter) -> Entry:
    apart = desk.take(desk.case.probe.earth.apart, "mm")
    share = desk.constant(
        "probe.ends_share",
        APART_FROM_THEM if _far_from_ends(desk, probe, apart) else AT_ENDS,
        "",
        "the most that both ends move the level by, as a share of the distance of the rods",
        source="derived",
        note="0.25; 0.03 where setting, range, alarm and level now lie half that distance away from tip and roof",
    )
    meaning = "the ends of the two rods move the level by at most, either way"
    return desk.worked(BOUND, beside_ends_m, {"share": share, "apart_m": apart}, shown="mm", meaning=meaning)


def _far_from_ends(desk: Desk, probe: ProbeChapter, apart: Entry) -> bool:
    """Whether every level that counts lies where the field no longer feels the ends, between thin rods."""
    lower, upper, distance = probe.lower.value, probe.upper.value, apart.value
    thickest = max(float(radius.value or 0.0) for radius in (probe.section.outside, desk.sheet["probe.earth_radius"]))
    if lower is None or upper is None or distance is None or thickest > THIN_SHARE * distance:
        return False
    levels = list(_levels(desk, probe))
    return all(level is not None and lower + distance / 2 <= level <= upper - distance / 2 for level in levels)


def _levels(desk: Desk, probe: ProbeChapter) -> Iterator[float | None]:
    for point in (*probe.rows, *probe.setting, probe.now):
        yield point.level.value
    if desk.case.overfill.CH.known:
        yield desk.case.overfill.CH.si


def _open(desk: Desk, probe: ProbeChapter) -> Entry:
    """Not known, with what it waits for by name; a trial in the vessel tells it as well."""
    paths = probe.field_waits_for
    if (probe.slope.value or 0.0) > 0.0:
        paths = (*paths, TRIAL)
        title = "how far the ends of the rod bend the reading, where no field is worked: a trial at three levels"
        desk.wants.setdefault(TRIAL, Want(title, "process", "what the ends of the rod add to the level"))
    waiting = [
        desk.sheet.give(
            f"probe.ends_wait[{path}]", None, "m", f"what the ends of the rod add, open for {path}", path=path
        )
        for path in paths
    ]
    return desk.sheet.record(
        "probe.ends_open",
        None,
        "m",
        "what the ends of the rod add",
        method=f"no field is worked: {probe.no_field or 'what it needs is faulty'}",
        source="derived",
        rests_on=waiting,
        shown="mm",
    )
