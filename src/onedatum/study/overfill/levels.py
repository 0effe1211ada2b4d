"""Levels of concern: every set-point by the same formula, from the level above it and what flows in meanwhile."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.case.leaf import Value
from onedatum.foundation.working import Entry
from onedatum.physics.overfill import alarm_volume_m3, high_high_by_constant_area_m, high_high_level_m
from onedatum.study.desk import Desk
from onedatum.study.overfill.response import inflow
from onedatum.study.vessel import VesselChapter

WITHOUT_HIGH = "_without_high"
"""At the end of the names of what is worked as if no H were stated."""


@dataclass(frozen=True)
class Ceiling:
    """How high a set-point may stand beneath a level of concern."""

    name: str
    """In print: HH, AOPS, MW."""
    highest: Entry
    as_set: Entry | None
    """The level it is set to, where it is stated."""
    counted_from: Entry | None = None
    """The alarm it counts back from, where that is not critical high."""

    @property
    def stands(self) -> Entry:
        """Where it stands: as set, else at the highest."""
        return self.as_set or self.highest


@dataclass(frozen=True)
class Keeping:
    """What is kept off below a level of concern whatever flows in."""

    gap: Entry
    allowance: Entry
    uncertainty: Entry
    foam: Entry


def high_high(desk: Desk, vessel: VesselChapter, critical: Entry, response: Entry, keeping: Keeping) -> Ceiling:
    """The high-high alarm."""
    words = (
        "volume at which the high-high alarm must come",
        "level from which the filling just reaches the critical high level",
        "high-high level, the highest place for the alarm",
    )
    volume = vessel.volume(desk, "overfill.critical_volume", critical, "volume at the critical high level")
    names = "overfill.alarm_volume", "overfill.level_by_volume", "overfill.high_high"
    highest = _set_point(desk, vessel, names, words, critical, volume, response, keeping)
    _by_constant_area(desk, vessel, critical, response, keeping)
    return Ceiling("HH", highest, _as_set(desk, desk.case.overfill.set_points.HH))


def automatic(desk: Desk, vessel: VesselChapter, critical: Entry, keeping: Keeping) -> Ceiling | None:
    """The automatic overfill prevention, where its response is stated; it acts above HH, on its own time."""
    stated, set_point = desk.case.overfill.automatic_response, desk.case.overfill.set_points.AOPS
    if not stated.known:
        if set_point.known or set_point.asked or stated.asked:
            desk.want(stated, "how high the automatic overfill prevention (AOPS) may stand")
        return None
    words = (
        "volume at which the automatic overfill prevention must act",
        "level from which the filling just reaches critical high while it acts",
        "highest place for the automatic overfill prevention",
    )
    names = "overfill.automatic_volume", "overfill.automatic_by_volume", "overfill.automatic"
    volume, response = desk.sheet["overfill.critical_volume"], desk.take(stated, "s")
    highest = _set_point(desk, vessel, names, words, critical, volume, response, keeping)
    return Ceiling("AOPS", highest, _as_set(desk, set_point))


def working(desk: Desk, vessel: VesselChapter, alarm: Ceiling, stop: Ceiling | None, gap: Entry) -> Ceiling | None:
    """The maximum working level below the lowest alarm, where the time kept between them is stated.

    The lowest is H where it is stated, for a filling in the usual course must not raise it; else HH or AOPS. What MW
    would be without H is worked beside it. Uncertainty and foam are taken off at the alarm already, not here once more.
    """
    stated, high = desk.case.overfill.working_response, _as_set(desk, desk.case.overfill.set_points.H)
    if not stated.known:
        if stated.asked:
            desk.want(stated, "how high the filling may go in the usual course (MW)")
        return None
    beside = [alarm.stands] if stop is None else [alarm.stands, stop.stands]
    every = beside if high is None else [high, *beside]
    lowest = _least(desk, "", every)
    if high is not None:
        _working(desk, vessel, _least(desk, WITHOUT_HIGH, beside), gap, WITHOUT_HIGH)
    return Ceiling("MW", _working(desk, vessel, lowest, gap, ""), None, lowest)


def _least(desk: Desk, of: str, alarms: list[Entry]) -> Entry:
    """The lowest of the alarms where they stand."""
    if len(alarms) == 1:
        return alarms[0]
    return desk.sheet.select(f"overfill.lowest_alarm{of}", "least", "lowest alarm above the working levels", alarms)


def _working(desk: Desk, vessel: VesselChapter, above: Entry, gap: Entry, of: str) -> Entry:
    """The level from which the filling just reaches an alarm in the time kept for it."""
    words = (
        "volume at the maximum working level",
        "level from which the filling just reaches the alarm above",
        f"maximum working level{', if H were not there' if of else ''}",
    )
    response = desk.take(desk.case.overfill.working_response, "min")
    volume = vessel.volume(desk, f"overfill.lowest_alarm_volume{of}", above, "volume at the lowest alarm")
    names = f"overfill.working_volume{of}", f"overfill.working_by_volume{of}", f"overfill.working{of}"
    none = _nothing(desk)
    return _set_point(
        desk, vessel, names, words, above, volume, response, Keeping(gap, none, none, none), lagging=False
    )


def _nothing(desk: Desk) -> Entry:
    name, meaning = "overfill.working_allowance", "taken off at the alarm already"
    return desk.constant(name, 0.0, "m", meaning, state="none", shown="mm")


def _set_point(
    desk: Desk,
    vessel: VesselChapter,
    names: tuple[str, str, str],
    words: tuple[str, str, str],
    limit: Entry,
    limit_volume: Entry,
    response: Entry,
    keeping: Keeping,
    *,
    lagging: bool = True,
) -> Entry:
    flows = dict(inflow(desk, response))
    if not lagging:
        flows["damping_time_s"] = flows["scan_time_s"] = _no_lag(desk)
    alarm = desk.worked(
        names[0], alarm_volume_m3, {"critical_volume_m3": limit_volume, **flows}, shown="m3", meaning=words[0]
    )
    by_volume = vessel.level(desk, names[1], alarm, words[1])
    return desk.calc(
        names[2],
        high_high_level_m,
        shown="mm",
        meaning=words[2],
        level_by_volume_m=by_volume,
        critical_high_m=limit,
        least_gap_m=keeping.gap,
        allowance_m=keeping.allowance,
        level_uncertainty_m=keeping.uncertainty,
        foam_m=keeping.foam,
    )


def _no_lag(desk: Desk) -> Entry:
    name, meaning = "overfill.working_lag", "lag of the signal, counted at the alarm already"
    return desk.constant(name, 0.0, "s", meaning, state="none", shown="s")


def _as_set(desk: Desk, stated: Value) -> Entry | None:
    return desk.take(stated, "mm") if stated.known else None


def _by_constant_area(desk: Desk, vessel: VesselChapter, critical: Entry, response: Entry, keeping: Keeping) -> None:
    area = vessel.shell_area
    if area is None:
        area = vessel.surface(desk, "overfill.critical_surface", critical, "surface at the critical high level")
    desk.worked(
        "comparison.high_high_by_constant_area",
        high_high_by_constant_area_m,
        {
            "critical_high_m": critical,
            "area_m2": area,
            "allowance_m": keeping.allowance,
            **inflow(desk, response),
        },
        shown="mm",
        meaning="high-high alarm as a sheet with one area for all heights would place it",
    )
