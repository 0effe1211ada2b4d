"""The level at rest: whether it falls or rises over all rests, beside what goes with the hour of the day."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from onedatum.foundation.moments import DAY_s
from onedatum.foundation.numerics import Reals
from onedatum.foundation.wording import counted
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


@dataclass(frozen=True)
class Rests:
    """Slopes of the level at rest, and those of a wave of one day in the same times."""

    from_us: Reals
    to_us: Reals
    slope_m: Reals
    """In a day."""
    cosine: Reals
    sine: Reals


def rests_of(bench: Bench) -> Rests:
    """Every rest, long ones cut."""
    series = bench.seen.series
    rows = []
    most = max(int(LONGEST_s / series.length_s), LEAST_BLOCKS)
    for first, last in bench.rests:
        for begin in range(first, last + 1, most):
            end = min(begin + most - 1, last)
            if end - begin + 1 < LEAST_BLOCKS or (end - begin + 1) * series.length_s < LEAST_s:
                continue
            part = slice(begin, end + 1)
            turn = 2.0 * np.pi * (series.mid_s[part] + series.start_us[0] / 1e6) / DAY_s
            lines = [series.mean_m[part], np.cos(turn), np.sin(turn)]
            slopes = [line(series.mid_s[part], each).slope * DAY_s for each in lines]
            rows.append((series.start_us[begin], series.start_us[end] + series.length_us, *slopes))
    return Rests(*np.array(rows, dtype=float).reshape(-1, 5).T)


def mean_of(rests: Rests, since_us: float = 0.0) -> Cause | None:
    """The mean slope in a day without the wave of the day; None where too few rests tell it."""
    own = rests.from_us >= since_us
    columns = {"1": np.ones(int(np.count_nonzero(own)))}
    if len(columns["1"]) < FEWEST:
        return None
    if len(columns["1"]) >= 2 * FEWEST:
        columns |= {"cos": rests.cosine[own], "sin": rests.sine[own]}
    fit = fitted(rests.slope_m[own], columns, 1.0)
    return fit.of("1") if fit is not None else None


def at_rest(bench: Bench, judged: Judged) -> None:
    """One finding for all rests."""
    rests = rests_of(bench)
    mean = mean_of(rests)
    if mean is None:
        judged.cannot(
            f"{counted(len(rests.slope_m), 'rest')} of two hours or more: {FEWEST} are needed to see a loss at rest."
        )
        return
    middles = 0.5 * (rests.from_us + rests.to_us) / 1e6
    covered = len(np.unique((middles % DAY_s) // 3600.0))
    if mean.probability <= kinds()["loss_at_rest"].chance:
        span = (int(rests.from_us.min()), int(rests.to_us.max()))
        judged.findings.append(_finding(bench, mean, len(middles), covered, span))


def _finding(bench: Bench, mean: Cause, count: int, covered: int, span: tuple[int, int]) -> Finding:
    chance = kinds()["loss_at_rest"].chance
    more: tuple[str, ...] = ()
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
