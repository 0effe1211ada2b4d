"""How long millions of look-ups in a tank table take, against numpy's interpolation and against sorted queries."""

from __future__ import annotations

import numpy as np

from bench.race import Race
from onedatum.foundation.numerics import Reals
from onedatum.physics.vessels import TankTable

EVEN_QUERIES = 2_000_000
UNEVEN_QUERIES = 5_000_000
SEED = 20260301
ROUNDS = 5
"""A race against numpy takes half a second a round."""
QUICK_ROUNDS = 61
"""A race against ourselves takes 20 ms a round, and its goal is narrow."""


def table_at(levels_m: Reals) -> TankTable:
    """A table whose section changes gently."""
    return TankTable(levels_m, 3.0 * levels_m + 0.1 * np.sin(levels_m))


def even_table() -> TankTable:
    """A table of 20 m in steps of 1 mm."""
    return table_at(np.arange(20_001, dtype=np.float64) * 1e-3)


def uneven_table() -> TankTable:
    """The same height: steps of 1 mm below and above, of 10 mm between, and 200 rows anywhere among those."""
    fine_m = np.arange(2000, dtype=np.float64) * 1e-3
    among_m = np.random.default_rng(SEED).uniform(2.0, 18.0, 200)
    return table_at(np.unique(np.concatenate([fine_m, np.linspace(2.0, 18.0, 1601), among_m, 20.0 - fine_m])))


def races() -> list[Race]:
    """Random order must cost next to nothing: measured levels come as they come."""
    even, uneven = even_table(), uneven_table()
    random = np.random.default_rng(SEED)
    level_m, more_m = (random.uniform(0.0, 20.0, count) for count in (EVEN_QUERIES, UNEVEN_QUERIES))
    in_order_m = np.sort(level_m)
    for table in (even, uneven):
        table.volume_m3(level_m[:10])
    return [
        Race(
            "look up, even rows, random order",
            lambda: even.volume_m3(level_m),
            "np.interp",
            lambda: np.interp(level_m, even.levels_m, even.volumes_m3),
            goal=1 / 20,
            rounds=ROUNDS,
        ),
        Race(
            "look up, even rows, random order",
            lambda: even.volume_m3(level_m),
            "the same sorted",
            lambda: even.volume_m3(in_order_m),
            goal=1.1,
            rounds=QUICK_ROUNDS,
        ),
        Race(
            "look up, uneven rows, random order",
            lambda: uneven.volume_m3(more_m),
            "np.interp",
            lambda: np.interp(more_m, uneven.levels_m, uneven.volumes_m3),
            goal=1 / 6,
            rounds=ROUNDS,
        ),
    ]
