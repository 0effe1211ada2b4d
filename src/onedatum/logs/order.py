"""Whether the rows of each tag follow one another in time: what comes late or again is told by the greatest before."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from onedatum.logs.zones import Whole

NEVER = np.iinfo(np.int64).min


@dataclass(frozen=True)
class Ordered:
    """Rows that come late, rows that come again, and the greatest time of each tank after them."""

    late: NDArray[np.bool_]
    again: NDArray[np.bool_]
    last: Mapping[int, int]
    spans: Mapping[int, tuple[int, int]]
    """By tank: the time of its first row, and the greatest of its rows, kept or not."""


def ordered(time_us: Whole, tank: NDArray[np.intp], sound: NDArray[np.bool_], after: Mapping[int, int]) -> Ordered:
    """Judge the rows that are sound; `after`: the greatest time of a tank before the first row."""
    late, again = np.zeros(len(time_us), dtype=bool), np.zeros(len(time_us), dtype=bool)
    last, spans = dict(after), dict[int, tuple[int, int]]()
    if _plainly_rising(time_us, tank, sound, after):
        number, most = int(tank[0]), int(time_us[-1])
        return Ordered(late, again, {**last, number: most}, {number: (int(time_us[0]), most)})
    rows = np.flatnonzero(sound)
    if len(rows):
        order = rows if np.all(tank[rows] == tank[rows[0]]) else rows[np.argsort(tank[rows], kind="stable")]
        cuts = np.flatnonzero(np.diff(tank[order])) + 1
        for part in np.split(order, cuts):
            number = int(tank[part[0]])
            own = time_us[part]
            before = np.maximum.accumulate(np.concatenate([[last.get(number, NEVER)], own]))
            late[part] = own < before[:-1]
            again[part] = own == before[:-1]
            last[number] = int(before[-1])
            spans[number] = int(own[0]), int(own.max())
    return Ordered(late, again, last, spans)


def _plainly_rising(time_us: Whole, tank: NDArray[np.intp], sound: NDArray[np.bool_], after: Mapping[int, int]) -> bool:
    """Whether all rows are sound, of one tank and each later than all before: what most logs are, and soon told."""
    if not len(time_us) or not sound.all() or np.any(tank != tank[0]):
        return False
    return bool(time_us[0] > after.get(int(tank[0]), NEVER) and np.all(time_us[1:] > time_us[:-1]))
