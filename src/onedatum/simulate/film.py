"""The film on a coated probe after emptying: how much liquid it seems to be, by the line that it forms."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from onedatum.case.model.probe import YES
from onedatum.foundation.numerics import Reals
from onedatum.physics.capacitive import film_depth_m, film_extra_m, film_left_m, film_resistance_ohm_per_m
from onedatum.study.result import Study

COATING, CONDUCTIVITY = "probe.coating", "medium.conductivity"
NAMES = ("probe.coating_radius", COATING, CONDUCTIVITY, "probe.frequency")
LEAST_m = 1e-9
"""A thinner film is none."""


@dataclass(frozen=True)
class Film:
    """The rod and the liquid on it."""

    radius_m: float
    coating_F_per_m: float
    conductivity_S_per_m: float
    frequency_Hz: float
    takes_off_loss: bool

    def adds_m(self, length_m: Reals, is_rising: Reals, thickness_m: Reals, of: Mapping[str, Reals]) -> Reals:
        """What the film seems to add to a level that has fallen by a length; a level that rises meets none."""
        one = np.ones(1)
        conductivity_S_per_m = self.conductivity_S_per_m * of.get(CONDUCTIVITY, one)
        least_m = np.maximum(thickness_m, LEAST_m)
        resistance_ohm_per_m = film_resistance_ohm_per_m(self.radius_m, least_m, conductivity_S_per_m)
        depth_m = film_depth_m(self.frequency_Hz, resistance_ohm_per_m, self.coating_F_per_m * of.get(COATING, one))
        adds = film_left_m if self.takes_off_loss else film_extra_m
        added_m = adds(np.maximum(length_m, 0.0), depth_m)
        return np.where((is_rising < 0.5) & (thickness_m > LEAST_m), added_m, 0.0)


def film_of(study: Study) -> Film | None:
    """The film of a coated probe in a liquid that conducts; None where none can stand."""
    radius_m, coating, conductivity, frequency_Hz = (study.value(name) for name in NAMES)
    if radius_m is None or coating is None or not conductivity or not frequency_Hz:
        return None
    takes_off = study.statement.case.probe.takes_off_loss.word == YES
    return Film(radius_m, coating, conductivity, frequency_Hz, takes_off)
