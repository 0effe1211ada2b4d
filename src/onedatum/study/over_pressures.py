"""A number of the sheet from start-up to the pressure that something was set at."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.foundation.working import Entry, Sheet, replay

PRESSURES_Pa_abs = (2e5, 5e5, 1e6, 2e6, 4e6, 6e6, 8e6, 1e7, 1.2e7, 1.4e7, 1.6e7)
"""Pressures that a table from start-up goes through, as far as the set pressure."""
ROUNDING_M = 1e-9
NEAR = 0.98
"""A pressure nearer to the set one than this share of it is left out."""


@dataclass(frozen=True)
class PressureRow:
    """One pressure above vacuum, what is shown there above the lower tap, and by how much that is too high."""

    pressure_Pa_abs: float
    shown_m: float
    error_m: float


def pressures_up_to(highest_Pa_abs: float) -> Reals:
    """The pressures of a table that ends at the one set."""
    return np.array([each for each in PRESSURES_Pa_abs if each < NEAR * highest_Pa_abs] + [highest_Pa_abs])


def over_pressures(sheet: Sheet, name: str, pressure: Entry, absolute_Pa_abs: Reals) -> Reals | None:
    """A number of the sheet worked again at other pressures; None where a branch would go another way."""
    given, above = pressure.inputs.get("pressure_Pa_gauge", pressure), pressure.value
    if above is None or given.value is None or not sheet[name].known:
        return None
    again = replay(sheet, [name], {given.name: absolute_Pa_abs - (above - given.value)})
    return None if again.branched_otherwise else again.results[name]


def rows_of(absolute_Pa_abs: Reals, shown_m: Reals, level_m: float) -> tuple[PressureRow, ...]:
    """The rows that could be worked."""
    pairs = zip(absolute_Pa_abs.tolist(), shown_m.tolist(), strict=True)
    return tuple(PressureRow(at, seen, _error(seen - level_m)) for at, seen in pairs if np.isfinite(seen))


def _error(error_m: float) -> float:
    """Nothing where only the last digits differ."""
    return 0.0 if abs(error_m) < ROUNDING_M else error_m
