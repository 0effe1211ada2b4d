"""Which causes the readings at hand can tell apart, whatever they read: detection limits, and groups that look alike.

The detection limit is the size that is told from zero with a chance of 5 % to be wrong either way: 2 * 1.645 standard
deviations (Currie 1968; ISO 11843-1, from memory). Two causes look alike if each, at five times its detection limit,
lies nearer than that to some size of the other; where one cannot grow so large, in proportion.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from scipy.cluster.hierarchy import fcluster, linkage
from scipy.spatial.distance import squareform

from onedatum.foundation.numerics import Reals
from onedatum.proving.causes.model import Predicted

TOLD_APART = 2.0 * 1.6448536269514722
TIMES = 5.0
_FAR = 1e6


@dataclass(frozen=True)
class Way:
    """One side of a cause as the readings see it: from the sound instrument on, in standard deviations."""

    sizes: Reals
    """Away from zero."""
    places: Reals
    """By size and reading, made independent."""
    lengths: Reals

    @cached_property
    def limit(self) -> float | None:
        """The detection limit; None where even the largest size stays below it."""
        beyond = np.flatnonzero(self.lengths >= TOLD_APART)
        return float(np.interp(TOLD_APART, *self._up_to(int(beyond[0])))) if len(beyond) else None

    def _up_to(self, at: int) -> tuple[Reals, Reals]:
        kept = slice(max(at - 1, 0), at + 1)
        return self.lengths[kept], self.sizes[kept]

    @cached_property
    def reach(self) -> float:
        """How long the way becomes, at most that of five times the limit."""
        return min(float(self.lengths.max(initial=0.0)), TIMES * TOLD_APART)

    def at(self, length: float) -> Reals:
        """The first place that is so far away."""
        at = int(np.argmax(self.lengths >= length * (1.0 - 1e-9)))
        if at == 0:
            return np.asarray(self.places[0])
        step = self.lengths[at] - self.lengths[at - 1]
        share = min((length - self.lengths[at - 1]) / step, 1.0)
        return np.asarray(self.places[at - 1] + share * (self.places[at] - self.places[at - 1]))

    def size_at(self, length: float) -> float:
        """The first size that lies so far away."""
        at = int(np.argmax(self.lengths >= length * (1.0 - 1e-9)))
        return float(np.interp(length, *self._up_to(at))) if at else float(self.sizes[0])

    def nearest(self, point: Reals) -> float:
        """How near some size comes to a point."""
        start, along, square = self._pieces
        if not len(start):
            return _FAR
        share = np.minimum(np.maximum(((point - start) * along).sum(axis=1) / square, 0.0), 1.0)
        apart = start + share[:, None] * along - point
        return float(np.sqrt((apart * apart).sum(axis=1).min()))

    @cached_property
    def _pieces(self) -> tuple[Reals, Reals, Reals]:
        """Where each straight piece of the way starts, where it goes, and the square of its length."""
        along = self.places[1:] - self.places[:-1]
        return self.places[:-1], along, np.maximum((along**2).sum(axis=1), 1e-300)


@dataclass(frozen=True)
class Pattern:
    """A cause as the readings see it, on both sides of zero."""

    below: Way
    above: Way

    @cached_property
    def seen(self) -> tuple[Way, ...]:
        """The sides that can be told from the sound instrument."""
        return tuple(way for way in (self.below, self.above) if way.limit is not None)

    def limits(self) -> tuple[float | None, float | None]:
        """The detection limit below and above zero."""
        return self.below.limit, self.above.limit


def pattern(nodes: Reals, predicted: Predicted, sound: Predicted) -> Pattern:
    """The way of a cause from the sound instrument, by the scatter of the sound one."""
    lower = np.linalg.cholesky(sound.covariance[0])
    moved = predicted.mean - sound.mean[0]
    kept = np.asarray(np.isfinite(moved).all(axis=1))
    white = np.linalg.solve(lower, moved[kept].T).T
    ways = []
    for side in (-1.0, 1.0):
        own = nodes[kept] * side >= 0.0
        order = np.argsort(np.abs(nodes[kept][own]))
        places = white[own][order]
        ways.append(Way(nodes[kept][own][order], places, np.linalg.norm(places, axis=1)))
    return Pattern(*ways)


def groups(patterns: Mapping[str, Pattern]) -> tuple[tuple[tuple[str, ...], ...], tuple[str, ...]]:
    """Causes that look alike, every one of a group like every other; and those that the readings cannot see."""
    seen = [key for key, each in patterns.items() if each.seen]
    unseen = tuple(key for key in patterns if key not in seen)
    if len(seen) < 2:
        return tuple((key,) for key in seen), unseen
    distance = np.zeros((len(seen), len(seen)))
    for i, one in enumerate(seen):
        for j, other in enumerate(seen[:i]):
            distance[i, j] = distance[j, i] = _between(patterns[one], patterns[other])
    labels = fcluster(linkage(squareform(distance), method="complete"), TOLD_APART, criterion="distance")
    return tuple(_labelled(seen, labels.tolist())), unseen


def _labelled(keys: Sequence[str], labels: Sequence[int]) -> list[tuple[str, ...]]:
    return [tuple(k for k, own in zip(keys, labels, strict=True) if own == label) for label in dict.fromkeys(labels)]


def _between(one: Pattern, other: Pattern) -> float:
    """How far apart they are at five times the limit, by the sides on which they come nearest.

    Where one of the two cannot grow so large, it is that of the largest way which both have, in proportion.
    """
    found = _FAR
    for own in one.seen:
        for its in other.seen:
            length = min(own.reach, its.reach)
            apart = max(its.nearest(own.at(length)), own.nearest(its.at(length)))
            found = min(found, apart * TIMES * TOLD_APART / length)
    return found
