"""What a running tank can tell while nothing is wrong: how fast its level may seem to go, how long a number may stand.

Whoever watches it takes what goes beyond for a fault of the line or of the source.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import inf

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.simulate.instrument import Signal, State
from onedatum.simulate.running import AT_END_A, Profile, Running

MOST_STEPS = 1_000
AT_REST = 200
"""Steps of the rest after a course, which stand for all of it."""


@dataclass(frozen=True)
class Believable:
    """Of a sound instrument on a tank that runs, by the clock of the tank."""

    rate_m_per_s: float
    """Greatest true rate of the level; infinite where it goes to another at once."""
    spread_m: float
    """By how much what is shown strays from the true level, from least to greatest: waves, steps, what hangs back."""
    still_s: float
    """The longest time that the current stands at one value; infinite where it may stand for ever."""


def greatest_rate_m_per_s(profile: Profile) -> float:
    """The greatest rate of a profile, up or down."""
    ends_m = profile.levels_m
    if profile.repeats and profile.legs and ends_m[-1] != ends_m[0]:
        return inf
    rises = zip(pairwise(ends_m), profile.legs, strict=True)
    return max((abs(to_m - from_m) / leg.duration_s for (from_m, to_m), leg in rises), default=0.0)


def believable(running: Running) -> Believable:
    """What its own steps of time show, those of a long course by equal shares of it."""
    step_s, level_m, signal = _told(running)
    low_A, high_A = sorted(running.instrument.saturation_A)
    follows = (signal.current_A > low_A + AT_END_A) & (signal.current_A < high_A - AT_END_A)
    strays_m = (signal.shown_m - level_m)[follows]
    spread_m = float(np.ptp(strays_m)) if len(strays_m) else 0.0
    # As a single float, which the ways tell.
    runs = _runs((1000.0 * signal.current_A).astype(np.float32).astype(np.float64))
    for_ever = len(runs) == 1 or (not running.profile.repeats and runs[-1] >= AT_REST)
    still_s = inf if for_ever else float(np.max(runs)) * step_s
    return Believable(greatest_rate_m_per_s(running.profile), spread_m, still_s)


def _told(running: Running) -> tuple[float, Reals, Signal]:
    """A step of time; by such steps the true level and what is told, of two courses or of one and the rest after it."""
    profile, instrument = running.profile, running.instrument
    step_s = max(running.interval_s, profile.duration_s / MOST_STEPS)
    time_s = step_s * np.arange(int(profile.duration_s / step_s) * (2 if profile.repeats else 1) + AT_REST)
    level_m = np.array([profile.level_m(each) for each in time_s.tolist()])
    waves_m = running.noise_m * np.random.default_rng(running.seed).standard_normal(len(time_s))
    rising = np.array([float(profile.is_rising(each)) for each in time_s.tolist()])
    warm_K = np.full(len(time_s), instrument.temperature_K)
    state = State(level_m + waves_m, warm_K, rising, np.maximum.accumulate(level_m + waves_m))
    return step_s, level_m, instrument.signal(state)


def _runs(told: Reals) -> Reals:
    """The lengths, in steps, of all runs of one number; what is no number is none of its like."""
    changes = np.flatnonzero(np.concatenate([[True], told[1:] != told[:-1], [True]]))
    return np.diff(changes)
