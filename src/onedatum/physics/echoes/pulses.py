"""The pulse as the pick-up hears it.

Two forms are used: the Ricker pulse, one lobe between two flanks, even about its middle; the doublet, one swing up and
one down. Time counts from the middle of the pulse; sigma is the standard width of the Gaussian they come from. The
energy is the integral of the square of the pulse, the energy of its slope that of the square of the slope.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, sqrt
from typing import Protocol

import numpy as np

from onedatum.foundation.numerics import Reals


class Pulse(Protocol):
    """What a form of pulse offers."""

    @property
    def width_s(self) -> float:
        """Standard width."""
        ...

    @property
    def energy_s(self) -> float:
        """Integral of the square."""
        ...

    @property
    def slope_energy_per_s(self) -> float:
        """Integral of the square of the slope."""
        ...

    @property
    def zero_s(self) -> float:
        """Time of the zero behind the highest lobe."""
        ...

    def values(self, time_s: Reals) -> Reals:
        """Height over time."""
        ...

    def slopes(self, time_s: Reals) -> Reals:
        """Change of height per second."""
        ...


@dataclass(frozen=True)
class Ricker:
    """One lobe of height 1 with two flanks: (1 - u^2) exp(-u^2/2), u = t/sigma."""

    width_s: float

    @property
    def energy_s(self) -> float:
        """Integral of the square: 3 sqrt(pi) sigma/4."""
        return 0.75 * sqrt(pi) * self.width_s

    @property
    def slope_energy_per_s(self) -> float:
        """Integral of the square of the slope: 15 sqrt(pi)/(8 sigma)."""
        return 1.875 * sqrt(pi) / self.width_s

    @property
    def zero_s(self) -> float:
        """Time of the zero behind the lobe: sigma."""
        return self.width_s

    def values(self, time_s: Reals) -> Reals:
        """Height over time."""
        share = (time_s / self.width_s) ** 2
        return np.asarray((1 - share) * np.exp(-share / 2))

    def slopes(self, time_s: Reals) -> Reals:
        """Change of height per second."""
        share = time_s / self.width_s
        return np.asarray((share**3 - 3 * share) * np.exp(-(share**2) / 2) / self.width_s)


@dataclass(frozen=True)
class Doublet:
    """One swing up and one down: -u exp(-u^2/2), u = t/sigma; either is exp(-1/2) high."""

    width_s: float

    @property
    def energy_s(self) -> float:
        """Integral of the square: sqrt(pi) sigma/2."""
        return 0.5 * sqrt(pi) * self.width_s

    @property
    def slope_energy_per_s(self) -> float:
        """Integral of the square of the slope: 3 sqrt(pi)/(4 sigma)."""
        return 0.75 * sqrt(pi) / self.width_s

    @property
    def zero_s(self) -> float:
        """Time of the zero behind the upward swing: the middle."""
        return 0.0

    def values(self, time_s: Reals) -> Reals:
        """Height over time."""
        share = time_s / self.width_s
        return np.asarray(-share * np.exp(-(share**2) / 2))

    def slopes(self, time_s: Reals) -> Reals:
        """Change of height per second."""
        share = time_s / self.width_s
        return np.asarray((share**2 - 1) * np.exp(-(share**2) / 2) / self.width_s)
