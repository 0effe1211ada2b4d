"""Local times to UTC. A time that the clocks leave out, and one that comes twice, is named and never moved."""

from __future__ import annotations

from datetime import timedelta
from functools import lru_cache
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from onedatum.foundation.moments import moment_of

Whole = NDArray[np.int64]
QUARTER_us = 15 * 60 * 1_000_000
"""Clocks are set at full quarters of an hour, so one question serves a whole quarter."""


def to_utc(local_us: Whole, zone: str) -> tuple[Whole, NDArray[np.bool_], NDArray[np.bool_]]:
    """Microseconds since 1970 in UTC, which of them the clocks leave out, and which come twice."""
    if zone == "UTC" or not len(local_us):
        none = np.zeros(len(local_us), dtype=bool)
        return local_us, none, none
    quarters, place = np.unique(local_us // QUARTER_us, return_inverse=True)
    offsets = np.array([_offsets(zone, int(quarter)) for quarter in quarters.tolist()], dtype=np.int64)
    first, second = offsets[:, 0], offsets[:, 1]
    return local_us - first[place], (first < second)[place], (first > second)[place]


@lru_cache(maxsize=200_000)
def _offsets(zone: str, quarter: int) -> tuple[int, int]:
    """The offsets from UTC before and after a change of the clocks, alike where there is none."""
    try:
        local = moment_of(quarter * QUARTER_us).replace(tzinfo=None)
    except OverflowError:
        return 0, 0
    info = ZoneInfo(zone)
    one, other = (local.replace(tzinfo=info, fold=fold).utcoffset() for fold in (0, 1))
    micro = timedelta(microseconds=1)
    return (one or timedelta()) // micro, (other or timedelta()) // micro
