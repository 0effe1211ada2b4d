"""A reading that stands still: against its own noise at rest, or against movements that should have moved it.

A tank that truly rests may show one value for weeks. So a run of equal readings counts only where the log itself shows
that readings at rest do not repeat so long, or where a movement was booked meanwhile.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from onedatum.foundation.moments import YEAR_s
from onedatum.foundation.wording import about
from onedatum.logs.review.bench import Bench, edges_of
from onedatum.logs.review.detectors.ceiling import ended
from onedatum.logs.review.finding import FalseAlarms, Finding, Judged, Size, Statistic, by_limits
from onedatum.logs.review.limits import LATE, kinds, setting
from onedatum.logs.review.runs import Run
from onedatum.physics.detection import repeat_run_limit, repeat_runs_expected

LEAST_BLOCKS = 12
LEAST_PAIRS = 5
MOST_REPEATS = 0.9
"""Share of repeats at rest beyond which the noise is below the step of the readings and tells nothing."""
DECILE = 0.9
EVENTS = 4
"""Longest runs that do not count for what is usual at rest: more of them would be a habit of the log."""
SAFETY = 2.0
"""Times the worked length of a run: repeats share their place in the step, and hang together."""


def stuck(bench: Bench, judged: Judged) -> None:
    """Both ways."""
    unanswered = _by_movement(bench, judged)
    at_end = ended(bench, unanswered)
    if at_end is not None:
        judged.findings.append(at_end)
        unanswered = [each for each in unanswered if not at_end.from_us <= each.from_us <= at_end.to_us]
    judged.findings += _without_doubles([*_by_noise(bench, judged), *unanswered])


def _by_noise(bench: Bench, judged: Judged) -> list[Finding]:
    found, told = [], False
    for run in sorted(bench.seen.equal, key=lambda each: -each.length_us)[:50]:
        share = _repeats(bench, run)
        if share is None or share > MOST_REPEATS:
            told = True
            continue
        per_year = YEAR_s / bench.seen.usual_s
        wanted = kinds()["stuck"].wanted_per_year
        p = max(share, 1e-3)
        limit = SAFETY * float(repeat_run_limit(p, min(wanted / (per_year * (1.0 - p)), 0.5)))
        if run.count >= limit and bench.seen.rows > run.count:
            found.append(_of_run(bench, run, p, limit, per_year))
    if told or (not bench.seen.equal and not np.isfinite(bench.noise_at_rest_m)):
        judged.cannot(
            "Readings at rest repeat themselves, or too little rests: equal readings alone do not show a gauge that "
            "stands still; movements or dips would."
        )
    return found


def _repeats(bench: Bench, run: Run) -> float | None:
    """The greatest share of repeats in blocks at rest, outside the longest runs; None where too few are known."""
    series = bench.seen.series
    outside = np.ones(len(series), dtype=bool)
    for each in (run, *sorted(bench.seen.equal, key=lambda own: -own.length_us)[:EVENTS]):
        outside &= (series.start_us + series.length_us <= each.from_us) | (series.start_us > each.to_us)
    known: NDArray[np.bool_] = bench.resting & outside & (series.columns["pairs"] >= LEAST_PAIRS)
    if np.count_nonzero(known) < LEAST_BLOCKS:
        return None
    shares = series.equal_share[known]
    top = shares >= np.quantile(shares, DECILE)
    pairs, equal = series.columns["pairs"][known][top], series.columns["equal"][known][top]
    return float(equal.sum() / pairs.sum())


def _of_run(bench: Bench, run: Run, share: float, limit: float, per_year: float) -> Finding:
    expected = float(repeat_runs_expected(share, limit / SAFETY, max(per_year, limit)))
    words = (
        f"runs of {limit / SAFETY:.0f} equal readings among {about(per_year)} a year, of which {share:.0%} repeat the "
        f"one before at rest; {SAFETY:g} times that length is asked for; supposes independent repeats"
    )
    said = f"{run.count} readings in a row are the same, {run.value:.4f} m"
    return Finding(
        "stuck",
        run.from_us,
        run.to_us,
        Statistic("equal readings in a row", float(run.count), limit),
        FalseAlarms(expected, words, YEAR_s / max(expected, 1e-300)),
        said,
        (Size("level", run.value, "m"), Size("length", run.length_us / 1e6, "s")),
    )


def _by_movement(bench: Bench, judged: Judged) -> list[Finding]:
    if not (bench.has_movements and bench.tank.has_table):
        judged.cannot("No movements, or no tank table: a gauge that holds while its noise goes on cannot be told.")
        return []
    if judged.clock_until_us < bench.seen.last_us:
        judged.cannot(f"{LATE}movements tell nothing of a gauge that stands still.")
    found = []
    for each in bench.movements:
        before_us, after_us = edges_of(each)
        if after_us > judged.clock_until_us:
            continue
        before, after = bench.level_at(before_us), bench.level_at(after_us)
        if not (np.isfinite(before) and np.isfinite(after)) or _others(bench, before_us, after_us) != 1:
            continue
        if abs(each.volume_m3) > float(bench.tank.volumes_m3[-1]):
            judged.notes.append(
                f"A movement of {each.volume_m3:+.4g} m3 is more than the tank holds: it is passed over."
            )
            continue
        volume = float(bench.tank.volume_m3(before))
        due = float(bench.tank.level_m(volume + each.volume_m3)) - before if np.isfinite(volume) else np.nan
        least = max(setting("least_movement_m"), 10.0 * bench.seen.grain_m)
        if abs(due) < least or not np.isfinite(due):
            continue
        share = (after - before) / due
        if share < setting("unanswered_share"):
            said = f"{each.volume_m3:+.3f} m3 were moved and should have changed the level by {due * 1e3:+.0f} mm; "
            said += f"it changed by {(after - before) * 1e3:+.1f} mm"
            found.append(
                Finding(
                    "stuck",
                    each.from_us,
                    each.to_us,
                    Statistic("change over what was due", share, setting("unanswered_share"), True),
                    by_limits("movement and tank table say what is due; supposes that the movement was made"),
                    said,
                    (Size("change due", due, "m"), Size("change", after - before, "m")),
                )
            )
    return found


def _others(bench: Bench, begin_us: int, end_us: int) -> int:
    """Movements that touch a time."""
    return sum(1 for each in bench.movements if each.from_us < end_us and each.to_us > begin_us)


def _without_doubles(found: list[Finding]) -> list[Finding]:
    """Findings less than a day apart as one, with the statistic of the longer."""
    kept: list[Finding] = []
    for each in sorted(found, key=lambda finding: finding.from_us):
        if kept and each.from_us <= kept[-1].to_us + 86_400_000_000:
            last = kept[-1]
            first, second = (last, each) if last.to_us - last.from_us >= each.to_us - each.from_us else (each, last)
            kept[-1] = Finding(
                "stuck",
                min(last.from_us, each.from_us),
                max(last.to_us, each.to_us),
                first.statistic,
                first.false_alarms,
                f"{first.said}; and {second.said}" if len(first.said) < 300 else first.said,
                first.sizes,
            )
        else:
            kept.append(each)
    return kept
