"""Times that come again, whole hours that are missing, gaps, a level that moves at another time than its movements."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.moments import HOUR_s, YEAR_s
from onedatum.logs.reasons import IN_FOLD, IN_GAP
from onedatum.logs.review.bench import Bench
from onedatum.logs.review.blocks import FEWEST_ROWS
from onedatum.logs.review.events import Event
from onedatum.logs.review.finding import FalseAlarms, Finding, Judged, Size, Statistic, by_limits
from onedatum.logs.review.rows import SECOND_us
from onedatum.physics.detection import lag_between

LONGEST_HOURS = 12.0
LEAST_GAP_s = 3600.0
MOST = 10
OFTEN, MONTH_s = 10.0, 2_629_800.0
"""Gaps in a month, beyond which they are the habit of the log."""
LEAST_CORRELATION = 0.5
LEAST_MOVEMENTS = 8
REACH_s = 14_400.0
LEAST_LAG_s = 900.0
COARSEST_s = 3600.0
SET_ASIDE = 0.9
"""Of the rows of the hours that are missing: so many that come twice in autumn are what is missing."""
TYPICAL = 20.0
"""Gaps in a year, at a length that nothing rounds, of which by chance some are whole hours."""


def clock(bench: Bench, judged: Judged) -> None:
    """All of it."""
    _back(bench, judged)
    _gaps(bench, judged)
    _lag(bench, judged)


def _back(bench: Bench, judged: Judged) -> None:
    first, last, count = bench.seen.late_us
    if count:
        judged.findings.append(
            Finding(
                "clock_back",
                first,
                last,
                Statistic("rows set aside for their time", float(count), 0.0),
                by_limits("rows stand in an order"),
                f"{count} rows come late or again and are set aside, {(last - first) / 6e7:.0f} min of time",
                (Size("length", (last - first) / 1e6, "s"),),
            )
        )


def _gaps(bench: Bench, judged: Judged) -> None:
    usual_s = bench.seen.usual_s
    long = [gap for gap in bench.seen.gaps if gap.size_m >= max(LEAST_GAP_s, 3.0 * usual_s)]
    if len(long) > OFTEN * (1.0 + bench.seen.span_s / MONTH_s):
        longest = max(gap.size_m for gap in long) / HOUR_s
        judged.cannot(
            f"Rows come irregularly, with {len(long)} gaps of an hour or more, as of a system that stores on change: "
            f"gaps are not judged (the longest lasts {longest:.3g} h), nor is what wants even times."
        )
        return
    for gap in sorted(sorted(long, key=lambda each: -each.size_m)[:MOST], key=lambda each: each.at_us):
        judged.findings.append(_forward(bench, gap) or _gap(bench, gap))
    if len(long) > MOST:
        judged.notes.append(f"{len(long)} gaps of an hour or more; the {MOST} longest are told.")


def _gap(bench: Bench, gap: Event) -> Finding:
    twice, never = (bench.seen.rejected[reason] for reason in (IN_FOLD, IN_GAP))
    more: list[str] = []
    if twice:
        more.append(f"an hour that comes twice in autumn: {twice} rows without an offset are set aside")
    if never:
        more.append(f"an hour that is left out in spring: {never} rows in it are set aside")
    return Finding(
        "gaps",
        gap.at_us,
        gap.to_us,
        Statistic("time without a row, s", gap.size_m, LEAST_GAP_s),
        by_limits("rows are there or not"),
        f"no row for {gap.size_m / HOUR_s:.3g} h; nothing is filled in",
        (Size("length", gap.size_m, "s"),),
        tuple(more),
    )


def _forward(bench: Bench, gap: Event) -> Finding | None:
    """A gap of whole hours and one usual interval, over which the level is where it was."""
    usual_s = bench.seen.usual_s
    hours = round((gap.size_m - usual_s) / HOUR_s)
    off_s = abs(gap.size_m - usual_s - hours * HOUR_s)
    if not 1 <= hours <= LONGEST_HOURS or off_s > 0.5 * usual_s or usual_s > HOUR_s / 4.0:
        return None
    series = bench.seen.series
    before = int(np.searchsorted(series.start_us, gap.at_us, side="right")) - 1
    after = int(np.searchsorted(series.start_us, gap.to_us, side="right")) - 1
    change = abs(series.columns["first_m"][after] - series.columns["last_m"][before]) if after > before else 0.0
    noise = bench.noise_at_rest_m if np.isfinite(bench.noise_at_rest_m) else 0.0
    one_row = 3.0 * bench.quick_m_per_s * usual_s + 6.0 * noise + bench.seen.grain_m
    if not change <= one_row:
        return None
    if bench.seen.rejected[IN_FOLD] >= SET_ASIDE * hours * HOUR_s / usual_s:
        return None
    share = usual_s / HOUR_s
    rate = TYPICAL * min(share, 1.0) * bench.seen.usual_s / HOUR_s
    words = f"of {TYPICAL:g} gaps a year of any length, that share of the hour which one interval takes"
    return Finding(
        "clock_forward",
        gap.at_us,
        gap.to_us,
        Statistic("whole hours without a row, s", gap.size_m, HOUR_s),
        FalseAlarms(rate, words),
        f"the next row stands {hours} h later than it should, and the level goes on within {change * 1e3:.1f} mm",
        (Size("length", gap.size_m, "s"),),
    )


def _lag(bench: Bench, judged: Judged) -> None:
    """The change of the level of each block against that which the movements make due."""
    series, length_s = bench.seen.series, bench.seen.series.length_s
    if len(bench.movements) < LEAST_MOVEMENTS:
        judged.cannot("Too few movements: a clock that is steadily off cannot be told.")
        return
    if length_s > COARSEST_s:
        why = "Rows stand so far apart" if bench.seen.usual_s * FEWEST_ROWS > COARSEST_s else "The log is so long"
        judged.cannot(
            f"{why} that blocks of them are longer than an hour ({length_s / HOUR_s:g} h): a clock that is steadily "
            "off is not judged."
        )
        return
    due = np.zeros(int(series.index[-1] - series.index[0]) + 1)
    for each in bench.movements:
        low = max(int(each.from_us // series.length_us - series.index[0]), 0)
        high = min(int(each.to_us // series.length_us - series.index[0]), len(due) - 1)
        if low <= high:
            due[low : high + 1] += each.volume_m3 / max(each.to_us - each.from_us, SECOND_us)
    told = np.zeros(len(due))
    told[series.index - series.index[0]] = np.nan_to_num(series.slope_m_per_s)
    most = min(max(int(REACH_s / length_s), 2), len(due) // 4)
    try:
        found = lag_between(due, told, most)
    except ValidityError:
        judged.cannot("Level or movements never change: a clock that is off cannot be told.")
        return
    lag_s = found.lag_samples * length_s
    if found.correlation < LEAST_CORRELATION:
        judged.notes.append(
            f"Level and movements go together with a correlation of {found.correlation:.2f} at most: no lag is told."
        )
    elif abs(lag_s) >= max(LEAST_LAG_s, 1.5 * length_s):
        judged.findings.append(_lagging(bench, lag_s, found.correlation))


def _lagging(bench: Bench, lag_s: float, correlation: float) -> Finding:
    way = "later" if lag_s > 0.0 else "earlier"
    words = (
        "none is worked: a lag of this size needs movements that by chance repeat at that distance; "
        f"a year is counted as one trial of {len(bench.movements)} movements"
    )
    rate = 0.5 ** min(len(bench.movements), 60) * YEAR_s / max(bench.seen.span_s, 1.0)
    return Finding(
        "clock_lag",
        bench.seen.first_us,
        bench.seen.last_us,
        Statistic("lag, s", abs(lag_s), LEAST_LAG_s),
        FalseAlarms(rate, words),
        f"the level moves {abs(lag_s) / 60.0:.0f} min {way} than its movements, correlation {correlation:.2f}",
        (Size("lag", lag_s, "s"),),
    )
