"""Cumulative sums over a series that hangs together: innovations, and limits from the run length that is wanted."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from onedatum.foundation.moments import YEAR_s
from onedatum.foundation.numerics import Reals
from onedatum.foundation.wording import about
from onedatum.logs.review.finding import FalseAlarms
from onedatum.logs.review.limits import setting
from onedatum.physics.detection import (
    cusum,
    cusum_alarms,
    cusum_decision_interval,
    cusum_run_length,
    false_alarms,
    first_order,
    innovations,
)
from onedatum.physics.detection.robust import MAD_TO_STANDARD

LEAST_REFERENCE = 20
MOST_CORRELATION = 0.95
WILD = 3.0
CAPPED = 4.0
"""Innovations beyond so many standard deviations count as so many: one wild value is no shift."""


@dataclass(frozen=True)
class Shift:
    """A lasting shift of a series."""

    onset: int
    alarm: int
    is_up: bool
    before: float
    after: float
    """Medians of the reference and of what follows the onset."""
    sum_reached: float
    limit: float
    rate: FalseAlarms


def shifts(values: Reals, interval_s: float, wanted_per_year: float, reference: int) -> list[Shift]:
    """The first shift upward and the first downward, after `reference` values that count as sound."""
    part = values[:reference]
    if reference < LEAST_REFERENCE or len(values) <= reference or np.ptp(part) == 0.0:
        return []
    middle = _mean(part)
    phi = _correlation(part)
    left = innovations(values, middle, phi)
    own = left[: reference - 1]
    standard = max(float(MAD_TO_STANDARD * np.median(np.abs(own - np.median(own)))), float(np.std(own, ddof=1)))
    z = np.clip(left / standard, -CAPPED, CAPPED)
    allowance = min(setting("allowance") + 2.0 / np.sqrt(reference), 1.0)
    wanted = float(np.clip(YEAR_s / interval_s / wanted_per_year, 10.0, 1e9))
    limit = _limit(allowance, wanted)
    rate = _rate(allowance, limit, interval_s, phi)
    found = cusum_alarms(z, allowance, limit)
    made = []
    for is_up in (True, False):
        places = np.flatnonzero((found.upward == is_up) & (found.firsts >= reference - 1))
        if not len(places):
            continue
        first = int(places[0])
        onset, alarm = int(found.onsets[first]) + 1, int(found.firsts[first]) + 1
        after = float(np.median(values[onset : max(alarm + 1, onset + reference)]))
        path = cusum(z[onset - 1 : alarm], allowance, limit)
        reached = float((path.sums_up if is_up else path.sums_down)[-1])
        made.append(Shift(onset, alarm, is_up, middle, after, reached, limit, rate))
    return made


def _correlation(part: Reals) -> float:
    """Careful: what few values make too small is added (Kendall 1954, from memory), and one standard error.

    Taken too small, what is left hangs together and alarms more often than is told; too large, a shift is seen later.
    """
    found, count = float(first_order(part).correlation), len(part)
    least = found + (1.0 + 3.0 * found) / count + np.sqrt(max(1.0 - found**2, 0.0) / count)
    return float(np.clip(least, 0.0, MOST_CORRELATION))


@lru_cache(maxsize=256)
def _limit(allowance: float, wanted_run_length: float) -> float:
    return float(cusum_decision_interval(allowance, wanted_run_length))


def _mean(part: Reals) -> float:
    """The mean, with what lies far out drawn in: one wild value moves it little."""
    middle = float(np.median(part))
    reach = WILD * float(MAD_TO_STANDARD * np.median(np.abs(part - middle)))
    return float(np.mean(np.clip(part, middle - reach, middle + reach))) if reach > 0.0 else middle


def _rate(allowance: float, limit: float, interval_s: float, phi: float) -> FalseAlarms:
    length = float(cusum_run_length(allowance, limit, 0.0))
    per_year = float(false_alarms(YEAR_s, interval_s, length))
    words = (
        f"cumulative sums with k = {allowance:.2f} and h = {limit:.2f}: mean run length {about(length)} values of "
        f"{interval_s:.3g} s each; supposes normal innovations of first order (correlation {phi:.2f}) and that the "
        "reference part was sound"
    )
    return FalseAlarms(per_year, words, length * interval_s)
