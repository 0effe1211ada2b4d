"""Two taps, of a chamber or of the legs of a transmitter: their heights, and levels counted from the lower one."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.case.leaf import Value
from onedatum.case.model.vessel import LOWER_TAP
from onedatum.foundation.working import Entry
from onedatum.physics.taps import level_above_datum_m, level_above_tap_m, tap_distance_m
from onedatum.study.desk import Desk


@dataclass(frozen=True)
class Taps:
    """Heights above the datum, and their distance."""

    lower: Entry
    upper: Entry
    distance: Entry

    def above_tap(self, desk: Desk, name: str, level: Entry, meaning: str) -> Entry:
        """A level above the lower tap."""
        return above_tap(desk, self.lower, name, level, meaning)

    def above_datum(self, desk: Desk, name: str, level: Entry, meaning: str) -> Entry:
        """A level above the datum, from one above the lower tap."""
        inputs = {"above_tap_m": level, "tap_height_m": self.lower}
        return desk.worked(name, level_above_datum_m, inputs, shown="mm", meaning=meaning)


def taps_of(desk: Desk, part: str, lower: Value, upper: Value, apart: Value) -> Taps:
    """The taps as stated: the upper one by its height or by its distance; heights from the lower tap make that zero."""
    low = lower_tap(desk, lower)
    if apart.known and not upper.known:
        desk.read.add(upper.path)
        distance = desk.take(apart, "mm")
        name, meaning = f"{part}.upper_tap_height", "height of the upper tap above the datum"
        inputs = {"above_tap_m": distance, "tap_height_m": low}
        high = desk.worked(name, level_above_datum_m, inputs, shown="mm", meaning=meaning)
        return Taps(low, high, distance)
    desk.read.add(apart.path)
    high = desk.take(upper, "mm")
    name = f"{part}.tap_distance"
    if low.value is not None and high.value is not None and high.value <= low.value:
        exchanged = desk.sheet.give(name, None, "m", "distance of the taps", path=upper.path, place=upper.place)
        return Taps(low, high, exchanged)
    return Taps(low, high, desk.calc(name, tap_distance_m, shown="mm", upper_tap_m=high, lower_tap_m=low))


def above_tap(desk: Desk, tap: Entry, name: str, level: Entry, meaning: str) -> Entry:
    """A level above a tap, from one above the datum."""
    inputs = {"level_m": level, "tap_height_m": tap}
    return desk.worked(name, level_above_tap_m, inputs, shown="mm", meaning=f"{meaning}, above the lower tap")


def lower_tap(desk: Desk, stated: Value) -> Entry:
    """The lower tap as stated; where heights count from it, zero."""
    if stated.state == "unknown" and desk.case.vessel.datum.word == LOWER_TAP:
        desk.read.add(stated.path)
        note = "heights count from it"
        return desk.constant(stated.path, 0.0, "m", stated.title, state="computed", shown="mm", note=note)
    return desk.take(stated, "mm", none=0.0)
