"""All detectors over one log, and the numbers that are told of every log."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

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


def judge(bench: Bench) -> Judged:
    """Every finding in the order of time, and what could not be judged."""
    judged = Judged()
    _set_aside(bench, judged)
    if bench.seen.rows < FEWEST_ROWS:
        judged.cannot(f"{counted(bench.seen.rows, 'row')}: fewer than {FEWEST_ROWS} tell nothing.")
        return judged
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
