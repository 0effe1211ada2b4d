"""A liquid calibration as a whole: metered batches one after the other, and the table they make."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from onedatum.foundation.numerics import Real, Reals
from onedatum.foundation.working import Whole, formula
from onedatum.physics.vessels.measured import Rows, least_step
from onedatum.physics.vessels.meter_points import batch_volume_m3
from onedatum.physics.vessels.words import said


@dataclass(frozen=True, eq=False)
class Batches(Whole):
    """Batches in the order in which they were run in, each with the level after it and the temperatures then."""

    called = "batches"
    own_axis: ClassVar[frozenset[str]] = frozenset(
        {"levels_m", "metered_m3", "meter_temperatures_K", "tank_temperatures_K"}
    )

    levels_m: Reals
    metered_m3: Reals
    meter_temperatures_K: Reals
    tank_temperatures_K: Reals

    def told(self, shown: str = "") -> str:
        low, high = said(self.levels_m[0], shown), said(self.levels_m[-1], shown)
        return f"liquid calibration by {len(self.levels_m)} batches from {low} to {high}"


def _climb_m(batches: Batches) -> Real:
    """The least step in level from batch to batch."""
    return least_step(batches.levels_m)


@formula(
    method="every batch up to a point brought from its temperature in the meter to that of the tank at it, their "
    "sum divided by the section factor of the shell, which has the temperature of the liquid",
    gives=("T", "rows of the table by liquid calibration", Rows),
    where={
        "batches": ("b", "metered batches", Batches),
        "meter_factor": ("M", "meter factor: volume passed over volume shown", "[0.9, 1.1]"),
        "liquid_expansion_per_K": ("beta", "cubic expansion of the liquid", "[-0.0001, 0.002]"),
        "shell_expansion_per_K": ("alpha", "linear expansion of the shell", "[0, 0.0005]"),
        "table_temperature_K": ("T_t", "shell temperature the table holds for", "[200, 500]"),
    },
    requires=(("dh(b) > 0", "at least two batches, each ending at a higher level than the one before"),),
    calls={"dh": _climb_m},
    source="derived: mass of the batches conserved; the shell by its section",
)
def metered_rows(
    batches: Batches,
    meter_factor: Real,
    liquid_expansion_per_K: Real,
    shell_expansion_per_K: Real,
    table_temperature_K: Real,
) -> Rows:
    """The table that a liquid calibration makes; the first point may be the level before anything was run in.

    Example
    -------
    >>> levels, metered, warm = np.array([0.0, 0.5]), np.array([0.0, 10.0]), np.array([288.15, 288.15])
    >>> rows = metered_rows(Batches(levels, metered, warm, warm), 1.001, 2e-4, 11.5e-6, 288.15)
    >>> rows.volumes_m3.round(3).tolist()
    [0.0, 10.01]
    """
    factor, liquid, shell, table = (
        np.asarray(number)[..., None, None]
        for number in (meter_factor, liquid_expansion_per_K, shell_expansion_per_K, table_temperature_K)
    )
    tank = batches.tank_temperatures_K[:, None]
    volumes = batch_volume_m3(
        batches.metered_m3, factor, batches.meter_temperatures_K, tank, liquid, tank, table, shell
    )
    return Rows(batches.levels_m, np.sum(np.tril(volumes), axis=-1))
