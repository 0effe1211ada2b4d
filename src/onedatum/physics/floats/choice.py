"""The search for a float: which dimensions keep the error that is asked, over all states, through this nozzle.

Every candidate of a grid is worked at once: its mass by its walls, where it rides in each liquid, what density,
friction and the pressure make of it. What serves is put in the order of size; where nothing does, the limit that
refuses most is named.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from onedatum.foundation.numerics import Real, Reals
from onedatum.physics.floats.bodies import Making, borne_difference_Pa, grid_m, mass_kg, rides, volume_m3
from onedatum.physics.floats.cylinder import density_ratio, mean_density_kg_per_m3
from onedatum.physics.floats.response import (
    displaced_volume_m3,
    immersion_per_density_m4_per_kg,
    moved_by_force_m,
    stiffness_N_per_m,
)

FLOATING, ERROR, PRESSURE = "it floats with reserve", "it keeps the error", "its walls bear the pressure"
LIMITS = (FLOATING, ERROR, PRESSURE)


@dataclass(frozen=True)
class Wanted:
    """What the float rides in: the liquids of all states, how well each density is known, friction.

    Of an interface float the upper liquids stand in the place of the gases.
    """

    liquid_densities_kg_per_m3: Reals
    gas_densities_kg_per_m3: Reals
    density_half_widths_kg_per_m3: Reals
    friction_N: float
    gravity_m_per_s2: float
    spread_left: float
    """Share of the difference between the states that stays in the reading: 0 where it is corrected, 1 where not."""


@dataclass(frozen=True)
class Limits:
    """What a float has to keep in every state."""

    largest_ratio: float
    """Largest share of the float that the liquid may have to carry."""
    allowed_error_m: float
    pressure_difference_Pa: float


@dataclass(frozen=True)
class Candidate:
    """One float: its dimensions, its mass, the worst of every state, and the limits it misses."""

    diameter_m: float
    height_m: float
    mass_kg: float
    ratio: float
    error_m: float
    """Infinite where it does not float in some state."""
    allowed_difference_Pa: float
    binding: str
    """The limit it comes nearest to, or misses by most."""
    misses: tuple[str, ...]


@dataclass(frozen=True)
class Chosen:
    """What the search found, smallest first."""

    serving: tuple[Candidate, ...]
    nearest: Candidate | None
    """The candidate whose worst limit is kept best, or missed least; none where none has room for bore and walls."""
    refused: Mapping[str, int]
    """How many candidates each limit refuses."""
    tried: int

    @property
    def best(self) -> Candidate | None:
        """The smallest that serves."""
        return self.serving[0] if self.serving else None

    @property
    def most_refusing(self) -> str:
        """The limit that refuses most of what was tried; "" where none does."""
        name = max(self.refused, key=lambda limit: self.refused[limit])
        return name if self.refused[name] else ""


def best_floats(making: Making, wanted: Wanted, limits: Limits, diameters_m: Real, heights_m: Real) -> Chosen:
    """The floats of a grid that meet every limit in every state, smallest diameter first, then lowest.

    Formula
    -------
    every candidate: mass = walls + magnet; error = |dx/drho|*half width + F/k in the worst state + spread of the
    immersion over the states; ratio, error and pressure against their limits

    Parameters
    ----------
    making : Making
        form, walls, bore, magnet, material
    wanted : Wanted
        liquids of all states, friction
    limits : Limits
        reserve, error, pressure
    diameters_m : array of float
        outside diameters to be tried [m]
    heights_m : array of float
        heights to be tried; a ball has its own, and is tried once for each diameter [m]

    Returns
    -------
    Chosen
        candidates that serve, the nearest, and how many each limit refuses

    Validity
    --------
    thin walls of one thickness, flat ends of another; error to the first order in density and friction; a float that
    sinks, or that the gas lifts, in any state misses its reserve and its error; a ring buckles as a long tube

    Source
    ------
    archimedes, and the rules for walls of this room [derived and checked; the factors are common practice]

    Example
    -------
    >>> making = Making("sphere with a bore", 5e-4, 0.0, 0.013, 0.01, 7900.0, 193e9, 0.3, 170e6, 0.14, 1.0, 3.0, 1.5)
    >>> wanted = Wanted(np.array([1000.0]), np.array([1.2]), np.array([5.0]), 0.001, 9.80665, 1.0)
    >>> found = best_floats(making, wanted, Limits(0.85, 0.001, 1e5), np.arange(0.040, 0.080, 0.001), 0.05)
    >>> round(found.best.diameter_m, 3)
    0.049
    """
    diameter_m, height_m = grid_m(making, diameters_m, heights_m)
    made = Candidates(making, diameter_m, height_m, mass_kg(making, diameter_m, height_m))
    ratio, error, borne = made.ratio(wanted), made.error_m(wanted), borne_difference_Pa(making, diameter_m, height_m)
    held = {
        FLOATING: (ratio <= limits.largest_ratio) & np.isfinite(error),
        ERROR: error <= limits.allowed_error_m,
        PRESSURE: borne >= limits.pressure_difference_Pa,
    }
    used = np.stack(
        [ratio / limits.largest_ratio, error / limits.allowed_error_m, limits.pressure_difference_Pa / borne]
    )
    figures = (diameter_m, height_m, made.mass_kg, ratio, error, borne)
    binding = [LIMITS[worst] for worst in used.argmax(axis=0)]
    all_made = [_candidate(i, figures, binding[i], held) for i in range(len(diameter_m))]
    nearest = np.lexsort((diameter_m, ratio, used.max(axis=0)))
    return Chosen(
        serving=tuple(each for each in all_made if not each.misses),
        nearest=all_made[nearest[0]] if all_made else None,
        refused={limit: int((~held[limit]).sum()) for limit in LIMITS},
        tried=len(all_made),
    )


def _candidate(index: int, figures: tuple[Reals, ...], binding: str, held: Mapping[str, Any]) -> Candidate:
    diameter_m, height_m, mass, ratio, error_m, borne = (float(column[index]) for column in figures)
    misses = tuple(limit for limit in LIMITS if not held[limit][index])
    return Candidate(diameter_m, height_m, mass, ratio, error_m, borne, binding, misses)


@dataclass(frozen=True)
class Candidates:
    """The candidates of a grid, each an element of its arrays."""

    making: Making
    diameter_m: Reals
    height_m: Reals
    mass_kg: Reals

    @property
    def volume_m3(self) -> Reals:
        """Volume that each displaces when it is covered."""
        return volume_m3(self.making.form, self.diameter_m, self.making.bore_m, self.height_m)

    def ratio(self, wanted: Wanted) -> Reals:
        """The worst share of the float that a liquid has to carry."""
        density = mean_density_kg_per_m3(self.mass_kg, self.volume_m3)
        with np.errstate(all="ignore"):
            return np.asarray(np.max(density_ratio(density, *_states(wanted)), axis=0))

    def error_m(self, wanted: Wanted) -> Reals:
        """Worst error: half width of density and half the band of friction in a state, spread between the states."""
        liquid, gas = _states(wanted)
        with np.errstate(all="ignore"):
            immersion, area = rides(self.making, self.mass_kg, self.diameter_m, self.height_m, liquid, gas)
            displaced = displaced_volume_m3(self.mass_kg, self.volume_m3, liquid, gas)
            slope = np.abs(immersion_per_density_m4_per_kg(displaced, liquid, gas, area))
            by_friction = moved_by_force_m(
                wanted.friction_N, stiffness_N_per_m(liquid, gas, area, wanted.gravity_m_per_s2)
            )
            by_density = slope * np.asarray(wanted.density_half_widths_kg_per_m3, dtype=np.float64)[:, None]
            spread = np.max(immersion, axis=0) - np.min(immersion, axis=0)
            worst = np.max(by_density + by_friction, axis=0) + wanted.spread_left * spread
            floats = np.all((immersion > 0) & (immersion < self.height_m), axis=0)
        return np.where(floats & np.isfinite(worst), worst, np.inf)


def _states(wanted: Wanted) -> tuple[Reals, Reals]:
    """Densities of liquid and gas, the states along the first axis."""
    pair = wanted.liquid_densities_kg_per_m3, wanted.gas_densities_kg_per_m3
    liquid, gas = (np.asarray(part, dtype=np.float64)[:, None] for part in pair)
    return liquid, gas
