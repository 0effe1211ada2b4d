"""What the recording system keeps of the readings: unit, last digit, ends of the span, rows by exception, its clock."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, timedelta
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from onedatum.foundation.moments import EPOCH, HOUR_s
from onedatum.foundation.numerics import Reals
from onedatum.physics.loop import level_at_current_m, span_share
from onedatum.simulate.history.plan import Plan
from onedatum.simulate.history.troubles import during, of_kind, size_at
from onedatum.simulate.instrument import Instrument

QUARTER_s = 900.0
LOW_A, HIGH_A = 0.004, 0.020


@dataclass(frozen=True)
class Recorded:
    """The rows of a log."""

    which: NDArray[np.intp]
    """The readings that were written."""
    value: Reals
    """In the unit of the record, rounded to its last digit."""
    behind_s: Reals
    """What the clock of the record adds to the true time."""
    offset_s: Reals
    """Of the legal time, as written or added, to UTC."""


def recorded(instrument: Instrument, current: Reals, plan: Plan) -> Recorded:
    """The rows that are written of readings that were taken evenly."""
    value = written_value(instrument, current, plan)
    time_s = plan.record.interval_s * np.arange(len(value), dtype=np.float64)
    kept = np.ones(len(value), dtype=bool)
    if plan.record.band > 0.0:
        kept = by_exception(value, plan.record.band, max(int(plan.record.longest_s / plan.record.interval_s), 1))
    for each in of_kind(plan.troubles, "gap"):
        kept &= ~during(each, time_s)
    which = np.flatnonzero(kept)
    behind_s = clock_s(plan, time_s)[which]
    offset_s = legal_offset_s(plan, time_s)[which]
    return Recorded(which, value[which], behind_s, offset_s if plan.record.clock != "utc" else np.zeros(len(which)))


def written_value(instrument: Instrument, current: Reals, plan: Plan) -> Reals:
    """Current in the unit of the record; levels by the range as it was set, or as one scaled wrong tells them."""
    record, lower_m, upper_m = plan.record, instrument.lower_m, instrument.upper_m
    current = np.clip(current, LOW_A, HIGH_A) if record.clamped else current
    time_s = record.interval_s * np.arange(len(current), dtype=np.float64)
    scaled = 1.0 + sum(size_at(each, time_s) for each in of_kind(plan.troubles, "receiver"))
    level_m = np.asarray(level_at_current_m(current, lower_m, lower_m + scaled * (upper_m - lower_m)))
    if record.unit == "mA":
        value = current * 1e3
    elif record.unit == "%":
        value = 100.0 * np.asarray(span_share(level_m, lower_m, upper_m))
    elif record.unit == "counts":
        value = np.asarray(level_at_current_m(current, *record.counts))
    else:
        value = level_m * (1e3 if record.unit == "mm" else 1.0)
    return np.asarray(np.round(value / record.step) * record.step)


def by_exception(value: Reals, band: float, longest: int) -> NDArray[np.bool_]:
    """Rows written: the first, each that is off the last written by more than the band, and one after so many."""
    kept = np.zeros(len(value), dtype=bool)
    last, at = float("inf"), 0
    for i, each in enumerate(value.tolist()):
        if abs(each - last) > band or i - at >= longest:
            kept[i], last, at = True, each, i
    return kept


def clock_s(plan: Plan, time_s: Reals) -> Reals:
    """What the clock of the record is ahead of the true time."""
    ahead_s = np.zeros_like(time_s)
    for each in of_kind(plan.troubles, "clock_jump"):
        ahead_s = ahead_s + size_at(each, time_s)
    for each in of_kind(plan.troubles, "clock_drift"):
        ran_s = np.where(during(each, time_s), time_s - each.start_s, 0.0)
        ahead_s = ahead_s + each.size * ran_s
    for each in of_kind(plan.troubles, "daylight"):
        offset_s = legal_offset_s(plan, time_s)
        ahead_s = ahead_s + np.where(during(each, time_s), offset_s - offset_s[0], 0.0)
    return ahead_s


def legal_offset_s(plan: Plan, time_s: Reals) -> Reals:
    """Of the legal time to UTC; it changes at full quarters of an hour only."""
    zone, start = ZoneInfo(plan.record.zone), plan.start.astimezone(UTC)
    into_s = (start - EPOCH).total_seconds()
    quarters, place = np.unique(((into_s + time_s) // QUARTER_s).astype(np.int64), return_inverse=True)
    offsets = []
    for quarter in quarters.tolist():
        offset = (EPOCH + timedelta(seconds=quarter * QUARTER_s)).astimezone(zone).utcoffset()
        offsets.append((offset or timedelta()).total_seconds())
    return np.array(offsets)[place]


def hours(offset_s: float) -> str:
    """An offset as ISO 8601 writes it."""
    sign, rest = ("-" if offset_s < 0.0 else "+"), abs(offset_s)
    return f"{sign}{int(rest // HOUR_s):02d}:{int(rest % HOUR_s // 60.0):02d}"
