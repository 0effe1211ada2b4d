"""A steady line in the scatter at rest, and whether the mains could be folded down to it by this sampling."""

from __future__ import annotations

from dataclasses import dataclass

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
    fitted_line,
    innovations,
    line_amplitude,
    strongest_line,
)
from onedatum.physics.detection.lines import LOWEST
from onedatum.physics.detection.robust import MAD_TO_STANDARD

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
LEAST_SPREAD = 50.0
"""Parts of the distance of two frequencies of a spectrum to which a fit is trusted."""
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
    _said_of_band(bench, judged)
    line = _line([level for _, level in stretches], bench.seen.usual_s)
    chance = kinds()["hum"].chance
    if line.probability > chance or line.ratio < LEAST_RATIO:
        return
    if _strongest(stretches, line.frequency_Hz, bench.seen.usual_s) < LEAST_OF_GRAIN * bench.seen.grain_m:
        return
    shown, when = _present(stretches, line.frequency_Hz, bench.seen.usual_s)
    judged.findings.append(
        Finding(
            "hum",
            min(when),
            max(when) + int(LENGTH * bench.seen.usual_us),
            Statistic("probability by chance", line.probability, chance, True),
            by_test(chance, bench.seen.span_s, "noise of first order with a smooth spectrum"),
            f"{shown.words}, in {len(when)} of {len(stretches)} stretches; {line.ratio:.3g} times the power around it",
            (Size("amplitude", shown.amplitude_m, "m"), Size("frequency", shown.frequency_Hz, "Hz")),
            _mains(shown.frequency_Hz, bench.seen.usual_s),
        )
    )


def _line(stretches: list[Reals], sampling_s: float) -> StrongestLine:
    """The strongest line of the innovations, whose spectrum is flat where noise hangs together."""
    phi = float(np.clip(np.median([first_order(each).correlation for each in stretches]), 0.0, MOST_CORRELATION))
    return strongest_line([innovations(each, 0.0, phi) for each in stretches], sampling_s)


def _said_of_band(bench: Bench, judged: Judged) -> None:
    """Which lines can be seen at all: fast ones show at another frequency, slow ones are taken for movement."""
    shortest_s, longest_s = 2.0 * bench.seen.usual_s, LENGTH * bench.seen.usual_s / LOWEST
    judged.cannot(
        f"A hum is looked for with periods from {shortest_s:g} s to {longest_s:g} s; a slower one, or one that is "
        "folded down to a longer period, is not."
    )


@dataclass(frozen=True)
class Shown:
    """A line as it shows in the stretches that hold it."""

    frequency_Hz: float
    spread_Hz: float
    """Standard deviation of the frequency from stretch to stretch."""
    amplitude_m: float
    strongest_m: float

    @property
    def words(self) -> str:
        """With as many figures as hold."""
        figures = max(int(np.log10(self.frequency_Hz / self.spread_Hz)) + 1, 2)
        return (
            f"a line at {self.frequency_Hz:#.{figures}g} Hz, period {1.0 / self.frequency_Hz:#.{figures}g} s (from "
            f"stretch to stretch within {self.spread_Hz:.1g} Hz, one standard deviation), amplitude "
            f"{self.amplitude_m * 1e3:#.2g} mm in the middle, {self.strongest_m * 1e3:#.2g} mm where it is strongest"
        )


def _strongest(stretches: list[tuple[int, Reals]], frequency_Hz: float, sampling_s: float) -> float:
    """The amplitude at a frequency of the spectrum, where it is strongest."""
    sizes = [line_amplitude(level, sampling_s, frequency_Hz) for _, level in stretches]
    return float(np.quantile(sizes, STRONGEST))


def _present(stretches: list[tuple[int, Reals]], frequency_Hz: float, sampling_s: float) -> tuple[Shown, list[int]]:
    """The line by a fit, and when the stretches began in which it is half as strong as at its strongest, or more."""
    fit = fitted_line([level for _, level in stretches], sampling_s, frequency_Hz)
    strongest = float(np.quantile(fit.amplitudes, STRONGEST))
    holds = fit.amplitudes >= 0.5 * strongest
    own_Hz = fit.of_each_Hz[holds]
    spread = MAD_TO_STANDARD * float(np.median(np.abs(own_Hz - np.median(own_Hz))))
    spread = max(spread, 1.0 / (LEAST_SPREAD * LENGTH * sampling_s))
    shown = Shown(fit.frequency_Hz, spread, float(np.median(fit.amplitudes[holds])), strongest)
    return shown, [at for (at, _), own in zip(stretches, holds.tolist(), strict=True) if own]


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
