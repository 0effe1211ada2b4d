"""Records and random numbers for the tests of echoes."""

from __future__ import annotations

from typing import Any

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.physics.echoes import Doublet, Pulse, Ricker, Sampling, Window

UM, NS, SPEED = 1e-6, 1e-9, 2800.0
RICKER, DOUBLET = Ricker(1.5e-6), Doublet(2e-6)
SAMPLING = Sampling(1e7, 1000)
MIDDLE = Window(300, 700)


def chance(number: int) -> np.random.Generator:
    """Random numbers of a test, by its number."""
    return np.random.default_rng(20261126 + number)


def arriving(times_s: Any, pulse: Pulse = RICKER, sampling: Sampling = SAMPLING) -> Reals:
    """A record for each arrival."""
    return pulse.values(sampling.times_s - np.asarray(times_s, dtype=np.float64)[:, None])


def noisy(times_s: Any, noise_V: float, random: np.random.Generator, pulse: Pulse = RICKER) -> Reals:
    """A record with noise for each arrival."""
    records = arriving(times_s, pulse)
    return np.asarray(records + noise_V * random.standard_normal(records.shape))
