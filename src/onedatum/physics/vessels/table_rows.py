"""Rows of a tank table from a body that is known only by its volume and its section, and what lies between the rows.

Main rows stand at whole multiples of the step, counted from the datum, and at both ends. Where the straight line
between two rows leaves the body by more level than is allowed, rows of a tenth of the step, of a hundredth and so on
come between them, down to the finest step.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Real, Reals
from onedatum.foundation.working import formula
from onedatum.physics.vessels.table import TankTable

MOST_ROWS = 200_000
"""More rows than this nobody reads: 200 m in steps of 1 mm."""

ALLOWED_M = 1e-4
"""A fifth of a usual reading of 0.5 mm: common practice, no source."""

FINEST_M = 1e-3
"""Rows closer than 1 mm are not usual: common practice, no source."""

PARTS = 32
"""Parts in which an interval between two rows is looked through."""

_SLIVER_M = 1e-4
"""A row closer than this, or half a step, to an end or a row there already is left out: no gauge tells them apart."""

_DECIMALS = 12
"""A row at 7 steps of 0.01 m stands at 0.07 m, not at 0.07000000000000001 m."""

_ROUNDING = 1e-12
"""A volume that falls by less than this share of the whole has not fallen."""

_NO_CHANGE = 1e-6
"""A section that changes by less than this share within an interval is smooth, whatever its last digits do."""

_TWICE_AS_FAR = 1.5
"""In a smooth section two parts make nearly twice the change of one; at a jump no more, at a vertex 1.4 times."""

_INTERVALS_AT_ONCE = 8192

Function = Callable[[Reals], Any]


@formula(
    equation="e = s**2/8*K",
    gives=("e", "greatest error of a straight line between two rows"),
    where={
        "step_m": ("s", "distance of the rows", "(0, 100]"),
        "section_slope_m2_per_m": ("K", "greatest change of the section per level between the rows", "[0, 1e6]"),
    },
    source="derived: remainder of linear interpolation of a volume whose section is smooth",
)
def interpolation_bound_m3(step_m: Real, section_slope_m2_per_m: Real) -> Real:
    """Greatest error that reading straight between two rows of a tank table can make.

    Example
    -------
    >>> round(interpolation_bound_m3(0.01, 20.0), 6)
    0.00025
    """
    return step_m**2 / 8.0 * section_slope_m2_per_m


@dataclass(frozen=True)
class Spot:
    """A place between two rows, and what the table gives there beyond the body."""

    level_m: float
    error_m3: float
    """Table minus body."""
    error_m: float
    """By how much of level the two differ at the same volume."""


@dataclass(frozen=True)
class Worst:
    """The greatest errors of a whole table."""

    by_volume: Spot
    by_level: Spot
    bound_m3: float
    """step^2/8 max|dA/dh|, the largest over the intervals in which the section is smooth."""
    rough: int
    """In how many intervals the section is not smooth, so that the bound says nothing of them: a jump, a vertex."""


@dataclass(frozen=True, eq=False)
class TableRows:
    """Rows of a table, the worst place between each two of them, and the whole before and after the finer rows."""

    levels_m: Reals
    volumes_m3: Reals
    worst_at_m: Reals
    worst_error_m3: Reals
    worst_error_m: Reals
    before: Worst
    after: Worst

    @cached_property
    def table(self) -> TankTable:
        """The rows as a function."""
        return TankTable(self.levels_m, self.volumes_m3)


def rows(
    volume_m3: Function,
    section_m2: Function,
    low_m: float,
    high_m: float,
    step_m: float,
    allowed_m: float = ALLOWED_M,
    finest_m: float = FINEST_M,
) -> TableRows:
    """Rows of a table from `low_m` to `high_m`, finer where straight lines leave the body by more than `allowed_m`.

    Volume and section are functions of an array of levels between the two ends; the volume never falls. How far table
    and body differ is taken at equal volume: the error in volume over the mean section of the interval. That is, at its
    worst place, the error in level that would make the same error in volume, and it stays finite where a section is
    nothing. Down to `finest_m` rows are made finer, no further: what is then left is stated in `after`.
    """
    _refuse_nonsense(low_m, high_m, step_m, allowed_m, finest_m)
    body = _Body(volume_m3, section_m2)
    found = body.look_through(_main_levels_m(low_m, high_m, step_m))
    before, finer_m = found.worst(), step_m
    while finer_m > finest_m and (bad := found.each.error_m > allowed_m).any():
        finer_m = max(finer_m / 10.0, finest_m)
        levels_m = _finer_levels_m(found.levels_m, bad, finer_m)
        _refuse_many(len(levels_m), "allowed_m", f"more than {allowed_m:g} m", f"{allowed_m:g} m")
        found = body.look_again(found, levels_m)
    each = found.each
    return TableRows(found.levels_m, found.volumes_m3(), each.at_m, each.error_m3, each.error_m, before, found.worst())


class _Each(NamedTuple):
    """One number for each interval."""

    volume_m3: Reals
    """At its lower end."""
    at_m: Reals
    """Its worst place."""
    error_m3: Reals
    error_m: Reals
    bound_m3: Reals
    smooth: NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class _Looked:
    """Rows whose intervals were looked through."""

    levels_m: Reals
    each: _Each
    high_m3: float
    """At the last row."""

    def worst(self) -> Worst:
        bounds_m3 = self.each.bound_m3[self.each.smooth]
        return Worst(
            self._spot(int(np.argmax(np.abs(self.each.error_m3)))),
            self._spot(int(np.argmax(self.each.error_m))),
            float(bounds_m3.max()) if bounds_m3.size else 0.0,
            int(np.count_nonzero(~self.each.smooth)),
        )

    def _spot(self, interval: int) -> Spot:
        at_m, error_m3, error_m = (part[interval] for part in (self.each.at_m, self.each.error_m3, self.each.error_m))
        return Spot(float(at_m), float(error_m3), float(error_m))

    def volumes_m3(self) -> Reals:
        """At all rows; where rounding alone makes a volume fall, the one before it is kept."""
        volumes_m3 = np.append(self.each.volume_m3, self.high_m3)
        risen_m3 = np.maximum.accumulate(volumes_m3)
        within_m3 = _ROUNDING * np.abs(volumes_m3).max()
        return np.where(risen_m3 - volumes_m3 <= within_m3, risen_m3, volumes_m3)


@dataclass(frozen=True)
class _Body:
    """Volume and section as functions of the level."""

    volume_m3: Function
    section_m2: Function

    def look_through(self, levels_m: Reals) -> _Looked:
        """These rows, every interval looked through."""
        high_m3 = float(_called("volume_m3", self.volume_m3, levels_m[-1:])[0])
        return _Looked(levels_m, self._each(levels_m[:-1], levels_m[1:]), high_m3)

    def look_again(self, before: _Looked, levels_m: Reals) -> _Looked:
        """More rows among those from before; only intervals that are new are looked through."""
        low_m, high_m = levels_m[:-1], levels_m[1:]
        within = np.searchsorted(before.levels_m, low_m, side="right") - 1
        new = (low_m != before.levels_m[within]) | (high_m != before.levels_m[within + 1])
        merged = _Each._make(part[within] for part in before.each)
        for part, fresh in zip(merged, self._each(low_m[new], high_m[new]), strict=True):
            part[new] = fresh
        return _Looked(levels_m, merged, before.high_m3)

    def _each(self, low_m: Reals, high_m: Reals) -> _Each:
        count = max(1, -(-len(low_m) // _INTERVALS_AT_ONCE))
        blocks = zip(np.array_split(low_m, count), np.array_split(high_m, count), strict=True)
        measured = [self._each_of_block(*block) for block in blocks]
        return _Each._make(np.concatenate(parts) for parts in zip(*measured, strict=True))

    def _each_of_block(self, low_m: Reals, high_m: Reals) -> _Each:
        width_m = high_m - low_m
        share = np.arange(PARTS + 1) / PARTS
        points_m = low_m[:, None] + width_m[:, None] * share
        points_m[:, -1] = high_m
        exact_m3 = _called("volume_m3", self.volume_m3, points_m)
        rise_m3 = exact_m3[:, -1] - exact_m3[:, 0]
        off_m3 = exact_m3[:, :1] + rise_m3[:, None] * share - exact_m3
        worst = np.arange(len(low_m)), np.argmax(np.abs(off_m3), axis=1)
        error_m3 = off_m3[worst]
        error_m = np.divide(np.abs(error_m3) * width_m, rise_m3, out=np.zeros_like(width_m), where=rise_m3 > 0)
        slope, smooth = _change_of_section(_called("section_m2", self.section_m2, points_m), width_m / PARTS)
        bound_m3 = np.asarray(interpolation_bound_m3(width_m, slope))
        return _Each(exact_m3[:, 0], points_m[worst], error_m3, error_m, bound_m3, smooth)


def _change_of_section(sections_m2: Reals, part_m: Reals) -> tuple[Reals, NDArray[np.bool_]]:
    """The greatest change of the section per level in each interval, and whether the section is smooth there."""
    one_m2 = np.abs(np.diff(sections_m2, axis=1)).max(axis=1)
    two_m2 = np.abs(sections_m2[:, 2:] - sections_m2[:, :-2]).max(axis=1)
    hardly = np.ptp(sections_m2, axis=1) <= _NO_CHANGE * np.abs(sections_m2).max(axis=1)
    return one_m2 / part_m, hardly | (two_m2 >= _TWICE_AS_FAR * one_m2)


def _called(name: str, body: Function, levels_m: Reals) -> Reals:
    """A function of the body at levels of any shape; it is given a flat array."""
    with np.errstate(all="ignore"):
        values = np.broadcast_to(np.asarray(body(levels_m.reshape(-1)), dtype=np.float64), (levels_m.size,))
    if not np.isfinite(values).all():
        place = int(np.argmin(np.isfinite(values)))
        got = f"{values[place]} at the level {levels_m.flat[place]:.6g} m"
        raise _refusal(name, "a number at every level from low_m to high_m", got, "no row can be made without it")
    return values.reshape(levels_m.shape)


def _main_levels_m(low_m: float, high_m: float, step_m: float) -> Reals:
    """The two ends, and the whole multiples of the step between them."""
    apart_m = _apart_m(step_m)
    first, last = np.ceil((low_m + apart_m) / step_m), np.floor((high_m - apart_m) / step_m)
    inner_m = np.round(np.arange(first, last + 1.0) * step_m, _DECIMALS) + 0.0
    return np.concatenate([[low_m], inner_m, [high_m]])


def _finer_levels_m(levels_m: Reals, bad: NDArray[np.bool_], step_m: float) -> Reals:
    """The levels, and in the intervals named bad the whole multiples of a finer step."""
    apart_m = _apart_m(step_m)
    first = np.ceil((levels_m[:-1][bad] + apart_m) / step_m)
    count = np.maximum(np.floor((levels_m[1:][bad] - apart_m) / step_m) - first + 1.0, 0.0).astype(np.intp)
    within = np.arange(count.sum()) - np.repeat(np.cumsum(count) - count, count)
    finer_m = np.round((np.repeat(first, count) + within) * step_m, _DECIMALS) + 0.0
    return np.sort(np.concatenate([levels_m, finer_m]))


def _apart_m(step_m: float) -> float:
    """How far apart rows are at least; half a step, so that rounding drops none of the rows of a step this fine."""
    return min(_SLIVER_M, 0.5 * step_m)


def _refuse_nonsense(low_m: float, high_m: float, step_m: float, allowed_m: float, finest_m: float) -> None:
    for name, value in (("step_m", step_m), ("allowed_m", allowed_m), ("finest_m", finest_m)):
        if not (np.isfinite(value) and value > 0.0):
            raise _refusal(name, "above 0 m", f"{value:g} m", "rows need a distance, and an error a limit")
    if not (np.isfinite(low_m) and np.isfinite(high_m) and high_m - low_m > _SLIVER_M):
        raise _refusal("high_m", f"above the low end of {low_m:g} m", f"{high_m:g} m", "a table runs upwards")
    count = (high_m - low_m) / step_m + 1.0
    _refuse_many(count, "step_m", f"at least {(high_m - low_m) / MOST_ROWS:.3g} m", f"{step_m:g} m")


def _refuse_many(count: float, parameter: str, allowed: str, got: str) -> None:
    if count > MOST_ROWS:
        why = f"the table would have {count:.0f} rows and at most {MOST_ROWS} are made"
        raise _refusal(parameter, allowed, got, f"{why}: take a wider step, or part of the height")


def _refusal(parameter: str, allowed: str, got: str, why: str) -> ValidityError:
    return ValidityError("vessels.table_rows", parameter, allowed, got, why)
