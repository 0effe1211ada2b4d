"""What to measure next: the information on the causes that a further reading is expected to give, for its cost.

For each cause the further reading is taken as normal, by the expected size of the cause and its uncertainty; what it
shares with the readings at hand beyond the size is left out. The information is that between cause and reading, in
bits.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from scipy.special import logsumexp

from onedatum.foundation.numerics import Reals
from onedatum.proving.causes.model import Model
from onedatum.proving.causes.priors import Measurement, Priors
from onedatum.simulate import CHANNELS, State

_SHARES = (0.1, 0.3, 0.5, 0.7, 0.9)
"""Of the span: levels at which a further dip may be asked for."""
_POINTS, _WIDE = 601, 6.0
_LEAST_BITS = 1e-3


@dataclass(frozen=True)
class Judged:
    """A cause as it stands after the readings at hand."""

    key: str
    probability: float
    size: float
    size_u: float


@dataclass(frozen=True)
class Further:
    """One further measurement."""

    key: str
    words: str
    bits: float
    """Expected information on which cause it is."""
    cost: float
    level_m: float | None = None
    """The level at which it tells most; None where it does not matter."""

    @property
    def worth(self) -> float:
        """Information for the cost."""
        return self.bits / self.cost


def next_measurements(model: Model, judged: Sequence[Judged], priors: Priors) -> tuple[Further, ...]:
    """The measurements that tell something, the most for their cost first."""
    found = []
    for each in priors.measurements:
        best = _tells(each, judged) if each.kind == "tells" else _reads(model, each, judged)
        if best is not None and best.bits > _LEAST_BITS:
            found.append(best)
    return tuple(sorted(found, key=lambda each: -each.worth))


def information_bits(shares: Reals, means: Reals, standards: Reals) -> float:
    """Mutual information of which of several normal distributions it is, and a value drawn from it."""
    low, high = (means - _WIDE * standards).min(), (means + _WIDE * standards).max()
    near = [mean + standard * np.linspace(-_WIDE, _WIDE, 121) for mean, standard in zip(means, standards, strict=True)]
    grid = np.unique(np.concatenate([np.linspace(low, high, _POINTS), *near]))
    log_each = -0.5 * ((grid[:, None] - means) / standards) ** 2 - np.log(standards * np.sqrt(2.0 * np.pi))
    log_whole = logsumexp(log_each + np.log(np.maximum(shares, 1e-300)), axis=1)
    gained = (np.exp(log_each) * shares * (log_each - log_whole[:, None])).sum(axis=1)
    return max(float(np.trapezoid(gained, grid) / np.log(2.0)), 0.0)


def _tells(what: Measurement, judged: Sequence[Judged]) -> Further | None:
    """What measures the size of a cause itself: about zero for every other cause."""
    best = 0.0
    shares = np.array([each.probability for each in judged])
    for key in what.causes:
        own = np.array([each.key == key for each in judged])
        if not own.any() or not all(np.isfinite(each.size) for each in judged if each.key == key):
            continue
        means = np.where(own, [each.size for each in judged], 0.0)
        standards = np.where(own, [np.hypot(each.size_u, what.standard) for each in judged], what.standard)
        best = max(best, information_bits(shares / shares.sum(), means, standards))
    return Further(what.key, what.words, best, what.cost) if best else None


def _reads(model: Model, what: Measurement, judged: Sequence[Judged]) -> Further | None:
    """What reads a channel more, at a level at hand or at another one."""
    state = _state(model, what)
    channel = what.channel or _channel_at_hand(model)
    if what.kind == "channel" and channel in CHANNELS and np.isfinite(model.readings.of(channel)).any():
        return None
    standard = what.standard or model.spread.of(channel)
    dip_u = np.full(len(state.level_m), model.spread.dip_m) if what.kind != "channel" else model.level_u_m
    means, standards = [], []
    for each in judged:
        sized = np.isfinite(each.size)
        sizes = np.array([each.size, each.size + each.size_u]) if sized else np.zeros(1)
        read, moved = model.further(each.key if sized else "", sizes, state, channel, dip_u)
        variance = standard**2 + (moved**2).sum(axis=0)
        if sized:
            variance = variance + (read[1] - read[0]) ** 2
        means.append(read[0])
        standards.append(np.sqrt(variance))
    return _best(what, judged, np.array(means), np.array(standards), state)


def _best(what: Measurement, judged: Sequence[Judged], means: Reals, standards: Reals, state: State) -> Further | None:
    """At the row that tells most."""
    shares = np.array([each.probability for each in judged])
    best: Further | None = None
    for row in range(means.shape[1]):
        kept = np.isfinite(means[:, row]) & np.isfinite(standards[:, row]) & (shares > 0.0)
        if kept.sum() < 2:
            continue
        bits = information_bits(shares[kept] / shares[kept].sum(), means[kept, row], standards[kept, row])
        if best is None or bits > best.bits:
            best = Further(what.key, what.words, bits, what.cost, float(state.level_m[row]))
    return best


def _channel_at_hand(model: Model) -> str:
    """The channel that was read most."""
    counts = [int(np.isfinite(model.readings.of(channel)).sum()) for channel in CHANNELS]
    return CHANNELS[int(np.argmax(counts))]


def _state(model: Model, what: Measurement) -> State:
    state, instrument = model.state, model.instrument
    if what.kind == "channel":
        return state
    low_m, span_m = min(instrument.lower_m, instrument.upper_m), abs(instrument.upper_m - instrument.lower_m)
    levels = low_m + span_m * np.array(_SHARES if what.kind == "level" else _SHARES[:1])
    rising = np.full(len(levels), 1.0 if what.kind == "level" else 0.0)
    warm_K = np.full(len(levels), float(state.temperature_K.mean()))
    highest = np.full(len(levels), max(low_m + 0.9 * span_m, float(state.highest_m.max())))
    return replace(state, level_m=levels, temperature_K=warm_K, is_rising=rising, highest_m=highest)
