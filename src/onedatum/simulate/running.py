"""A tank that runs: what its instrument tells at a moment, as a pure function of a time that is handed in.

No clock is read here and nothing waits. The level follows a `Profile` of straight lines, the instrument is that of
`instrument_of`, faults are put in and taken out at moments. The instrument renews its value in even steps of time; the
noise of a step follows from the seed and the number of the step alone, so the same moment always tells the same.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import accumulate
from math import inf, isfinite

import numpy as np

from onedatum.foundation.errors import QuantityError
from onedatum.physics.loop import Bands, level_at_current_m, signal_state
from onedatum.simulate.instrument import Instrument, State

BEYOND_LOOP = ("milliammeter", "resistor", "receiver", "table")
"""Faults of what stands behind the loop current: a receiver has its own."""
AT_END_A = 1e-6
"""A current this near an end of the measurement information stands on it."""
BROKEN_A = 1e-4
"""Below it the transmitter has no supply."""
KEPT = 8
LONGEST_s = 1e9


@dataclass(frozen=True)
class Leg:
    """A time in which the level goes evenly to another, or rests."""

    duration_s: float
    end_m: float


@dataclass(frozen=True)
class Profile:
    """The level over the time; after the last leg it rests, or goes to the first level at once and begins again."""

    start_m: float
    legs: tuple[Leg, ...] = ()
    repeats: bool = False

    def __post_init__(self) -> None:
        """Refuse what is no time and no level."""
        for each in self.legs:
            if not 0.0 < each.duration_s <= LONGEST_s:
                raise QuantityError(f"a time above 0 s, up to {LONGEST_s:g} s", f"{each.duration_s:g} s")
        if not all(isfinite(level_m) for level_m in self.levels_m):
            raise QuantityError("levels that are numbers", "one that is none")

    @property
    def levels_m(self) -> tuple[float, ...]:
        """The levels between which it goes."""
        return (self.start_m, *(leg.end_m for leg in self.legs))

    @property
    def duration_s(self) -> float:
        """Of all legs."""
        return sum(leg.duration_s for leg in self.legs)

    def _within(self, time_s: float) -> tuple[int, float]:
        """The leg of a time, as many as there are for the rest behind them, and the time since it began."""
        whole_s = self.duration_s
        spent_s = max(time_s, 0.0)
        if self.repeats and whole_s > 0.0:
            spent_s %= whole_s
        ends_s = list(accumulate(leg.duration_s for leg in self.legs))
        at = bisect_right(ends_s, spent_s)
        return at, spent_s - (ends_s[at - 1] if at else 0.0)

    def level_m(self, time_s: float) -> float:
        """The level at a time."""
        at, since_s = self._within(time_s)
        levels_m = self.levels_m
        if at == len(self.legs):
            return levels_m[-1]
        return levels_m[at] + (levels_m[at + 1] - levels_m[at]) * since_s / self.legs[at].duration_s

    def is_rising(self, time_s: float) -> bool:
        """Whether it was last approached from below; at first it was."""
        at, _ = self._within(time_s)
        levels_m = self.levels_m
        for leg in range(min(at, len(self.legs) - 1), -1, -1):
            if levels_m[leg + 1] != levels_m[leg]:
                return levels_m[leg + 1] > levels_m[leg]
        return True

    def highest_m(self, time_s: float) -> float:
        """The highest level since the start."""
        if self.repeats and time_s >= self.duration_s > 0.0:
            return max(self.levels_m)
        at, _ = self._within(time_s)
        return max(*self.levels_m[: at + 1], self.level_m(time_s))


@dataclass(frozen=True)
class Put:
    """A fault of the instrument for a time: its kind, its size in SI, and how long it takes to grow to it.

    A stuck float without a size sticks at the level at which it is when the fault begins.
    """

    key: str
    size: float | None
    at_s: float
    for_s: float = inf
    over_s: float = 0.0

    def size_at(self, time_s: float) -> float:
        """Its size at a time within it."""
        share = min((time_s - self.at_s) / self.over_s, 1.0) if self.over_s > 0.0 else 1.0
        return (self.size or 0.0) * share


@dataclass(frozen=True)
class Held:
    """The loop current stays at a value for a time, whatever the level: failure information, a test, a broken wire."""

    current_A: float
    at_s: float
    for_s: float = inf


@dataclass(frozen=True)
class Moment:
    """What is true and what is told at one step of the instrument."""

    time_s: float
    """Of the step, since the start."""
    level_m: float
    """The true level, without waves."""
    temperature_K: float
    told_m: float | None
    """By the instrument itself; None in failure."""
    current_A: float
    shown_m: float | None
    """By a receiver scaled as the range; None where the current is no measurement information."""
    state: str
    """What the current tells of itself, a word of NE 43."""
    is_held: bool
    is_bound: bool
    """The current stands at an end of the measurement information: the level is there or beyond."""

    @property
    def is_measuring(self) -> bool:
        """Whether the current is measurement information."""
        return self.state == "measuring"

    @property
    def is_broken(self) -> bool:
        """Whether no current flows: a transmitter fed by the loop is without supply."""
        return self.current_A < BROKEN_A


@dataclass
class Running:
    """An instrument on a tank that runs. `faults` may be changed at any time."""

    instrument: Instrument
    profile: Profile
    bands: Bands
    seed: int = 0
    noise_m: float = 0.0
    """Standard deviation of the surface at the instrument, independent from step to step."""
    interval_s: float = 0.5
    """Between two values of the instrument."""
    faults: list[Put | Held] = field(default_factory=list)
    _known: dict[tuple[object, ...], Moment] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Refuse a noise or an interval that is none, and levels that cannot be."""
        if not 0.0 <= self.noise_m < inf:
            raise QuantityError("a noise of 0 mm or more", f"{1000.0 * self.noise_m:g} mm")
        if not 0.0 < self.interval_s < inf:
            raise QuantityError("an interval above 0 s", f"{self.interval_s:g} s")
        low_m, high_m = possible_m(self.instrument)
        for level_m in self.profile.levels_m:
            if not low_m <= level_m <= high_m:
                inside = f"a level from {low_m:.6g} m to {high_m:.6g} m"
                raise QuantityError(inside, f"{level_m:.6g} m", "it lies inside the vessel, or about the range")

    @property
    def kinds(self) -> tuple[str, ...]:
        """The faults that can be put in."""
        return tuple(key for key in self.instrument.kinds if key not in BEYOND_LOOP)

    def at(self, time_s: float) -> Moment:
        """What the instrument tells at a time."""
        step = max(int(time_s / self.interval_s + 1e-9), 0)
        # Faults are told apart by their values, not by their places: the list may be changed under way.
        key = (step, *self.faults)
        if key not in self._known:
            while len(self._known) >= KEPT:
                del self._known[next(iter(self._known))]
            self._known[key] = self._worked(step)
        return self._known[key]

    def _worked(self, step: int) -> Moment:
        time_s = step * self.interval_s
        level_m, warm_K = self.profile.level_m(time_s), self.instrument.temperature_K
        wave_m = self._wave_m(step)
        state = State(
            np.array([level_m + wave_m]),
            np.array([warm_K]),
            np.array([float(self.profile.is_rising(time_s))]),
            np.array([self.profile.highest_m(time_s) + wave_m]),
        )
        signal = self.instrument.signal(state, {key: np.array([size]) for key, size in self._sizes(time_s).items()})
        felt_m, flows_A = float(signal.told_m[0]), float(signal.current_A[0])
        held = next((each for each in self.faults if isinstance(each, Held) and _is_on(each, time_s)), None)
        # A level that cannot be felt at all is told as failure information, low.
        current_A = held.current_A if held else flows_A if isfinite(flows_A) else self.bands.currents_A[0]
        word = signal_state(current_A, self.bands)
        measuring = word == "measuring"
        low_A, high_A = self.instrument.saturation_A
        ends_A = (min(low_A, high_A), max(low_A, high_A))
        return Moment(
            time_s=time_s,
            level_m=level_m,
            temperature_K=warm_K,
            told_m=felt_m if isfinite(felt_m) and (measuring or held is None) else None,
            current_A=current_A,
            shown_m=self._shown_m(current_A) if measuring else None,
            state=word,
            is_held=held is not None,
            is_bound=measuring and not ends_A[0] + AT_END_A < current_A < ends_A[1] - AT_END_A,
        )

    def _wave_m(self, step: int) -> float:
        if not self.noise_m:
            return 0.0
        return self.noise_m * float(np.random.default_rng([self.seed, step]).standard_normal())

    def _sizes(self, time_s: float) -> Mapping[str, float]:
        """The sizes of what is put in at a time; of two of one kind both count, of two stuck floats the later one."""
        sizes: dict[str, float] = {}
        for each in self.faults:
            if not isinstance(each, Put) or not _is_on(each, time_s):
                continue
            if each.key == "stuck":
                sizes["stuck"] = self.profile.level_m(each.at_s) if each.size is None else each.size
            else:
                sizes[each.key] = sizes.get(each.key, 0.0) + each.size_at(time_s)
        return sizes

    def _shown_m(self, current_A: float) -> float:
        return float(level_at_current_m(current_A, self.instrument.lower_m, self.instrument.upper_m))


def _is_on(fault: Put | Held, time_s: float) -> bool:
    return fault.at_s <= time_s < fault.at_s + fault.for_s


def possible_m(instrument: Instrument) -> tuple[float, float]:
    """Between which levels a tank can run: those of the vessel, or the range and a tenth of it at both ends."""
    if instrument.body is not None:
        return float(instrument.body.low_m), float(instrument.body.high_m)
    low_m, high_m = sorted((instrument.lower_m, instrument.upper_m))
    return low_m - 0.1 * (high_m - low_m), high_m + 0.1 * (high_m - low_m)


def steady_cycle(instrument: Instrument, in_s: float, hold_s: float, shares: Sequence[float] = (0.1, 0.9)) -> Profile:
    """Fill, hold, draw, hold, and again: between two shares of the span."""
    span_m = instrument.upper_m - instrument.lower_m
    low_m, high_m = sorted(instrument.lower_m + share * span_m for share in shares)
    return Profile(low_m, (Leg(in_s, high_m), Leg(hold_s, high_m), Leg(in_s, low_m), Leg(hold_s, low_m)), True)
