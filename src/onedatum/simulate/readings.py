"""Readings of a simulated instrument as somebody would write them down: dips and meters with their noise.

Noise is drawn from the generator that is handed in, so a seed gives the same readings again.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.simulate.instrument import Instrument, State
from onedatum.simulate.line import TEST

CHANNELS = ("current_A", "voltage_V", "supply_V", "shown_m", "volume_m3")
"""What is read of the signal, beside dip and temperature."""


@dataclass(frozen=True)
class Spread:
    """Standard uncertainties of what is read, and what a sound instrument may be off by."""

    dip_m: float
    temperature_K: float
    current_A: float
    voltage_V: float
    supply_V: float
    shown_m: float
    volume_m3: float
    offset_m: float
    """Of a sound instrument, at every level."""
    slope: float
    """Of a sound instrument, as a share of the current above 4 mA."""
    constants: float
    """Of every constant of the model, as a share of it."""
    resistor: float
    """Of the test resistor, as a share of it."""

    def of(self, channel: str) -> float:
        """The standard uncertainty of a channel."""
        return float(getattr(self, channel))

    def of_constant(self, name: str) -> float:
        """The standard uncertainty of a constant, as a share of it."""
        return self.resistor if name == TEST else self.constants


@dataclass(frozen=True)
class Readings:
    """Rows of readings, one array for each column; NaN where nothing was read."""

    dip_m: Reals
    temperature_K: Reals
    is_rising: Reals
    """1 where the level was approached from below, 0 from above, NaN where nobody wrote it down."""
    current_A: Reals
    voltage_V: Reals
    supply_V: Reals
    shown_m: Reals
    volume_m3: Reals

    def of(self, channel: str) -> Reals:
        """One column."""
        column: Reals = getattr(self, channel)
        return column

    def rows(self, which: Sequence[int]) -> Readings:
        """Some of the rows, or all in another order."""
        return Readings(*(getattr(self, name)[np.asarray(which, dtype=int)] for name in self.__dataclass_fields__))


def read(
    instrument: Instrument,
    state: State,
    spread: Spread,
    random: np.random.Generator,
    faults: Mapping[str, float] | None = None,
    constants: Mapping[str, float] | None = None,
    channels: Sequence[str] = CHANNELS,
) -> Readings:
    """Readings of the states in their order, each with its noise; what is no channel asked for was not read."""
    count = state.level_m.shape[0]
    sizes = {key: np.full(1, size) for key, size in (faults or {}).items()}
    sizes["datum"] = sizes.get("datum", np.zeros(1)) + spread.offset_m * random.standard_normal(1)
    sizes["gain"] = sizes.get("gain", np.zeros(1)) + spread.slope * random.standard_normal(1)
    of = {name: np.full(1, factor) for name, factor in (constants or {}).items()}
    signal = instrument.signal(state, sizes, of)
    columns = {}
    for channel in CHANNELS:
        noise = spread.of(channel) * random.standard_normal(count)
        columns[channel] = getattr(signal, channel) + noise if channel in channels else np.full(count, np.nan)
    dip_m = state.level_m + spread.dip_m * random.standard_normal(count)
    temperature_K = state.temperature_K + spread.temperature_K * random.standard_normal(count)
    return Readings(dip_m, temperature_K, np.array(state.is_rising), **columns)
