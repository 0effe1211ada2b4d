"""How much later or earlier than its movement the level changes, movement by movement, finer than a block.

The middle of a change follows from the mean levels of the blocks around it alone: what is missing from the last level,
added up over the time, over the whole change. So a clock that was set by minutes, or loses some, shows in a log whose
blocks last an hour.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from onedatum.foundation.moments import DAY_s
from onedatum.foundation.numerics import Reals
from onedatum.logs.review.bench import Bench
from onedatum.logs.review.causes import Change, changed
from onedatum.logs.review.finding import Finding, Judged, Size, Statistic, by_test
from onedatum.logs.review.limits import kinds, setting
from onedatum.physics.detection import middle_of_change_s

REACH_us = 14_400_000_000
"""Looked at before and after a movement, where no other is near."""
FEWEST, MOST = 12, 150
"""Answers that a change needs, and values into which more are put together."""
FEWEST_BLOCKS = 4
SHARES = (0.8, 1.25)
"""Of the change that was due: what lies beyond is no whole answer."""
LEAST_s = 300.0
"""A change of the lag that is told: papers are written to some minutes, and a habit of writing late does not change."""
SUPPOSED = "even flow within a movement, and lags independent of each other; every movement was tried as the begin"


@dataclass(frozen=True)
class Answers:
    """By how much later the level changes than its movement, in the order of time."""

    at_us: Reals
    late_s: Reals


def lags(bench: Bench, judged: Judged) -> None:
    """A lag that changes on a day or grows; one that is there throughout is looked for elsewhere."""
    if not bench.tank.has_table or len(bench.movements) < FEWEST or judged.clock_until_us < bench.seen.last_us:
        return
    own = _together(answers(bench))
    if len(own.at_us) < FEWEST:
        judged.cannot(
            "Too few movements that stand alone: a clock that goes wrong within the log by minutes cannot be told."
        )
        return
    chance = kinds()["clock_lag"].chance
    found = changed(own.at_us, own.late_s, {"1": np.ones(len(own.at_us))}, chance, {})
    if found is None:
        return
    days = (own.at_us[-1] - own.at_us[found.place]) / 1e6 / DAY_s
    in_all_s = found.cause.value * (1.0 if found.name == "step" else days)
    if abs(in_all_s) >= LEAST_s:
        judged.findings.append(_finding(bench, own, found, in_all_s))


def answers(bench: Bench) -> Answers:
    """Of every movement that stands alone and was answered whole."""
    rows, reach = [], -(2**62)
    movements = bench.movements
    for place, each in enumerate(movements):
        next_us = movements[place + 1].from_us if place + 1 < len(movements) else each.to_us + 2 * REACH_us
        before = min(REACH_us, (each.from_us - reach) // 2)
        after = min(REACH_us, (next_us - each.to_us) // 2)
        reach = max(reach, each.to_us)
        late_s = _late_s(bench, each.from_us - before, each.to_us + after, place)
        if np.isfinite(late_s):
            rows.append((0.5 * (each.from_us + each.to_us), late_s))
    return Answers(*np.array(rows, dtype=float).reshape(-1, 2).T)


def _late_s(bench: Bench, begin_us: int, end_us: int, place: int) -> float:
    """NaN where the blocks do not tell it."""
    series, each = bench.seen.series, bench.movements[place]
    first, last = -(-begin_us // series.length_us), end_us // series.length_us - 1
    if (first + 1) * series.length_us > each.from_us or last * series.length_us < each.to_us:
        return float("nan")
    low, high = np.searchsorted(series.index, [first, last + 1])
    levels = series.mean_m[low:high]
    if high - low != last - first + 1 or high - low < FEWEST_BLOCKS or not np.all(np.isfinite(levels)):
        return float("nan")
    stock = bench.tank.volume_m3(levels)
    if abs(levels[-1] - levels[0]) < setting("least_movement_m") or not np.all(np.isfinite(stock)):
        return float("nan")
    if not SHARES[0] <= (stock[-1] - stock[0]) / each.volume_m3 <= SHARES[1]:
        return float("nan")
    middle_s = float(middle_of_change_s(stock, series.length_s))
    return (first * series.length_us - 0.5 * (each.from_us + each.to_us)) / 1e6 + middle_s


def _together(found: Answers) -> Answers:
    """Medians of neighbours, where there are many."""
    many = -(-len(found.at_us) // MOST)
    if many <= 1:
        return found
    whole = len(found.at_us) // many * many
    parts = [np.median(each[:whole].reshape(-1, many), axis=1) for each in (found.at_us, found.late_s)]
    return Answers(*parts)


def _finding(bench: Bench, own: Answers, found: Change, in_all_s: float) -> Finding:
    chance = kinds()["clock_lag"].chance
    is_step = found.name == "step"
    way = "later" if in_all_s > 0.0 else "earlier"
    minutes = abs(in_all_s) / 60.0
    u = found.cause.u * (1.0 if is_step else in_all_s / found.cause.value) / 60.0
    grows = f", {abs(found.cause.value):.3g} s a day" if not is_step else ""
    how = "from one movement to the next" if is_step else "more and more"
    return Finding(
        "clock_lag",
        int(own.at_us[max(found.place - 1, 0)]),
        bench.seen.last_us,
        Statistic("probability by chance, all begins tried", found.cause.probability, chance, True),
        by_test(chance, bench.seen.span_s, SUPPOSED),
        f"the level moves {minutes:.0f} min {way} than before, held against its movements, {how}{grows} (standard "
        f"uncertainty {abs(u):.1g} min), of {len(own.at_us)} values",
        (Size("lag", in_all_s, "s"),),
    )
