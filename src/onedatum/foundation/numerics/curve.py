"""A function of one variable that is smooth between known breaks, kept as a Chebyshev series on each part.

At a break the function may behave like a root of the distance: each part is mapped by x = a + (b - a)*sin(p/2)**2, in
whose angle p such a function is smooth. Towards its two ends the function may vanish like a power of that angle; the
power is divided out, so that small values keep their digits.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from typing import Any

import numpy as np

from onedatum.foundation.numerics.kinds import Reals

TERMS = 32
"""Of a series; a part whose series has not settled by then is halved."""
HALVINGS = 10
SETTLED = 5e-12
"""Of the largest coefficient: the size of the last ones of a series that has settled."""
NOTHING = 1e-14
"""Of the largest value of the whole curve: what no part needs to be followed below."""
BLOCK = 2048
"""Points worked at a time, so that what is worked with stays near the processor."""
_FOLD = 4
"""Terms of each of the short series that a series is worked as."""

Function = Callable[[Reals], Any]


@dataclass(frozen=True)
class Part:
    """One part between two breaks: its series in 2*p/pi - 1, times p**power from its start, or from its end."""

    low: float
    high: float
    series: Reals
    power: int = 0
    from_end: bool = False

    def value(self, x: Reals) -> Reals:
        """The function at x between the breaks."""
        angle = _angle(x, self.low, self.high, self.from_end)
        found = _series_value(2.0 * angle / np.pi - 1.0, self._folded)
        return found * angle**self.power if self.power else found

    @cached_property
    def _folded(self) -> Reals:
        return _folded(self.series)

    def has_settled(self, nothing: float) -> bool:
        """Whether the last coefficients are small beside the largest, or what they stand for is next to nothing."""
        sizes = np.abs(self.series)
        last = float(np.max(sizes[-4:]))
        return last <= SETTLED * float(np.max(sizes)) or last * np.pi**self.power <= nothing

    def halves(self) -> tuple[Part, Part]:
        """The two halves; the one at the end where the function vanishes keeps the power."""
        middle = 0.5 * (self.low + self.high)
        lower, upper = replace(self, high=middle), replace(self, low=middle)
        if self.from_end:
            return replace(lower, power=0, from_end=False), upper
        return lower, replace(upper, power=0)


@dataclass(frozen=True)
class Curve:
    """The parts in rising order; beyond its ends the curve keeps the values there."""

    parts: tuple[Part, ...]

    @classmethod
    def of(cls, function: Function, breaks: Sequence[float], powers: tuple[int, int], least: float = 0.0) -> Curve:
        """Fit a function that vanishes like these powers of the angle at its two ends (0: it does not vanish).

        The function is asked for whole arrays of points at once. Breaks that are nearer than `least` count as one.
        """
        stations = _apart(sorted(breaks), least)
        if len(stations) == 2:
            stations.insert(1, 0.5 * (stations[0] + stations[1]))
        nothing = np.empty(0)
        waiting = [Part(low, high, nothing) for low, high in pairwise(stations)]
        waiting[0] = replace(waiting[0], power=powers[0])
        waiting[-1] = replace(waiting[-1], power=powers[1], from_end=True)
        kept: list[Part] = []
        largest = 0.0
        for halving in range(HALVINGS + 1):
            fitted, values = _fitted(function, waiting)
            largest = max(largest, float(np.max(np.abs(values))))
            settled = [halving == HALVINGS or part.has_settled(NOTHING * largest) for part in fitted]
            kept += [part for part, done in zip(fitted, settled, strict=True) if done]
            waiting = [half for part, done in zip(fitted, settled, strict=True) if not done for half in part.halves()]
            if not waiting:
                break
        return cls(tuple(sorted(kept, key=lambda part: part.low)))

    def mirrored(self, about: float) -> Curve:
        """The curve that has at equal distances on the other side of `about` the same values."""
        parts = (
            replace(part, low=2.0 * about - part.high, high=2.0 * about - part.low, from_end=not part.from_end)
            for part in self.parts
        )
        return Curve(tuple(parts)[::-1])

    def __call__(self, x: Any) -> Any:
        """The function at x, float or array."""
        flat = np.clip(np.ravel(np.asarray(x, dtype=np.float64)), self.parts[0].low, self.parts[-1].high)
        if np.all(flat[1:] >= flat[:-1]):
            values = self._in_turn(flat, np.searchsorted(flat, self._joints))
        else:
            of_part = np.searchsorted(self._joints, flat, side="right").astype(np.int16)
            order = np.argsort(of_part, kind="stable")
            values = np.empty_like(flat)
            joints = np.searchsorted(of_part[order], np.arange(1, len(self.parts)))
            values[order] = self._in_turn(flat[order], joints)
        return values.reshape(np.shape(x))[()]

    @cached_property
    def _joints(self) -> Reals:
        """Where one part ends and the next begins."""
        return np.array([part.low for part in self.parts[1:]])

    def _in_turn(self, x: Reals, joints: Any) -> Reals:
        """The function at points given part after part; `joints` counts the points before each part but the first."""
        values = np.empty_like(x)
        ends = [0, *joints.tolist(), len(x)]
        for part, (first, last) in zip(self.parts, pairwise(ends), strict=True):
            for start in range(first, last, BLOCK):
                block = slice(start, min(start + BLOCK, last))
                values[block] = part.value(x[block])
        return values


def _angle(x: Reals, low: float, high: float, from_end: bool) -> Reals:
    """The angle of x in its part, counted from the start or from the end."""
    gone = (high - x) if from_end else (x - low)
    angle: Reals = 2.0 * np.arcsin(np.sqrt(np.clip(gone / (high - low), 0.0, 1.0)))
    return angle


def _folded(series: Reals) -> Reals:
    """Rows q_j of short series with sum(c_n*T_n) = sum(q_j*T_(j*m)), m being their number of terms.

    T_(j*m + k) = 2*T_(j*m)*T_k - T_(j*m - k), from the last term down to the first.
    """
    rest = np.zeros(-(-len(series) // _FOLD) * _FOLD)
    rest[: len(series)] = series
    rows = rest.reshape(-1, _FOLD).copy()
    for number in range(len(rest) - 1, _FOLD - 1, -1):
        row, term = divmod(number, _FOLD)
        rows[row, term] = rest[number] * (2.0 if term else 1.0)
        if term:
            rest[row * _FOLD - term] -= rest[number]
    rows[0] = rest[:_FOLD]
    return rows


def _series_value(x: Reals, rows: Reals) -> Reals:
    """A folded series at x: the short series all at once, then Clenshaw's recurrence over them."""
    few = np.empty((_FOLD, len(x)))
    few[0], few[1], twice = 1.0, x, 2.0 * x
    for term in range(2, _FOLD):
        few[term] = twice * few[term - 1] - few[term - 2]
    turn = 2.0 * (twice * few[-1] - few[-2])
    short = rows @ few
    newer, older = short[-1], np.zeros_like(x)
    for row in short[-2:0:-1]:
        newer, older = turn * newer - older + row, newer
    value: Reals = 0.5 * turn * newer - older + short[0]
    return value


def _apart(stations: list[float], least: float) -> list[float]:
    """Stations that are at least that far apart; the two ends stay."""
    kept = stations[:1]
    for station in stations[1:-1]:
        if station - kept[-1] > least and stations[-1] - station > least:
            kept.append(station)
    return [*kept, stations[-1]]


_NODE_TURN = np.pi * (np.arange(TERMS) + 0.5) / TERMS
_NODE_ANGLE = 0.5 * np.pi * (np.cos(_NODE_TURN) + 1.0)
_INTO_SERIES = (
    np.where(np.arange(TERMS) > 0, 2.0, 1.0)[:, None] / TERMS * np.cos(np.outer(np.arange(TERMS), _NODE_TURN))
)


def _fitted(function: Function, waiting: Sequence[Part]) -> tuple[list[Part], Reals]:
    """The parts with their series, all points asked for in one call, and the values found."""
    gone = np.sin(0.5 * _NODE_ANGLE) ** 2
    points = [
        part.high - (part.high - part.low) * gone if part.from_end else part.low + (part.high - part.low) * gone
        for part in waiting
    ]
    values = np.asarray(function(np.concatenate(points)), dtype=np.float64).reshape(len(waiting), TERMS)
    rows = zip(waiting, values, strict=True)
    return [replace(part, series=_INTO_SERIES @ (row / _NODE_ANGLE**part.power)) for part, row in rows], values
