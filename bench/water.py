"""How long the density of boiling water takes for a hundred thousand temperatures, against a library's vector call."""

from __future__ import annotations

from functools import partial

import numpy as np
from CoolProp.CoolProp import PropsSI

from bench.race import Race
from onedatum.physics.media import saturated_water_density_kg_per_m3

ROWS, FEW = 100_000, 20_000
FASTER = 40.0
WITHIN = 1e-5
SEED = 97


def races() -> list[Race]:
    """Random temperatures from 0.01 degC to 350 degC; both formulations of IAPWS as the library evaluates them."""
    kelvin = np.random.default_rng(SEED).uniform(273.16, 623.15, ROWS)
    few = kelvin[:FEW]
    exact = PropsSI("D", "T", few, "Q", 0, "HEOS::Water")
    off = float(np.max(np.abs(np.asarray(saturated_water_density_kg_per_m3(few)) / exact - 1.0)))
    if off > WITHIN:
        raise ValueError(f"the fit is {off:g} off IAPWS-95, more than {WITHIN:g}")
    return [
        Race(
            f"boiling water, {ROWS} temperatures",
            lambda: saturated_water_density_kg_per_m3(kelvin),
            f"CoolProp {formulation}, {FEW}",
            partial(PropsSI, "D", "T", few, "Q", 0, f"{formulation}::Water"),
            goal=ROWS / FEW / FASTER,
        )
        for formulation in ("IF97", "HEOS")
    ]
