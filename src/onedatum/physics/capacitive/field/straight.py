"""The straight line that a two-point adjustment lays through a curve, and the table that bends it back."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Reals


def departure_from_straight_line(levels_m: ArrayLike, capacitances_F: ArrayLike, low_m: float, high_m: float) -> Reals:
    """Reading less level at every level, as a fraction of the adjusted span.

    x = (C - C_1)/(C_2 - C_1) - (h - h_1)/(h_2 - h_1), with C_1 and C_2 the capacitances at the adjustment levels h_1
    and h_2, which must be among the levels. Derived: straight line through two points.
    """
    levels, found = _curve(levels_m, capacitances_F)
    low, high = _row(levels, low_m, "low_m"), _row(levels, high_m, "high_m")
    if low == high:
        raise _refusal("high_m", f"another level than low_m ({low_m:g} m)", f"{high_m:g} m", "adjust at two levels")
    span = found[high] - found[low]
    if abs(span) <= 1e-12 * np.max(np.abs(found)):
        remedy = "liquid and gas look alike to the probe: no adjustment can tell the level"
        raise _refusal("capacitances_F", "different at the two adjustment levels", f"{found[low]:g} F twice", remedy)
    return np.asarray((found - found[low]) / span - (levels - levels[low]) / (levels[high] - levels[low]))


@dataclass(frozen=True, eq=False)
class LinearisationTable:
    """Rows to be entered in a transmitter: fractions of the capacitance span and of the level, straight between."""

    capacitance_fractions: Reals
    level_fractions: Reals
    largest_left: float
    """Largest error between the rows, as a fraction of the level span."""


def linearisation_table(
    levels_m: ArrayLike, capacitances_F: ArrayLike, low_m: float, high_m: float, points: int = 11
) -> LinearisationTable:
    """Rows at even steps of level from low to high, straight between the levels of the curve; what they leave."""
    if points < 2:
        raise _refusal("points", "2 or more", f"{points}", "a table has two ends")
    departure = departure_from_straight_line(levels_m, capacitances_F, low_m, high_m)
    levels = np.asarray(levels_m, dtype=np.float64)
    share = (levels - low_m) / (high_m - low_m)
    order = np.argsort(share)
    share, reading = share[order], (share + departure)[order]
    rows = np.linspace(0.0, 1.0, points)
    at_rows = np.interp(rows, share, reading)
    if np.any(np.diff(at_rows) <= 0.0):
        raise _refusal("capacitances_F", "rising with the level", "a fall", "no table can tell two levels apart")
    inside = (share >= 0.0) & (share <= 1.0)
    left = np.interp(reading[inside], at_rows, rows) - share[inside]
    return LinearisationTable(at_rows, rows, float(np.max(np.abs(left))))


def _curve(levels_m: ArrayLike, capacitances_F: ArrayLike) -> tuple[Reals, Reals]:
    levels, found = np.asarray(levels_m, dtype=np.float64), np.asarray(capacitances_F)
    if np.iscomplexobj(found):
        raise _refusal("capacitances_F", "real", "complex numbers", "state what the transmitter sees: C.real or abs(C)")
    if levels.ndim != 1 or levels.shape != found.shape:
        got = f"{levels.size} levels and {found.size} capacitances"
        raise _refusal("capacitances_F", "one to each level", got, "state the levels of the curve")
    return levels, found.astype(np.float64)


def _row(levels_m: Reals, wanted_m: float, name: str) -> int:
    low, high = float(np.min(levels_m)), float(np.max(levels_m))
    if not low <= wanted_m <= high:
        remedy = "adjust at a level of the curve, or work the curve out further"
        raise _refusal(name, f"between {low:g} m and {high:g} m", f"{wanted_m:g} m", remedy)
    row = int(np.argmin(np.abs(levels_m - wanted_m)))
    if abs(levels_m[row] - wanted_m) > 1e-9 * max(abs(low), abs(high)):
        raise _refusal(name, "one of the levels of the curve", f"{wanted_m:g} m", "add it to the levels of the curve")
    return row


def _refusal(parameter: str, allowed: str, got: str, remedy: str) -> ValidityError:
    return ValidityError("capacitive.departure_from_straight_line", parameter, allowed, got, remedy)
