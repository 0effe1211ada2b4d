"""Jumps from one row to the next that stay, and are quicker than this tank moves."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.moments import YEAR_s
from onedatum.foundation.wording import about, counted
from onedatum.logs.review.bench import Bench
from onedatum.logs.review.events import Event
from onedatum.logs.review.finding import FalseAlarms, Finding, Judged, Size, Statistic
from onedatum.logs.review.limits import setting
from onedatum.physics.detection import false_alarms, shewhart_run_length

MOST = 12
QUICKER = 3.0
"""Times the quickest movement of the log, from one row to the next: what is less could be a short movement."""
HABIT, MONTH_s = 4.0, 2_629_800.0
"""Jumps that a movement could have made, in a month: more of them are movements."""
ALONE = 1.5
"""Times the largest jump of a habit: what is less belongs to it. Movements within a block are quicker than its slope
tells, so a habit does not end where the slopes say.
"""
OF_ITS_SIDES = 6.0
"""Times the usual change from row to row on either side."""
COARSE_m = 0.05
NEAR = 3.0


def steps(bench: Bench, judged: Judged) -> None:
    """The largest of them, in the order of time."""
    seen = bench.seen
    noise = bench.noise_at_rest_m
    quick = QUICKER * bench.quick_m_per_s * seen.usual_s
    least = max(setting("jump_limit") * (noise if np.isfinite(noise) else 0.0), 2.0 * seen.grain_m)
    found = [event for event in seen.jumps if _stands_out(bench, event, least)]
    small = [event for event in found if abs(event.size_m) < quick]
    habit = len(small if bench.has_movements else found) > HABIT * (1.0 + seen.span_s / MONTH_s)
    unknown = [] if bench.has_movements else _like_movements(bench, found)
    if quick > COARSE_m or habit:
        below = _reach_m(found, quick) if habit else quick
        judged.cannot(
            f"The level moves up to {quick / QUICKER * 1e3:.0f} mm from row to row, and short movements are the habit "
            f"of this log or could be: jumps below {below * 1e3:.0f} mm cannot be told from movements."
        )
        found, least = [event for event in found if abs(event.size_m) >= below], max(least, below)
    elif unknown:
        judged.cannot(
            f"No movements: {counted(len(unknown), 'jump')} no quicker than {QUICKER:g} times the movements that the "
            "log shows elsewhere cannot be told from short movements."
        )
        found = [event for event in found if event not in unknown]
    for event in sorted(sorted(found, key=lambda each: -abs(each.size_m))[:MOST], key=lambda each: each.at_us):
        judged.findings.append(_finding(bench, event, least))
    if len(found) > MOST:
        judged.notes.append(f"{len(found)} jumps were found; the {MOST} largest are told.")


def _reach_m(found: list[Event], quick_m: float) -> float:
    """How large the jumps of a habit are: from those that movements make on, as long as the next is not far larger."""
    sizes_m = sorted(abs(event.size_m) for event in found)
    reach_m = max(quick_m, sizes_m[0])
    for size_m in sizes_m:
        if size_m > ALONE * reach_m:
            break
        reach_m = max(reach_m, size_m)
    return ALONE * reach_m if reach_m > quick_m else quick_m


def _like_movements(bench: Bench, found: list[Event]) -> list[Event]:
    """Jumps that a movement of the log could have made, by its slopes outside the blocks of the jumps themselves."""
    series = bench.seen.series
    slope = np.abs(series.slope_m_per_s)
    for event in found:
        slope[(series.index >= event.at_us // series.length_us) & (series.index <= event.to_us // series.length_us)] = (
            0.0
        )
    slope = slope[np.isfinite(slope) & bench.moving]
    quickest = float(np.max(slope)) if len(slope) else 0.0
    return [event for event in found if abs(event.size_m) < QUICKER * quickest * bench.seen.usual_s]


def _stands_out(bench: Bench, event: Event, least: float) -> bool:
    seen = bench.seen
    near = NEAR * seen.usual_us
    if abs(event.size_m) < least or abs(event.size_m) < OF_ITS_SIDES * event.score:
        return False
    if event.to_us - event.at_us > near or _is_booked(bench, event):
        return False
    return not any(run.from_us - near < event.to_us and event.at_us < run.to_us + near for run in seen.states)


def _is_booked(bench: Bench, event: Event) -> bool:
    """Whether a movement was booked meanwhile."""
    return any(each.from_us < event.to_us and event.at_us < each.to_us for each in bench.movements)


def _finding(bench: Bench, event: Event, least: float) -> Finding:
    factor = min(setting("jump_limit") / np.sqrt(2.0), 6.0)
    length = float(shewhart_run_length(factor, 0.0))
    per_year = float(false_alarms(YEAR_s, bench.seen.usual_s, length))
    words = (
        f"differences of rows beyond {factor:.1f} of their standard deviations and more: one in {about(length)} at "
        "most, before it is asked that the jump stays; supposes normal noise and no movement quicker than "
        "those of the log"
    )
    return Finding(
        "step",
        event.at_us,
        event.to_us,
        Statistic("jump, m", abs(event.size_m), least),
        FalseAlarms(per_year, words, length * bench.seen.usual_s),
        f"{event.size_m * 1e3:+.1f} mm from one row to the next",
        (Size("jump", event.size_m, "m"),),
    )
