"""Levels that a choice counts with: the highest and the lowest wanted, and the height of the sealing face."""

from __future__ import annotations

from onedatum.case.model.vessel import LOWEST
from onedatum.foundation.working import Entry
from onedatum.physics.magnetostrictive import flange_face_height_m
from onedatum.study.apart import HEIGHTS
from onedatum.study.choosing.bench import Bench


def highest_wanted(bench: Bench) -> Entry | None:
    """The upper end of the range, or an alarm above it."""
    ends = [bench.at_hand("range.high"), bench.at_hand("overfill.high_high")]
    alarm = bench.desk.case.overfill.set_points.HH
    if alarm.known:
        ends[1] = bench.taken(alarm)
    if ends[0] is None:
        return None
    known = [end for end in ends if end is not None]
    return bench.end_of("highest_wanted", "greatest", "highest level wanted, alarms with it", known)


def lowest_wanted(bench: Bench) -> Entry | None:
    """The lower end of the range, or an alarm below it."""
    low, alarm = bench.at_hand("range.low"), bench.taken(bench.desk.case.overfill.set_points.LL)
    if low is None:
        return None
    known = [low] if alarm is None or not bench.desk.case.overfill.set_points.LL.known else [low, alarm]
    return bench.end_of("lowest_wanted", "least", "lowest level wanted, alarms with it", known)


def span(bench: Bench) -> Entry | None:
    """From the lower to the upper end of the range."""
    high, low = bench.at_hand("range.high"), bench.at_hand("range.low")
    if high is None or low is None or (high.value or 0.0) <= (low.value or 0.0):
        return None
    return bench.work("span", HEIGHTS.margin, "", "span of the range", **{HEIGHTS.upper: high, HEIGHTS.lower: low})


def sealing_face(bench: Bench) -> Entry | None:
    """Height of the flange face above the datum, where one is at hand or follows from vessel and nozzle."""
    desk = bench.desk
    for name in ("nozzle.flange_face_height", "probe.sealing_face"):
        if (entry := bench.at_hand(name)) is not None:
            return entry
    face, inside = bench.taken(desk.case.nozzle.flange_face), bench.at_hand("vessel.inside_height")
    if face is None or inside is None or desk.case.vessel.datum.word != LOWEST:
        return None
    if "nozzle.flange_face_height" in desk.sheet:
        return None
    inputs = {"inside_height_m": inside, "nozzle_height_m": face}
    entry = desk.worked("nozzle.flange_face_height", flange_face_height_m, inputs, shown="mm")
    return entry if entry.known else None
