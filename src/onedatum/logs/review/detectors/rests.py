"""The level at rest: whether it falls or rises over all rests, beside what goes with the hour of the day."""

from __future__ import annotations

import numpy as np

from onedatum.logs.review.bench import Bench
from onedatum.logs.review.causes import Cause, fitted
from onedatum.logs.review.finding import Finding, Judged, Size, Statistic, by_test
from onedatum.logs.review.limits import kinds
from onedatum.physics.detection import line

LEAST_BLOCKS, LEAST_s = 4, 7200.0
LONGEST_s = 43_200.0
"""Longer rests are cut, so that a day counts as more than one."""
FEWEST = 10
HOURS = 16
"""Hours of the day that rests must cover, for warm and cold to be told from a loss."""
DAY_s = 86_400.0


def at_rest(bench: Bench, judged: Judged) -> None:
    """One finding for all rests."""
    series = bench.seen.series
    rows = []
    for first, last in bench.rests:
        most = max(int(LONGEST_s / series.length_s), LEAST_BLOCKS)
        for begin in range(first, last + 1, most):
            end = min(begin + most - 1, last)
            if end - begin + 1 < LEAST_BLOCKS or (end - begin + 1) * series.length_s < LEAST_s:
                continue
            part = slice(begin, end + 1)
            fit = line(series.mid_s[part], series.mean_m[part])
            middle = 0.5 * (series.start_us[begin] + series.start_us[end] + series.length_us) / 1e6
            rows.append((middle, fit.slope * DAY_s, series.start_us[begin], series.start_us[end] + series.length_us))
    if len(rows) < FEWEST:
        judged.cannot(f"{len(rows)} rests of two hours or more: {FEWEST} are needed to see a loss at rest.")
        return
    middles, slopes, begins, ends = np.array(rows, dtype=float).T
    turn = 2.0 * np.pi * (middles / DAY_s)
    columns = {"1": np.ones(len(turn))}
    covered = len(np.unique((middles % DAY_s) // 3600.0))
    if len(rows) >= 2 * FEWEST:
        columns |= {"cos": np.cos(turn), "sin": np.sin(turn)}
    fit_of = fitted(slopes, columns, 1.0)
    mean = fit_of.of("1") if fit_of is not None else None
    chance = kinds()["loss_at_rest"].chance
    if mean is not None and mean.probability <= chance:
        judged.findings.append(_finding(bench, mean, len(rows), covered, (int(begins.min()), int(ends.max()))))


def _finding(bench: Bench, mean: Cause, count: int, covered: int, span: tuple[int, int]) -> Finding:
    chance = kinds()["loss_at_rest"].chance
    more = ()
    if covered < HOURS:
        more = (f"rests lie at {covered} hours of the day alone: liquid that cools or warms in them looks the same",)
    return Finding(
        "loss_at_rest",
        *span,
        Statistic("probability by chance", mean.probability, chance, True),
        by_test(chance, bench.seen.span_s, "rests independent of each other, warm and cold a wave over the day"),
        f"{mean.value * 1e3:+.3g} mm a day at rest (standard uncertainty {mean.u * 1e3:.2g}), of {count} rests, "
        f"t = {mean.t:.1f}",
        (Size("change in a day", mean.value, "m"),),
        more,
    )
