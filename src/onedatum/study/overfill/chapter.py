"""Chapter overfill: where the alarms must stand, and whether they can come at all.

Three tests: the alarm lies within what can be measured, below the critical high level, and within what the loop
carries.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from onedatum.foundation.working import Entry
from onedatum.physics.loop import rise_rate_m_per_s, steady_lag_m
from onedatum.physics.overfill import alarm_uncertainty_m
from onedatum.study.desk import NONE, Desk, Want
from onedatum.study.loop import LoopChapter
from onedatum.study.overfill.carried import carried, in_order, in_time, visible, within_reach, within_vessel
from onedatum.study.overfill.levels import Ceiling, Keeping, automatic, high_high, working
from onedatum.study.overfill.low_alarms import can_come, other_alarms
from onedatum.study.overfill.response import damping, response_time
from onedatum.study.overfill.times import Forecast, Passing, forecast, times_to_critical
from onedatum.study.reach import Reach
from onedatum.study.signal import SignalChapter
from onedatum.study.vessel import VesselChapter
from onedatum.verdicts import Effect, Finding, Link

NO_INSTRUMENT = "no instrument is chosen: what it takes comes off still"
"""Why nothing is taken off for an instrument."""


@dataclass(frozen=True)
class OverfillChapter:
    """What the findings and the sheets need of the alarms."""

    critical: Entry
    critical_current: Entry
    high_high: Ceiling
    high_high_current: Entry
    """The current where the alarm stands."""
    automatic: Ceiling | None
    working: Ceiling | None
    others: tuple[tuple[str, Entry], ...]
    """LL, L and H as far as they are stated."""
    passings: tuple[Passing, ...]
    forecasts: tuple[Forecast, ...]
    uncertainty: Entry
    """Expanded uncertainty of the level as the receiver sees it."""
    allowance: Entry
    critical_below_end: bool | None = None
    """Whether the current of critical high lies below the end of what the loop and the information carry."""
    critical_above_end: bool | None = None
    """The same at the low end of the information, for a reverse acting range."""


@dataclass(frozen=True)
class Rooms:
    """The chapters that the alarms rest on."""

    vessel: VesselChapter
    reach: Reach
    signal: SignalChapter
    loop: LoopChapter


def without_overfill(desk: Desk) -> bool:
    """Whether the case states that nothing is to be held against overfilling."""
    stated = desk.case.overfill
    without = stated.CH.state == NONE
    if without:
        desk.skip(*stated.leaves(), desk.case.instrument.damping_tau, desk.case.instrument.scan)
    return without


def overfill_chapter(desk: Desk, rooms: Rooms, level: Entry, level_u: Entry) -> OverfillChapter:
    """Work the alarms, and whether they can come."""
    vessel, signal, reach, loop = rooms.vessel, rooms.signal, rooms.reach, rooms.loop
    chapter = _set_points(desk, vessel, signal, level, _uncertainty(desk, loop, level_u))
    below, above = visible(desk, signal, loop, chapter.critical_current)
    within_reach(desk, reach, chapter.high_high.stands)
    carried(desk, signal, loop, chapter.high_high_current)
    can_come(desk, signal, reach, loop, chapter.others)
    _lag(desk)
    return replace(chapter, critical_below_end=below, critical_above_end=above)


def set_points_chapter(
    desk: Desk, vessel: VesselChapter, signal: SignalChapter, level: Entry, level_u: Entry | None
) -> OverfillChapter:
    """Work how high the alarms may stand where no instrument is chosen; what is not stated of it comes off still."""
    instrument, receiver = desk.case.instrument, desk.case.loop.receiver
    for leaf in (instrument.damping_tau, instrument.scan, receiver.damping_tau):
        if not leaf.known:
            desk.usual(leaf, 0.0, NO_INSTRUMENT, shown="s")
    meaning = "uncertainty of the level"
    name, note = "overfill.level_uncertainty", NO_INSTRUMENT
    if level_u is None:
        level_u = desk.constant(name, 0.0, "m", meaning, state="assumed", shown="mm", note=note)
    chapter = _set_points(desk, vessel, signal, level, level_u)
    if chapter.high_high.highest.known:
        desk.findings.append(_before_instrument(chapter.high_high.highest))
    return chapter


def _before_instrument(highest: Entry) -> Finding:
    title = "HH is placed before an instrument is chosen: it may have to stand lower"
    chain = (
        Link("Uncertainty of the level and lag of the signal come off still, as far as none is stated"),
        Link("By vessel and filling HH may stand at most at", highest.text, highest.name),
    )
    way_out = Link("Set HH once the instrument is chosen, and its reach and its loop are worked")
    return Finding("no-instrument", title, Effect.WARNING, chain, (way_out,), safety=True)


def _set_points(
    desk: Desk, vessel: VesselChapter, signal: SignalChapter, level: Entry, uncertainty: Entry
) -> OverfillChapter:
    """Where the alarms may stand, by vessel and filling, and how long they leave."""
    critical, response = desk.take(desk.case.overfill.CH, "mm"), response_time(desk)
    keeping = _keeping(desk, uncertainty)
    alarm = high_high(desk, vessel, critical, response, keeping)
    stop = automatic(desk, vessel, critical, keeping)
    work = working(desk, vessel, alarm, stop, keeping.gap)
    _set_points_asked(desk)
    current = signal.current(desk, "overfill.high_high_current", alarm.stands, "current at the high-high alarm")
    critical_current = signal.current(desk, "overfill.critical_current", critical, "current at the critical high level")
    in_time(desk, alarm, "alarm-in-time")
    if stop is not None:
        in_time(desk, stop, "automatic-in-time")
    in_order(desk, alarm, stop)
    within_vessel(desk, vessel, critical)
    others = other_alarms(desk)
    _rise(desk, vessel, alarm.stands)
    concern = [*others, *((each.name, each.stands) for each in (work, alarm, stop) if each is not None)]
    return OverfillChapter(
        critical,
        critical_current,
        alarm,
        current,
        stop,
        work,
        others,
        times_to_critical(desk, vessel, critical, concern),
        forecast(desk, vessel, level, [*((n, e) for n, e in concern if n in ("H", "HH", "AOPS")), ("CH", critical)]),
        uncertainty,
        keeping.allowance,
    )


def _keeping(desk: Desk, uncertainty: Entry) -> Keeping:
    overfill = desk.case.overfill
    return Keeping(
        desk.take(overfill.least_gap, "mm"),
        desk.take(overfill.level_allowance, "mm", none=0.0),
        uncertainty,
        desk.take(overfill.foam, "mm", none=0.0),
    )


def _uncertainty(desk: Desk, loop: LoopChapter, level_u: Entry) -> Entry:
    """The uncertainty of the level at the alarm: that of level and datum, and the receiver's where known."""
    if loop.receiver_standard is None:
        return level_u
    return desk.calc(
        "overfill.level_uncertainty",
        alarm_uncertainty_m,
        shown="mm",
        level_uncertainty_m=level_u,
        receiver_standard_m=loop.receiver_standard,
    )


def _set_points_asked(desk: Desk) -> None:
    """Ask for the alarms as set: once where nothing is said of any, by name where one is written out as unknown.

    An alarm that is not set yet is stated as none: the study then says how high it may stand.
    """
    overfill = desk.case.overfill
    points = tuple(overfill.set_points.leaves())
    decides = "whether the alarms as they are set leave the time to stop the filling"
    for leaf in (each for each in points if each.asked and each.state == "unknown"):
        desk.wants.setdefault(leaf.path, Want(leaf.title, "process", decides))
    if overfill.CH.known and all(leaf.state == "unknown" and not leaf.asked for leaf in points):
        title = "alarms as they are set (LL, L, H, HH, AOPS); none where none is set yet"
        desk.wants.setdefault("overfill.set_points", Want(title, "process", decides))


def _rise(desk: Desk, vessel: VesselChapter, alarm: Entry) -> None:
    """How fast the surface rises at the alarm."""
    desk.calc(
        "overfill.rise_rate",
        rise_rate_m_per_s,
        shown="mm/min",
        meaning="rise of the surface at the high-high alarm and the highest filling rate",
        fill_rate_m3_per_s=desk.take(desk.case.overfill.fill_rate_max, "m3/h"),
        surface_m2=vessel.surface(desk, "overfill.surface", alarm, "surface at the high-high alarm"),
    )


def _lag(desk: Desk) -> None:
    """How far the signal lags behind the surface at that rise."""
    scan = desk.take(desk.case.instrument.scan, "s", none=0.0)
    none = desk.sheet.give("overfill.second_damping", 0.0, "s", "counted in the damping", state="none", shown="s")
    desk.calc(
        "overfill.lag",
        steady_lag_m,
        shown="mm",
        meaning="how far the signal lags behind the surface at that rise",
        rate_m_per_s=desk.sheet["overfill.rise_rate"],
        damping_time_s=damping(desk),
        second_damping_time_s=none,
        dead_time_s=scan,
    )
