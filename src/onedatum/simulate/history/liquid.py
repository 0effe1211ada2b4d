"""The liquid and its vessel by temperature: density and growth of the shell, from the sheet of the study."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from onedatum.foundation.errors import QuantityError
from onedatum.foundation.numerics import Reals
from onedatum.foundation.working import beneath
from onedatum.foundation.working.replay import Workings
from onedatum.physics.vessels import Body, box
from onedatum.study.result import Study

POINTS, TEMPERATURES = 8001, 241
AROUND_K = 60.0
SHELL = "vessel.shell_factor"


@dataclass(frozen=True)
class Vessel:
    """A level for every mass and temperature, and the other way round, by tables fine enough to count as exact."""

    stands_in: bool
    """Whether the case has none."""
    levels_m: Reals
    volumes_m3: Reals
    """By the tank table."""
    temperatures_K: Reals
    densities_kg_per_m3: Reals
    shell_factors: Reals

    def density_kg_per_m3(self, temperature_K: Reals | float) -> Reals:
        """Of the liquid of the case."""
        return np.asarray(np.interp(temperature_K, self.temperatures_K, self.densities_kg_per_m3))

    def shell_factor(self, temperature_K: Reals | float) -> Reals:
        """What the vessel holds at a temperature over what its table says."""
        return np.asarray(np.interp(temperature_K, self.temperatures_K, self.shell_factors))

    def level_m(self, mass_kg: Reals | float, temperature_K: Reals | float) -> Reals:
        """Where a mass stands."""
        volume_m3 = mass_kg / self.density_kg_per_m3(temperature_K) / self.shell_factor(temperature_K)
        return np.asarray(np.interp(volume_m3, self.volumes_m3, self.levels_m))

    def mass_kg(self, level_m: Reals | float, temperature_K: Reals | float) -> Reals:
        """What stands up to a level."""
        volume_m3 = np.interp(level_m, self.levels_m, self.volumes_m3)
        return np.asarray(volume_m3 * self.shell_factor(temperature_K) * self.density_kg_per_m3(temperature_K))


def vessel_of(study: Study, low_m: float, high_m: float, section_m2: float | None) -> Vessel:
    """The vessel of a study; one of even section from the lowest to the highest level where the case has none."""
    body = study.vessel.body.whole if study.vessel is not None else None
    stands_in = not isinstance(body, Body)
    if not isinstance(body, Body):
        if section_m2 is None:
            raise QuantityError("a section of the vessel", "none", "the case has no vessel that could fill and empty")
        body = box(section_m2, 1.0, high_m - low_m)
    elif section_m2 is not None:
        raise QuantityError("no section of the vessel", f"{section_m2:g} m2", "the case has its own vessel")
    levels_m = np.linspace(float(body.low_m), float(body.high_m), POINTS)
    volumes_m3 = np.asarray(body.volume_below_m3(levels_m), dtype=float)
    middle_K = study.now.temperature.value or 293.15
    warm_K = np.linspace(middle_K - AROUND_K, middle_K + AROUND_K, TEMPERATURES)
    density = _by_temperature(study, study.now.density.name, warm_K)
    shell = _by_temperature(study, SHELL, warm_K)
    return Vessel(stands_in, levels_m + (low_m if stands_in else 0.0), volumes_m3, warm_K, density, shell)


def _by_temperature(study: Study, name: str, warm_K: Reals) -> Reals:
    """An entry over the temperature of the liquid; where it does not hold, as at the nearest where it does."""
    sheet, temperature = study.sheet, study.now.temperature.name
    if name not in sheet or not sheet[name].known:
        return np.ones_like(warm_K)
    if temperature not in {entry.name for entry in beneath([sheet[name]])}:
        return np.full_like(warm_K, sheet[name].value)
    worked = Workings(sheet, (name,)).worked({temperature: warm_K})[name]
    values = np.broadcast_to(np.asarray(worked, dtype=float), warm_K.shape)
    holds = np.isfinite(values)
    return np.asarray(np.interp(warm_K, warm_K[holds], values[holds]))
