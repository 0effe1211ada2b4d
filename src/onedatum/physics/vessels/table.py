"""The tank table as a function: volume by level, level by volume and section, straight between the rows.

A query finds its row by arithmetic, not by search, so that its time depends neither on the order of the queries nor on
the number of rows: in even rows the place within the table is the number of the row; in uneven rows a fine even grid
over the table names the first row that can be meant, and a few steps, as many for every query, go on from there.
Nothing is ever extrapolated: outside the rows the answer is NaN.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Real, Reals, same_kind

BLOCK = 16_000
"""Queries worked at once: what they need stays near the processor, and is not asked of the system anew each time."""

CELLS_PER_ROW = 8
"""Cells of the grid over uneven rows, for each row at most; where rows lie closer than that, several share a cell."""

_EVEN_WITHIN = 8.0 * float(np.finfo(np.float64).eps)
"""Rows are even if no level is off its place by more than this share of the largest level: rounding alone."""

Numbers: TypeAlias = Reals
"""Levels or volumes, whichever of the two the table is entered with."""


@dataclass(frozen=True, eq=False)
class TankTable:
    """A tank table: volumes at levels, rising from row to row at any distance.

    Neighbours may hold the same volume: at the start, where the gauge counts from below the lowest inside point, or
    where a table in whole litres has rows that close.
    """

    levels_m: Reals
    volumes_m3: Reals

    def __post_init__(self) -> None:
        for name in ("levels_m", "volumes_m3"):
            kept = np.array(getattr(self, name), dtype=np.float64)
            kept.setflags(write=False)
            object.__setattr__(self, name, kept)
        _refuse_unsound(self.levels_m, self.volumes_m3)

    def volume_m3(self, level_m: Real) -> Real:
        """Volume at a level, straight between the rows."""
        return _in_blocks(self._by_level.at, level_m)

    def level_m(self, volume_m3: Real) -> Real:
        """Level of a volume, by the same straight lines; of several levels with that volume the highest."""
        return _in_blocks(self._by_volume.at, volume_m3)

    def section_m2(self, level_m: Real) -> Real:
        """Volume per level between the two rows around a level; at a row that of the interval above it."""
        return _in_blocks(self._by_level.slope_at, level_m)

    @cached_property
    def _by_level(self) -> _Line:
        return _Line(self.levels_m, self.volumes_m3)

    @cached_property
    def _by_volume(self) -> _Line:
        return _Line(self.volumes_m3, self.levels_m)


@dataclass(frozen=True, eq=False)
class _Line:
    """Straight lines between points; `knots` never fall, and end higher than they begin."""

    knots: Numbers
    values: Numbers

    def at(self, x: Numbers) -> Numbers:
        """The values at x, NaN outside."""
        return self._inside(x, self._at_even(x) if self._even else self._at_uneven(x))

    def slope_at(self, x: Numbers) -> Numbers:
        """The slopes at x, NaN outside."""
        return self._inside(x, self._slopes.take(self._row(x)))

    def _at_even(self, x: Numbers) -> Numbers:
        place = self._place(x, self._last)
        row = place.astype(np.intp)
        place -= np.floor(place)
        place *= self._rises.take(row, mode="clip")
        place += self.values.take(row, mode="clip")
        return place

    def _at_uneven(self, x: Numbers) -> Numbers:
        row = self._row(x)
        beyond = x - self.knots.take(row)
        beyond *= self._slopes.take(row)
        beyond += self.values.take(row)
        return beyond

    def _row(self, x: Numbers) -> NDArray[np.intp]:
        """The last row whose knot does not lie above x; the first where there is none."""
        first, leaps = self._grid
        row = first.take(self._place(x, len(first) - 1).astype(np.intp), mode="clip")
        for leap in leaps:
            row += leap * (x >= self._knots_and_end.take(row + leap, mode="clip"))
        return row

    def _place(self, x: Numbers, cells: int) -> Numbers:
        """Where x lies, from 0 at the first knot to `cells` at the last; never falls as x rises, rounding included."""
        place: Numbers = x - self.knots[0]
        place *= cells / (self.knots[-1] - self.knots[0])
        return place

    def _inside(self, x: Numbers, found: Numbers) -> Numbers:
        low, high = self.knots[0], self.knots[-1]
        if not (x.min() >= low and x.max() <= high):
            found[~((x >= low) & (x <= high))] = np.nan
        return found

    @cached_property
    def _last(self) -> int:
        return len(self.knots) - 1

    @cached_property
    def _even(self) -> bool:
        off = self._place(self.knots, self._last) - np.arange(self._last + 1)
        rounding = _EVEN_WITHIN * np.abs(self.knots).max() * self._last / (self.knots[-1] - self.knots[0])
        return bool(np.abs(off).max() <= min(rounding, 0.25))

    @cached_property
    def _rises(self) -> Numbers:
        """From each row to the next; nothing behind the last."""
        return np.append(np.diff(self.values), 0.0)

    @cached_property
    def _slopes(self) -> Numbers:
        """From each row to the next; behind the last as before it, and level where two knots are one."""
        gaps = np.diff(self.knots)
        slopes = np.divide(np.diff(self.values), gaps, out=np.zeros_like(gaps), where=gaps > 0)
        return np.append(slopes, slopes[-1])

    @cached_property
    def _knots_and_end(self) -> Numbers:
        """The knots and one more that nothing reaches."""
        return np.append(self.knots, np.nan)

    @cached_property
    def _grid(self) -> tuple[NDArray[np.intp], tuple[int, ...]]:
        """For each cell the last row in a cell before it, and the leaps that reach every row within a cell.

        Knots are put into cells by the arithmetic that queries are put in by. As that never falls, a knot in an earlier
        cell lies below the query and one in a later cell above it, whatever is rounded.
        """
        gaps = np.diff(self.knots)
        span = self.knots[-1] - self.knots[0]
        cells = int(min(np.ceil(span / gaps[gaps > 0].min()), CELLS_PER_ROW * len(self.knots)))
        cell_of_knot = self._place(self.knots, cells).astype(np.intp)
        first = np.searchsorted(cell_of_knot, np.arange(cells + 1)) - 1
        crowd = int(np.bincount(cell_of_knot).max())
        return np.maximum(first, 0), tuple(2**power for power in reversed(range(crowd.bit_length())))


def _in_blocks(function: Callable[[Numbers], Numbers], x: Any) -> Real:
    """A function of a flat array, for floats and arrays of any shape and size."""
    given = np.asarray(x, dtype=np.float64)
    flat = given.reshape(-1)
    found = np.empty(flat.shape)
    with np.errstate(all="ignore"):
        for start in range(0, flat.size, BLOCK):
            found[start : start + BLOCK] = function(flat[start : start + BLOCK])
    return same_kind(found.reshape(given.shape))


def _refuse_unsound(levels_m: Reals, volumes_m3: Reals) -> None:
    if levels_m.ndim != 1 or levels_m.shape != volumes_m3.shape or len(levels_m) < 2:
        got = f"{levels_m.shape} levels and {volumes_m3.shape} volumes"
        raise _refusal("rows", "two rows or more, a level and a volume in each", got, "one row says nothing of a slope")
    if not (np.isfinite(levels_m).all() and np.isfinite(volumes_m3).all()):
        row = int(np.argmin(np.isfinite(levels_m) & np.isfinite(volumes_m3)))
        got = f"{levels_m[row]:g} m, {volumes_m3[row]:g} m3 in row {row + 1}"
        raise _refusal("rows", "numbers", got, "a row without a number cannot be entered")
    _refuse_falling("levels", "m", levels_m, np.diff(levels_m) <= 0, "rising from row to row")
    _refuse_falling("volumes", "m3", volumes_m3, np.diff(volumes_m3) < 0, "nowhere falling as the level rises")
    if volumes_m3[-1] == volumes_m3[0]:
        got = f"{volumes_m3[0]:g} m3 in every row"
        raise _refusal("volumes", "larger in the last row than in the first", got, "such a table holds nothing")


def _refuse_falling(name: str, unit: str, numbers: Numbers, wrong: NDArray[np.bool_], allowed: str) -> None:
    if wrong.any():
        row = int(np.argmax(wrong))
        got = f"{numbers[row + 1]:.9g} {unit} in row {row + 2} after {numbers[row]:.9g} {unit}"
        raise _refusal(name, allowed, got, "a level must have one volume, and a volume one level")


def _refusal(parameter: str, allowed: str, got: str, why: str) -> ValidityError:
    return ValidityError("vessels.table", parameter, allowed, got, why)
