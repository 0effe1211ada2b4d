"""Rows that say themselves that they are no level: failure information, no current at all, an end of the signal."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from onedatum.logs.review.bench import Bench, HOUR_us
from onedatum.logs.review.finding import Finding, Judged, Size, Statistic, by_limits
from onedatum.logs.review.rows import AT_HIGH, AT_LOW, FAILED_LOW
from onedatum.logs.review.runs import Run

NO_CURRENT_A = 1e-3
"""Below it nothing that sends is connected: a transmitter of two wires needs more to live."""
MOST = 4
"""Findings of one kind; beyond it, stretches farther apart are put together."""
AT_A_LIMIT_m = 1e-6
LEAST_ROWS = 3
NE_43 = "limits of the case, by NE 43"


def ends(bench: Bench, judged: Judged) -> None:
    """Saturation, failure current, wire break."""
    states = bench.seen.states
    failed = [run for run in states if run.value not in (AT_LOW, AT_HIGH)]
    broken = [run for run in failed if run.value == FAILED_LOW and run.low_A < NO_CURRENT_A]
    others = [run for run in failed if run not in broken]
    saturated = [run for run in (*states, *_at_range(bench)) if run.value in (AT_LOW, AT_HIGH)]
    saturated = [run for run in saturated if run.count >= LEAST_ROWS]
    for group in clusters(broken):
        judged.findings.append(_finding("wire_break", group, bench, "lowest current", lambda run: run.low_A))
    for group in clusters(others):
        judged.findings.append(_finding("failure_current", group, bench, "current", lambda run: run.low_A))
    for end in (AT_LOW, AT_HIGH):
        for group in clusters(sorted([run for run in saturated if run.value == end], key=lambda run: run.from_us)):
            judged.findings.append(_saturation(group, bench, end))
    if not bench.seen.tells_state:
        judged.cannot("A log of levels holds no current: a wire break and failure information cannot be told.")


def clusters(runs: Sequence[Run], apart_us: int = HOUR_us) -> list[list[Run]]:
    """Runs put together that are less apart; where too many are left, still farther ones."""
    while True:
        found: list[list[Run]] = []
        for run in runs:
            if found and run.from_us - found[-1][-1].to_us < apart_us:
                found[-1].append(run)
            else:
                found.append([run])
        if len(found) <= MOST:
            return found
        apart_us *= 4


def _at_range(bench: Bench) -> list[Run]:
    """Runs of one level exactly at an end of the range: a receiver that clamps there."""
    tank, found = bench.tank, []
    ends_of = ((min(tank.lower_m, tank.upper_m), AT_LOW), (max(tank.lower_m, tank.upper_m), AT_HIGH))
    for run in bench.seen.equal:
        for level, kind in ends_of:
            if abs(run.value - level) < AT_A_LIMIT_m:
                found.append(Run(run.from_us, run.to_us, run.count, kind, run.low_A, run.high_A))
    return found


def _finding(kind: str, group: Sequence[Run], bench: Bench, name: str, low: Callable[[Run], float]) -> Finding:
    rows = sum(run.count for run in group)
    least = float(np.nanmin([low(run) for run in group]))
    limit = NO_CURRENT_A if kind == "wire_break" else float("nan")
    said = f"{rows} of {bench.seen.rows} rows, in {_many(len(group))}; {name} {least * 1e3:.2f} mA"
    sizes = (Size("current, least", least, "A"), _longest(group))
    statistic = Statistic("current, A", least, limit, True)
    return Finding(kind, group[0].from_us, group[-1].to_us, statistic, by_limits(NE_43), said, sizes)


def _saturation(group: Sequence[Run], bench: Bench, end: int) -> Finding:
    rows = sum(run.count for run in group)
    word = "lower" if end == AT_LOW else "upper"
    said = (
        f"{rows} of {bench.seen.rows} rows stand at the {word} end of level, in {_many(len(group))}; "
        "they are bounds and count in no average"
    )
    statistic = Statistic("rows at the end", float(rows), float(LEAST_ROWS))
    rate = by_limits("the ends of the signal are stated")
    return Finding("saturation", group[0].from_us, group[-1].to_us, statistic, rate, said, (_longest(group),))


def _many(count: int) -> str:
    return "one stretch" if count == 1 else f"{count} stretches"


def _longest(group: Sequence[Run]) -> Size:
    return Size("longest stretch", max(run.length_us for run in group) / 1e6, "s")
