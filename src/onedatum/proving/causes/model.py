"""What the readings at hand would be under each cause: their mean at every size, and how they scatter together.

The scatter is that of the meters, of the dips (by the slope of the signal), of the temperatures, of what a sound
instrument may be off by, and of the constants of the model, each by the change that it makes at that size: all of it
taken as normal and straight about the readings.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from onedatum.foundation.numerics import Reals
from onedatum.physics.loop import current_of_voltage_A, level_at_current_m, usual_bands
from onedatum.simulate import CHANNELS, Instrument, Readings, Signal, Spread, State

_STEP_M, _STEP_K, _SMALL = 1e-3, 0.2, 0.05
"""Steps of level and temperature; of a constant, as a share of its standard uncertainty."""
_TIMES = 5.0
"""Standard uncertainties by which a dip may lie outside the vessel."""
_ROUNDING = 1e-10
"""Of a variance: what keeps the scatter from being singular where meters are stated without error."""
_LEVEL, _WARMTH, _OFFSET, _SLOPE = 1, 2, 3, 4
"""Which of the variants moves what; 0 moves nothing, the constants follow."""


@dataclass(frozen=True)
class Predicted:
    """Readings under a cause at each of its sizes."""

    mean: Reals
    """By size and reading."""
    covariance: Reals
    """By size, reading and reading."""


class Model:
    """The readings at hand and their prediction."""

    def __init__(
        self,
        instrument: Instrument,
        readings: Readings,
        spread: Spread,
        unread_temperature_K: float,
        drawn: Mapping[str, float] | None = None,
    ) -> None:
        """`drawn` are constants held as known, by factors on those of the case: they scatter no more."""
        self.instrument, self.spread = instrument, spread
        self.drawn = dict(drawn or {})
        columns = np.array([readings.of(channel) for channel in CHANNELS])
        kept = np.isfinite(columns).any(axis=0)
        self._numbers = np.flatnonzero(kept)
        self.readings = readings.rows(self._numbers.tolist())
        self._columns = columns[:, kept]
        self._level_m, self._level_u_m = self._levels()
        read_K = self.readings.temperature_K
        self._warm_K = np.where(np.isnan(read_K), instrument.temperature_K, read_K)
        self._warm_read = ~np.isnan(read_K)
        self._unread_K = unread_temperature_K
        self.state = State(
            self._level_m,
            self._warm_K,
            np.where(np.isnan(self.readings.is_rising), 1.0, self.readings.is_rising),
            np.full(len(self._level_m), self._level_m.max(initial=-1e3)),
        )
        sound = self._signal({}, 1)
        told = np.array([np.isfinite(getattr(sound, channel)[0]).all(axis=0) for channel in CHANNELS])
        self._present = np.isfinite(self._columns) & told & self._inside()
        self.values = self._columns[self._present]
        self.uncertainty = np.repeat([spread.of(c) for c in CHANNELS], self._present.sum(axis=1))

    @property
    def rows(self) -> int:
        """Rows that tell something: a reading beside a dip, or two readings beside one another."""
        beside = self._present.sum(axis=0) + np.isfinite(self.readings.dip_m)
        return int((beside >= 2).sum())

    @property
    def left_out(self) -> tuple[int, ...]:
        """Rows, counted from 1, of which no reading can be predicted: the case does not hold there."""
        return tuple(int(number) + 1 for number in self._numbers[~self._present.any(axis=0)])

    @property
    def in_failure(self) -> tuple[int, ...]:
        """Rows, counted from 1, whose current is failure information and no level."""
        low_A, *_, high_A = usual_bands().currents_A
        read_A = [self.readings.current_A]
        if self.instrument.loop.test_ohm:
            read_A.append(np.asarray(current_of_voltage_A(self.readings.voltage_V, self.instrument.loop.test_ohm)))
        beyond = np.any([(each <= low_A) | (each >= high_A) for each in read_A], axis=0)
        return tuple(int(number) + 1 for number in self._numbers[beyond])

    @property
    def level_u_m(self) -> Reals:
        """How well the level of every row is known."""
        return self._level_u_m

    def _levels(self) -> tuple[Reals, Reals]:
        """The level of every row and how well it is known: by the dip, else anywhere about what is shown."""
        instrument, dips = self.instrument, self.readings.dip_m
        span_m = abs(instrument.upper_m - instrument.lower_m)
        level_m, low_m, high_m = dips.copy(), instrument.lower_m, instrument.upper_m
        by_current = np.asarray(level_at_current_m(self.readings.current_A, low_m, high_m))
        guesses = [self.readings.shown_m, by_current]
        if instrument.loop.test_ohm:
            current_A = current_of_voltage_A(self.readings.voltage_V, instrument.loop.test_ohm)
            guesses.append(np.asarray(level_at_current_m(current_A, low_m, high_m)))
        guesses.append(np.full_like(dips, 0.5 * (low_m + high_m)))
        for guess in guesses:
            level_m = np.where(np.isnan(level_m), guess, level_m)
        return level_m, np.where(np.isnan(dips), 0.5 * span_m, self.spread.dip_m)

    def _inside(self) -> NDArray[np.bool_]:
        """Whether each level lies inside the vessel, where one is known, by as much as a dip may be off."""
        body = self.instrument.body
        if body is None:
            return np.ones(len(self._level_m), dtype=bool)
        off_m = _TIMES * self._level_u_m
        return (self._level_m >= float(body.low_m) - off_m) & (self._level_m <= float(body.high_m) + off_m)

    # ------------------------------------------------------------ prediction

    def predicted(self, key: str, sizes: Reals, state: State | None = None) -> Predicted:
        """Under a cause at each size; an empty key is the sound instrument."""
        signal = self._signal({key: sizes[:, None, None]} if key else {}, len(sizes), state)
        every = np.array([getattr(signal, channel) for channel in CHANNELS])
        every = np.moveaxis(every, 0, 2)[:, :, self._present]
        base, moved = every[:, 0], every - every[:, :1]
        which = np.nonzero(self._present)[1]
        own = which == np.arange(self._present.shape[1])[:, None]
        read = self._warm_read[:, None]
        parts = [
            moved[:, None, _LEVEL] * (own * (self._level_u_m[:, None] / _STEP_M)),
            moved[:, None, _WARMTH] * (own * read * (self.spread.temperature_K / _STEP_K)),
            moved[:, None, _WARMTH] * (~self._warm_read[which] * (self._unread_K / _STEP_K)),
            moved[:, _OFFSET : _SLOPE + 1],
            moved[:, _SLOPE + 1 :] / _SMALL,
        ]
        causes = np.concatenate(parts, axis=1)
        kept = np.where(np.isfinite(causes), causes, 0.0)
        covariance = np.swapaxes(kept, 1, 2) @ kept + np.diag(self.uncertainty**2)
        number = np.arange(covariance.shape[1])
        covariance[:, number, number] *= 1.0 + _ROUNDING
        return Predicted(base, covariance)

    def _signal(self, sizes: dict[str, Reals], count: int, state: State | None = None) -> Signal:
        """Every reading by size, variant and row."""
        names = [name for name in self.instrument.constants if name not in self.drawn]
        variants = _SLOPE + 1 + len(names)
        state = state or self.state
        level_m = np.tile(state.level_m, (variants, 1))[None]
        warm_K = np.tile(state.temperature_K, (variants, 1))[None]
        level_m[:, _LEVEL] += _STEP_M
        warm_K[:, _WARMTH] += _STEP_K
        faults = dict(sizes)
        for key, variant, step in (("datum", _OFFSET, self.spread.offset_m), ("gain", _SLOPE, self.spread.slope)):
            added = np.zeros((1, variants, 1))
            added[:, variant] = step
            faults[key] = faults.get(key, np.zeros((count, 1, 1))) + added
        constants = {name: np.full((1, 1, 1), factor) for name, factor in self.drawn.items()}
        for number, name in enumerate(names):
            factor = np.ones((1, variants, 1))
            factor[:, _SLOPE + 1 + number] += _SMALL * self.spread.of_constant(name)
            constants[name] = factor
        moved = State(level_m, warm_K, state.is_rising, np.maximum(state.highest_m, level_m))
        signal = self.instrument.signal(moved, faults, constants)
        shape = (count, variants, len(state.level_m))
        return Signal(*(np.broadcast_to(getattr(signal, name), shape) for name in Signal.__dataclass_fields__))

    def mean(self, key: str, size: float) -> Reals:
        """The readings of a cause at one size."""
        constants = {name: np.full(1, factor) for name, factor in self.drawn.items()}
        signal = self.instrument.signal(self.state, {key: np.full(1, size)}, constants)
        shape = self._present.shape[1]
        read = np.array([np.broadcast_to(getattr(signal, channel), shape) for channel in CHANNELS])
        return np.asarray(read[self._present])

    def further(self, key: str, sizes: Reals, state: State, channel: str, level_u_m: Reals) -> tuple[Reals, Reals]:
        """One channel of another state, by size and row; and how each uncertainty moves it at the first size."""
        signal = self._signal({key: sizes[:, None, None]} if key else {}, len(sizes), state)
        read: Reals = getattr(signal, channel)
        moved = read[0] - read[0, :1]
        moved[_LEVEL] *= level_u_m / _STEP_M
        moved[_WARMTH] *= self.spread.temperature_K / _STEP_K
        moved[_SLOPE + 1 :] /= _SMALL
        return read[:, 0], moved

    def by_channel(self, mean: Reals) -> dict[str, Reals]:
        """Readings put back into their columns; NaN where there is none."""
        found = np.full(self._present.shape, np.nan)
        found[self._present] = mean
        return dict(zip(CHANNELS, found, strict=True))
