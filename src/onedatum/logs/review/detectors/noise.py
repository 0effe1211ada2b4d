"""Scatter of readings at rest, more or less than it was: cumulative sums over the logarithm of the noise of blocks."""

from __future__ import annotations

import numpy as np

from onedatum.logs.review.bench import Bench
from onedatum.logs.review.charts import LEAST_REFERENCE, Shift, shifts
from onedatum.logs.review.finding import Finding, Judged, Size, Statistic
from onedatum.logs.review.limits import kinds, setting

LEAST_DIFFERENCES = 8
REFERENCE = 0.3
"""Of the blocks at rest: the first of them count as sound."""
MOST_STILL = 0.2
"""Share of blocks whose noise is below the step of the readings: beyond it there is no noise to be charted."""


def noise(bench: Bench, judged: Judged) -> None:
    """Noise up and noise down."""
    series = bench.seen.series
    kept = np.flatnonzero(bench.resting & (series.noise_count >= LEAST_DIFFERENCES))
    reference = max(int(REFERENCE * len(kept)), LEAST_REFERENCE)
    if len(kept) < 2 * LEAST_REFERENCE:
        judged.cannot(
            "Too little of the log rests, or rows are too far apart: whether the scatter has changed is not judged."
        )
        return
    measured = series.noise_m[kept]
    if np.mean(measured[:reference] <= 0.0) > MOST_STILL:
        judged.cannot("The scatter at rest is below the step of the readings: whether it has changed is not judged.")
        return
    floor = max(0.05 * bench.seen.grain_m, 1e-6)
    values = np.log(np.maximum(measured, floor))
    interval_s = bench.seen.span_s / len(kept)
    for shift in shifts(values, interval_s, kinds()["noise_up"].wanted_per_year, reference):
        if abs(shift.after - shift.before) >= np.log(setting("noise_ratio")):
            judged.findings.append(_finding(bench, kept, shift))


def _finding(bench: Bench, kept: np.ndarray[tuple[int], np.dtype[np.intp]], shift: Shift) -> Finding:
    series = bench.seen.series
    before, after = float(np.exp(shift.before)), float(np.exp(shift.after))
    return Finding(
        "noise_up" if shift.is_up else "noise_down",
        int(series.start_us[kept[shift.onset]]),
        bench.seen.last_us,
        Statistic("cumulative sum over the logarithm of the noise", shift.sum_reached, shift.limit),
        shift.rate,
        f"{after * 1e3:.2g} mm after {before * 1e3:.2g} mm; the sum passed its limit "
        f"{(series.start_us[kept[shift.alarm]] - series.start_us[kept[shift.onset]]) / 3.6e9:.3g} h after its onset",
        (Size("noise before", before, "m"), Size("noise after", after, "m")),
    )
