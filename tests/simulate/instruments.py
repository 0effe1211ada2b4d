"""The simulated instruments of the examples, made once."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

import numpy as np

from onedatum.case.reading import read_case
from onedatum.foundation.numerics import Reals
from onedatum.simulate import Instrument, Signal, State, instrument_of
from onedatum.study.result import Study
from onedatum.study.study import study
from tests.house.tree import ROOT

FLOAT, PROBE, CHAMBER, LEGS = "spirit_receiver", "caustic_tank", "steam_drum", "wet_leg_tank"
EVERY = (FLOAT, PROBE, CHAMBER, LEGS)


@cache
def studied(example: str) -> Study:
    """The study of an example."""
    return study(read_case(ROOT / "examples" / f"{example}.yaml"))


@cache
def instrument(example: str) -> Instrument:
    """Its instrument."""
    found = instrument_of(studied(example))
    assert found is not None
    return found


def levels(example: str, *shares: float) -> Reals:
    """Levels by their share of the span."""
    own = instrument(example)
    return own.lower_m + (own.upper_m - own.lower_m) * np.array(shares)


def state(example: str, level_m: Reals, rising: bool = True, highest_m: float | None = None) -> State:
    """Levels at the temperature of the case."""
    warm = np.full(len(level_m), instrument(example).temperature_K)
    top = float(level_m.max()) if highest_m is None else highest_m
    return State(level_m, warm, np.full(len(level_m), float(rising)), np.full(len(level_m), top))


def signal(example: str, level_m: Reals, rising: bool = True, **faults: float) -> Signal:
    """What is read at these levels with faults by name."""
    return signal_with(example, level_m, faults, rising)


def signal_with(example: str, level_m: Reals, faults: Mapping[str, float], rising: bool = True) -> Signal:
    """The same with faults as a table."""
    sizes = {key: np.full(1, size) for key, size in faults.items()}
    return instrument(example).signal(state(example, level_m, rising), sizes)
