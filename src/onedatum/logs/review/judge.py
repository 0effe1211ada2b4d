"""All detectors over one log, and the numbers that are told of every log."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from onedatum.foundation.wording import counted
from onedatum.logs.review.bench import Bench
from onedatum.logs.review.detectors.balance import balance
from onedatum.logs.review.detectors.clock import clock
from onedatum.logs.review.detectors.dips import against_dips
from onedatum.logs.review.detectors.ends import ends
from onedatum.logs.review.detectors.hum import hum
from onedatum.logs.review.detectors.lags import lags
from onedatum.logs.review.detectors.noise import noise
from onedatum.logs.review.detectors.rests import at_rest
from onedatum.logs.review.detectors.spikes import spikes
from onedatum.logs.review.detectors.steps import steps
from onedatum.logs.review.detectors.stuck import stuck
from onedatum.logs.review.finding import Finding, Judged

DETECTORS: tuple[Callable[[Bench, Judged], None], ...] = (
    ends,
    clock,
    lags,
    stuck,
    spikes,
    noise,
    steps,
    hum,
    against_dips,
    balance,
    at_rest,
)
FEWEST_ROWS = 100
RESTLESS, LEAST_LEFT = 0.3, 0.3
"""Share of the blocks left alone that should rest, and share of all that must be left alone for it to be said."""


def judge(bench: Bench) -> Judged:
    """Every finding in the order of time, and what could not be judged."""
    judged = Judged()
    _set_aside(bench, judged)
    if bench.seen.rows < FEWEST_ROWS:
        judged.is_whole = False
        few = counted(bench.seen.rows, "row")
        judged.cannot(f"Nothing is judged, of {few}: fewer than {FEWEST_ROWS} tell nothing.")
        return judged
    _restless(bench, judged)
    for detector in DETECTORS:
        detector(bench, judged)
    judged.findings = sorted(_without_followers(judged.findings), key=lambda each: (each.from_us, each.kind))
    return judged


def _set_aside(bench: Bench, judged: Judged) -> None:
    """Rows that were not looked at, by reason, before anything that was found in the others."""
    for reason, count in sorted(bench.seen.rejected.items(), key=lambda each: (-each[1], each[0])):
        judged.notes.append(f"Set aside, {reason}: {counted(count, 'row')}.")
    aside = sum(bench.seen.rejected.values())
    if aside:
        judged.notes.append(
            f"{aside} of {aside + bench.seen.rows} rows are set aside and not looked at; `onedatum convert` with the "
            "same mapping writes each of them into rejects.csv."
        )


def _restless(bench: Bench, judged: Judged) -> None:
    """Where movements leave far more to rest than rests: what is judged at rest then rests on little."""
    if not bench.has_movements or not len(bench.seen.series):
        return
    left, rests = float(np.mean(bench.left_alone)), float(np.mean(bench.resting))
    if left >= LEAST_LEFT and rests < RESTLESS * left:
        judged.cannot(
            f"{rests:.0%} of the blocks rest, though movements leave {left:.0%} of them alone: something keeps the "
            "level from resting, such as waves, an agitator, a slow hum or movements that are not booked. What is "
            "judged at rest (noise, hum, loss, equal readings) has little or nothing to go by."
        )


def _without_followers(found: list[Finding]) -> list[Finding]:
    """Less scatter that begins with a reading that stands still is the same thing: it is told there."""
    still = [each for each in found if each.kind == "stuck"]
    kept: list[Finding] = []
    for each in found:
        first = next((own for own in still if own.from_us - 86_400_000_000 <= each.from_us <= own.to_us), None)
        if each.kind == "noise_down" and first is not None:
            place = kept.index(first) if first in kept else None
            words = f"{first.said}; less scatter begins with it"
            if place is not None:
                kept[place] = replace(first, said=words)
            continue
        kept.append(each)
    return kept
