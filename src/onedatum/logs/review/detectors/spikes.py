"""Spikes: single readings far off their neighbours, several within a day or one alone that nothing else explains."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from onedatum.foundation.moments import YEAR_s, clock
from onedatum.foundation.numerics import Reals
from onedatum.foundation.wording import about, counted
from onedatum.logs.review.bench import Bench
from onedatum.logs.review.detectors.ends import LEAST_ROWS
from onedatum.logs.review.events import SPIKE_WINDOW, Event
from onedatum.logs.review.finding import FalseAlarms, Finding, Judged, Size, Statistic
from onedatum.logs.review.limits import setting
from onedatum.logs.review.rows import AT_HIGH, AT_LOW
from onedatum.logs.review.runs import Run
from onedatum.physics.detection import events_in_time, false_alarms, shewhart_run_length

DAY_us = 86_400_000_000
MOST_FACTOR = 6.0
"""Beyond it the run length is told as at least that."""
_MEDIAN = float(np.sqrt(1.0 + np.pi / 2.0 / (SPIKE_WINDOW - 1)))
"""By how much the median of the neighbours adds to the scatter of a reading."""
NEAR = 3.0
"""Usual times from row to row within which failure information explains a spike."""
QUICKER = 3.0
"""Times the quickest movement of the log, from one row to the next: no level leaves so fast and comes back."""
MOST_NAMED = 5
LOW_A, SPAN_A = 0.004, 0.016
"""Of the current: where its range begins, and how long it is."""


def spikes(bench: Bench, judged: Judged) -> None:
    """Groups of spikes less than a day apart; those that stand alone; what lay above HH in any of them."""
    least = int(setting("spikes_together"))
    bounds = _at_ends(bench)
    own = [*_own(bench, [run for run, _ in bounds]), *(event for _, event in bounds)]
    own.sort(key=lambda each: each.at_us)
    alone: list[Event] = []
    for group in _groups(own):
        if len(group) >= least:
            judged.findings.append(_finding(bench, group))
        else:
            alone += group
    far = [event for event in alone if abs(event.size_m) >= _least_alone_m(bench, event)]
    if far:
        judged.findings.append(_alone(bench, far))
    rest = [event for event in alone if event not in far]
    if rest:
        judged.notes.append(
            f"{counted(len(rest), 'single reading')} off the neighbours beyond {setting('spike_limit'):g} standard "
            f"deviations, a day or more from any other and too near to them for a finding: {_named(rest)}."
        )
    _above(bench, judged, own)


def _at_ends(bench: Bench) -> list[tuple[Run, Event]]:
    """Single rows at an end of the signal while the rows about them are far from it; their size is a least one."""
    series, tank, found = bench.seen.series, bench.tank, []
    for run in bench.seen.states:
        if run.value not in (AT_LOW, AT_HIGH) or run.count >= LEAST_ROWS:
            continue
        way = 1.0 if run.value == AT_HIGH else -1.0
        end_A = run.high_A if (tank.upper_m > tank.lower_m) == (way > 0.0) else run.low_A
        level = tank.lower_m + (end_A - LOW_A) / SPAN_A * (tank.upper_m - tank.lower_m)
        place = int(np.searchsorted(series.index, run.from_us // series.length_us))
        about = slice(max(place - 1, 0), place + 2)
        nearest = np.max(series.columns["max_m"][about]) if way > 0.0 else np.min(series.columns["min_m"][about])
        event = Event(run.from_us, run.to_us, float(level - nearest), 0.0, float(level), True)
        if np.isfinite(event.size_m) and way * event.size_m >= _least_alone_m(bench, event):
            found.append((run, event))
    return found


def _own(bench: Bench, but: list[Run]) -> list[Event]:
    """Spikes that no state of rows beside them explains, but for some, and no scatter of the block that they are in.

    A surface that an inflow stirs scatters more than at rest: the limit holds of the scatter there.
    """
    if not bench.seen.spikes:
        return []
    at = np.array([event.at_us for event in bench.seen.spikes])
    near = NEAR * bench.seen.usual_us
    explained = np.zeros(len(at), dtype=bool)
    for run in (each for each in bench.seen.states if each not in but):
        explained |= (at > run.from_us - near) & (at < run.to_us + near)
    size_m = np.array([abs(event.size_m) for event in bench.seen.spikes])
    explained |= size_m <= setting("spike_limit") * _scatter_m(bench, at)
    return [event for event, out in zip(bench.seen.spikes, explained.tolist(), strict=True) if not out]


def _scatter_m(bench: Bench, at_us: NDArray[np.int64]) -> Reals:
    """Of the block at each time, or of one beside it where that scatters more; 0 where it is not known."""
    series = bench.seen.series
    noise = np.pad(np.nan_to_num(series.noise_m), 1)
    place = np.searchsorted(series.index, at_us // series.length_us, side="right")
    return np.maximum(
        noise[place], np.maximum(noise[np.maximum(place - 1, 0)], noise[np.minimum(place + 1, len(noise) - 1)])
    )


def _least_alone_m(bench: Bench, event: Event) -> float:
    """From which size on one alone is told: beyond scatter, beyond any movement of the log, and worth a look."""
    scatter_m = float(_scatter_m(bench, np.array([event.at_us]))[0])
    at_rest_m = bench.noise_at_rest_m
    scatter_m = max(scatter_m, at_rest_m if np.isfinite(at_rest_m) else 0.0)
    return max(
        setting("lone_spike_limit") * scatter_m,
        QUICKER * bench.quick_m_per_s * bench.seen.usual_s,
        setting("lone_spike_m"),
    )


def _groups(events: list[Event]) -> list[list[Event]]:
    """Events that are less than a day apart."""
    if not events:
        return []
    found = [[events[0]]]
    for before, event in pairwise(events):
        if event.at_us - before.at_us < DAY_us:
            found[-1].append(event)
        else:
            found.append([event])
    return found


def _finding(bench: Bench, group: list[Event]) -> Finding:
    usual_s, together = bench.seen.usual_s, setting("spikes_together")
    factor = min(setting("spike_limit") / _MEDIAN, MOST_FACTOR)
    run_length = float(shewhart_run_length(factor, 0.0))
    single = float(false_alarms(YEAR_s, usual_s, run_length))
    per_day = single / 365.25
    rate = single * per_day ** (together - 1.0)
    words = (
        f"limits of {factor:.1f} standard deviations and more: one reading in {about(run_length)} at most, "
        f"{together:g} within a day; supposes normal noise, independent from row to row: waves and bubbles are not"
    )
    largest = _largest(group)
    span_s = max((group[-1].at_us - group[0].at_us) / 1e6, 86_400.0)
    day = float(events_in_time(float(len(group)), 86_400.0, span_s))
    said = f"{len(group)} spikes, {day:.2g} a day; the largest {largest.size_m * 1e3:+.1f} mm"
    return Finding(
        "spikes",
        group[0].at_us,
        group[-1].at_us,
        Statistic("spikes within a day of one another", float(len(group)), together),
        FalseAlarms(rate, words, YEAR_s / max(rate, 1e-300)),
        said,
        (Size("largest", largest.size_m, "m"), Size("spikes a day", day, "")),
    )


def _alone(bench: Bench, far: list[Event]) -> Finding:
    """Readings that leave and come back by more than scatter and any movement, each a day or more from the next."""
    usual_s, limit = bench.seen.usual_s, setting("lone_spike_limit")
    factor = min(limit / _MEDIAN, MOST_FACTOR)
    run_length = float(shewhart_run_length(factor, 0.0))
    rate = float(false_alarms(YEAR_s, usual_s, run_length))
    words = (
        f"a limit of {limit:g} standard deviations: fewer than one reading in {about(run_length)}; supposes normal "
        "noise, independent from row to row: a wave, a bubble or a splash is none, and may do it once"
    )
    largest = _largest(far)
    return Finding(
        "spikes",
        far[0].at_us,
        far[-1].at_us,
        Statistic("size of the largest, m", abs(largest.size_m), _least_alone_m(bench, largest)),
        FalseAlarms(rate, words, YEAR_s / max(rate, 1e-300)),
        f"{counted(len(far), 'single reading')} far off and back at once, a day or more from any other: {_named(far)}",
        (Size("largest", largest.size_m, "m"),),
    )


def _largest(events: list[Event]) -> Event:
    return max(events, key=lambda event: abs(event.size_m))


def _size(event: Event) -> str:
    size = event.size_m * 1e3
    return f"{size:+.0f}" if abs(size) >= 100.0 else f"{size:+.3g}"


def _or_more(event: Event) -> str:
    return " or farther" if event.is_bound else ""


def _named(events: list[Event]) -> str:
    """The largest of them, with their times."""
    largest = sorted(events, key=lambda event: -abs(event.size_m))[:MOST_NAMED]
    said = ", ".join(f"{_size(event)} mm{_or_more(event)} at {clock(event.at_us)}" for event in largest)
    return said if len(events) <= MOST_NAMED else f"{said}, and {len(events) - MOST_NAMED} smaller"


def _above(bench: Bench, judged: Judged, events: list[Event]) -> None:
    """Spikes above HH: what hangs on the alarm may have acted."""
    tank = bench.tank
    above = [event for event in events if event.level_m > tank.high_high_m]
    if not above:
        return
    first = above[:MOST_NAMED]
    said = ", ".join(f"{event.level_m:.3f} m{_or_more(event)} at {clock(event.at_us)}" for event in first)
    more = f", and {len(above) - len(first)} more" if len(above) > len(first) else ""
    place = "HH" if tank.is_high_high_set else "the highest place of HH, which is not set"
    judged.notes.append(
        f"{counted(len(above), 'single reading')} above {place}, {tank.high_high_m:.3f} m: {said}{more}. Ask "
        "whether the alarm came and what acted on it."
    )
