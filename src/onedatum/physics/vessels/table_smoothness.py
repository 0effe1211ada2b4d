"""How smoothly a tank table runs: rows that stick out of their neighbours, sections that jump, and what is rounding.

The section - volume per level between two rows - of a vessel changes gently, or once and for all where a course begins.
One wrong volume makes it change three times: up, twice as much down, and up again. However steeply sections rise or
fall, and whatever a course adds, changes that alternate do not come about; so no course and no bottom is taken for a
wrong row. What rounding can feign is known: no more than two last digits.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from onedatum.foundation.numerics import Reals

LEAST_ROWS = 6
"""With fewer rows nothing can be said of neighbours."""

NORMAL_JUMP = 0.05
"""By more than this the section changes at no course: common practice is a few per cent, no source."""

_INCH3_M3 = 0.0254**3
_UNITS_M3 = (1.0, _INCH3_M3, 1728.0 * _INCH3_M3, 231.0 * _INCH3_M3, 9702.0 * _INCH3_M3, 4.54609e-3)
"""Units that tables are printed in, by their definition: cubic metre, inch and foot, US gallon, barrel, UK gallon."""
_GRAINS_M3 = np.array(
    sorted(
        (unit * lead * 10.0**power for unit in _UNITS_M3 for lead in (1, 2, 5) for power in range(-7, 4)), reverse=True
    )
)
"""Last digits in which volumes are printed, coarsest first."""
_AT_ONCE = 16
"""So many of them are tried in one go."""
_MOST = 0.9
"""A last digit is that of the table if this share of its rows keeps to it: a damaged row may have others."""
_WHOLE_WITHIN = 1e-4
"""Rounding and conversion of a printed number leave it this close to a whole number of last digits."""
_DIGITS = 1e9
"""Volumes of more digits than that are not printed ones."""
_FEIGNED = 2.5
"""In last digits: more than rounding can feign."""
_FEIGNED_IN_EVEN = 1.5
"""The same where most rows show no rounding, because each adds a whole number of last digits."""
_OF_CURVE = 0.1
"""An error of less than this share of the curve of the volumes may be the curve's own."""
_EVEN = 0.1
"""Rounding scatters by 0.4 last digits; with less than this it shows in few rows."""
_SCATTER = 3.0
"""Scatter beyond rounding counts as a last digit of this many of its standard deviations."""
_NORMAL = 1.4826
"""Standard deviation of a normal distribution over its median absolute deviation."""
_AROUND = 15
"""Rows either side from which the scatter at a row is taken."""
_LEAST_SHARE = 1e-8
"""Less than this share of the whole volume is no mistake of writing."""
_ALIKE = 3.0
"""The three changes that one wrong row makes are alike within this factor."""
_LAST_ROW = 0.5
"""The last row has no neighbour above: off by less than this share of an interval's volume it may be a vessel's top."""


def grain_m3(volumes_m3: Reals, every_row: bool = False) -> float:
    """The last digit in which volumes are printed, damaged rows apart or in every row; 0 if they are not rounded."""
    sizes_m3 = np.abs(volumes_m3[volumes_m3 != 0.0])
    if sizes_m3.size == 0:
        return 0.0
    most = 1.0 if every_row else _MOST
    grains = _GRAINS_M3[sizes_m3.max() < _DIGITS * _GRAINS_M3]
    for first in range(0, grains.size, _AT_ONCE):
        tried = grains[first : first + _AT_ONCE]
        kept = np.mean(_is_whole(sizes_m3, tried[:, None]), axis=-1) >= most
        if kept.any():
            return float(tried[np.argmax(kept)])
    return 0.0


def _is_whole(volumes_m3: Reals, grain: Any) -> Any:
    """Whether volumes are whole numbers of last digits, and not just nearly none."""
    counts = np.abs(volumes_m3) / grain
    return (np.abs(counts - np.round(counts)) < _WHOLE_WITHIN) & ((counts > 0.5) | (counts == 0.0))


@dataclass(frozen=True, eq=False)
class Smoothness:
    """A table of at least `LEAST_ROWS` rows whose levels rise, looked at through the changes of its section.

    All arrays stand once for each row; changes at the first and the last row are not known and are 0.
    """

    levels_m: Reals
    volumes_m3: Reals
    grain_m3: float

    @cached_property
    def steps_m(self) -> Reals:
        """From each row to the next."""
        return np.diff(self.levels_m)

    @cached_property
    def sections_m2(self) -> Reals:
        """From each row to the next."""
        return np.diff(self.volumes_m3) / self.steps_m

    @cached_property
    def _weights_m(self) -> Reals:
        """Harmonic mean of the steps either side: makes a change of section a volume, rounding alike for all."""
        below, above = self.steps_m[:-1], self.steps_m[1:]
        return _at_inner(2.0 * below * above / (below + above))

    @cached_property
    def changes_m3(self) -> Reals:
        """Change of the section across each row, as a volume: in even steps the second difference."""
        return self._weights_m * _at_inner(np.diff(self.sections_m2))

    @cached_property
    def _reaches_m2(self) -> Reals:
        """What a section that changes by 1 m2 per m makes of `changes_m3`."""
        return self._weights_m * _at_inner(0.5 * (self.steps_m[:-1] + self.steps_m[1:]))

    @cached_property
    def rounding_m3(self) -> Reals:
        """What counts as a last digit around each row: that of print, or the scatter where it is larger."""
        rounding_m3: Reals = np.maximum(self.grain_m3, _SCATTER * self._scatter_m3)
        return rounding_m3

    @cached_property
    def _scatter_m3(self) -> Reals:
        """Standard deviation of a row against its four neighbours: of the whole table, or around the row if larger."""
        change = self.changes_m3
        off_m3 = np.abs(change[:-2] - 2.0 * change[1:-1] + change[2:]) / 6.0
        around = min(_AROUND, (len(off_m3) - 1) // 2)
        windows = np.lib.stride_tricks.sliding_window_view(np.pad(off_m3, around, mode="reflect"), 2 * around + 1)
        local_m3 = np.pad(np.median(windows, axis=1), 1, mode="edge")
        scatter_m3: Reals = _NORMAL * np.maximum(local_m3, np.median(off_m3))
        return scatter_m3

    @cached_property
    def _even(self) -> NDArray[np.bool_]:
        """Around which rows rounding hardly shows, because each row adds a whole number of last digits."""
        return self._scatter_m3 < _EVEN * self.grain_m3

    @cached_property
    def doubtful_m3(self) -> Reals:
        """More than rounding can feign."""
        feigned_m3 = np.where(self._even, _FEIGNED_IN_EVEN, _FEIGNED) * self.rounding_m3
        return np.maximum(feigned_m3, self._least_m3)

    @cached_property
    def _doubtful_in_turn_m3(self) -> Reals:
        """The same for one row; where rows show no rounding, one printed finer than most was rounded to that digit."""
        curve_m3 = _OF_CURVE * np.abs(self._curvature_m * self._reaches_m2)
        if self.grain_m3 == 0.0:
            return np.maximum(self.doubtful_m3, curve_m3)
        finer = self._even & ~_is_whole(self.volumes_m3, self.grain_m3)
        finest_m3 = grain_m3(self.volumes_m3, every_row=True) if finer.any() else 0.0
        own_m3 = np.maximum(_FEIGNED_IN_EVEN * finest_m3, self._least_m3)
        return np.maximum(np.where(finer, own_m3, self.doubtful_m3), curve_m3)

    @property
    def _least_m3(self) -> float:
        return _LEAST_SHARE * float(np.abs(self.volumes_m3).max())

    @cached_property
    def _curvature_m(self) -> Reals:
        """Change of the section per level that both sides of a row surely show, two rows away from it.

        Two rows from an end one side alone shows it; next to an end nothing is taken for sure.
        """
        surely = np.maximum(np.abs(self.changes_m3) - 2.0 * self.rounding_m3, 0.0) * np.sign(self.changes_m3)
        slope_m = np.divide(surely, self._reaches_m2, out=np.zeros_like(surely), where=self._reaches_m2 > 0.0)
        below, above = np.roll(slope_m, 2), np.roll(slope_m, -2)
        below[:3], above[-3:] = above[:3], below[-3:]
        agree = np.sign(below) == np.sign(above)
        agree[[0, 1, -2, -1]] = False
        return np.where(agree, np.sign(below) * np.minimum(np.abs(below), np.abs(above)), 0.0)

    @cached_property
    def errors_m3(self) -> Reals:
        """What is wrong with the volume of each row, at the least; 0 where its neighbours do not show it so."""
        curvature = self._curvature_m
        below, at, above = (
            np.roll(self.changes_m3, shift) - curvature * np.roll(self._reaches_m2, shift) for shift in (1, 0, -1)
        )
        shares = np.stack([below / self._share_below, -0.5 * at, above / self._share_above])
        shares[0, :2], shares[2, -2:] = shares[1, :2], shares[1, -2:]
        sizes = np.abs(shares)
        least, most = sizes.min(axis=0), sizes.max(axis=0)
        shown = (np.abs(np.sign(shares).sum(axis=0)) == 3.0) & (most <= _ALIKE * least)
        shown[[0, -1]] = False
        return np.where(shown, np.sign(shares[1]) * least, 0.0)

    @cached_property
    def _share_below(self) -> Reals:
        """How much of an error at a row shows in the change at the row before it; 1 in even steps."""
        return np.roll(self._shown_at(np.append(self.steps_m, self.steps_m[-1])), 1)

    @cached_property
    def _share_above(self) -> Reals:
        """The same in the row after it."""
        return np.roll(self._shown_at(np.append(self.steps_m[0], self.steps_m)), -1)

    def _shown_at(self, step_m: Reals) -> Reals:
        """How much of an error at one end of a step shows in the change at its other end; never less than half."""
        return np.where(self._weights_m > 0.0, np.maximum(self._weights_m / step_m, 0.5), 1.0)

    def odd_rows(self) -> list[int]:
        """Indices of the rows that stick out of their neighbours."""
        shown = np.minimum(np.minimum(self._share_below, self._share_above), 1.0)
        rows = _peaks(np.abs(self.errors_m3) * shown - self._doubtful_in_turn_m3)
        last = len(self.levels_m) - 1
        return [*rows, last] if last - 1 not in rows and self._last_is_odd() else rows

    def _last_is_odd(self) -> bool:
        """Whether the last volume is far from the line of the two before it and from the curve of the three.

        Carried on beyond its rows a curve takes twice the rounding of one between them.
        """
        line_m3 = self.sections_m2[-2] * self.steps_m[-1]
        curve_m3 = line_m3 + (self.sections_m2[-2] - self.sections_m2[-3]) * self.steps_m[-1]
        seen_m3 = self.volumes_m3[-1] - self.volumes_m3[-2]
        off_m3 = max(min(line_m3, curve_m3) - seen_m3, seen_m3 - max(line_m3, curve_m3))
        return bool(off_m3 > max(2.0 * self.doubtful_m3[-1], _LAST_ROW * abs(line_m3)))

    def by_neighbours_m3(self, row: int) -> float:
        """The volume that a row should have: on the curve of the four rows nearest, the last on the line of two."""
        count = 2 if row == len(self.levels_m) - 1 else 4
        near = np.argsort(np.abs(np.arange(len(self.levels_m)) - row), kind="stable")[1 : count + 1]
        at_m = (self.levels_m[near] - self.levels_m[row]) / self.steps_m[near[0] - 1]
        shares = [np.prod(np.delete(at_m, i) / (np.delete(at_m, i) - at_m[i])) for i in range(count)]
        return float(np.dot(shares, self.volumes_m3[near]))

    def jumps(self) -> list[int]:
        """Indices of the rows at which the section jumps by more than a course, and stays there."""
        change_m2 = _at_inner(np.diff(self.sections_m2))
        reach_m = _at_inner(0.5 * (self.steps_m[:-1] + self.steps_m[1:]))
        slope_m = np.abs(np.divide(change_m2, reach_m, out=np.zeros_like(reach_m), where=reach_m > 0.0))
        rows = np.arange(2, len(self.levels_m) - 3)
        across_m2 = np.abs(change_m2[rows] + change_m2[rows + 1])
        gentle_m = np.maximum(_goes_on(slope_m, rows - 1, -1), _goes_on(slope_m, rows + 2, 1))
        below, above, span_m = rows - 1, rows + 1, reach_m[rows] + reach_m[rows + 1]
        feigned_m2 = self.doubtful_m3[rows] * (1.0 / self.steps_m[below] + 1.0 / self.steps_m[above])
        course_m2 = NORMAL_JUMP * np.maximum(np.abs(self.sections_m2[below]), np.abs(self.sections_m2[above]))
        over_m2 = np.where(self._between_flats(rows, 2), across_m2 - gentle_m * span_m - feigned_m2 - course_m2, 0.0)
        found = (int(rows[peak]) for peak in _peaks(over_m2))
        return [row if abs(change_m2[row]) >= abs(change_m2[row + 1]) else row + 1 for row in found]

    def lumps(self) -> list[int]:
        """Indices of the rows after which one interval holds too much or too little, and the next are as before."""
        rows = np.arange(1, len(self.levels_m) - 2)
        step_m, weight = self.steps_m[rows], self._weights_m
        before_m3, after_m3 = (self.changes_m3[at] * step_m / weight[at] for at in (rows, rows + 1))
        size_m3 = np.where(before_m3 * after_m3 < 0.0, np.minimum(np.abs(before_m3), np.abs(after_m3)), 0.0)
        normal_m2 = np.maximum(np.abs(self.sections_m2[rows - 1]), np.abs(self.sections_m2[rows + 1]))
        most_m3 = np.maximum(_FEIGNED * self.rounding_m3[rows], self._least_m3)
        feigned_m3 = most_m3 * np.maximum(step_m / weight[rows], step_m / weight[rows + 1])
        over_m3 = size_m3 - np.maximum(feigned_m3, NORMAL_JUMP * normal_m2 * step_m)
        return [int(rows[peak]) for peak in _peaks(np.where(self._between_flats(rows, 0), over_m3, 0.0))]

    def _between_flats(self, rows: NDArray[np.intp], margin: int) -> NDArray[np.bool_]:
        """Which rows lie, by a margin, where the vessel holds something and is not full."""
        low = int(np.argmax(self.volumes_m3 != self.volumes_m3[0]))
        high = len(self.volumes_m3) - int(np.argmax(self.volumes_m3[::-1] != self.volumes_m3[-1]))
        return (rows >= low + margin) & (rows < high - margin)


def _at_inner(numbers: Any) -> Reals:
    """One number for each row, from numbers of the rows between the first and the last."""
    padded: Reals = np.pad(numbers, 1)
    return padded


def _goes_on(slope_m: Reals, rows: NDArray[np.intp], away: int) -> Reals:
    """The slope at rows, and one and a half times more of what it has grown there since the row before, seen so."""
    grown_m: Reals = np.maximum(slope_m[rows] - slope_m[rows + away], 0.0)
    return slope_m[rows] + 1.5 * grown_m


def runs_of(places: NDArray[np.intp]) -> list[NDArray[np.intp]]:
    """Places that follow one another, together."""
    runs: list[NDArray[np.intp]] = np.split(places, np.flatnonzero(np.diff(places) > 1) + 1)
    return [run for run in runs if run.size]


def _peaks(over: Reals) -> list[int]:
    """The index of the largest in each run of positive numbers."""
    return [int(run[np.argmax(over[run])]) for run in runs_of(np.flatnonzero(over > 0.0))]
