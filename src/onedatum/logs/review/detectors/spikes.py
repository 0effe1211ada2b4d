"""Spikes: single readings far off their neighbours, where several come together."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from onedatum.foundation.moments import YEAR_s
from onedatum.foundation.numerics import Reals
from onedatum.foundation.wording import about
from onedatum.logs.review.bench import Bench
from onedatum.logs.review.events import SPIKE_WINDOW, Event
from onedatum.logs.review.finding import FalseAlarms, Finding, Judged, Size, Statistic
from onedatum.logs.review.limits import setting
from onedatum.physics.detection import events_in_time, false_alarms, shewhart_run_length

DAY_us = 86_400_000_000
MOST_FACTOR = 6.0
"""Beyond it the run length is told as at least that."""
_MEDIAN = float(np.sqrt(1.0 + np.pi / 2.0 / (SPIKE_WINDOW - 1)))
"""By how much the median of the neighbours adds to the scatter of a reading."""
NEAR = 3.0
"""Usual times from row to row within which failure information explains a spike."""


def spikes(bench: Bench, judged: Judged) -> None:
    """Groups of spikes less than a day apart."""
    least = int(setting("spikes_together"))
    for group in _groups(_own(bench)):
        if len(group) >= least:
            judged.findings.append(_finding(bench, group))


def _own(bench: Bench) -> list[Event]:
    """Spikes that no failure information beside them explains, and no scatter of the block that they are in.

    A surface that an inflow stirs scatters more than at rest: the limit holds of the scatter there.
    """
    if not bench.seen.spikes:
        return []
    at = np.array([event.at_us for event in bench.seen.spikes])
    near = NEAR * bench.seen.usual_us
    explained = np.zeros(len(at), dtype=bool)
    for run in bench.seen.states:
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
    largest = max(group, key=lambda event: abs(event.size_m))
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
