"""A steady line in the scatter at rest, and whether the mains could be folded down to it by this sampling."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.moments import DAY_s
from onedatum.foundation.numerics import Reals
from onedatum.logs.review.bench import Bench
from onedatum.logs.review.finding import Finding, Judged, Size, Statistic, by_test
from onedatum.logs.review.limits import kinds
from onedatum.physics.detection import (
    StrongestLine,
    alias_Hz,
    difference_noise,
    first_order,
    innovations,
    line_amplitude,
    strongest_line,
)

LENGTH = 128
MOST_CORRELATION = 0.98
STRONGEST = 0.97
LEAST = 4
MAINS_Hz = (50.0, 60.0)
MAINS_OFF_Hz = 0.05
"""By how much the frequency of the mains moves about."""
QUIET = 4.0
"""Scatter of a stretch over that of its differences: more is a movement."""
LEAST_OF_GRAIN = 1.0
"""Steps of the readings: what is less the rounding itself makes."""
DAILY = (1, 2)
"""Waves in a day that warmth makes in a stretch of a day or more: they are taken off, as they are of losses at rest."""
LEAST_RATIO = 2.0
"""Power of a line over that around it: a spectrum that only bends stays below."""


def hum(bench: Bench, judged: Judged) -> None:
    """The strongest line of the stretches at rest."""
    stretches = _at_rest(bench)
    if len(stretches) < LEAST:
        judged.cannot("Too few stretches at rest with even times: a hum is not looked for.")
        return
    line = _line([level for _, level in stretches], bench.seen.usual_s)
    chance = kinds()["hum"].chance
    if line.probability > chance or line.ratio < LEAST_RATIO:
        return
    amplitude, when = _present(stretches, line.frequency_Hz, bench.seen.usual_s)
    if amplitude < LEAST_OF_GRAIN * bench.seen.grain_m:
        return
    judged.findings.append(
        Finding(
            "hum",
            min(when),
            max(when) + int(LENGTH * bench.seen.usual_us),
            Statistic("probability by chance", line.probability, chance, True),
            by_test(chance, bench.seen.span_s, "noise of first order with a smooth spectrum"),
            f"a line at {line.frequency_Hz:.4g} Hz, period {1.0 / line.frequency_Hz:.4g} s, amplitude "
            f"{amplitude * 1e3:.2g} mm where it is strongest, in {len(when)} of {len(stretches)} stretches; "
            f"{line.ratio:.3g} times the power around it",
            (Size("amplitude", amplitude, "m"), Size("frequency", line.frequency_Hz, "Hz")),
            _mains(line.frequency_Hz, bench.seen.usual_s),
        )
    )


def _line(stretches: list[Reals], sampling_s: float) -> StrongestLine:
    """The strongest line of the innovations, whose spectrum is flat where noise hangs together."""
    phi = float(np.clip(np.median([first_order(each).correlation for each in stretches]), 0.0, MOST_CORRELATION))
    return strongest_line([innovations(each, 0.0, phi) for each in stretches], sampling_s)


def _present(stretches: list[tuple[int, Reals]], frequency_Hz: float, sampling_s: float) -> tuple[float, list[int]]:
    """The amplitude where the line is strongest, and when the stretches began in which it is half as strong or more."""
    sizes = np.array([line_amplitude(level, sampling_s, frequency_Hz) for _, level in stretches])
    size = float(np.quantile(sizes, STRONGEST))
    return size, [at for (at, _), own in zip(stretches, sizes.tolist(), strict=True) if own >= 0.5 * size]


def _at_rest(bench: Bench) -> list[tuple[int, Reals]]:
    found = []
    for time_us, level in bench.seen.stretches.whole(bench.seen.usual_us, LENGTH):
        for start in range(0, len(level) - LENGTH + 1, LENGTH):
            part = level[start : start + LENGTH]
            noise = max(difference_noise(part), 0.3 * bench.seen.grain_m)
            places = np.arange(LENGTH) - 0.5 * (LENGTH - 1)
            left = part - np.mean(part)
            left = left - places * float(places @ left) / float(places @ places)
            if 0.0 < float(np.std(left)) < QUIET * noise:
                found.append((int(time_us[start]), _without_day(left, bench.seen.usual_s)))
    return found


def _without_day(level: Reals, sampling_s: float) -> Reals:
    """Less the wave of the day and that of its half, where the stretch is long enough to show them as lines."""
    if LENGTH * sampling_s < DAY_s:
        return level
    angles = 2.0 * np.pi * sampling_s / DAY_s * np.arange(LENGTH)
    waves = np.column_stack([wave(times * angles) for times in DAILY for wave in (np.cos, np.sin)])
    fit, *_ = np.linalg.lstsq(waves, level, rcond=None)
    return np.asarray(level - waves @ fit)


def _mains(frequency_Hz: float, sampling_s: float) -> tuple[str, ...]:
    """Which mains could be folded down to it."""
    rate, said = 1.0 / sampling_s, []
    resolution = 1.5 / (LENGTH * sampling_s)
    for mains in MAINS_Hz:
        shown = float(alias_Hz(mains, rate))
        if MAINS_OFF_Hz > 0.25 * rate:
            said.append(
                f"hum of {mains:g} Hz may show anywhere at a row each {sampling_s:g} s, since the mains moves about by "
                f"{MAINS_OFF_Hz:g} Hz"
            )
        elif abs(shown - frequency_Hz) <= MAINS_OFF_Hz + resolution:
            said.append(f"hum of {mains:g} Hz, which a row each {sampling_s:g} s shows at {shown:.4g} Hz")
    return tuple(said)
