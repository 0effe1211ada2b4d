"""The ranking: every cause with its probability, those that look alike joined, and what to measure next."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from scipy.special import logsumexp

from onedatum.foundation.errors import CaseError, Fault, QuantityError
from onedatum.foundation.numerics import Reals
from onedatum.proving.causes.apart import Pattern, groups, pattern
from onedatum.proving.causes.evidence import Evidence, of_point, over_sizes
from onedatum.proving.causes.further import Further, Judged, next_measurements
from onedatum.proving.causes.model import Model, Predicted
from onedatum.proving.causes.priors import Priors, Size, stated_priors
from onedatum.simulate import CHANNELS, Instrument, Readings, kind

NOTHING, NOT_LISTED = "nothing", "not_listed"
_WORDS = {NOTHING: "nothing is wrong beyond what was stated", NOT_LISTED: "something that is not on the list"}
LEAST_LEFT = 0.01
"""Of the probability of its group: a cause below it is shut out by what was read, however alike it could look."""
_SHARES = np.array([0.003, 0.01, 0.03, 0.1, 0.3])
"""Of the span: how far readings lie off, each on its own, where something is wrong that has no model."""


@dataclass(frozen=True)
class Cause:
    """One cause."""

    key: str
    words: str
    shape: str
    """What it looks like over the level."""
    probability: float
    log_likelihood: float
    size: float
    """Expected size in SI, were it this cause; NaN where it has none."""
    size_u: float
    suffix: str
    predicted: Mapping[str, Reals]
    """What each channel would read in every row at that size."""


@dataclass(frozen=True)
class Group:
    """Causes that look alike to the readings at hand at some size, counted as one."""

    keys: tuple[str, ...]
    probability: float
    left: tuple[str, ...] = ()
    """Those of them that the readings have not all but shut out, such as by the sign of what they read."""


@dataclass(frozen=True)
class Ranking:
    """What the readings say, the likeliest first."""

    causes: tuple[Cause, ...]
    groups: tuple[Group, ...]
    cap: float
    """The most that any group is held likely on these readings."""
    unseen: tuple[str, ...]
    """Causes that these readings cannot show at any size; they are joined with nothing being wrong."""
    limits: Mapping[str, tuple[float | None, float | None]]
    """Detection limits of the others, below and above zero; a float that sticks has none."""
    known_words: tuple[str, ...]
    """Words of the recent change that were understood."""
    further: tuple[Further, ...]
    """Further measurements, the most information for the cost first."""
    left_out: tuple[int, ...] = ()
    """Rows, counted from 1, at which the case does not hold."""
    in_failure: tuple[int, ...] = ()
    """Rows, counted from 1, whose current is failure information."""

    @property
    def open_bits(self) -> float:
        """How much is open of which cause it is, in bits; what is not on the list is left out, as in `further`."""
        shares = np.array([each.probability for each in self.causes if each.key != NOT_LISTED])
        kept = shares[shares > 0.0] / shares.sum()
        return float(-(kept * np.log2(kept)).sum())

    def place(self, key: str) -> int:
        """The place of the group of a cause, counted from 1."""
        for number, group in enumerate(self.groups, 1):
            if key in group.keys:
                return number
        raise QuantityError(f"one of {', '.join(each.key for each in self.causes)}", repr(key), "it was not ranked")


@dataclass(frozen=True)
class Seen:
    """The causes as the readings see them, whatever they read."""

    model: Model
    sound: Predicted
    sizes: Mapping[str, Size]
    nodes: Mapping[str, Reals]
    predicted: Mapping[str, Predicted]
    patterns: Mapping[str, Pattern] = field(default_factory=dict)


def seen(instrument: Instrument, readings: Readings, priors: Priors, drawn: Mapping[str, float] | None = None) -> Seen:
    """Work every cause at all its sizes for the rows at hand."""
    model = Model(instrument, readings, priors.spread, priors.unread_temperature_K, drawn)
    if not len(model.values):
        why = "a dip alone says nothing of the instrument"
        raise CaseError([Fault("rows", "at least one reading that the case can predict", "none", why)])
    sound = model.predicted("", np.zeros(1))
    sizes = {key: priors.sizes[key].scaled(instrument) for key in instrument.kinds if priors.weights.get(key)}
    nodes = {key: size.nodes() for key, size in sizes.items()}
    predicted = {key: model.predicted(key, each) for key, each in nodes.items()}
    patterns = {key: pattern(nodes[key], each, sound) for key, each in predicted.items()}
    return Seen(model, sound, sizes, nodes, predicted, patterns)


def evidence(found: Seen) -> dict[str, Evidence]:
    """How likely the readings are under every cause, under none, and under one that is not listed."""
    values, none = found.model.values, float("nan")
    told = {
        key: over_sizes(values, found.nodes[key], found.sizes[key].masses(found.nodes[key]), each)
        for key, each in found.predicted.items()
    }
    told[NOTHING] = Evidence(of_point(values, found.sound), none, none)
    told[NOT_LISTED] = Evidence(_not_listed(found), none, none)
    return told


def _not_listed(found: Seen) -> float:
    """Readings that lie off by any amount, each on its own."""
    model = found.model
    whole_A, loop = 0.016, model.instrument.loop
    whole = {
        "current_A": whole_A,
        "voltage_V": whole_A * (loop.test_ohm or 0.0),
        "supply_V": whole_A * (loop.resistance_ohm or 0.0),
        "shown_m": abs(model.instrument.upper_m - model.instrument.lower_m),
        "volume_m3": 1.0,
    }
    rows = len(model.state.level_m)
    columns = model.by_channel(np.zeros(len(model.values)))
    spans = np.concatenate([np.full(rows, whole[c])[np.isfinite(columns[c])] for c in CHANNELS])
    covariance = found.sound.covariance[0] + np.array([np.diag((share * spans) ** 2) for share in _SHARES])
    mean = np.repeat(found.sound.mean, len(_SHARES), axis=0)
    each = Predicted(mean, covariance)
    log_each = [of_point(model.values, each, number) for number in range(len(_SHARES))]
    return float(logsumexp(log_each) - np.log(len(_SHARES)))


def posterior(told: Mapping[str, Evidence], prior: Mapping[str, float]) -> dict[str, float]:
    """Bayes: prior times likelihood, over the sum."""
    kept = [key for key in told if prior.get(key, 0.0) > 0.0]
    logs = np.array([told[key].log_likelihood + np.log(prior[key]) for key in kept])
    shares = np.exp(logs - logsumexp(logs))
    return dict(zip(kept, shares.tolist(), strict=True))


def rank(
    instrument: Instrument, readings: Readings, change: str = "", priors: Priors | None = None, further: bool = True
) -> Ranking:
    """Rank the causes that an instrument can have by readings and by words on a recent change.

    `further` asks as well what to measure next, which takes as long again.
    """
    held = priors or stated_priors()
    weighed, known = held.weighed(instrument.kinds, change)
    prior = {**weighed, NOTHING: held.nothing, NOT_LISTED: held.not_listed}
    found = seen(instrument, readings, held)
    told = evidence(found)
    alike, unseen = groups(found.patterns)
    joined = [*alike, (NOTHING, *unseen), (NOT_LISTED,)]
    cap = held.cap(found.model.rows)
    shares = _capped(posterior(told, prior), joined, cap)
    causes = sorted((_cause(found, told[key], key, share) for key, share in shares.items()), key=_by_probability)
    ranked = sorted((_group(keys, shares) for keys in joined), key=_by_probability)
    judged = [Judged(key, shares[key], told[key].size, told[key].size_u) for key in shares if key != NOT_LISTED]
    return Ranking(
        tuple(causes),
        tuple(ranked),
        cap,
        unseen,
        {key: each.limits() for key, each in found.patterns.items() if key not in (*unseen, "stuck")},
        known,
        next_measurements(found.model, judged, held) if further else (),
        found.model.left_out,
        found.model.in_failure,
    )


def _by_probability(of: Cause | Group) -> float:
    return -of.probability


def _group(keys: tuple[str, ...], shares: Mapping[str, float]) -> Group:
    kept = tuple(sorted((key for key in keys if key in shares), key=lambda key: -shares[key]))
    whole = sum(shares[key] for key in kept)
    return Group(kept, whole, tuple(key for key in kept if shares[key] >= LEAST_LEFT * whole))


def _capped(shares: dict[str, float], joined: list[tuple[str, ...]], cap: float) -> dict[str, float]:
    """No group above the cap: what is beyond it goes to what is not listed, and from there to nothing being wrong."""
    for keys in joined:
        own = [key for key in keys if key in shares]
        whole = sum(shares[key] for key in own)
        if whole > cap:
            taker = NOTHING if NOT_LISTED in own else NOT_LISTED
            rest = shares[taker] + whole - cap
            shares = {key: share * cap / whole if key in own else share for key, share in shares.items()}
            shares[taker] = rest
    return shares


def _cause(found: Seen, told: Evidence, key: str, share: float) -> Cause:
    if key in _WORDS:
        pattern_of, suffix, words = "", "", _WORDS[key]
        predicted = found.model.by_channel(found.sound.mean[0])
    else:
        own = kind(key)
        pattern_of, suffix, words = own.shape, own.suffix, own.words
        sized = np.isfinite(told.size)
        mean = found.model.mean(key, told.size) if sized else found.sound.mean[0] * np.nan
        predicted = found.model.by_channel(mean)
    return Cause(key, words, pattern_of, share, told.log_likelihood, told.size, told.size_u, suffix, predicted)
