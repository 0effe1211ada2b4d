"""Ticks of a scale: which values get one, how long, at which height."""

from math import ceil, floor, inf, isfinite, log10
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from onedatum.foundation.numerics import Reals
from onedatum.paper.model import Scale
from onedatum.paper.numbers import Numbers
from onedatum.paper.ruler.tables import heights_of, interpolate, interpolated

LABEL_PX = 27.0
MINOR_PX = 3.6
MOST_TICKS = 3000
DIVISIONS = (10, 5, 4, 2)
SAMPLES = 60


class Tick(NamedTuple):
    """One tick: its value, the height it stands at, its rank (0 labelled, 1 half, 2 minor) and its label."""

    value: float
    height_m: float
    rank: int
    label: str


def scale_ticks(scale: Scale, low_m: float, high_m: float, px_per_m: float) -> list[Tick]:
    """All ticks of a usable scale between two heights; none if there would be more than a file can bear."""
    steepest = steepest_slope(scale, low_m, high_m)
    if not high_m > low_m or not 0 < steepest < inf or px_per_m <= 0:
        return []
    labelled, minor = steps(px_per_m / steepest)
    ends = sorted(
        (interpolate(low_m, scale.heights_m, scale.values), interpolate(high_m, scale.heights_m, scale.values))
    )
    if not isfinite(minor) or minor <= 0 or (ends[1] - ends[0]) / minor > MOST_TICKS:
        return []
    first, last = ceil(ends[0] / minor - 1e-6), floor(ends[1] / minor + 1e-6)
    values: Reals = np.arange(first, last + 1, dtype=np.float64) * minor
    ranks = np.where(are_multiples(values, labelled), 0, np.where(are_multiples(values, labelled / 2), 1, 2))
    places = zip(values.tolist(), heights_of(scale, values).tolist(), ranks.tolist(), strict=True)
    decimals = step_decimals(labelled)
    return [Tick(value, height, rank, "" if rank else decimal(value, decimals)) for value, height, rank in places]


def steepest_slope(scale: Scale, low_m: float, high_m: float) -> float:
    """Greatest change of value per metre, looked at over a sixtieth of the height: ticks are closest there."""
    step = (high_m - low_m) / SAMPLES
    if not step > 0:
        return 0.0
    heights_m: Reals = low_m + np.arange(SAMPLES + 1, dtype=np.float64) * step
    values = interpolated(heights_m, Numbers.of(scale.heights_m).array, Numbers.of(scale.values).array)
    return float(np.abs(np.diff(values)).max()) / step


def steps(px_per_unit: float) -> tuple[float, float]:
    """Labelled step, the smallest of 1-2-5 that keeps labels apart, and minor step, the finest to be told apart."""
    labelled = nice_step(LABEL_PX / px_per_unit)
    fine = [labelled / n for n in DIVISIONS if labelled / n * px_per_unit >= MINOR_PX]
    return labelled, fine[0] if fine else labelled


def nice_step(least: float) -> float:
    """Smallest of 1, 2, 5 times a power of ten that is not below `least`."""
    if not isfinite(least) or least <= 0:
        return least
    power = floor(log10(least))
    return next(m * 10.0**power for m in (1, 2, 5, 10) if m * 10.0**power >= least * (1 - 1e-9))


def are_multiples(values: Reals, step: float) -> NDArray[np.bool_]:
    """Which values are a whole number of steps."""
    found: NDArray[np.bool_] = np.abs(values / step - np.round(values / step)) < 1e-6
    return found


def step_decimals(step: float) -> int:
    """Decimals that a label needs for a step of 1, 2, 5 times a power of ten; none for a step beyond all numbers."""
    return 0 if not isfinite(step) else max(0, -floor(log10(step) + 1e-9))


def decimal(value: float, decimals: int) -> str:
    """A number with a true minus; very great ones with an exponent, what is no number as a dash."""
    if not isfinite(value):
        return "–"
    text = f"{value:.{decimals}f}" if abs(value) < 1e7 else f"{value:.3g}"
    if float(text) == 0:
        text = text.lstrip("-")
    return text.replace("-", "−")
