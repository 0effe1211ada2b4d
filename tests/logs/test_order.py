"""The order of rows and the longest gaps, against a loop that takes row after row as the definition says."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pyarrow as pa
import pytest

from onedatum.logs.order import ordered
from onedatum.logs.tally import LONGEST, Tally

TAGS = ["LT-1", "LT-2"]


@pytest.mark.parametrize("mixed", [False, True])
@pytest.mark.parametrize("begin_us", [0, 40])
def test_rows_late_and_again_are_those_of_a_loop(mixed: bool, begin_us: int) -> None:
    random = np.random.default_rng(20261129)
    time_us = random.integers(1, 60, 80) if mixed else np.arange(1, 81)
    tank = random.integers(0, 2, 80) if mixed else np.zeros(80, dtype=np.intp)
    sound = random.random(80) > 0.1 if mixed else np.ones(80, dtype=bool)
    found = ordered(time_us, tank, sound, {0: begin_us})
    last, first = {0: begin_us}, dict[int, int]()
    greatest: dict[int, int] = {}
    for row in np.flatnonzero(sound).tolist():
        number, own = int(tank[row]), int(time_us[row])
        assert found.late[row] == (number in last and own < last[number])
        assert found.again[row] == (number in last and own == last[number])
        last[number] = max(own, last.get(number, own))
        first.setdefault(number, own)
        greatest[number] = max(own, greatest.get(number, own))
    assert not (found.late | found.again)[~sound].any()
    assert found.last == last
    assert found.spans == {number: (first[number], greatest[number]) for number in first}


@pytest.mark.parametrize("longest", [1, 3, 50])
def test_the_longest_gaps_are_those_of_a_loop(longest: int) -> None:
    """Many of equal length, in batches: of equals the earliest is told."""
    random = np.random.default_rng(20261130)
    time_us = np.cumsum(random.integers(1, longest + 1, 400))
    tag = random.integers(0, 2, 400).astype(np.int16) * (longest > 1)
    tally = Tally()
    for start in range(0, 400, 50):
        own = slice(start, start + 50)
        names = pa.DictionaryArray.from_arrays(pa.array(tag[own]), pa.array(TAGS))
        rows = {"time": pa.array(time_us[own]).cast(pa.timestamp("us", "UTC")), "tag": names}
        rows |= {"state": pa.nulls(50, pa.string()), "flags": pa.array(np.zeros(50, dtype=np.uint16))}
        tally.add(pa.record_batch(rows), pa.record_batch({"reason": pa.array([], pa.string())}))
    gaps = []
    for number, name in enumerate(TAGS):
        at = time_us[tag == number].tolist()
        gaps += [(late - early, early, name) for early, late in pairwise(at)]
    assert tally.gaps == sorted(gaps, key=lambda gap: (-gap[0], gap[1], gap[2]))[:LONGEST]
