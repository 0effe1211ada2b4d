"""An end of the signal that no limit states: the reading goes up to some level and no further, whatever is moved.

Too little supply for the loop caps the current below 20.5 mA; the cap falls as resistance grows. What stands below it
is read as ever, so the gauge comes away from its end again, and comes back to it.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from onedatum.logs.review.bench import Bench
from onedatum.logs.review.finding import Finding, Size, Statistic, by_limits

FEWEST = 3
"""Movements without an answer, all at an end."""
APART_us = 86_400_000_000
AFTER_us = 3 * APART_us
NEAR, AWAY = 0.01, 0.05
"""Shares of the span: within the first a reading stands at the end, beyond the second it has come away."""


def ended(bench: Bench, unanswered: Sequence[Finding]) -> Finding | None:
    """One finding for movements that found the reading at the end of the signal; None where they did not."""
    span = bench.tank.upper_m - bench.tank.lower_m
    if not np.isfinite(span):
        return None
    sign = float(np.sign(span))
    tops = [(each, top) for each in unanswered if np.isfinite(top := _top_m(bench, each, sign))]
    at_end = [(each, top) for each, top in tops if _beyond_m(bench, each, sign) <= sign * top + NEAR * abs(span)]
    if len(at_end) < FEWEST or 2 * len(at_end) <= len(unanswered):
        return None
    (first, from_m), (last, to_m) = at_end[0], at_end[-1]
    lowest = min(sign * top for _, top in at_end)
    if last.from_us - first.from_us < APART_us or not _came_away(bench, first, last, sign, lowest - AWAY * abs(span)):
        return None
    far = "no higher" if sign > 0.0 else "no lower"
    where = (
        f"{from_m:.3f} m"
        if abs(to_m - from_m) <= NEAR * abs(span)
        else f"{from_m:.3f} m at first, {to_m:.3f} m at last"
    )
    said = (
        f"the reading goes {far} than {where}: {len(at_end)} of {len(unanswered)} movements that found it there were "
        "not answered, and below it the gauge follows"
    )
    return Finding(
        "saturation",
        first.from_us,
        last.to_us,
        Statistic("movements not answered at the end of the reading", float(len(at_end)), float(FEWEST)),
        by_limits("movement and tank table say what is due; supposes that the movements were made"),
        said,
        (Size("end of the reading at first", from_m, "m"), Size("at last", to_m, "m")),
        ("a float held at its highest level", "movements that were booked but not made"),
    )


def at_end(bench: Bench, finding: Finding, at_us: int, level_m: float) -> bool:
    """Whether a level of a time may stand at the end of the reading that a finding tells: at its lowest or beyond."""
    if not finding.from_us <= at_us <= finding.to_us:
        return False
    span = bench.tank.upper_m - bench.tank.lower_m
    sign = float(np.sign(span))
    lowest = min(sign * size.value for size in finding.sizes)
    return sign * level_m >= lowest - NEAR * abs(span)


def _top_m(bench: Bench, each: Finding, sign: float) -> float:
    """The reading nearest the end within a movement; NaN without one."""
    own = _readings(bench, each.from_us, each.to_us, sign)
    return sign * float(np.max(own)) if len(own) else float("nan")


def _beyond_m(bench: Bench, each: Finding, sign: float) -> float:
    """How far the reading goes toward the end in the days after a movement."""
    own = _readings(bench, each.from_us, each.to_us + AFTER_us, sign)
    return float(np.quantile(own, 0.99)) if len(own) else float("inf")


def _came_away(bench: Bench, first: Finding, last: Finding, sign: float, level: float) -> bool:
    """Whether the reading left the end between the first and the last."""
    own = _readings(bench, first.to_us, last.from_us, sign)
    return bool(len(own) and np.min(own) < level)


def _readings(bench: Bench, from_us: int, to_us: int, sign: float) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """Mean levels of the blocks of a time, larger toward the end at 20 mA."""
    series = bench.seen.series
    low, high = np.searchsorted(series.index, [from_us // series.length_us, to_us // series.length_us + 1])
    means = series.mean_m[low:high]
    return sign * means[np.isfinite(means)]
